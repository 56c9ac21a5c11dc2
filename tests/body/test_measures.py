"""A body's values: lookup, sides, what is missing, names for expressions."""

from __future__ import annotations

import math

import pytest

from cutonce.body import Body, Measure, body_of, shoulder_slope
from cutonce.errors import BadInput, CannotApply
from cutonce.expressions import evaluate

IDA = body_of("Ida", {"bust_girth": 920, "shoulder_length": (124, 120), "shoulder_drop": 40})


def test_lookup_by_side() -> None:
    assert IDA.mm("bust_girth") == 920
    assert IDA.mm("bust_girth", "left") == 920
    assert (IDA.mm("shoulder_length", "left"), IDA.mm("shoulder_length", "right")) == (124, 120)
    assert IDA.mm("shoulder_length") == 122
    assert IDA.uneven == ("shoulder_length",)


def test_equal_sides_are_not_uneven() -> None:
    assert body_of("Ida", {"shoulder_length": (124, 124)}).uneven == ()


def test_one_side_is_an_even_body() -> None:
    right = IDA.one_side("right")
    assert right.mm("shoulder_length") == right.mm("shoulder_length", "left") == 120
    assert right.mm("bust_girth") == 920
    assert right.uneven == ()


def test_a_missing_measure_says_how_to_take_it_and_that_it_may_be_estimated() -> None:
    with pytest.raises(CannotApply) as caught:
        IDA.mm("bust_span")
    assert caught.value.code == "missing-measure"
    assert "bust_span (Bust point to bust point) is missing" in str(caught.value)
    assert "from one bust point to the other" in str(caught.value)
    assert "--estimate" in str(caught.value)


@pytest.mark.parametrize(
    ("measures", "code"),
    [
        ((Measure("hips", 960),), "unknown-measure"),
        ((Measure("hip_girth", 960, "left"), Measure("hip_girth", 960, "right")), "not-sided"),
        ((Measure("shoulder_length", 124, "left"),), "one-side-only"),
        ((Measure("hip_girth", 960), Measure("hip_girth", 961)), "given-twice"),
        (
            (
                Measure("shoulder_length", 120),
                Measure("shoulder_length", 124, "left"),
                Measure("shoulder_length", 120, "right"),
            ),
            "given-twice",
        ),
        ((Measure("hip_girth", math.nan),), "not-finite"),
    ],
)
def test_refused(measures: tuple[Measure, ...], code: str) -> None:
    with pytest.raises(BadInput) as caught:
        Body("Ida", measures)
    assert caught.value.code == code


def test_names_serve_expressions() -> None:
    assert evaluate("bust_girth / 4 + shoulder_length.left - shoulder_length", IDA.names) == 232
    assert set(IDA.names) == {
        "bust_girth",
        "shoulder_length",
        "shoulder_length.left",
        "shoulder_length.right",
        "shoulder_drop",
        "shoulder_drop.left",
        "shoulder_drop.right",
    }
    assert len(IDA.names) == 7
    with pytest.raises(BadInput, match=r"no measure 'bust_grth'; closest: bust_girth"):
        evaluate("bust_grth", IDA.names)
    with pytest.raises(CannotApply, match="hip_girth"):
        evaluate("hip_girth / 4", IDA.names)


def test_values_are_replaced_whole() -> None:
    body = IDA.with_measures((Measure("shoulder_length", 118.0),))
    assert body.mm("shoulder_length", "left") == 118
    assert IDA.mm("shoulder_length", "left") == 124
    assert body.uneven == ()


def test_shoulder_slope() -> None:
    assert shoulder_slope(IDA, "left") == pytest.approx(math.asin(40 / 124))
    with pytest.raises(CannotApply, match="not less than"):
        shoulder_slope(body_of("Ida", {"shoulder_length": 40, "shoulder_drop": 40}))


def test_the_order_in_which_measures_were_given_does_not_matter() -> None:
    assert Body("Ida", IDA.measures[::-1]) == IDA
    assert [measure.wearer for measure in IDA.measures] == [None, "left", "right", None]


def test_bodies_are_values() -> None:
    again = body_of("Ida", {"bust_girth": 920, "shoulder_length": (124, 120), "shoulder_drop": 40})
    assert again == IDA
    assert hash(again) == hash(IDA)
