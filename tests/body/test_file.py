"""`body.toml`: what is read, what is refused, and that a rewrite loses nothing."""

from __future__ import annotations

import json
from datetime import date

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from cutonce.body import TERMS, Body, Estimate, Measure, body_schema, estimate, read_body, write_body
from cutonce.errors import BadInput

IDA = """\
# the mayor's daughter
schema = 1
name = "Ida"
date = 2026-11-02
notes = "left shoulder longer"

[measures]
# taken over the black bra
bust_girth = "92 cm"  # twice
shoulder_length = { left = "12.4 cm", right = "4 3/4 in" }
bust_span = { estimate = "18 cm", sd = "1 cm", source = "a guess" }
"""


def test_read() -> None:
    assert read_body(IDA) == Body(
        "Ida",
        (
            Measure("bust_girth", 920.0, text="92 cm"),
            Measure("shoulder_length", 124.0, "left", "12.4 cm"),
            Measure("shoulder_length", 4.75 * 25.4, "right", "4 3/4 in"),
            Measure("bust_span", 180.0, text="18 cm", estimate=Estimate("a guess", 10.0)),
        ),
        date=date(2026, 11, 2),
        notes="left shoulder longer",
    )


def test_rewriting_the_same_body_changes_no_byte() -> None:
    assert write_body(read_body(IDA), IDA) == IDA


def test_comments_survive_a_change() -> None:
    body = read_body(IDA).with_measures(
        (Measure("bust_girth", 930.0, text="93 cm"), Measure("hip_girth", 990.0))
    )
    text = write_body(body, IDA)
    assert text == IDA.replace('"92 cm"', '"93 cm"') + 'hip_girth = "990 mm"\n'
    assert read_body(text).mm("hip_girth") == 990.0


def test_a_measure_that_is_gone_leaves_the_file() -> None:
    body = read_body(IDA)
    fewer = Body(body.name, body.measures[:1], body.date, body.notes)
    text = write_body(fewer, IDA)
    assert "shoulder_length" not in text and "# twice" in text
    assert read_body(text) == fewer


def test_an_old_text_that_cannot_be_read_is_refused_and_a_wrong_value_put_right() -> None:
    body = Body("Ida", (Measure("bust_girth", 920.0, text="92 cm"),))
    with pytest.raises(BadInput, match="old file is not valid TOML"):
        write_body(body, "name = ")
    wrong = 'schema = 1\nname = "Ida"\n[measures]\nbust_girth = "92" # twice\n'
    assert write_body(body, wrong) == wrong.replace('"92"', '"92 cm"')


def test_an_estimated_body_goes_through_the_file() -> None:
    body = read_body('schema = 1\nname = "A"\n[measures]\nbust_girth = "92 cm"\nheight = "165 cm"')
    full = estimate(body, everything=True)
    again = read_body(write_body(full))
    assert [measure.key for measure in again.estimated] == [measure.key for measure in full.estimated]
    for one, other in zip(again.measures, full.measures, strict=True):
        assert one.mm == pytest.approx(other.mm, abs=0.0006)
        assert (one.estimate is None) == (other.estimate is None)


_LENGTHS = {term.key: st.integers(int(term.usual[0]), int(term.usual[1])) for term in TERMS if not term.sided}


@settings(max_examples=30)
@given(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
    st.one_of(st.none(), st.dates(date(1990, 1, 1), date(2090, 1, 1))),
    st.fixed_dictionaries({}, optional={"height": _LENGTHS["height"], "hip_girth": _LENGTHS["hip_girth"]}),
    st.integers(100, 140),
    st.integers(100, 140),
)
def test_file_round_trip(name: str, day: date | None, plain: dict[str, int], left: int, right: int) -> None:
    measures = [Measure(key, float(mm), text=f"{mm} mm") for key, mm in plain.items()]
    measures += [
        Measure("shoulder_length", float(left), "left", f"{left} mm"),
        Measure("shoulder_length", float(right), "right", f"{right} mm"),
    ]
    body = Body(name, tuple(measures), day, notes=name)
    text = write_body(body)
    assert read_body(text) == body
    assert write_body(body, text) == text


