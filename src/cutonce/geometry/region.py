"""Areas bounded by paths, by way of Shapely: crossings, containment. Flattened to ask, never kept."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cutonce.geometry.curve import Curve
from cutonce.geometry.motion import Point
from cutonce.geometry.path import flattened
from cutonce.geometry.tolerance import FLATTEN_MM

if TYPE_CHECKING:
    from shapely import Polygon


def polygon(path: Sequence[Curve], tolerance: float = FLATTEN_MM) -> Polygon:
    """A Shapely polygon of a closed path."""
    import numpy as np
    from shapely import linearrings, polygons

    points = np.array(flattened(path, tolerance))
    made: Polygon = polygons(linearrings(points.view(np.float64).reshape(-1, 2)))
    return made


def crossing(path: Sequence[Curve], tolerance: float = FLATTEN_MM) -> Point | None:
    """A place where a closed path crosses or touches itself; None where it is simple."""
    from shapely.validation import explain_validity

    reason = explain_validity(polygon(path, tolerance))
    if reason == "Valid Geometry":
        return None
    x, y = reason[reason.index("[") + 1 : reason.index("]")].split()[:2]
    return complex(float(x), float(y))


def inside(points: Sequence[Point], p: Point) -> bool:
    """Is `p` inside the closed polygon? Even-odd rule."""
    odd = False
    q = points[-1]
    for r in points:
        if (r.imag > p.imag) != (q.imag > p.imag):
            x = r.real + (p.imag - r.imag) / (q.imag - r.imag) * (q.real - r.real)
            if p.real < x:
                odd = not odd
        q = r
    return odd


def lost_when_narrower(path: Sequence[Curve], width: float, least_area: float) -> tuple[Point, ...]:
    """A point in each part of the inside of a closed path that a disc of diameter `width` cannot reach.

    Parts smaller than `least_area` mm2 (the tips of corners) count only where they join two other parts.
    """
    whole = polygon(path, 10 * FLATTEN_MM)
    if not whole.is_valid:
        return ()
    core = whole.buffer(-width / 2, quad_segs=4)
    reached = core.buffer(width / 2 + FLATTEN_MM, quad_segs=4)
    lost = whole.difference(reached)
    spots: list[Point] = []
    cores = [p.buffer(width / 2 + 10 * FLATTEN_MM) for p in getattr(core, "geoms", [core]) if not p.is_empty]
    for part in getattr(lost, "geoms", [lost]):
        joins = len(cores) > 1 and sum(part.intersects(c) for c in cores) > 1
        if not part.is_empty and (part.area > least_area or joins):
            at = part.representative_point()
            spots.append(complex(at.x, at.y))
    return tuple(spots)
