"""Edges that a spread has broken: kept lengths restored, opened edges faired, targets met."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reshape.shapes import slashed, strip
from steps.drafts import skirt, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.reshape.blend import corners
from cutonce.reshape.mending import edge_bend, edge_group, mended, natural_length
from cutonce.reshape.places import chain
from cutonce.reshape.soundness import gap
from cutonce.reshape.spread import Slash, Spread, spread

HEM, WAIST, SIDE = (Label(n, n) for n in ("hem", "waist", "side"))  # type: ignore[arg-type]


def fan(
    piece: Piece, count: int, wide: float, far: float = 0.0, first: float = 0.0, last: float = 1.0
) -> Spread:
    """Slashes from hem to waist, spaced evenly between two shares of each, counted from the left."""
    draft = Draft((piece,))
    hem, waist = (chain(draft, piece.key, e) for e in ("hem", "waist"))
    slashes = []
    for i in range(1, count + 1):
        share = first + (last - first) * i / (count + 1)
        start, end = hem.spot(hem.length * share), waist.spot(waist.length * (1 - share))
        slashes.append(Slash(f"slash {i}", start, end, wide, far))
    return spread(piece, slashes, "step")


@given(st.integers(1, 9), st.floats(2, 45), st.floats(0, 0.4), st.floats(0.6, 1))
@settings(max_examples=40)
def test_a_kept_edge_keeps_its_length_before_and_after(
    count: int, wide: float, first: float, last: float
) -> None:
    """Within 0.01 mm, smooth, ends where they were; or refused."""
    piece = strip()
    done = fan(piece, count, wide, 0.0, first, last)
    assert done.piece.edge_length(WAIST) == pytest.approx(300, abs=1e-9)
    try:
        new, told = mended(done.piece, done.breaks, "step")
    except CannotApply as problem:
        assert problem.code == "blend"
        return
    assert new.edge_length(WAIST) == pytest.approx(300, abs=0.01)
    for label in (SIDE, Label("centre front", "centre front")):
        assert new.edge(label) == done.piece.edge(label)
    waist = new.edge(WAIST)
    assert corners([s.curve for s in waist]) < 1e-6
    assert waist[0].curve.start == done.piece.edge(WAIST)[0].curve.start
    assert waist[-1].curve.end == done.piece.edge(WAIST)[-1].curve.end
    kept = [t for t in told if t.kept]
    assert kept and all(t.edge == "waist" and 0 < t.deviation_mm < 20 for t in kept)
    assert gap(new) < 1e-9


@given(st.integers(2, 9), st.floats(2, 45))
@settings(max_examples=25)
def test_the_material_of_a_mended_edge_stays_whole(count: int, wide: float) -> None:
    """Marks find their place: the intervals of an origin follow each other without gap."""
    done = fan(strip(), count, wide)
    new, _ = mended(done.piece, done.breaks, "step")
    spans = [s for s in new.edge(HEM) if s.origin.step == "block"]
    assert spans[0].lo == 0 and spans[-1].hi == pytest.approx(300)
    assert all(a.hi == pytest.approx(b.lo, abs=1e-9) for a, b in pairwise(spans))
    assert {s.made for s in new.edge(WAIST)} >= {"step"}


def test_the_opened_edge_has_no_corner_and_says_its_length() -> None:
    done = fan(strip(), 5, 40)
    new, told = mended(done.piece, done.breaks, "step")
    hem = next(t for t in told if t.edge == "hem")
    assert not hem.kept
    assert corners([s.curve for s in new.edge(HEM)]) < 1e-6
    natural = natural_length(done.piece, done.breaks, "step", None, (HEM,))
    assert new.edge_length(HEM) == pytest.approx(natural, abs=0.01)
    assert hem.length_mm <= new.edge_length(HEM) + 1e-6
    assert 500 - 3 < new.edge_length(HEM) < 500 + 1e-9  # 300 of cloth and five chords of 40, corners cut


def test_a_target_is_met_by_the_opened_edge() -> None:
    done = fan(strip(), 5, 40)
    new, _ = mended(done.piece, done.breaks, "step", lengths=[((HEM,), 499.0)])
    assert new.edge_length(HEM) == pytest.approx(499.0, abs=0.01)
    assert new.edge_length(WAIST) == pytest.approx(300.0, abs=0.01)


def test_only_the_stretch_round_the_breaks_is_reshaped() -> None:
    """Two slashes near the left end of a skirt's hem, reach 30 mm: the far half of the hem is untouched."""
    done = fan(strip(), 2, 10, 0.0, 0.0, 0.3)
    new, told = mended(done.piece, done.breaks, "step", 30.0)
    last = new.edge(HEM)[-1]
    assert last.made == "block" and last.length > 150
    assert {t.reach_mm for t in told} == {30.0}


