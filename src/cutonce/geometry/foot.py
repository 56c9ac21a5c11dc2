"""The place on a curve nearest to a point: the foot of the perpendicular, or an end."""

from __future__ import annotations

import math
from itertools import pairwise

from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.motion import Point

Quintic = tuple[float, float, float, float, float, float]
"""Bernstein coefficients of a polynomial of degree five."""

_FINEST = 2.0**-40
"""In t: a zero known so closely is known to about 1e-9 mm on a curve of a metre."""


def foot(curve: Curve, p: Point) -> float:
    """The parameter of the place on a curve nearest to `p`; the first where several are as near.

    Exact but for rounding: a cubic's distance is least at an end or where a polynomial of degree five (the
    half derivative of the squared distance) rises through 0; its Bernstein form shows every such place.
    """
    if isinstance(curve, Line):
        along = curve.d - curve.a
        size2 = along.real**2 + along.imag**2
        return min(1.0, max(0.0, ((p - curve.a) * along.conjugate()).real / size2)) if size2 else 0.0
    a, b, c, d = curve.a - p, curve.b - p, curve.c - p, curve.d - p
    u, v, w = (b - a).conjugate(), (c - b).conjugate(), (d - c).conjugate()
    slopes = (
        (a * u).real,
        (2 * a * v + 3 * b * u).real / 5,
        (a * w + 6 * b * v + 3 * c * u).real / 10,
        (3 * b * w + 6 * c * v + d * u).real / 10,
        (3 * c * w + 2 * d * v).real / 5,
        (d * w).real,
    )
    best, least = 0.0, abs(a)
    for t in (*_rises(slopes), 1.0):
        gap = abs(curve.at(t) - p)
        if gap < least:
            best, least = t, gap
    return best


def _rises(whole: Quintic) -> list[float]:
    """Where the polynomial passes from below 0 to above, in order."""
    out: list[float] = []
    stack = [(whole, 0.0, 1.0)]
    while stack:
        k, t0, t1 = stack.pop()
        below = sum(x < 0 for x in k)
        if below in (0, 6) or (k[0] >= 0 and _once(k)):
            continue
        if k[0] < 0 and _once(k):
            out.append(t0 + (t1 - t0) * _root(k))
        elif t1 - t0 < _FINEST:
            out.append((t0 + t1) / 2)
        else:
            mid = (t0 + t1) / 2
            near, far = _halves(k)
            stack += [(far, mid, t1), (near, t0, mid)]
    return out


def _once(k: Quintic) -> bool:
    """Do the coefficients change their sign once at most?"""
    changes, positive = 0, k[0] >= 0
    for x in k[1:]:
        if (x >= 0) != positive:
            changes, positive = changes + 1, not positive
    return changes <= 1


def _halves(k: Quintic) -> tuple[Quintic, Quintic]:
    rows = [list(k)]
    while len(rows[-1]) > 1:
        row = rows[-1]
        rows.append([(x + y) / 2 for x, y in pairwise(row)])
    near, far = [r[0] for r in rows], [r[-1] for r in reversed(rows)]
    return (near[0], near[1], near[2], near[3], near[4], near[5]), (
        far[0],
        far[1],
        far[2],
        far[3],
        far[4],
        far[5],
    )


def _root(k: Quintic) -> float:
    """The one root in [0, 1] of a polynomial that begins below 0 and ends above: Newton, held by halving."""
    # powers of t, from the Bernstein coefficients' differences
    rows = [list(k)]
    while len(rows[-1]) > 1:
        row = rows[-1]
        rows.append([y - x for x, y in pairwise(row)])
    p0, p1, p2, p3, p4, p5 = (n * r[0] for n, r in zip((1, 5, 10, 10, 5, 1), rows, strict=True))
    low, high, t = 0.0, 1.0, 0.5  # never at an end: it may be another zero, where the curve stands still
    for _ in range(60):
        value = ((((p5 * t + p4) * t + p3) * t + p2) * t + p1) * t + p0
        if value == 0 or high - low < 1e-16:
            break
        low, high = (t, high) if value < 0 else (low, t)
        slope = (((5 * p5 * t + 4 * p4) * t + 3 * p3) * t + 2 * p2) * t + p1
        move = value / slope if slope > 0 else math.inf
        if abs(move) < 1e-16:
            break
        t = t - move if low < t - move < high else (low + high) / 2
    return t
