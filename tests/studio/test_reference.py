"""The reference of steps: nothing that can be written is left out of it."""

from __future__ import annotations

import pytest

from cutonce.steps import STEPS, Step
from cutonce.studio.reference import step_page, steps_page


@pytest.mark.parametrize("step", STEPS, ids=lambda s: s.name)
def test_a_page_names_every_parameter_of_the_step_and_of_the_tables_in_it(step: Step) -> None:
    page = step_page(step)
    schema = step.params.model_json_schema(by_alias=True)
    for shape in (schema, *schema.get("$defs", {}).values()):
        for name in shape["properties"]:
            assert f"| `{name}` |" in page or f"`{name}`" in page


def test_the_page_of_all_steps_says_once_how_a_place_is_written() -> None:
    assert steps_page().count("| `point` |") == 1


def test_what_is_left_out_is_said_in_millimetres_and_yes_or_no_as_in_a_file() -> None:
    pages = {s.name: step_page(s) for s in STEPS}
    assert "| `short` | how far before the pivot the new dart is drawn to end | 20 mm |" in pages["move_dart"]
    assert (
        "| `partner` | the partner follows by as much along the shared seam | `false` |"
        in pages["shift_place"]
    )
    assert "(``" not in "".join(pages.values())
