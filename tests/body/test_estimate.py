"""Estimates: what is filled in and when, how it is marked, and that a measured value is never touched."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.body import BY_KEY, FOLLOWING, TERMS, Measure, body_of, estimate
from cutonce.body.estimate import METHODS
from cutonce.body.regressions import fits
from cutonce.errors import BadInput, CannotApply

IDA = body_of("Ida", {"bust_girth": 900, "waist_girth": 700, "hip_girth": 970, "height": 1660})

ASKED_FOR = {"shoulder_length", "nape_to_bust_level", "waist_to_hip", "across_back_width", "scye_depth"}


def test_only_what_follows_is_filled_in_unasked() -> None:
    keys = {measure.key for measure in estimate(IDA).estimated}
    assert keys == FOLLOWING
    assert not keys & (ASKED_FOR | {"bust_span", "back_waist_length", "neck_to_bust_point"})


def test_what_follows_has_an_sd_and_a_fair_fit() -> None:
    quantity = {m.key: m.work.args[0] for m in METHODS if m.follows}  # type: ignore[attr-defined]
    for key in FOLLOWING:
        four, _ = fits()[quantity[key]]
        assert four.r2 > 0.45
        measure = estimate(IDA).find(key)
        assert measure is not None and measure.estimate is not None and measure.estimate.sd_mm is not None


def test_a_name_brings_that_measure_only() -> None:
    keys = {measure.key for measure in estimate(IDA, asked=["front_waist_length"]).estimated}
    assert keys == FOLLOWING | {"front_waist_length"}


def test_everything_that_has_a_method() -> None:
    full = estimate(IDA, everything=True)
    assert {measure.key for measure in full.estimated} == {method.key for method in METHODS}
    assert {term.key for term in TERMS if not full.has(term.key)} == {"elbow_girth"}


def test_every_estimate_names_its_source_and_memory_is_owned_to() -> None:
    full = estimate(IDA, everything=True)
    for measure in full.estimated:
        assert measure.estimate is not None and measure.estimate.source
    for key in ("bust_span", "scye_depth", "neck_to_bust_point", "front_waist_length", "shoulder_drop"):
        found = full.find(key)
        assert found is not None and found.estimate is not None
        assert "from memory" in found.estimate.source and found.estimate.sd_mm is None


def test_measured_values_are_used_and_kept() -> None:
    measured = IDA.with_measures(
        [
            Measure("back_waist_length", 400.0),
            Measure("shoulder_length", 130.0, "left"),
            Measure("shoulder_length", 110.0, "right"),
        ]
    )
    full = estimate(measured, everything=True)
    assert full.mm("back_waist_length") == 400.0
    assert full.mm("shoulder_length", "right") == 110.0
    assert full.mm("front_waist_length") == pytest.approx(400 + 7 / 60 * 900 - 54)


def test_fewer_measures_give_the_wider_line() -> None:
    two = body_of("Ida", {"bust_girth": 900, "height": 1660})
    found = estimate(two).find("upper_arm_girth")
    assert found is not None and found.estimate is not None
    assert found.mm == pytest.approx(2.835 + 0.2719 * 900 + 0.0278 * 1660)
    assert found.estimate.sd_mm == pytest.approx(20.4)
    assert found.estimate.source.endswith("from bust and height")


def test_what_cannot_be_estimated_says_what_is_needed() -> None:
    with pytest.raises(CannotApply, match=r"to estimate wrist_girth, height is needed"):
        estimate(body_of("Ida", {"bust_girth": 900}), asked=["wrist_girth"])
    with pytest.raises(CannotApply, match=r"elbow_girth cannot be estimated"):
        estimate(IDA, asked=["elbow_girth"])
    with pytest.raises(BadInput, match=r"no measure 'wrist'"):
        estimate(IDA, asked=["wrist"])
    assert not estimate(body_of("Ida", {}), everything=True).measures


@settings(max_examples=50)
@given(st.integers(760, 1200), st.integers(-120, 60), st.integers(-60, 200), st.integers(1470, 1800))
def test_estimates_stay_possible(bust: int, waist: int, hip: int, height: int) -> None:
    girths = {
        "bust_girth": bust,
        "waist_girth": bust - 160 + waist,
        "hip_girth": bust + hip,
        "height": height,
    }
    for measure in estimate(body_of("Ida", girths), everything=True).estimated:
        low, high = BY_KEY[measure.key].limits
        assert low < measure.mm < high
