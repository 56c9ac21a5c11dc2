"""Parallel curves: their distance, their ends, the law L' = L + d x turn, and what happens at hard places."""

from __future__ import annotations

import cmath
import itertools

import pytest
from geometry.shapes import cubics, motions, outlines
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.fit import between
from cutonce.geometry.meet import nearest
from cutonce.geometry.motion import Motion
from cutonce.geometry.offset import to_right
from cutonce.geometry.path import Path, length, turn

ARMHOLE = Cubic(0j, 45 + 0j, 60 + 10j, 65 + 70j)
NECK = between(0j, 1 + 0j, 70 + 80j, 1j)
HIP = Cubic(0j, 5 + 70j, -3 + 140j, 200j)  # an S: it turns one way, then the other, by as much
WAIST = Cubic(0j, 60 + 0j, 140 + 12j, 210 + 14j)
distances = st.sampled_from([-25.0, -10.0, -6.0, 6.0, 10.0, 15.0, 25.0, 40.0])


def least_room(curve: Curve, distance: float) -> float:
    """1 + d x bend at its least; at or below 0 the parallel folds back."""
    return min(1 + distance * curve.curvature(k / 100) for k in range(101))


def worst(curve: Curve, out: Path, distance: float) -> float:
    """The most by which the parallel is out of its distance, seen from either side."""
    there = max(nearest(out, curve.at(k / 80) - 1j * distance * curve.tangent(k / 80))[1] for k in range(81))
    back = max(abs(nearest([curve], part.at(k / 20))[1] - abs(distance)) for part in out for k in range(21))
    return max(there, back)


@pytest.mark.parametrize("curve", [ARMHOLE, NECK, HIP, WAIST])
@pytest.mark.parametrize("distance", [-25.0, -10.0, 6.0, 15.0, 25.0, 40.0])
def test_garment_edges(curve: Cubic, distance: float) -> None:
    if least_room(curve, distance) < 0.1:
        pytest.skip("folds back")
    out = to_right((curve,), distance)
    assert worst(curve, out, distance) < 0.0025
    assert length(out) == pytest.approx(curve.length + distance * turn((curve,)), abs=0.002)
    assert len(out) <= 16


@settings(max_examples=60, deadline=None)
@given(cubics, distances)
def test_distance_and_length_of_any_gentle_curve(curve: Cubic, distance: float) -> None:
    assume(min(abs(curve.derivative(k / 100)) for k in range(101)) > 20)
    assume(least_room(curve, distance) > 0.25)
    out = to_right((curve,), distance)
    assert length(out) == pytest.approx(curve.length + distance * turn((curve,)), abs=0.01)
    for k in range(0, 81, 4):
        t = k / 80
        assert nearest(out, curve.at(t) - 1j * distance * curve.tangent(t))[1] < 0.01


@given(cubics, distances)
def test_ends_and_directions(curve: Cubic, distance: float) -> None:
    assume(min(abs(curve.derivative(t)) for t in (0.0, 1.0)) > 1)
    out = to_right((curve,), distance)
    for t, end, new in ((0.0, out[0].start, out[0]), (1.0, out[-1].end, out[-1])):
        assert abs(end - (curve.at(t) - 1j * distance * curve.tangent(t))) < 1e-8
        room = 1 + distance * curve.curvature(t)
        if abs(room) > 0.01:
            assert abs(new.tangent(t) - curve.tangent(t) * (1 if room > 0 else -1)) < 1e-6


@given(cubics, distances)
def test_pieces_of_one_parallel_join(curve: Cubic, distance: float) -> None:
    """Where a curve stands still and turns back, its parallel goes on at the other side."""
    assume(min(abs(curve.derivative(k / 64)) for k in range(65)) > 1e-6)
    out = to_right((curve,), distance)
    for one, two in itertools.pairwise(out):
        assert abs(one.end - two.start) < 1e-6


@settings(max_examples=40)
@given(cubics, distances, motions)
def test_moved_alike(curve: Cubic, distance: float, motion: Motion) -> None:
    assume(min(abs(curve.derivative(k / 100)) for k in range(101)) > 20)
    side = -1 if motion.mirror else 1  # a mirror makes right left
    one = [c.moved(motion) for c in to_right((curve,), distance)]
    two = to_right((curve.moved(motion),), side * distance)
    if len(one) == len(two):  # else a curve at the very edge of the tolerance was divided once more
        for a, b in zip(one, two, strict=True):
            assert abs(a.at(0.4) - b.at(0.4)) < 1e-6


@settings(deadline=None)
@given(outlines(), st.sampled_from([5.0, 10.0, 15.0]))
def test_out_of_a_closed_outline(outline: Path, distance: float) -> None:
    """Each curve lies outside by the distance; the gaps at the corners are as wide as their turn asks."""
    assume(all(least_room(c, distance) > 0.2 for c in outline))
    for i, curve in enumerate(outline):
        follower = outline[(i + 1) % len(outline)]
        one, two = to_right((curve,), distance), to_right((follower,), distance)
        corner = cmath.phase(follower.tangent(0) / curve.tangent(1))
        gap = abs(two[0].start - one[-1].end)
        assert gap == pytest.approx(2 * distance * abs(cmath.sin(corner / 2)), abs=1e-6)


def test_lines_and_nothing() -> None:
    assert to_right((Line(0j, 10 + 0j), Line(10 + 0j, 10 + 5j)), 3.0) == (
        Line(-3j, 10 - 3j),
        Line(13 + 0j, 13 + 5j),
    )
    assert to_right((), 3.0) == ()
    assert to_right((Line(1j, 1j), Cubic(1j, 1j, 1j, 1j)), 3.0) == ()
    assert length(to_right((NECK,), 0.0)) == pytest.approx(NECK.length, abs=1e-6)


@pytest.mark.parametrize("distance", [6.0, 15.0, 25.0])
@pytest.mark.parametrize(
    "curve", [Cubic(0j, 0j, 60 + 0j, 70 + 70j), Cubic(0j, 10 + 60j, 70 + 70j, 70 + 70j).reversed()]
)
def test_control_points_on_their_ends(curve: Cubic, distance: float) -> None:
    """Where the curve stands still the bend has no bound, but the parallel outside it has its speed."""
    side = distance if turn((curve,)) > 0 else -distance
    out = to_right((curve,), side)
    assert worst(curve, out, side) < 0.004
    assert length(out) == pytest.approx(curve.length + side * turn((curve,)), abs=0.005)
    # with a wrong speed at the still end, its first part would have to be halved once or twice more
    assert len(out) <= {6.0: 6, 15.0: 8, 25.0: 9}[distance]


def test_too_far_inside_a_turn_it_folds_back_and_stays_in_its_place() -> None:
    tight = between(0j, 1 + 0j, 20 + 20j, 1j)  # radius 20, turning left
    out = to_right((tight,), -30.0)
    assert out[0].start == pytest.approx(30j) and out[-1].end == pytest.approx(-10 + 20j)
    centre = 20j
    assert all(abs(abs(c.at(k / 10) - centre) - 10) < 0.05 for c in out for k in range(11))
