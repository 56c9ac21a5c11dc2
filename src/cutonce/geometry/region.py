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
    from shapely import Polygon

    return Polygon([(p.real, p.imag) for p in flattened(path, tolerance)])


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
