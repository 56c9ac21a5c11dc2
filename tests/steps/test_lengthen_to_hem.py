"""Lengthen to a hem: girths, centres, sides, darts, what is measured along the edges, refusals."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.blocks import size_12
from steps.drafts import bodice, dress, skirt, whole_bodice

from cutonce.blocks import draft_block
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Finish, Opening, Seam, Side
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry import path
from cutonce.reshape.blend import corners
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.unfold import unfolded
from cutonce.steps.lengthen_to_hem import STEP, LengthenToHem
from cutonce.validation import validated

SIDE, HEM, WAIST = Label("side", "side"), Label("hem", "hem"), Label("waist", "waist")
USUAL = {"to": "60 cm", "hip": "20 cm", "girth": "98 cm"}


def run(draft: Draft, **values: object) -> Draft:
    return STEP.apply(draft, validated(LengthenToHem, values, {}, "step 1"), "long").draft


def girth_at_hip(draft: Draft) -> float:
    """Across the body: where the hip line rises a little towards the side, its run to the side counts."""
    lines = [x.curves for p in draft.pieces for x in p.lines if x.name == "hip"]
    total = sum(abs(line[-1].end.real - line[0].start.real) for line in lines)
    return total if draft.unfolded else 2 * total


def sound(draft: Draft) -> None:
    for piece in draft.pieces:
        assert gap(piece) < 1e-9 and crossing(piece) is None, piece.key


@settings(max_examples=25, deadline=None)
@given(
    width=st.floats(225, 300),
    ease=st.floats(-20, 80),
    flare=st.floats(-20, 120),
    to=st.floats(300, 1100),
    whole=st.booleans(),
)
def test_girth_centres_and_sides_are_as_asked(
    width: float, ease: float, flare: float, to: float, whole: bool
) -> None:
    block = bodice(width, 0.2, 30)
    girth = 4 * width + ease
    draft = unfolded(block, ("back",), "u") if whole else block
    done = run(draft, to=f"{to:.4f} mm", hip="200 mm", girth=f"{girth:.4f} mm", flare=f"{flare:.4f} mm")
    assert girth_at_hip(done) == pytest.approx(girth, abs=1e-3)
    sound(done)
    for seam in done.seams:
        a, b = done.side_length(seam.a), done.side_length(seam.b)
        old = draft.side_length(seam.a) - draft.side_length(seam.b)
        assert a - b == pytest.approx(old, abs=1e-6), seam.name
    for piece in done.pieces:
        for label in piece.labels:
            spans = piece.edge(label)
            if label.role in ("centre front", "centre back"):
                assert all(abs(s.curve.at(t).real) < 1e-9 for s in spans for t in (0, 0.3, 1))
            if label.role == "side":
                assert corners([s.curve for s in spans]) < 1e-6
    back = done.piece("left back" if whole else "back")
    lowest = min(
        z.imag for s in back.outline if s.label.role == "centre back" for z in (s.curve.a, s.curve.d)
    )
    assert lowest == pytest.approx(-to, abs=1e-3)  # the waist at the centre back lies at y = 0
    _hem_is_square(done, flare)


def _hem_is_square(draft: Draft, flare: float) -> None:
    """At the centre it is level; at the side the corner is a right angle."""
    for piece in draft.pieces:
        n = len(piece.outline)
        for i, span in enumerate(piece.outline):
            after = piece.outline[(i + 1) % n]
            pair = {span.label.role, after.label.role}
            turn = cmath.phase(after.curve.tangent(0) / span.curve.tangent(1))
            if pair == {"hem", "side"} or (pair <= {"hem", "centre front", "centre back"} and len(pair) == 2):
                assert turn == pytest.approx(math.pi / 2, abs=1e-6), (piece.key, flare)


@pytest.mark.parametrize("system", ["proportional", "direct"])
@pytest.mark.parametrize("flare", ["0 cm", "6 cm"])
def test_the_blocks_become_dresses_that_walk_between_their_marks(system: str, flare: str) -> None:
    block = draft_block("bodice", system, size_12())
    done = run(block, to="60 cm", hip="206 mm", girth="99 cm", flare=flare)
    side = next(s for s in done.seams if s.name == "side")
    assert done.side_length(side.a) == pytest.approx(done.side_length(side.b), abs=1e-6)
    for name in ("waist", "hip"):
        below = []
        for key in ("front", "back"):
            at = resolve(done, Place(key, "side", at=name)).arc
            size = done.piece(key).edge_length(SIDE)
            below.append(at if key == "front" else size - at)
        assert below[0] == pytest.approx(below[1], abs=1e-6), name
    sound(done)


def test_waist_darts_become_darts_pointed_at_both_ends_and_the_waist_keeps_its_girth() -> None:
    block = draft_block("bodice", "direct", size_12())
    done = run(block, to="60 cm", hip="206 mm", girth="99 cm")
    for key in ("front", "back"):
        before, after = block.piece(key), done.piece(key)
        old = {d.name: d for d in before.darts if d.name.endswith("waist dart")}
        assert {d.name for d in after.double_darts} == set(old)
        line = next(x for x in after.lines if x.name == "waist")
        worn = path.length(line.curves) - sum(d.intake for d in after.double_darts)
        assert worn == pytest.approx(before.edge_length(WAIST), abs=1e-6)
        for dart in after.double_darts:
            one, two = before.legs(old[dart.name])
            assert {dart.left, dart.right} == {one.curve.start, two.curve.end}
            assert dart.upper == before.dart_tip(old[dart.name])
            for point in (dart.upper, dart.lower):  # both legs of a half are alike, so they can be sewn
                assert abs(point - dart.left) == pytest.approx(abs(point - dart.right), abs=1e-9)
    reach = {d.name: abs(d.lower - (d.left + d.right) / 2) for d in done.piece("back").double_darts}
    assert reach["waist dart"] == pytest.approx(140)
    assert reach["side waist dart"] == pytest.approx(119)


def test_waist_darts_can_go_out_at_the_side_instead() -> None:
    block = draft_block("bodice", "direct", size_12())
    done = run(block, to="60 cm", hip="206 mm", girth="99 cm", darts="taken out at the side")
    for key in ("front", "back"):
        assert done.piece(key).double_darts == ()
        line = next(x for x in done.piece(key).lines if x.name == "waist")
        assert path.length(line.curves) == pytest.approx(block.piece(key).edge_length(WAIST), abs=1e-6)
        assert corners([s.curve for s in done.piece(key).edge(SIDE)]) < 1e-6
    assert girth_at_hip(done) == pytest.approx(990, abs=1e-6)
    side = next(s for s in done.seams if s.name == "side")
    assert done.side_length(side.a) == pytest.approx(done.side_length(side.b), abs=1e-6)
    sound(done)


def test_a_stated_share_moves_the_side_seam_at_the_hip() -> None:
    done = run(bodice(), **USUAL, front_share="48 %")
    widths = {p.key: path.length(next(x.curves for x in p.lines if x.name == "hip")) for p in done.pieces}
    assert widths == {"front": pytest.approx(235.2), "back": pytest.approx(254.8)}


def test_the_old_corner_is_kept_where_no_rounding_is_asked() -> None:
    block = bodice()
    done = run(block, **USUAL, rounded="0 cm")
    old = block.piece("front").edge(SIDE)
    assert done.piece("front").edge(SIDE)[-1].curve == old[-1].curve
    assert corners([s.curve for s in done.piece("front").edge(SIDE)]) > 0.01


def test_rounding_is_told() -> None:
    done = STEP.apply(bodice(), validated(LengthenToHem, USUAL, {}, ""), "long")
    said = [f.message for f in done.findings if f.code == "side-rounded"]
    assert len(said) == 2 and said[0].startswith("rounded over 60.0 mm above the waist, at most ")
    hip = next(f for f in done.findings if f.where == "front, side" and f.code == "hip-drawn")
    assert hip.severity == "note" and "252.5 mm wide at the hip (52% of half the girth)" in hip.message


def test_an_odd_share_is_warned_about() -> None:
    done = STEP.apply(bodice(), validated(LengthenToHem, {**USUAL, "front_share": 0.4}, {}, ""), "long")
    assert {f.severity for f in done.findings if f.code == "hip-drawn"} == {"warning"}


def test_places_below_are_found_and_the_waist_edge_is_missed_by_name() -> None:
    done = run(bodice(), **USUAL)
    assert resolve(done, Place("front", "side", at="hip")).point == pytest.approx(252.5 - 200j)
    assert resolve(done, Place("front", "hem", at="centre front")).point == pytest.approx(-600j)
    assert resolve(done, Place("back", "centre back", at="hip")).point == pytest.approx(-200j)
    with pytest.raises(CannotApply, match="edge 'waist' is no more: step long drew the piece on below it"):
        resolve(done, Place("front", "waist", start="side", by=1))


def test_what_is_measured_from_the_foot_of_an_edge_moves_down_with_it() -> None:
    """A zip 200 mm long at the top of the centre back, which runs upwards: its start goes up by the 600 mm
    added below; one in the front's side, which starts at the hem now, likewise."""
    block = bodice()
    size = block.piece("front").edge_length(SIDE)
    draft = replace(
        block,
        openings=(Opening("centre back", "zip", 190, 200), Opening("side", "slit", 10, 50)),
        finishes=((("front", WAIST), Finish("hem", 20)), (("front", SIDE), Finish("seam", 15))),
    )
    done = run(draft, **USUAL)
    more = done.piece("front").edge_length(SIDE) - size
    assert done.openings[0].start_mm == pytest.approx(790)
    # the lowest 60 mm of the old side are rounded, and longer by a few hundredths
    assert done.openings[1].start_mm == pytest.approx(10 + more, abs=0.1)
    assert [ref for ref, _ in done.finishes] == [("front", SIDE)]


