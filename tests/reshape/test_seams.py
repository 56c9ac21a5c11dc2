"""Seams follow when edges are divided, thrown away or renamed; partners are divided where they are sewn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import bodice, dress, label, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn, Finish, Opening, Relation, Seam, Side
from cutonce.draft.span import Label
from cutonce.reshape.edge_names import tidied
from cutonce.reshape.partners import across, laid_beside, on_edge
from cutonce.reshape.seams import base_name, divide_edge, gone_with, replaced_piece

SIDE = label("side")


def seam(draft: Draft, name: str) -> Seam:
    return next(s for s in draft.seams if s.name == name)


def lengths(draft: Draft, found: Seam) -> tuple[float, float]:
    return draft.side_length(found.a), draft.side_length(found.b)


@settings(max_examples=40, deadline=None)
@given(st.floats(1, 859), st.booleans(), st.sampled_from(["front", "back"]))
def test_both_partners_are_divided_at_the_sewn_place(arc: float, whole: bool, face: str) -> None:
    draft = whole_dress() if whole else dress()
    key = "left back" if whole and face == "back" else face
    edge = replace(SIDE, wearer="left") if whole else SIDE
    name = "left side" if whole else "side"
    before = sum(lengths(draft, seam(draft, name)))
    after, further = divide_edge(draft, key, edge, arc)
    parts = [s for s in after.seams if base_name(s.name) == name]
    assert len(parts) == 2
    for part in parts:
        a, b = lengths(after, part)
        assert a == pytest.approx(b, abs=1e-6)
        assert [e.part for e in part.a.labels] == [e.part for e in part.b.labels]
    assert sum(sum(lengths(after, s)) for s in parts) == pytest.approx(before, abs=1e-6)
    assert after.piece(key).edge_length(edge) == pytest.approx(arc, abs=1e-6)
    assert further.part == 2


@pytest.mark.parametrize("share", [0.0, 1e-12, 1.0])
def test_the_very_ends_divide_nothing(share: float) -> None:
    draft = dress()
    size = draft.piece("front").edge_length(SIDE)
    after, found = divide_edge(draft, "front", SIDE, share * size)
    assert found == SIDE and after is draft


def test_ease_and_openings_are_shared_out() -> None:
    """An eased seam of 860.67 mm cut at a quarter: a quarter of the ease; openings that lie
    across the cut in two."""
    draft = dress()
    size = draft.piece("front").edge_length(SIDE)
    eased = replace(seam(draft, "side"), relation=Relation("ease", 8.0))
    seams = tuple(eased if s.name == "side" else s for s in draft.seams)
    open_ = Opening("side", "zip", 100.0, 220.0), Opening("side", "cord exit", 200.0, 40.0)
    draft = replace(draft, seams=seams, openings=open_)
    cut = size / 4
    after, _ = divide_edge(draft, "front", SIDE, cut)
    near, far = seam(after, "side"), seam(after, "side 2")
    assert (near.relation.more_mm, far.relation.more_mm) == pytest.approx((2.0, 6.0))
    assert after.openings == (
        Opening("side", "zip", 100.0, pytest.approx(cut - 100)),
        Opening("side 2", "zip", 0.0, pytest.approx(320 - cut)),
        Opening("side", "cord exit", 200.0, pytest.approx(cut - 200)),
        Opening("side 2", "cord exit", 0.0, pytest.approx(240 - cut)),
    )


def test_openings_follow_when_the_other_side_is_divided() -> None:
    """Lengths are measured along side a, the front from the hem: the back is cut 100 mm below its top."""
    draft = replace(
        dress(), openings=(Opening("side", "vent", 0.0, 300.0), Opening("side", "zip", 800.0, 50.0))
    )
    size = draft.piece("front").edge_length(SIDE)
    after, further = divide_edge(draft, "back", SIDE, 100.0)
    top = next(s for s in after.seams if s.b.labels == (SIDE,))
    foot = next(s for s in after.seams if s.b.labels == (further,))
    assert after.side_length(top.a) == pytest.approx(100, abs=1e-6)
    found = {(o.seam, o.kind): o for o in after.openings}
    assert found[(foot.name, "vent")].start_mm == 0
    assert found[(top.name, "zip")].start_mm == pytest.approx(800 - (size - 100), abs=1e-6)


def test_a_centre_seam_of_a_half_piece_is_divided_on_both_sides_alike() -> None:
    draft = bodice()
    centre = label("centre back")
    after, further = divide_edge(draft, "back", centre, 150.0)
    near, far = seam(after, "centre back"), seam(after, "centre back 2")
    assert near.a == near.b == Side("back", (centre,))
    assert far.a == far.b == Side("back", (further,))
    assert lengths(after, near) == pytest.approx((150, 150), abs=1e-6)


def test_finishes_and_drawn_chains_hold_for_both_stretches() -> None:
    hem, bound = label("hem"), Finish("bound", 0.0, 8.0)
    chain = (("front", hem), ("back", hem))
    draft = replace(
        dress(),
        finishes=((("front", hem), bound),),
        drawn=(Drawn("hem cord", chain, 300.0, "cord"), Drawn("back", chain[::-1], 300.0, "cord")),
    )
    after, further = divide_edge(draft, "front", hem, 90.0)
    assert dict(after.finishes) == {("front", hem): bound, ("front", further): bound}
    assert after.drawn[0].edges == (("front", hem), ("front", further), ("back", hem))
    assert after.drawn[1].edges == (("back", hem), ("front", hem), ("front", further))


def test_a_side_that_comes_to_lie_in_two_parts_is_divided_with_its_partner() -> None:
    """The waist of a whole skirt's front, left and right, sewn to a band: one half of the front goes."""
    draft = whole_dress()
    left, right = (replace(label("hem"), wearer=w) for w in ("left", "right"))
    front, band = draft.piece("front"), draft.piece("left back")
    hem = seam(draft, "left side")
    long = Seam("hem", Side("front", (right, left)), Side("left back", band.labels[:3]), Relation("gather"))
    draft = replace(draft, seams=(hem, long))
    one = replace(front, outline=tuple(s for s in front.outline if s.label != right))
    gone = gone_with(replace(front, outline=front.edge(right)), "front", "x", "cut it away")
    after = replaced_piece(draft, "front", [one], gone)
    kept = next(s for s in after.seams if s.relation.kind == "gather")
    assert kept.a.labels == (left,)
    share = 0.5  # both halves of the hem are 270 mm
    assert after.side_length(kept.b) == pytest.approx(share * draft.side_length(long.b), abs=1e-6)
    assert {g.label for g in after.gone} >= {right}


