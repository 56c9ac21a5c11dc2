"""Bias strips against published rules; sources beside the values."""

from __future__ import annotations

import math

import pytest

from cutonce.finishing.strips import SPARE, binding_width, square_side, strip

INCH = 25.4


@pytest.mark.parametrize(("finished", "cut"), [(1 / 4, 1.0), (1 / 2, 2.0)])
def test_single_binding_is_four_times_as_wide(finished: float, cut: float) -> None:
    """singerco.com.au, make bias binding: 1/4 in finished is cut 1 in; sew-whats-new.com: 1/2 in, 2 in."""
    assert binding_width(finished * INCH, "single") == pytest.approx(cut * INCH)


def test_double_binding_is_about_six_times_as_wide() -> None:
    """About 6 x finished (from memory): 4 x finished and two allowances as wide as the binding."""
    assert binding_width(10.0, "double") == 60.0


@pytest.mark.parametrize(("length", "width", "side"), [(250, 2, 22.36), (100, 3.5, 18.71), (55, 2.5, 11.72)])
def test_square_for_a_strip(length: float, width: float, side: float) -> None:
    """mydecozo.co.uk, quiltersquestiontime.com, mixedupcreativeacademy.com: side = sqrt(length x width), in
    inches, rounded up to 23, 19 and 12 there. Ours adds 20 % of cloth."""
    ours = square_side(length * INCH, width * INCH) / INCH
    assert ours / math.sqrt(SPARE) == pytest.approx(side, abs=0.01)
    assert ours >= math.ceil(side)


def test_three_metres_of_four_centimetres() -> None:
    """300 x 4 cm comes from a square of 35 cm, cut 38 (quiltersquestiontime.com, sewingladyblog.com)."""
    assert round(square_side(3000, 40) / 10) == 38


def test_diagonal_of_a_cloth() -> None:
    """Strips across a square of 90 cm: its diagonal, 127.28 cm, less the strip's width (arithmetic)."""
    longest = 900 * math.sqrt(2) - 40
    assert strip(longest - 20, False, 40, 1272.8, 6, 10).parts == 1
    assert strip(longest - 18, False, 40, 1272.8, 6, 10).parts == 2
