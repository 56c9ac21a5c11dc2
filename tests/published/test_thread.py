"""Thread in a seam against published figures and worked examples; sources beside the values."""

from __future__ import annotations

import pytest

from cutonce.finishing.thread import CONFLICT, RATIOS, Stitch, measured, thread_for, with_waste

YARD = 914.4


@pytest.mark.parametrize(("stitch", "ratio"), [("101", 5.0), ("103", 4.5), ("301", 2.5), ("304", 5.5)])
def test_ratios_of_a_stitch_type_guide(stitch: Stitch, ratio: float) -> None:
    """A maker's standard stitch type guide (scribd.com 49933681): thread per length of seam."""
    assert thread_for(1000, stitch) == (1000 * ratio, 1000 * ratio)


def test_chain_stitch_measured_on_a_sample() -> None:
    """apparelscience.com: 15 cm of 401 hold 19.5 cm needle and 62.0 cm looper thread; 100 cm are 540 cm, with
    15 % waste 621. textilecalculator.com's 5.5 for 401 is within 2 % of it."""
    ratio = measured(150, 195, 620)
    assert ratio == pytest.approx(1.3 + 4.13, abs=0.005)
    sewn, _ = thread_for(1000, "401", round(ratio, 1))
    assert sewn == pytest.approx(5400)
    assert with_waste(sewn, 0.15) == pytest.approx(6210)
    assert RATIOS["401"].least == pytest.approx(ratio, rel=0.02)


def test_three_inch_sample() -> None:
    """work-study.info, apparel-merchandising.com: 3 in hold 9 and 8 in; 1.17 yd take 3.51 + 3.12 = 6.63 yd,
    with 15 % 7.62."""
    sewn, _ = thread_for(1.17 * YARD, "401", measured(3, 9, 8))
    assert sewn / YARD == pytest.approx(6.63, abs=0.005)
    assert with_waste(sewn, 0.15) / YARD == pytest.approx(7.62, abs=0.01)


def test_overedge_figures_conflict_and_both_stand() -> None:
    """504: 7 per length (textilecalculator.com) against 14 (a maker's table, from memory): both."""
    assert thread_for(1000, "504") == (7000, 14000)
    assert "conflict" in RATIOS["504"].because and "measure" in CONFLICT
