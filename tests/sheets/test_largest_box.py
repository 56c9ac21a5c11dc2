"""The largest rectangle in what is left over: never too large, and near the true one where that is known."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from cutonce.sheets.largest_box import largest_box


def _area(found: tuple[float, float, float, float]) -> float:
    return (found[2] - found[0]) * (found[3] - found[1])


@given(st.lists(st.tuples(st.floats(30, 900), st.floats(0.02, 1.0)), min_size=3, max_size=14))
def test_it_lies_inside_a_star_of_any_shape(spikes: list[tuple[float, float]]) -> None:
    turns = [sum(w for _, w in spikes[: i + 1]) / sum(w for _, w in spikes) for i in range(len(spikes))]
    ring = tuple(r * cmath.exp(2j * math.pi * t) for (r, _), t in zip(spikes, turns, strict=True))
    found = largest_box(ring)
    if found is not None:
        area = Polygon([(p.real, p.imag) for p in ring]).buffer(0)
        assert area.buffer(1e-3).covers(box(*found))


def test_an_l_of_cloth_by_hand() -> None:
    """900 x 300 with 300 x 600 more on top at its left: 900 x 300 is the largest."""
    ring = (0j, 900 + 0j, 900 + 300j, 300 + 300j, 300 + 900j, 900j)
    assert largest_box(ring) is not None
    found = largest_box(ring)
    assert found is not None and _area(found) == pytest.approx(900 * 300, rel=0.06)
    assert _area(found) <= 900 * 300 + 1e-6


def test_a_triangle_holds_half_of_itself() -> None:
    """The largest rectangle on a right triangle's legs has half its area (calculus)."""
    found = largest_box((0j, 800 + 0j, 600j))
    assert found is not None and 0.46 * 240_000 < _area(found) <= 0.5 * 240_000 + 1e-6


def test_nothing_in_a_sliver() -> None:
    assert largest_box((0j, 500 + 500j, 501 + 500j)) is None
    assert largest_box((0j, 500 + 0j)) is None
