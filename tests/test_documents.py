"""What the files have in common: TOML, schema versions, unknown names."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.documents import migrate, parse_toml, refuse_unknown, table, words
from cutonce.errors import BadInput


def _first(document: dict[str, Any]) -> dict[str, Any]:
    return {"waist": document["middle"]}


def _second(document: dict[str, Any]) -> dict[str, Any]:
    return {"waist_girth": document["waist"]}


def test_migrations_run_from_the_version_that_was_written() -> None:
    steps = (_first, _second)
    assert migrate({"schema": 1, "middle": 7}, steps, "") == {"schema": 3, "waist_girth": 7}
    assert migrate({"schema": 2, "waist": 7}, steps, "") == {"schema": 3, "waist_girth": 7}
    assert migrate({"schema": 3, "waist_girth": 7}, steps, "") == {"schema": 3, "waist_girth": 7}


@pytest.mark.parametrize(
    ("document", "code"),
    [
        ({}, "no-schema"),
        ({"schema": 2}, "newer-schema"),
        ({"schema": 0}, "not-a-schema"),
        ({"schema": True}, "not-a-schema"),
        ({"schema": "1"}, "not-a-schema"),
    ],
)
def test_refused_versions(document: dict[str, Any], code: str) -> None:
    with pytest.raises(BadInput) as caught:
        migrate(document, (), "body.toml")
    assert caught.value.code == code


@pytest.mark.parametrize("text", ["a =", "[a\n", "a = 1\na = 2", "x = " + "[" * 3000, "x = " + "9" * 6000])
def test_broken_toml_is_one_line(text: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_toml(text, "body.toml")
    assert caught.value.code == "broken-toml"
    assert "\n" not in str(caught.value)


@given(st.text(max_size=60))
def test_no_text_makes_the_parser_crash(text: str) -> None:
    try:
        parse_toml(text, "body.toml")
    except BadInput as problem:
        assert problem.code == "broken-toml"


@pytest.mark.parametrize(
    "text, hint",
    [
        ('by = "7 cm\n', "quotation mark"),
        ('at = { edge = "side" by = "1 cm" }', "commas"),
        ('at = { edge = "side",\n by = "1 cm" }', "one line"),
        ("[[steps]]\n[steps]", "[[steps]]"),
        ("by = 7 cm", 'quotes: "2 cm"'),
        ("by = “7 cm”", "straight quotes"),
        ("by 7", 'name = "value"'),
        ("by = [1\n2]", "']'"),
    ],
)
def test_common_slips_are_said_in_plain_words(text: str, hint: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_toml(text, "design.toml")
    assert hint in caught.value.hint


def test_unknown_names_come_with_the_nearest_and_all() -> None:
    with pytest.raises(BadInput, match=r"unknown key 'nmae'; closest: name \(it may have: name, date\)"):
        refuse_unknown(["nmae"], ["name", "date"], "body.toml")


def test_kinds_of_value() -> None:
    with pytest.raises(BadInput, match="not a table"):
        table(3, "body.toml, measures")
    with pytest.raises(BadInput, match="not a text"):
        words(3, "body.toml, name")
