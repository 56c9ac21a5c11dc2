"""Openings: the stretch along the seam, the same from either side, within the seam."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from cutonce.draft.seam import Drawn
from cutonce.errors import CannotApply
from cutonce.reshape.places import chain
from cutonce.steps import set_opening
from cutonce.steps.step import Result

from .drafts import dress

DRAFT = dress()


def apply(piece: str, **params: Any) -> Result:
    shape = {"edge": {"piece": piece, "edge": "side"}, "kind": "zip", **params}
    return set_opening.apply(DRAFT, set_opening.SetOpening.model_validate(shape), "s")


def test_both_sides_of_a_seam_mean_the_same_stretch() -> None:
    stretches = []
    for piece in ("front", "back"):
        opening = apply(piece, **{"from": "armhole", "by": "2 cm", "length": "20 cm"}).draft.openings[0]
        stretches.append((opening.start_mm, opening.length_mm))
    assert stretches[0] == pytest.approx(stretches[1], abs=1e-6)
    assert stretches[0][1] == pytest.approx(200.0, abs=0.2)


def test_it_starts_exactly_at_the_end_of_the_seam() -> None:
    opening = apply("front", **{"from": "armhole", "length": "20 cm"}).draft.openings[0]
    size = chain(DRAFT, "front", "side").length
    ends = (opening.start_mm, opening.start_mm + opening.length_mm)
    assert min(abs(ends[0]), abs(ends[1] - size)) < 1e-9


def test_from_a_landmark_the_way_can_be_said() -> None:
    up = apply("front", **{"from": "waist", "toward": "armhole", "length": "5 cm"}).draft.openings[0]
    down = apply("front", **{"from": "waist", "toward": "hem", "length": "5 cm"}).draft.openings[0]
    low, high = sorted([up.start_mm, down.start_mm])
    assert high - low == pytest.approx(50.0, abs=1e-6)


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"from": "armhole", "length": "9 m"}, "does not fit; the edge is"),
        ({"from": "knee", "length": "9 cm"}, "no 'knee' on this edge; it has:"),
    ],
)
def test_what_cannot_be_meant_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(CannotApply, match=line):
        apply("front", **params)


def test_an_edge_that_is_not_sewn_has_no_opening() -> None:
    shape = {"edge": {"piece": "front", "edge": "hem"}, "kind": "slit", "from": "side", "length": "5 cm"}
    with pytest.raises(CannotApply, match="not one side of a seam"):
        set_opening.apply(DRAFT, set_opening.SetOpening.model_validate(shape), "s")


def test_a_zip_in_a_seam_that_is_drawn_up_is_warned_of() -> None:
    label = chain(DRAFT, "front", "side").spans[0].label
    drawn = replace(DRAFT, drawn=(Drawn("cord", (("front", label),), 300.0, "cord"),))
    shape = {"edge": {"piece": "back", "edge": "side"}, "kind": "zip", "from": "armhole", "length": "20 cm"}
    result = set_opening.apply(drawn, set_opening.SetOpening.model_validate(shape), "s")
    assert [(f.severity, f.code) for f in result.findings] == [
        ("note", "opening-set"),
        ("warning", "zip-drawn-up"),
    ]
    slit = set_opening.SetOpening.model_validate({**shape, "kind": "slit"})
    assert [f.code for f in set_opening.apply(drawn, slit, "s").findings] == ["opening-set"]
