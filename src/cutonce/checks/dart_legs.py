"""Legs of a dart are sewn to each other: they must be equally long."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import BLOCK, sided
from cutonce.errors import Finding, Severity

EQUAL_MM, STOP_MM = 0.5, 3.0
"""Legs may part by the first without a word; by more than the second they are not sewn flat."""


def dart_legs(draft: Draft, context: Context) -> Found:
    """Every dart that opens on an edge, and both halves of every dart pointed at both ends."""
    return tuple(f for piece in draft.pieces for f in (*_open(piece, context), *_double(piece)))


def _open(piece: Piece, context: Context) -> Iterator[Finding]:
    for dart in piece.darts:
        spans = [s for s in piece.outline if s.label == dart.label]
        where = f"{piece.key}, {dart.label.key}"
        if len(spans) != 2:
            message = f"it has {len(spans)} legs in the outline, not two"
            yield Finding("stop", "dart-broken", where, message, context.last_step(spans))
            continue
        one, two = piece.legs(dart)
        off = one.length - two.length
        if abs(off) > EQUAL_MM:
            yield Finding(
                _severity(off),
                "dart-legs",
                where,
                f"its legs differ by {abs(off):.1f} mm ({one.length:.1f} and {two.length:.1f})",
                step=context.last_step((one, two)),
                hint="move the mouth's end of the longer leg, or the point",
                expected_mm=two.length,
                found_mm=one.length,
                spot=(piece.key, one.curve.start),
            )


def _double(piece: Piece) -> Iterator[Finding]:
    for dart in piece.double_darts:
        for end, tip in (("upper", dart.upper), ("lower", dart.lower)):
            left, right = abs(dart.left - tip), abs(dart.right - tip)
            if abs(left - right) > EQUAL_MM:
                yield Finding(
                    _severity(left - right),
                    "dart-legs",
                    f"{piece.key}, {sided(dart.name, dart.wearer)}",
                    f"its {end} legs differ by {abs(left - right):.1f} mm ({left:.1f} and {right:.1f})",
                    step=BLOCK,
                    hint="move its upper or lower point",
                    expected_mm=right,
                    found_mm=left,
                    spot=(piece.key, tip),
                )


def _severity(off: float) -> Severity:
    return "stop" if abs(off) > STOP_MM else "warning"
