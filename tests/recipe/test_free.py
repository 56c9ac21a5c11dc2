"""Free amounts: read, drawn at their least, settled at any position, written back with comments kept."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel

from cutonce.body import body_of
from cutonce.errors import BadInput
from cutonce.recipe.block import drafted_block
from cutonce.recipe.file import read_recipe, write_recipe
from cutonce.recipe.free import free_amounts, groups, settled
from cutonce.recipe.recipe import Recipe, StepEntry
from cutonce.recipe.replay import replay
from cutonce.recipe.schema import design_schema
from cutonce.steps import STEPS
from cutonce.units import length

BODY = body_of(
    "someone", {"waist_girth": 720.0, "hip_girth": 980.0, "waist_to_hip": 205.0, "waist_to_knee": 580.0}
)

DESIGN = """\
schema = 1
name = "A skirt"

[block]
draft = "skirt"
lengths = { length = "60 cm" }

[[steps]]
id = "flare"
do = "spread"
piece = "skirt front"
[[steps.sets]]
count = 2   # two slashes
starts = [
  { piece = "skirt front", edge = "hem", from = "centre front", by = "3 cm" },  # the first
  { piece = "skirt front", edge = "hem", from = "side", by = "3 cm" },
]
ends = [
  { piece = "skirt front", edge = "waist", from = "centre front", by = "2 cm" },
  { piece = "skirt front", edge = "waist", from = "side", by = "2 cm" },
]
opens = { total = { least = "4 cm", most = "16 cm" } }  # as much as the cloth allows

