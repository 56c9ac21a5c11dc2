"""The kinds of value that step parameters are declared with."""

from __future__ import annotations

import math

import pytest
from pydantic import BaseModel, ConfigDict

from cutonce.errors import BadInput
from cutonce.quantities import Angle, Length, PositiveLength, Ratio, Share


class Params(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    amount: Length = 20.0
    width: PositiveLength = 10.0
    turn: Angle = 0.0
    part: Share = 1.0
    fullness: Ratio = 1.5
    many: tuple[Length, ...] = ()


def test_text_becomes_mm() -> None:
    params = Params.model_validate({"amount": "-1 in", "turn": "180°", "part": "50 %", "fullness": 2})
    assert (params.amount, params.turn, params.part, params.fullness) == (-25.4, math.pi, 0.5, 2.0)
    assert params.width == 10.0


def test_measures_come_from_the_context() -> None:
    context = {"measures": {"hip_girth": 960.0, "waist_girth": 640.0}}
    raw = {"amount": "hip_girth / 4", "many": ["hip_girth", "1 cm"], "fullness": "hip_girth / waist_girth"}
    params = Params.model_validate(raw, context=context)
    assert (params.amount, params.many, params.fullness) == (240.0, (960.0, 10.0), 1.5)


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        ({"amount": 20}, "no-unit"),
        ({"amount": 20.0}, "no-unit"),
        ({"amount": True}, "no-unit"),
        ({"amount": "20"}, "no-unit"),
        ({"amount": "hip_girth"}, "unknown-measure"),
        ({"width": "0 cm"}, "out-of-range"),
        ({"width": "-1 cm"}, "out-of-range"),
        ({"turn": 15.0}, "no-unit"),
        ({"part": 1.5}, "out-of-range"),
        ({"fullness": 0}, "out-of-range"),
        ({"fullness": math.inf}, "out-of-range"),
        ({"fullness": "2 cm"}, "not-a-number"),
        ({"fullness": None}, "not-a-ratio"),
        ({"many": ["1 cm", 3]}, "no-unit"),
    ],
)
def test_refused(raw: dict[str, object], code: str) -> None:
    with pytest.raises(BadInput) as caught:
        Params.model_validate(raw, context={"where": "step 3 (Move a dart)"})
    assert caught.value.code == code
    assert caught.value.where == f"step 3 (Move a dart), {next(iter(raw))}"


def test_a_float_is_taken_only_when_trusted() -> None:
    params = Params.model_validate({"amount": 33.0, "turn": 0.5}, context={"trusted": True})
    assert (params.amount, params.turn) == (33.0, 0.5)
    with pytest.raises(BadInput, match="no unit"):
        Params.model_validate({"amount": 33}, context={"trusted": True})


def test_a_model_rebuilds_from_its_own_dump() -> None:
    params = Params.model_validate({"amount": "3 cm", "many": ["1 cm"], "part": 0.3})
    assert Params.model_validate(params.model_dump(), context={"trusted": True}) == params


def test_schema_says_text_with_a_unit() -> None:
    properties = Params.model_json_schema()["properties"]
    assert properties["amount"]["type"] == "string"
    assert "2 cm" in properties["amount"]["examples"]
    assert properties["many"]["items"]["type"] == "string"
