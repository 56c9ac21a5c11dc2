"""Where no bodice or dress can be drafted: one clear line each."""

from __future__ import annotations

import pytest
from blocks.block_soundness import KINDS, changed

from cutonce.blocks import draft_block
from cutonce.body import Body, body_of
from cutonce.errors import BadInput, CannotApply


@pytest.mark.parametrize(
    "changes, code",
    [
        ({"across_back_width": 600.0}, "no-armhole"),
        ({"across_front_width": 560.0}, "no-armhole"),
        ({"bust_span": 400.0}, "bust-point-off"),
        ({"bust_span": 95.0, "neck_to_bust_point": 350.0, "front_waist_length": 390.0}, "too-low"),
        ({"scye_depth": 380.0}, "too-low"),
        ({"front_waist_length": 200.0}, "impossible-measure"),
        ({"bust_span": 300.0, "neck_to_bust_point": 70.0}, "impossible-measure"),
        ({"shoulder_drop": 130.0}, "impossible-measure"),
    ],
)
@pytest.mark.parametrize("kind", KINDS)
def test_measures_that_cannot_be_drafted(kind: str, changes: dict[str, float], code: str, size: Body) -> None:
    with pytest.raises(CannotApply) as caught:
        draft_block(kind, "proportional", changed(size, **changes))
    assert caught.value.code == code
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("missing", ["bust_girth", "waist_girth", "back_waist_length"])
def test_missing_measure(missing: str, size: Body) -> None:
    body = body_of("Ida", {m.key: m.mm for m in size.measures if m.key != missing})
    with pytest.raises(CannotApply, match=missing):
        draft_block("bodice", "proportional", body)


@pytest.mark.parametrize("missing", ["neck_base_girth", "shoulder_length", "across_back_width", "scye_depth"])
def test_direct_wants_the_measures_it_is_named_for(missing: str, size: Body) -> None:
    body = body_of("Ida", {m.key: m.mm for m in size.measures if m.key != missing})
    with pytest.raises(CannotApply, match=missing):
        draft_block("bodice", "direct", body)
    draft_block("bodice", "proportional", body)


def test_unknown_system_lists_the_choices(size: Body) -> None:
    with pytest.raises(BadInput, match="no bodice system 'french'; there are: 'proportional', 'direct'"):
        draft_block("bodice", "french", size)


def test_unknown_ease_lists_the_choices(size: Body) -> None:
    with pytest.raises(BadInput, match="no ease at 'elbow'; it has: bust, waist, hip, neck"):
        draft_block("dress", "", size, {"elbow": 10.0})


def test_unknown_length_lists_the_choices(size: Body) -> None:
    with pytest.raises(BadInput, match="a dress has no 'train'; it has: length, length_from_nape, flare"):
        draft_block("dress", "", size, train=10.0)
    with pytest.raises(BadInput, match="a bodice has no 'length'; it has: none"):
        draft_block("bodice", "", size, length=10.0)
    with pytest.raises(BadInput, match="both 'length' and 'length_from_nape'"):
        draft_block("dress", "", size, length=600.0, length_from_nape=1000.0)
