"""Units: what she may write, what is refused, and that no text whatever makes the reader crash."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from cutonce.errors import BadInput
from cutonce.units import MM_PER_UNIT, Typed, Unit, angle, length, seconds, share, show


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 cm", 120.0),
        ("120mm", 120.0),
        ("4 3/4 in", 120.65),
        ('4 3/4"', 120.65),
        ("4¾ in", 120.65),
        ("½ in", 12.7),
        ("0.5 yd", 457.2),
        ("1 ft 2 in", 355.6),
        ("1' 2 1/2\"", 368.3),
        ("5′3″", 1600.2),
        ("-3 mm", -3.0),
        ("−3 mm", -3.0),
        ("- 1 ft 2 in", -355.6),
        ("+3 mm", 3.0),
        ("12,5 cm", 125.0),
        ("0,125 m", 125.0),
        (".5 cm", 5.0),
        ("1 m 62 cm", 1620.0),
        ("2 yards", 1828.8),
        ("3 inches", 76.2),
        ("3 in.", 76.2),
        ("1 foot", 304.8),
        ("12 Centimetres", 120.0),
        ("12 CM", 120.0),
        ("  7\tmm ", 7.0),
        ("0 cm", 0.0),
        ("7/8 yd", 800.1),
    ],
)
def test_lengths(text: str, mm: float) -> None:
    assert length(text) == pytest.approx(mm, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("92", "no-unit"),
        ("3/4", "no-unit"),
        ("4 3/4", "no-unit"),
        ("1 ft 2", "no-unit"),
        (92, "no-unit"),
        (9.5, "no-unit"),
        (True, "no-unit"),
        (None, "no-unit"),
        ("12 km", "unknown-unit"),
        ("12 cmm", "unknown-unit"),
        ("12 cm²", "unknown-unit"),
        ("1e3 mm", "unknown-unit"),
        ("", "not-a-length"),
        ("cm", "not-a-length"),
        ("nan cm", "not-a-length"),
        ("inf cm", "not-a-length"),
        ("12 cm 3 cm", "not-a-length"),
        ("2 in 1 ft", "not-a-length"),
        ("12 cm + 3", "not-a-length"),
        ("--3 cm", "not-a-length"),
        ("1.2.3 cm", "not-a-length"),
        ("1,200,5 mm", "not-a-length"),
        ("1,200 mm", "ambiguous-comma"),
        ("1/0 in", "divide-by-zero"),
        ("½5 in", "not-a-length"),
        ("½½ in", "not-a-length"),
        ("9" * 400 + " mm", "too-large"),
        ("2000 m", "too-large"),
    ],
)
def test_refused_lengths(text: object, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        length(text, "body.toml, bust_girth")
    assert caught.value.code == code
    assert str(caught.value).startswith("body.toml, bust_girth: ")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "found"),
    [("10s", 10.0), ("0.5 s", 0.5), ("2 minutes", 120.0), ("½ min", 30.0), ("60 min", 3600.0)],
)
def test_times(text: str, found: float) -> None:
    assert seconds(text) == found


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("10", "not-a-time"),
        (10, "not-a-time"),
        ("", "not-a-time"),
        ("s", "not-a-time"),
        ("10 h", "not-a-time"),
        ("-3 s", "not-a-time"),
        ("10 s 3", "not-a-time"),
        ("0s", "out-of-range"),
        ("61 min", "out-of-range"),
        ("1/0 s", "divide-by-zero"),
        ("9" * 400 + " s", "out-of-range"),
    ],
)
def test_refused_times(text: object, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        seconds(text, "--time")
    assert caught.value.code == code
    assert str(caught.value).startswith("--time: ")


def test_unknown_unit_lists_the_units_and_guesses() -> None:
    with pytest.raises(BadInput, match=r"did you mean 'inch'\? \(mm, cm, m, in, ft, yd\)"):
        length("3 inhc")


def test_bare_number_says_what_to_write() -> None:
    with pytest.raises(BadInput, match=r"'92' has no unit \(write '92 cm'\)"):
        length("92")


@given(
    st.sampled_from(sorted(MM_PER_UNIT)),
    st.integers(0, 200),
    st.integers(0, 15),
)
def test_a_mixed_fraction_is_its_parts(unit: Unit, whole: int, sixteenths: int) -> None:
    expected = (whole + sixteenths / 16) * MM_PER_UNIT[unit]
    assert length(f"{whole} {sixteenths}/16 {unit}") == pytest.approx(expected, rel=1e-12, abs=1e-12)


@given(st.floats(-3000, 3000), st.sampled_from(["mm", "cm"]))
def test_what_is_shown_reads_back_within_its_rounding(mm: float, unit: Unit) -> None:
    assert length(show(mm, unit)) == pytest.approx(mm, abs=0.0501)


@given(st.floats(-3000, 3000))
def test_inches_are_shown_to_the_nearest_sixteenth(mm: float) -> None:
    shown = show(mm, "in")
    assert length(shown) == pytest.approx(mm, abs=25.4 / 32 + 1e-9)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (0.0, "cm", "0 cm"),
        (-0.001, "cm", "0 cm"),
        (-0.1, "in", "0 in"),
        (-12.7, "in", "-1/2 in"),
        (25.4, "in", "1 in"),
        (25.3, "in", "1 in"),
        (100.0, "cm", "10 cm"),
        (1000.0, "mm", "1000 mm"),
        (1371.6, "yd", "1.5 yd"),
    ],
)
def test_show(mm: float, unit: Unit, text: str) -> None:
    assert show(mm, unit) == text


@settings(max_examples=300)
@given(st.one_of(st.text(max_size=30), st.from_regex(r"[-+]?[0-9 ,./½]{1,9}[a-z\"'°%]{0,4}", fullmatch=True)))
@example("1" * 5000 + "/1 mm")
@example("½½ in")
@example("1 /2 cm")
@example("٣ cm")
def test_no_text_makes_the_readers_crash(text: str) -> None:
    for read in (length, angle, share):
        try:
            value = read(text)
        except BadInput as problem:
            assert "\n" not in str(problem)
        else:
            assert math.isfinite(value)


@pytest.mark.parametrize(
    ("text", "radians"),
    [("15 deg", math.pi / 12), ("15°", math.pi / 12), ("-90 degrees", -math.pi / 2), ("0.2 rad", 0.2)],
)
def test_angles(text: str, radians: float) -> None:
    assert angle(text) == pytest.approx(radians, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("15", "no-unit"),
        (15, "no-unit"),
        ("15 cm", "unknown-unit"),
        ("15\n½", "no-unit"),
        ("deg", "not-an-angle"),
        ("15 deg 3", "not-an-angle"),
        ("361 deg", "too-large"),
    ],
)
def test_refused_angles(text: object, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        angle(text, "step 2")
    assert caught.value.code == code
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(("value", "part"), [(0, 0.0), (1, 1.0), (0.4, 0.4), ("40 %", 0.4), ("1/3", 1 / 3)])
def test_shares(value: object, part: float) -> None:
    assert share(value) == pytest.approx(part)


@pytest.mark.parametrize(
    ("value", "code"),
    [
        (1.2, "out-of-range"),
        (-0.1, "out-of-range"),
        (math.nan, "out-of-range"),
        ("140 %", "out-of-range"),
        (True, "not-a-share"),
        ("half", "not-a-share"),
        ("2 cm", "not-a-share"),
    ],
)
def test_refused_shares(value: object, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        share(value)
    assert caught.value.code == code


def test_what_she_typed_is_kept() -> None:
    assert Typed.read("½ in") == Typed("½ in", 12.7)
