"""Where two cubic curves meet.

Both are halved while they may meet (boxes, then strips along each one's chord, tell when not). Two stretches
whose directions have nothing in common meet once at most, and Newton steps find that place. Where they have
all along, down to a micrometre, the curves touch.
"""

from __future__ import annotations

import cmath
import math

from cutonce.geometry.curve import Cubic
from cutonce.geometry.foot import foot
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM

_TOUCHING_MM = 1e-3
"""Stretches this short with a direction in common touch; two crossings so near lie within SAME_POINT_MM."""

_LONGEST_TOUCH_MM = 10.0
"""Curves that keep within a point's size over less than this touch there, in one place."""

_OVERLAP_FROM = 1 / 64
"""Stretches this short (in t) with a direction in common are reason to ask if the curves run together."""

_EDGE = 1e-6
"""In t: a stretch is kept if it only just reaches into the other, against rounding."""

Stretch = tuple[Point, Point, Point, Point, float, float]
"""Four control points of a part of a cubic, and where in t it begins and ends."""

Meeting = tuple[float, float]


def cubic_meetings(one: Cubic, two: Cubic) -> tuple[Meeting, ...]:
    """Parameter pairs (t on one, u on two) where two cubics meet, in order of t; neither may be straight.

    A place where they touch comes once. Along a stretch where they run together there are none.
    """
    found: list[Meeting] = []
    asked = False
    stack = [((one.a, one.b, one.c, one.d, 0.0, 1.0), (two.a, two.b, two.c, two.d, 0.0, 1.0))]
    while stack:
        f, g = stack.pop()
        if _apart(f, g) or _apart(g, f):
            continue
        size_f, size_g = _size(f), _size(g)
        small = size_f < _TOUCHING_MM and size_g < _TOUCHING_MM
        single = _directions_part(f, g)
        if single or small:
            hit = _polished(one, two, (f[4] + f[5]) / 2, (g[4] + g[5]) / 2)
            if hit and _within(hit[0], f) and _within(hit[1], g):
                _add(found, hit, one, two)
                continue
            if small:
                for corner in _corners(f, g):
                    _add(found, corner, one, two)
                continue
        elif f[5] - f[4] <= _OVERLAP_FROM and g[5] - g[4] <= _OVERLAP_FROM:
            if not asked and (shared := _shared(one, two)):
                return _outside(one, two, *shared)
            asked = True
            if _together(f, two):
                _add(found, _touch(f, one, two), one, two)
                continue
        if size_f >= size_g:
            stack.extend((half, g) for half in _halves(f))
        else:
            stack.extend((f, half) for half in _halves(g))
    return tuple(sorted(found))


def _size(f: Stretch) -> float:
    a, b, c, d, _, _ = f
    return abs(b - a) + abs(c - b) + abs(d - c)


def _halves(f: Stretch) -> tuple[Stretch, Stretch]:
    a, b, c, d, t0, t1 = f
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    mid, t = (abc + bcd) / 2, (t0 + t1) / 2
    return (a, ab, abc, mid, t0, t), (mid, bcd, cd, d, t, t1)


def _apart(f: Stretch, g: Stretch) -> bool:
    """Does a strip along f's chord (along x where it has none) that holds f leave g outside?"""
    a, b, c, d, _, _ = f
    chord = d - a
    size = abs(chord)
    turned = chord.conjugate() / size if size > SAME_POINT_MM else 1 + 0j
    hb, hc, hd = (turned * (b - a)).imag, (turned * (c - a)).imag, (turned * chord).imag
    low, high = min(0.0, hb, hc, hd) - SAME_POINT_MM, max(0.0, hb, hc, hd) + SAME_POINT_MM
    other = [(turned * (p - a)).imag for p in g[:4]]
    if min(other) > high or max(other) < low:
        return True
    sb, sc, sd = (turned * (b - a)).real, (turned * (c - a)).real, (turned * chord).real
    low, high = min(0.0, sb, sc, sd) - SAME_POINT_MM, max(0.0, sb, sc, sd) + SAME_POINT_MM
    other = [(turned * (p - a)).real for p in g[:4]]
    return min(other) > high or max(other) < low


def _directions(f: Stretch) -> tuple[float, float, float] | None:
    """The chord's direction and how far (to the right, to the left) the curve's leaves it; None where the
    curve turns back."""
    a, b, c, d, _, _ = f
    chord = d - a
    back = chord.conjugate()
    low = high = 0.0
    for v in (b - a, c - b, d - c):
        w = v * back
        if w.real <= 0:
            if v == 0:
                continue
            return None
        angle = math.atan2(w.imag, w.real)
        low, high = min(low, angle), max(high, angle)
    return (cmath.phase(chord), low, high) if chord else None


