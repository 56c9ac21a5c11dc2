"""Draw an edge up: by a cord in a channel, by elastic, or by gathering threads, to a given length."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.seam import Drawn, Relation
from cutonce.errors import CannotApply, Finding
from cutonce.quantities import Length, PositiveLength, Ratio
from cutonce.reshape.fullness import turned_seam
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step

_ROOM_MM = 4.5
"""A channel for a round cord of diameter D is pi D / 2 and 3 to 6 mm more, flat (arithmetic, and common
practice for the room)."""

_TAIL_MM = {"cord": 150.0, "elastic": 0.0, "gathering": 0.0}
"""What hangs out at each end: enough of a cord to tie."""

_SAME_MM = 1.0
"""Partners whose lengths part by less are alike."""


class DrawUp(Params):
    """Which edges, by what, to what length."""

    name: str = Field(min_length=1, description="its name, printed and listed")
    edges: tuple[EdgeParams, ...] = Field(
        min_length=1, description="the edges in order; of a seam, one side (the other goes with it)"
    )
    by: Literal["cord", "elastic", "gathering"] = Field(description="what draws it up")
    to: PositiveLength | None = Field(None, description="the length it is drawn to")
    ratio: Ratio | None = Field(None, description="or its flat length over that")
    cord: PositiveLength | None = Field(None, description="the cord's diameter; gives the channel its width")
    channel: Length | None = Field(None, description="inside width of the channel; 0: none")
    tails: Length | None = Field(None, description="how far each end of a cord hangs out")


def apply(draft: Draft, params: DrawUp, step: str) -> Result:
    refs = _refs(draft, params)
    flat = sum(draft.piece(key).edge_length(label) for key, label in refs)
    to = _drawn_length(params, flat)
    if any(d.name == params.name for d in draft.drawn):
        raise CannotApply(
            "name-taken", params.name, "another edge is drawn up under this name", "take another"
        )
    taken = next((d.name for d in draft.drawn if set(d.edges) & set(refs)), None)
    if taken is not None:
        raise CannotApply("drawn-twice", params.name, f"one of these edges is drawn up by '{taken}' already")
    tails = _TAIL_MM[params.by] if params.tails is None else params.tails
    drawn = Drawn(params.name, refs, to, params.by, _channel(params), tails)
    draft = replace(draft, drawn=(*draft.drawn, drawn))
    draft, gathered = _gathered(draft, refs)
    said = [_length_said(params, refs, flat, to, step), *gathered, *_cautions(draft, params, refs)]
    return Result(draft, tuple(replace(f, step=step) for f in said))


def _refs(draft: Draft, params: DrawUp) -> tuple[EdgeRef, ...]:
    out = tuple(dict.fromkeys(ref for edge in params.edges for ref in edge.refs(draft)))
    for a in out:
        partner = draft.partner(*a)
        if partner and any((partner.piece, label) in out for label in partner.labels):
            raise CannotApply(
                "both-sides", params.name, f"both sides of the {a[1].key} are named", "name one"
            )
    return out


def _drawn_length(params: DrawUp, flat: float) -> float:
    if (params.to is None) == (params.ratio is None):
        raise CannotApply("drawn-length", params.name, "say the length: either 'to' or 'ratio'")
    to = params.to if params.to is not None else flat / (params.ratio or 1.0)
    if to > flat:
        raise CannotApply(
            "drawn-length", params.name, f"the edge is {flat:.1f} mm and cannot be drawn up to {to:.1f} mm"
        )
    return to


def _channel(params: DrawUp) -> float:
    if params.channel is not None:
        if params.channel < 0:
            raise CannotApply("channel", params.name, "a channel cannot be narrower than nothing")
        if params.cord is not None and params.channel < math.pi * params.cord / 2:
            raise CannotApply(
                "channel",
                params.name,
                f"a cord {params.cord:.1f} mm thick needs {math.pi * params.cord / 2:.1f} mm, flat",
            )
        return params.channel
    if params.cord is not None:
        return math.pi * params.cord / 2 + _ROOM_MM
    return 0.0 if params.by == "gathering" else 15.0


def _gathered(draft: Draft, refs: tuple[EdgeRef, ...]) -> tuple[Draft, list[Finding]]:
    """Seams whose other side is shorter are declared gathers; an equal other side is drawn up with it."""
    said: list[Finding] = []
    for key, label in refs:
        for seam in draft.seams:
            sides = seam.seen_from(key, label)
            if sides is None:
                continue
            mine, other = sides
            long, short = draft.side_length(mine), draft.side_length(other)
            if mine == other or seam.relation.kind != "equal" or long - short < _SAME_MM:
                continue
            if mine != seam.a:
                draft, seam = turned_seam(draft, seam)
            new = replace(seam, relation=Relation("gather", ratio=long / short))
            draft = replace(draft, seams=tuple(new if s == seam else s for s in draft.seams))
            message = f"{long:.1f} mm are gathered into the partner's {short:.1f} mm"
            said.append(Finding("note", "gathered", f"{key}, {label.key}", message))
    return draft, said


def _length_said(params: DrawUp, refs: tuple[EdgeRef, ...], flat: float, to: float, step: str) -> Finding:
    where = ", ".join(f"{key}, {label.key}" for key, label in refs)
    message = f"{flat:.1f} mm of edge are drawn up to {to:.1f} mm by {params.by} ({flat / to:.2f} to 1)"
    return Finding("note", "drawn-up", where, message, step)


def _cautions(draft: Draft, params: DrawUp, refs: tuple[EdgeRef, ...]) -> Iterator[Finding]:
    where = params.name
    if params.by == "cord":
        at_neck = any(label.role in ("neck", "strap") for _, label in refs)
        message = "a cord can catch and tighten" + (", here at the neck" if at_neck else "")
        hint = "none at a child's neck or hood; local rules on cords in clothing come first"
        yield Finding("note", "cord-caution", where, message, hint=hint)
    names = {s.name for key, label in refs for s in draft.seams_of(key, label)}
    for opening in draft.openings:
        if opening.kind == "zip" and opening.seam in names:
            message = f"a zip stands in the seam '{opening.seam}' that is drawn up"
            yield Finding("warning", "zip-drawn-up", where, message, hint="move the zip to another seam")


def sentence(params: DrawUp) -> str:
    edges = " and ".join(e.words() for e in params.edges)
    how_far = f"to {params.to:.4g} mm" if params.to is not None else f"{params.ratio:g} to 1"
    by = {"cord": "a cord", "elastic": "elastic", "gathering": "gathering threads"}[params.by]
    return f"Draw up {edges} {how_far} by {by} ('{params.name}')."


STEP = Step(
    name="draw_up",
    title="Draw an edge up",
    purpose=(
        "Draw an edge, a chain of edges across seams, or a seam up to a given length by a cord in a channel, "
        "by elastic or by gathering. An equal partner goes with it; into a shorter one it is gathered."
    ),
    holds="Edges keep their flat length; girths and hem are checked drawn up, strips cut by the flat length.",
    params=DrawUp,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The waist of a skirt on elastic",
            block="skirt",
            before=({"do": "unfold"},),
            params={
                "name": "waist elastic",
                "edges": [
                    {"piece": "skirt front", "edge": "waist", "wearer": "left"},
                    {"piece": "skirt front", "edge": "waist", "wearer": "right"},
                ],
                "by": "elastic",
                "ratio": 1.1,
            },
            because="The cloth stays as it is: only its length as worn is stated.",
        ),
    ),
)
