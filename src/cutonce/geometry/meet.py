"""Where curves meet, and the place on a path nearest to a point."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutonce.geometry.cubics import cubic_meetings
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.foot import foot
from cutonce.geometry.motion import Point
from cutonce.geometry.roots import zeros
from cutonce.geometry.tolerance import SAME_POINT_MM


def meetings(one: Curve, two: Curve) -> tuple[tuple[float, float], ...]:
    """Parameter pairs (t on one, u on two) where they meet, in order of t.

    A place where they touch comes once; along a stretch where they run together there are none.
    """
    if isinstance(one, Line):
        return tuple(sorted((u, t) for t, u in _with_line(two, one)))
    if isinstance(two, Line):
        return tuple(sorted(_with_line(one, two)))
    return cubic_meetings(one, two)


def on_line(curve: Curve, p: Point, direction: complex) -> tuple[float, ...]:
    """Parameters where a curve meets the endless line through `p`, in order.

    Every crossing is found, to rounding error. A place where the curve touches the line, or ends on it,
    within SAME_POINT_MM, comes once; a curve that lies along the line meets it nowhere.
    """
    turned = direction.conjugate() / abs(direction)
    if isinstance(curve, Line):
        ha, hd = (((z - p) * turned).imag for z in (curve.a, curve.d))
        third = (hd - ha) / 3
        return zeros(ha, ha + third, hd - third, hd, SAME_POINT_MM)
    a, b, c, d = (((z - p) * turned).imag for z in (curve.a, curve.b, curve.c, curve.d))
    return zeros(a, b, c, d, SAME_POINT_MM)


def _with_line(curve: Curve, line: Line) -> list[tuple[float, float]]:
    along = line.d - line.a
    size = abs(along)
    if size == 0:
        return []
    found = []
    for t in on_line(curve, line.a, along):
        u = ((curve.at(t) - line.a) * along.conjugate()).real / size**2
        if -SAME_POINT_MM / size <= u <= 1 + SAME_POINT_MM / size:
            found.append((t, min(1.0, max(0.0, u))))
    return found


def nearest(path: Sequence[Curve], p: Point) -> tuple[float, float]:
    """Arc length along the path of its place nearest to `p`, and the distance in mm; the first of equals."""
    best_s, best = 0.0, math.inf
    before = 0.0
    for curve in path:
        if _box_gap(curve, p) < best:
            t = foot(curve, p)
            gap = abs(curve.at(t) - p)
            if gap < best:
                best_s, best = before + curve.length_to(t), gap
        before += curve.length
    return best_s, best


def _box_gap(curve: Curve, p: Point) -> float:
    """No less than this is the distance from `p` to the curve: that to the box of its control points."""
    points = (curve.a, curve.d) if isinstance(curve, Line) else (curve.a, curve.b, curve.c, curve.d)
    xs, ys = [z.real for z in points], [z.imag for z in points]
    return abs(
        complex(max(min(xs) - p.real, p.real - max(xs), 0.0), max(min(ys) - p.imag, p.imag - max(ys), 0.0))
    )