def test_a_dart_in_the_edge_is_left_alone() -> None:
    piece = skirt().piece("skirt front")
    dart = piece.darts[0]
    done = fan(piece, 4, 60)
    new, _ = mended(done.piece, done.breaks, "step")
    assert new.dart_angle(new.darts[0]) == pytest.approx(piece.dart_angle(dart), abs=1e-9)
    for one, two in zip(new.legs(dart), piece.legs(dart), strict=True):
        assert one.length == pytest.approx(two.length, abs=1e-9)
    assert new.edge_length(WAIST) == pytest.approx(piece.edge_length(WAIST), abs=0.01)


def test_turn_and_least_radius_of_an_edge() -> None:
    """Five hinges turn the waist by 5 x 2 asin(40 / 800) in all (arithmetic)."""
    done = fan(strip(), 5, 40)
    slashes = [2 * math.asin(40 / (2 * 400))] * 5
    turn, _ = edge_bend(done.piece, (WAIST,))
    assert abs(turn) == pytest.approx(sum(slashes), abs=1e-3)
    new, _ = mended(done.piece, done.breaks, "step")
    turn, radius = edge_bend(new, (WAIST,))
    assert abs(turn) == pytest.approx(sum(slashes), abs=1e-3)
    assert 300 / sum(slashes) / 3 < radius < 300 / sum(slashes) + 1
    assert edge_bend(strip(), (WAIST,)) == (0.0, math.inf)


def test_what_cannot_be_smooth_is_refused_with_what_to_do() -> None:
    """A target far from what the openings give cannot be bent in."""
    done = fan(strip(), 5, 40)
    with pytest.raises(
        CannotApply, match=r"hem: to be smooth and 900\.0 mm long .* swing \d+ degrees beyond"
    ):
        mended(done.piece, done.breaks, "step", lengths=[((HEM,), 900.0)])


def test_left_and_right_halves_that_run_on_are_one_edge() -> None:
    front = whole_dress().piece("front")
    keys = [label.key for label in edge_group(front, Label("hem", "hem", "left"))]
    assert sorted(keys) == ["left hem", "right hem"]
    assert edge_group(front, Label("side", "side", "left")) == (Label("side", "side", "left"),)


@given(slashed())
@settings(max_examples=50)
def test_on_any_piece_kept_edges_keep_their_length_and_all_ends_their_place(case: tuple) -> None:  # type: ignore[type-arg]
    """Within 0.01 mm where only hinges lie in an edge; or no smooth edge is to be had, and that is said."""
    piece, slashes = case
    try:
        done = spread(piece, slashes, "step")
        new, told = mended(done.piece, done.breaks, "step")
    except CannotApply as problem:
        assert problem.code in ("slash-leaves", "crosses-itself", "blend")
        return
    opened = {s.label for s in done.piece.outline if s.origin.step == "step"}
    for label in piece.labels:
        before, after = done.piece.edge(label), new.edge(label)
        assert after[0].curve.start == before[0].curve.start
        assert after[-1].curve.end == before[-1].curve.end
        if label not in opened:
            assert new.edge_length(label) == pytest.approx(piece.edge_length(label), abs=0.01)
    assert all(t.kept or t.edge in {label.key for label in opened} for t in told)
    assert gap(new) < 1e-9
