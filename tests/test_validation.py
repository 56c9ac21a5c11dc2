"""What pydantic finds wrong, in one line that says where in the file."""

from typing import Literal

import pytest
from pydantic import BaseModel, ConfigDict, Field

from cutonce.errors import BadInput
from cutonce.quantities import Length
from cutonce.validation import validated


class Inner(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)
    role: Literal["hem", "side"] = Field(description="what it is for")
    size: Length = 0.0
    from_: str = Field("", alias="from")


class Outer(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)
    edges: tuple[Inner, ...] = ()
    by_name: dict[str, Inner] = {}
    maybe: Inner | None = None
    named: str | Inner = ""


def test_what_is_right_is_read_with_its_expressions() -> None:
    outer = validated(Outer, {"edges": [{"role": "hem", "size": "hip_girth / 4"}]}, {"hip_girth": 960.0}, "a")
    assert outer.edges[0].size == 240.0


@pytest.mark.parametrize(
    "values, code, where, said",
    [
        ({"edges": [{}]}, "missing-key", "a.toml, edge 1", "no 'role' (what it is for)"),
        ({"edges": [{"role": "hem"}, {"role": "he"}]}, "not-a-choice", "a.toml, edge 2", "it may be: 'hem'"),
        ({"maybe": {"role": "hem", "sise": 1}}, "unknown-key", "a.toml, maybe", "closest: size"),
        ({"by_name": {"x": {"role": "hem", "fom": ""}}}, "unknown-key", "a.toml, by_name, x", "size, from"),
        ({"other": 1}, "unknown-key", "a.toml", "it may have: edges, by_name, maybe, named"),
        ({"edges": 3}, "bad-value", "a.toml", "'edges' is '3', where a list in [ ] is needed"),
        ({"named": 3}, "bad-value", "a.toml", "'named' is '3', where a text in quotes is needed"),
        ([], "bad-value", "a.toml", "'[]', where a table of names and values is needed"),
        ({"edges": [{"role": "hem", "size": "3"}]}, "no-unit", "a.toml, edge 1, size", "'3'"),
        ({"maybe": {"role": "hem", "size": "3"}}, "no-unit", "a.toml, maybe, size", "'3'"),
        ({"by_name": {"x": {"role": "hem", "size": "3"}}}, "no-unit", "a.toml, by_name, x, size", "'3'"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_in_one_line(values: object, code: str, where: str, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        validated(Outer, values, {}, "a.toml")
    assert (caught.value.code, caught.value.where) == (code, where)
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)
