"""Outlines with fewer corners that hold the given ones: laid by them, nothing overlaps; a little is wasted.

Two moves, each of which only adds area: an inward corner is bridged, and a side between two outward corners
is replaced by the point where its neighbours meet. The move that adds least comes first.
"""

from __future__ import annotations

from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.lay.clearance import polygon_of
from cutonce.lay.problem import Ring

LEAST_CORNERS = 3

LEAST_SHARE = 1e-5
"""Of its area: a ring that cannot be thinned by more without crossing itself is left as it is."""

HOLDS_MM = 1e-6
"""By so little a corner of the given outline may lie outside the thinned one: rounding."""


def thinned(ring: Ring, share: float, corners: int = LEAST_CORNERS) -> Ring:
    """A ring within the same bounds that holds `ring`, its area larger by no more than `share` of it.

    It stops at `corners` corners. Where a move would make the ring cross itself, the share is halved, at
    last to none: then the ring comes back without its repeated and straight points only.

    >>> step = (0j, 10 + 0j, 10 + 5j, 9.9 + 5.1j, 10 + 5.2j, 10 + 10j, 10j)
    >>> thinned(step, 0.01)
    (0j, (10+0j), (10+10j), 10j)
    """
    clean = _clean(ring)
    whole = polygon_of(clean)
    if whole is None:
        return clean
    while share > LEAST_SHARE:
        made = _fewer(list(clean), 2 * share * whole.area, corners)
        polygon = polygon_of(made)
        if polygon is not None and polygon.buffer(HOLDS_MM).covers(whole):
            return made
        share /= 2
    return clean


def _clean(ring: Ring) -> Ring:
    """Without points repeated, and without those on the straight line between their neighbours."""
    points: list[Point] = []
    for p in ring:
        if not points or abs(p - points[-1]) > SAME_POINT_MM:
            points.append(p)
    while len(points) > 1 and abs(points[0] - points[-1]) <= SAME_POINT_MM:
        points.pop()
    kept = [
        q
        for p, q, r in zip(points[-1:] + points[:-1], points, points[1:] + points[:1], strict=True)
        if _bend(p, q, r) != 0.0
    ]
    return tuple(kept if len(kept) >= LEAST_CORNERS else points)


def _bend(p: Point, q: Point, r: Point) -> float:
    """Twice the area of a triangle, counter-clockwise positive; 0 where q is within rounding of p-r."""
    area = ((q - p).conjugate() * (r - q)).imag
    return area if abs(area) > SAME_POINT_MM * abs(r - p) else 0.0


def _fewer(points: list[Point], room: float, corners: int) -> Ring:
    """Moves done until the area, doubled, has grown by `room`. A move changes those of the corners beside it
    only, so the others are not looked at again."""
    box = (
        min(p.real for p in points) - HOLDS_MM,
        max(p.real for p in points) + HOLDS_MM,
        min(p.imag for p in points) - HOLDS_MM,
        max(p.imag for p in points) + HOLDS_MM,
    )
    moves = [_move(points, i, box) for i in range(len(points))]
    while len(points) > corners:
        i = min(range(len(moves)), key=lambda k: moves[k][0])
        added, apex = moves[i]
        if added > room:
            break
        room -= added
        if apex is None:
            gone = i
        else:
            points[i] = apex
            gone = (i + 1) % len(points)
        del points[gone], moves[gone]
        for k in range(gone - 4, gone + 3):
            moves[k % len(points)] = _move(points, k % len(points), box)
    return tuple(points)


_Move = tuple[float, Point | None]

_NONE: _Move = (float("inf"), None)


def _move(points: list[Point], i: int, box: tuple[float, float, float, float]) -> _Move:
    """The move at corner i: area added, doubled, and the new corner (None: only take i out)."""
    n = len(points)
    before, here, after = points[i - 1], points[i], points[(i + 1) % n]
    bend = _bend(before, here, after)
    if bend <= 0.0:
        return (-bend, None)
    beyond = points[(i + 2) % n]
    if n < 4 or _bend(here, after, beyond) <= 0.0:
        return _NONE
    u, v = here - before, after - beyond
    cross = (u.conjugate() * v).imag
    if cross >= 0.0:
        return _NONE
    apex = here + u * (((after - here).conjugate() * v).imag / cross)
    within = box[0] <= apex.real <= box[1] and box[2] <= apex.imag <= box[3]
    return (_bend(here, apex, after), apex) if within else _NONE