def _directions_part(f: Stretch, g: Stretch) -> bool:
    """Have the two no direction in common, forward or backward? They then meet once at most."""
    df, dg = _directions(f), _directions(g)
    if df is None or dg is None:
        return False
    low = dg[0] + dg[1] - df[0] - df[2] - _EDGE
    high = dg[0] + dg[2] - df[0] - df[1] + _EDGE
    return math.floor(low / math.pi) == math.floor(high / math.pi)


def _within(t: float, f: Stretch) -> bool:
    return f[4] - _EDGE <= t <= f[5] + _EDGE


def _polished(one: Cubic, two: Cubic, t: float, u: float) -> Meeting | None:
    """The nearest pair to which Newton steps lead, held within both curves; None where they do not meet."""
    best, least = (t, u), math.inf
    for _ in range(50):
        p, q = one.at(t), two.at(u)
        gap = p - q
        if abs(gap) < least:
            best, least = (t, u), abs(gap)
        if abs(gap) < 1e-12:
            break
        v, w = one.derivative(t), two.derivative(u)
        det = (v.conjugate() * w).imag
        if det == 0:
            break
        dt, du = (gap.conjugate() * w).imag / det, (gap.conjugate() * v).imag / det
        if abs(dt) < 1e-15 and abs(du) < 1e-15:
            break
        t, u = min(1.0, max(0.0, t - dt)), min(1.0, max(0.0, u - du))
    return best if least < SAME_POINT_MM else None


def _corners(f: Stretch, g: Stretch) -> list[Meeting]:
    """Where ends of the stretches lie on one another: a curve that goes on where another ends."""
    ends = ((p, t, q, u) for p, t in ((f[0], f[4]), (f[3], f[5])) for q, u in ((g[0], g[4]), (g[3], g[5])))
    return [(t, u) for p, t, q, u in ends if abs(p - q) < SAME_POINT_MM]


def _together(f: Stretch, two: Cubic) -> bool:
    """Does a short stretch keep within a point's size of the other curve? (It bends the same way there.)"""
    mid = (f[0] + 3 * (f[1] + f[2]) + f[3]) / 8
    return all(_off(two, p) < SAME_POINT_MM for p in (mid, f[0], f[3]))


def _touch(f: Stretch, one: Cubic, two: Cubic) -> Meeting:
    """One place for a stretch all of which touches: the nearest, or its middle."""
    t = (f[4] + f[5]) / 2
    u = foot(two, one.at(t))
    hit = _polished(one, two, t, u)
    return hit if hit and _within(hit[0], f) else (t, u)


def _add(found: list[Meeting], hit: Meeting, one: Cubic, two: Cubic) -> None:
    """Add a meeting, unless it is one that is there, or lies on the same touching stretch."""
    for i, have in enumerate(found):
        if _same(have, hit, one, two):
            if _gap(hit, one, two) < _gap(have, one, two):
                found[i] = hit
            return
    found.append(hit)


def _gap(hit: Meeting, one: Cubic, two: Cubic) -> float:
    return abs(one.at(hit[0]) - two.at(hit[1]))


def _same(have: Meeting, hit: Meeting, one: Cubic, two: Cubic) -> bool:
    apart = max(abs(one.at(have[0]) - one.at(hit[0])), abs(two.at(have[1]) - two.at(hit[1])))
    if apart < 10 * SAME_POINT_MM:
        return abs(have[0] - hit[0]) < 0.1 and abs(have[1] - hit[1]) < 0.1
    if apart > _LONGEST_TOUCH_MM:
        return False
    between = (one.at(have[0] + k * (hit[0] - have[0])) for k in (0.3, 0.5, 0.7))
    return all(_off(two, p) < SAME_POINT_MM for p in between)


def _shared(one: Cubic, two: Cubic) -> tuple[float, float] | None:
    """The stretch of `one` (in t) along which `two` runs with it: it is bounded by ends of either curve."""
    stops = [t for t, p in ((0.0, one.a), (1.0, one.d)) if _off(two, p) < SAME_POINT_MM]
    stops += [foot(one, p) for p in (two.a, two.d) if _off(one, p) < SAME_POINT_MM]
    if len(stops) < 2:
        return None
    low, high = min(stops), max(stops)
    if high - low < 1e-4 or any(
        _off(two, one.at(low + k * (high - low))) > SAME_POINT_MM for k in (0.21, 0.5, 0.83)
    ):
        return None
    return low, high


def _off(curve: Cubic, p: Point) -> float:
    return abs(curve.at(foot(curve, p)) - p)


def _outside(one: Cubic, two: Cubic, low: float, high: float) -> tuple[Meeting, ...]:
    """Meetings before and after a shared stretch of `one`."""
    out: list[Meeting] = []
    for t0, t1 in ((0.0, low), (high, 1.0)):
        if t1 - t0 > 1e-4:
            for t, u in cubic_meetings(one.part(t0, t1), two):
                at = t0 + t * (t1 - t0)
                if not low - 1e-4 < at < high + 1e-4:
                    out.append((at, u))
    return tuple(out)
