"""Leave part of a seam unsewn: a zip, a vent, a slit, the exit of a cord."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening
from cutonce.errors import CannotApply, Finding
from cutonce.quantities import Length, PositiveLength
from cutonce.reshape.partners import seam_at
from cutonce.reshape.places import Chain, chain, named_arc
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step

_SLACK_MM = 0.01
"""Past the end of a seam by less is at its end."""


class SetOpening(Params):
    """Which seam, where on it, how long, what for."""

    edge: EdgeParams = Field(description="an edge of the seam")
    kind: Literal["zip", "vent", "slit", "cord exit"] = Field(description="what the opening is for")
    from_: str = Field(
        alias="from", description="where it starts: a landmark on the edge, or the edge next to an end"
    )
    toward: str = Field("", description="which way, as `from`; left out: toward the farther end")
    by: Length = Field(0.0, description="this much further along from there")
    length: PositiveLength = Field(description="its length")


def apply(draft: Draft, params: SetOpening, step: str) -> Result:
    run = chain(draft, params.edge.piece, params.edge.edge, params.edge.wearer)
    label = run.spans[0].label
    found = seam_at(draft, run.piece.key, label)
    if found is None or any(s.label != label for s in run.spans):
        hint = _seams(draft) if found is None else "name the wearer's side"
        raise CannotApply("no-seam", run.name, "this edge is not one side of a seam", hint)
    start, end = _stretch(draft, run, params)
    seam, mine, _ = found
    before = sum(draft.piece(mine.piece).edge_length(e) for e in mine.labels[: mine.labels.index(label)])
    low, high = before + start, before + end
    if mine != seam.a:  # walked the other way, and by share where the sides differ
        scale = draft.side_length(seam.a) / draft.side_length(mine)
        low, high = (
            (draft.side_length(mine) - high) * scale,
            (draft.side_length(mine) - low) * scale,
        )
    new = Opening(seam.name, params.kind, low, high - low)
    message = f"{end - start:.1f} mm of the seam stay open for a {params.kind}; bar-tack its end"
    said = [Finding("note", "opening-set", f"{run.piece.key}, {label.key}", message, step)]
    sewn = {(side.piece, e) for side in (seam.a, seam.b) for e in side.labels}
    for drawn in (d for d in draft.drawn if params.kind == "zip" and sewn & set(d.edges)):
        message = f"the seam '{seam.name}' is drawn up ('{drawn.name}'): a zip in it cannot be"
        hint = "set the zip into another seam"
        said.append(Finding("warning", "zip-drawn-up", seam.name, message, step, hint))
    return Result(replace(draft, openings=(*draft.openings, new)), tuple(said))


def _seams(draft: Draft) -> str:
    return f"the seams: {', '.join(dict.fromkeys(s.name for s in draft.seams)) or 'none'}"


def _stretch(draft: Draft, run: Chain, params: SetOpening) -> tuple[float, float]:
    """From and to in mm along the edge."""
    start = named_arc(draft, run, params.from_, params.edge.wearer)
    goal = run.length if start < run.length / 2 else 0.0
    if params.toward:
        goal = named_arc(draft, run, params.toward, params.edge.wearer)
    way = 1 if goal > start else -1
    first = start + way * params.by
    last = first + way * params.length
    low, high = min(first, last), max(first, last)
    if low < -_SLACK_MM or high > run.length + _SLACK_MM:
        raise CannotApply(
            "past-end",
            run.name,
            f"an opening of {params.length:.1f} mm, {params.by:.1f} mm from the {params.from_}, "
            f"does not fit; the edge is {run.length:.1f} mm",
        )
    return max(0.0, low), min(run.length, high)


def sentence(params: SetOpening) -> str:
    what = {"zip": "Set a zip", "vent": "Leave a vent", "slit": "Leave a slit", "cord exit": "Let a cord out"}
    further = f", {params.by:.4g} mm further" if params.by else ""
    place = f"{params.length:.4g} mm from the {params.from_}{further}"
    return f"{what[params.kind]} in {params.edge.words()}, {place}."


STEP = Step(
    name="set_opening",
    title="Leave part of a seam open",
    purpose=(
        "Leave part of a seam unsewn for a zip, a vent, a slit or the exit of a cord. It is measured along "
        "the edge from a landmark or an end, toward the farther end unless said otherwise."
    ),
    holds="No edge changes; the stretch is marked on both sides of the seam at equal length.",
    params=SetOpening,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A zip of 40 cm in the dress's side seam, down from 2 cm below the armhole",
            block="dress",
            params={
                "edge": {"piece": "front", "edge": "side"},
                "kind": "zip",
                "from": "armhole",
                "by": "2 cm",
                "length": "40 cm",
            },
            because="An opening is a stretch of the seam; its edges stay as they are.",
        ),
    ),
)