@pytest.mark.parametrize(
    ("line", "code", "says"),
    [
        ('bust_girth = "92"', "no-unit", "bust_girth: '92' has no unit"),
        ("bust_girth = 92", "no-unit", "'92' has no unit"),
        ("bust_girth = true", "no-unit", "has no unit"),
        ('bust_girth = "92 km"', "unknown-unit", "mm, cm, m, in, ft, yd"),
        ('bust_girth = "92 m"', "impossible-measure", "bust_girth 9200 cm is impossible"),
        ('bust_girth = "-92 cm"', "impossible-measure", "is impossible"),
        ('bust_grth = "92 cm"', "unknown-measure", "closest: bust_girth"),
        ('bust_girth = { left = "92 cm", right = "92 cm" }', "not-sided", "has no left and right"),
        ('shoulder_length = { left = "12 cm" }', "one-side-only", "only 'left' is given"),
        ('shoulder_length = { left = "12 cm", rigth = "12 cm" }', "unknown-key", "closest: right"),
        ('bust_span = { sd = "1 cm" }', "no-value", "no value"),
        ('bust_span = { estimate = "1 cm", sds = "1 cm" }', "unknown-key", "closest: sd"),
        ('bust_span = { estimate = "18 cm", source = 3 }', "not-text", "not a text"),
        ("bust_girth = []", "no-unit", "has no unit"),
        (
            'bust_girth = "92 cm"\nwaist_girth = "150 cm"',
            "impossible-measure",
            "waist_girth 150 cm against bust",
        ),
    ],
)
def test_refused_measures(line: str, code: str, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_body(f'schema = 1\nname = "Ida"\n[measures]\n{line}\n', "ida.toml")
    assert caught.value.code == code
    assert says in str(caught.value)
    assert str(caught.value).startswith("ida.toml")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("schema = 1\n", "no-name"),
        ('name = "Ida"\n', "no-schema"),
        ('schema = 9\nname = "Ida"\n', "newer-schema"),
        ("schema = 1\nname = 3\n", "not-text"),
        ('schema = 1\nname = "Ida"\ndate = "yesterday"\n', "not-a-date"),
        ('schema = 1\nname = "Ida"\ndate = 2026-11-02T10:00:00\n', "not-a-date"),
        ('schema = 1\nname = "Ida"\nmeasures = 3\n', "not-a-table"),
        ('schema = 1\nname = "Ida"\nbust_girth = "92 cm"\n', "unknown-key"),
        ("schema = 1\nname = \n", "broken-toml"),
    ],
)
def test_refused_files(text: str, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_body(text)
    assert caught.value.code == code


_PIECES = st.sampled_from(
    [
        "schema = 1\nname = 'a'\n",
        "[measures]\n",
        "bust_girth = '92 cm'\n",
        "measures.height = '160 cm'\n",
        "measures.shoulder_length.left = '12 cm'\nmeasures.shoulder_length.right = '11 cm'\n",
        "shoulder_length = {left='12 cm', right='11 cm'}\n",
        "[measures.bust_span]\nestimate = '18 cm'\n",
        "date = 2026-01-01\n",
        "notes = ''\n",
        "# words\n",
        "= 3\n",
        "notes.x = 1\n",
        "{left=",
        "'",
        "]",
        "\n",
    ]
)


@settings(max_examples=200)
@given(st.one_of(st.text(max_size=40), st.lists(_PIECES, max_size=8).map("".join)))
@example("schema = 1\nname = 'a'\n[measures.bust_span]\nestimate = '18 cm'\n")
@example("schema = 1\nname = 'a'\nmeasures.height = '160 cm'\n# end\n")
def test_no_file_makes_the_reader_crash(text: str) -> None:
    try:
        body = read_body(text)
    except BadInput as problem:
        assert "\n" not in str(problem)
        return
    assert read_body(write_body(body, text)) == body
    changed = body.with_measures((Measure("hip_girth", 990.0, text="99 cm"),))
    assert read_body(write_body(changed, text)) == changed


def test_the_schema_names_every_measure_and_is_json() -> None:
    schema = json.loads(json.dumps(body_schema()))
    assert list(schema["properties"]["measures"]["properties"]) == [term.key for term in TERMS]
    sides = schema["properties"]["measures"]["properties"]["shoulder_length"]["anyOf"][-1]
    assert sides["required"] == ["left", "right"]
    assert set(schema["properties"]) == {"schema", "name", "date", "notes", "measures"}
