"""Curves, motions and outlines for the laws of geometry, and slow but independent ways to measure them."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import LineString

from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import STILL, Motion, Point, reflecting, shifting, turning
from cutonce.geometry.path import Path

coordinates = st.floats(-400, 400).map(lambda x: round(x, 3))
points = st.builds(complex, coordinates, coordinates)
shares = st.floats(0, 1)
inner_shares = st.floats(0.02, 0.98)
angles = st.floats(-3, 3)


def _far_apart(*at: Point) -> bool:
    return abs(at[0] - at[-1]) > 0.1


lines = st.tuples(points, points).filter(lambda p: _far_apart(*p)).map(lambda p: Line(*p))
cubics = st.tuples(points, points, points, points).filter(lambda p: _far_apart(*p)).map(lambda p: Cubic(*p))


def cusp(at: float, u: complex, v: complex, start: Point = 0j) -> Cubic:
    """A cubic that stands still at t = `at` and turns back there: r' = (t - at)(u + v t)."""
    r0, r1, r2 = -at * u, u - at * v, v
    b = start + r0 / 3
    c = b + r0 / 3 + r1 / 6
    return Cubic(start, b, c, start + r0 + r1 / 2 + r2 / 3)


def _degenerate(p: tuple[Point, Point, Point, Point]) -> st.SearchStrategy[Cubic]:
    a, b, c, d = p
    along = (d - a) / abs(d - a)

    def beside(z: Point) -> Point:
        return a + along * ((z - a) * along.conjugate()).real

    return st.sampled_from(
        (
            Cubic(a, a, c, d),
            Cubic(a, b, d, d),
            Cubic(a, a, d, d),
            Cubic(a, a, a, d),
            Cubic(a, d, d, d),
            Cubic(a, d, a, d),
            Cubic(a, b, b, d),
            Cubic(a, beside(b), beside(c), d),
            Cubic(a, b, c, a),
            cusp(0.3, b - a, c - b if c != b else d - a, a),
        )
    )


degenerates = st.tuples(points, points, points, points).filter(lambda p: _far_apart(*p)).flatmap(_degenerate)
"""Control points on one another, straight cubics, loops that close, cusps."""

any_cubics = st.one_of(cubics, degenerates)
curves: st.SearchStrategy[Curve] = st.one_of(lines, any_cubics)

turns = st.builds(turning, angles, points)
shifts = st.builds(shifting, points)
mirrors = st.tuples(points, points).filter(lambda p: _far_apart(*p)).map(lambda p: reflecting(*p))
motions: st.SearchStrategy[Motion] = st.one_of(
    st.just(STILL), turns, shifts, mirrors, st.builds(lambda a, b: a.after(b), mirrors, turns)
)


@st.composite
def paths(draw: st.DrawFn, most: int = 4) -> Path:
    """Curves end to end."""
    stops = draw(st.lists(points, min_size=2, max_size=most + 1))
    out: list[Curve] = []
    for p, q in itertools.pairwise(stops):
        if abs(q - p) < 0.1:
            continue
        straight = draw(st.booleans())
        out.append(Line(p, q) if straight else Cubic(p, draw(points), draw(points), q))
    return tuple(out) or (Line(0j, 10 + 0j),)


@st.composite
def outlines(draw: st.DrawFn) -> Path:
    """A closed counter-clockwise path that cannot cross itself: corners round the origin, bowed sides."""
    n = draw(st.integers(3, 7))
    corners = [
        cmath.rect(draw(st.floats(150, 300)), 2 * math.pi * (i + draw(st.floats(-0.2, 0.2))) / n)
        for i in range(n)
    ]
    out: list[Curve] = []
    for i, p in enumerate(corners):
        q = corners[(i + 1) % n]
        if draw(st.booleans()):
            out.append(Line(p, q))
            continue
        normal = 1j * (q - p)
        near, far = draw(st.floats(-0.12, 0.12)), draw(st.floats(-0.12, 0.12))
        out.append(Cubic(p, p + (q - p) / 3 + near * normal, p + (q - p) * 2 / 3 + far * normal, q))
    return tuple(out)


def sampled(curve: Curve, n: int) -> NDArray[np.complex128]:
    """n + 1 points at even t, by a formula of its own (the sum over Bernstein polynomials)."""
    t = np.linspace(0, 1, n + 1)
    if isinstance(curve, Line):
        return curve.a * (1 - t) + curve.d * t
    return sum(
        math.comb(3, i) * p * t**i * (1 - t) ** (3 - i)
        for i, p in enumerate((curve.a, curve.b, curve.c, curve.d))
    )


def as_shapely(curve: Curve, n: int = 2000) -> LineString:
    """The curve as a chain of n chords."""
    z = sampled(curve, n)
    return LineString(np.column_stack([z.real, z.imag]))


_X, _W = np.polynomial.legendre.leggauss(40)


def reference_length(curve: Curve, t0: float = 0.0, t1: float = 1.0) -> float:
    """Arc length by numpy alone: Gauss quadrature on cells that shrink toward where the speed is least."""
    if isinstance(curve, Line):
        return abs(curve.d - curve.a) * (t1 - t0)
    rows = [3 * (curve.b - curve.a), 3 * (curve.c - curve.b), 3 * (curve.d - curve.c)]
    slope = np.polynomial.Polynomial([rows[0], 2 * (rows[1] - rows[0]), rows[0] - 2 * rows[1] + rows[2]])
    still = [z.real for z in slope.roots() if t0 < z.real < t1]
    stops = [t0, *sorted(still), t1]
    total = 0.0
    for low, high in itertools.pairwise(stops):
        half = (high - low) / 2
        steps = np.concatenate([[0.0], 0.35 ** np.arange(36.0, -1, -1)]) * half
        for edges in (low + steps, high - steps):
            mid, size = (edges[1:] + edges[:-1]) / 2, np.abs(np.diff(edges)) / 2
            at = mid[:, None] + size[:, None] * _X
            total += float((np.abs(slope(at)) * _W * size[:, None]).sum())
    return total


def total_turn(curve: Curve, n: int = 400) -> float:
    """How far the direction turns along the curve, to the left counted positive."""
    at = [curve.tangent(i / n) for i in range(n + 1)]
    return sum(cmath.phase(v / u) for u, v in itertools.pairwise(at))
