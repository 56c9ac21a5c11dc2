"""Ease of a bodice by place, and the sharing out of a changed bust ease."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.blocks.bodice_proportional import EASE, proportional
from cutonce.blocks.bodice_systems import SYSTEMS, bodice_ease
from cutonce.blocks.truing import true_frame
from cutonce.body import Body, body_of
from cutonce.errors import BadInput


@given(st.floats(-80, 200))
def test_changed_bust_ease_goes_by_three_four_three(bust: float) -> None:
    """.3 to the back, .3 to the front, and so .4 to the armholes (from memory)."""
    body = body_of("", {"bust_girth": 880.0, "waist_girth": 680.0, "back_waist_length": 400.0})
    built = proportional(body.mm)
    own, _ = true_frame(built, body, EASE)
    other, _ = true_frame(built, body, EASE.stated({"bust": bust}))
    change = (bust - EASE.bust) / 2  # on the half block

    def armhole(width: float, back: float, front: float) -> float:
        return width - back - front

    assert other.half_width - own.half_width == pytest.approx(change)
    back, front = other.back_width - own.back_width, other.chest_width - own.chest_width
    if front < 20:  # beyond, the shoulder holds the width line back
        assert back == pytest.approx(0.3 * change)
        assert front == pytest.approx(0.3 * change)
        rest = armhole(other.half_width, other.back_width, other.front_line)
        was = armhole(own.half_width, own.back_width, own.front_line)
        assert rest - was == pytest.approx(0.4 * change)


def test_each_system_has_its_own() -> None:
    assert {s.name: (s.ease.bust, s.ease.waist, s.ease.hip) for s in SYSTEMS} == {
        "proportional": (120, 60, 60),
        "direct": (100, 40, 60),
        "older proportional": (100, 60, 60),
    }


def test_all_ease_of_a_block() -> None:
    ease = bodice_ease("direct", {"bust": 80.0, "hip": 50.0})
    assert ease == {
        "bust": 80.0,
        "waist": 40,
        "hip": 50.0,
        "neck": 12,
        "across_back": 10 - 6,
        "across_front": -6,
        "scye_depth": 5,
    }


def test_unknown_place() -> None:
    with pytest.raises(BadInput, match="no ease at 'bum'; it has: bust, waist, hip, neck, across_back"):
        EASE.stated({"bum": 20.0})


def test_ease_at_the_scye_lowers_the_armhole(size: Body) -> None:
    built = proportional(size.mm)
    close, loose = (true_frame(built, size, EASE.stated({"scye_depth": e}))[0] for e in (0.0, 15.0))
    assert close.underarm - loose.underarm == pytest.approx(15)
    assert close.front_neck == loose.front_neck
    assert close.bust.point == loose.bust.point
