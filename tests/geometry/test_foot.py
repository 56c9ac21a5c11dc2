"""The foot of a point on a curve: never a local one, in hard cases too."""

from __future__ import annotations

import numpy as np
import pytest
from geometry.shapes import any_cubics, cusp, points, sampled, shares
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.foot import foot


@settings(max_examples=200, deadline=None)
@given(any_cubics, points)
def test_nothing_sampled_is_nearer(curve: Cubic, p: complex) -> None:
    gap = abs(curve.at(foot(curve, p)) - p)
    assert gap <= float(np.abs(sampled(curve, 3000) - p).min()) + 1e-9


@given(any_cubics, points)
def test_the_way_to_it_is_square_to_the_curve_or_it_is_an_end(curve: Cubic, p: complex) -> None:
    t = foot(curve, p)
    if 0 < t < 1:
        lean = ((curve.at(t) - p) * curve.derivative(t).conjugate()).real
        assert abs(lean) < 1e-5 * max(1.0, abs(curve.at(t) - p)) * max(1.0, curve.length)


@given(any_cubics, shares)
def test_a_point_on_the_curve(curve: Cubic, t: float) -> None:
    p = curve.at(t)
    assert abs(curve.at(foot(curve, p)) - p) < 1e-6


@pytest.mark.parametrize("still", [Cubic(0j, 0j, 90j, 100 + 90j), Cubic(100 + 90j, 90j, 0j, 0j)])
def test_curves_that_stand_still_at_an_end(still: Cubic) -> None:
    # the slope of the distance is zero there too, which is no reason to stop
    for t in np.linspace(0, 1, 21):
        p = still.at(float(t))
        assert abs(still.at(foot(still, p)) - p) < 1e-9


@given(st.floats(0.1, 0.9), st.floats(0.1, 20))
def test_the_tip_of_a_cusp(at: float, off: float) -> None:
    u, v = 90 + 20j, 40 - 80j
    curve = cusp(at, u, v)
    leaving = (u + v * at) / abs(u + v * at)
    beyond = curve.at(at) - off * leaving
    assert abs(curve.at(foot(curve, beyond)) - beyond) == pytest.approx(off, abs=1e-9)


def test_lines_and_points() -> None:
    assert foot(Line(0j, 10 + 0j), 3 + 4j) == pytest.approx(0.3)
    assert foot(Line(0j, 10 + 0j), -3 + 4j) == 0.0
    assert foot(Line(0j, 10 + 0j), 13 + 4j) == 1.0
    assert foot(Line(5j, 5j), 3 + 4j) == 0.0
    assert foot(Cubic(5j, 5j, 5j, 5j), 3 + 4j) == 0.0


def test_the_first_of_two_ends_as_near() -> None:
    arch = Cubic(100 + 0j, 100 + 400j / 3, -100 + 400j / 3, -100 + 0j)
    assert foot(arch, -50j) == 0.0
    assert foot(arch.reversed(), -50j) == 0.0
    assert foot(arch, 99j) == pytest.approx(0.5)
