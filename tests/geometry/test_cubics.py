"""Where two cubics meet: they do, none is missed, a touch comes once, running together comes to none."""

from __future__ import annotations

import cmath
import math

import pytest
import shapely
from geometry.shapes import any_cubics, as_shapely, cubics, cusp, inner_shares, points, shares
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic
from cutonce.geometry.meet import farthest_apart, meetings, nearest
from cutonce.geometry.motion import laying
from cutonce.geometry.tolerance import SAME_POINT_MM

LOOP = Cubic(0j, 300 + 200j, -200 + 200j, 100 + 0j)
WAVE = Cubic(0j, 100 + 200j, 200 - 200j, 300 + 0j)


def bends(curve: Cubic) -> bool:
    chord = (curve.d - curve.a).conjugate()
    return max(abs(((p - curve.a) * chord).imag) for p in (curve.b, curve.c)) > 1


def brought_together(one: Cubic, t: float, two: Cubic, u: float) -> Cubic:
    """`two` shifted so that its place u falls on the place t of `one`."""
    by = one.at(t) - two.at(u)
    return Cubic(two.a + by, two.b + by, two.c + by, two.d + by)


@settings(max_examples=150, deadline=None)
@given(any_cubics, any_cubics)
def test_meetings_meet_and_lie_in_order(one: Cubic, two: Cubic) -> None:
    found = meetings(one, two)
    if len(found) > 9:  # Bezout: two curves of degree three; more only where they all but run together
        assert farthest_apart([one], [two]) < 0.01
    assert found == tuple(sorted(found))
    for t, u in found:
        assert 0 <= t <= 1 and 0 <= u <= 1
        assert abs(one.at(t) - two.at(u)) < 2 * SAME_POINT_MM


@settings(max_examples=100, deadline=None)
@given(cubics, cubics)
def test_every_crossing_of_densely_sampled_chains_is_found(one: Cubic, two: Cubic) -> None:
    both = as_shapely(one).intersection(as_shapely(two))
    found = [one.at(t) for t, _ in meetings(one, two)]
    for part in getattr(both, "geoms", [both]):
        if part.is_empty or not isinstance(part, shapely.Point):
            continue
        p = complex(part.x, part.y)
        # chords lie within 1e-3 of the curves; where these cross at a small angle, chains may cross in vain
        t, u = (_at(curve, p) for curve in (one, two))
        angle = abs(cmath.phase(one.tangent(t) / two.tangent(u))) % math.pi
        if min(angle, math.pi - angle) > 0.05:
            assert min(abs(q - p) for q in found) < 0.05


def _at(curve: Cubic, p: complex) -> float:
    return curve.at_length(nearest([curve], p)[0])


@settings(max_examples=150, deadline=None)
@given(any_cubics, inner_shares, any_cubics, inner_shares)
def test_a_meeting_made_on_purpose_is_found(one: Cubic, t: float, two: Cubic, u: float) -> None:
    moved = brought_together(one, t, two, u)
    found = meetings(one, moved)
    if not found:  # nothing, unless they run together there
        assert nearest([moved], one.at(t + 1e-3))[1] < 1e-5 or nearest([moved], one.at(t - 1e-3))[1] < 1e-5
        return
    assert min(abs(one.at(s) - one.at(t)) for s, _ in found) < 0.05


@settings(max_examples=100, deadline=None)
@given(cubics, shares, cubics, shares)
def test_the_other_way_round_the_same(one: Cubic, t: float, two: Cubic, u: float) -> None:
    moved = brought_together(one, t, two, u)
    there, back = meetings(one, moved), meetings(moved, one)
    for s, w in there:
        still = min(abs(one.derivative(s)), abs(moved.derivative(w))) < 1
        angle = 0.0 if still else abs(cmath.phase(one.tangent(s) / moved.tangent(w))) % math.pi
        # which place stands for a touch is free within the stretch on which the curves are one, long or short
        near = 1e-3 if 0.05 < angle < math.pi - 0.05 else math.inf
        assert any(abs(one.at(s) - moved.at(x)) < near for x, _ in back)


