"""Paths: lengths, parts, areas by Shapely and fontTools, SVG data read back by svgelements."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import svgelements
from fontTools.pens.areaPen import AreaPen
from geometry.shapes import (
    any_cubics,
    cubics,
    motions,
    outlines,
    paths,
    points,
    reference_length,
    sampled,
    shares,
    total_turn,
)
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint

from cutonce.geometry import path as paths_
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.motion import Motion
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM

SQUARE = paths_.polyline((0j, 10 + 0j, 10 + 10j, 10j, 0j))


@settings(deadline=None)
@given(paths())
def test_length_is_that_of_its_curves(path: Path) -> None:
    assert paths_.length(path) == pytest.approx(sum(reference_length(c) for c in path), abs=1e-8)


@given(paths(), shares, shares)
def test_parts_add_up_and_join(path: Path, one: float, two: float) -> None:
    total = paths_.length(path)
    s0, s1 = sorted((one * total, two * total))
    stretches = [paths_.part(path, a, b) for a, b in ((0.0, s0), (s0, s1), (s1, total))]
    slivers = 6 * SAME_POINT_MM  # below a point's size left out at each cut
    assert sum(map(paths_.length, stretches)) == pytest.approx(total, abs=slivers)
    whole = [c for stretch in stretches for c in stretch]
    for a, b in itertools.pairwise(whole):
        assert abs(a.end - b.start) < 2 * SAME_POINT_MM


@given(paths(), st.floats(0.1, 0.9))
def test_cut_within_a_curve_is_exact(path: Path, share: float) -> None:
    total = paths_.length(path)
    s = share * total
    stops = list(itertools.accumulate(c.length for c in path))
    assume(min(abs(s - stop) for stop in stops) > 1e-3 and s > 1e-3)
    near, far = paths_.part(path, 0, s), paths_.part(path, s, total)
    assert paths_.length(near) + paths_.length(far) == pytest.approx(total, abs=1e-9)
    assert paths_.length(near) == pytest.approx(s, abs=1e-9)
    assert near[-1].end == far[0].start
    assert abs(near[-1].end - paths_.point_at(path, s)) < 1e-9


def test_part_keeps_whole_curves_as_they_are() -> None:
    path = (Line(0j, 10 + 0j), Cubic(10 + 0j, 20 + 0j, 30 + 10j, 40 + 10j))
    assert paths_.part(path, 0, paths_.length(path)) == path
    assert paths_.part(path, 10 - 1e-8, paths_.length(path)) == path[1:]
    assert paths_.part(path, 4, 4) == ()
    assert paths_.part((), 0, 1) == ()


@given(paths(), shares)
def test_places_and_directions_by_length(path: Path, share: float) -> None:
    s = share * paths_.length(path)
    i, t = paths_.find(path, s)
    before = sum(c.length for c in path[:i])
    assert before + path[i].length_to(t) == pytest.approx(s, abs=1e-9)
    assert paths_.point_at(path, s) == path[i].at(t)
    if abs(path[i].derivative(t)) > 1e-6:
        assert paths_.tangent_at(path, s) == path[i].tangent(t)


def test_places_are_held_within_the_path() -> None:
    assert paths_.find(SQUARE, -5) == (0, 0.0)
    assert paths_.find(SQUARE, 400) == (3, 1.0)
    with pytest.raises(ValueError, match="empty"):
        paths_.find((), 1)


@given(paths(), motions)
def test_reversing_and_moving(path: Path, motion: Motion) -> None:
    back = paths_.reversed_path(path)
    assert paths_.reversed_path(back) == path
    assert back[0].start == path[-1].end
    assert paths_.length(back) == pytest.approx(paths_.length(path), abs=1e-9)
    assert paths_.length(paths_.moved(path, motion)) == pytest.approx(paths_.length(path), abs=1e-9)


# --- areas


@settings(max_examples=50, deadline=None)
@given(outlines())
def test_area_by_shapely(path: Path) -> None:
    z = np.concatenate([sampled(c, 4000)[:-1] for c in path])
    other = Polygon(np.column_stack([z.real, z.imag]))
    assert other.is_valid
    # chords of L/4000 leave out at most bend x chord^3 / 12 each: within 1e-2 mm2 here
    assert paths_.area(path) == pytest.approx(other.area, abs=2e-2)
    assert paths_.area(path) > 0


@given(outlines())
def test_area_by_fonttools(path: Path) -> None:
    pen = AreaPen()
    pen.moveTo((path[0].a.real, path[0].a.imag))
    for curve in path:
        if isinstance(curve, Line):
            pen.lineTo((curve.d.real, curve.d.imag))
        else:
            pen.curveTo(*((p.real, p.imag) for p in (curve.b, curve.c, curve.d)))
    pen.closePath()
    assert paths_.area(path) == pytest.approx(pen.value, rel=1e-12)


@given(outlines(), motions)
def test_area_under_motions_and_backwards(path: Path, motion: Motion) -> None:
    area = paths_.area(path)
    sign = -1 if motion.mirror else 1
    assert paths_.area(paths_.moved(path, motion)) == pytest.approx(sign * area, rel=1e-9)
    assert paths_.area(paths_.reversed_path(path)) == pytest.approx(-area, rel=1e-12)


@given(outlines(), shares)
def test_splitting_keeps_the_area(path: Path, share: float) -> None:
    total = paths_.length(path)
    cut = (*paths_.part(path, 0, share * total), *paths_.part(path, share * total, total))
    assert paths_.area(cut) == pytest.approx(paths_.area(path), rel=1e-6 / 150)


# --- turns


@settings(deadline=None)
@given(cubics)
def test_turn_against_small_steps(curve: Cubic) -> None:
    assume(min(abs(curve.derivative(k / 200)) for k in range(201)) > 5)
    assert paths_.turn((curve,)) == pytest.approx(total_turn(curve, 2000), abs=1e-6)


@given(any_cubics)
def test_turn_backwards_is_the_same_the_other_way(curve: Cubic) -> None:
    assume(min(abs(curve.derivative(k / 50)) for k in range(51)) > 5)
    there = paths_.turn((curve,))
    assume(abs(abs(there) - math.pi) > 1e-9)  # a straight one that doubles back may turn either way
    assert paths_.turn((curve.reversed(),)) == pytest.approx(-there, abs=1e-9)


def test_turn_of_a_loop_and_of_what_has_none() -> None:
    loop = Cubic(0j, 300 + 200j, -200 + 200j, 100 + 0j)
    assert paths_.turn((loop,)) == pytest.approx(total_turn(loop), abs=1e-9)
    assert paths_.turn((loop,)) > 3.5
    assert paths_.turn((Cubic(0j, 0j, 9j, 9j), Line(9j, 5 + 0j), Cubic(1j, 1j, 1j, 1j))) == 0


# --- points, boxes, ends


@settings(max_examples=50, deadline=None)
@given(paths(), st.sampled_from([0.02, 1.0]))
def test_flattened_within_the_tolerance(path: Path, tolerance: float) -> None:
    chain = paths_.flattened(path, tolerance)
    assert chain[0] == path[0].start and chain[-1] == path[-1].end
    line = LineString([(p.real, p.imag) for p in chain])
    for curve in path:
        assert max(line.distance(ShapelyPoint(z.real, z.imag)) for z in sampled(curve, 60)) < tolerance + 1e-9
    assert paths_.flattened(()) == ()


@given(paths())
def test_bounds_hold_all(path: Path) -> None:
    x0, y0, x1, y1 = paths_.bounds(path)
    for curve in path:
        z = sampled(curve, 100)
        assert x0 - 1e-9 <= z.real.min() and z.real.max() <= x1 + 1e-9
        assert y0 - 1e-9 <= z.imag.min() and z.imag.max() <= y1 + 1e-9


def test_polyline() -> None:
    assert paths_.polyline((0j, 1j, 2 + 1j)) == (Line(0j, 1j), Line(1j, 2 + 1j))
    assert paths_.polyline((0j,)) == ()


def test_ends_set_exactly() -> None:
    curve = Cubic(1e-9j, 10j, 20 + 10j, 30 + 0j)
    assert paths_.starting_at(curve, 0j).start == 0j and paths_.starting_at(curve, 1j) == curve
    assert paths_.ending_at(curve, 30 + 1e-9j).end == 30 + 1e-9j and paths_.ending_at(curve, 31 + 0j) == curve


@given(any_cubics, st.complex_numbers(max_magnitude=5))
def test_ends_moved_keep_the_direction(curve: Cubic, by: complex) -> None:
    moved = paths_.with_start(curve, curve.a + by)
    assert moved.start == curve.a + by and moved.end == curve.end
    assert abs(moved.derivative(0) - curve.derivative(0)) < 1e-9
    other = paths_.with_end(curve, curve.d + by)
    assert other.end == curve.d + by and other.start == curve.start
    assert abs(other.derivative(1) - curve.derivative(1)) < 1e-9


# --- SVG


@settings(deadline=None)
@given(paths())
def test_svg_read_back_by_svgelements(path: Path) -> None:
    read = svgelements.Path(paths_.svg_data(path))
    drawn = [s for s in read if not isinstance(s, svgelements.Move)]
    assert len(drawn) == len(path)
    for mine, other in zip(path, drawn, strict=True):
        for t in (0.0, 0.3, 0.8, 1.0):
            p = other.point(t)
            assert abs(complex(p.x, -p.y) - mine.at(t)) < 5e-6


@settings(max_examples=10, deadline=None)
@given(outlines())
def test_svg_lengths_and_area_by_svgelements(path: Path) -> None:
    read = svgelements.Path(paths_.svg_data(path, closed=True))
    lengths = [s.length(error=1e-6) for s in read if not isinstance(s, svgelements.Move)]
    assert sum(lengths) == pytest.approx(paths_.length(path), abs=1e-3)


def test_svg_words() -> None:
    path = (Line(0j, 10 + 5j), Line(20 + 5j, 30 + 0j), Cubic(30 + 0j, 31j, -1 / 3 + 2j, 1e3 + 1e-9j))
    assert paths_.svg_data(path) == ("M0,0 L10,-5 M20,-5 L30,0 C0,-31 -0.333333333,-2 1000,-1e-09")
    assert paths_.svg_data(SQUARE, closed=True) == "M0,0 L10,0 L10,-10 L0,-10 L0,0 Z"
    assert paths_.svg_data(()) == ""


@given(points)
def test_svg_numbers_are_read_back_to_a_millionth(p: complex) -> None:
    read = svgelements.Path(paths_.svg_data((Line(p, p + 1),)))
    start = read.first_point
    assert abs(complex(start.x, -start.y) - p) < 1e-6
