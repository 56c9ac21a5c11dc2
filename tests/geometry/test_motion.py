"""Motions: laws of turning, shifting, reflecting and laying."""

from __future__ import annotations

import cmath
import math

import pytest
from geometry.shapes import angles, mirrors, motions, points
from hypothesis import assume, given
from hypothesis import strategies as st

from cutonce.geometry.motion import STILL, Motion, laying, reflecting, shifting, turning


@given(motions, points)
def test_inverse_undoes(motion: Motion, p: complex) -> None:
    assert abs(motion.inverse()(motion(p)) - p) < 1e-9
    assert abs(motion(motion.inverse()(p)) - p) < 1e-9


@given(motions, motions, motions, points)
def test_after_is_doing_one_then_the_other(a: Motion, b: Motion, c: Motion, p: complex) -> None:
    assert abs(a.after(b)(p) - a(b(p))) < 1e-8
    assert abs(a.after(b).after(c)(p) - a.after(b.after(c))(p)) < 1e-8
    assert a.after(b).mirror == (a.mirror != b.mirror)


@given(motions, points, points)
def test_distances_stay_and_vectors_turn_alike(motion: Motion, p: complex, q: complex) -> None:
    assert abs(motion(q) - motion(p)) == pytest.approx(abs(q - p), abs=1e-9)
    assert abs(motion.of_vector(q - p) - (motion(q) - motion(p))) < 1e-9
    assert abs(motion.turn) == pytest.approx(1, abs=1e-12)


@given(motions, points, points, points)
def test_only_a_mirror_turns_areas_over(motion: Motion, p: complex, q: complex, r: complex) -> None:
    def twice(a: complex, b: complex, c: complex) -> float:
        return ((b - a).conjugate() * (c - a)).imag

    sign = -1 if motion.mirror else 1
    assert twice(motion(p), motion(q), motion(r)) == pytest.approx(sign * twice(p, q, r), abs=1e-6)


@given(angles, points, points)
def test_turning(angle: float, about: complex, p: complex) -> None:
    motion = turning(angle, about)
    assert abs(motion(about) - about) < 1e-9
    assert abs(motion(p) - (about + (p - about) * cmath.rect(1, angle))) < 1e-9
    assert motion.angle == pytest.approx(angle)
    assert abs(turning(-angle, about)(motion(p)) - p) < 1e-9


@given(mirrors, points)
def test_reflecting_twice_is_nothing(mirror: Motion, p: complex) -> None:
    assert mirror.mirror
    assert abs(mirror(mirror(p)) - p) < 1e-9
    assert mirror.inverse().mirror


@given(points, points, points)
def test_reflecting_leaves_its_axis(p: complex, q: complex, z: complex) -> None:
    assume(abs(q - p) > 0.1)
    mirror = reflecting(p, q)
    on_axis = p + 0.3 * (q - p)
    assert abs(mirror(on_axis) - on_axis) < 1e-9
    image = mirror(z)
    height = ((z - p) * (q - p).conjugate()).imag / abs(q - p)
    other = ((image - p) * (q - p).conjugate()).imag / abs(q - p)
    along = ((z - image) * (q - p).conjugate()).real / abs(q - p)
    assert other == pytest.approx(-height, abs=1e-8) and along == pytest.approx(0, abs=1e-8)


@given(points, points, points, points)
def test_laying_one_ray_on_another(p: complex, q: complex, onto_p: complex, onto_q: complex) -> None:
    assume(abs(q - p) > 0.1 and abs(onto_q - onto_p) > 0.1)
    motion = laying(p, q, onto_p, onto_q)
    assert not motion.mirror
    assert abs(motion(p) - onto_p) < 1e-9
    ray = (onto_q - onto_p) / abs(onto_q - onto_p)
    assert abs(motion(q) - (onto_p + abs(q - p) * ray)) < 1e-9


@given(points, points)
def test_standing_still_and_shifting(p: complex, by: complex) -> None:
    assert STILL(p) == p and STILL.angle == 0
    assert shifting(by)(p) == p + by


@given(st.lists(motions, min_size=1, max_size=60), points)
def test_a_long_chain_stays_rigid(chain: list[Motion], p: complex) -> None:
    whole = STILL
    there = p
    for motion in chain:
        whole, there = motion.after(whole), motion(there)
    assert abs(whole.turn) == pytest.approx(1, abs=1e-12)
    assert abs(whole(p) - there) < 1e-7
    assert math.isfinite(whole.angle)
