"""Blend an edge: smooth what a spread, a closed gape or a join has broken, at a stated length."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply, Finding
from cutonce.quantities import PositiveLength
from cutonce.reshape.blend import Blended, blended, corners, faired_length
from cutonce.reshape.folded_edge import folded_edge, reopened
from cutonce.reshape.partners import seam_at
from cutonce.reshape.places import chain, chains, pieces_named
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
    piece, run = _run(draft, params)
    edge = folded_edge(piece, run)
    name = f"{piece.key}, {' and '.join(dict.fromkeys(s.label.key for s in run))}"
    length = sum(s.length for s in run)
    broken = corners([s.curve for s in edge.spans])
    done = blended(edge.spans, params.reach, step, _goal(draft, params, piece, edge.spans))
    folded = len(edge.flat) > len(run)
    new = reopened(piece, edge, done.spans) if folded else with_runs(piece, [(run, done.spans)])
    said = _said(name, length, broken, done, step)
    if folded:
        said = replace(said, message=f"with the darts on it folded: {said.message}")
    return Result(draft.with_pieces([new]), (said,))


def _run(draft: Draft, params: BlendEdge) -> tuple[Piece, tuple[Span, ...]]:
    """The edge's spans from end to end: one edge, or all parts of a divided one that keeps its lengths."""
    edge = params.edge
    found = chains(draft, pieces_named(draft, edge.piece, edge.wearer), edge.edge, edge.wearer)
    labels = {s.label for c in found for s in c.spans}
    first = found[0].spans[0].label
    if len(found) > 1 and all(c.piece is found[0].piece and first.same_edge(c.spans[0].label) for c in found):
        if params.keep != "length" or params.length is not None:
            raise CannotApply(
                "edge-parts",
                found[0].name,
                f"the {first.name} is in {len(found)} parts, which can only be smoothed at their lengths",
                "leave 'keep' and 'length' out, or name one part",
            )
    elif len(found) > 1:
        chain(draft, edge.piece, edge.edge, edge.wearer)  # raises: which of them?
    elif len(labels) > 1:
        raise CannotApply(
            "ambiguous", found[0].name, "the left and the right edge are two", "name the wearer's side"
        )
    piece = found[0].piece
    return piece, _in_order(piece, labels)


def _in_order(piece: Piece, labels: set[Label]) -> tuple[Span, ...]:
    """The spans of these edges in outline order, from the one before which another edge ends."""
    solid = [s for s in piece.outline if s.label.role != "dart leg"]
    n = len(solid)
    first = next(
        (i for i in range(n) if solid[i].label in labels and solid[i - 1].label not in labels),
        next(i for i in range(n) if solid[i].label in labels),
    )
    return tuple(s for s in (*solid[first:], *solid[:first]) if s.label in labels)


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
        "partner's, or set; darts on it are folded first, and an edge in parts is one run, each part at its "
        "length. Where the reach asked for cannot be had, a shorter one is taken and said."
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
