"""Lines and cubics: laws of their answers, degenerate curves, and other libraries' answers."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fontTools.misc.bezierTools import splitCubicAtT
from geometry.shapes import (
    any_cubics,
    cubics,
    curves,
    cusp,
    inner_shares,
    lines,
    motions,
    points,
    reference_length,
    sampled,
    shares,
)
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as ShapelyPoint
from svgelements import CubicBezier

from cutonce.geometry.curve import Cubic, Curve, Line, as_cubic
from cutonce.geometry.fit import between
from cutonce.geometry.motion import Motion

STILL = Cubic(3 + 4j, 3 + 4j, 3 + 4j, 3 + 4j)


@given(curves, shares)
def test_points_by_bernstein_sum(curve: Curve, t: float) -> None:
    assert abs(curve.at(0) - curve.start) < 1e-13 and abs(curve.at(1) - curve.end) < 1e-13
    n = 64
    k = round(t * n)
    assert abs(curve.at(k / n) - sampled(curve, n)[k]) < 1e-10


@given(any_cubics, inner_shares)
def test_points_and_derivative_by_svgelements(curve: Cubic, t: float) -> None:
    other = CubicBezier(curve.a, curve.b, curve.c, curve.d)
    there = other.point(t)
    assert abs(complex(there.x, there.y) - curve.at(t)) < 1e-9
    h = 1e-5
    assert abs((curve.at(t + h) - curve.at(t - h)) / (2 * h) - curve.derivative(t)) < 1e-4


@given(curves, inner_shares)
def test_tangent_has_the_direction_of_the_derivative(curve: Curve, t: float) -> None:
    v = curve.derivative(t)
    assume(abs(v) > 1e-3)
    assert abs(curve.tangent(t) - v / abs(v)) < 1e-12


# --- directions where a control point lies on its end: the exact limit


@given(points, points, points)
def test_direction_at_a_still_end_is_that_to_the_next_point(a: complex, c: complex, d: complex) -> None:
    assume(abs(c - a) > 0.1 and abs(d - a) > 0.1 and abs(d - c) > 0.1)
    to_c, to_d, onward = (c - a) / abs(c - a), (d - a) / abs(d - a), (d - c) / abs(d - c)
    one = Cubic(a, a, c, d)
    assert abs(one.tangent(0) - to_c) < 1e-12
    assert abs(one.tangent(1) - onward) < 1e-12
    assert abs(one.reversed().tangent(1) + to_c) < 1e-12
    two = Cubic(a, a, a, d)
    assert abs(two.tangent(0) - to_d) < 1e-12 and abs(two.tangent(1) - to_d) < 1e-12
    three = Cubic(a, d, d, d)
    assert abs(three.tangent(0) - to_d) < 1e-12 and abs(three.tangent(1) - to_d) < 1e-12
    four = Cubic(a, a, d, d)
    assert abs(four.tangent(0) - to_d) < 1e-12 and abs(four.tangent(1) - to_d) < 1e-12


@given(any_cubics)
def test_direction_at_the_ends_is_the_limit_from_inside(curve: Cubic) -> None:
    for end, inside in ((0.0, 1e-7), (1.0, 1 - 1e-7)):
        v = curve.derivative(inside)
        speed = abs(v)
        assume(speed > 1e-5)
        bend = abs(curve.curvature(inside)) * curve.length
        assume(bend < 1e5)
        assert abs(curve.tangent(end) - v / speed) < 1e-2


def test_a_control_point_off_its_end_by_rounding_counts_as_on_it() -> None:
    curve = Cubic(10 + 10j, 10 + 10j + 2e-12j, 60 + 10j, 90 + 70j)
    assert curve.tangent(0) == pytest.approx(1 + 0j)


@given(st.floats(0.1, 0.9), points, points)
def test_direction_at_a_cusp(at: float, u: complex, v: complex) -> None:
    assume(abs(u + v * at) > 1 and abs(at - 0.5) > 0.01)
    curve = cusp(at, u, v)
    assume(abs(curve.derivative(at)) < 1e-10)
    leaving = (u + v * at) / abs(u + v * at)
    assert abs(curve.tangent(at) - (leaving if at < 0.5 else -leaving)) < 1e-6


def test_no_direction_without_length() -> None:
    for curve in (Line(1j, 1j), STILL):
        with pytest.raises(ValueError, match="no direction"):
            curve.tangent(0.5)


def test_curve_of_no_length_answers_all_else() -> None:
    for curve in (Line(3 + 4j, 3 + 4j), STILL):
        assert curve.length == 0 and curve.area == pytest.approx(0)
        assert curve.at(0.3) == pytest.approx(3 + 4j) and curve.at_length(5) in (0.0, 1.0)
        assert curve.length_to(0.7) == 0 and curve.curvature(0.5) == 0
        assert curve.bounds == pytest.approx((3, 4, 3, 4))
        assert list(curve.flattened(0.1))[-1] == 3 + 4j
        assert curve.part(0.2, 0.6).length == pytest.approx(0, abs=1e-12)
        assert curve.reversed().reversed() == curve


# --- curvature


@given(st.floats(20, 300), st.floats(0.2, 1.5), st.sampled_from([1, -1]))
def test_curvature_of_an_arc(radius: float, turn: float, side: int) -> None:
    end = radius * (math.sin(turn) + side * 1j * (1 - math.cos(turn)))
    arc = between(0j, 1 + 0j, end, cmath.rect(1, side * turn))
    for t in (0.0, 0.3, 0.5, 1.0):
        assert arc.curvature(t) == pytest.approx(side / radius, rel=0.02)


@given(cubics, inner_shares)
def test_curvature_is_turn_over_length(curve: Cubic, t: float) -> None:
    h = 1e-5
    assume(abs(curve.derivative(t)) > 20 and abs(curve.curvature(t)) < 1)
    turn = cmath.phase(curve.tangent(t + h) / curve.tangent(t - h))
    run = curve.length_to(t + h) - curve.length_to(t - h)
    assert turn / run == pytest.approx(curve.curvature(t), abs=1e-4, rel=1e-4)


# --- lengths and places by length


@given(curves, inner_shares)
def test_lengths_of_the_parts_add_up(curve: Curve, t: float) -> None:
    near, far = curve.part(0, t), curve.part(t, 1)
    assert near.length + far.length == pytest.approx(curve.length, abs=1e-9)
    assert near.start == curve.start and far.end == curve.end and near.end == far.start
    assert curve.length_to(t) == pytest.approx(near.length, abs=1e-9)


@settings(deadline=None)
@given(curves, shares)
@example(Cubic(0j, 0j, 0j, 100 + 0j), 1e-9)
@example(cusp(0.5, 100 + 0j, 30j), 0.5)
def test_place_at_a_length_lies_at_that_length(curve: Curve, share: float) -> None:
    s = share * curve.length
    assert curve.length_to(curve.at_length(s)) == pytest.approx(s, abs=2e-10)


@given(curves, inner_shares)
def test_length_to_a_place_leads_back_to_it(curve: Curve, t: float) -> None:
    back = curve.at_length(curve.length_to(t))
    assert abs(curve.at(back) - curve.at(t)) < 1e-8


@given(curves, st.floats(0.001, 500))
def test_places_are_held_within_the_curve(curve: Curve, beyond: float) -> None:
    assert curve.at_length(-beyond) == 0.0
    assert curve.at_length(curve.length + beyond) == 1.0


# --- motions, reversing, areas


@given(curves, motions)
def test_motion_keeps_length_and_moves_every_point(curve: Curve, motion: Motion) -> None:
    moved = curve.moved(motion)
    assert moved.length == pytest.approx(curve.length, abs=1e-9)
    for t in (0.0, 0.4, 1.0):
        assert abs(moved.at(t) - motion(curve.at(t))) < 1e-9


@given(cubics, motions, inner_shares)
def test_motion_turns_directions_and_a_mirror_turns_bends(curve: Cubic, motion: Motion, t: float) -> None:
    assume(abs(curve.derivative(t)) > 1 and abs(curve.curvature(t)) < 1)
    moved = curve.moved(motion)
    assert abs(moved.tangent(t) - motion.of_vector(curve.tangent(t))) < 1e-9
    sign = -1 if motion.mirror else 1
    assert moved.curvature(t) == pytest.approx(sign * curve.curvature(t), abs=1e-8)


@given(curves)
def test_reversed_twice_is_the_same(curve: Curve) -> None:
    assert curve.reversed().reversed() == curve
    assert curve.reversed().area == pytest.approx(-curve.area, abs=1e-7)
    assert abs(curve.reversed().at(0.3) - curve.at(0.7)) < 1e-10


@given(curves)
def test_area_is_the_integral_of_x_dy_less_y_dx(curve: Curve) -> None:
    x, w = np.polynomial.legendre.leggauss(6)  # exact to degree eleven
    t = (x + 1) / 2
    z = np.array([curve.at(float(s)) for s in t])
    v = np.array([curve.derivative(float(s)) for s in t])
    wanted = float(((z.conjugate() * v).imag * w).sum()) / 4
    assert curve.area == pytest.approx(wanted, abs=1e-6, rel=1e-11)


# --- parts, bounds, flattening


@given(any_cubics, inner_shares, inner_shares, shares)
def test_part_is_the_same_curve(curve: Cubic, s: float, t: float, share: float) -> None:
    low, high = min(s, t), max(s, t)
    part = curve.part(low, high)
    assert abs(part.at(share) - curve.at(low + share * (high - low))) < 1e-9


@given(any_cubics, inner_shares)
def test_part_by_fonttools(curve: Cubic, t: float) -> None:
    pairs = [(p.real, p.imag) for p in (curve.a, curve.b, curve.c, curve.d)]
    for mine, other in zip((curve.part(0, t), curve.part(t, 1)), splitCubicAtT(*pairs, t), strict=True):
        for p, (x, y) in zip((mine.a, mine.b, mine.c, mine.d), other, strict=True):
            assert abs(p - complex(x, y)) < 1e-9


@given(lines, shares, shares)
def test_part_of_a_line(line: Line, s: float, t: float) -> None:
    part = line.part(min(s, t), max(s, t))
    assert part.length == pytest.approx(abs(t - s) * line.length, abs=1e-10)


@given(curves)
def test_bounds_hold_the_curve_and_are_reached(curve: Curve) -> None:
    z = sampled(curve, 2000)
    x0, y0, x1, y1 = curve.bounds
    for least, greatest, values in ((x0, x1, z.real), (y0, y1, z.imag)):
        assert least <= values.min() + 1e-9 and values.max() - 1e-9 <= greatest
        # between samples a coordinate peaks by no more than the second derivative allows
        assert values.min() - least < 2e-3 and greatest - values.max() < 2e-3


@settings(max_examples=60, deadline=None)
@given(curves, st.sampled_from([0.005, 0.02, 0.5, 5.0]))
def test_flattened_within_the_tolerance(curve: Curve, tolerance: float) -> None:
    chain = [curve.start, *curve.flattened(tolerance)]
    assert chain[-1] == curve.end
    line = LineString([(p.real, p.imag) for p in chain])
    off = max(line.distance(ShapelyPoint(z.real, z.imag)) for z in sampled(curve, 300))
    assert off <= tolerance + 1e-9


def test_flattening_takes_no_more_chords_than_it_needs() -> None:
    # of a quarter circle of 100 mm: chord error r (1 - cos(half step)); at 0.02 mm that is 39.3 chords
    quarter = between(100 + 0j, 1j, 100j, -1 + 0j)
    assert 38 <= len(list(quarter.flattened(0.02))) <= 50
    assert list(Line(0j, 9j).flattened(0.02)) == [9j]


@given(curves, shares)
def test_as_cubic_is_the_same_curve(curve: Curve, t: float) -> None:
    cubic = as_cubic(curve)
    assert abs(cubic.at(t) - curve.at(t)) < 1e-10
    assert cubic.length == pytest.approx(reference_length(curve), abs=1e-9)
    assert cubic.area == pytest.approx(curve.area, abs=1e-6)
