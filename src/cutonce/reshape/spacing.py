"""Places spaced evenly along an outline, over corners and past darts, as a tape on the cloth measures."""

from __future__ import annotations

from collections.abc import Sequence

from cutonce.draft.piece import Piece
from cutonce.draft.span import Span
from cutonce.errors import CannotApply
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.places import Spot


def spaced(piece: Piece, one: Spot, two: Spot, count: int, avoid: Sequence[Spot] = ()) -> tuple[Spot, ...]:
    """`count` places from one to two, both included, at equal distances along the cloth.

    Of the two ways round the outline the shorter is taken, or the other where one of `avoid` lies within it.
    """
    if count == 1:
        return (one,)
    cloth = [s for s in piece.outline if s.label.role != "dart leg"]
    whole = sum(s.length for s in cloth)
    start, end = _arc(piece, cloth, one), _arc(piece, cloth, two)
    ahead = (end - start) % whole
    ways = sorted((ahead, ahead - whole), key=abs)
    others = [(_arc(piece, cloth, s) - start) % whole for s in avoid]
    way = next((w for w in ways if not any(_within(a, w, whole) for a in others)), ways[0])
    inner = [_at(piece, cloth, (start + way * i / (count - 1)) % whole) for i in range(1, count - 1)]
    return (one, *inner, two)


def _within(arc: float, way: float, whole: float) -> bool:
    if way < 0:
        arc, way = whole - arc, -way
    return SAME_POINT_MM < arc < way - SAME_POINT_MM


def _arc(piece: Piece, cloth: Sequence[Span], spot: Spot) -> float:
    origin, material = spot.on_cloth
    before = 0.0
    for span in cloth:
        if span.origin == origin and span.holds(material):
            return before + span.arc_at(material)
        before += span.length
    raise CannotApply("no-material", piece.key, f"nothing is left of '{origin.name}' at {material:.1f} mm")


def _at(piece: Piece, cloth: Sequence[Span], arc: float) -> Spot:
    for span in cloth:
        if arc <= span.length or span is cloth[-1]:
            s = min(arc, span.length)
            point = span.curve.at(span.curve.at_length(s))
            return Spot(piece.key, point, span.label, span.origin, span.material_at(s))
        arc -= span.length
    raise CannotApply("no-edge", piece.key, "the piece has no edge")
