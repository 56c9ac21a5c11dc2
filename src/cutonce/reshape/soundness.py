"""Is an outline sound: closed, and free of crossings? Steps refuse what would not be."""

from __future__ import annotations

from collections.abc import Iterable

from cutonce.draft.piece import Piece
from cutonce.errors import CannotApply
from cutonce.geometry import region
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import nearest
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, flattened
from cutonce.geometry.tolerance import FLATTEN_MM

ON_BORDER_MM = 0.01
"""So near to the outline a point lies on it: finer than any hand, coarser than what rounding adds up to."""

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


def off_piece(piece: Piece, points: Iterable[Point]) -> Point | None:
    """The first of these points that lies neither within the piece nor on its border, or None."""
    curves = [s.curve for s in piece.outline]
    border = flattened(curves)
    for z in points:
        if not region.inside(border, z) and nearest(curves, z)[1] > ON_BORDER_MM:
            return z
    return None


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