@settings(max_examples=100, deadline=None)
@given(cubics, points, points, points, st.sampled_from([0j, 1e-9 + 0j, 3e-7j]))
def test_ends_on_one_another_are_found(one: Cubic, b: complex, c: complex, d: complex, off: complex) -> None:
    two = Cubic(one.d + off, b, c, d)
    assume(bends(two))  # two on one line meet nowhere
    assume(abs(cmath.phase(-two.tangent(0) / one.tangent(1))) > 0.05)  # it does not go back the same way
    found = meetings(one, two)
    assert any(abs(one.at(t) - one.d) < 0.1 and abs(two.at(u) - two.a) < 0.1 for t, u in found)


@settings(max_examples=100, deadline=None)
@given(cubics, inner_shares, cubics, inner_shares)
def test_a_touch_is_found_once(one: Cubic, t: float, two: Cubic, u: float) -> None:
    assume(abs(one.derivative(t)) > 10 and abs(two.derivative(u)) > 10)
    p, q = one.at(t), two.at(u)
    onto = laying(q, q + two.tangent(u), p, p + one.tangent(t))
    moved = two.moved(onto)
    assume(abs(one.curvature(t) - moved.curvature(u)) > 0.002 and abs(one.curvature(t)) < 0.5)
    here = one.length_to(t)
    near = [s for s, _ in meetings(one, moved) if abs(one.length_to(s) - here) < 0.02]
    assert near and max(near) - min(near) < 1e-9  # a straight cubic may come by twice


@pytest.mark.parametrize("curve", [WAVE, LOOP, cusp(0.4, 90 + 20j, 30 - 80j), Cubic(0j, 0j, 90j, 100 + 90j)])
def test_running_together_comes_to_none(curve: Cubic) -> None:
    assert meetings(curve, curve) == ()
    assert meetings(curve, curve.reversed()) == ()
    for low, high in ((0.0, 0.5), (0.25, 0.6), (0.3, 1.0)):
        part = curve.part(low, high)
        apart = [t for t, _ in meetings(curve, part)]
        assert all(not low + 0.01 < t < high - 0.01 for t in apart)


def test_meetings_beside_a_stretch_together_stay() -> None:
    # the loop's first stretch crosses its last: the part that holds the first is crossed by the last alone
    double = next((t, u) for t, u in meetings(LOOP.part(0, 0.5), LOOP.part(0.5, 1)) if t < 0.99)
    found = meetings(LOOP, LOOP.part(0, 0.5))
    assert [t for t, _ in found] == [pytest.approx(0.5 + double[1] / 2, abs=1e-6)]


def test_nine_meetings() -> None:
    # two cubics with three waves each across one another, turned by a quarter
    one = Cubic(-100 - 25j, 300 + 300j, -300 - 300j, 100 + 25j)
    found = meetings(one, one.moved(laying(0j, 1 + 0j, 0j, 1j)))
    assert len(found) == 9


def test_two_crossings_a_hair_apart_are_told_apart() -> None:
    arch = Cubic(0j, 100 + 100j, 200 + 100j, 300 + 0j)  # its top is at 75
    for depth in (1e-2, 1e-3, 1e-4):
        low = 75 - depth
        flat = Cubic(complex(0, low), complex(90, low), complex(180, low), complex(300, low))
        found = meetings(arch, flat)
        assert len(found) == 2
        assert all(abs(arch.at(t) - flat.at(u)) < 1e-9 for t, u in found)
    above = Cubic(75.001j, 90 + 75.001j, 180 + 75.001j, 300 + 75.001j)
    assert meetings(arch, above) == ()


@given(cubics)
@example(Cubic(5j, 5j, 5j, 5j))
def test_a_point_and_a_curve(curve: Cubic) -> None:
    p = curve.at(0.5)
    spot = Cubic(p, p, p, p)
    assert len(meetings(curve, spot)) <= 2
    away = Cubic(p + 2000, p + 2000, p + 2000, p + 2000)
    assert meetings(curve, away) == ()
