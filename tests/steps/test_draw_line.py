"""Style lines: where they end, how they leave, what is kept, what falls away and who is told."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reshape.shapes import strip
from steps.drafts import bodice, dress, label, skirt, whole_bodice, whole_dress
from steps.proofs import done, lengths, place, refused, stated, unmatched

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn, Finish, Opening
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.reshape.corners import end_corners
from cutonce.reshape.partners import laid_beside
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.seams import divide_edge
from cutonce.steps import BY_NAME
from cutonce.validation import validated

STEP = BY_NAME["draw_line"]
NECK = label("neck")


def neckline(draft: Draft, piece: str, on: float, down: float, **more: Any) -> Draft:
    """A new neckline from the shoulder to the centre."""
    values = {
        "start": place(piece, "shoulder", "neck", on),
        "end": place(piece, f"centre {piece}", "neck", down),
        "leave": "square",
        "arrive": "square",
        "role": "neck",
        "keep": "below",
    }
    return done(STEP, draft, **(values | more)).draft


@settings(max_examples=25, deadline=None)
@given(
    st.floats(15, 35), st.floats(30, 140), st.floats(25, 60), st.sampled_from(["square", "80 deg", "95 deg"])
)
def test_front_and_back_necklines_meet_on_the_shoulder(on: float, down: float, back: float, way: str) -> None:
    """The shoulders still match, the corner at the shoulder is smooth when sewn, and only what was cut off is
    gone from every other edge."""
    before = lengths(bodice())
    draft = neckline(bodice(), "back", on, back, leave=way)
    draft = neckline(draft, "front", on, down, leave="with partner")
    after = lengths(draft)
    assert not unmatched(draft)
    for piece, centre, cut in (("front", "centre front", down), ("back", "centre back", back)):
        assert after[piece, "shoulder"] == pytest.approx(before[piece, "shoulder"] - on, abs=1e-6)
        assert after[piece, centre] == pytest.approx(before[piece, centre] - cut, abs=1e-6)
        for edge in ("waist", "side", "armhole"):
            assert after[piece, edge] == pytest.approx(before[piece, edge], abs=1e-6)
    corners = [end_corners(draft.piece(p), [NECK]) for p in ("front", "back")]
    sewn = [angle for pair in corners for beside, angle in pair if beside.role == "shoulder"]
    assert sum(sewn) == pytest.approx(math.pi, abs=1e-6)
    at_centre = [angle for pair in corners for beside, angle in pair if beside.role != "shoulder"]
    assert at_centre == pytest.approx([math.pi / 2] * 2, abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.floats(90, 180), st.floats(5, 60), st.floats(0, 15))
def test_a_top_edge_through_the_bust_dart_sews_up_smooth(drop: float, low: float, rise: float) -> None:
    """The dart is folded for drawing: it keeps its angle, and with it closed the edge has no corner."""
    draft = bodice()
    front = draft.piece("front")
    dart = front.dart("bust dart")
    result = done(
        STEP,
        draft,
        start=place("front", "centre front", "neck", drop),
        end=place("front", "side", "armhole", low),
        through=[{"piece": "front", "point": "bust point", "down": f"{-40 - rise} mm", "out": "30 mm"}],
        name="top",
        role="neck",
        keep="below",
    )
    new = result.draft.piece("front")
    assert new.dart_angle(dart) == pytest.approx(front.dart_angle(dart), abs=1e-9)
    assert new.pivot(dart) == front.pivot(dart)
    one, two = new.legs(dart)
    i = new.outline.index(one)
    into, out = new.outline[i - 1].curve.tangent(1), new.outline[(i + 2) % len(new.outline)].curve.tangent(0)
    fold = (one.curve.start - one.curve.end) / (two.curve.end - two.curve.start)
    assert abs(into / (out * fold / abs(fold)) - 1) < 1e-6
    assert "with the bust dart folded" in result.findings[0].message


def test_areas_sum_when_both_parts_are_kept() -> None:
    draft = bodice()
    result = done(
        STEP,
        draft,
        start=place("back", "centre back", "neck", 100),
        end=place("back", "armhole", "shoulder", 90),
        leave="square",
        arrive="square",
        name="yoke",
        keep="both",
        parts={"above": "back yoke", "below": "back"},
    )
    one, two = result.draft.piece("back yoke"), result.draft.piece("back")
    assert one.area + two.area == pytest.approx(draft.piece("back").area, rel=1e-9)
    assert not unmatched(result.draft)
    assert one.cut == two.cut == "pair"
    assert [s.name for s in result.draft.seams if s.name == "yoke"] == ["yoke"]


def test_the_upper_part_of_a_folded_piece_lies_on_the_fold_too() -> None:
    draft = done(
        STEP,
        dress(),
        start=place("front", "centre front", "neck", 320),
        end={"piece": "front", "edge": "side", "at": "waist"},
        name="waist seam",
        keep="both",
        parts={"above": "front", "below": "front skirt"},
    )
    pieces = {p.key: p for p in draft.draft.pieces}
    assert {k: (p.cut, p.fold.key if p.fold else None) for k, p in pieces.items() if p.face == "front"} == {
        "front": ("fold", "centre front"),
        "front skirt": ("fold", "centre front"),
    }


def test_a_sloping_neckline_of_a_whole_front_is_named_left_and_right() -> None:
    """It crosses the centre once: two edges that run on, with a mark where they meet on x = 0."""
    result = done(
        STEP,
        whole_bodice(),
        start=place("front", "shoulder", "neck", 70, "left"),
        end=place("front", "shoulder", "neck", 20, "right"),
        through=[
            {"piece": "front", "point": "bust point", "wearer": "left", "down": "-60 mm", "out": "-60 mm"}
        ],
        role="neck",
        keep="below",
    )
    front = result.draft.piece("front")
    assert {e.key for e in front.labels if e.role == "neck"} == {"left neck", "right neck"}
    spot = resolve(result.draft, Place("front", "neck", at="centre front"))
    assert spot.point.real == pytest.approx(0, abs=1e-6)
    straps = {k: v for k, v in lengths(result.draft).items() if k[1].endswith("shoulder") and k[0] == "front"}
    assert straps == {
        ("front", "left shoulder"): pytest.approx(55, abs=1e-6),
        ("front", "right shoulder"): pytest.approx(105, abs=1e-6),
    }


@pytest.mark.parametrize("wearer", ["left", "right"])
def test_one_side_of_a_whole_front_gets_the_wearers_name(wearer: str) -> None:
    result = done(
        STEP,
        whole_bodice(),
        start=place("front", "shoulder", "armhole", 40, wearer),
        end=place("front", "side", "armhole", 25, wearer),
        leave="square",
        arrive="square",
        role="armhole",
        keep="centre",
    )
    assert f"{wearer} armhole" in {e.key for e in result.draft.piece("front").labels}


def test_what_falls_away_is_told_and_every_reference_follows() -> None:
    """A strapless top: the shoulder and its dart, finish, zip and cord go, each with its line; tombstones say
    which step took them."""
    draft = bodice()
    armhole = ("front", label("armhole"))
    draft = replace(
        draft,
        finishes=((armhole, Finish("bound", 0.0, 8.0)), (("front", NECK), Finish("faced", 6.0, 40.0))),
        openings=(Opening("shoulder", "slit", 0.0, 30.0),),
        drawn=(Drawn("armhole cord", (armhole,), 120.0, "cord"),),
    )
    result = done(
        STEP,
        draft,
        "top",
        start=place("front", "centre front", "neck", 185),
        end=place("front", "side", "armhole", 40),
        name="top",
        keep="below",
    )
    told = "\n".join(f.message for f in result.findings)
    assert "the bust dart" in told
    assert "the back's shoulder, 125.0 mm, is now sewn to nothing" in told
    assert "the back's side 2, 40.0 mm, is now sewn to nothing" in told
    assert "the finish of the armhole fell away" in told and "the finish of the neck fell away" in told
    assert "the armhole cord is no longer drawn up" in told
    assert "a part of a seam's opening fell away" in told
    assert not result.draft.finishes and not result.draft.drawn and not result.draft.openings
    with pytest.raises(CannotApply, match="edge 'neck' is no more: step top drew the top and cut away"):
        resolve(result.draft, Place("front", "neck", at="shoulder"))


def test_a_line_can_begin_where_the_old_edge_goes_on_smoothly() -> None:
    """From half way down the armhole, along it, to lower on the side: the rest keeps the armhole's name."""
    result = done(
        STEP,
        bodice(),
        start={"piece": "back", "edge": "armhole", "from": "shoulder", "share": 0.5},
        end=place("back", "side", "armhole", 30),
        leave="along",
        arrive="square",
        fullness=1.3,
        role="armhole",
        keep="centre",
    )
    back = result.draft.piece("back")
    assert [e.key for e in back.labels].count("armhole") == 1
    run = back.edge(label("armhole"))
    turns = [abs(b.curve.tangent(0) / a.curve.tangent(1) - 1) for a, b in pairwise(run)]
    assert max(turns) < 1e-6


