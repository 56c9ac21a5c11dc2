"""Shifted places: neighbours lose what was asked, partners follow, corners keep, curves stay fair."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from steps.drafts import bodice, dress, label, whole_bodice
from steps.proofs import done, lengths, place, refused, unmatched

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening
from cutonce.draft.span import EdgeMark, Label
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry import path
from cutonce.geometry.meet import nearest
from cutonce.reshape.corners import end_corners
from cutonce.reshape.folded_edge import folded_edge, reopened
from cutonce.reshape.places import Place, resolve
from cutonce.steps import BY_NAME
from cutonce.validation import validated

STEP = BY_NAME["shift_place"]


def shift(draft: Draft, edge: str, end: str, by: float, piece: str = "front", **more: Any) -> Draft:
    where = {"piece": piece, "edge": edge}
    if "wearer" in more:
        where["wearer"] = more.pop("wearer")
    return done(STEP, draft, edge=where, end=end, by=f"{by} mm", **more).draft


def corner(draft: Draft, piece: str, edge: Label, beside: str) -> float:
    return next(a for e, a in end_corners(draft.piece(piece), [edge]) if beside in (e.name, e.role))


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from([("armhole", "side"), ("neck", "shoulder"), ("armhole", "shoulder")]),
    st.floats(-30, 40),
    st.sampled_from(["front", "back"]),
)
def test_the_partner_follows_and_both_seams_match(which: tuple[str, str], by: float, piece: str) -> None:
    """Only the edge redrawn and the neighbour change; both partners lose or gain alike; corners keep."""
    assume(abs(by) > 0.01)
    edge, beside = which
    draft = bodice()
    before = lengths(draft)
    new = shift(draft, edge, beside, by, piece, partner=True)
    after = lengths(new)
    assert not unmatched(new)
    for key in ("front", "back"):
        assert after[key, beside] == pytest.approx(before[key, beside] - by, abs=0.01)
        for other in ("waist", "side", "shoulder", "neck", "armhole", f"centre {key}"):
            if other not in which:
                assert after[key, other] == pytest.approx(before[key, other], abs=1e-6)
        was, now = (corner(d, key, label(edge), beside) for d in (draft, new))  # type: ignore[arg-type]
        assert now == pytest.approx(was, abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.floats(-25, 45), st.sampled_from(["side", "shoulder"]))
def test_the_redrawn_edge_is_smooth_and_its_other_end_is_kept(by: float, end: str) -> None:
    assume(abs(by) > 0.01)
    draft = bodice()
    old = draft.piece("front").edge(label("armhole"))
    run = shift(draft, "armhole", end, by).piece("front").edge(label("armhole"))
    assert max(abs(b.curve.tangent(0) / a.curve.tangent(1) - 1) for a, b in pairwise(run)) < 1e-5
    if end == "side":
        assert abs(run[-1].curve.end - old[-1].curve.end) < 1e-9
        assert abs(run[-1].curve.tangent(1) - old[-1].curve.tangent(1)) < 1e-9
    else:
        assert abs(run[0].curve.start - old[0].curve.start) < 1e-9
        assert abs(run[0].curve.tangent(0) - old[0].curve.tangent(0)) < 1e-9


@settings(max_examples=20, deadline=None)
@given(st.floats(5, 50))
def test_darts_on_the_edge_are_folded_and_keep_their_angle(by: float) -> None:
    """The waist is raised at the side; the waist dart on it keeps its pivot, and its legs stay alike."""
    draft = bodice()
    front = draft.piece("front")
    dart = front.dart("waist dart")
    new = shift(draft, "waist", "side", by).piece("front")
    one, two = new.legs(dart)
    assert new.dart_angle(dart) == pytest.approx(front.dart_angle(dart), abs=1e-9)
    assert one.length == pytest.approx(two.length, abs=1e-9)
    assert new.pivot(dart) == front.pivot(dart)
    folded = [folded_edge(p, p.edge(label("waist"))).spans for p in (front, new)]
    was, now = (max(abs(b.curve.tangent(0) / a.curve.tangent(1) - 1) for a, b in pairwise(f)) for f in folded)
    assert now < was + 0.02  # the corner that the draft has there when folded, no more


def test_folding_and_opening_an_edge_changes_nothing() -> None:
    front = bodice().piece("front")
    edge = folded_edge(front, front.edge(label("waist")))
    again = reopened(front, edge, edge.spans)
    assert {(s.origin, s.lo) for s in again.outline} == {(s.origin, s.lo) for s in front.outline}
    for s in front.outline:
        twin = next(t for t in again.outline if (t.origin, t.lo) == (s.origin, s.lo))
        assert abs(twin.curve.start - s.curve.start) < 1e-9 and abs(twin.curve.end - s.curve.end) < 1e-9


def test_a_partner_that_did_not_follow_can_follow_later() -> None:
    result = done(STEP, bodice(), edge={"piece": "front", "edge": "armhole"}, end="side", by="2 cm")
    warnings = [f for f in result.findings if f.severity == "warning"]
    assert len(warnings) == 1 and "the back's armhole did not follow: 20.0 mm" in warnings[0].message
    assert lengths(result.draft)["back", "side 2"] == pytest.approx(20, abs=1e-6)
    later = shift(result.draft, "armhole", "side", 20, "back")
    both = shift(bodice(), "armhole", "side", 20, partner=True)
    assert {k: round(v, 6) for k, v in lengths(later).items()} == {
        k: round(v, 6) for k, v in lengths(both).items()
    }
    assert not unmatched(later)


def test_a_whole_front_is_shifted_on_both_sides_or_on_one() -> None:
    draft = whole_bodice()
    before = lengths(draft)
    both = lengths(shift(draft, "armhole", "side", 15, partner=True))
    one = lengths(shift(draft, "armhole", "side", 15, partner=True, wearer="right"))
    for key, edge in (("front", "left side"), ("left back", "left side")):
        assert both[key, edge] == pytest.approx(before[key, edge] - 15, abs=0.01)
        assert one[key, edge] == pytest.approx(before[key, edge], abs=1e-9)
    for key, edge in (("front", "right side"), ("right back", "right side")):
        assert both[key, edge] == one[key, edge] == pytest.approx(before[key, edge] - 15, abs=0.01)


@settings(max_examples=15, deadline=None)
@given(st.floats(-10, 60))
def test_a_place_within_a_whole_neck_goes_square_into_the_piece(by: float) -> None:
    assume(abs(by) > 0.01)
    draft = with_centre_mark(whole_bodice())
    new = shift(draft, "neck", "centre front", by)
    spot = resolve(new, Place("front", "neck", at="centre front"))
    assert spot.point == pytest.approx(320j - by * 1j, abs=1e-6)
    run = [s for w in ("left", "right") for s in new.piece("front").edge(replace(label("neck"), wearer=w))]
    assert max(abs(b.curve.tangent(0) / a.curve.tangent(1) - 1) for a, b in pairwise(run)) < 1e-5
    assert new.piece("front").area == pytest.approx(
        path.area(s.curve for s in draft.piece("front").outline), rel=0.2
    )


def with_centre_mark(draft: Draft) -> Draft:
    front = draft.piece("front")
    span = front.edge(replace(label("neck"), wearer="left"))[-1]
    mark = EdgeMark("centre front", span.origin, span.hi)
    return draft.with_pieces([replace(front, marks=(*front.marks, mark))])


def test_openings_move_with_the_seam() -> None:
    """A zip from the top of the side seam, measured from the hem along the front. Lowering the armholes cuts
    off 20 mm of it at the top."""
    size = dress().piece("front").edge_length(label("side"))
    draft = replace(dress(), openings=(Opening("side", "zip", size - 240, 240.0),))
    new = shift(draft, "armhole", "side", 20, partner=True)
    assert new.openings == (Opening("side", "zip", pytest.approx(size - 240), pytest.approx(220)),)


def test_landmark_lines_end_at_the_new_edge() -> None:
    """The bust line at y = 170 runs from the centre to the side; the armhole is lowered past it."""
    draft = bodice()
    new = shift(draft, "armhole", "side", 60, partner=True)
    line = next(x for x in new.piece("front").lines if x.name == "bust")
    edge = [s.curve for s in new.piece("front").edge(label("armhole"))]
    end = max((c.end for c in line.curves), key=lambda z: z.real)
    assert nearest(edge, end)[1] < 1e-6


@pytest.mark.parametrize(
    ("values", "code", "says"),
    [
        ({"by": "0 mm"}, "out-of-range", "'by' is 0"),
        ({"by": "3"}, "no-unit", "not a length"),
        ({"reach": "-1 cm"}, "out-of-range", "must be more than 0"),
        ({"partner": "yes please"}, "bad-value", "'partner' is"),
        ({"edge": {"piece": "front"}}, "missing-key", "no 'edge'"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(values: dict[str, Any], code: str, says: str) -> None:
    given_values = {"edge": {"piece": "front", "edge": "armhole"}, "end": "side", "by": "2 cm"} | values
    with refused(BadInput, code, says):
        validated(STEP.params, given_values, {}, "step 1")


@pytest.mark.parametrize(
    ("edge", "end", "by", "more", "code", "says"),
    [
        ("armhole", "side", 300, {}, "past-end", "300.0 mm goes past its end or a dart, 205.5 mm away"),
        ("armhole", "shoulder", 90, {}, "past-end", "goes past its end or a dart, 75.0 mm away"),
        ("armhole", "hem", 20, {}, "no-landmark", "no 'hem' on this edge; it has: side, shoulder"),
        ("sleeve", "side", 20, {}, "no-edge", "no edge 'sleeve'"),
        ("neck", "centre front", 20, {"partner": True}, "no-partner", "no partner's edge meets the neck"),
        ("neck", "centre front", 400, {}, "past-end", "400.0 mm goes past"),
        ("armhole", "side", -180, {}, "crosses-itself", "the armhole would cross another edge"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(
    edge: str, end: str, by: float, more: dict[str, Any], code: str, says: str
) -> None:
    with refused(CannotApply, code, says):
        shift(bodice(), edge, end, by, **more)


def test_the_cut_off_stretch_has_a_tombstone() -> None:
    draft = shift(bodice(), "armhole", "side", 20, partner=True)
    gone = [g for g in draft.gone if g.label.name == "side"]
    assert {g.piece for g in gone} == {"front", "back"}
    assert all(g.step == "step" and g.reason == "moved the end of the armhole along it" for g in gone)
    assert place("front", "side", "armhole", 1)["by"] == "1 mm"
