"""Hems of whole designs: blocks, panels, skirts flared by spreading; everything by replay of a recipe."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from typing import Any

import pytest

from cutonce.draft.draft import Draft
from cutonce.geometry.meet import nearest
from cutonce.recipe.block import drafted_block
from cutonce.recipe.recipe import BlockEntry, Recipe, StepEntry
from cutonce.recipe.replay import Replayed, replay
from cutonce.reshape.hem_cut import hangings
from cutonce.reshape.hem_round import hem_round
from cutonce.reshape.soundness import crossing, gap

from .test_examples import sample

Entry = tuple[str, dict[str, Any]]
UNFOLD: Entry = ("unfold", {})


def done(block: str, *steps: Entry, **lengths: str) -> Replayed:
    entries = tuple(StepEntry(f"s{i}", do, params) for i, (do, params) in enumerate(steps))
    recipe = Recipe("garment", BlockEntry(block, lengths=lengths), entries)
    return replay(recipe, sample(), drafted_block).raise_first()


def panel(piece: str) -> Entry:
    return (
        "split_piece",
        {
            "start": {"piece": piece, "edge": "waist", "at": "waist dart"},
            "end": {"piece": piece, "edge": "hem", "from": "side", "share": 0.5},
            "darts": ["waist dart"],
            "parts": {"centre": piece, "side": f"{piece} side"},
            "seam": "panel",
        },
    )


def flare(piece: str, blend: bool) -> Entry:
    centre = f"centre {piece.split()[1]}"
    starts = [
        {"piece": piece, "edge": "hem", "from": centre, "by": "5 cm"},
        {"piece": piece, "edge": "hem", "from": "side", "by": "5 cm"},
    ]
    return (
        "spread",
        {"piece": piece, "sets": [{"count": 3, "starts": starts, "dart": "waist dart"}], "blend": blend},
    )


PANELS = (panel("skirt front"), panel("skirt back"), UNFOLD)
FLARED = (flare("skirt front", True), flare("skirt back", True), UNFOLD)
BROKEN = (flare("skirt front", False), flare("skirt back", False), UNFOLD)
SHAPES: tuple[dict[str, Any], ...] = (
    {"raise": "6 cm"},
    {"raise": "-6 cm"},
    {"slant": {"left": "6 cm", "right": "-3 cm"}},
    {"dip": {"lowest": "left side", "down": "8 cm", "up": "6 cm"}},
    {"level": {"below": "waist", "by": "50 cm"}},
    {"curved": [{"at": "centre back", "down": "7 cm"}, {"at": "centre front", "down": "-5 cm"}]},
)


def hem_edges(draft: Draft) -> list[float]:
    """Turns in radians within the hems."""
    return [
        cmath.phase(b.curve.tangent(0) / a.curve.tangent(1))
        for run in hem_round(draft).runs
        for a, b in pairwise(run.spans)
    ]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: str(next(iter(s))))
@pytest.mark.parametrize("before", [PANELS, FLARED, BROKEN], ids=["panels", "flared", "broken"])
def test_seams_agree_and_pieces_are_sound(before: tuple[Entry, ...], shape: dict[str, Any]) -> None:
    old, new = done("skirt", *before).draft, done("skirt", *before, ("shape_hem", shape)).draft
    was = {s.name: old.side_length(s.a) - old.side_length(s.b) for s in old.seams}
    for seam in new.seams:
        assert new.side_length(seam.a) - new.side_length(seam.b) == pytest.approx(was[seam.name], abs=1e-6)
    for piece in new.pieces:
        assert gap(piece) == 0.0 and crossing(piece) is None
    assert len(hem_round(new).runs) == len(hem_round(old).runs)
    assert hem_round(new).closed


@pytest.mark.parametrize("shape", SHAPES[3:], ids=lambda s: str(next(iter(s))))
def test_a_smooth_hem_stays_smooth(shape: dict[str, Any]) -> None:
    for before in (PANELS, FLARED):
        replayed = done("skirt", *before, ("shape_hem", shape))
        assert max(map(abs, hem_edges(replayed.draft)), default=0.0) < 1e-6
        assert not [f for f in replayed.steps[-1].findings if f.code == "hem-corner"]


def test_a_flared_hem_is_raised_parallel_to_itself() -> None:
    """The drop is square to the old hem: on a cone both hems are a hand's breadth apart everywhere."""
    old = done("skirt", *FLARED).draft
    new = done("skirt", *FLARED, ("shape_hem", {"raise": "6 cm"})).draft
    for piece in new.pieces:
        was = [s.curve for s in old.piece(piece.key).outline if s.label.role == "hem"]
        for span in (s for s in piece.outline if s.label.role == "hem"):
            for i in range(5):
                assert nearest(was, span.curve.at(i / 4))[1] == pytest.approx(60, abs=0.6)


