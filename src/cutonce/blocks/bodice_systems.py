"""The bodice and dress blocks by name of system: construct, true, draw, for an even or an uneven body."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Literal

from cutonce.blocks.bodice import draw_bodice
from cutonce.blocks.bodice_direct import EASE as DIRECT_EASE
from cutonce.blocks.bodice_direct import direct
from cutonce.blocks.bodice_findings import about_ease, about_frame, about_waist
from cutonce.blocks.bodice_frame import Construction, Frame, Meeting
from cutonce.blocks.bodice_proportional import EASE, OLDER_EASE, older_proportional, proportional
from cutonce.blocks.bodice_waist import waist_plan
from cutonce.blocks.dress import Lengths, draw_dress, dress_waist
from cutonce.blocks.ease import BodiceEase
from cutonce.blocks.truing import Altered, true_frame
from cutonce.body import SIDES, Body
from cutonce.draft.draft import Draft
from cutonce.draft.span import BLOCK
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
    """Half a bodice or dress; where left and right differ above the waist, the right half as its twin.

    `ease` in mm by place (see `BodiceEase`), the system's own where left out. `lengths` of a dress in mm:
    `length` from the waist, or `length_from_nape`, and `flare` of each piece's side at the hem.
    """
    chosen = bodice_system(system)
    _known(kind, lengths)
    work = _Work(kind, chosen, chosen.ease.stated(ease), lengths)
    said = tuple(about_ease(work.ease, kind))
    said = (*said, *_about_hip(kind, body))
    if not set(body.uneven) & set(_APART):
        half = work.trued(_mean(body), Meeting())
        return work.drawn(half, None), (*said, *work.told(half))
    left, right, rise = _two_halves(work, body)
    draft = replace(work.drawn(left, rise), twin=work.drawn(right, rise))
    halves = zip(SIDES, (left, right), strict=True)
    told = (f.on_half(side) for side, half in halves for f in work.told(half))
    return draft, (*said, *told)


def bodice_ease(system: str, stated: Mapping[str, float]) -> dict[str, float]:
    """All ease of a bodice or dress by place, in mm: what was stated, the rest by the system."""
    return asdict(bodice_system(system).ease.stated(stated))


@dataclass(frozen=True, slots=True)
class _Half:
    """One half trued: the body with that side's measures, the frame, what truing altered."""

    body: Body
    frame: Frame
    altered: tuple[Altered, ...]


@dataclass(frozen=True, slots=True)
class _Work:
    """What is drafted, by which system, with what ease and lengths in mm."""

    kind: Literal["bodice", "dress"]
    system: BodiceSystem
    ease: BodiceEase
    lengths: Mapping[str, float]

    def trued(self, body: Body, meeting: Meeting) -> _Half:
        frame, altered = true_frame(self.system.construct(body), body, self.ease, meeting)
        return _Half(body, frame, altered)

    def waist(self, body: Body) -> float:
        """Half the waist girth with ease."""
        return (body.mm("waist_girth") + self.ease.waist) / 2

    def below(self, body: Body) -> Lengths:
        hip = (body.mm("hip_girth") + self.ease.hip) / 2
        length = _length(body, self.lengths)
        return Lengths(self.waist(body), hip, body.mm("waist_to_hip"), length, self.lengths.get("flare", 0.0))

    def drawn(self, half: _Half, rise: float | None) -> Draft:
        if self.kind == "bodice":
            return draw_bodice(half.frame, self.waist(half.body), rise)[0]
        return draw_dress(half.frame, self.below(half.body))

    def told(self, half: _Half) -> tuple[Finding, ...]:
        waist = self.waist(half.body)
        if self.kind == "bodice":
            plan = waist_plan(half.frame, waist)
        else:
            plan = dress_waist(half.frame, self.below(half.body))
        notes = (a.finding() for a in half.altered)
        return (*notes, *about_frame(half.frame), *about_waist(plan, waist, half.frame))


_APART = ("shoulder_length", "shoulder_drop", "front_waist_length", "scye_depth", "neck_to_bust_point")
"""Measures for which left and right are drafted apart."""

_COMMON = ("waist_to_hip",)
"""Measures taken at their mean on both halves: the hip line is level."""


def _two_halves(work: _Work, body: Body) -> tuple[_Half, _Half, float | None]:
    """Left and right of an uneven body, which meet at the centre, and the height of a bodice's waist there.

    Neck and waist at the centre are those of the mean body; the bust line is the lower one's. Where shoulders
    drop unequally and the scye depth is not told apart, each armhole goes with its shoulder.
    """
    middle = _mean(body)
    mean = work.trued(middle, Meeting())
    neck = mean.frame.front_neck - mean.frame.neck.front_depth
    shared = tuple(m for m in middle.measures if m.key in _COMMON)
    halves = []
    for side in SIDES:
        own = body.one_side(side).with_measures(shared)
        halves.append(work.trued(own, Meeting(neck, _lowered(body, own))))
    line = min(half.frame.bust_level for half in halves)
    left, right = (replace(half, frame=replace(half.frame, bust_line=line)) for half in halves)
    rise = None
    if work.kind == "bodice":
        rise = draw_bodice(replace(mean.frame, bust_line=line), work.waist(middle))[1].rise
    return left, right, rise


def _lowered(body: Body, own: Body) -> float:
    """How much lower than the mean this half's armhole lies, by its shoulder."""
    if "scye_depth" in body.uneven or "shoulder_drop" not in body.uneven:
        return 0.0
    return own.mm("shoulder_drop") - body.mm("shoulder_drop")


def _mean(body: Body) -> Body:
    """The even body with the mean of both sides."""
    left = body.one_side("left")
    return left.with_measures(replace(m, mm=body.mm(m.key)) for m in left.measures)


def _about_hip(kind: str, body: Body) -> Iterator[Finding]:
    if kind == "dress" and "waist_to_hip" in body.uneven:
        left, right = (body.mm("waist_to_hip", side) for side in SIDES)
        yield Finding(
            "note",
            "hip-line-level",
            "hip line",
            f"waist to hip is {left / 10:.1f} cm on the left and {right / 10:.1f} cm on the right; "
            "the hip line is drawn level, at their mean",
            step=BLOCK,
        )


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
