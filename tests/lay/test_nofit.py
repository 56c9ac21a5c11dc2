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
BACK = ring_of(
    "474.66016,73.80727 520.35254,87.60842 563.28204,106.44614 609.31044,130.20632 "
    "609.31044,130.20631 664.89004,163.13033 664.89004,163.22454 649.41844,196.7481 "
    "640.57524,243.1254 636.42046,312.14442 636.03793,385.11019 0.0004,385.11019 0.0004,288.23618 "
    "2.27021,230.44058 9.02322,152.99195 34.71815,0.0004 34.8942,0.0004"
)
FACING = ring_of(
    "84.87684,28.33238 84.87684,28.4132 76.0653,44.06998 69.40523,61.95015 61.95728,97.56125 "
    "59.40237,119.42028 57.13509,153.92131 56.26619,185.13126 56.02469,250.31223 0.0004,250.31223 "
    "0.0004,164.69712 4.42086,99.01212 12.61481,54.72059 23.26041,23.03708 36.33521,0.0004 "
    "37.04037,0.0004"
)


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


@given(OUTLINES)
def test_parallel_edges_leave_no_slits_to_lie_in(a: Ring) -> None:
    """A ring beside itself, turned half round and turned over, set in by a hair: every hole is a place."""
    for b in (a, tuple(-p for p in a), tuple(-p.conjugate() for p in a[::-1])):
        for one, other in ((a, b), (set_in(a), set_in(b))):
            for ring in no_fit(one, other):
                at = polygon(ring).representative_point()
                common = polygon(one).intersection(translate(polygon(other), at.x, at.y)).area
                assert (common > 1e-6) == polygon(ring).exterior.is_ccw


def set_in(ring: Ring) -> Ring:
    return tuple(complex(*p) for p in polygon(ring).buffer(-0.0004, join_style="mitre").exterior.coords[:-1])


def test_outlines_of_a_garment_leave_no_slits_to_lie_in() -> None:
    """A skirt back and its facing, thinned: Clipper leaves slits a ten-millionth of a millimetre wide."""
    for one in (BACK, FACING):
        for other in (BACK, FACING):
            assert all(polygon(ring).exterior.is_ccw for ring in no_fit(one, other))


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