def test_the_partner_is_laid_beside_for_its_direction() -> None:
    """The back's neck leaves the shoulder at 80 degrees; the front's then leaves at 100."""
    draft = neckline(bodice(), "back", 30, 40, leave="80 deg")
    draft = neckline(draft, "front", 30, 60, leave="with partner")
    lay = laid_beside(draft, "front", label("shoulder"), draft.piece("front").edge_length(label("shoulder")))
    (_, one), (_, two) = end_corners(draft.piece("front"), [NECK])
    assert max(one, two) == pytest.approx(math.radians(100), abs=1e-6)
    assert not lay.mirror


@pytest.mark.parametrize(
    ("more", "code", "says"),
    [
        ({"keep": None}, "which-part", "say which part is kept"),
        ({"keep_with": {"piece": "front", "point": "bust point"}}, "which-part", "say which part is kept"),
        ({"keep": "both"}, "part-names", "'parts' names the two pieces"),
        ({"parts": {"above": "a", "below": "b"}}, "part-names", "'parts' names the two pieces"),
        ({"leave": "sqare"}, "not-a-heading", "'sqare' is no way to leave an edge"),
        ({"leave": "90"}, "not-a-heading", "'90' is no way to leave an edge"),
        ({"leave": "179 deg"}, "out-of-range", "between 3 and 177 degrees"),
        ({"depth": "2"}, "no-unit", "not a length"),
        ({"deepest": 0.99}, "line-shape", "deepest between 0.05 and 0.95"),
        (
            {"through": [{"piece": "front", "point": "bust point"}], "depth": "1 cm"},
            "line-shape",
            "a line through points takes no 'depth'",
        ),
        ({"role": "dart leg"}, "not-a-choice", "'role' is 'dart leg'"),
        ({"colour": "red"}, "unknown-key", "unknown key 'colour'"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(more: dict[str, Any], code: str, says: str) -> None:
    values = {
        "start": place("front", "shoulder", "neck", 30),
        "end": place("front", "centre front", "neck", 60),
        "keep": "below",
    } | more
    with refused(BadInput, code, says):
        validated(STEP.params, stated(values), {}, "step 1")


@pytest.mark.parametrize(
    ("more", "code", "says"),
    [
        (
            {"end": place("back", "centre back", "neck", 60)},
            "other-piece",
            "starts on the front and ends on the back",
        ),
        ({"end": place("front", "sid", "neck", 60)}, "no-edge", "no edge 'sid'"),
        ({"end": place("front", "centre front", "neck", 900)}, "past-end", "900.0 mm is past the end"),
        ({"end": place("front", "shoulder", "neck", 30)}, "line-misses", "starts and ends at one place"),
        ({"end": {"piece": "front", "point": "bust point"}}, "not-on-edge", "lies inside"),
        ({"leave": "with partner"}, "partner-not-drawn", "draw the partner's line first"),
        (
            {
                "start": place("front", "centre front", "neck", 20),
                "end": place("front", "centre front", "neck", 60),
            },
            "line-on-edge",
            "the line runs along an edge",
        ),
        (
            {"keep": None, "keep_with": {"piece": "back", "edge": "neck", "at": "shoulder"}},
            "other-piece",
            "is not in this piece",
        ),
        ({"depth": "60 cm", "toward": "down"}, "line-leaves", "the line leaves the piece"),
        ({"through": [{"piece": "back", "edge": "side", "at": "waist"}]}, "other-piece", "cannot go through"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(more: dict[str, Any], code: str, says: str) -> None:
    values = {
        "start": place("front", "shoulder", "neck", 30),
        "end": place("front", "centre front", "neck", 60),
        "keep": "below",
    } | more
    draft = bodice()
    with refused(CannotApply, code, says):
        done(STEP, draft, **stated(values))


def test_parts_that_lie_alike_must_be_told_apart_by_a_place() -> None:
    """A level line halfway down a rectangle leaves both parts as near the centre."""
    draft = Draft((strip(),))
    line = {"start": place("strip", "side", "hem", 200), "end": place("strip", "centre front", "hem", 200)}
    with pytest.raises(CannotApply, match="neither part lies nearer the centre than the other"):
        done(STEP, draft, **line, keep="centre")
    kept = done(STEP, draft, **line, keep_with=place("strip", "waist", "side", 30)).draft.piece("strip")
    assert {e.key for e in kept.labels} == {"side", "waist", "centre front", "style line"}


def test_a_neckline_across_both_pieces_of_a_skirt_is_refused_by_name() -> None:
    with pytest.raises(CannotApply, match="no piece 'front'"):
        neckline(skirt(), "front", 10, 10)


def test_the_same_recipe_on_a_whole_dress_keeps_the_other_side() -> None:
    draft = whole_dress()
    before = lengths(draft)
    result = done(
        STEP,
        draft,
        start=place("left back", "shoulder", "neck", 30),
        end=place("left back", "centre back", "neck", 90),
        leave="square",
        arrive="square",
        role="neck",
        keep="below",
    )
    after = lengths(result.draft)
    divided = {("front", "left shoulder"), ("right back", "right centre back")}
    for key, was in before.items():
        if key[0] != "left back" and key not in divided:
            assert after[key] == pytest.approx(was, abs=1e-9)
    assert after["right back", "right centre back"] == pytest.approx(
        before["right back", "right centre back"] - 90
    )
    assert after["right back", "right centre back 2"] == pytest.approx(90)
    assert Label("neck", "neck", "left") in result.draft.piece("left back").labels


def test_edges_divided_for_their_finish_stay_apart() -> None:
    """Half the armhole is bound, half left; a new neckline elsewhere must not make them one again."""
    draft = bodice()
    armhole = label("armhole")
    draft, further = divide_edge(draft, "front", armhole, 70.0)
    bound = Finish("bound", 0.0, 8.0)
    draft = replace(draft, finishes=((("front", further), bound),))
    new = neckline(draft, "front", 20, 60)
    assert dict(new.finishes) == {("front", further): bound}
    assert {armhole, further} <= set(new.piece("front").labels)


def test_a_new_edge_that_runs_on_from_an_old_one_takes_its_finish() -> None:
    draft = bodice()
    bound = Finish("bound", 0.0, 8.0)
    draft = replace(draft, finishes=((("back", label("armhole")), bound),))
    new = done(
        STEP,
        draft,
        start={"piece": "back", "edge": "armhole", "from": "shoulder", "share": 0.5},
        end=place("back", "side", "armhole", 30),
        leave="along",
        arrive="square",
        fullness=1.3,
        role="armhole",
        keep="centre",
    ).draft
    assert dict(new.finishes) == {("back", label("armhole")): bound}
