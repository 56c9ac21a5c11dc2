"""Splitting a piece: areas, partner seams, darts taken into the seam or opening on it, names and hands."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.blocks import block
from steps.drafts import bodice, dress, label, whole_bodice, whole_dress
from steps.proofs import done, lengths, place, refused, stated, unmatched

from cutonce.draft.draft import Draft
from cutonce.draft.piece import InnerLine
from cutonce.draft.span import Span
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.curve import Line
from cutonce.reshape.blend import corners
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.unfold import unfolded
from cutonce.steps import BY_NAME
from cutonce.validation import validated

STEP = BY_NAME["split_piece"]
PANEL = label("style line")


def panel(draft: Draft, **more: Any) -> Draft:
    """The front bodice in two panels, both darts taken into the seam."""
    values = {
        "start": {"piece": "front", "edge": "shoulder", "at": "bust dart"},
        "end": {"piece": "front", "edge": "waist", "at": "waist dart"},
        "darts": ["bust dart", "waist dart"],
        "parts": {"centre": "front", "side": "side front"},
    }
    return done(STEP, draft, **(values | more)).draft


@settings(max_examples=25, deadline=None)
@given(st.floats(30, 250), st.floats(20, 90), st.booleans())
def test_a_yoke_takes_its_part_of_every_edge(down: float, along: float, square: bool) -> None:
    draft = bodice()
    way = "square" if square else "free"
    result = done(
        STEP,
        draft,
        start=place("back", "centre back", "neck", down),
        end=place("back", "armhole", "shoulder", along),
        leave=way,
        arrive=way,
        parts={"above": "back yoke", "below": "back"},
        seam="yoke",
    )
    one, two = result.draft.piece("back yoke"), result.draft.piece("back")
    assert one.area + two.area == pytest.approx(draft.piece("back").area, rel=1e-9)
    assert not unmatched(result.draft)
    after = lengths(result.draft)
    assert after["back yoke", "centre back"] == pytest.approx(down, abs=1e-6)
    assert after["back yoke", "armhole"] == pytest.approx(along, abs=1e-6)
    yoke = next(s for s in result.draft.seams if s.name == "yoke")
    assert {yoke.a.piece, yoke.b.piece} == {"back yoke", "back"}
    assert yoke.relation.kind == "equal"


@settings(max_examples=20, deadline=None)
@given(st.floats(0.1, 0.35), st.floats(15, 50), st.floats(10, 60))
def test_panels_are_smooth_and_of_one_length(angle: float, waist: float, reach: float) -> None:
    """Whatever the darts, both sides end up equal within 0.01 mm and without a corner; the rest is kept."""
    draft = bodice(bust_angle=angle, waist_intake=waist)
    before = lengths(draft)
    new = panel(draft, smooth=f"{reach} mm")
    one, two = new.piece("front"), new.piece("side front")
    name = next(s for s in new.seams if s.name == "panel seam")
    assert new.side_length(name.a) == pytest.approx(new.side_length(name.b), abs=0.01)
    for piece in (one, two):
        run = piece.edge(replace(PANEL, name="panel seam"))
        assert corners([s.curve for s in run]) < 0.0101
        assert not piece.darts
    after = lengths(new)
    assert after["side front", "side"] == pytest.approx(before["front", "side"], abs=1e-6)
    assert after["front", "centre front"] == pytest.approx(before["front", "centre front"], abs=1e-6)
    shoulders = after["front", "shoulder"] + after["side front", "shoulder"]
    assert shoulders == pytest.approx(before["front", "shoulder"], abs=1e-6)
    assert not unmatched(new)


def test_without_smoothing_the_legs_are_the_seam() -> None:
    """Both parts keep the legs as they are: areas sum, and the seam is as long as its legs."""
    draft = bodice()
    front = draft.piece("front")
    new = panel(draft, smooth="0 mm")
    one, two = new.piece("front"), new.piece("side front")
    assert one.area + two.area == pytest.approx(front.area, rel=1e-9)
    legs = [leg.length for dart in front.darts for leg in front.legs(dart)]
    sides = [p.edge_length(replace(PANEL, name="panel seam")) for p in (one, two)]
    assert sum(sides) == pytest.approx(sum(legs), abs=1e-6)


def test_a_dart_pointed_at_both_ends_goes_into_the_seam() -> None:
    """The panel seam of a dress: without smoothing the dart's area is what the parts lack."""
    draft = dress()
    back = draft.piece("back")
    dart = back.double_darts[0]
    taken = abs(dart.right - dart.left) * abs(dart.upper - dart.lower) / 2
    result = done(
        STEP,
        draft,
        start={"piece": "back", "edge": "armhole", "from": "shoulder", "share": 0.6},
        end={"piece": "back", "edge": "hem", "from": "centre back", "share": 0.4},
        darts=["waist dart"],
        arrive="square",
        smooth="0 mm",
        parts={"centre": "back", "side": "side back"},
    )
    one, two = result.draft.piece("back"), result.draft.piece("side back")
    assert one.area + two.area == pytest.approx(back.area - taken, rel=1e-9)
    assert one.double_darts == two.double_darts == ()
    assert {m.name for m in one.marks} >= {"waist"}


