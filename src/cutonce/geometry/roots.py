"""Zeros of a cubic polynomial on the unit interval, each one found, however close they lie together.

General cubic solvers decide by small constants whether roots fall together, and so lose two of three that lie
within some hundredths of the interval. Here the turning places divide the interval into stretches on which
the polynomial only rises or only falls; each stretch has one zero or none.
"""

from __future__ import annotations

import math

_ROUNDING = 1e-12
"""Of the largest coefficient: a value this small may be zero (rounding is a thousandth of it)."""

Terms = tuple[float, float, float, float]
"""A polynomial of degree three, highest power first."""


def zeros(a: float, b: float, c: float, d: float, touch: float = 0.0) -> tuple[float, ...]:
    """Zeros in [0, 1] of the cubic with Bernstein coefficients a, b, c, d, in rising order.

    Where it turns or ends within `touch` of zero (rounding at the least) it has one zero, as it has along a
    whole stretch within it. A polynomial that is zero everywhere has none.

    >>> zeros(-1, -1, 1, 1)
    (0.5,)
    >>> [round(t, 9) for t in zeros(0, 0, 0.5, -22)]
    [0.0, 0.063829787]
    """
    low, high = min(a, b, c, d), max(a, b, c, d)
    touch = max(touch, _ROUNDING * max(-low, high))
    if low > touch or high < -touch or max(-low, high) <= touch:
        return ()
    terms = (d - 3 * c + 3 * b - a, 3 * (c - 2 * b + a), 3 * (b - a), a)
    knots = [(0.0, a), *((t, _value(terms, t)) for t in _turnings(*terms[:3])), (1.0, d)]
    out: list[float] = []
    i = 0
    while i < len(knots):
        last = i  # knots i to last lie within `touch` of zero, one place together
        while last < len(knots) and not _clear(knots[last], touch):
            last += 1
        if last > i:
            out.append(_one_place(terms, knots, i, last - 1))
            i = last
        else:
            i += 1
        if 0 < i < len(knots) and _clear(knots[i - 1], touch) and _clear(knots[i], touch):
            (t0, v0), (t1, v1) = knots[i - 1 : i + 1]
            out += [_between(terms, t0, t1)] if v0 * v1 < 0 else []
    return tuple(out)


def _clear(knot: tuple[float, float], touch: float) -> bool:
    return abs(knot[1]) > touch


def _one_place(terms: Terms, knots: list[tuple[float, float]], first: int, last: int) -> float:
    """Of a run of knots near zero: where the polynomial passes through it there, else the nearest of them."""
    before, after = knots[max(first - 1, 0)], knots[min(last + 1, len(knots) - 1)]
    if before[1] * after[1] < 0:
        return _between(terms, before[0], after[0])
    return min(knots[first : last + 1], key=lambda knot: abs(knot[1]))[0]


def _value(terms: Terms, t: float) -> float:
    p, q, r, s = terms
    return ((p * t + q) * t + r) * t + s


def _turnings(p: float, q: float, r: float) -> list[float]:
    """Where the slope 3 p t^2 + 2 q t + r is zero, within the interval, in rising order."""
    a, half = 3 * p, q
    square = half * half - a * r
    if square < 0:
        return []
    # the sum whose parts have one sign loses no digits; the other zero follows from the product
    w = -(half + math.copysign(math.sqrt(square), half))
    found = [w / a] if abs(w) < abs(a) else []
    if abs(r) < abs(w):
        found.append(r / w)
    return sorted({t for t in found if 0 < t < 1})


def _between(terms: Terms, low: float, high: float) -> float:
    """The zero between two places of unlike sign: Newton steps, halving where they leave the stretch."""
    p, q, r, _ = terms
    rising = _value(terms, low) < 0
    t = (low + high) / 2
    for _ in range(80):
        v = _value(terms, t)
        if v == 0:
            return t
        if (v < 0) == rising:
            low = t
        else:
            high = t
        slope = (3 * p * t + 2 * q) * t + r
        better = t - v / slope if slope else low
        if not low < better < high:
            better = (low + high) / 2
        if abs(better - t) < 1e-16 or better in (low, high):
            return better
        t = better
    return t
