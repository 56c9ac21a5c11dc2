"""Unfold: from half pieces to the whole garment, with the wearer's left and right told apart."""

from __future__ import annotations

import cmath
import math

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.errors import Finding
from cutonce.reshape.unfold import unfolded
from cutonce.steps.parameters import Params
from cutonce.steps.step import Example, Result, Step

_CORNER = math.radians(0.5)
"""A smaller turn where the halves meet is not seen."""


class Unfold(Params):
    """Which pieces keep a seam down their centre."""

    apart: tuple[str, ...] = Field(
        (), description="pieces that become a left and a right one with a centre seam between them"
    )


def apply(draft: Draft, params: Unfold, step: str) -> Result:
    whole = unfolded(draft, params.apart, step)
    return Result(whole, tuple(f for p in whole.pieces if p.wearer is None for f in _corners(p, step)))


def _corners(piece: Piece, step: str) -> list[Finding]:
    """Where an edge turns a corner at the centre, because its half does not meet the centre squarely."""
    out: list[Finding] = []
    spans = piece.outline
    for before, after in zip((spans[-1], *spans[:-1]), spans, strict=True):
        if {before.label.wearer, after.label.wearer} != {"left", "right"}:
            continue
        turn = cmath.phase(after.curve.tangent(0) / before.curve.tangent(1))
        if abs(turn) > _CORNER:
            name = after.label.name
            out.append(
                Finding(
                    "note",
                    "corner-at-centre",
                    f"{piece.key}, {name}",
                    f"the {name} turns a corner of {math.degrees(abs(turn)):.1f} degrees at the centre",
                    step,
                    "nothing to do where a point is wanted; else blend the edge",
                    spot=(piece.key, after.curve.start),
                )
            )
    return out


def sentence(params: Unfold) -> str:
    if not params.apart:
        return "Unfold the half pieces along their centres."
    names = " and ".join(params.apart) if len(params.apart) < 3 else ", ".join(params.apart)
    return f"Unfold the half pieces along their centres; keep a centre seam in the {names}."


STEP = Step(
    name="unfold",
    title="Unfold to the whole garment",
    purpose=(
        "Join every half piece to its mirror image, or to the other half of an uneven body, so that left and "
        "right can differ. Pieces cut as a pair, and those named, become a left and a right piece."
    ),
    holds="The areas are the sums of the halves'; every edge is there for the wearer's left and right.",
    params=Unfold,
    apply=apply,
    sentence=sentence,
    joins_halves=True,
    examples=(
        Example(
            title="Front and back whole, the back with its centre seam",
            params={},
            because="Halves are joined as they are; the front's centre edge becomes a fold that is gone.",
            rest_free=True,
        ),
        Example(
            title="A front with a centre seam too",
            params={"apart": ["front"]},
            because="Both halves stay as they are, with a seam between them.",
            rest_free=True,
        ),
    ),
)
