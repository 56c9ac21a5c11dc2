"""Places of a piece so narrow that cloth frays away, or that the seam allowances meet."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.errors import Finding
from cutonce.geometry.motion import Point
from cutonce.geometry.region import lost_when_narrower

NARROW_MM = 8.0
"""Cloth narrower than this between two sewing lines cannot be turned or pressed."""

LEAST_AREA_MM2 = 150.0
"""A lost patch smaller than this is the tip of a corner; a strap 7 mm wide and 22 long is more."""


def narrow_places(draft: Draft, context: Context) -> Found:
    """Every place narrower than 8 mm, except the tips of corners."""
    return tuple(f for piece in draft.pieces for f in _of(piece, context))


def _of(piece: Piece, context: Context) -> Iterator[Finding]:
    for spot in lost_when_narrower([s.curve for s in piece.outline], NARROW_MM, LEAST_AREA_MM2):
        near = sorted(piece.outline, key=lambda s: _off(s.curve.at(0.5), s.curve.start, s.curve.end, spot))[
            :2
        ]
        yield Finding(
            "warning",
            "narrow",
            f"{piece.key}, {near[0].label.key}",
            f"the piece is narrower than {NARROW_MM:g} mm there",
            step=context.last_step(near),
            hint="move the edge or the dart's point away, or make the piece wider",
            expected_mm=NARROW_MM,
            spot=(piece.key, spot),
        )


def _off(middle: Point, start: Point, end: Point, spot: Point) -> float:
    return min(abs(middle - spot), abs(start - spot), abs(end - spot))