def test_landmark_notches_meet_when_the_seam_is_sewn() -> None:
    """The bust line crosses the panel seam: a mark in both parts, at equal distances from the seam's ends."""
    new = panel(bodice())
    sides = {}
    for key in ("front", "side front"):
        edge = next(e for e in new.piece(key).labels if e.name == "panel seam")
        sides[key] = (
            resolve(new, Place(key, "panel seam", at="bust")).arc,
            new.piece(key).edge_length(edge),
        )
    (one, whole), (two, other) = sides["front"], sides["side front"]
    assert one / whole == pytest.approx(1 - two / other, abs=1e-6)


@pytest.mark.parametrize("whole", [False, True])
def test_a_waist_seam_along_the_waist_line_opens_the_darts_on_it(whole: bool) -> None:
    draft = whole_dress() if whole else dress()
    front = draft.piece("front")
    result = done(
        STEP,
        draft,
        guide={"piece": "front", "line": "waist"},
        parts={"above": "front", "below": "front skirt"},
        seam="waist",
        role="waist",
        smooth="0 mm",
    )
    upper, lower = result.draft.piece("front"), result.draft.piece("front skirt")
    count = 2 if whole else 1
    for piece, name in ((upper, "waist"), (lower, "waist")):
        darts = [d for d in piece.darts if d.name == "waist dart"]
        assert len(darts) == count
        for dart in darts:
            one, two = piece.legs(dart)
            assert one.length == pytest.approx(two.length, abs=1e-6)
            assert abs(one.curve.start - two.curve.end) == pytest.approx(30, abs=0.01)
        assert {e.role for e in piece.labels if e.name == name} == {"waist"}
    assert not unmatched(result.draft)
    taken = count * 30 * 270 / 2  # rhombus of the dart: widest 30, 270 long
    assert upper.area + lower.area == pytest.approx(front.area - taken, rel=1e-6)


def test_a_guide_line_is_run_on_to_the_edges() -> None:
    draft = bodice()
    back = draft.piece("back")
    short = InnerLine("panel", (Line(-150 + 330j, -60 + 330j),), "guide")
    draft = draft.with_pieces([replace(back, lines=(*back.lines, short))])
    result = done(
        STEP, draft, guide={"piece": "back", "line": "panel"}, parts={"above": "yoke", "below": "back"}
    )
    assert resolve(result.draft, Place("yoke", "panel seam", at="centre back")).point == pytest.approx(330j)
    assert not unmatched(result.draft)


def test_a_guide_whose_parts_a_spread_moved_apart_runs_straight_from_one_to_the_next() -> None:
    draft = bodice()
    back = draft.piece("back")
    apart = (Line(-150 + 340j, -100 + 340j), Line(-70 + 330j, -20 + 330j))
    draft = draft.with_pieces([replace(back, lines=(*back.lines, InnerLine("panel", apart, "guide")))])
    guide, parts = {"piece": "back", "line": "panel"}, {"above": "yoke", "below": "back"}
    after = done(STEP, draft, guide=guide, parts=parts).draft
    assert after.piece("yoke").area + after.piece("back").area == pytest.approx(back.area, abs=1)
    side = next(s for s in after.seams if s.name == "panel seam")
    assert after.side_length(side.a) == pytest.approx(after.side_length(side.b), abs=0.01)
    assert not unmatched(after)


def test_a_panel_of_one_side_of_a_whole_front_is_that_sides() -> None:
    result = done(
        STEP,
        whole_bodice(),
        start={"piece": "front", "edge": "shoulder", "wearer": "left", "at": "bust dart"},
        end={"piece": "front", "edge": "waist", "wearer": "left", "at": "waist dart"},
        darts=["bust dart", "waist dart"],
        parts={"centre": "front", "side": "side front"},
    )
    assert [p.key for p in result.draft.pieces] == ["front", "left side front", "left back", "right back"]
    assert result.draft.piece("left side front").wearer == "left"
    assert {d.label.key for d in result.draft.piece("front").darts} == {"right bust dart", "right waist dart"}
    assert "left panel seam" in {s.name for s in result.draft.seams}
    assert not unmatched(result.draft)


def test_halves_split_alike_unfold_to_a_whole_with_four_panels() -> None:
    whole = unfolded(panel(bodice()), ("back",), "unfold")
    assert [p.key for p in whole.pieces] == [
        "front",
        "left side front",
        "right side front",
        "left back",
        "right back",
    ]
    assert not unmatched(whole)


