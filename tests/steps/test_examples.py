"""Every step's worked examples, replayed on a body of the trade table's size 12."""

from __future__ import annotations

from functools import cache

import pytest

from cutonce.body import Body, body_from_size, body_of, estimate
from cutonce.draft.draft import Draft
from cutonce.recipe.block import drafted_block
from cutonce.recipe.recipe import BlockEntry, Recipe, StepEntry
from cutonce.recipe.replay import Done, replay
from cutonce.reshape.soundness import crossing, gap
from cutonce.steps import STEPS, Example, Step

CASES = [pytest.param(s, e, id=f"{s.name}: {e.title}") for s in STEPS for e in s.examples]


@cache
def sample() -> Body:
    """Size 12 of the trade table (sewingscholar.blogspot.com 2011/02), the rest estimated for 168 cm."""
    size = body_from_size("trade-misses", "12")
    return estimate(size.with_measures(body_of("", {"height": 1680.0}).measures), everything=True)


def done(step: Step, example: Example) -> Done:
    before = tuple(
        StepEntry(str(e.get("id", f"before-{i}")), str(e["do"]), _params(e))
        for i, e in enumerate(example.before)
    )
    entry = StepEntry("example", step.name, example.params)
    recipe = Recipe("example", BlockEntry(example.block), (*before, entry))
    replayed = replay(recipe, sample(), drafted_block).raise_first()
    return replayed.steps[-1]


def _params(entry: object) -> dict[str, object]:
    assert isinstance(entry, dict)
    return {k: v for k, v in entry.items() if k not in ("id", "do")}


@pytest.mark.parametrize(("step", "example"), CASES)
def test_the_example_does_what_its_arithmetic_says(step: Step, example: Example) -> None:
    ran = done(step, example)
    assert ran.before is not None
    before, after = lengths(ran.before), lengths(ran.draft)
    named = {(piece, edge) for piece, edge, _ in example.changes}
    for piece, edge, change in example.changes:
        was = before.get((piece, edge), 0.0)
        assert after.get((piece, edge), 0.0) - was == pytest.approx(change, abs=0.05), (piece, edge)
    if not example.rest_free:
        for key, was in before.items():
            if key not in named:
                assert after.get(key) == pytest.approx(was, abs=0.01), key


@pytest.mark.parametrize(("step", "example"), CASES)
def test_the_example_leaves_sound_pieces(step: Step, example: Example) -> None:
    ran = done(step, example)
    for piece in ran.draft.pieces:
        assert gap(piece) < 1e-9, piece.key
        assert piece.area > 0
        assert crossing(piece) is None, piece.key
        for label in piece.labels:
            runs = sum(a.label != label and b.label == label for a, b in _neighbours(piece.outline, label))
            assert runs <= 1, f"{piece.key}: {label.key} lies in {runs} runs"
    for seam in ran.draft.seams:
        for side in (seam.a, seam.b):
            labels = ran.draft.piece(side.piece).labels
            assert all(label in labels for label in side.labels), seam.name


def _neighbours(outline: tuple, label: object) -> list[tuple]:  # type: ignore[type-arg]
    solid = [s for s in outline if s.label.role != "dart leg"]
    return list(zip([solid[-1], *solid[:-1]], solid, strict=True))


@pytest.mark.parametrize(("step", "example"), CASES)
def test_the_example_is_said_in_a_sentence(step: Step, example: Example) -> None:
    said = done(step, example).sentence
    assert said.endswith(".") and said[0].isupper() and "\n" not in said


@pytest.mark.parametrize("step", STEPS, ids=lambda s: s.name)
def test_every_step_is_documented(step: Step) -> None:
    assert step.examples, "a step without a worked example"
    assert step.purpose.endswith(".") and step.holds.endswith(".") and step.title
    schema = step.params.model_json_schema(by_alias=True)
    for name, shown in schema["properties"].items():
        assert shown.get("description") or "$ref" in str(shown), f"{step.name}.{name} has no description"
    assert __import__(f"cutonce.steps.{step.name}", fromlist=["STEP"]).STEP is step


def lengths(draft: Draft) -> dict[tuple[str, str], float]:
    return {(p.key, e.key): p.edge_length(e) for p in draft.pieces for e in p.labels}