def test_flare_is_told_and_a_tube_of_slanted_panels_is_none() -> None:
    """Panels lean against each other but sum to a tube; three darts' worth of flare does not."""
    dip = ("shape_hem", SHAPES[3])
    assert "hem-flared" not in {f.code for f in done("skirt", *PANELS, dip).steps[-1].findings}
    said = done("skirt", *FLARED, dip).steps[-1].findings
    before = done("skirt", *FLARED).draft
    degrees = math.degrees(sum(h.flare for h in hangings(before, hem_round(before))))
    told = next(f for f in said if f.code == "hem-flared")
    assert f"{degrees:.0f} degrees" in told.message and "counts as level" in told.message


def test_level_below_the_waist_counts_the_way_to_the_hip_at_the_centre() -> None:
    new = done("skirt", ("shape_hem", {"level": {"below": "waist", "by": "55 cm"}})).draft
    front = new.piece("skirt front")
    centre = next(e for e in front.labels if e.role == "centre front")
    assert front.edge_length(centre) == pytest.approx(550, abs=1e-6)


def test_a_level_dress_hangs_alike_below_the_hip_at_every_seam() -> None:
    dip = ("shape_hem", {"dip": {"lowest": "centre back", "down": "6 cm"}})
    for flared in ({}, {"flare": "5 cm"}):
        new = done("dress", dip, ("shape_hem", {"level": {"by": "38 cm"}}), **flared).draft
        for piece in new.pieces:
            for label in piece.labels:
                marks = [m.at for m in piece.marks if m.name == "hip" and m.origin.name == label.name]
                if label.role not in ("side", "centre front", "centre back") or not marks:
                    continue
                below = 0.0
                for span in piece.edge(label):
                    if span.origin.step != "block":
                        below += span.length
                    elif span.curve.end.imag < span.curve.start.imag:
                        below += max(0.0, max(span.lo, span.hi) - max(marks[0], min(span.lo, span.hi)))
                    else:
                        below += max(0.0, min(marks[0], max(span.lo, span.hi)) - min(span.lo, span.hi))
                assert below == pytest.approx(380, abs=1e-4), (piece.key, label.key)


@pytest.mark.parametrize("name", ["left side", "left side 2"])
def test_a_side_that_has_been_divided_is_still_the_side(name: str) -> None:
    """A front yoke ends on the side, which divides the back's: at the hem that is "side 2" behind, "side" in
    front, and either name is the place where they meet."""
    yoke = {
        "start": {"piece": "skirt front", "edge": "centre front", "from": "waist", "by": "12 cm"},
        "end": {"piece": "skirt front", "edge": "side", "from": "waist", "by": "12 cm"},
        "parts": {"above": "front yoke", "below": "skirt front"},
    }
    before: tuple[Entry, ...] = (("split_piece", yoke), UNFOLD)
    drops = [{"at": name, "down": "4 cm"}, {"at": "right side", "down": "1 cm"}]
    old = done("skirt", *before).draft
    new = done("skirt", *before, ("shape_hem", {"curved": drops})).draft
    for key, edge in (("skirt front", "left side"), ("left skirt back", "left side 2")):
        label = next(e for e in new.piece(key).labels if e.key == edge)
        change = new.piece(key).edge_length(label) - old.piece(key).edge_length(label)
        assert change == pytest.approx(40, abs=1e-6)
