"""A seam across darts pointed at both ends is drawn as it runs with them folded: smooth, lengths kept."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import dress, whole_dress
from steps.proofs import done, unmatched

from cutonce.checks import Context
from cutonce.checks.corners import corners
from cutonce.checks.levels import level
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Side
from cutonce.reshape.folded_edge import folded_edge
from cutonce.reshape.runs import runs_of
from cutonce.steps import BY_NAME

STEP = BY_NAME["split_piece"]


def with_waist_seam(draft: Draft, **more: Any) -> Draft:
    """Every piece of a dress split along its waist line."""
    for piece in draft.pieces:
        guide = {"piece": piece.name, "line": "waist"} | ({"wearer": piece.wearer} if piece.wearer else {})
        parts = {"above": piece.name, "below": f"{piece.name} skirt"}
        values = {"guide": guide, "parts": parts, "seam": "waist seam", "role": "waist"}
        draft = done(STEP, draft, **(values | more)).draft
    return draft


def kinks(draft: Draft) -> list[str]:
    return [f.message for f in corners(draft, Context()) if f.code == "kink"]


def waist_sides(draft: Draft) -> list[tuple[Side, Side]]:
    found = [(s.a, s.b) for s in draft.seams if "waist seam" in s.name]
    assert found
    return found


def stretches(piece: Piece, side: Side) -> list[float]:
    """Lengths between darts and ends along a side of a seam."""
    return [sum(s.length for s in run) for label in side.labels for run in runs_of(piece, label)]


@pytest.mark.parametrize("draft", [dress(), whole_dress()], ids=["half", "whole"])
def test_the_folded_seam_has_no_corner_and_its_length(draft: Draft) -> None:
    flat, smooth = with_waist_seam(draft, smooth="0 mm"), with_waist_seam(draft)
    assert len(kinks(flat)) >= 3
    assert kinks(smooth) == []
    assert not unmatched(smooth)
    for pair, old in zip(waist_sides(smooth), waist_sides(flat), strict=True):
        for side, before in zip(pair, old, strict=True):
            assert stretches(smooth.piece(side.piece), side) == pytest.approx(
                stretches(flat.piece(before.piece), before), abs=0.01
            )


@pytest.mark.parametrize("draft", [dress(), whole_dress()], ids=["half", "whole"])
def test_darts_keep_their_angles_and_equal_legs_and_the_seam_its_ends(draft: Draft) -> None:
    flat, smooth = with_waist_seam(draft, smooth="0 mm"), with_waist_seam(draft)
    count = 0
    for piece in smooth.pieces:
        before = flat.piece(piece.key)
        for dart in piece.darts:
            one, two = piece.legs(dart)
            assert one.length == pytest.approx(two.length, abs=1e-6)
            assert piece.dart_angle(dart) == pytest.approx(before.dart_angle(dart), abs=1e-9)
            assert piece.pivot(dart) == before.pivot(dart)
            count += dart.name.endswith("waist dart")
        for label in (e for e in piece.labels if e.role == "waist"):
            new, old = piece.edge(label), before.edge(label)
            assert abs(new[0].curve.start - old[0].curve.start) < 1e-6
            assert abs(new[-1].curve.end - old[-1].curve.end) < 1e-6
            assert max(abs(s.curve.at(t / 8).imag) for s in new for t in range(9)) < 4  # guide: y = 0
    assert count >= 4


@settings(max_examples=8, deadline=None)
@given(st.floats(8, 60))
def test_any_reach_leaves_no_corner(reach: float) -> None:
    draft = with_waist_seam(dress(), smooth=f"{reach} mm")
    assert kinks(draft) == []
    assert not unmatched(draft)


def test_the_level_of_the_guide_stays_and_no_notch_is_made_by_the_new_course() -> None:
    """As a style line, the waist is measured along its landmark line: the line goes with the seam."""
    for draft in (dress(), whole_dress()):
        split = with_waist_seam(draft, role="style line")
        was, now = level(draft, "waist"), level(split, "waist")
        assert was is not None
        assert now is not None
        assert now.girth == pytest.approx(was.girth, abs=0.5)
        assert now.is_ring
        for piece in split.pieces:
            made = {s.origin for s in piece.outline if s.label.name == "waist seam"}
            assert not [m for m in piece.marks if m.origin in made and m.name == "waist"]


def test_what_was_done_is_told() -> None:
    draft = dress()
    values = {"guide": {"piece": "front", "line": "waist"}, "parts": {"above": "front", "below": "skirt"}}
    (told,) = done(STEP, draft, **values).findings
    assert "drawn smooth with the darts folded: corners of up to" in told.message
    assert "its length kept" in told.message
    (quiet,) = done(STEP, draft, **values, smooth="0 mm").findings
    assert "folded" not in quiet.message


def test_half_and_whole_are_split_alike() -> None:
    half, whole = with_waist_seam(dress()), with_waist_seam(whole_dress())
    for name in ("front", "front skirt"):
        one, two = half.piece(name), whole.piece(name)
        assert two.area == pytest.approx(2 * one.area, rel=1e-6)
        (label,) = [e for e in one.labels if e.role == "waist"]
        left = next(e for e in two.labels if e.role == "waist" and e.wearer == "left")
        a, b = (folded_edge(p, p.edge(e)).spans for p, e in ((one, label), (two, left)))
        assert sum(s.length for s in a) == pytest.approx(sum(s.length for s in b), abs=0.01)
