"""Widths of a piece at a level: where the side lies, what a dart takes there."""

from __future__ import annotations

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Piece
from cutonce.draft.span import CENTRES, Label
from cutonce.geometry.meet import on_line

BUST_CIRCLE_MM = 75.0
"""The bust circle's radius (trade practice): amounts of gape are stated there, and under the bust is this far
below the bust point."""


def out_at(piece: Piece, label: Label, y: float, outward: float) -> float | None:
    """How far out an edge lies at a level, from x = 0 along `outward` (+1 or -1); None where it is not."""
    found = [
        outward * s.curve.at(t).real
        for s in piece.edge(label)
        for t in on_line(s.curve, complex(0, y), 1 + 0j)
    ]
    return max(found, default=None)


def intake_at(piece: Piece, dart: Dart | DoubleDart, y: float) -> float:
    """What the sewn dart takes out of the width at a level, mm; 0 above and below it."""
    if isinstance(dart, DoubleDart):
        middle = dart.middle
        tip = dart.upper if y > middle.imag else dart.lower
        share = (y - tip.imag) / (middle.imag - tip.imag)
        return dart.intake * share if 0 <= share <= 1 else 0.0
    tip, ends = piece.dart_tip(dart), piece.mouth(dart)
    middle = (ends[0] + ends[1]) / 2
    share = (y - tip.imag) / (middle.imag - tip.imag) if middle.imag != tip.imag else -1.0
    return abs(ends[1] - ends[0]) * share if 0 <= share <= 1 else 0.0


def under_bust_level(draft: Draft, piece: Piece) -> float | None:
    """The level under the bust, from the bust point of this piece or of one that stands on the same waist."""
    for p in (piece, *draft.pieces):
        for point in p.points:
            if point.name == "bust point":
                return point.at.imag - BUST_CIRCLE_MM
    return None


def high_hip_level(piece: Piece) -> float | None:
    """Half way between the piece's waist line and hip line (the standard's level of the top hip girth)."""
    levels = {x.name: x.curves[0].start.imag for x in piece.lines if x.curves}
    if "hip" not in levels:
        return None
    centre = [s.curve for s in piece.outline if s.label.role in CENTRES]
    top = max((z.imag for c in centre for z in (c.start, c.end)), default=None)
    waist = levels.get("waist", top)
    return None if waist is None else (waist + levels["hip"]) / 2
