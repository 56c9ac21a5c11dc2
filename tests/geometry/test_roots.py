"""Zeros of cubics: made from known zeros, they are all found again."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic
from cutonce.geometry.meet import on_line
from cutonce.geometry.roots import zeros


def _bernstein(p: float, q: float, r: float, s: float) -> tuple[float, float, float, float]:
    """Coefficients of p t^3 + q t^2 + r t + s on the unit interval."""
    return s, s + r / 3, s + (2 * r + q) / 3, p + q + r + s


def _from_zeros(scale: float, one: float, two: float, three: float) -> tuple[float, float, float, float]:
    return _bernstein(
        scale,
        -scale * (one + two + three),
        scale * (one * two + two * three + three * one),
        -scale * one * two * three,
    )


_unit = st.floats(0, 1).map(lambda t: round(t, 4))


@settings(max_examples=200)
@given(_unit, _unit, _unit, st.sampled_from([1.0, -40.0, 3e4]))
def test_known_zeros_are_found(one: float, two: float, three: float, scale: float) -> None:
    wanted = sorted((one, two, three))
    if min(wanted[1] - wanted[0], wanted[2] - wanted[1]) < 1e-3:
        return
    assert zeros(*_from_zeros(scale, *wanted)) == pytest.approx(tuple(wanted), abs=1e-9)


@given(_unit, st.floats(-3, 3).filter(lambda t: not -0.01 < t < 1.01))
def test_touching_place_counts_once(double: float, far: float) -> None:
    found = zeros(*_from_zeros(100.0, double, double, far))
    assert found and max(abs(t - double) for t in found) < 1e-5
    assert len(found) <= 2  # rounding may turn a touch into two meetings next to each other


def test_near_zeros_that_a_general_solver_runs_together() -> None:
    assert zeros(0, 0, 0.5, -22) == pytest.approx((0.0, 1.5 / 23.5))
    curve = Cubic(0j, 0j, 0.5j, 1 - 22j)
    assert on_line(curve, 0j, 1) == pytest.approx((0.0, 1.5 / 23.5))


def test_triple_zero_and_lower_degrees() -> None:
    assert zeros(*_from_zeros(5.0, 0.25, 0.25, 0.25)) == pytest.approx((0.25,), abs=1e-4)
    assert zeros(*_bernstein(0, 0, 2.0, -1.0)) == pytest.approx((0.5,))
    assert zeros(*_bernstein(0, 1.0, -1.0, 0.21)) == pytest.approx((0.3, 0.7))
    assert zeros(1, 1, 1, 1) == () == zeros(0, 0, 0, 0) == zeros(1, 2, 3, 0.5)


def test_end_that_lies_on_the_line_within_rounding_is_met() -> None:
    for off in (-1e-13, 1e-13):
        assert zeros(off, 1, 2, 3) == pytest.approx((0.0,), abs=1e-12)
        assert zeros(3, 2, 1, off) == pytest.approx((1.0,), abs=1e-12)
    assert zeros(1e-4, 1, 2, 3) == ()


@settings(max_examples=200)
@given(*[st.floats(-400, 400)] * 4)
def test_every_change_of_sign_has_a_zero(a: float, b: float, c: float, d: float) -> None:
    found = zeros(a, b, c, d)
    curve = Cubic(a * 1j, b * 1j, c * 1j, d * 1j)
    size = max(abs(a), abs(b), abs(c), abs(d))
    assert all(abs(curve.at(t).imag) <= 1e-8 * size for t in found)
    steps = [i / 50 for i in range(51)]
    for low, high in pairwise(steps):
        below, above = curve.at(low).imag, curve.at(high).imag
        if below * above < 0 and min(abs(below), abs(above)) > 1e-9 * size:
            assert any(low - 1e-9 <= t <= high + 1e-9 for t in found)