@pytest.mark.parametrize(
    ("more", "code", "says"),
    [
        ({"start": None}, "line-ends", "say 'start' and 'end', or a 'guide' alone"),
        ({"guide": {"piece": "front", "line": "bust"}}, "line-ends", "or a 'guide' alone"),
        ({"parts": {"above": "a"}}, "part-names", "name both parts"),
        ({"parts": {"above": "a", "side": "b"}}, "part-names", "name both parts"),
        ({"parts": None}, "missing-key", "no 'parts'"),
        ({"depth": "2 cm"}, "line-shape", "takes darts in takes no 'depth'"),
        ({"depth": "2 cm", "darts": []}, "line-shape", "say 'toward' which way"),
        ({"smooth": "-1 cm"}, "out-of-range", "'smooth' cannot be less than 0"),
        ({"relation": "gather"}, "not-a-choice", "'relation' is 'gather'"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(more: dict[str, Any], code: str, says: str) -> None:
    values = {
        "start": {"piece": "front", "edge": "shoulder", "at": "bust dart"},
        "end": {"piece": "front", "edge": "waist", "at": "waist dart"},
        "darts": ["bust dart"],
        "parts": {"centre": "front", "side": "side front"},
    } | more
    with refused(BadInput, code, says):
        validated(STEP.params, stated(values), {}, "step 1")


@pytest.mark.parametrize(
    ("more", "code", "says"),
    [
        ({"darts": ["bust dar"]}, "no-dart", "no dart 'bust dar'"),
        ({"end": place("front", "waist", "side", 20)}, "dart-off-seam", "the waist dart does not open where"),
        ({"end": {"piece": "back", "edge": "waist", "at": "waist dart"}}, "other-piece", "ends on the back"),
        ({"parts": {"centre": "front", "side": "back"}}, "piece-name", "there is a piece 'back' already"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(more: dict[str, Any], code: str, says: str) -> None:
    with refused(CannotApply, code, says):
        panel(bodice(), **more)


def test_unknown_and_missing_guides_are_said_with_the_choices() -> None:
    with pytest.raises(CannotApply, match="no line 'hip line'; it has: bust, waist"):
        done(STEP, dress(), guide={"piece": "front", "line": "hip line"}, parts={"above": "a", "below": "b"})


def test_a_seam_across_a_double_dart_away_from_its_widest_is_refused() -> None:
    with pytest.raises(CannotApply, match="the line crosses the waist dart, which is pointed at both ends"):
        done(
            STEP,
            dress(),
            start=place("back", "centre back", "neck", 320),
            end=place("back", "side", "armhole", 120),
            parts={"above": "back", "below": "back skirt"},
        )


def test_sides_too_unlike_to_be_trued_are_refused_or_eased() -> None:
    """A dart whose sides differ by far more than truing may hide."""
    draft = dress()
    back = draft.piece("back")
    dart = replace(back.double_darts[0], left=-175 + 0j)
    draft = draft.with_pieces([replace(back, double_darts=(dart,))])
    values = {
        "start": {"piece": "back", "edge": "armhole", "from": "shoulder", "share": 0.6},
        "end": {"piece": "back", "edge": "hem", "from": "centre back", "share": 0.4},
        "darts": ["waist dart"],
        "parts": {"centre": "back", "side": "side back"},
    }
    with pytest.raises(CannotApply, match="too far apart to be trued"):
        done(STEP, draft, **values)
    eased = done(STEP, draft, **values, relation="ease").draft
    seam = next(s for s in eased.seams if s.name == "panel seam")
    assert seam.relation.kind == "ease"
    assert not unmatched(eased)


@pytest.mark.parametrize("whole", [False, True])
def test_a_yoke_with_its_dart_closed_lies_by_its_centre(whole: bool) -> None:
    """The warp runs along the centre: closing the waist dart turns the cloth beside the side seam."""
    draft = block("skirt", "12", whole)
    front = draft.piece("skirt front")
    one = {"wearer": "right"} if whole else {}
    centre = {"piece": "skirt front", "edge": "waist", "wearer": "left", "at": "centre front"}
    centre |= {"down": "70 mm"}
    values: dict[str, Any] = (
        {"start": place("skirt front", "side", "waist", 60) | one, "through": [centre]}
        if whole
        else {"start": place("skirt front", "centre front", "waist", 70), "leave": "square"}
    )
    two = {"wearer": "left"} if whole else {}
    result = done(
        STEP,
        draft,
        **values,
        end=place("skirt front", "side", "waist", 60) | two,
        parts={"above": "front yoke", "below": "skirt front"},
        seam="yoke",
    )
    yoke = result.draft.piece("front yoke")
    assert not yoke.darts
    middle = max(
        (s for s in front.outline if s.label.role == "waist"),
        key=lambda s: -min(abs(z.real) for z in ends(s)),
    )
    again = next(s for s in yoke.outline if s.origin == middle.origin and s.holds(middle.hi))
    for one_end, other in zip(ends(middle), ends(again), strict=True):
        assert one_end == pytest.approx(other, abs=1e-9)
    assert yoke.grain.along == front.grain.along
    if not whole:
        fold = yoke.edge(label("centre front"))[0].curve
        assert abs(fold.start.real) < 1e-9 and abs(fold.end.real) < 1e-9
    assert not unmatched(result.draft)


def ends(span: Span) -> tuple[complex, complex]:
    return span.curve.start, span.curve.end
