"""Curves made to order: ends, directions, lengths, no folds; splines that pass through their points."""

from __future__ import annotations

import cmath
import itertools
import math

import pytest
from geometry.shapes import angles, motions, points
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutonce.errors import CannotApply
from cutonce.geometry import fit
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.path import length, turn

lean = st.floats(-1.2, 1.2)


@given(points, points, angles, angles, st.floats(0.5, 1.5))
def test_between_has_its_ends_and_directions(
    p: complex, q: complex, u: float, v: float, fullness: float
) -> None:
    assume(abs(q - p) > 0.1)
    start, end = cmath.rect(2.0, u), cmath.rect(0.1, v)
    for make in (fit.between, fit.rounded):
        curve = make(p, start, q, end, fullness)
        assert curve.start == p and curve.end == q
        assert abs(curve.tangent(0) - start / 2) < 1e-9
        assert abs(curve.tangent(1) - end * 10) < 1e-9


@given(st.floats(10, 300), st.floats(0.05, math.pi - 0.05), st.sampled_from([1, -1]))
def test_between_draws_arcs_of_circles(radius: float, angle: float, side: int) -> None:
    end = radius * (math.sin(angle) + side * 1j * (1 - math.cos(angle)))
    curve = fit.between(0j, 1 + 0j, end, cmath.rect(1, side * angle))
    centre = side * 1j * radius
    # the usual approximation: 2.7e-4 of the radius at a quarter turn, growing with its sixth power
    allowed = radius * 3e-4 * max(1e-3, (angle / (math.pi / 2)) ** 6)
    assert max(abs(abs(curve.at(k / 20) - centre) - radius) for k in range(21)) < allowed


@given(st.floats(50, 200), st.floats(50, 200))
def test_rounded_draws_quarters_of_ellipses(width: float, height: float) -> None:
    curve = fit.rounded(complex(width, 0), 1j, complex(0, height), -1 + 0j)
    for k in range(21):
        p = curve.at(k / 20)
        assert math.hypot(p.real / width, p.imag / height) == pytest.approx(1, abs=3e-4)


@given(lean, lean)
def test_rounded_does_not_loop(u: float, v: float) -> None:
    assume(u * v < -0.01)  # turning one way only
    curve = fit.rounded(0j, cmath.rect(1, u), 100 + 0j, cmath.rect(1, v), 2.5)
    assert abs(turn((curve,))) == pytest.approx(abs(v - u), abs=1e-6)


# --- of a given length


@settings(max_examples=150, deadline=None)
@given(points, points, lean, lean, st.floats(1.0, 1.5))
def test_of_length_has_it_or_says_none(p: complex, q: complex, u: float, v: float, more: float) -> None:
    assume(abs(q - p) > 1)
    chord = q - p
    start, end = chord * cmath.rect(1, u), chord * cmath.rect(1, v)
    wanted = abs(chord) * more
    curve = fit.of_length(p, start, q, end, wanted)
    if curve is None:
        return
    assert curve.length == pytest.approx(wanted, abs=1e-9)
    assert curve.start == p and curve.end == q
    assert abs(curve.tangent(0) - start / abs(start)) < 1e-9
    assert abs(curve.tangent(1) - end / abs(end)) < 1e-9
    # it does not fold: it goes forward in the middle, never slower there than a fifth of its mean
    forward = (curve.derivative(0.5) * chord.conjugate()).real / abs(chord)
    assert forward >= 0.299 * abs(chord)


@settings(max_examples=100, deadline=None)
@given(lean, lean, st.floats(0.1, 0.75))
def test_of_length_finds_the_length_of_a_curve_that_there_is(u: float, v: float, handle: float) -> None:
    start, end = cmath.rect(1, u), cmath.rect(1, v)
    given_one = Cubic(0j, 100 * handle * start, 100 - 100 * handle * end, 100 + 0j)
    found = fit.of_length(0j, start, 100 + 0j, end, given_one.length)
    assert found is not None and found.length == pytest.approx(given_one.length, abs=1e-9)


