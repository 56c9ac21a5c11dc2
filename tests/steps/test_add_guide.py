"""Guides: points and lines by landmarks, found by later places, refused where they leave the piece."""

from __future__ import annotations

from typing import Any

import pytest

from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.reshape.places import Place, resolve
from cutonce.steps import add_guide
from cutonce.steps.step import Result

from .drafts import dress

HIP = {"piece": "front", "edge": "side", "at": "hip"}
WAIST = {"piece": "front", "edge": "side", "at": "waist"}


def apply(**params: Any) -> Result:
    return add_guide.apply(dress(), add_guide.AddGuide.model_validate(params), "s")


def test_a_point_is_where_it_was_said_and_is_found_again() -> None:
    bust = resolve(dress(), Place("front", point="bust point")).point
    draft = apply(
        name="mark", at={"piece": "front", "point": "bust point", "out": "-4 cm", "down": "1 cm"}
    ).draft
    assert resolve(draft, Place("front", point="mark")).point == pytest.approx(bust - 40 - 10j)


def test_a_line_runs_from_place_to_place_and_is_measured() -> None:
    result = apply(name="band", **{"from": {**HIP, "out": "-3 cm"}, "to": {**WAIST, "out": "-3 cm"}})
    line = next(x for x in result.draft.piece("front").lines if x.name == "band")
    assert f"{path.length(line.curves):.1f} mm" in result.findings[0].message
    assert result.draft.piece("front").outline == dress().piece("front").outline


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"name": "x"}, "say 'at' for a point, or 'from' and 'to'"),
        ({"name": "x", "at": HIP, "to": HIP}, "not both"),
        ({"name": "x", "at": {**HIP, "out": "3 cm"}}, "the x leaves the piece"),
        ({"name": "x", "from": HIP, "to": HIP}, "lie at one point"),
        ({"name": "x", "from": HIP, "to": {"piece": "back", "edge": "side", "at": "hip"}}, "keep to one"),
        (
            {"name": "bust point", "at": {"piece": "front", "point": "bust point"}},
            "a point 'bust point' already",
        ),
    ],
)
def test_what_cannot_be_meant_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(CannotApply, match=line):
        apply(**params)