[[steps]]
id = "hem"
do = "set_finish"
role = "hem"
finish = "hem"
allowance = { least = "3 cm", most = "5 cm", with = "hem" }  # deep if there is cloth
"""

RECIPE = read_recipe(DESIGN, "design.toml")


def only(value: object) -> Recipe:
    """A recipe with one free amount."""
    return Recipe("x", RECIPE.block, (StepEntry("a", "set_finish", {"allowance": value}),))


def test_free_amounts_are_found_with_their_limits_and_groups() -> None:
    one, two = free_amounts(RECIPE, BODY.names)
    assert (one.step, one.key, one.least, one.most, one.group) == (
        "flare",
        ("sets", 0, "opens", "total"),
        40.0,
        160.0,
        "",
    )
    assert one.words == "sets 1, opens, total"
    assert (two.step, two.least, two.most, two.group) == ("hem", 30.0, 50.0, "hem")
    assert groups((one, two)) == ("", "hem")


def test_as_it_stands_it_is_drawn_at_its_least_and_a_note_says_so() -> None:
    free = replay(RECIPE, BODY, drafted_block).raise_first()
    least = replay(settled(RECIPE, BODY.names, 0.0), BODY, drafted_block).raise_first()
    assert free.draft == least.draft
    notes = [f for f in free.findings if f.code == "free-amount"]
    assert [f.step for f in notes] == ["flare", "hem"]
    assert "4 cm to 16 cm; drawn at 4 cm" in notes[0].message
    assert not [f for f in least.findings if f.code == "free-amount"]


def test_a_reused_step_has_the_note_only_while_the_amount_is_free() -> None:
    free = replay(RECIPE, BODY, drafted_block)
    least = replay(settled(RECIPE, BODY.names, 0.0), BODY, drafted_block, free)
    assert least.redone == 0 and not [f for f in least.findings if f.code == "free-amount"]
    again = replay(RECIPE, BODY, drafted_block, least)
    assert again.redone == 0 and again.findings == free.findings


def test_a_position_moves_a_groups_amounts_in_one_proportion() -> None:
    half = settled(RECIPE, BODY.names, {"": 0.5})
    assert half.steps[0].params["sets"][0]["opens"] == {"total": "10 cm"}
    assert half.steps[1].params["allowance"] == "3 cm"
    both = settled(RECIPE, BODY.names, 0.5)
    assert both.steps[1].params["allowance"] == "4 cm"
    assert RECIPE.steps[0].params["sets"][0]["opens"]["total"]["most"] == "16 cm"


def test_the_drawn_hem_is_as_much_longer_as_was_settled() -> None:
    def hem(position: float) -> float:
        draft = replay(settled(RECIPE, BODY.names, position), BODY, drafted_block).raise_first().draft
        piece = draft.piece("skirt front")
        return sum(piece.edge_length(e) for e in piece.labels if e.role == "hem")

    assert hem(1.0) - hem(0.0) == pytest.approx(120, rel=0.03)


def test_written_back_the_comments_and_everything_else_stand_as_they_were() -> None:
    text = write_recipe(settled(RECIPE, BODY.names, 0.73), DESIGN)
    expected = DESIGN.replace('{ least = "4 cm", most = "16 cm" }', '"12.7 cm"')
    expected = expected.replace('{ least = "3 cm", most = "5 cm", with = "hem" }', '"4.4 cm"')
    assert text == expected


@given(st.floats(0, 1), st.integers(0, 400), st.integers(0, 400))
def test_a_settled_length_is_within_its_limits_and_at_most_a_millimetre_short(
    position: float, low: int, more: int
) -> None:
    recipe = only({"least": f"{low / 10} cm", "most": f"{(low + more) / 10} cm"})
    value = length(settled(recipe, {}, position).steps[0].params["allowance"])
    exact = low + position * more
    assert low - 1e-9 <= value <= exact + 1e-3 and exact - value < 1.0


@pytest.mark.parametrize(
    ("free", "position", "written"),
    [
        ({"least": "2 in", "most": "4 in"}, 0.3, "2 9/16 in"),
        ({"least": 1.5, "most": 2.0}, 0.5, 1.75),
        ({"least": 1.5, "most": 2.0}, 0.99, 1.99),
        ({"least": "20 %", "most": "1/2"}, 1.0, 0.5),
        ({"least": "10 deg", "most": "20 deg"}, 0.5, "15.0 deg"),
        ({"least": "hip_girth / 20", "most": "hip_girth / 10"}, 0.0, "hip_girth / 20"),
        ({"least": "hip_girth / 20", "most": "hip_girth / 10"}, 1.0, "9.8 cm"),
        ({"least": "25.7 mm", "most": "26 mm"}, 0.5, "25.7 mm"),
        ({"least": "4 cm", "most": "4 cm"}, 0.5, "4 cm"),
    ],
)
def test_kinds_of_amounts_and_how_they_are_written(free: object, position: float, written: object) -> None:
    assert settled(only(free), BODY.names, position).steps[0].params["allowance"] == written


@pytest.mark.parametrize(
    ("free", "line"),
    [
        ({"least": "4 cm"}, "step 1 'a', allowance: a free amount has no 'most' (write for example"),
        ({"most": "4 cm"}, "a free amount has no 'least'"),
        ({"least": "4 cm", "most": "5 cm", "mots": 1}, "unknown key 'mots' (it may have: least, most, with)"),
        ({"least": "4", "most": "5 cm"}, "'4' is a plain number and '5 cm' a length"),
        ({"least": "4 deg", "most": 5}, "'4 deg' is an angle and '5' a plain number"),
        ({"least": "6 cm", "most": "5 cm"}, "the most, '5 cm', is less than the least, '6 cm'"),
        ({"least": "4 cm", "most": "hip_grth"}, "allowance, most: no measure 'hip_grth'; closest: hip_girth"),
        ({"least": True, "most": "4 cm"}, "allowance, least: 'True' is not an amount"),
        ({"least": ["4 cm"], "most": "4 cm"}, "is not an amount"),
        ({"least": "4 cm", "most": "5 cm", "with": 3}, "allowance, with: '3' is not a name"),
        ({"least": "4 cm", "most": "five"}, "no measure 'five'"),
    ],
)
def test_bad_limits_give_one_clear_line(free: dict[str, Any], line: str) -> None:
    with pytest.raises(BadInput) as problem:
        settled(only(free), BODY.names, 0.5)
    assert line in str(problem.value) and "\n" not in str(problem.value)
    done = replay(only(free), BODY, drafted_block)
    assert line.split("(")[0].split(": ", 1)[-1].strip() in str(done.problems[0])


@pytest.mark.parametrize(
    ("name", "what"),
    [("do_not", "unknown key"), ("width", "must be more than 0"), ("finish", "'finish' is '4 cm'")],
)
def test_a_step_refuses_a_free_amount_as_it_would_its_least(name: str, what: str) -> None:
    least = "0 cm" if name == "width" else "4 cm"
    params = {"role": "hem", "finish": "faced", name: {"least": least, "most": "5 cm"}}
    entry = StepEntry("a", "set_finish", params)
    done = replay(Recipe("x", RECIPE.block, (entry,)), BODY, drafted_block)
    assert what in str(done.problems[0])


@pytest.mark.parametrize("key", ["piece", "count"])
def test_a_name_or_a_count_cannot_be_free(key: str) -> None:
    params = dict(RECIPE.steps[0].params)
    if key == "piece":
        params["piece"] = {"least": "4 cm", "most": "5 cm"}
    else:
        params["sets"] = [{**params["sets"][0], "count": {"least": 2, "most": 4}}]
    entry = StepEntry("a", "spread", params)
    done = replay(Recipe("x", RECIPE.block, (entry,)), BODY, drafted_block)
    assert "this cannot be free" in str(done.problems[0]) and key in str(done.problems[0])


def test_a_step_that_is_off_has_no_free_amounts() -> None:
    text = DESIGN.replace('id = "flare"', 'id = "flare"\noff = true')
    assert [f.step for f in free_amounts(read_recipe(text, "d"), BODY.names)] == ["hem"]


def test_no_parameter_of_any_step_is_called_as_the_limits_are() -> None:
    def names(model: type[BaseModel]) -> set[str]:
        schema = model.model_json_schema(by_alias=True)
        shapes = (schema, *schema.get("$defs", {}).values())
        return {name for shape in shapes for name in shape.get("properties", {})}

    for step in STEPS:
        assert not names(step.params) & {"least", "most"}


def test_the_schema_lets_amounts_be_free_and_nothing_else() -> None:
    schema = design_schema()
    free = {"$ref": "#/$defs/FreeAmount"}
    opens, place = (schema["$defs"][name]["properties"] for name in ("Opens", "PlaceParams"))
    for amount in (opens["total"]["anyOf"][0], opens["ratio"]["anyOf"][0], place["down"]):
        assert free in amount["anyOf"]
    assert set(schema["$defs"]["FreeAmount"]["properties"]) == {"least", "most", "with"}
    assert "FreeAmount" not in str(schema["$defs"]["SlashSet"]["properties"]["count"])
    assert "FreeAmount" not in str(schema["properties"]["block"])


def test_a_free_amount_in_a_list_is_written_back_in_its_place() -> None:
    text = DESIGN.replace(
        'from = "side", by = "3 cm" }', 'from = "side", by = { least = "3 cm", most = "9 cm" } }'
    )
    assert text != DESIGN
    written = write_recipe(settled(read_recipe(text, "d"), BODY.names, {"": 0.0}), text)
    expected = DESIGN.replace('{ least = "4 cm", most = "16 cm" }', '"4 cm"')
    expected = expected.replace('{ least = "3 cm", most = "5 cm", with = "hem" }', '"3 cm"')
    assert written == expected
