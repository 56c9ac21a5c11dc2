"""Grain: the arrow lies on its piece, folds lie along it, left and right are alike."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import CENTRES, Label
from cutonce.errors import Finding
from cutonce.geometry.path import flattened
from cutonce.geometry.region import inside

TOLERANCE = math.radians(1)
"""One degree: 10 mm in a skirt length, what a careful layer-out manages."""


def grain(draft: Draft, context: Context) -> Found:
    """Every piece, then every pair of a left and a right piece of one name."""
    return (
        *(f for piece in draft.pieces for f in _of(piece, context)),
        *(f for piece in draft.pieces for f in _of_pair(draft, piece, context)),
    )


def _of(piece: Piece, context: Context) -> Iterator[Finding]:
    step = context.last_step(piece.outline)
    if not inside(flattened([s.curve for s in piece.outline], 0.5)[1:], piece.grain.at):
        yield Finding(
            "warning",
            "grain-off-piece",
            piece.key,
            "the grain arrow does not lie on the piece",
            step=step,
            hint="set the grain again",
            spot=(piece.key, piece.grain.at),
        )
    centre = next((e for e in piece.labels if e.role in CENTRES), None)
    if centre is not None:
        yield from _to_centre(piece, centre, step)


def _to_centre(piece: Piece, centre: Label, step: str) -> Iterator[Finding]:
    """How the grain lies to the centre: along the fold, or as its kind says."""
    off = _angle_to(piece, centre)
    if piece.cut == "fold" and piece.fold == centre:
        if min(off, math.pi / 2 - off) > TOLERANCE:
            on_bias = abs(off - math.pi / 4) <= TOLERANCE
            why = "cloth folded on the bias shifts" if on_bias else "cloth cannot be folded so"
            yield Finding(
                "warning" if on_bias else "stop",
                "fold-off-grain",
                f"{piece.key}, {centre.key}",
                f"the fold lies {math.degrees(off):.1f} degrees off the grain: {why}",
                step=step,
                hint="set the grain along the fold, or unfold the piece",
                spot=(piece.key, piece.grain.at),
            )
        return
    wanted = {"straight": 0.0, "cross": math.pi / 2, "bias": math.pi / 4}[piece.grain.kind]
    if abs(off - wanted) > TOLERANCE:
        yield Finding(
            "note",
            "grain-turned",
            f"{piece.key}, {centre.key}",
            f"the {piece.grain.kind} grain lies {math.degrees(off):.1f} degrees from the {centre.name}, "
            f"not {math.degrees(wanted):.0f}",
            step=step,
            hint="keep it if another part was to hold the grain",
            spot=(piece.key, piece.grain.at),
        )


def _angle_to(piece: Piece, label: Label) -> float:
    """Angle between grain and an edge's chord, 0 to 90 degrees, in radians."""
    spans = piece.edge(label)
    along = spans[-1].curve.end - spans[0].curve.start
    return _between(along, piece.grain.along)


def _between(u: complex, v: complex) -> float:
    turn = abs(cmath.phase(u / v))
    return min(turn, math.pi - turn)


def _of_pair(draft: Draft, piece: Piece, context: Context) -> Iterator[Finding]:
    """The right piece's grain against the mirror image of the left one's."""
    if piece.wearer != "left":
        return
    other = next((p for p in draft.pieces if p.name == piece.name and p.wearer == "right"), None)
    if other is None:
        return
    off = _between(-piece.grain.along.conjugate(), other.grain.along)
    if off > TOLERANCE:
        yield Finding(
            "note",
            "grain-unlike",
            f"{piece.key} and {other.key}",
            f"their grains are not mirror images: {math.degrees(off):.1f} degrees apart, so they hang unlike",
            step=context.last_step((*piece.outline, *other.outline)),
            hint="set both, or leave it where the design wants it",
        )
