"""Shorten and cap a dart."""

from __future__ import annotations

import pytest
from steps.drafts import bodice, dress, whole_bodice

from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.path import length
from cutonce.reshape.cap import cap
from cutonce.steps.shorten_dart import STEP, ShortenDart
from cutonce.validation import validated


def params(**values: object) -> ShortenDart:
    return validated(ShortenDart, {"piece": "front", "dart": "waist dart", **values}, {}, "step 1")


def test_the_drawn_point_lies_that_far_before_the_pivot_and_no_edge_changes() -> None:
    half = bodice()
    done = STEP.apply(half, params(short="2.5 cm", folds="toward centre"), "s")
    before, front = half.piece("front"), done.draft.piece("front")
    dart = front.dart("waist dart")
    assert abs(front.dart_tip(dart) - (90 + 170j - 25j)) < 1e-9
    assert dart.capped and dart.folds == "toward centre"
    assert front.outline == before.outline
    # legs of 170.66 mm to the pivot 170 mm up, 30 mm wide: a straight waist, square to the middle line, gives
    # a roof that stands 15 tan(2 x 5.91 deg) out, where 5.91 deg is half the drawn dart's angle at its tip
    assert done.findings[0].message == (
        "the waist dart is drawn 25.0 mm before its pivot: 145.0 mm long, 30.0 mm wide at its mouth; "
        "pressed toward centre, its cap stands 3.1 mm out"
    )


def test_a_dart_is_only_pressed_the_other_way() -> None:
    done = STEP.apply(bodice(), params(dart="bust dart", folds="toward side"), "s").draft
    dart = done.piece("front").dart("bust dart")
    assert (dart.short, dart.capped, dart.folds) == (20.0, True, "toward side")
    assert length(cap(done.piece("front"), dart)) > 0


def test_shortening_alone_caps_nothing() -> None:
    dart = STEP.apply(bodice(), params(short="0 mm"), "s").draft.piece("front").dart("waist dart")
    assert (dart.short, dart.capped, dart.folds) == (0.0, False, None)


def test_both_points_of_a_double_dart_come_toward_the_waist() -> None:
    done = STEP.apply(dress(), params(short="1 cm", below="3 cm"), "s")
    dart = done.draft.piece("front").double_darts[0]
    assert (dart.upper, dart.lower, dart.intake) == (90 + 130j, 90 - 100j, 30.0)
    assert done.findings[0].message == (
        "the waist dart now reaches 130.0 mm above its widest place and 100.0 mm below it"
    )


def test_only_the_wearers_side_asked_for_changes() -> None:
    front = STEP.apply(whole_bodice(), params(wearer="left", short="4 cm"), "s").draft.piece("front")
    assert front.dart("waist dart", "left").short == 40 and front.dart("waist dart", "right").short == 20


@pytest.mark.parametrize(
    ("values", "line"),
    [
        (
            {"short": "165 mm"},
            "front: the waist dart is 170.0 mm long and cannot be drawn 165.0 mm short "
            "(at most 160.0 mm, so that 10 mm are left to sew)",
        ),
        (
            {"folds": "down"},
            "front: the waist dart cannot be pressed down (press it toward centre or toward side)",
        ),
        ({"below": "1 cm"}, "front: the waist dart has one point only (leave 'below' out)"),
        ({"dart": "wast dart", "short": "1 cm"}, "front: no dart 'wast dart'; it has: bust dart, waist dart"),
        ({"piece": "sleeve", "short": "1 cm"}, "no piece 'sleeve'; the draft has: front, back"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(values: dict[str, str], line: str) -> None:
    with pytest.raises(CannotApply) as caught:
        STEP.apply(bodice(), params(**values), "s")
    assert str(caught.value) == line


def test_a_double_dart_has_no_cap_and_keeps_something_to_sew() -> None:
    with pytest.raises(CannotApply, match="opens on no edge and has no cap"):
        STEP.apply(dress(), params(folds="toward centre"), "s")
    with pytest.raises(CannotApply, match=r"130\.0 mm long and cannot be drawn 125\.0 mm short"):
        STEP.apply(dress(), params(below="125 mm"), "s")


def test_on_a_whole_front_the_side_must_be_named() -> None:
    with pytest.raises(CannotApply) as caught:
        STEP.apply(whole_bodice(), params(short="1 cm"), "s")
    assert str(caught.value) == (
        "front: 'waist dart' fits 2 darts: front, left waist dart; front, right waist dart "
        "(name the wearer's side)"
    )


@pytest.mark.parametrize(
    ("values", "line"),
    [
        ({}, "front: the waist dart stays as it is (say 'short' or 'folds')"),
        ({"short": "-1 cm"}, "front: the waist dart cannot be drawn past its pivot"),
        ({"short": "2"}, "step 1, short: '2' gives a plain number, not a length"),
        (
            {"folds": "left"},
            "step 1: 'folds' is 'left' (it may be: 'toward centre', 'toward side', 'up', 'down')",
        ),
    ],
)
def test_what_cannot_be_read(values: dict[str, str], line: str) -> None:
    with pytest.raises(BadInput) as caught:
        params(**values)
    assert line in str(caught.value)


def test_sentences() -> None:
    assert STEP.sentence(params(short="2.5 cm", folds="toward side")) == (
        "Draw the front's waist dart 2.5 cm short, and press it toward side and cap its mouth."
    )
    assert STEP.sentence(params(wearer="left", folds="up")) == (
        "Press the front's left waist dart up and cap its mouth."
    )
    assert STEP.sentence(params(below="2 cm")) == "Shorten the front's waist dart below by 2 cm."
