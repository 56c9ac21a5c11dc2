"""Shaping the hem: published arithmetic of the dip, laws on random skirts, panels and flare, refusals."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.draft.draft import Draft
from cutonce.draft.piece import InnerLine
from cutonce.draft.seam import Opening, Relation
from cutonce.errors import CannotApply, Problem
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import nearest
from cutonce.geometry.path import find
from cutonce.reshape.hem_round import hem_round, place_named
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.unfold import unfolded
from cutonce.steps import shape_hem
from cutonce.steps.step import Result

from .drafts import bodice, dress, skirt, whole_dress

LENGTHS = st.floats(-60, 60)


def apply(draft: Draft, **params: Any) -> Result:
    return shape_hem.apply(draft, shape_hem.ShapeHem.model_validate(params), "hem")


def mm(x: float) -> str:
    return f"{x:.9f} mm"


def whole_skirt() -> Draft:
    return unfolded(skirt(), ("skirt back",), "unfold")


def lengths(draft: Draft) -> dict[tuple[str, str], float]:
    return {(p.key, e.key): p.edge_length(e) for p in draft.pieces for e in p.labels}


def changes(old: Draft, new: Draft) -> dict[tuple[str, str], float]:
    before, after = lengths(old), lengths(new)
    assert set(before) == set(after)
    return {k: after[k] - before[k] for k in before if abs(after[k] - before[k]) > 1e-9}


def at(draft: Draft, x: float) -> complex:
    """The point of the garment's hem x mm round, on the old hem's runs."""
    for run in hem_round(draft).runs:
        if run.start <= x <= run.end:
            curves = [s.curve for s in run.spans]
            i, t = find(curves, x - run.start)
            return curves[i].at(t)
    raise AssertionError(x)


def test_a_dip_is_the_cosine_of_the_plane_cut() -> None:
    """y = h + D/2 cos(2 pi x / G): trade arithmetic. Straight skirt, G = 4 x 245 mm, D = 100 mm."""
    old = whole_skirt()
    new = apply(old, dip={"lowest": "centre back", "down": "6 cm", "up": "4 cm"}).draft
    front = new.piece("skirt front")
    drop = {}
    for span in (s for s in front.outline if s.label.role == "hem"):
        for i in range(9):
            z = span.curve.at(i / 8)
            drop[z.real] = -600 - z.imag
    for x, found in drop.items():
        assert found == pytest.approx(10 - 50 * math.cos(2 * math.pi * x / 980), abs=0.05), x
    worst = changes(old, new)
    assert worst["skirt front", "left side"] == pytest.approx(10, abs=1e-9)
    assert worst["left skirt back", "left centre back"] == pytest.approx(60, abs=1e-9)


def test_a_dip_is_square_to_the_seams_where_it_is_highest_and_lowest() -> None:
    new = apply(whole_skirt(), dip={"lowest": "centre back", "down": "8 cm", "up": "8 cm"}).draft
    back = new.piece("left skirt back")
    hem = [s for s in back.outline if s.label.role == "hem"]
    assert cmath.phase(hem[-1].curve.tangent(1)) == pytest.approx(0, abs=1e-9)
    front = new.piece("skirt front")
    middle = next(s for s in front.outline if s.label.role == "hem" and abs(s.curve.start.real) < 1e-9)
    assert cmath.phase(middle.curve.tangent(0)) == pytest.approx(0, abs=1e-9)


def test_the_half_state_gives_what_the_whole_gives() -> None:
    dip = {"lowest": "centre back", "down": "9 cm", "up": "3 cm"}
    first = unfolded(apply(dress(), dip=dip).draft, ("back",), "unfold")
    then = apply(whole_dress(), dip=dip).draft
    one, two = lengths(first), lengths(then)
    assert one.keys() == two.keys()
    assert all(one[k] == pytest.approx(two[k], abs=1e-6) for k in one)


def test_a_slant_is_straight_and_makes_a_point_at_both_side_seams() -> None:
    """Over a width of 490 mm it falls 100 mm: the corner is 90 -+ atan(100/490) on each piece."""
    old = whole_skirt()
    result = apply(old, slant={"left": "10 cm", "right": "0 cm"})
    front = result.draft.piece("skirt front")
    hem = [s.curve for s in front.outline if s.label.role == "hem"]
    assert sum(c.length for c in hem) == pytest.approx(abs(complex(490, 100)), abs=1e-9)
    corner = [f for f in result.findings if f.code == "hem-corner"]
    angle = 180 - 2 * math.degrees(math.atan2(100, 490))
    assert any(f"point: {angle:.1f} degrees" in f.message for f in corner)
    assert any(f"dip: {360 - angle:.1f} degrees" in f.message for f in corner)
    assert changes(old, result.draft)["left skirt back", "left side"] == pytest.approx(100, abs=1e-9)


def test_level_undoes_any_shape() -> None:
    """A dipped or slanted straight skirt cut level hangs 400 mm below the hip all round."""
    for shape in ({"dip": {"lowest": "left side", "down": "9 cm", "up": "6 cm"}}, {"slant": SLANT}):
        new = apply(apply(whole_skirt_with_hip(), **shape).draft, level={"by": "40 cm"}).draft
        for piece in new.pieces:
            for span in (s for s in piece.outline if s.label.role == "hem"):
                assert all(span.curve.at(i / 8).imag == pytest.approx(-600, abs=1e-4) for i in range(9))


SLANT = {"left": "5 cm", "right": "-5 cm"}


def whole_skirt_with_hip() -> Draft:
    half = skirt()
    pieces = []
    for p in half.pieces:
        side = 1 if p.face == "front" else -1
        pieces.append(replace(p, lines=(InnerLine("hip", (Line(-200j, complex(side * 245, -200)),)),)))
    return unfolded(half.with_pieces(pieces), ("skirt back",), "unfold")


def test_a_curve_passes_through_the_drops_asked_and_no_lower() -> None:
    old = whole_skirt()
    asked = [
        {"at": "centre front", "down": "-3 cm"},
        {"at": "left side", "down": "1 cm"},
        {"at": "centre back", "down": "5 cm"},
        {"at": "right side", "down": "4 cm"},
    ]
    new = apply(old, curved=asked).draft
    found = changes(old, new)
    assert found["skirt front", "left side"] == pytest.approx(10, abs=1e-9)
    assert found["right skirt back", "right side"] == pytest.approx(40, abs=1e-9)
    assert found["left skirt back", "left centre back"] == pytest.approx(50, abs=1e-9)
    hem = [s.curve for p in new.pieces for s in p.outline if s.label.role == "hem"]
    ys = [c.at(i / 16).imag for c in hem for i in range(17)]
    assert min(ys) == pytest.approx(-650, abs=0.02) and max(ys) == pytest.approx(-570, abs=0.02)


def test_a_place_on_the_hem_may_be_the_lowest() -> None:
    place = {"piece": "skirt front", "edge": "hem", "wearer": "left", "from": "side", "by": "14.5 cm"}
    new = apply(whole_skirt(), dip={"lowest": place, "down": "5 cm"}).draft
    low = min(
        (
            s.curve.at(i / 32)
            for p in new.pieces
            for s in p.outline
            if s.label.role == "hem"
            for i in range(33)
        ),
        key=lambda z: z.imag,
    )
    assert low.imag == pytest.approx(-650, abs=0.01) and low.real == pytest.approx(100, abs=8)


@given(st.sampled_from(["skirt", "dress"]), LENGTHS, LENGTHS, st.data())
@settings(max_examples=25, deadline=None)
def test_partners_change_alike_and_pieces_stay_sound(kind: str, a: float, b: float, data: Any) -> None:
    old = whole_skirt() if kind == "skirt" else whole_dress()
    shape = data.draw(st.sampled_from(["raise", "slant", "dip", "curved"]))
    params: dict[str, Any] = {
        "raise": mm(a),
        "slant": {"left": mm(a), "right": mm(b)},
        "dip": {"lowest": "left side", "down": mm(abs(a) + 1), "up": mm(abs(b))},
        "curved": [{"at": "left side", "down": mm(a)}, {"at": "centre back", "down": mm(b)}],
    }
    new = apply(old, **{shape: params[shape]}).draft
    sides = {s.name: (old.side_length(s.a) - old.side_length(s.b)) for s in old.seams}
    for seam in new.seams:
        left_over = new.side_length(seam.a) - new.side_length(seam.b)
        assert left_over == pytest.approx(sides[seam.name], abs=0.01)
    for piece in new.pieces:
        assert gap(piece) == 0.0 and crossing(piece) is None
        before = old.piece(piece.key)
        assert [e for e in piece.labels if e.role == "hem"] == [e for e in before.labels if e.role == "hem"]
        assert all(s.made == "hem" for s in piece.outline if s.label.role == "hem")
    for run in hem_round(new).runs:
        for one, two in pairwise(s.curve for s in run.spans):
            assert abs(cmath.phase(two.tangent(0) / one.tangent(1))) < 1e-6


@given(LENGTHS, st.floats(0, 80))
@settings(max_examples=20, deadline=None)
def test_raising_keeps_a_hem_parallel(by: float, flare: float) -> None:
    """Every place of the new hem lies the drop away from the old one (that is the hem of a level skirt)."""
    old = dress(flare=0.0)
    new = apply(old, **{"raise": mm(by)}).draft
    for piece in new.pieces:
        was = [s.curve for s in old.piece(piece.key).outline if s.label.role == "hem"]
        for span in (s for s in piece.outline if s.label.role == "hem"):
            for i in range(5):
                assert nearest(was, span.curve.at(i / 4))[1] == pytest.approx(abs(by), abs=0.3)


def test_openings_stay_on_the_cloth_and_a_slit_stays_at_the_hem() -> None:
    old = whole_skirt()
    seam = next(s for s in old.seams if s.name == "centre back")
    size = old.side_length(seam.a)
    starts_at_hem = old.piece(seam.a.piece).edge(seam.a.labels[0])[0].curve.start.imag < -599
    zip_at = (size - 200, 200) if starts_at_hem else (0, 200)
    slit_at = (0, 150) if starts_at_hem else (size - 150, 150)
    old = replace(
        old, openings=(Opening("centre back", "zip", *zip_at), Opening("centre back", "slit", *slit_at))
    )
    result = apply(old, **{"raise": "5 cm"})
    new = {o.kind: o for o in result.draft.openings}
    assert new["zip"].length_mm == pytest.approx(200) and new["slit"].length_mm == pytest.approx(100)
    assert any(f.code == "opening-changed" and "slit" in f.message for f in result.findings)
    top = new["zip"].start_mm + new["zip"].length_mm if starts_at_hem else new["zip"].start_mm
    assert top == pytest.approx(size - 50 if starts_at_hem else 0)


def test_a_gathered_side_grows_by_its_ratio() -> None:
    old = whole_skirt()
    seams = tuple(
        replace(s, relation=Relation("gather", ratio=1.0)) if s.name == "left side" else s for s in old.seams
    )
    old = replace(
        old,
        seams=tuple(
            replace(s, relation=Relation("gather", ratio=1.4)) if s.relation.kind == "gather" else s
            for s in seams
        ),
    )
    seam = next(s for s in old.seams if s.name == "left side")
    before = seam.relation.left_over(old.side_length(seam.a), old.side_length(seam.b))
    new = apply(old, **{"raise": "-5 cm"}).draft
    assert seam.relation.left_over(new.side_length(seam.a), new.side_length(seam.b)) == pytest.approx(before)


def test_what_is_cut_off_is_remembered() -> None:
    new = apply(whole_skirt(), **{"raise": "5 cm"}).draft
    assert {g.label.key for g in new.gone if g.step == "hem"} >= {"left side", "right side"}
    assert all("new hem" in g.reason for g in new.gone if g.step == "hem")


def test_marks_stay_on_their_cloth() -> None:
    old = whole_skirt()
    new = apply(old, dip={"lowest": "centre back", "down": "5 cm"}).draft
    assert place_named(new, hem_round(new), "centre front") > 0
    assert [p.marks for p in new.pieces] == [p.marks for p in old.pieces]


def refusal(draft: Draft, **params: Any) -> str:
    with pytest.raises(Problem) as caught:
        apply(draft, **params)
    line = str(caught.value)
    assert "\n" not in line
    return caught.value.code


@pytest.mark.parametrize(
    ("code", "params"),
    [
        ("hem-shape", {}),
        ("hem-shape", {"raise": "1 cm", "slant": SLANT}),
        ("no-dip", {"dip": {"lowest": "centre back"}}),
        ("no-landmark", {"dip": {"lowest": "elbow", "down": "1 cm"}}),
        ("ambiguous", {"dip": {"lowest": "side", "down": "1 cm"}}),
        ("past-end", {"raise": "80 cm"}),
        (
            "same-place",
            {"curved": [{"at": "left side", "down": "1 cm"}, {"at": "left side", "down": "2 cm"}]},
        ),
        ("no-hem", {"raise": "1 cm", "piece": "sleeve"}),
        ("no-landmark", {"level": {"below": "waist", "by": "50 cm"}}),
        ("dart-in-the-way", {"raise": "52 cm"}),
        (
            "not-on-hem",
            {
                "dip": {
                    "lowest": {"piece": "skirt front", "edge": "side", "wearer": "left", "at": "waist"},
                    "down": "1 cm",
                }
            },
        ),
    ],
)
def test_refusals(code: str, params: dict[str, Any]) -> None:
    assert refusal(whole_skirt(), **params) == code


def test_halves_that_are_alike_cannot_slant_or_dip_to_a_side() -> None:
    assert refusal(skirt(), slant=SLANT) == "half-state"
    assert refusal(skirt(), dip={"lowest": "side", "down": "1 cm"}) == "half-state"


def test_a_dart_on_the_hem_comes_first() -> None:
    old = skirt()
    front = old.piece("skirt front")
    renamed = tuple(
        replace(s, label=replace(s.label, name="hem", role="hem")) if s.label.role == "waist" else s
        for s in front.outline
    )
    with pytest.raises(CannotApply) as caught:
        apply(old.with_pieces([replace(front, outline=renamed)]), **{"raise": "1 cm"})
    assert caught.value.code == "dart-on-hem"


def test_a_bodice_without_a_hem_says_what_it_has() -> None:
    with pytest.raises(CannotApply, match=r"no piece has a hem; edges are front: .*waist"):
        apply(bodice(), **{"raise": "1 cm"})
