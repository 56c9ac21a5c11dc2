"""The paper says how fullness is sewn: on the edge, on its partner, on the label."""

from __future__ import annotations

from dataclasses import replace

import pytest
from finishing.pieces import label, polygon_piece

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn, Relation, Seam, Side
from cutonce.finishing.finish import finished
from cutonce.finishing.fullness import sewn_length

HEM, SIDE, WAIST, CENTRE = label("hem"), label("side"), label("waist"), label("centre front")
WAISTS = [Side("front", (WAIST,)), Side("back", (WAIST,))]


def panels(relation: Relation, turned: bool = False) -> Draft:
    """Panels sewn at the waist: 139 mm of the front to 90 mm of the back, which is side a where `turned`."""
    one = polygon_piece((0j, 139 + 0j, 139 + 200j, 200j), (HEM, SIDE, WAIST, CENTRE), "front")
    two = polygon_piece((0j, 90 + 0j, 90 + 200j, 200j), (HEM, SIDE, WAIST, CENTRE), "back")
    a, b = reversed(WAISTS) if turned else WAISTS
    return Draft((one, two), (Seam("waist", a, b, relation),))


def waist(draft: Draft, key: str) -> str:
    return next(e.words for e in finished(draft, "x").piece(key).edges if e.key == "waist")


@pytest.mark.parametrize(
    ("relation", "front", "back"),
    [
        (Relation("gather", ratio=139 / 90), "gather to 90 mm", "takes a gathered edge of 139 mm"),
        (Relation("gather"), "gather to 90 mm", "takes a gathered edge of 139 mm"),
        (Relation("ease", 6.0), "ease 6 mm in", "takes an edge eased by 6 mm"),
        (Relation("pleat", 40.0), "pleat 40 mm", "takes an edge pleated by 40 mm"),
        (Relation("stretch", -5.0), "stretch 5 mm onto its partner", "takes an edge stretched by 5 mm"),
    ],
)
def test_both_sides_of_a_seam_say_how(relation: Relation, front: str, back: str) -> None:
    draft = panels(relation)
    assert waist(draft, "front") == f"{front}, sew, 10 mm allowed"
    assert waist(draft, "back") == f"{back}, sew, 10 mm allowed"
    done = finished(draft, "x")
    assert done.piece("front").label[-1] == f"waist: {front}"
    assert done.piece("back").label[-1] == f"waist: {back}"


@pytest.mark.parametrize(
    "relation", [Relation("gather", ratio=90 / 139), Relation("gather"), Relation("ease", -49.0)]
)
def test_the_fuller_side_is_worked_whichever_is_named_first(relation: Relation) -> None:
    draft = panels(relation, turned=True)
    assert waist(draft, "front").startswith(("gather to 90 mm", "ease 49 mm in"))
    assert waist(draft, "back").startswith("takes ")
    assert sewn_length(draft, draft.piece("front"), WAIST) == pytest.approx(90)
    assert sewn_length(draft, draft.piece("back"), WAIST) == pytest.approx(90)


def test_an_equal_seam_says_nothing_of_fullness() -> None:
    assert waist(panels(Relation()), "front") == "sew, 10 mm allowed"
    assert all(e.fullness == "" for p in finished(panels(Relation()), "x").pieces for e in p.edges)


@pytest.mark.parametrize(
    ("by", "words"), [("cord", "draw up to 100 mm by cord"), ("gathering", "gather to 100 mm")]
)
def test_a_drawn_edge_says_to_what_and_by_what(by: str, words: str) -> None:
    drawn = Drawn("tunnel", (("front", WAIST),), 100.0, by)  # type: ignore[arg-type]
    free = replace(panels(Relation()), seams=(), drawn=(drawn,))
    assert waist(free, "front") == f"{words}, 10 mm allowed"
    assert waist(free, "back") == "10 mm allowed"
    sewn = replace(panels(Relation()), drawn=(drawn,))
    assert waist(sewn, "back").startswith("drawn up with its partner, sew")


def test_edges_over_the_fold_and_sides_of_several_edges_say_what_the_length_is_of() -> None:
    draft = panels(Relation("gather"))
    folded = replace(draft.piece("front"), cut="fold", fold=CENTRE)
    assert waist(draft.with_pieces([folded]), "front").startswith("gather to 90 mm, each half, ")
    assert waist(draft.with_pieces([folded]), "back").startswith("takes a gathered edge of 139 mm, ")
    chain = Drawn("round", (("front", WAIST), ("back", WAIST)), 120.0, "elastic")
    both = replace(draft, seams=(), drawn=(chain,))
    assert waist(both, "back").startswith("draw up to 120 mm by elastic, over 2 edges")
