"""design.toml: what is read is what is written, comments survive, bad files give one clear line."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.errors import BadInput
from cutonce.recipe.file import read_recipe, write_recipe
from cutonce.recipe.recipe import StepEntry

TEXT = """\
schema = 1
name = "A skirt"  # the client's word for it

[block]
draft = "skirt"
lengths = { length = "60 cm" }

# The waist dart goes
[[steps]]
id = "first"
do = "move_dart"
piece = "skirt front"
dart = "waist dart"   # the only one
to = { piece = "skirt front", edge = "hem", from = "side", share = 0.4 }

[[steps]]
id = "second"
do = "move_dart"
piece = "skirt back"
dart = "waist dart"
to = { piece = "skirt back", edge = "hem", from = "side", share = 0.4 }
"""


def test_what_is_written_is_what_was_read() -> None:
    recipe = read_recipe(TEXT, "d")
    assert read_recipe(write_recipe(recipe), "d") == recipe
    assert write_recipe(recipe, TEXT) == TEXT


def test_comments_survive_an_edit() -> None:
    recipe = read_recipe(TEXT, "d")
    first = replace(recipe.steps[0], params={**recipe.steps[0].params, "share": 0.5}, off=True)
    new = write_recipe(replace(recipe, steps=(first, recipe.steps[1])), TEXT)
    assert read_recipe(new, "d").steps[0] == first
    for comment in ("# the client's word for it", "# The waist dart goes", "# the only one"):
        assert comment in new


def test_steps_can_be_reordered_added_and_taken_out() -> None:
    recipe = read_recipe(TEXT, "d")
    extra = StepEntry("third", "move_dart", {"piece": "skirt back", "dart": "x", "into": "y"})
    steps = (recipe.steps[1], extra, recipe.steps[0])
    new = write_recipe(replace(recipe, steps=steps), TEXT)
    assert read_recipe(new, "d").steps == steps
    assert "# the only one" in new
    fewer = write_recipe(replace(recipe, steps=recipe.steps[1:]), TEXT)
    assert read_recipe(fewer, "d").steps == recipe.steps[1:]


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("schema = 1\n", "", "no schema version"),
        ("schema = 1", "schema = 99", "schema '99' is not a version|newer"),
        ('name = "A skirt"', "name = 3", "'3' is not a text"),
        ('name = "A skirt"', "", "no 'name'"),
        ("[block]", "[blok]", "unknown key 'blok'; closest: block"),
        ('do = "move_dart"', 'do = "move_drat"', "no kind of step 'move_drat'; closest: move_dart"),
        ('id = "second"', 'id = "first"', "two steps have the id 'first'"),
        ('id = "first"', 'id = "First one"', "the id 'First one'"),
        ('id = "first"', 'id = "block"', "'block' is what the block itself is called"),
        ('id = "first"', 'id = "first"\noff = "yes"', "'off' is 'yes'"),
        ('draft = "skirt"', 'darft = "skirt"', "unknown key 'darft'"),
        ("[[steps]]", "[steps", "not valid TOML"),
    ],
)
def test_bad_files_give_one_clear_line(old: str, new: str, line: str) -> None:
    with pytest.raises(BadInput) as problem:
        read_recipe(TEXT.replace(old, new, 1), "design.toml")
    said = str(problem.value)
    assert said.startswith("design.toml") and "\n" not in said
    assert any(part in said for part in line.split("|"))


@given(st.text(max_size=60), st.integers(0, len(TEXT)))
def test_no_text_crashes_the_reader(noise: str, at: int) -> None:
    try:
        read_recipe(TEXT[:at] + noise + TEXT[at:], "design.toml")
    except BadInput as problem:
        assert "\n" not in str(problem)
