"""Where curves meet, and the place on a path nearest to a point."""

from __future__ import annotations

from collections.abc import Sequence

from fontTools.misc.bezierTools import solveCubic

from cutonce.geometry.curve import Bounds, Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM

_EDGE = 1e-9


def meetings(one: Curve, two: Curve) -> tuple[tuple[float, float], ...]:
    """Parameter pairs (t on one, u on two) where they meet, in order of t; overlapping lines give none."""
    if isinstance(one, Line):
        return tuple(sorted((u, t) for t, u in _with_line(two, one)))
    if isinstance(two, Line):
        return tuple(sorted(_with_line(one, two)))
    return _cubic_cubic(one, two)


def on_line(curve: Curve, p: Point, direction: complex) -> tuple[float, ...]:
    """Parameters where a curve meets the endless line through `p`."""
    turned = direction.conjugate()

    def height(z: Point) -> float:
        return ((z - p) * turned).imag

    if isinstance(curve, Line):
        ha, hd = height(curve.a), height(curve.d)
        roots = [ha / (ha - hd)] if ha != hd else []
    else:
        a, b, c, d = (height(z) for z in (curve.a, curve.b, curve.c, curve.d))
        terms = (d - 3 * c + 3 * b - a, 3 * (c - 2 * b + a), 3 * (b - a), a)
        roots = [_sharper(terms, t) for t in solveCubic(*terms)]
    kept: list[float] = []
    for t in sorted(min(1.0, max(0.0, t)) for t in roots if -_EDGE <= t <= 1 + _EDGE):
        if not kept or t - kept[-1] > _EDGE:
            kept.append(t)
    return tuple(kept)


def _sharper(terms: tuple[float, float, float, float], t: float) -> float:
    """A root by Newton steps; `solveCubic` rounds to six digits, 0.2 micrometres in 400 mm."""
    a, b, c, d = terms
    miss = ((a * t + b) * t + c) * t + d
    for _ in range(8):
        slope = (3 * a * t + 2 * b) * t + c
        if slope == 0:
            break
        better = t - miss / slope
        left = ((a * better + b) * better + c) * better + d
        if abs(left) >= abs(miss):
            break
        t, miss = better, left
    return t


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


def _apart(p: Bounds, q: Bounds) -> bool:
    return p[2] < q[0] or q[2] < p[0] or p[3] < q[1] or q[3] < p[1]


def _cubic_cubic(one: Cubic, two: Cubic) -> tuple[tuple[float, float], ...]:
    """Halve both while their boxes overlap, then polish by Newton; equal places are merged."""
    found: list[tuple[float, float]] = []
    stack = [(one, 0.0, 1.0, two, 0.0, 1.0)]
    while stack:
        f, t0, t1, g, u0, u1 = stack.pop()
        if _apart(_hull(f), _hull(g)):
            continue
        if t1 - t0 < 1 / 64 and u1 - u0 < 1 / 64:
            hit = _polish(one, two, (t0 + t1) / 2, (u0 + u1) / 2)
            if hit and not any(abs(one.at(hit[0]) - one.at(t)) < 10 * SAME_POINT_MM for t, _ in found):
                found.append(hit)
            continue
        tm, um = (t0 + t1) / 2, (u0 + u1) / 2
        halves = [(f.part(0, 0.5), t0, tm), (f.part(0.5, 1), tm, t1)]
        others = [(g.part(0, 0.5), u0, um), (g.part(0.5, 1), um, u1)]
        stack.extend((*h, *o) for h in halves for o in others)
    return tuple(sorted(found))


def _hull(c: Cubic) -> Bounds:
    xs, ys = [p.real for p in (c.a, c.b, c.c, c.d)], [p.imag for p in (c.a, c.b, c.c, c.d)]
    return min(xs), min(ys), max(xs), max(ys)


def _polish(one: Cubic, two: Cubic, t: float, u: float) -> tuple[float, float] | None:
    for _ in range(30):
        gap = one.at(t) - two.at(u)
        v, w = one.derivative(t), two.derivative(u)
        det = (v.conjugate() * w).imag
        if abs(gap) < SAME_POINT_MM / 100 or abs(det) < 1e-12:
            break
        t -= (gap.conjugate() * w).imag / det
        u -= (gap.conjugate() * v).imag / det
        if not (-0.5 < t < 1.5 and -0.5 < u < 1.5):
            return None
    t, u = min(1.0, max(0.0, t)), min(1.0, max(0.0, u))
    return (t, u) if abs(one.at(t) - two.at(u)) < SAME_POINT_MM else None


def nearest(path: Sequence[Curve], p: Point) -> tuple[float, float]:
    """Arc length along the path of its place nearest to `p`, and the distance in mm."""
    best_s, best = 0.0, float("inf")
    before = 0.0
    for curve in path:
        t = _nearest_on(curve, p)
        gap = abs(curve.at(t) - p)
        if gap < best:
            best_s, best = before + curve.length_to(t), gap
        before += curve.length
    return best_s, best


def _nearest_on(curve: Curve, p: Point) -> float:
    if isinstance(curve, Line):
        along = curve.d - curve.a
        return (
            min(1.0, max(0.0, ((p - curve.a) * along.conjugate()).real / abs(along) ** 2)) if along else 0.0
        )
    steps = 24
    k = min(range(steps + 1), key=lambda i: abs(curve.at(i / steps) - p))
    low, high = max(0.0, (k - 1) / steps), min(1.0, (k + 1) / steps)
    for _ in range(100):  # golden section; the samples bracket one minimum
        if high - low < 1e-13:
            break
        m = 0.3819660112501051 * (high - low)
        if abs(curve.at(low + m) - p) < abs(curve.at(high - m) - p):
            high -= m
        else:
            low += m
    return (low + high) / 2