def test_a_skirt_grows_straight_down() -> None:
    half = skirt()
    done = run(half, to="70 cm")
    for key in ("skirt front", "skirt back"):
        for label in (SIDE, Label("centre front", "centre front"), Label("centre back", "centre back")):
            if label in half.piece(key).labels:
                grown = done.piece(key).edge_length(label) - half.piece(key).edge_length(label)
                assert grown == pytest.approx(100, abs=1e-9)
        assert done.piece(key).edge_length(HEM) == pytest.approx(245)
        assert done.piece(key).darts == half.piece(key).darts
    sound(done)


@settings(max_examples=20, deadline=None)
@given(flare=st.floats(-30, 80), more=st.floats(60, 500))
def test_a_dress_drawn_on_flares_smoothly_and_equally(flare: float, more: float) -> None:
    half = dress()
    done = run(half, to=f"{650 + more:.4f} mm", flare=f"{flare:.4f} mm")
    side = done.seams[0]
    old = half.side_length(side.a) - half.side_length(side.b)
    assert done.side_length(side.a) - done.side_length(side.b) == pytest.approx(old, abs=1e-6)
    for key in ("front", "back"):
        before = corners([s.curve for s in half.piece(key).edge(SIDE)])
        assert corners([s.curve for s in done.piece(key).edge(SIDE)]) <= before + 1e-6
    _hem_is_square(done, flare)
    sound(done)


