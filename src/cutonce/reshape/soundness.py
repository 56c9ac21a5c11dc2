"""Is an outline sound: closed, and free of crossings? Steps refuse what would not be."""

from __future__ import annotations

from cutonce.draft.piece import Piece
from cutonce.errors import CannotApply
from cutonce.geometry import region
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import FLATTEN_MM

_SHORT_OF_PIVOT_MM = 0.01
"""Two darts may share a pivot, where the outline then touches itself; legs stop this far short to tell a
touch from a crossing."""


def crossing(piece: Piece) -> Point | None:
    """A place where the sewing line crosses itself, or None; darts may meet at a common pivot."""
    return region.crossing(_with_short_darts(piece), FLATTEN_MM)


def refuse_crossing(piece: Piece, message: str, hint: str = "") -> None:
    """Raise CannotApply (crosses-itself) where the sewing line crosses itself, saying `message`."""
    if crossing(piece) is not None:
        raise CannotApply("crosses-itself", piece.key, message, hint)


def gap(piece: Piece) -> float:
    """The widest gap in mm between the end of a span and the start of the next."""
    spans = piece.outline
    return max(abs(b.curve.start - a.curve.end) for a, b in zip(spans, spans[1:] + spans[:1], strict=True))


def _with_short_darts(piece: Piece) -> Path:
    curves = [s.curve for s in piece.outline]
    for dart in piece.darts:
        one, two = piece.legs(dart)
        i, j = piece.outline.index(one), piece.outline.index(two)
        pivot = one.curve.end
        u, v = one.curve.start - pivot, two.curve.end - pivot
        middle = u / abs(u) + v / abs(v)
        tip = pivot + _SHORT_OF_PIVOT_MM * middle / abs(middle)
        curves[i] = Line(one.curve.start, tip)
        curves[j] = Line(tip, two.curve.end)
    return tuple(curves)
