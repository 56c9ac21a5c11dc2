"""Cutting out a shape: ends that meet, halves that join, lengths told, what refers to the seam follows."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from steps.drafts import bodice, dress, nipped, skirt, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Finish, Opening, Relation
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.path import flattened
from cutonce.reshape.corners import end_corners
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.unfold import unfolded
from cutonce.steps.cut_out import STEP, CutOut
from cutonce.steps.step import Result
from cutonce.validation import validated

SIDE = Label("side", "side")
HOLE = Label("cut-out", "cut-out")
AT_WAIST = {"piece": "front", "edge": "side", "at": "waist"}


def result(draft: Draft, **values: object) -> Result:
    return STEP.apply(draft, validated(CutOut, values, {}, "step 1"), "hole")


def run(draft: Draft, **values: object) -> Draft:
    done = result(draft, **values).draft
    for piece in done.pieces:
        assert gap(piece) < 1e-9 and crossing(piece) is None, piece.key
        outline = [s.label for s in piece.outline if s.label.role != "dart leg"]
        for label in piece.labels:
            starts = sum(
                a != label and b == label for a, b in zip([outline[-1], *outline], outline, strict=False)
            )
            assert starts == 1 or set(outline) == {label}, label
    for seam in done.seams:
        for side in (seam.a, seam.b):
            assert all(e in done.piece(side.piece).labels for e in side.labels), seam.name
    return done


def hole_corners(piece: Piece, label: Label) -> tuple[float, float]:
    """Angles in the piece at the two ends of an edge."""
    (_, one), (_, two) = end_corners(piece, [label])
    return one, two


@settings(max_examples=40, deadline=None)
@given(bend=st.floats(-0.3, 0.6), r=st.floats(10, 80), lean=st.floats(-0.15, 0.15))
def test_each_arc_is_the_radius_times_the_angle_at_the_waist(bend: float, r: float, lean: float) -> None:
    half = nipped(bend, lean=lean)
    done = run(half, at=AT_WAIST, shape="circle", width=f"{2 * r!r} mm")
    for key in ("front", "back"):
        piece = done.piece(key)
        assert piece.edge_length(HOLE) == pytest.approx(r * (math.pi + bend), rel=2e-5)
        assert hole_corners(piece, HOLE) == pytest.approx((math.pi / 2, math.pi / 2), abs=1e-9)
        lengths = sorted((piece.edge_length(SIDE), piece.edge_length(replace(SIDE, part=2))))
        assert lengths == pytest.approx(sorted((300 - r, 200 - r)), abs=1e-6)
        lost = half.piece(key).area - piece.area
        assert lost == pytest.approx(r * r * (math.pi + bend) / 2, rel=2e-5)


def test_the_arcs_and_the_path_are_told() -> None:
    """r 50, the waist bends by 0.5 rad: 50 (pi + 0.5) = 182.1, 15.9 % above 50 pi = 157.1; twice 364.2."""
    (said,) = result(nipped(0.5), at=AT_WAIST, shape="circle", width="10 cm").findings
    assert "182.1 mm in the front (+15.9% of a straight seam's 157.1 mm: 208.6 degrees there)" in said.message
    assert "364.2 mm all round" in said.message
    assert "the side lost 100.0 mm" in said.message
    assert "250.0 mm toward the hem and 150.0 mm toward the neck" in said.message
    assert (said.severity, said.code, said.step) == ("note", "cut-out", "hole")


SHAPES = st.sampled_from(["circle", "ellipse", "teardrop"])


@settings(max_examples=40, deadline=None)
@given(
    shape=SHAPES,
    width=st.floats(20, 110),
    tall=st.floats(1.1, 1.6),
    share=st.floats(0.25, 0.75),
    flare=st.floats(0, 60),
    whole=st.booleans(),
)
def test_on_a_curved_side_seam_the_ends_meet_and_the_halves_join(
    shape: str, width: float, tall: float, share: float, flare: float, whole: bool
) -> None:
    draft = whole_dress() if whole else dress(240, flare)
    wearer = {"wearer": "right"} if whole else {}
    height = {} if shape == "circle" else {"height": f"{width * tall!r} mm"}
    done = run(
        draft,
        at={"piece": "front", "edge": "side", "from": "hem", "share": share, **wearer},
        shape=shape,
        width=f"{width!r} mm",
        **height,
    )
    along = width if shape == "circle" else width * tall
    for before in draft.seams:
        now = [s for s in done.seams if s.name in (before.name, f"{before.name} 2")]
        gaps = [done.side_length(s.a) - done.side_length(s.b) for s in now]
        was = draft.side_length(before.a) - draft.side_length(before.b)
        assert sum(gaps) == pytest.approx(was if len(now) == 1 else sum(gaps), abs=0.01)
        assert all(abs(g) < abs(was) + 1e-6 for g in gaps)
        if len(now) == 2:
            lost = draft.side_length(before.a) - sum(done.side_length(s.a) for s in now)
            assert lost == pytest.approx(along, abs=1e-6)
    side = "right" if whole else None
    pieces = ("front", "right back" if whole else "back")
    label = replace(HOLE, wearer=side)
    angles = [a for key in pieces for a in hole_corners(done.piece(key), label)]
    square = [a for a in angles if abs(a - math.pi / 2) < 1e-9]
    assert len(square) == (2 if shape == "teardrop" else 4)
    for key in pieces:  # nothing else has changed
        before, after = draft.piece(key), done.piece(key)
        for label in before.labels:
            if label.role != "side" or label.wearer not in (side, None):
                assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=0.01)
        a, b = (
            Polygon([(z.real, z.imag) for z in flattened([s.curve for s in p.outline])])
            for p in (before, after)
        )
        assert a.difference(b).area == pytest.approx(before.area - after.area, abs=3)
        assert b.difference(a.buffer(0.1)).area < 1e-6


def test_a_keyhole_in_the_seam_of_a_half_back_is_the_same_after_unfolding() -> None:
    """60 wide and 100 high: each half 123.66 mm by arithmetic (see the half teardrop's test)."""
    params = {"shape": "teardrop", "width": "6 cm", "height": "10 cm", "name": "keyhole"}
    at = {"piece": "back", "edge": "centre back", "from": "neck", "by": "15 cm"}
    before = run(bodice(), at=at, **params)
    said = result(bodice(), at=at, **params).findings[0].message
    assert "123.7 mm in the back, 247.3 mm all round" in said
    after = run(unfolded(bodice(), ("back",), "unfold"), at={**at, "wearer": "left"}, **params)
    one = unfolded(before, ("back",), "unfold")
    for key in ("left back", "right back"):
        a, b = one.piece(key), after.piece(key)
        assert {e.key: a.edge_length(e) for e in a.labels} == pytest.approx(
            {e.key: b.edge_length(e) for e in b.labels}, abs=1e-6
        )
        assert a.area == pytest.approx(b.area, rel=1e-9)


def test_across_a_free_edge_only_one_piece_is_cut() -> None:
    before = dress()
    at = {"piece": "front", "edge": "hem", "from": "side", "by": "12 cm"}
    done = run(before, at=at, shape="circle", width="8 cm", name="scallop")
    front = done.piece("front")
    assert front.edge_length(Label("scallop", "cut-out")) == pytest.approx(40 * math.pi, rel=1e-5)
    hem = [e for e in front.labels if e.role == "hem"]
    assert sum(front.edge_length(e) for e in hem) == pytest.approx(
        before.piece("front").edge_length(Label("hem", "hem")) - 80, abs=1e-6
    )
    assert done.piece("back") is before.piece("back")
    message = result(before, at=at, shape="circle", width="8 cm").findings[0].message
    assert "all round" not in message and "the hem lost 80.0 mm" in message


def test_across_the_centre_of_a_whole_hem_each_half_has_its_own_name() -> None:
    done = run(
        whole_dress(),
        at={"piece": "front", "edge": "hem", "from": "left side", "share": 0.5},
        shape="ellipse",
        width="6 cm",
        height="10 cm",
    )
    front = done.piece("front")
    halves = [front.edge_length(replace(HOLE, wearer=w)) for w in ("left", "right")]  # type: ignore[arg-type]
    assert halves[0] == pytest.approx(halves[1], abs=1e-6)


def test_a_second_hole_of_that_name_gets_a_number() -> None:
    once = run(whole_dress(), at={**AT_WAIST, "wearer": "left"}, shape="circle", width="6 cm")
    other = run(once, at={**AT_WAIST, "wearer": "right"}, shape="circle", width="6 cm")
    hips = {"piece": "front", "edge": "side 2", "wearer": "left", "at": "waist"}
    with pytest.raises(CannotApply, match="is no more: step hole"):
        run(other, at=hips, shape="circle", width="4 cm")
    low = {"piece": "front", "edge": "side", "wearer": "left", "from": "hem", "by": "30 cm"}
    third = run(other, at=low, shape="circle", width="6 cm")
    names = sorted(e.key for e in third.piece("front").labels if e.role == "cut-out")
    assert names == ["left cut-out", "left cut-out 2", "right cut-out"]


def test_landmarks_on_the_new_edge_and_tombstones_for_the_old() -> None:
    done = run(dress(), at=AT_WAIST, shape="circle", width="8 cm")
    spot = resolve(done, Place("front", "cut-out", at="waist"))
    assert spot.point.imag == pytest.approx(0, abs=1e-6)
    gone = [g for g in done.gone if g.piece == "front"]
    assert {g.label.role for g in gone} == {"side"}
    assert gone[0].step == "hole" and gone[0].reason == "cut the cut-out out there"
    with pytest.raises(CannotApply, match="the waist is no more: step hole cut the cut-out out there"):
        resolve(done, Place("front", "side", at="waist"))


def test_seams_finishes_openings_and_drawn_edges_follow() -> None:
    label = SIDE
    draft = nipped(0.2)
    draft = replace(
        draft,
        finishes=((("front", label), Finish("seam", 12)), (("back", label), Finish("seam", 15))),
        openings=(Opening("side", "zip", 0, 100), Opening("side", "slit", 420, 80)),
        drawn=(Drawn("cord", (("front", label),), 300.0, "cord"),),
        seams=tuple(replace(s, relation=Relation("ease", 0.0)) for s in draft.seams),
    )
    done = run(draft, at=AT_WAIST, shape="circle", width="12 cm")
    two = replace(label, part=2)
    assert dict(done.finishes) == {
        ("front", label): Finish("seam", 12),
        ("front", two): Finish("seam", 12),
        ("back", label): Finish("seam", 15),
        ("back", two): Finish("seam", 15),
    }
    by = {s.name: s for s in done.seams}
    assert [(o.kind, by[o.seam].a.labels) for o in done.openings] == [("zip", (label,)), ("slit", (two,))]
    assert [o.start_mm for o in done.openings] == pytest.approx([0, 60])
    assert [o.length_mm for o in done.openings] == pytest.approx([100, 80])
    assert done.drawn[0].edges == (("front", label), ("front", two))
    assert done.drawn[0].to_mm == 300
    notes = [f.message for f in result(draft, at=AT_WAIST, shape="circle", width="12 cm").findings]
    assert "a part of the edge drawn up by the cord fell away" in notes


def test_an_eased_partner_is_cut_where_it_is_sewn() -> None:
    """A partner 1 % longer, declared as ease: its ends lie at the same shares; each rest keeps its share."""
    draft = nipped(0.0)
    back = draft.piece("back")
    longer = tuple(replace(s, curve=Line(s.curve.start * 1.01, s.curve.end * 1.01)) for s in back.outline)
    draft = draft.with_pieces([replace(back, outline=longer)])
    draft = replace(
        draft,
        seams=tuple(
            replace(s, relation=Relation("ease", -5.0)) if s.name == "side" else s for s in draft.seams
        ),
    )
    done = run(draft, at=AT_WAIST, shape="circle", width="10 cm")
    for seam in done.seams:
        a, b = done.side_length(seam.a), done.side_length(seam.b)
        if "side" in seam.name:
            assert b / a == pytest.approx(1.01, abs=1e-9)
            assert seam.relation.left_over(a, b) == pytest.approx(0, abs=1e-6)


def test_a_skirt_seam_too() -> None:
    done = run(
        skirt(),
        at={"piece": "skirt front", "edge": "side", "at": "hip"},
        shape="ellipse",
        width="7 cm",
        height="12 cm",
    )
    assert done.piece("skirt back").edge_length(HOLE) > 0
