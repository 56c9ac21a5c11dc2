"""No-fit polygons: where one outline may not be beside another.

The positions t at which the interior of `b + t` meets the interior of `a` are the Minkowski sum of `a` and
`-b` (any text on computational geometry). The integer polygons of Clipper (through pyclipper) make it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from cutonce.geometry.motion import Point
from cutonce.geometry.region import inside
from cutonce.lay.problem import Ring

_UNITS = 2e8
"""Integer units along the larger of the two outlines: fine beyond any cloth, and sums stay exact."""


def no_fit(a: Ring, b: Ring, spacing: float = 0.0) -> tuple[Ring, ...]:
    """The region of positions of b's origin, a's origin at 0, where the two overlap or come nearer than
    `spacing`; where positions on its edge touch. Rings are counter-clockwise, holes clockwise. A hole is a
    place for `b` wholly within a bay of `a`.

    >>> square = (0j, 2 + 0j, 2 + 2j, 2j)
    >>> [sorted((p.real, p.imag) for p in ring) for ring in no_fit(square, square)]
    [[(-2.0, -2.0), (-2.0, 2.0), (2.0, -2.0), (2.0, 2.0)]]
    """
    import pyclipper

    unit = _UNITS / max(max(abs(p.real), abs(p.imag)) for p in (*a, *b))
    pattern = [(-round(p.real * unit), -round(p.imag * unit)) for p in b]
    path = [(round(p.real * unit), round(p.imag * unit)) for p in a]
    rings = pyclipper.MinkowskiSum(pattern, path, True)
    kept = [r for r in rings if pyclipper.Orientation(r) or _is_bay(a, b, _points(r, unit))]
    if spacing:
        wider = pyclipper.PyclipperOffset(2.0, 0.25)
        wider.AddPaths(kept, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
        kept = wider.Execute(spacing * unit)
    return tuple(_points(r, unit) for r in kept)


def _points(ring: Sequence[Any], unit: float) -> Ring:
    return tuple(complex(x / unit, y / unit) for x, y in ring)


def _is_bay(a: Ring, b: Ring, hole: Ring) -> bool:
    """Within a hole of the swept edges either one outline holds the other, or they are apart."""
    t = _inner_point(hole)
    return not (inside(a, b[0] + t) or inside(b, a[0] - t))


def _inner_point(ring: Ring) -> Point:
    from shapely import Polygon

    p = Polygon([(z.real, z.imag) for z in ring]).representative_point()
    return complex(p.x, p.y)
