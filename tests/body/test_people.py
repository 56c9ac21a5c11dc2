"""Lists of people: columns, units, and that a bad row never stops the others."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.body import read_people
from cutonce.errors import BadInput


def test_units_sides_and_empty_cells() -> None:
    text = (
        "id,bust_girth_mm,hip_girth_cm,waist_girth_in,shoulder_length_left_cm,shoulder_length_right_cm\n"
        "a,920,98,28.5,12.4,12\n"
        "b,900,,,,\n"
    )
    first, second = read_people(text).rows
    assert first.body is not None and second.body is not None
    assert first.body.mm("hip_girth") == 980
    assert first.body.mm("waist_girth") == pytest.approx(723.9)
    assert first.body.uneven == ("shoulder_length",)
    assert (first.id, first.line, first.body.name) == ("a", 2, "a")
    assert [measure.key for measure in second.body.measures] == ["bust_girth"]


@pytest.mark.parametrize("cell, inches", [("38 1/2", 38.5), ("77/2", 38.5), ("38½", 38.5), ("38.5", 38.5)])
def test_inches_are_written_as_fractions_too(cell: str, inches: float) -> None:
    person = read_people(f"id,hip_girth_in\na,{cell}\n").rows[0]
    assert person.body is not None and person.body.mm("hip_girth") == pytest.approx(inches * 25.4)


@pytest.mark.parametrize("cell", ["38 in", "38 1/0", "-1/2", "1/2 1/2", "38'", "/2", "38 1 2"])
def test_what_is_no_number_is_refused(cell: str) -> None:
    problem = read_people(f'id,hip_girth_in\na,"{cell}"\n').rows[0].problem
    assert problem is not None and problem.where == "people.csv, line 2, hip_girth_in"


def test_a_bad_row_never_stops_the_others() -> None:
    text = "\n".join(
        [
            "id,bust_girth_mm,waist_girth_mm,shoulder_length_left_mm,shoulder_length_right_mm",
            "1,920,700,,",
            "2,tall,700,,",
            "3,920,nan,,",
            "4,92,700,,",
            "5,920,1500,,",
            "6,920",
            ",920,700,,",
            "1,900,700,,",
            "",
            "7,920,700,120,",
            "8,1_000,700,,",
            "9,920,700,,",
        ]
    )
    rows = read_people(text, "all.csv").rows
    assert [(row.id, row.problem.code if row.problem else "") for row in rows] == [
        ("1", ""),
        ("2", "not-a-number"),
        ("3", "not-a-number"),
        ("4", "impossible-measure"),
        ("5", "impossible-measure"),
        ("6", "wrong-number-of-cells"),
        ("", "no-id"),
        ("1", "given-twice"),
        ("7", "one-side-only"),
        ("8", "not-a-number"),
        ("9", ""),
    ]
    for row in rows:
        assert (row.body is None) == (row.problem is not None)
        assert row.problem is None or str(row.problem).startswith(f"all.csv, line {row.line}")


def test_unknown_columns_are_said_once() -> None:
    text = "id,bust_girth_mm,bust_girth,shoe,hip_grth_mm\n" + "".join(f"{n},920,1,2,3\n" for n in range(5))
    (finding,) = read_people(text).findings
    assert finding.severity == "note"
    assert "columns not used: 'bust_girth', 'shoe', 'hip_grth_mm'" in finding.message


def test_semicolons_and_decimal_commas() -> None:
    (row,) = read_people("\ufeffid;bust_girth_cm\na,b;92,5\n").rows
    assert row.body is not None and row.id == "a,b"
    assert row.body.mm("bust_girth") == 925


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "no-id"),
        ("bust_girth_mm\n920\n", "no-id"),
        ("id,id\n1,2\n", "no-id"),
        ("id,bust_girth_mm,bust_girth_cm\n1,2,3\n", "given-twice"),
        ("id,shoulder_length_mm,shoulder_length_left_mm,shoulder_length_right_mm\n1,2,3,4\n", "given-twice"),
        ('id,bust_girth_mm\n1,"920\n', "broken-csv"),
    ],
)
def test_refused_tables(text: str, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_people(text)
    assert caught.value.code == code


@settings(max_examples=150)
@given(
    st.text(st.sampled_from('id,;"\n\r 9.cbust_girth_mm\x00é'), max_size=60).map(
        lambda tail: "id,height_mm" + tail
    )
)
def test_no_table_makes_the_reader_crash(text: str) -> None:
    try:
        people = read_people(text)
    except BadInput as problem:
        assert "\n" not in str(problem)
    else:
        assert all((row.body is None) != (row.problem is None) for row in people.rows)
