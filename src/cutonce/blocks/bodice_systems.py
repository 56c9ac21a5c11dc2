"""The bodice and dress blocks by name of system: construct, true, draw, for an even or an uneven body."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Literal

from cutonce.blocks.bodice import draw_bodice
from cutonce.blocks.bodice_direct import EASE as DIRECT_EASE
from cutonce.blocks.bodice_direct import direct
from cutonce.blocks.bodice_findings import about_ease, about_frame, about_waist
from cutonce.blocks.bodice_frame import Construction
from cutonce.blocks.bodice_proportional import EASE, OLDER_EASE, older_proportional, proportional
from cutonce.blocks.dress import Lengths, draw_dress
from cutonce.blocks.ease import BodiceEase
from cutonce.blocks.truing import BLOCK, true_frame
from cutonce.body import SIDES, Body
from cutonce.draft.draft import Draft
from cutonce.errors import BadInput, Finding, quoted

DRESS_LENGTH = 600.0
"""From waist to hem where neither a length nor `waist_to_knee` is given."""

LENGTHS = ("length", "length_from_nape", "flare")


@dataclass(frozen=True, slots=True)
class BodiceSystem:
    """One way of drafting a bodice: its name, what it says of itself, its construction and its ease."""

    name: str
    says: str
    construct: Callable[[Body], Construction]
    ease: BodiceEase


SYSTEMS: tuple[BodiceSystem, ...] = (
    BodiceSystem(
        "proportional",
        "from bust, waist and back waist length; the bust dart opens on the armhole",
        lambda body: proportional(body.mm),
        EASE,
    ),
    BodiceSystem(
        "direct",
        "from the body's own widths, neck, shoulder and scye depth; the bust dart opens on the shoulder",
        lambda body: direct(body.mm, body.has),
        DIRECT_EASE,
    ),
    BodiceSystem(
        "older proportional",
        "the older widths and bust line, with the newer heights and bust dart",
        lambda body: older_proportional(body.mm),
        OLDER_EASE,
    ),
)


def bodice_system(name: str) -> BodiceSystem:
    """The system of that name. Raises BadInput (unknown-system) with the choices."""
    for system in SYSTEMS:
        if system.name == name:
            return system
    have = ", ".join(f"'{s.name}'" for s in SYSTEMS)
    raise BadInput("unknown-system", "block", f"no bodice system {quoted(name)}; there are: {have}")


def draft_bodice(
    kind: Literal["bodice", "dress"],
    system: str,
    body: Body,
    ease: Mapping[str, float],
    lengths: Mapping[str, float],
) -> tuple[Draft, tuple[Finding, ...]]:
    """Half a bodice or dress; where left and right of the body differ, the right half as its twin.

    `ease` in mm by place (see `BodiceEase`), the system's own where left out. `lengths` of a dress in mm:
    `length` from the waist, or `length_from_nape`, and `flare` of each piece's side at the hem.
    """
    chosen = bodice_system(system)
    _known(kind, lengths)
    if not body.is_uneven:
        return _half(kind, chosen, body, ease, lengths, Meeting())
    middle = _mean(body)
    frame, _ = true_frame(chosen.construct(middle), middle, chosen.ease.stated(ease))
    meeting = Meeting(frame.front_neck - frame.neck.front_depth)
    if kind == "bodice":
        stated = chosen.ease.stated(ease)
        meeting = replace(meeting, rise=draw_bodice(frame, _half_waist(middle, stated))[1].rise)
    shared = tuple(m for m in middle.measures if m.key in _COMMON)
    halves = [
        _half(kind, chosen, body.one_side(side).with_measures(shared), ease, lengths, meeting)
        for side in SIDES
    ]
    (left, said_left), (right, said_right) = halves
    told = tuple(
        replace(f, where=f"{side} half, {f.where}")
        for side, said in zip(SIDES, (said_left, said_right), strict=True)
        for f in said
    )
    return replace(left, twin=right), told


def bodice_ease(system: str, stated: Mapping[str, float]) -> dict[str, float]:
    """All ease of a bodice or dress by place, in mm: what was stated, the rest by the system."""
    return asdict(bodice_system(system).ease.stated(stated))


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where two unlike halves meet at the centre front: heights of neck and waist, or None for their own."""

    neck: float | None = None
    rise: float | None = None


def _half_waist(body: Body, ease: BodiceEase) -> float:
    return (body.mm("waist_girth") + ease.waist) / 2


_COMMON = ("waist_to_hip",)
"""Measures taken at their mean on both halves: the hip line is level."""


def _mean(body: Body) -> Body:
    """The even body with the mean of both sides."""
    left = body.one_side("left")
    return left.with_measures(replace(m, mm=body.mm(m.key)) for m in left.measures)


def _half(
    kind: str,
    system: BodiceSystem,
    body: Body,
    ease: Mapping[str, float],
    lengths: Mapping[str, float],
    meeting: Meeting,
) -> tuple[Draft, tuple[Finding, ...]]:
    stated = system.ease.stated(ease)
    frame, altered = true_frame(system.construct(body), body, stated, meeting.neck)
    waist = _half_waist(body, stated)
    if kind == "bodice":
        draft, lowers = draw_bodice(frame, waist, meeting.rise)
        plan = lowers.plan
    else:
        hip = (body.mm("hip_girth") + stated.hip) / 2
        to = Lengths(waist, hip, body.mm("waist_to_hip"), _length(body, lengths), lengths.get("flare", 0.0))
        draft, plan = draw_dress(frame, to)
    notes = (a.finding() for a in altered)
    return draft, (*notes, *about_frame(frame), *about_waist(plan, waist, frame), *about_ease(stated, kind))


def _length(body: Body, lengths: Mapping[str, float]) -> float:
    if "length_from_nape" in lengths:
        return lengths["length_from_nape"] - body.mm("back_waist_length")
    if "length" in lengths:
        return lengths["length"]
    return body.mm("waist_to_knee") if body.has("waist_to_knee") else DRESS_LENGTH


def _known(kind: str, lengths: Mapping[str, float]) -> None:
    allowed = LENGTHS if kind == "dress" else ()
    for name in lengths:
        if name not in allowed:
            have = ", ".join(allowed) or "none"
            raise BadInput(
                "unknown-length", f"{BLOCK}, lengths", f"a {kind} has no {quoted(name)}; it has: {have}"
            )
    if "length" in lengths and "length_from_nape" in lengths:
        raise BadInput(
            "given-twice",
            f"{BLOCK}, lengths",
            "both 'length' and 'length_from_nape' are given; give one of them",
        )
