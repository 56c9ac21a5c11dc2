"""Curves made to order: given ends, tangents, length, or points to pass through."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM

_SAME_LENGTH_MM = 1e-10
"""A length asked for is met so closely: what rounding leaves of lengths of metres."""

_LEAST_HANDLE = 0.02
"""Of the chord: nearer to an end, the corner of the end tangents would make a corner of the curve."""


def between(p: Point, start: complex, q: Point, end: complex, fullness: float = 1.0) -> Cubic:
    """A cubic from p to q that leaves along `start` and arrives along `end` (directions, any size).

    `fullness` 1 gives the handles of a circular arc for the turn between the tangents
    (4/3 tan(turn/4) x radius, the usual approximation); more makes it fuller, less flatter.
    """
    u, v = start / abs(start), end / abs(end)
    chord = abs(q - p)
    turn = abs(cmath.phase(v / u))
    handle = chord / (3 * math.cos(turn / 4) ** 2) * fullness
    return Cubic(p, p + handle * u, q - handle * v, q)


def rounded(p: Point, start: complex, q: Point, end: complex, fullness: float = 1.0) -> Cubic:
    """A cubic with its ends and directions, shaped like a part of an ellipse where it turns one way.

    Each handle is a share of the way to the corner in which the end tangents meet: 4/3 tan(turn/4) /
    tan(turn/2) (0.5523 for a quarter turn), times `fullness`; at most the whole way, so that it never loops.
    Where the tangents do not meet ahead (an S, or nearly straight), or at an end, the handles are those of
    `between`.
    """
    u, v = start / abs(start), end / abs(end)
    turn = abs(cmath.phase(v / u))
    cross = (u.conjugate() * v).imag
    if 0.05 < turn < 2.6:
        ahead = ((q - p).conjugate() * v).imag / cross
        back = (u.conjugate() * (q - p)).imag / cross
        if min(ahead, back) > _LEAST_HANDLE * abs(q - p):
            k = min(1.0, fullness * 4 / 3 * math.tan(turn / 4) / math.tan(turn / 2))
            return Cubic(p, p + k * ahead * u, q - k * back * v, q)
    return between(p, u, q, v, fullness)


def easing(chord: complex, other: complex) -> complex:
    """The direction at a free end of a curve whose other end has the direction `other`: it eases out, with no
    bend at the free end (the end condition of a natural spline over one interval)."""
    found = 3 * chord / abs(chord) - other / abs(other)
    return found / abs(found)


def of_length(p: Point, start: complex, q: Point, end: complex, length: float) -> Cubic | None:
    """The cubic with equal handles that has these ends, tangents and arc length; None where there is none.

    False position on the handle, to 1e-10 mm. Handles go from nothing to 1.5 chords, but stay short of those
    by which the middle slows down to a fifth and then turns back: a length that takes a fold has no curve
    here.
    """
    u, v = start / abs(start), end / abs(end)
    chord = q - p
    size = abs(chord)

    def curve(h: float) -> Cubic:
        return Cubic(p, p + h * u, q - h * v, q)

    plain = curve(size / 3)
    if abs(plain.length - length) < _SAME_LENGTH_MM:
        return plain
    ahead = (chord.conjugate() * (u + v)).real
    low, high = 1e-3 * size, 1.5 * size
    if ahead > 0:
        high = min(high, 1.6 * size * size / ahead)  # at t = 1/2, r' is 3/4 (2 chord - h (u + v))
    return _of_length_between(curve, low, high, length)


def _of_length_between(
    curve: Callable[[float], Cubic], low: float, high: float, length: float
) -> Cubic | None:
    """The curve of this length between two handles; None where neither is too short, or neither too long.

    False position, the slack end halved where the other one keeps moving (the Illinois method): a dozen
    lengths at most where bisection takes forty.
    """
    short, long = curve(low).length - length, curve(high).length - length
    if not short <= 0 <= long:
        return None
    found, side = curve(low), 0
    for _ in range(100):
        h = (low * long - high * short) / (long - short) if long > short else (low + high) / 2
        found = curve(h)
        miss = found.length - length
        if abs(miss) < _SAME_LENGTH_MM or high - low < 1e-14 * high:
            break
        if miss < 0:
            low, short = h, miss
            long, side = (long / 2, -1) if side == -1 else (long, -1)
        else:
            high, long = h, miss
            short, side = (short / 2, 1) if side == 1 else (short, 1)
    return found


def through(
    points: Sequence[Point], start: complex | None = None, end: complex | None = None
) -> tuple[Curve, ...]:
    """A smooth path through points: cubics with continuous curvature, chord-length parameter.

    `start` and `end` are directions at the ends; left out, the path ends with no curvature there.
    Two points without directions give a straight line. The usual tridiagonal equations of the
    interpolating cubic spline, solved by elimination. Raises CannotApply for fewer than two points and for
    one that falls on the next.
    """
    n = len(points) - 1
    if n < 1:
        raise CannotApply("too-few-points", "", "a line needs two points at least")
    for i, (one, two) in enumerate(pairwise(points), start=1):
        if abs(two - one) < SAME_POINT_MM:
            raise CannotApply("same-point", "", f"points {i} and {i + 1} of the line fall on one another")
    if n == 1 and start is None and end is None:
        return (Line(points[0], points[1]),)
    h = [abs(points[i + 1] - points[i]) for i in range(n)]
    diag, upper, lower, rhs = [0.0] * (n + 1), [0.0] * (n + 1), [0.0] * (n + 1), [0j] * (n + 1)
    slope = [(points[i + 1] - points[i]) / h[i] for i in range(n)]
    diag[0], upper[0], rhs[0] = (2.0, 1.0, 3 * slope[0]) if start is None else (1.0, 0.0, start / abs(start))
    diag[n], lower[n], rhs[n] = (2.0, 1.0, 3 * slope[-1]) if end is None else (1.0, 0.0, end / abs(end))
    for i in range(1, n):
        lower[i], diag[i], upper[i] = h[i], 2 * (h[i - 1] + h[i]), h[i - 1]
        rhs[i] = 3 * (h[i] * slope[i - 1] + h[i - 1] * slope[i])
    for i in range(1, n + 1):
        w = lower[i] / diag[i - 1]
        diag[i] -= w * upper[i - 1]
        rhs[i] -= w * rhs[i - 1]
    d = [0j] * (n + 1)
    d[n] = rhs[n] / diag[n]
    for i in range(n - 1, -1, -1):
        d[i] = (rhs[i] - upper[i] * d[i + 1]) / diag[i]
    return tuple(
        Cubic(points[i], points[i] + d[i] * h[i] / 3, points[i + 1] - d[i + 1] * h[i] / 3, points[i + 1])
        for i in range(n)
    )
