"""Halves of a circle, an ellipse and a teardrop, on straight and bent edges, against plain arithmetic."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.path import Path
from cutonce.reshape.blend import corners
from cutonce.reshape.cut_out_shapes import Bed, half_drop, half_round

ANGLES = st.floats(-3.0, 3.0)


def straight(size: float, share: float = 0.5, turn: float = 0.0, at: complex = 0j) -> Bed:
    """An upright edge, the piece to its left, turned about its start."""
    w = cmath.exp(1j * turn)
    return Bed(at, 1j * w, at + 1j * w * size * share, at + 1j * w * size, 1j * w)


def bent(one: float, two: float, angle: float) -> Bed:
    """Two straight legs that meet at the centre, with so much angle within the piece."""
    out = cmath.exp(1j * (math.pi / 2 + (math.pi - angle)))  # from the centre to the end
    return Bed(-1j * one, 1j, 0j, two * out, out)


def leaves_square(line: Path, bed: Bed) -> None:
    assert (line[0].tangent(0) / (1j * bed.along_start)).real == pytest.approx(1, abs=1e-12)
    assert (line[-1].tangent(1) / (-1j * bed.along_end)).real == pytest.approx(1, abs=1e-12)


@settings(max_examples=50, deadline=None)
@given(r=st.floats(5, 150), turn=ANGLES)
def test_half_a_circle_on_a_straight_edge(r: float, turn: float) -> None:
    bed = straight(2 * r, turn=turn)
    line = half_round(bed, r)
    assert path.length(line) == pytest.approx(math.pi * r, rel=1e-5)
    assert abs(path.area((*line, *path.polyline([bed.end, bed.start])))) == pytest.approx(
        math.pi * r * r / 2, rel=1e-5
    )
    for s in range(21):
        off = abs(path.point_at(line, path.length(line) * s / 20) - bed.centre)
        assert off == pytest.approx(r, rel=5e-6)
    leaves_square(line, bed)
    assert corners(line) < 1e-9


@settings(max_examples=50, deadline=None)
@given(width=st.floats(20, 200), height=st.floats(20, 200), turn=ANGLES)
def test_half_an_ellipse_lies_on_the_ellipse(width: float, height: float, turn: float) -> None:
    bed = straight(height, turn=turn)
    line = half_round(bed, width / 2)
    for curve in line:
        for k in range(9):
            z = (curve.at(k / 8) - bed.centre) / bed.along_start
            on = (z.imag / (width / 2)) ** 2 + (z.real / (height / 2)) ** 2
            assert on == pytest.approx(1, abs=2e-5)
    leaves_square(line, bed)


@settings(max_examples=60, deadline=None)
@given(r=st.floats(10, 100), angle=st.floats(math.radians(150), math.radians(225)))
def test_about_a_corner_the_arc_is_the_radius_times_the_angle(r: float, angle: float) -> None:
    bed = bent(r, r, angle)
    assert bed.angle == pytest.approx(angle, abs=1e-12)
    line = half_round(bed, r)
    assert path.length(line) == pytest.approx(r * angle, rel=2e-5)
    leaves_square(line, bed)
    assert corners(line) < 1e-9


def test_at_a_nipped_waist_each_arc_is_15_to_19_per_cent_more() -> None:
    """Arithmetic: r times the angle within the piece is that much above pi r where the seam bends by 27 to 34
    degrees at the waist."""
    for degrees, more in ((207, 0.15), (214.2, 0.19)):
        line = half_round(bent(50, 50, math.radians(degrees)), 50)
        assert path.length(line) / (math.pi * 50) - 1 == pytest.approx(more, abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(one=st.floats(30, 60), two=st.floats(30, 60), angle=st.floats(2.7, 3.7), depth=st.floats(25, 70))
def test_unlike_legs_still_give_a_smooth_half(one: float, two: float, angle: float, depth: float) -> None:
    bed = bent(one, two, angle)
    line = half_round(bed, depth)
    leaves_square(line, bed)
    assert corners(line) < 1e-9
    assert line[0].start == bed.start and line[-1].end == bed.end
    assert abs(line[1].end - bed.centre) == pytest.approx(depth, abs=1e-9)
    turn = path.turn(line)
    assert abs(turn) == pytest.approx(angle, abs=1e-6)  # it turns one way: no wave, no loop


def test_half_a_teardrop_by_arithmetic() -> None:
    """60 wide, 100 high: radius 30, its centre 70 below the point. The straight side touches the circle
    sqrt(70^2 - 30^2) = 63.246 from the point, and acos(3/7) of the half turn is left of the arc."""
    bed = straight(100, 0.3)
    line = half_drop(bed, 30, False)
    assert path.length(line) == pytest.approx(63.24555 + 30 * (math.pi - math.acos(3 / 7)), abs=2e-3)
    assert line[-1].length == pytest.approx(63.24555, abs=1e-5)
    assert line[-1].end == 100j


@settings(max_examples=60, deadline=None)
@given(
    width=st.floats(20, 120),
    more=st.floats(1.05, 3),
    bend=st.floats(-0.25, 0.25),
    at_start=st.booleans(),
)
def test_a_teardrop_is_smooth_but_for_its_point(
    width: float, more: float, bend: float, at_start: bool
) -> None:
    height, r = width * more, width / 2
    up = bent(height - r, r, math.pi + bend) if at_start else bent(r, height - r, math.pi + bend)
    line = half_drop(up, r, at_start)
    assert corners(line) < 1e-9
    assert line[0].start == up.start and line[-1].end == up.end
    round_end, square = (
        (line[-1].tangent(1), -1j * up.along_end) if at_start else (line[0].tangent(0), 1j * up.along_start)
    )
    assert (round_end / square).real == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize(
    ("bed", "depth"),
    [
        (Bed(0j, 1j, 10j, 10 + 12j, -1j), 10.0),  # the edge turns right back
        (Bed(0j, 1 + 0j, 20j, 40j, 1j), 5.0),  # square to the edge leads along the edge
    ],
)
def test_an_edge_that_bends_too_much_is_refused(bed: Bed, depth: float) -> None:
    with pytest.raises(CannotApply, match="bends too much"):
        half_round(bed, depth)


def test_a_point_within_the_circle_is_refused() -> None:
    with pytest.raises(CannotApply, match="bends too much"):
        half_drop(Bed(0j, 1j, 30j, 30j + 29, 1 + 0j), 30, False)