def test_parts_and_seams_are_renumbered_when_one_falls_away() -> None:
    draft = dress()
    draft, _ = divide_edge(draft, "front", SIDE, 600.0)
    front = draft.piece("front")
    upper = replace(SIDE, part=2)
    one = replace(front, outline=tuple(s for s in front.outline if s.label != SIDE))
    draft = replaced_piece(draft, "front", [one])
    assert [s.name for s in draft.seams][:1] == ["side 2"]
    after = tidied(draft, "front", {"side"})
    assert [s.name for s in after.seams][:1] == ["side"]
    assert SIDE in after.piece("front").labels and upper not in after.piece("front").labels
    sewn = seam(after, "side")
    assert sewn.a.labels == sewn.b.labels == (SIDE,)  # the partner's stretch is numbered alike


@settings(max_examples=30, deadline=None)
@given(st.floats(0, 860))
def test_across_the_seam_and_back_is_the_same_place(arc: float) -> None:
    draft = dress()
    there = across(draft, "front", SIDE, arc)
    assert there is not None and there.piece == "back"
    back = across(draft, there.piece, there.label, there.arc)
    assert back is not None and back.arc == pytest.approx(arc, abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(st.floats(10, 850))
def test_the_partner_is_laid_with_the_sewn_places_together(arc: float) -> None:
    draft = dress()
    there = across(draft, "front", SIDE, arc)
    assert there is not None
    lay = laid_beside(draft, "front", SIDE, arc)
    mine, theirs = on_edge(draft, "front", SIDE, arc), on_edge(draft, "back", there.label, there.arc)
    assert abs(lay(theirs.point) - mine.point) < 1e-9
    assert not lay.mirror


def test_an_edge_with_no_partner_has_nothing_across() -> None:
    assert across(dress(), "front", Label("neck", "neck"), 10.0) is None
