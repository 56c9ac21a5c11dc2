"""Replay: reuse of what an edit does not touch, steps switched off, precise failures, unlike halves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutonce.body import Body, body_of
from cutonce.errors import BadInput
from cutonce.recipe.block import drafted_block
from cutonce.recipe.file import read_recipe
from cutonce.recipe.recipe import Recipe
from cutonce.recipe.replay import Replayed, replay

DESIGN = """
schema = 1
name = "A skirt"
[block]
draft = "skirt"
lengths = { length = "waist_to_knee - 2 cm" }
[[steps]]
id = "first"
do = "move_dart"
piece = "skirt front"
dart = "waist dart"
share = 0.5
to = { piece = "skirt front", edge = "side", at = "hip" }
[[steps]]
id = "second"
do = "move_dart"
piece = "skirt back"
dart = "waist dart"
share = 0.25
to = { piece = "skirt back", edge = "hem", from = "side", share = 0.5 }
"""


def body(**more: float | tuple[float, float]) -> Body:
    measures: dict[str, float | tuple[float, float]] = {
        "waist_girth": 720.0,
        "hip_girth": 980.0,
        "waist_to_hip": 205.0,
        "waist_to_knee": 580.0,
    }
    return body_of("someone", {**measures, **more})


def run(recipe: Recipe, who: Body, old: Replayed | None = None) -> Replayed:
    return replay(recipe, who, drafted_block, old)


def edited(recipe: Recipe, name: str, **params: object) -> Recipe:
    steps = tuple(replace(s, params={**s.params, **params}) if s.id == name else s for s in recipe.steps)
    return replace(recipe, steps=steps)


def test_only_what_an_edit_touches_is_redone() -> None:
    recipe = read_recipe(DESIGN, "design.toml")
    first = run(recipe, body())
    assert first.redone == 2 and not first.problems
    again = run(recipe, body(), first)
    assert again.redone == 0 and again.draft is first.draft
    late = run(edited(recipe, "second", share=0.3), body(), first)
    assert late.redone == 1 and late.steps[0].draft is first.steps[0].draft
    early = run(edited(recipe, "first", share=0.3), body(), first)
    assert early.redone == 2


def test_a_reused_replay_is_the_same_as_a_fresh_one() -> None:
    recipe = read_recipe(DESIGN, "design.toml")
    changed = edited(recipe, "second", share=0.3)
    assert run(changed, body(), run(recipe, body())).draft == run(changed, body()).draft


def test_a_step_switched_off_is_left_out() -> None:
    recipe = read_recipe(DESIGN.replace('id = "first"', 'id = "first"\noff = true'), "design.toml")
    done = run(recipe, body())
    assert [s.id for s in done.steps] == ["second"]
    assert len(done.draft.piece("skirt front").darts) == len(done.block.piece("skirt front").darts)


def test_a_failure_names_step_and_choices_and_leaves_the_rest_usable() -> None:
    recipe = read_recipe(DESIGN.replace('dart = "waist dart"\nshare = 0.5', 'dart = "wast dart"'), "d")
    done = run(recipe, body())
    assert [s.problem is None for s in done.steps] == [False, True]
    assert "step 1 'first' (Move a dart), skirt front: no dart 'wast dart'; it has: waist dart" in str(
        done.problems[0]
    )


def test_a_bad_parameter_names_the_step_the_key_and_the_choices() -> None:
    recipe = edited(read_recipe(DESIGN, "d"), "first", shre=1)
    problem = run(recipe, body()).problems[0]
    assert isinstance(problem, BadInput)
    assert "step 1 'first'" in str(problem) and "unknown key 'shre'" in str(problem)
    assert "closest: share" in str(problem)


def test_lengths_follow_the_body() -> None:
    recipe = read_recipe(DESIGN, "d")
    assert run(recipe, body()).draft.piece("skirt front").edge_length(
        next(e for e in run(recipe, body()).draft.piece("skirt front").labels if e.role == "centre front")
    ) == pytest.approx(560.0)


def test_a_failure_on_one_half_names_the_half() -> None:
    """Each half reads its own measures: 10 cm down the left side, 80 cm down the right one, past its end."""
    far = 'from = "waist", by = "10 cm + (waist_to_hip - 205 mm) * 100"'
    done = run(read_recipe(DESIGN.replace('at = "hip"', far), "d"), body(waist_to_hip=(205.0, 212.0)))
    assert "step 1 'first' (Move a dart), right half, skirt front, side: 800.0 mm is past the end" in str(
        done.problems[0]
    )


def test_unlike_halves_take_the_same_steps_and_end_whole() -> None:
    done = run(read_recipe(DESIGN, "d"), body(waist_to_hip=(205.0, 212.0)))
    assert not done.problems
    assert done.draft.twin is None and done.draft.unfolded
    keys = {p.key for p in done.draft.pieces}
    assert keys == {"skirt front", "left skirt back", "right skirt back"}
