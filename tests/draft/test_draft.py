"""Drafts: looking up pieces, seams and partners, and what is said where there are none."""

from __future__ import annotations

from dataclasses import replace

import pytest
from steps.drafts import bodice, bodice_front, whole_bodice

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Finish, Relation, Seam, Side
from cutonce.draft.span import Gone, Label, Origin
from cutonce.errors import CannotApply

SIDE = Label("side", "side")
DRAFT = bodice()


def test_pieces_by_key() -> None:
    assert DRAFT.piece("back").name == "back"
    assert whole_bodice().piece("left back").wearer == "left"
    with pytest.raises(CannotApply) as told:
        DRAFT.piece("sleeve")
    assert str(told.value) == "no piece 'sleeve'; the draft has: front, back"


def test_new_pieces_take_the_place_of_the_old_ones() -> None:
    wider = bodice_front(width=260)
    sleeve = replace(wider, name="sleeve")
    gone = Gone("front", SIDE, Origin("block", "side"), 0.0, 9.0, "step 4", "cut it away")
    after = DRAFT.with_pieces([sleeve, wider], [gone])
    assert [p.key for p in after.pieces] == ["front", "back", "sleeve"]
    assert after.piece("front") is wider
    assert after.piece("back") is DRAFT.piece("back")  # untouched pieces stay the same object
    assert after.gone == (*DRAFT.gone, gone)
    assert DRAFT.piece("front") is not wider and DRAFT.seams == after.seams


def test_seams_and_partners() -> None:
    (seam,) = DRAFT.seams_of("front", SIDE)
    assert {seam.a.piece, seam.b.piece} == {"front", "back"}
    assert DRAFT.seams_of("back", SIDE) == (seam,)
    assert DRAFT.partner("front", SIDE) == Side("back", (SIDE,))
    assert DRAFT.partner("back", SIDE) == Side("front", (SIDE,))
    assert DRAFT.partner("front", Label("neck", "neck")) is None
    assert DRAFT.seams_of("front", Label("neck", "neck")) == ()


def test_a_seam_with_its_own_mirror_image() -> None:
    centre = Label("centre back", "centre back")
    side = Side("back", (centre,))
    draft = replace(DRAFT, seams=(Seam("centre back", side, side),))
    assert draft.partner("back", centre) == side
    assert draft.seams[0].seen_from("back", centre) == (side, side)
    assert draft.seams[0].seen_from("front", centre) is None


def test_lengths_of_sides() -> None:
    front = DRAFT.piece("front")
    shoulder = Label("shoulder", "shoulder")
    assert DRAFT.side_length(Side("front", (SIDE, shoulder))) == pytest.approx(
        front.edge_length(SIDE) + front.edge_length(shoulder)
    )
    for seam in DRAFT.seams:
        left = seam.relation.left_over(DRAFT.side_length(seam.a), DRAFT.side_length(seam.b))
        assert left == pytest.approx(0, abs=0.2)
    with pytest.raises(CannotApply, match="no edge 'sid'"):
        DRAFT.side_length(Side("front", (Label("sid", "side"),)))


def test_finishes() -> None:
    hem = Finish("hem", 40.0)
    draft = replace(DRAFT, finishes=((("front", SIDE), Finish("seam", 15.0)), (("front", SIDE), hem)))
    assert draft.finish("front", SIDE) == hem  # the later one counts
    assert draft.finish("back", SIDE) is None


@pytest.mark.parametrize(
    ("relation", "a", "b", "left", "words"),
    [
        (Relation(), 120.0, 119.5, 0.5, "equal"),
        (Relation("ease", 6.0), 126.0, 120.0, 0.0, "ease 6 mm"),
        (Relation("stretch", -4.0), 116.0, 120.0, 0.0, "stretch 4 mm"),
        (Relation("pleat", 90.0), 300.0, 200.0, 10.0, "pleat 90 mm"),
        (Relation("gather", ratio=1.5), 615.0, 400.0, 15.0, "gather 1.5"),
        (Relation("gather"), 615.0, 400.0, 0.0, "gather"),
    ],
)
def test_what_a_relation_leaves(relation: Relation, a: float, b: float, left: float, words: str) -> None:
    assert relation.left_over(a, b) == pytest.approx(left)
    assert relation.words() == words


def test_an_empty_draft() -> None:
    draft = Draft(())
    with pytest.raises(CannotApply):
        draft.piece("front")
    assert draft.partner("front", SIDE) is None
