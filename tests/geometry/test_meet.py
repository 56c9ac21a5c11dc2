"""Meetings with lines, and the nearest place on a path, against dense samples and Shapely."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
import pytest
import shapely
from geometry.shapes import (
    any_cubics,
    as_shapely,
    cubics,
    curves,
    inner_shares,
    lines,
    paths,
    points,
    sampled,
    shares,
)
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic, Curve, Line, as_cubic
from cutonce.geometry.meet import meetings, nearest, on_line
from cutonce.geometry.path import Path, length, point_at
from cutonce.geometry.tolerance import SAME_POINT_MM

# --- a curve and an endless line


@given(curves, points, st.floats(0, math.tau))
def test_every_change_of_sides_is_a_meeting(curve: Curve, p: complex, way: float) -> None:
    direction = cmath.rect(3.0, way)
    height = ((sampled(curve, 500) - p) * direction.conjugate()).imag / 3.0
    found = on_line(curve, p, direction)
    changes = [
        i for i, (h, k) in enumerate(itertools.pairwise(height)) if h * k < 0 and min(abs(h), abs(k)) > 1e-5
    ]
    for i in changes:
        assert any(i / 500 - 1e-9 <= t <= (i + 1) / 500 + 1e-9 for t in found)
    for t in found:
        assert abs(((curve.at(t) - p) * direction.conjugate()).imag / 3.0) <= SAME_POINT_MM


@given(any_cubics, inner_shares)
def test_its_own_tangent_line_touches_a_curve(curve: Cubic, t: float) -> None:
    assume(abs(curve.derivative(t)) > 1)
    found = on_line(curve, curve.at(t), curve.tangent(t))
    if not found:  # it lies on that line
        assert np.abs(((sampled(curve, 50) - curve.a) * curve.tangent(t).conjugate()).imag).max() < 1e-5
        return
    assert min(abs(curve.at(s) - curve.at(t)) for s in found) < 1.0


def test_a_touch_and_two_ends_on_a_line_come_once_each() -> None:
    arch = Cubic(0j, 100 + 100j, 200 + 100j, 300 + 0j)
    assert on_line(arch, 75j, 1) == pytest.approx((0.5,))
    assert on_line(arch, 75j + 5e-7j, 1) == pytest.approx((0.5,))
    assert on_line(arch, 75.001j, 1) == ()
    assert on_line(arch, 0j, 1) == pytest.approx((0.0, 1.0))
    assert on_line(arch, 5e-7j, 1) == pytest.approx((0.0, 1.0), abs=1e-8)


def test_what_lies_on_the_line_meets_it_nowhere() -> None:
    assert on_line(Line(0j, 10 + 0j), 5 + 0j, 1) == ()
    assert on_line(Cubic(0j, 50 + 0j, -20 + 0j, 30 + 0j), 5 + 0j, 1) == ()
    assert meetings(Line(0j, 10 + 0j), Line(5 + 0j, 20 + 0j)) == ()
    assert meetings(Line(0j, 10 + 0j), as_cubic(Line(5 + 0j, 20 + 0j))) == ()


# --- a curve and a line


@settings(deadline=None)
@given(curves, lines)
def test_crossings_of_a_line_by_shapely(curve: Curve, line: Line) -> None:
    found = meetings(curve, line)
    for t, u in found:
        assert abs(curve.at(t) - line.at(u)) < 2 * SAME_POINT_MM
    both = as_shapely(curve).intersection(as_shapely(line, 1))
    for part in getattr(both, "geoms", [both]):
        if isinstance(part, shapely.Point) and not part.is_empty:
            p = complex(part.x, part.y)
            t = curve.at_length(nearest([curve], p)[0])
            angle = abs(cmath.phase(curve.tangent(t) / line.tangent(0))) % math.pi
            if min(angle, math.pi - angle) > 0.05:
                assert min(abs(curve.at(s) - p) for s, _ in found) < 0.05


@given(curves, lines)
def test_line_first_or_last(curve: Curve, line: Line) -> None:
    there = sorted(meetings(curve, line))
    back = sorted((t, u) for u, t in meetings(line, curve))
    assert len(there) == len(back)
    for (t, u), (s, w) in zip(there, back, strict=True):
        assert abs(curve.at(t) - curve.at(s)) < 1e-4 and abs(line.at(u) - line.at(w)) < 1e-4


@given(lines, shares, lines, shares)
def test_two_lines_brought_together_meet_there(one: Line, t: float, two: Line, u: float) -> None:
    by = one.at(t) - two.at(u)
    moved = Line(two.a + by, two.d + by)
    angle = abs(cmath.phase(one.tangent(0) / two.tangent(0))) % math.pi
    assume(0.01 < angle < math.pi - 0.01)
    ((s, w),) = meetings(one, moved)
    assert abs(one.at(s) - one.at(t)) < 1e-5 and abs(moved.at(w) - moved.at(u)) < 1e-5


@given(cubics, points, st.sampled_from([0j, 1e-12 + 0j, 4e-7j]))
def test_a_line_from_a_curves_end(curve: Cubic, far: complex, off: complex) -> None:
    line = Line(curve.d + off, far)
    assume(line.length > 1)
    assume(abs(cmath.phase(-line.tangent(0) / curve.tangent(1))) > 0.05)  # it does not go back the same way
    straight = abs(((curve.b - curve.a) * (curve.d - curve.a).conjugate()).imag) < 1
    assume(not straight)
    found = meetings(curve, line)
    assert any(abs(curve.at(t) - curve.d) < 1e-2 and abs(line.at(u) - line.a) < 1e-2 for t, u in found)


def test_a_line_that_goes_on_where_a_curve_ends_smoothly() -> None:
    curve = Cubic(0j, 30 + 0j, 60 + 20j, 100 + 20j)
    for tilt in (0.0, 1e-16, -1e-16, 1e-12, -1e-12):
        line = Line(curve.d, 150 + 20j + 1j * tilt)
        ((t, u),) = meetings(curve, line)
        assert abs(curve.at(t) - curve.d) < 1e-3 and u < 1e-3


def test_a_line_of_no_length_meets_nothing() -> None:
    assert meetings(Cubic(0j, 10 + 10j, 20 + 10j, 30 + 0j), Line(15 + 7.5j, 15 + 7.5j)) == ()


def test_a_straight_cubic_that_passes_twice() -> None:
    there_and_back = Cubic(0j, 200 + 0j, -100 + 0j, 100 + 0j)  # its x rises, falls and rises again
    bow = Cubic(50 - 50j, 50 - 20j, 50 + 20j, 50 + 50j)
    found = meetings(bow, there_and_back)
    assert len(found) == 3 and all(t == pytest.approx(0.5) for t, _ in found)
    assert len(meetings(there_and_back, bow)) == 3


# --- the nearest place


@settings(deadline=None)
@given(paths(), points)
def test_nearest_against_dense_samples(path: Path, p: complex) -> None:
    s, gap = nearest(path, p)
    assert 0 <= s <= length(path) + 1e-9
    assert abs(point_at(path, s) - p) == pytest.approx(gap, abs=1e-6)
    samples = np.concatenate([sampled(c, 1000) for c in path])
    least = float(np.abs(samples - p).min())
    step = max(float(np.abs(np.diff(sampled(c, 1000))).max()) for c in path)
    assert least - step <= gap <= least + 1e-9


@settings(deadline=None)
@given(any_cubics, points)
def test_nearest_by_shapely(curve: Cubic, p: complex) -> None:
    away = as_shapely(curve, 4000).distance(shapely.Point(p.real, p.imag))
    assert nearest([curve], p)[1] == pytest.approx(away, abs=1e-3)


@given(paths(), shares)
def test_a_place_on_the_path_is_nearest_to_itself(path: Path, share: float) -> None:
    p = point_at(path, share * length(path))
    s, gap = nearest(path, p)
    assert gap < 1e-6
    assert abs(point_at(path, s) - p) < 1e-6


@given(curves, inner_shares, st.floats(0.5, 5))
def test_a_point_beside_the_curve_has_its_foot_there(curve: Curve, t: float, off: float) -> None:
    assume(abs(curve.derivative(t)) > 5 and abs(curve.curvature(t)) < 0.05)
    p = curve.at(t) + 1j * off * curve.tangent(t)
    s, gap = nearest([curve], p)
    assert gap <= off + 1e-9
    if gap > off - 1e-9:  # the place, not how far along it is: the curve may pass there twice
        assert abs(point_at((curve,), s) - curve.at(t)) < 1e-5


def test_first_of_equals() -> None:
    square = (Line(0j, 10 + 0j), Line(10 + 0j, 10 + 10j), Line(10 + 10j, 10j), Line(10j, 0j))
    assert nearest(square, 5 + 5j) == (5.0, 5.0)
    assert nearest((), 0j) == (0.0, math.inf)


@pytest.mark.parametrize("straight", [Line(40 + 70j, 39 + 70j), as_cubic(Line(40 + 70j, 39 + 70j))])
def test_an_end_that_leaves_a_line_along_itself_is_met(straight: Curve) -> None:
    """The curve is nearest to the endless line beyond the line's end; where it begins it is on the end."""
    curve = Cubic(39 + 70.0000003j, 38 + 70j, 40 + 70j, 40 + 72j)
    found = meetings(curve, straight)
    assert any(
        abs(curve.at(t) - curve.a) < 1e-5 and abs(straight.at(u) - straight.d) < 1e-5 for t, u in found
    )
    assert meetings(curve, Line(40 + 75j, 39 + 75j)) == ()


@pytest.mark.parametrize("stops", [(0.0, 40.0, 10.0, 20.0), (0.0, 5.0, 40.0, 20.0), (0.0, 5.0, 9.0, 40.0)])
def test_straight_cubics_anywhere(stops: tuple[float, float, float, float]) -> None:
    """However the control points of a straight cubic lie along it, what crosses it is found."""
    along, start = 0.6 + 0.8j, 500 + 300j
    straight = Cubic(*(start + along * s for s in stops))
    across = Cubic(*(start + along * (6 + z) for z in (-20j, -1 - 5j, 1 + 5j, 20j)))
    found = meetings(across, straight)
    assert len(found) == 1 and abs(across.at(found[0][0]) - (start + along * 6)) < 1e-6
    other = Cubic(*(start + along * s for s in (3.0, 30.0, -10.0, 25.0)))
    assert meetings(straight, straight) == meetings(straight, other) == meetings(other, straight) == ()
