"""Relations of seams: what is declared, what is left over, notches that meet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening
from cutonce.errors import CannotApply
from cutonce.reshape.places import chain
from cutonce.steps import relate_seam
from cutonce.steps.step import Result

from .drafts import dress


def apply(draft: Draft, **params: Any) -> Result:
    return relate_seam.apply(draft, relate_seam.RelateSeam.model_validate(params), "s")


def side(draft: Draft, piece: str) -> float:
    return chain(draft, piece, "side").length


FRONT = {"piece": "front", "edge": "side"}
BACK = {"piece": "back", "edge": "side"}


def seam_of(draft: Draft) -> Any:
    return next(s for s in draft.seams if s.name == "side")


@pytest.mark.parametrize("fuller", [FRONT, BACK])
def test_the_fuller_side_is_side_a_and_ease_is_what_it_is_longer(fuller: dict[str, str]) -> None:
    draft = apply(dress(), fuller=fuller, relation="ease", amount="6 mm").draft
    seam = seam_of(draft)
    assert seam.a.piece == fuller["piece"] and seam.relation.more_mm == 6.0
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    assert seam.relation.left_over(a, b) == pytest.approx(a - b - 6)


def test_a_gather_left_to_itself_takes_the_ratio_that_there_is() -> None:
    draft = apply(dress(), fuller=FRONT, relation="gather").draft
    seam = seam_of(draft)
    assert seam.relation.ratio == pytest.approx(side(draft, "front") / side(draft, "back"))
    assert seam.relation.left_over(700, 400) != 0, "a later change still shows"


def test_notches_meet_when_the_seam_is_sewn() -> None:
    draft = apply(dress(), fuller=FRONT, relation="equal", notches=[0.25, 0.6]).draft
    for name, share in (("side 1", 0.25), ("side 2", 0.6)):
        for piece, wanted in (("front", share), ("back", 1 - share)):
            mark = next(m for m in draft.piece(piece).marks if m.name == name)
            run = chain(draft, piece, "side")
            assert run.arc_of(mark.origin, mark.at) == pytest.approx(wanted * run.length, abs=1e-6)


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"fuller": FRONT, "relation": "ease", "ratio": 1.5}, "'ratio' is for a gather only"),
        ({"fuller": FRONT, "relation": "gather", "amount": "1 cm"}, "stated by 'ratio'"),
        ({"fuller": FRONT, "relation": "equal", "amount": "1 cm"}, "take no 'amount'"),
        ({"fuller": {"piece": "front", "edge": "hem"}, "relation": "equal"}, "not sewn to another"),
    ],
)
def test_what_cannot_be_meant_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(CannotApply, match=line):
        apply(dress(), **params)


def test_an_opening_stays_where_it_is_when_the_fuller_side_is_the_other() -> None:
    """A zip from the armhole down is still one from the armhole down when the back becomes side a."""
    draft = dress()
    size = side(draft, "front")
    draft = replace(draft, openings=(Opening("side", "zip", size - 220.0, 200.0),))
    after = apply(draft, fuller=BACK, relation="ease", amount="3 mm").draft
    assert seam_of(after).a.piece == "back"
    assert (after.openings[0].start_mm, after.openings[0].length_mm) == pytest.approx((20.0, 200.0), abs=1e-6)
