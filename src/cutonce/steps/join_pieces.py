"""Join two pieces along an edge: lay one against the other and cut them as one."""

from __future__ import annotations

import math

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.span import Label
from cutonce.errors import Finding
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import PositiveLength
from cutonce.reshape.corners import corner
from cutonce.reshape.joining import join
from cutonce.reshape.places import chain
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step

_SMOOTH_DEG = 0.5
"""Two edges that meet within half a degree of straight have no corner to tell of."""


class JoinPieces(Params):
    """The edge that stays, the edge that is laid on it, and what the piece is then called."""

    still: EdgeParams = Field(description="the edge of the piece that stays")
    laid: EdgeParams = Field(description="the edge of the piece that is laid on")
    name: str = Field("", description="the joined piece's name; left out: that of the piece that stays")
    within: PositiveLength = Field(0.1, description="how far the two edges may lie apart")


def apply(draft: Draft, params: JoinPieces, step: str) -> Result:
    still = chain(draft, params.still.piece, params.still.edge, params.still.wearer)
    laid = chain(draft, params.laid.piece, params.laid.edge, params.laid.wearer)
    corners = still.spans[0].curve.start, still.spans[-1].curve.end
    done = join(draft, still, laid, params.name or still.piece.name, params.within, step)
    turned = abs(math.degrees(done.motion.angle))
    text = f"the {laid.piece.key} was turned {turned:.1f} degrees to lie on the {still.piece.key}"
    if done.gap_mm >= TOLD_MM:
        text += f"; the edges lay up to {done.gap_mm:.1f} mm apart"
    if laid.piece.fold is None:
        text += "".join(_corner_words(done.draft, done.key, z) for z in corners)
    return Result(done.draft, (Finding("note", "pieces-joined", done.key, text, step),))


def _corner_words(draft: Draft, key: str, z: complex) -> str:
    """The corner that the join left at its end, in words; nothing where there is none."""
    outline = draft.piece(key).outline
    for i, span in enumerate(outline):
        if abs(span.curve.start - z) < 1.0:
            before: Label = outline[i - 1].label
            angle = math.degrees(corner(outline[i - 1], outline[i]))
            if abs(angle - 180) < _SMOOTH_DEG:
                return ""
            return f"; a corner of {angle:.1f} degrees is left between {before.key} and {span.label.key}"
    return ""


def sentence(params: JoinPieces) -> str:
    called = f", and call it {params.name}" if params.name else ""
    return f"Join {params.laid.words()} to {params.still.words()}, in one piece{called}."


STEP = Step(
    name="join_pieces",
    title="Join two pieces",
    purpose=(
        "Lay one piece against another along a seam or two edges of one shape, and cut them as one; the seam "
        "is no more."
    ),
    holds=(
        "Every other edge keeps its length and shape, the piece that is laid on moves rigidly, and the areas "
        "sum; edges that differ by more than is allowed are refused with the gap."
    ),
    params=JoinPieces,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A yoke split off and joined again: the back as it was",
            before=(
                {
                    "do": "split_piece",
                    "start": {"piece": "back", "edge": "centre back", "from": "neck", "by": "10 cm"},
                    "end": {"piece": "back", "edge": "armhole", "from": "shoulder", "by": "9 cm"},
                    "parts": {"above": "back yoke", "below": "back"},
                    "seam": "yoke",
                },
            ),
            params={
                "still": {"piece": "back", "edge": "yoke"},
                "laid": {"piece": "back yoke", "edge": "yoke"},
            },
            changes=(("back", "centre back", 100.0), ("back", "armhole", 90.0)),
            because="The parts of the divided edges grow together: 10 cm and 9 cm come back.",
            rest_free=True,
        ),
    ),
)