def _divided(piece: Piece) -> Piece:
    """As if a panel had been split off: its side is a style line now."""
    panel = Label("panel", "style line")
    return replace(
        piece, outline=tuple(replace(s, label=panel) if s.label == SIDE else s for s in piece.outline)
    )


def test_refusals() -> None:
    half = bodice()
    cases = [
        (half, {"to": "60 cm"}, "front: the pieces end at the waist: say how far below it the hip lies"),
        (
            half,
            {**USUAL, "to": "21 cm"},
            "210.0 mm from the waist ends less than 30 mm below the hip line, 200.0",
        ),
        (skirt(), USUAL, "skirt front: the pieces reach to a hem below the waist already"),
        (
            skirt(),
            {"to": "50 cm"},
            "skirt back: it is 600.0 mm long from the waist already, 500.0 mm were asked",
        ),
        (
            half.with_pieces([_divided(half.piece("front"))]),
            USUAL,
            "front: its lower edge ends at the panel, not at a side or centre",
        ),
        (
            replace(
                half, seams=(*half.seams, Seam("waist", Side("front", (WAIST,)), Side("back", (WAIST,))))
            ),
            USUAL,
            "front: its waist is sewn in the seam 'waist' (join the pieces there, or lengthen the lower one)",
        ),
        (half, {**USUAL, "girth": "2 cm"}, "drawn on like this the piece would cross itself"),
        (Draft(()), USUAL, "no piece has a waist or a hem to lengthen from"),
        (
            replace(half, pieces=(*half.pieces, skirt().piece("skirt front"))),
            USUAL,
            "some pieces end at the waist, others at a hem",
        ),
    ]
    for draft, values, line in cases:
        with pytest.raises(CannotApply) as caught:
            run(draft, **values)
        assert line in str(caught.value)


def test_bad_input() -> None:
    for values, line in (
        ({"hip": "20 cm"}, "no 'to'"),
        ({"to": "0 cm"}, "must be more than 0"),
        ({"to": "60"}, "add a unit"),
        ({"to": "60 cm", "darts": "sewn"}, "'darts' is 'sewn'"),
    ):
        with pytest.raises(BadInput) as caught:
            run(bodice(), **values)
        assert line in str(caught.value)


def test_a_whole_bodice_keeps_left_and_right_apart() -> None:
    done = run(whole_bodice(), **USUAL)
    front = done.piece("front")
    assert {e.key for e in front.labels if e.role == "hem"} == {"left hem", "right hem"}
    assert {(x.name, x.wearer) for x in front.lines if x.name == "hip"} == {("hip", "left"), ("hip", "right")}
    assert {(d.name, d.wearer) for d in front.double_darts} == {
        ("waist dart", "left"),
        ("waist dart", "right"),
    }
    left = resolve(done, Place("front", "side", "left", at="hip")).point
    assert left.real > 0
    assert resolve(done, Place("left back", "side", at="hip")).point.real < 0


def test_sentences() -> None:
    params = validated(LengthenToHem, {**USUAL, "flare": "3 cm"}, {}, "")
    assert STEP.sentence(params) == (
        "Lengthen the pieces to a hem 60 cm below the waist, 98 cm round at the hip, 20 cm down, "
        "each side flared by 3 cm; waist darts pointed at both ends."
    )
    params = validated(LengthenToHem, {"to": "80 cm", "flare": "-2 cm"}, {}, "")
    assert STEP.sentence(params) == (
        "Lengthen the pieces to a hem 80 cm below the waist, each side pegged by 2 cm."
    )