@pytest.mark.parametrize("more", [-1e-11, 0.0, 1e-13, 1e-11])
def test_a_straight_edge_stays_one(more: float) -> None:
    curve = fit.of_length(0j, 1 + 0j, 100 + 0j, 1 + 0j, 100 + more)
    assert curve is not None
    assert all(curve.tangent(k / 10) == pytest.approx(1 + 0j) for k in range(11))


@pytest.mark.parametrize("more", [-1.0, -1e-6, 1e-6, 0.01, 1.0, 40.0])
def test_straight_on_there_is_no_other_length(more: float) -> None:
    assert fit.of_length(0j, 1 + 0j, 100 + 0j, 1 + 0j, 100 + more) is None


def test_shorter_than_the_chord_there_is_none() -> None:
    assert fit.of_length(0j, 1 + 1j, 100 + 0j, 1 - 1j, 99.0) is None


# --- through points


def stops() -> st.SearchStrategy[list[complex]]:
    def apart(at: list[complex]) -> bool:
        return all(abs(b - a) > 1 for a, b in itertools.pairwise(at))

    return st.lists(points, min_size=2, max_size=8).filter(apart)


@settings(deadline=None)
@given(stops(), st.none() | angles, st.none() | angles)
def test_through_points_smoothly(at: list[complex], u: float | None, v: float | None) -> None:
    start = None if u is None else cmath.rect(3, u)
    end = None if v is None else cmath.rect(0.2, v)
    path = fit.through(at, start, end)
    assert [path[0].start, *(c.end for c in path)] == at
    for (one, two), h, k in zip(
        itertools.pairwise(path),
        (abs(b - a) for a, b in itertools.pairwise(at)),
        (abs(b - a) for a, b in itertools.pairwise(at[1:])),
        strict=False,
    ):
        assert isinstance(one, Cubic) and isinstance(two, Cubic)
        assert one.end == two.start
        # by chord length, the first derivative goes on, and so does the second
        assert abs(one.derivative(1) / h - two.derivative(0) / k) < 1e-9
        bend_one = 6 * (one.b - 2 * one.c + one.d) / h**2
        bend_two = 6 * (two.a - 2 * two.b + two.c) / k**2
        assert abs(bend_one - bend_two) < 1e-6
    first, last = path[0], path[-1]
    if start is not None:
        assert abs(first.tangent(0) - start / 3) < 1e-9
    elif isinstance(first, Cubic):
        assert abs(first.a - 2 * first.b + first.c) < 1e-9 * length(path)
    if end is not None:
        assert abs(last.tangent(1) - end * 5) < 1e-9
    elif isinstance(last, Cubic):
        assert abs(last.b - 2 * last.c + last.d) < 1e-9 * length(path)


@given(stops(), motions)
def test_through_moved_points_is_the_moved_path(at: list[complex], motion) -> None:  # type: ignore[no-untyped-def]
    one = [c.moved(motion) for c in fit.through(at)]
    two = fit.through([motion(p) for p in at])
    for a, b in zip(one, two, strict=True):
        assert abs(a.at(0.4) - b.at(0.4)) < 1e-7


def test_through_two_points_and_through_a_circle() -> None:
    assert fit.through([0j, 5j]) == (Line(0j, 5j),)
    around = [100 * cmath.rect(1, k * math.pi / 8) for k in range(9)]
    half = fit.through(around, 1j, -1j)
    assert length(half) == pytest.approx(100 * math.pi, abs=0.02)
    assert max(abs(abs(c.at(k / 10)) - 100) for c in half for k in range(11)) < 0.02


@pytest.mark.parametrize(
    ("at", "code"),
    [
        ([], "too-few-points"),
        ([1j], "too-few-points"),
        ([0j, 0j], "same-point"),
        ([0j, 9j, 9j], "same-point"),
    ],
)
def test_points_that_make_no_line(at: list[complex], code: str) -> None:
    with pytest.raises(CannotApply) as told:
        fit.through(at)
    assert told.value.code == code


def test_easing_ends_without_a_bend() -> None:
    chord, other = 100 + 0j, cmath.rect(1, -0.4)
    direction = fit.easing(chord, other)
    curve = fit.through([0j, chord], None, other)[0]
    assert abs(curve.tangent(0) - direction) < 1e-12
