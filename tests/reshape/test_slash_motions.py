"""The motions by which slashes open: exact openings, no slip, and what cannot be had."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.errors import CannotApply
from cutonce.reshape.slash_motions import about, closing_dart, trapezoid

places = st.builds(complex, st.floats(-400, 400), st.floats(-400, 400))


@given(places, places, st.floats(0, 90), st.floats(0, 90), st.booleans())
def test_a_slash_opens_by_just_what_is_asked_at_each_end(
    p: complex, q: complex, a: float, b: float, at_p: bool
) -> None:
    d = abs(q - p)
    if d < 60 or (a < 1e-3 and b < 1e-3):
        return
    far = trapezoid("slash", p, q, a, b)(at_p)
    assert abs(far(p) - p) == pytest.approx(a, abs=1e-9)
    assert abs(far(q) - q) == pytest.approx(b, abs=1e-9)
    assert abs(far.angle) == pytest.approx(2 * math.asin(abs(a - b) / (2 * d)), abs=1e-9)


@given(places, places, st.floats(1, 50), st.floats(1, 50))
def test_it_opens_without_slip(p: complex, q: complex, a: float, b: float) -> None:
    """The two lips lie symmetrically about the line between them: neither end slides along the other."""
    if abs(q - p) < 60:
        return
    far = trapezoid("slash", p, q, a, b)(True)
    between = (p + far(p)) / 2 - (q + far(q)) / 2
    for z in (p, q):
        assert ((far(z) - z) * between.conjugate()).real == pytest.approx(0, abs=1e-6)


def test_the_part_beyond_moves_away_from_the_part_before() -> None:
    """Entered at the foot of an upright slash, counter-clockwise: the far part lies at its right."""
    far = trapezoid("slash", 0j, 100j, 10, 10)(True)
    assert far(0j).real == pytest.approx(10)
    far = trapezoid("slash", 0j, 100j, 10, 10)(False)
    assert far(0j).real == pytest.approx(-10)


def test_worked_turns() -> None:
    """Hinged 40 mm over a slash of 500: 2 asin(40/1000) = 4.585 degrees (arithmetic); 10 to 30 over 400 mm:
    2 asin(20/800) = 2.865 degrees."""
    assert math.degrees(abs(trapezoid("s", 0j, 500j, 40, 0)(True).angle)) == pytest.approx(4.5847, abs=5e-4)
    assert math.degrees(abs(trapezoid("s", 0j, 400j, 10, 30)(True).angle)) == pytest.approx(2.8651, abs=5e-4)


def test_a_slash_cannot_open_wider_than_its_two_lips_reach() -> None:
    with pytest.raises(CannotApply, match=r"slash 1 is 100\.0 mm long and cannot open 200\.0 mm"):
        trapezoid("slash 1", 0j, 100j, 200, 0)


@given(st.floats(0.05, 0.6), st.floats(0, 60), st.floats(0, 30), st.booleans())
def test_a_dart_closes_into_a_slash_and_opens_further(
    angle: float, more: float, b: float, at_p: bool
) -> None:
    """Dart below, pivot at 120 mm up, slash from above: its start opens `a`, its closed mouth `b`."""
    pivot, p = 120j, 10 + 400j
    one, two = (pivot - 130j * cmath.exp(1j * s * angle / 2) for s in (-1, 1))  # counter-clockwise order
    alone = 2 * abs(p - pivot) * math.sin(angle / 2)
    far = closing_dart("slash", p, pivot, (one, two), alone + b + more, b)(at_p)
    assert abs(far(p) - p) == pytest.approx(alone + b + more, abs=1e-7)
    near, away = (two, one) if at_p else (one, two)
    assert abs(far(away) - near) == pytest.approx(b, abs=1e-7)


def test_less_than_the_dart_opens_is_refused() -> None:
    far = closing_dart("slash 2", 400j, 100j, (-20 + 0j, 20 + 0j), 5, 0)
    with pytest.raises(CannotApply, match=r"slash 2: closing the dart alone opens \d+\.\d mm, asked 5\.0 mm"):
        far(True)


def test_turning_about_a_pivot_opens_at_the_start() -> None:
    assert abs(about(0j, 0.3)(True)(100 + 0j) - 100 * cmath.exp(0.3j)) < 1e-12
    assert about(0j, 0.3)(False).angle == pytest.approx(-0.3)
