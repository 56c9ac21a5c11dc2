"""Places: found by landmark, by tape and by point; the four ways in which one cannot be found, told apart."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import BUST_POINT, bodice, dress, whole_bodice, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart
from cutonce.draft.span import EdgeMark, Gone, Label, Landmark
from cutonce.errors import CannotApply
from cutonce.reshape.darts import move_dart
from cutonce.reshape.places import Place, Spot, chain, landmark_names, resolve
from cutonce.reshape.seams import divide_edge

SIDE = Label("side", "side")


def refused(draft: Draft, place: Place) -> CannotApply:
    with pytest.raises(CannotApply) as caught:
        resolve(draft, place)
    return caught.value


# By tape


@settings(max_examples=40, deadline=None)
@given(by=st.floats(0, 200), edge=st.sampled_from(["side", "shoulder", "waist", "armhole", "neck"]))
def test_tape_from_one_end_and_tape_from_the_other_meet(by: float, edge: str) -> None:
    half = bodice()
    run = chain(half, "front", edge)
    ends = {"side": ("waist", "armhole"), "shoulder": ("armhole", "neck"), "waist": ("centre front", "side")}
    first, last = ends.get(edge, ("side", "shoulder") if edge == "armhole" else ("shoulder", "centre front"))
    if by > run.length:
        problem = refused(half, Place("front", edge, start=first, by=by))
        assert problem.code == "past-end" and f"the edge is {run.length:.1f} mm" in problem.message
        return
    one = resolve(half, Place("front", edge, start=first, by=by))
    two = resolve(half, Place("front", edge, start=last, by=run.length - by))
    three = resolve(half, Place("front", edge, start=first, share=by / run.length))
    assert one.arc == pytest.approx(by, abs=1e-6)
    assert abs(one.point - three.point) < 1e-5
    # at a dart's mouth the two sides of the cloth are one place on the tape and two on the flat piece
    mouth = edge in ("shoulder", "waist") and min(abs(by - a) for a in (50, 75, run.length - 50)) < 1e-3
    assert mouth or abs(one.point - two.point) < 1e-5


@settings(max_examples=30, deadline=None)
@given(share=st.floats(0.02, 0.98), of=st.floats(0.1, 1))
def test_a_place_on_the_cloth_keeps_its_distance_when_a_dart_is_moved(share: float, of: float) -> None:
    """Spots are material: found again on the turned piece they lie where the tape has them."""
    half = bodice()
    front = half.piece("front")
    to = resolve(half, Place("front", "side", start="armhole", by=70))
    new, gone, _ = move_dart(front, front.dart("bust dart"), to, 0.22 * of, Dart("side dart"), "s")
    after = half.with_pieces([new], gone)
    for edge, end in (("side", "waist"), ("armhole", "side"), ("neck", "shoulder")):
        place = Place("front", edge, start=end, share=share)
        before, now = resolve(half, place), resolve(after, place)
        assert now.arc == pytest.approx(before.arc, abs=1e-6)
        assert now.on_cloth[0] == before.on_cloth[0]
        assert now.material == pytest.approx(before.material, abs=1e-6)


def test_tape_passes_a_dart_over_and_its_mouth_is_a_place() -> None:
    half = bodice()
    spot = resolve(half, Place("front", "shoulder", start="neck", by=50))
    mouth = resolve(half, Place("front", "shoulder", at="bust dart"))
    assert mouth.arc == pytest.approx(75) and spot.arc == pytest.approx(75)
    beyond = resolve(half, Place("front", "shoulder", start="bust dart", toward="armhole", by=10))
    assert beyond.arc == pytest.approx(65)


def test_tape_from_within_needs_a_way() -> None:
    half = dress()
    assert refused(half, Place("front", "side", start="waist", by=20)).code == "no-direction"
    up = resolve(half, Place("front", "side", start="waist", toward="armhole", by=20))
    down = resolve(half, Place("front", "side", start="waist", toward="hip", share=1.0))
    assert up.point.imag > 0 > down.point.imag
    assert abs(down.point - resolve(half, Place("front", "side", at="hip")).point) < 1e-6


# Points and offsets


def test_a_point_may_be_shifted_down_and_out() -> None:
    place = Place("front", point="bust point", down=30, out=10)
    assert resolve(bodice(), place) == Spot("front", BUST_POINT - 30j + 10)
    whole = whole_bodice()
    right = resolve(whole, Place("front", wearer="right", point="bust point", out=10))
    assert right.point == -BUST_POINT.conjugate() - 10
    assert right.label is None
    with pytest.raises(CannotApply, match="this one lies inside"):
        _ = right.on_cloth


def test_out_is_away_from_the_centre_on_a_back_too() -> None:
    left = resolve(whole_dress(), Place("back", "side", "left", at="waist", out=5))
    assert left.point.real < resolve(whole_dress(), Place("back", "side", "left", at="waist")).point.real


def test_an_unknown_point_lists_those_there_are() -> None:
    problem = refused(bodice(), Place("front", point="bst point"))
    assert str(problem) == "front: no point 'bst point'; it has: bust point"
    problem = refused(whole_bodice(), Place("front", point="bust point"))
    assert "more than one point 'bust point'; it has: left bust point, right bust point" in str(problem)


def test_a_point_is_found_by_its_piece() -> None:
    half = bodice()
    back = replace(half.piece("back"), points=(Landmark("drill", -50 + 100j),))
    assert resolve(half.with_pieces([back]), Place("back", point="drill")).point == -50 + 100j


# Left and right


def test_halves_that_adjoin_are_one_edge_unless_a_side_is_named() -> None:
    whole = whole_dress()
    assert chain(whole, "front", "hem").length == pytest.approx(
        2 * chain(whole, "front", "hem", "left").length
    )
    third = resolve(whole, Place("front", "hem", start="right side", share=0.5))
    assert abs(third.point - -650j) < 1e-6
    problem = refused(whole, Place("front", "side", at="waist"))
    assert problem.code == "ambiguous"
    assert str(problem) == (
        "'the front's side at the waist' fits 2 places: front, left side; front, right side "
        "(name the wearer's side or part)"
    )


def test_pieces_answer_to_their_name_and_their_key() -> None:
    whole = whole_dress()
    by_name = resolve(whole, Place("back", "side", "right", at="hip"))
    assert by_name == resolve(whole, Place("right back", "side", at="hip"))
    assert refused(whole, Place("left front", "side", at="hip")).message == (
        "no piece 'left front'; the draft has: front, left back, right back"
    )


def test_parts_of_a_divided_edge_are_told_apart() -> None:
    draft, further = divide_edge(dress(), "front", SIDE, 300)
    assert further.part == 2
    assert resolve(draft, Place("front", "side", start="armhole", by=10)).label == further
    assert resolve(draft, Place("front", "side", at="hem")).label == SIDE
    assert resolve(draft, Place("front", "side 2", start="side", by=0)).arc == 0
    assert resolve(draft, Place("front", "side 2", start="armhole", by=10)).label == further


# Not to be found, told apart


def test_never_there() -> None:
    problem = refused(bodice(), Place("front", "sid", at="waist"))
    assert problem.code == "no-edge"
    assert "no edge 'sid'; it has: waist, side, armhole, shoulder, neck, centre front" in str(problem)
    problem = refused(bodice(), Place("front", "side", at="knee"))
    assert problem.code == "no-landmark"
    assert str(problem) == "front, side: no 'knee' on this edge; it has: waist, armhole"


def test_cut_away_names_the_step_and_the_reason() -> None:
    half = bodice()
    waist = half.piece("front").edge(Label("waist", "waist"))[0]
    stone = Gone(
        "front", Label("strap", "strap"), waist.origin, 0.0, 86.0, "step 6", "cut away what lay above"
    )
    problem = refused(replace(half, gone=(stone,)), Place("front", "strap", at="neck"))
    assert str(problem) == "front: edge 'strap' is no more: step step 6 cut away what lay above"
    assert problem.code == "cut-away"
    mark = EdgeMark("casing", replace(waist.origin, name="strap"), 10.0)
    front = replace(half.piece("front"), marks=(mark,))
    lost = Gone("front", Label("strap", "strap"), mark.origin, 0.0, 40.0, "6", "cut the strap off")
    draft = replace(half.with_pieces([front]), gone=(lost,))
    assert str(refused(draft, Place("front", "side", at="casing"))) == (
        "front, side: the casing is no more: step 6 cut the strap off"
    )


def test_a_piece_that_went_is_named_with_its_step() -> None:
    half = bodice()
    stone = Gone("yoke", SIDE, half.piece("front").outline[0].origin, 0, 1, "4", "joined it to the back")
    problem = refused(replace(half, gone=(stone,)), Place("yoke", "side", at="waist"))
    assert problem.message == "no piece 'yoke', which step 4 cut away; the draft has: front, back"


def test_two_marks_of_one_name_on_an_edge_are_ambiguous() -> None:
    half = dress()
    front = half.piece("front")
    origin = front.edge(SIDE)[0].origin
    twice = replace(front, marks=(*front.marks, EdgeMark("hip", origin, 10.0)))
    problem = refused(half.with_pieces([twice]), Place("front", "side", at="hip"))
    assert problem.code == "ambiguous" and "'hip' fits 2 places" in problem.message


def test_every_landmark_named_as_a_choice_can_be_used() -> None:
    for draft in (bodice(), dress(), whole_dress()):
        for piece in draft.pieces:
            for label in piece.labels:
                run = chain(draft, piece.key, label.key, label.wearer)
                names = landmark_names(run)
                assert len(names) >= 2
                for name in names:
                    spot = resolve(draft, Place(piece.key, label.key, label.wearer, at=name))
                    assert spot.piece == piece.key and 0 <= spot.arc <= run.length + 1e-6
