"""The grain: directions against the body, an edge, two places; the turn is stated."""

from __future__ import annotations

import cmath
import math
from typing import Any

import pytest

from cutonce.errors import CannotApply
from cutonce.reshape.places import chain
from cutonce.reshape.unfold import unfolded
from cutonce.steps import set_grain
from cutonce.steps.step import Result

from .drafts import dress


def apply(**params: Any) -> Result:
    return set_grain.apply(dress(), set_grain.SetGrain.model_validate(params), "s")


def degrees(result: Result, piece: str = "front") -> float:
    return math.degrees(cmath.phase(result.draft.piece(piece).grain.along))


@pytest.mark.parametrize(
    ("params", "wanted"),
    [
        ({}, 90.0),
        ({"kind": "cross"}, 0.0),
        ({"kind": "bias"}, 135.0),
        ({"kind": "bias", "mirror": True}, 45.0),
        ({"turn": "10 deg"}, 100.0),
    ],
)
def test_the_warp_lies_as_asked(params: dict[str, Any], wanted: float) -> None:
    assert degrees(apply(piece="front", **params)) == pytest.approx(wanted, abs=1e-9)


def test_along_an_edge_it_follows_the_chord() -> None:
    run = chain(dress(), "front", "side")
    chord = run.spans[-1].curve.end - run.spans[0].curve.start
    along = apply(piece="front", along={"piece": "front", "edge": "side"}).draft.piece("front").grain.along
    assert abs((along / chord).imag) < 1e-12


def test_nothing_else_changes_and_the_turn_is_said() -> None:
    result = apply(piece="front", kind="bias")
    assert result.draft.piece("front").outline == dress().piece("front").outline
    assert "45.0 degrees" in result.findings[0].message


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"piece": "frnt"}, "no piece 'frnt'"),
        ({"piece": "front", "from": {"piece": "front", "edge": "hem", "at": "side"}}, "both 'from' and 'to'"),
    ],
)
def test_what_cannot_be_meant_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(CannotApply, match=line):
        apply(**params)


def test_two_pieces_of_a_name_want_the_wearers_side() -> None:
    draft = unfolded(dress(), ("back",), "u")
    with pytest.raises(CannotApply, match="'back' fits left back, right back"):
        set_grain.apply(draft, set_grain.SetGrain(piece="back"), "s")
    only = set_grain.apply(draft, set_grain.SetGrain(piece="back", wearer="left", kind="cross"), "s").draft
    assert only.piece("left back").grain.kind == "cross"
    assert only.piece("right back").grain.kind == "straight"
