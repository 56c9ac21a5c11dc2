"""Blending an edge: no corner left, ends kept, the length asked for, what moved is told."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.checks import Context
from cutonce.checks.corners import corners as kinks_of
from cutonce.draft.draft import Draft
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.reshape.blend import corners
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.runs import runs_of
from cutonce.reshape.seams import divide_edge
from cutonce.reshape.spread import Slash, spread
from cutonce.reshape.unfold import unfolded
from cutonce.steps import blend_edge, split_piece
from cutonce.steps.step import Result

from .drafts import dress, skirt

HEM = {"piece": "skirt front", "edge": "hem", "wearer": "left"}


def apply(draft: Draft, **params: Any) -> Result:
    return blend_edge.apply(draft, blend_edge.BlendEdge.model_validate(params), "s")


def fanned(share: float, amount: float) -> tuple[Draft, Any]:
    """A skirt front opened at the waist, hinged at the hem, and the label of its broken hem."""
    draft = skirt()
    piece = next(p for p in draft.pieces if p.face == "front")
    waist = next(e for e in piece.labels if e.role == "waist")
    hem = next(e for e in piece.labels if e.role == "hem")
    place = [
        resolve(draft, Place(piece.key, e.name, e.wearer, start=_first_end(draft, piece.key, e), share=s))
        for e, s in ((waist, share), (hem, 1 - share))
    ]
    new = spread(piece, [Slash("1", place[0], place[1], amount)], "fan").piece
    return draft.with_pieces([new]), hem


def _first_end(draft: Draft, key: str, label: Label) -> str:
    piece = draft.piece(key)
    first = piece.outline.index(piece.edge(label)[0])
    return piece.outline[first - 1].label.key


@settings(max_examples=20, deadline=None)
@given(st.floats(0.3, 0.7), st.floats(5, 60))
def test_the_hinged_edge_is_smooth_and_as_long_as_before(share: float, amount: float) -> None:
    draft, hem = fanned(share, amount)
    piece = next(p for p in draft.pieces if p.face == "front")
    before = piece.edge(hem)
    result = apply(draft, edge={"piece": piece.key, "edge": hem.key})
    after = result.draft.piece(piece.key).edge(hem)
    assert sum(s.length for s in after) == pytest.approx(sum(s.length for s in before), abs=0.01)
    assert corners([s.curve for s in after]) < 1e-3
    assert after[0].curve.start == before[0].curve.start
    assert abs(after[-1].curve.end - before[-1].curve.end) < 1e-9
    assert all(s.made == "s" for s in after)


def test_a_length_that_cannot_be_had_is_refused_with_what_there_is() -> None:
    draft = skirt()
    piece = next(p for p in draft.pieces if p.face == "front")
    hem = next(e for e in piece.labels if e.role == "hem")
    with pytest.raises(CannotApply, match=r"no smooth edge of 10\.0 mm"):
        apply(draft, edge={"piece": piece.key, "edge": hem.key}, length="1 cm")


def test_the_partner_gives_the_length() -> None:
    draft = skirt()
    seam = next(s for s in draft.seams if s.a != s.b)
    piece, label = draft.piece(seam.a.piece), seam.a.labels[0]
    longer = apply(
        draft, edge={"piece": piece.key, "edge": label.key}, length=f"{piece.edge_length(label) + 3} mm"
    )
    back = apply(longer.draft, edge={"piece": piece.key, "edge": label.key}, keep="partner")
    assert back.draft.side_length(seam.a) == pytest.approx(draft.side_length(seam.b), abs=0.01)


def with_waist_seam() -> Draft:
    """A dress with a waist seam as it falls when cut straight across: corners at the folded darts."""
    draft = dress()
    for name in ("front", "back"):
        values = {
            "guide": {"piece": name, "line": "waist"},
            "role": "waist",
            "seam": "waist",
            "smooth": "0 mm",
        }
        values["parts"] = {"above": name, "below": f"{name} skirt"}
        draft = split_piece.apply(draft, split_piece.SplitPiece.model_validate(values), "split").draft
    return draft


def kinks(draft: Draft, piece: str) -> list[str]:
    return [
        f.message for f in kinks_of(draft, Context()) if f.code == "kink" and f.where.startswith(f"{piece},")
    ]


@pytest.mark.parametrize("name", ["front", "front skirt", "back", "back skirt"])
def test_an_edge_with_darts_is_smoothed_with_them_folded(name: str) -> None:
    draft = with_waist_seam()
    before = draft.piece(name)
    assert kinks(draft, name)
    result = apply(draft, edge={"piece": name, "edge": "waist"})
    piece = result.draft.piece(name)
    assert kinks(result.draft, name) == []
    assert result.findings[0].message.startswith("with the darts on it folded: corners of up to")
    (label,) = [e for e in piece.labels if e.role == "waist"]
    assert piece.edge_length(label) == pytest.approx(before.edge_length(label), abs=0.01)
    for dart in piece.darts:
        one, two = piece.legs(dart)
        assert one.length == pytest.approx(two.length, abs=1e-6)
        assert piece.dart_angle(dart) == pytest.approx(before.dart_angle(dart), abs=1e-9)


def test_parts_of_one_edge_are_smoothed_as_one_and_keep_their_lengths() -> None:
    """The hint of the check on corners between parts can be followed."""
    draft = with_waist_seam()
    name = "back skirt"
    whole = draft.piece(name)
    (label,) = [e for e in whole.labels if e.role == "waist"]
    draft, _ = divide_edge(draft, name, label, runs_of(whole, label)[0][0].length)
    before = draft.piece(name)
    parts = [e for e in before.labels if e.role == "waist"]
    assert len(parts) == 2
    assert any("corner" in line for line in kinks(draft, name))
    result = apply(draft, edge={"piece": name, "edge": "waist"})
    assert kinks(result.draft, name) == []
    after = result.draft.piece(name)
    for part in parts:
        assert after.edge_length(part) == pytest.approx(before.edge_length(part), abs=0.01)
    with pytest.raises(CannotApply, match="in 2 parts, which can only be smoothed at their lengths"):
        apply(draft, edge={"piece": name, "edge": "waist"}, keep="fair")


def test_two_pieces_with_the_edge_are_still_ambiguous() -> None:
    draft = unfolded(dress(), ("back",), "unfold")
    with pytest.raises(CannotApply, match="fits 2 places"):
        apply(draft, edge={"piece": "back", "edge": "hem"})
    with pytest.raises(CannotApply, match="the left and the right edge are two"):
        apply(draft, edge={"piece": "front", "edge": "hem"})


def test_both_ways_of_saying_the_length_are_one_too_many() -> None:
    draft = skirt()
    hem = next(e for e in draft.pieces[0].labels if e.role == "hem")
    edge = {"piece": draft.pieces[0].key, "edge": hem.key}
    with pytest.raises(CannotApply, match="say the length once"):
        apply(draft, edge=edge, keep="fair", length="3 cm")
