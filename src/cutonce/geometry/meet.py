"""Where curves meet, and the place on a path nearest to a point."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutonce.geometry.cubics import cubic_meetings
from cutonce.geometry.curve import Cubic, Curve, Line, box_of
from cutonce.geometry.foot import foot
from cutonce.geometry.motion import Point
from cutonce.geometry.roots import zeros
from cutonce.geometry.tolerance import SAME_POINT_MM

_LOOKS = 12
"""Places at which curves are compared: on an edge's curves of some centimetres, every few millimetres."""


def meetings(one: Curve, two: Curve) -> tuple[tuple[float, float], ...]:
    """Parameter pairs (t on one, u on two) where they meet, in order of t.

    A place where they touch comes once; along a stretch where they run together, and for two that lie on one
    line, there are none.
    """
    if isinstance(one, Line):
        return tuple(sorted((u, t) for t, u in _with_line(two, one)))
    if isinstance(two, Line):
        return tuple(sorted(_with_line(one, two)))
    if (along := _straight(two)) is not None:
        return tuple(sorted(_with_straight(one, two, along)))
    if (along := _straight(one)) is not None:
        return tuple(sorted((t, u) for u, t in _with_straight(two, one, along)))
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
    roots = on_line(curve, line.a, along)
    for t in roots:
        u = ((curve.at(t) - line.a) * along.conjugate()).real / size**2
        if -SAME_POINT_MM / size <= u <= 1 + SAME_POINT_MM / size:
            found.append((t, min(1.0, max(0.0, u))))
    if isinstance(curve, Cubic) and len(found) < len(roots):
        found += _ends_on(curve, line, found)
    return found


def _ends_on(curve: Cubic, straight: Curve, found: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Ends of the curve that lie on a straight one and are not found: an end that leaves it along the endless
    line may touch that beyond the straight one's own end."""
    out = []
    for t, p in ((0.0, curve.a), (1.0, curve.d)):
        u = foot(straight, p)
        on = abs(straight.at(u) - p) <= SAME_POINT_MM
        if on and not any(_keeps(curve, t, s, straight) for s, _ in found):
            out.append((t, u))
    return out


def _keeps(curve: Cubic, t: float, s: float, straight: Curve) -> bool:
    """Does the curve keep to the straight one from t to s?"""
    between = [curve.at(t + k * (s - t)) for k in (0.3, 0.5, 0.7)]
    return all(abs(p - straight.at(foot(straight, p))) <= SAME_POINT_MM for p in between)


def _straight(curve: Cubic) -> complex | None:
    """The direction of a cubic that lies on a line, 0 where it is a point; None where it bends."""
    far = max((curve.b - curve.a, curve.c - curve.a, curve.d - curve.a), key=abs)
    if abs(far) < SAME_POINT_MM:
        return 0j
    along = far / abs(far)
    off = max(abs(((p - curve.a) * along.conjugate()).imag) for p in (curve.b, curve.c, curve.d))
    return along if off < SAME_POINT_MM else None


def _with_straight(curve: Cubic, straight: Cubic, along: complex) -> list[tuple[float, float]]:
    """Meetings with a straight cubic, which may pass a place more than once."""
    if along == 0:
        t = foot(curve, straight.a)
        return [(t, 0.0)] if abs(curve.at(t) - straight.a) < SAME_POINT_MM else []
    roots = on_line(curve, straight.a, along)
    found = [
        (t, u)
        for t in roots
        for u in on_line(straight, curve.at(t), 1j * along)
        if abs(curve.at(t) - straight.at(u)) < 2 * SAME_POINT_MM
    ]
    return found + (_ends_on(curve, straight, found) if roots else [])


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
    left, low, right, high = box_of(curve.points)
    return abs(complex(max(left - p.real, p.real - right, 0.0), max(low - p.imag, p.imag - high, 0.0)))


def farthest_apart(one: Sequence[Curve], two: Sequence[Curve]) -> float:
    """The farthest in mm that either path lies from the other, looked at in a dozen places of each curve."""
    pairs = ((one, two), (two, one))
    looks = [(other, c.at(k / _LOOKS)) for path, other in pairs for c in path for k in range(_LOOKS + 1)]
    return max(nearest(other, z)[1] for other, z in looks)
