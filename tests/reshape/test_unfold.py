"""Unfolding: areas, names, seams, openings and centres of the two halves."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import bodice, dress, edge, skirt

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Finish, Opening
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import reflecting, shifting, turning
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.unfold import unfolded

halves = st.builds(bodice, st.floats(225, 320), st.floats(0.03, 0.35), st.floats(8, 55)).filter(
    lambda d: crossing(d.piece("front")) is None
)
SIDE, CENTRE = Label("side", "side"), Label("centre front", "centre front")


@settings(max_examples=25, deadline=None)
@given(left=halves, right=halves)
def test_two_unlike_halves_give_the_sum_of_their_areas_and_all_their_edges(left: Draft, right: Draft) -> None:
    whole = unfolded(replace(left, twin=right), (), "u")
    front = whole.piece("front")
    assert front.area == pytest.approx(left.piece("front").area + right.piece("front").area, rel=1e-9)
    assert whole.piece("left back").area == pytest.approx(left.piece("back").area, rel=1e-9)
    assert whole.piece("right back").area == pytest.approx(right.piece("back").area, rel=1e-9)
    for wearer, half in (("left", left), ("right", right)):
        for label in half.piece("front").labels:
            if label != CENTRE:
                named = replace(label, wearer=wearer)  # type: ignore[arg-type]
                assert front.edge_length(named) == pytest.approx(
                    half.piece("front").edge_length(label), abs=1e-9
                )
    for piece in whole.pieces:
        assert gap(piece) < 1e-9 and crossing(piece) is None and piece.flips == 0


@settings(max_examples=20, deadline=None)
@given(half=halves)
def test_like_halves_mirror_each_other(half: Draft) -> None:
    front = unfolded(half, (), "u").piece("front")
    mirror = reflecting(0j, 1j)
    right = {
        (round(s.curve.start.real, 6), round(s.curve.start.imag, 6)) for s in front.moved(mirror).outline
    }
    assert right == {(round(s.curve.start.real, 6), round(s.curve.start.imag, 6)) for s in front.outline}
    assert {(d.name, d.wearer) for d in front.darts} == {
        (n, w) for n in ("bust dart", "waist dart") for w in ("left", "right")
    }


def test_a_front_kept_apart_gets_a_centre_seam() -> None:
    whole = unfolded(bodice(), ("front",), "u")
    assert [p.key for p in whole.pieces] == ["left front", "right front", "left back", "right back"]
    seam = next(s for s in whole.seams if s.name == "centre front")
    assert (seam.a.piece, seam.b.piece) == ("left front", "right front")
    assert whole.side_length(seam.a) == pytest.approx(whole.side_length(seam.b), abs=1e-12)
    assert whole.piece("left front").wearer == "left" and whole.piece("left front").cut == "single"


def test_every_seam_is_there_twice_and_walks() -> None:
    whole = unfolded(dress(), (), "u")
    assert {s.name for s in whole.seams} == {
        "left side", "right side", "left shoulder", "right shoulder", "centre back"
    }  # fmt: skip
    for seam in whole.seams:
        assert whole.side_length(seam.a) == pytest.approx(whole.side_length(seam.b), abs=0.1), seam.name


def test_openings_keep_their_distance_from_the_underarm_on_both_sides() -> None:
    """The left front's side runs up, the right front's down: a zip 50 to 200 mm from the underarm."""
    half = dress()
    size = half.piece("front").edge_length(SIDE)
    zip_ = Opening("side", "zip", size - 200, 150)
    centre = Opening("centre back", "zip", 0.0, 250)
    whole = unfolded(replace(half, openings=(zip_, centre)), (), "u")
    assert {(o.seam, round(o.start_mm, 6), o.length_mm) for o in whole.openings} == {
        ("left side", round(size - 200, 6), 150),
        ("right side", 50.0, 150),
        ("centre back", 0.0, 250),
    }


def test_finishes_and_drawn_edges_follow_both_sides_but_not_the_fold() -> None:
    half = bodice()
    waist = Label("waist", "waist")
    finishes = ((("front", waist), Finish("hem", 20)), (("front", CENTRE), Finish("raw", 0)))
    drawn = (Drawn("cord", (("front", waist), ("back", waist)), 300, "cord"),)
    whole = unfolded(replace(half, finishes=finishes, drawn=drawn), (), "u")
    assert [r for r, _ in whole.finishes] == [
        ("front", replace(waist, wearer="left")),
        ("front", replace(waist, wearer="right")),
    ]
    assert {d.name: [p for p, _ in d.edges] for d in whole.drawn} == {
        "left cord": ["front", "left back"],
        "right cord": ["right back", "front"],
    }


def test_places_at_the_centre_and_on_either_side_are_found_afterwards() -> None:
    half = _with_neck_mark(bodice())
    whole = unfolded(half, (), "u")
    assert abs(resolve(whole, Place("front", "neck", at="centre front")).point - 320j) < 1e-9
    left = resolve(whole, Place("front", "side", "left", start="armhole", by=30))
    right = resolve(whole, Place("front", "side", "right", start="armhole", by=30))
    assert abs(left.point + right.point.conjugate()) < 1e-9 and left.point.real > 0
    with pytest.raises(
        CannotApply, match="edge 'centre front' is no more: step u joined the halves along it"
    ):
        resolve(whole, Place("front", "centre front", start="neck", by=1))


def _with_neck_mark(half: Draft) -> Draft:
    from cutonce.draft.span import EdgeMark

    front = half.piece("front")
    neck = front.edge(Label("neck", "neck"))[-1]
    return half.with_pieces([replace(front, marks=(EdgeMark("centre front", neck.origin, neck.hi),))])


def test_a_half_that_a_step_has_turned_and_shifted_is_laid_on_the_centre_first() -> None:
    half = bodice()
    moved = [p.moved(turning(0.3).after(shifting(50 + 20j))) for p in half.pieces]
    whole = unfolded(half.with_pieces(moved), (), "u")
    assert whole.piece("front").area == pytest.approx(2 * half.piece("front").area, rel=1e-9)
    assert abs(whole.piece("front").grain.along - 1j) < 1e-9
    assert crossing(whole.piece("front")) is None


def test_halves_that_stand_at_other_heights_meet_at_the_neck() -> None:
    left, right = bodice(), bodice(230)
    lower = right.with_pieces([p.moved(shifting(-12j)) for p in right.pieces])
    front = unfolded(replace(left, twin=lower), (), "u").piece("front")
    assert gap(front) < 1e-9
    assert front.area == pytest.approx(left.piece("front").area + right.piece("front").area, rel=1e-9)


def _shorter(draft: Draft, by: float) -> Draft:
    front = draft.piece("front")
    *rest, centre = front.outline
    line = Line(centre.curve.start, centre.curve.end + 1j * by)
    first = replace(rest[0], curve=Line(line.end, rest[0].curve.end))
    return draft.with_pieces([replace(front, outline=(first, *rest[1:], replace(centre, curve=line)))])


def test_centres_a_twentieth_of_a_millimetre_apart_are_closed() -> None:
    front = unfolded(replace(bodice(), twin=_shorter(bodice(), 0.05)), (), "u").piece("front")
    assert gap(front) < 1e-9


def test_refusals() -> None:
    half = bodice()
    with pytest.raises(CannotApply, match="unfolded already"):
        unfolded(unfolded(half, (), "u"), (), "v")
    with pytest.raises(CannotApply, match="no piece 'frnt'; the draft has: front, back"):
        unfolded(half, ("frnt",), "u")
    with pytest.raises(CannotApply, match=r"centre front is 320\.0 mm on the left half and 315\.0 mm"):
        unfolded(replace(half, twin=_shorter(half, 5)), (), "u")
    with pytest.raises(CannotApply, match=r"the centre front leaves the straight by .* mm"):
        unfolded(half.with_pieces([_bowed(half.piece("front"))]), (), "u")


def _bowed(front: Piece) -> Piece:
    centre = edge("centre front", Line(320j, -4 + 160j), Line(-4 + 160j, 0j))
    return replace(front, outline=(*front.outline[:-1], *centre))


def test_a_skirt_front_on_the_fold_becomes_one_piece() -> None:
    whole = unfolded(skirt(), (), "u")
    assert [p.key for p in whole.pieces] == ["skirt front", "left skirt back", "right skirt back"]
    front = whole.piece("skirt front")
    assert front.edge_length(Label("hem", "hem", "left")) == pytest.approx(245)
    assert front.grain.at.real == 0
