"""Arc lengths of cubics: against closed forms, numpy, svgelements and fontTools, at cusps too."""

from __future__ import annotations

import cmath
import itertools
import math
import random

import numpy as np
import pytest
from fontTools.misc.bezierTools import calcCubicArcLength
from geometry.shapes import any_cubics, cubics, cusp, degenerates, points, reference_length, shares
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import CubicBezier

from cutonce.geometry.arc import _GAUSS, arc_length
from cutonce.geometry.curve import Cubic


def test_nodes_and_weights_are_those_of_gauss() -> None:
    nodes, weights = np.polynomial.legendre.leggauss(12)
    assert sorted(x for x, _ in _GAUSS) == pytest.approx(sorted((nodes + 1) / 2), abs=1e-15)
    assert sum(w for _, w in _GAUSS) == pytest.approx(1.0, abs=1e-15)
    by_node = {round(float(x), 12): float(w) for x, w in zip((nodes + 1) / 2, weights / 2, strict=True)}
    for x, w in _GAUSS:
        assert w == pytest.approx(by_node[round(x, 12)], abs=1e-15)


@settings(max_examples=100, deadline=None)
@given(any_cubics)
def test_length_by_numpy(curve: Cubic) -> None:
    assert curve.length == pytest.approx(reference_length(curve), abs=1e-9, rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.01, 0.99), points, points, st.integers(-13, -1), st.floats(0, 6))
def test_cusps_and_what_comes_near_one(at: float, u: complex, v: complex, power: int, way: float) -> None:
    if abs(u) < 1 or abs(u + v) < 1:
        return
    exact = cusp(at, u, v)
    near = Cubic(exact.a, exact.b + cmath.rect(10.0**power, way), exact.c, exact.d)
    for curve in (exact, near):
        assert curve.length == pytest.approx(reference_length(curve), abs=1e-9, rel=1e-12)


@given(st.lists(st.floats(-400, 400).map(lambda x: round(x, 3)), min_size=4, max_size=4), st.floats(0, 6))
def test_straight_cubic_is_as_long_as_its_ways_there_and_back(x: list[float], way: float) -> None:
    p, q, r = 3 * (x[3] - 3 * x[2] + 3 * x[1] - x[0]), 6 * (x[2] - 2 * x[1] + x[0]), 3 * (x[1] - x[0])
    still = [float(z.real) for z in np.roots([p, q, r]) if abs(z.imag) < 1e-7 and 0 < z.real < 1]
    line = Cubic(*(complex(v) for v in x))
    stops = [line.at(t).real for t in (0.0, *sorted(still), 1.0)]
    wanted = sum(abs(b - a) for a, b in itertools.pairwise(stops))
    assert line.length == pytest.approx(wanted, abs=1e-9)
    w = cmath.rect(1, way)
    assert Cubic(*(w * v for v in x)).length == pytest.approx(wanted, abs=1e-9)


def test_parabola_by_its_closed_form() -> None:
    # y = x^2 / (4 f) from 0 to x: x/2 sqrt(1 + m^2) + f asinh(m), with m = x / (2 f)
    f, x = 30.0, 150.0
    control = complex(x / 2, 0)
    end = complex(x, x * x / (4 * f))
    curve = Cubic(0j, control * 2 / 3, end + (control - end) * 2 / 3, end)
    m = x / (2 * f)
    assert curve.length == pytest.approx(x / 2 * math.sqrt(1 + m * m) + f * math.asinh(m), abs=1e-11)


@given(any_cubics, shares, shares)
def test_lengths_of_stretches_add_up(curve: Cubic, s: float, t: float) -> None:
    low, high = min(s, t), max(s, t)
    b, c, d = curve.b - curve.a, curve.c - curve.b, curve.d - curve.c
    terms = 3 * (b - 2 * c + d), 6 * (c - b), 3 * b
    parts = (arc_length(*terms, 0, low), arc_length(*terms, low, high), arc_length(*terms, high, 1))
    assert sum(parts) == pytest.approx(arc_length(*terms, 0, 1), abs=1e-9)
    assert min(parts) >= 0


def test_length_by_svgelements_and_fonttools() -> None:
    rnd = random.Random(4)
    for _ in range(12):
        p = [complex(rnd.uniform(-200, 200), rnd.uniform(-200, 200)) for _ in range(4)]
        mine = Cubic(*p).length
        assert CubicBezier(*p).length(error=1e-7) == pytest.approx(mine, abs=1e-4)
        pairs = [(z.real, z.imag) for z in p]
        assert calcCubicArcLength(*pairs, tolerance=1e-7) == pytest.approx(mine, abs=1e-4)


@given(cubics)
def test_between_chord_and_control_polygon(curve: Cubic) -> None:
    chord = abs(curve.d - curve.a)
    polygon = abs(curve.b - curve.a) + abs(curve.c - curve.b) + abs(curve.d - curve.c)
    assert chord - 1e-9 <= curve.length <= polygon + 1e-9


@given(degenerates)
def test_backwards_as_long(curve: Cubic) -> None:
    assert curve.reversed().length == pytest.approx(curve.length, abs=1e-9)
