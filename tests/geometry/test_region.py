"""Areas by way of Shapely: crossings, containment, narrow places."""

from __future__ import annotations

import cmath
import math

import pytest
from geometry.shapes import outlines, points
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LinearRing, Polygon
from shapely import Point as ShapelyPoint

from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.meet import nearest
from cutonce.geometry.path import Path
from cutonce.geometry.region import crossing, inside, lost_when_narrower, polygon

SQUARE = paths.polyline((0j, 100 + 0j, 100 + 100j, 100j, 0j))
BOW = paths.polyline((0j, 100 + 0j, 0 + 100j, 100 + 100j, 0j))


@settings(deadline=None)
@given(outlines())
def test_polygon_has_the_area(path: Path) -> None:
    assert polygon(path).area == pytest.approx(paths.area(path), abs=0.02 * paths.length(path))
    assert polygon(path).is_valid


@settings(deadline=None)
@given(outlines())
def test_a_simple_outline_has_no_crossing(path: Path) -> None:
    assert crossing(path) is None


@settings(deadline=None)
@given(outlines(), st.floats(0.2, 0.8))
def test_a_side_thrown_across_the_piece_crosses(path: Path, share: float) -> None:
    first = path[0]
    middle = first.at(share)
    beyond = -3 * middle  # the far side of the origin, outside
    spike = (Line(first.start, beyond), Line(beyond, first.end))
    thrown = (*spike, *path[1:])
    spot = crossing(thrown)
    if spot is None:  # round all the rest: the piece lies on its other face
        assert paths.area(thrown) < 0
        return
    line = [Line(first.start, beyond), Line(beyond, first.end)]
    assert nearest(line, spot)[1] < 0.5


def test_where_it_crosses() -> None:
    assert crossing(SQUARE) is None
    assert crossing(BOW) == pytest.approx(50 + 50j)
    touching = paths.polyline((0j, 100 + 0j, 100 + 100j, 50 + 0j, 100j, 0j))
    assert crossing(touching) == pytest.approx(50 + 0j)
    loop = (Cubic(0j, 300 + 200j, -200 + 200j, 100 + 0j), Line(100 + 0j, 50 - 80j), Line(50 - 80j, 0j))
    assert crossing(loop) is not None


def test_there_and_back_has_no_inside() -> None:
    assert crossing(paths.polyline((0j, 100 + 0j, 0j))) is not None
    assert crossing((Line(0j, 100 + 0j), Cubic(100 + 0j, 70 + 0j, 30 + 0j, 0j))) is not None


@settings(deadline=None)
@given(outlines(), points)
def test_inside_by_shapely(path: Path, p: complex) -> None:
    border = paths.flattened(path)
    area = Polygon([(q.real, q.imag) for q in border])
    spot = ShapelyPoint(p.real, p.imag)
    assume(area.exterior.distance(spot) > 1e-6)
    assert inside(border, p) == area.contains(spot)


def test_inside_at_the_height_of_corners() -> None:
    diamond = (10j, -10 + 0j, -10j, 10 + 0j)
    assert inside(diamond, 0j) and inside(diamond, 9.9 + 0j) and inside(diamond, -9.9 + 0j)
    assert not inside(diamond, 10.1 + 0j) and not inside(diamond, -10.1 + 0j) and not inside(diamond, 5 + 10j)


@given(st.floats(3, 20), st.floats(30, 80))
def test_a_narrow_neck_is_found(width: float, arm: float) -> None:
    w = width / 2
    neck = paths.polyline(
        (
            complex(-arm, -arm),
            complex(-10, -arm),
            complex(-10, -w),
            complex(10, -w),
            complex(10, -arm),
            complex(arm, -arm),
            complex(arm, arm),
            complex(10, arm),
            complex(10, w),
            complex(-10, w),
            complex(-10, arm),
            complex(-arm, arm),
            complex(-arm, -arm),
        )
    )
    assume(abs(width - 8) > 0.2)
    spots = lost_when_narrower(neck, 8.0, 20.0)
    assert any(abs(p.real) < 12 and abs(p.imag) <= w for p in spots) == (width < 8)
    assert LinearRing([(p.real, p.imag) for p in paths.flattened(neck)]).is_simple


def test_a_wide_piece_has_no_narrow_place() -> None:
    round_piece = tuple(
        Line(cmath.rect(100, a), cmath.rect(100, a + math.pi / 12))
        for a in (k * math.pi / 12 for k in range(24))
    )
    assert lost_when_narrower(round_piece, 8.0, 20.0) == ()
    assert lost_when_narrower(BOW, 8.0, 20.0) == ()
