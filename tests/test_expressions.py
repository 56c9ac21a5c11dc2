"""Expressions in body measures: arithmetic, dimensions, and that no text makes the reader crash."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.errors import BadInput
from cutonce.expressions import evaluate, evaluate_number
from cutonce.units import length

MEASURES = {"bust_girth": 920.0, "waist_girth": 700.0, "hip_girth": 960.0, "shoulder_length.left": 124.0}


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("hip_girth / 4 + 1 cm", 250.0),
        ("bust_girth * 0.1", 92.0),
        ("0.1 * bust_girth", 92.0),
        ("max(3 cm, (hip_girth - waist_girth) / 20)", 30.0),
        ("min(3 cm, 1 in)", 25.4),
        ("abs(waist_girth - hip_girth)", 260.0),
        ("-hip_girth / 2", -480.0),
        ("2 cm - -1 cm", 30.0),
        ("hip_girth / waist_girth * 1 cm", 960 / 70),
        ("1/2 in + 1 cm", 22.7),
        ("½ × hip_girth", 480.0),
        ("hip_girth ÷ 2", 480.0),
        ("hip_girth / 1 / 4", 240.0),
        ("hip_girth/1/4", 240.0),
        ("1 ft 2 in - 2 in", 304.8),
        ("12,5 cm + 1 mm", 126.0),
        ("shoulder_length.left + 1 cm", 134.0),
        ("((2 cm))", 20.0),
        ("MAX(1 cm, 2 cm)", 20.0),
    ],
)
def test_values(text: str, mm: float) -> None:
    assert evaluate(text, MEASURES) == pytest.approx(mm, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("hip_girth * waist_girth", "not-a-length-power"),
        ("2 / hip_girth", "not-a-length-power"),
        ("hip_girth + 1", "mixed-kinds"),
        ("1 - hip_girth", "mixed-kinds"),
        ("max(3, hip_girth)", "mixed-kinds"),
        ("hip_girth / waist_girth", "no-unit"),
        ("12", "no-unit"),
        ("hip_girth / 0", "divide-by-zero"),
        ("hip_girth / (waist_girth - waist_girth)", "divide-by-zero"),
        ("hips / 4", "unknown-measure"),
        ("hip_girth / 4 +", "not-an-expression"),
        ("", "not-an-expression"),
        ("(hip_girth", "not-an-expression"),
        ("hip_girth)", "not-an-expression"),
        ("hip_girth 4", "not-an-expression"),
        ("hip_girth ** 2", "not-an-expression"),
        ("abs(1 cm, 2 cm)", "not-an-expression"),
        ("(1 cm, 2 cm)", "not-an-expression"),
        ("max()", "not-an-expression"),
        ("max(2,5 cm)", "ambiguous-comma"),
        ("sqrt(hip_girth)", "unknown-measure"),
        ("2 hip_girth", "unknown-unit"),
        ("2 kg", "unknown-unit"),
        ("hip_girth * 100000", "too-large"),
        ("(" * 60 + "1 cm" + ")" * 60, "not-an-expression"),
        ("1 cm" + " + 1 cm" * 200, "not-an-expression"),
        ("__import__('os')", "unknown-measure"),
    ],
)
def test_refused(text: str, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        evaluate(text, MEASURES, "step 3, amount")
    assert caught.value.code == code
    assert str(caught.value).startswith("step 3, amount: ")


def test_an_unknown_measure_lists_the_closest() -> None:
    with pytest.raises(BadInput, match=r"no measure 'hip_girt'; closest: hip_girth"):
        evaluate("hip_girt / 4", MEASURES)


def test_a_plain_number_can_be_asked_for() -> None:
    assert evaluate_number("3/2", {}) == 1.5
    with pytest.raises(BadInput, match="gives a length"):
        evaluate_number("3 cm", {})


@given(st.floats(-900, 900).map(lambda x: f"{x:.3f} cm"))
def test_a_plain_length_is_an_expression(text: str) -> None:
    assert evaluate(text, {}) == length(text)


@settings(max_examples=100)
@given(st.floats(1, 2000), st.floats(1, 2000), st.floats(0.01, 50))
def test_arithmetic_is_that_of_python(a: float, b: float, k: float) -> None:
    names = {"a": a, "b": b}
    assert (
        evaluate(f"(a - b) * {k:.4f} + min(a, b) / 3", names) == (a - b) * float(f"{k:.4f}") + min(a, b) / 3
    )


_PARTS = st.sampled_from(
    [
        "hip_girth",
        "1 cm",
        "2",
        "3/4 in",
        "+",
        "-",
        "*",
        "/",
        "(",
        ")",
        ",",
        "max",
        "abs(",
        " ",
        "1,2",
        '"',
        "0",
    ]
)


@settings(max_examples=400)
@given(st.one_of(st.text(max_size=30), st.lists(_PARTS, max_size=12).map("".join)))
def test_no_text_makes_the_reader_crash(text: str) -> None:
    try:
        value = evaluate(text, MEASURES)
    except BadInput as problem:
        assert "\n" not in str(problem)
    else:
        assert math.isfinite(value)
