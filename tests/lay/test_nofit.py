"""No-fit polygons against Shapely, and against Clipper's own sums of outlines."""

from __future__ import annotations

import math

import pyclipper
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lay.problems import rectangle, rings
from shapely import Point, Polygon, box
from shapely.affinity import translate

from cutonce.lay.nofit import no_fit
from cutonce.lay.problem import Ring


def ring_of(corners: str) -> Ring:
    return tuple(complex(*map(float, corner.split(","))) for corner in corners.split())


COMB = ring_of("0,0 90,0 90,60 70,60 70,20 50,20 50,60 40,60 40,20 20,20 20,60 0,60")
FRAME = ring_of("0,0 100,0 100,100 51,100 51,80 80,80 80,20 20,20 20,80 49,80 49,100 0,100")


def polygon(ring: Ring) -> Polygon:
    return Polygon([(p.real, p.imag) for p in ring])


def region(found: tuple[Ring, ...]) -> Polygon:
    """The rings as an area; holes are clockwise."""
    whole = Polygon()
    for ring in sorted(found, key=lambda ring: -abs(polygon(ring).area)):
        part = polygon(ring).buffer(0)
        whole = whole.union(part) if polygon(ring).exterior.is_ccw else whole.difference(part)
    return whole


OUTLINES = st.one_of(rings(), st.just(COMB), st.just(tuple(1j * p for p in COMB)), st.just(rectangle(30, 12)))


@given(OUTLINES, OUTLINES, st.floats(-250, 250), st.floats(-250, 250))
def test_a_position_is_in_it_just_where_the_two_overlap(a: Ring, b: Ring, x: float, y: float) -> None:
    within = region(no_fit(a, b))
    if within.boundary.distance(Point(x, y)) > 1e-3:
        common = polygon(a).intersection(translate(polygon(b), x, y)).area
        assert within.contains(Point(x, y)) == (common > 0)


@given(OUTLINES, OUTLINES)
def test_it_is_what_clipper_adds_up_edge_by_edge(a: Ring, b: Ring) -> None:
    """Every edge of one swept along every edge of the other."""
    swept = pyclipper.MinkowskiSum(
        [(round(-1e4 * p.real), round(-1e4 * p.imag)) for p in b],
        [(round(1e4 * p.real), round(1e4 * p.imag)) for p in a],
        True,
    )
    outer = max(swept, key=lambda ring: abs(pyclipper.Area(ring)))
    found = no_fit(a, b)
    largest = max(found, key=lambda ring: polygon(ring).area)
    assert polygon(largest).area == pytest.approx(abs(pyclipper.Area(outer)) / 1e8, rel=1e-5)


@given(OUTLINES, OUTLINES)
def test_it_is_the_other_ones_turned_half_round(a: Ring, b: Ring) -> None:
    one, other = region(no_fit(a, b)), region(tuple(tuple(-p for p in ring) for ring in no_fit(b, a)))
    assert one.symmetric_difference(other).area < 1e-6 * one.area


def test_a_place_within_a_bay_is_a_hole() -> None:
    found = no_fit(FRAME, rectangle(30, 30))
    assert len(found) == 2
    (hole,) = [ring for ring in found if not polygon(ring).exterior.is_ccw]
    assert polygon(hole).symmetric_difference(box(20, 20, 50, 50)).area < 1e-3


def test_spacing_keeps_away() -> None:
    (ring,) = no_fit(rectangle(50, 40), rectangle(20, 10), spacing=3.0)
    assert polygon(ring).bounds == pytest.approx((-23, -13, 53, 43), abs=1e-3)


def test_repeated_points_and_a_clockwise_ring_do_not_matter() -> None:
    square = rectangle(10, 10)
    twice = tuple(p for p in square for _ in range(2))
    for other in (twice, square[::-1], (*square, square[0])):
        assert region(no_fit(other, square)).symmetric_difference(box(-10, -10, 10, 10)).area < 1e-3


def test_two_outlines_of_many_corners_have_few_edges_to_add_up() -> None:
    """Else a garment takes minutes; the sum of all edges with all edges had 40000."""
    from cutonce.lay.nofit import _convolution, _whole

    wavy = tuple(
        (100 + 10 * math.sin(5 * t)) * complex(math.cos(t), math.sin(t))
        for t in (math.tau * k / 200 for k in range(200))
    )
    trails = _convolution(_whole(wavy, 1e6), _whole(wavy, -1e6))
    assert sum(len(trail) for trail in trails) < 2000
