"""Laws of a hem's drop: the cosine of a plane cut, straight slants, curves that never overshoot."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.reshape.hem_law import Dip, HemLaw, curved, even, straight, through

DROPS = st.lists(
    st.tuples(st.integers(0, 19), st.floats(-100, 100)), min_size=2, max_size=6, unique_by=lambda p: p[0]
)


def slopes_agree(law: HemLaw, x: float, after: bool, h: float = 1e-4) -> None:
    sign = 1 if after else -1
    one, two = law.drop(x + sign * h), law.drop(x + 2 * sign * h)
    measured = sign * (4 * one - two - 3 * law.drop(x)) / (2 * h)
    assert law.slope(x, after) == pytest.approx(measured, abs=1e-5)


def test_values_of_the_cosine() -> None:
    """cos 0, 45, 60, 90, 180 degrees: 1, .70711, .5, 0, -1 (any table)."""
    dip = Dip(1440.0, 100.0, down=90.0, up=110.0)
    for degrees, cosine in ((0, 1.0), (45, 0.70711), (60, 0.5), (90, 0.0), (180, -1.0)):
        x = 100 + 1440 * degrees / 360
        assert dip.drop(x) == pytest.approx(-10 + 100 * cosine, abs=1e-3)
    assert dip.slope(100.0, True) == pytest.approx(0) and dip.slope(820.0, False) == pytest.approx(0)


@given(st.floats(0, 1000))
def test_a_dip_lies_in_a_plane(lowest: float) -> None:
    """On a tube of radius G / 2 pi the heights at any four places round lie in one plane."""
    girth = 1000.0
    dip, r = Dip(girth, lowest, 70.0, 30.0), girth / (2 * math.pi)
    spots = [(r * math.cos(a), r * math.sin(a), dip.drop(a * r)) for a in (0.3, 1.7, 3.1, 5.2)]
    p, q, s, t = spots
    u, v, w = ([b - a for a, b in zip(p, other, strict=True)] for other in (q, s, t))
    volume = (
        u[0] * (v[1] * w[2] - v[2] * w[1])
        - u[1] * (v[0] * w[2] - v[2] * w[0])
        + u[2] * (v[0] * w[1] - v[1] * w[0])
    )
    assert volume == pytest.approx(0, abs=1e-6)


@given(DROPS)
@settings(max_examples=60)
def test_a_curve_meets_its_drops_and_stays_between_them(drops: list[tuple[int, float]]) -> None:
    places = [(50.0 * k, d) for k, d in drops]
    law = curved(1000.0, places)
    for x, d in places:
        assert law.drop(x) == pytest.approx(d, abs=1e-9)
        assert law.slope(x, True) == pytest.approx(law.slope(x, False), abs=1e-9)
    found = [law.drop(5.0 * k) for k in range(200)]
    low, high = min(d for _, d in places), max(d for _, d in places)
    assert min(found) >= low - 1e-9 and max(found) <= high + 1e-9


@given(DROPS, st.floats(0, 999))
@settings(max_examples=60)
def test_slopes_are_those_of_the_drops(drops: list[tuple[int, float]], x: float) -> None:
    places = [(50.0 * k, d) for k, d in drops]
    for law in (curved(1000.0, places), straight(1000.0, places), Dip(1000.0, x / 2, 40.0, 20.0)):
        if min(abs(x - 50 * k) for k in range(21)) > 1e-3:
            slopes_agree(law, x, True)
        for k, _ in drops:
            slopes_agree(law, 50.0 * k, True)
            slopes_agree(law, 50.0 * k, False)


def test_round_and_round_is_the_same() -> None:
    law = straight(1000.0, [(250.0, 80.0), (750.0, -20.0)])
    assert law.drop(1125.0) == pytest.approx(law.drop(125.0)) == pytest.approx(55.0)
    assert law.slope(250.0, False) == pytest.approx(0.2) and law.slope(250.0, True) == pytest.approx(-0.2)
    assert even(1000.0, -30.0).drop(1234.0) == pytest.approx(-30.0)
    assert even(1000.0, -30.0).slope(3.0, True) == 0.0


def test_a_parabola_comes_back_from_its_points() -> None:
    """Slopes of the parabola through three neighbours are exact for one."""
    found = through([(x, x * x / 100) for x in (0.0, 50.0, 90.0, 160.0, 200.0)])
    assert all(found(x) == pytest.approx(x * x / 100) for x in (3.0, 70.0, 120.0, 199.0))
