"""Blend an edge: smooth what a spread, a closed gape or a join has broken, at a stated length."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Span
from cutonce.errors import CannotApply, Finding
from cutonce.quantities import PositiveLength
from cutonce.reshape.blend import Blended, blended, corners, faired_length
from cutonce.reshape.partners import seam_at
from cutonce.reshape.places import chain
from cutonce.reshape.runs import with_runs
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step


class BlendEdge(Params):
    """Which edge, how far the smoothing reaches, what length it must have."""

    edge: EdgeParams = Field(description="the edge")
    reach: PositiveLength = Field(80.0, description="over how much of the edge each break is smoothed out")
    keep: Literal["length", "partner", "fair"] = Field(
        "length",
        description="the length it has, its partner's, or what the smoothed edge takes by itself",
    )
    length: PositiveLength | None = Field(None, description="or this length")


def apply(draft: Draft, params: BlendEdge, step: str) -> Result:
    run = chain(draft, params.edge.piece, params.edge.edge, params.edge.wearer)
    spans = run.spans
    label = spans[0].label
    if any(s.label != label for s in spans):
        raise CannotApply(
            "ambiguous", run.name, "the left and the right edge are two", "name the wearer's side"
        )
    if any(b.curve.start != a.curve.end for a, b in pairwise(spans)):
        raise CannotApply(
            "dart-on-edge", run.name, "a dart opens on this edge", "blend before or after the dart"
        )
    broken = corners([s.curve for s in spans])
    done = blended(spans, params.reach, step, _goal(draft, params, run.piece, spans))
    new = with_runs(run.piece, [(spans, done.spans)])
    return Result(draft.with_pieces([new]), (_said(run.name, run.length, broken, done, step),))


def _goal(draft: Draft, params: BlendEdge, piece: Piece, spans: tuple[Span, ...]) -> float | None:
    if params.length is not None:
        if params.keep != "length":
            raise CannotApply("blend-length", piece.key, "say the length once: 'length', or 'keep'")
        return params.length
    match params.keep:
        case "length":
            return None
        case "fair":
            return faired_length(spans, params.reach)
        case "partner":
            found = seam_at(draft, piece.key, spans[0].label)
            if found is None:
                raise CannotApply(
                    "no-seam", f"{piece.key}, {spans[0].label.key}", "this edge is not sewn to another"
                )
            _, mine, partner = found
            rest = draft.side_length(mine) - sum(s.length for s in spans)
            return draft.side_length(partner) - rest


def _said(where: str, was: float, broken: float, done: Blended, step: str) -> Finding:
    message = (
        f"corners of up to {math.degrees(broken):.1f} degrees smoothed over {done.reach_mm:.0f} mm; the edge "
        f"lies at most {done.deviation_mm:.1f} mm from where it was and is {done.length_mm:.1f} mm long"
    )
    if abs(done.length_mm - was) > 0.01:
        message += f" ({done.length_mm - was:+.1f} mm)"
    return Finding("note", "edge-blended", where, message, step, expected_mm=was, found_mm=done.length_mm)


def sentence(params: BlendEdge) -> str:
    how = {
        "length": "keeping its length",
        "partner": "to its partner's length",
        "fair": "to the length it takes by itself",
    }[params.keep]
    if params.length is not None:
        how = f"to {params.length:.4g} mm"
    return f"Smooth {params.edge.words()} over {params.reach:.4g} mm, {how}."


STEP = Step(
    name="blend_edge",
    title="Blend an edge",
    purpose=(
        "Smooth a broken edge: no corner is left between its ends, and its length is kept, brought to its "
        "partner's, or set. Where the reach asked for cannot be had, a shorter one is taken and said."
    ),
    holds="Ends and their directions stay; the length is as asked within 0.01 mm; how far it moved is told.",
    params=BlendEdge,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The skirt's side smoothed, its length kept",
            block="skirt",
            params={"edge": {"piece": "skirt front", "edge": "side"}, "reach": "12 cm"},
            because="Blending keeps the length of the edge.",
        ),
    ),
)
