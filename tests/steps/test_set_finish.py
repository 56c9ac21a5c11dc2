"""Finishes: which edges they land on, custom where nothing is said, what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from cutonce.draft.draft import Draft
from cutonce.errors import BadInput, CannotApply
from cutonce.steps import set_finish
from cutonce.steps.step import Result

from .drafts import dress


def apply(draft: Draft, **params: Any) -> Result:
    return set_finish.apply(draft, set_finish.SetFinish.model_validate(params), "s")


def finishes(draft: Draft) -> dict[str, Any]:
    return {f"{key} {label.key}": finish for (key, label), finish in draft.finishes}


def test_a_role_reaches_every_piece() -> None:
    found = finishes(apply(dress(), role="armhole", finish="bound", width="10 mm").draft)
    assert set(found) == {"front armhole", "back armhole"}
    assert all((f.allowance, f.strip_mm, f.shows) == (0, 10, "both") for f in found.values())


def test_a_later_finish_takes_the_place_of_an_earlier_one() -> None:
    hem = [{"piece": "front", "edge": "hem"}]
    draft = apply(dress(), edges=hem, finish="hem").draft
    draft = apply(draft, edges=hem, finish="raw").draft
    assert [f.kind for _, f in draft.finishes] == ["raw"]


def test_custom_fills_in_what_is_not_said() -> None:
    found = finishes(apply(dress(), role="neck", finish="faced").draft)
    assert {(f.allowance, f.strip_mm) for f in found.values()} == {(6.0, 50.0)}


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"finish": "bound"}, "either 'edges' or 'role'"),
        ({"role": "cut-out", "finish": "bound"}, "no edge has the role 'cut-out'; there are:"),
        ({"role": "side", "finish": "bound"}, "is sewn to another edge"),
    ],
)
def test_what_cannot_be_done_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(CannotApply, match=line):
        apply(dress(), **params)


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"finish": "bound", "allowance": "1 cm"}, "a bound edge has no allowance"),
        ({"finish": "seam", "width": "1 cm"}, "'width' means nothing where the finish is 'seam'"),
        ({"finish": "seam", "allowance": "-1 cm"}, "-1 cm lies inside the piece"),
        ({"finish": "hem", "allowance": "51 cm"}, "51 cm is more than 50 cm"),
        ({"finish": "faced", "width": "1 m"}, "100 cm is more than 50 cm"),
    ],
)
def test_what_cannot_be_meant_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(BadInput, match=line):
        apply(dress(), role="neck", **params)
