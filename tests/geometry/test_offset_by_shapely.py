"""Parallel curves measured by Shapely on dense points: true distance, shared directions."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely.geometry import Point

from cutonce.geometry import offset, path
from cutonce.geometry.curve import Cubic, Line

bows = st.floats(-60, 60)


@settings(max_examples=30, deadline=None)
@given(bows, bows, st.floats(5, 45), st.sampled_from([1, -1]))
def test_true_distance_everywhere(first: float, second: float, distance: float, side: int) -> None:
    """Curves with bends either way and both ways; where an inside turn is tighter than the distance the
    parallel curve has no meaning, and is left out."""
    curve = Cubic(0j, 100 + 1j * first, 200 + 1j * second, 300 + 0j)
    if any(1 + side * distance * curve.curvature(k / 50) < 0.3 for k in range(51)):
        return
    line = LineString([(curve.at(k / 6000).real, curve.at(k / 6000).imag) for k in range(6001)])
    moved = offset.to_right((curve,), side * distance)
    for part in moved:
        for k in range(1, 10):
            p = part.at(k / 10)
            assert line.distance(Point(p.real, p.imag)) == pytest.approx(distance, abs=0.004)
    assert abs(moved[0].start - (curve.a - 1j * curve.tangent(0) * side * distance)) < 1e-9
    assert abs(moved[-1].tangent(1) - curve.tangent(1)) < 1e-6


def test_length_grows_by_distance_times_turn() -> None:
    """L' = L + d x turn: a quarter of a circle of radius 100 moved 25 mm outward."""
    k = 4 / 3 * math.tan(math.pi / 8)
    quarter = Cubic(100 + 0j, 100 + 100j * k, 100 * k + 100j, 100j)
    moved = offset.to_right((quarter,), 25.0)
    assert path.length(moved) == pytest.approx(quarter.length + 25 * math.pi / 2, abs=0.01)


def test_a_line_moves_to_its_right() -> None:
    assert offset.to_right((Line(0j, 10 + 0j),), 3.0) == (Line(-3j, 10 - 3j),)
