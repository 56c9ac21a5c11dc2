"""Take a dart out: girths, lengths and partners kept, shapes smooth, refusals plain."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.blocks import size_12
from steps.drafts import bodice, dress, skirt, whole_bodice, whole_dress

from cutonce.blocks import draft_block
from cutonce.checks.levels import levels_of
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry import path
from cutonce.reshape.blend import corners
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.soundness import crossing, gap
from cutonce.steps.take_out_dart import STEP, TakeOutDart
from cutonce.validation import validated

SIDE = Label("side", "side")


def run(draft: Draft, **values: object) -> Draft:
    return STEP.apply(draft, validated(TakeOutDart, values, {}, "step 1"), "out").draft


def waist_as_worn(piece: Piece) -> float:
    """Along the waist line, darts that cross it taken off."""
    line = next(x for x in piece.lines if x.name == "waist")
    return path.length(line.curves) - sum(d.intake for d in piece.double_darts)


def smooth(piece: Piece, label: Label) -> float:
    return corners([s.curve for s in piece.edge(label)])


def sound(draft: Draft) -> None:
    for piece in draft.pieces:
        assert gap(piece) < 1e-9 and crossing(piece) is None, piece.key


@settings(max_examples=30, deadline=None)
@given(width=st.floats(220, 300), intake=st.floats(6, 45))
def test_a_bodice_waist_dart_leaves_every_edge_as_long_as_it_was(width: float, intake: float) -> None:
    half = bodice(width, 0.15, intake)
    done = run(half, piece="front", dart="waist dart")
    before, after = half.piece("front"), done.piece("front")
    for label in before.labels:
        assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=1e-6), label.key
    assert "waist dart" not in [d.name for d in after.darts]
    assert smooth(after, SIDE) < 1e-6 and smooth(after, Label("waist", "waist")) < 1e-6
    sound(done)
    # the corner of waist and side keeps its angle, so the waist still runs smoothly on across the seam
    assert _corner(after) == pytest.approx(_corner(before), abs=1e-9)
    waist, side = (
        resolve(done, Place("front", "side", at="waist")),
        half.piece("front").edge(SIDE)[0].curve.start,
    )
    assert side.real - waist.point.real == pytest.approx(intake, abs=0.25 * intake)


def _corner(front: Piece) -> float:
    waist, side = front.edge(Label("waist", "waist"))[-1], front.edge(SIDE)[0]
    turn = side.curve.tangent(0) / waist.curve.tangent(1)
    return turn.real


@settings(max_examples=25, deadline=None)
@given(width=st.floats(225, 300), flare=st.floats(0, 80), intake=st.floats(4, 40))
def test_a_double_dart_leaves_waist_and_side_as_long_as_they_were(
    width: float, flare: float, intake: float
) -> None:
    half = _with_intake(dress(width, flare), intake)
    done = run(half, piece="front", dart="waist dart")
    before, after = half.piece("front"), done.piece("front")
    assert waist_as_worn(after) == pytest.approx(waist_as_worn(before), abs=1e-6)
    assert after.edge_length(SIDE) == pytest.approx(before.edge_length(SIDE), abs=1e-6)
    assert done.side_length(done.seams[0].a) == pytest.approx(
        done.side_length(done.seams[0].b), abs=1e-6
    ) or (
        # the hand-made front and back differ by as much before
        done.side_length(done.seams[0].a) - done.side_length(done.seams[0].b)
        == pytest.approx(half.side_length(half.seams[0].a) - half.side_length(half.seams[0].b), abs=1e-6)
    )
    assert smooth(after, SIDE) < 1e-6
    assert after.double_darts == ()
    sound(done)
    for name in ("waist", "hip"):  # marks keep their place along the seam
        was, now = (resolve(d, Place("front", "side", at=name)).arc for d in (half, done))
        assert now == pytest.approx(was, abs=1e-6)


def _with_intake(draft: Draft, intake: float) -> Draft:
    front = draft.piece("front")
    dart = front.double_darts[0]
    new = replace(dart, left=90 - intake / 2 + 0j, right=90 + intake / 2 + 0j)
    return draft.with_pieces([replace(front, double_darts=(new,))])


@pytest.mark.parametrize("system", ["proportional", "direct"])
def test_on_the_dress_blocks_partners_taken_out_together_grow_alike(system: str) -> None:
    block = draft_block("dress", system, size_12(), length=600.0, flare=40.0)
    other = [{"piece": "back", "dart": "side waist dart"}]
    done = run(block, piece="front", dart="waist dart", also=other)
    side = next(s for s in done.seams if s.name == "side")
    assert done.side_length(side.a) == pytest.approx(done.side_length(side.b), abs=0.01)
    for key in ("front", "back"):
        assert waist_as_worn(done.piece(key)) == pytest.approx(waist_as_worn(block.piece(key)), abs=0.01)
        assert smooth(done.piece(key), SIDE) < 1e-6
        hem = Label("hem", "hem")
        assert abs(done.piece(key).edge_length(hem) - block.piece(key).edge_length(hem)) < 1.0
    for name in ("waist", "hip"):
        front, back = (
            resolve(done, Place(k, "side", start="armhole", by=0.0)).arc for k in ("front", "back")
        )
        a, b = (resolve(done, Place(k, "side", at=name)).arc for k in ("front", "back"))
        assert abs(a - front) == pytest.approx(abs(b - back), abs=0.01)
    sound(done)


@pytest.mark.parametrize("system", ["proportional", "direct"])
def test_the_shoulder_dart_of_the_blocks_goes_out_at_the_tip(system: str) -> None:
    block = draft_block("bodice", system, size_12())
    done = run(block, piece="back", dart="shoulder dart")
    before, after = block.piece("back"), done.piece("back")
    for label in before.labels:
        assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=1e-6), label.key
    assert smooth(after, Label("armhole", "armhole")) < 0.02
    assert smooth(after, Label("shoulder", "shoulder")) < 1e-6
    sound(done)


def test_a_skirt_waist_dart_goes_out_at_the_side_above_the_hip() -> None:
    half = skirt()
    done = run(half, piece="skirt front", dart="waist dart", taper="18 cm")
    before, after = half.piece("skirt front"), done.piece("skirt front")
    for label in before.labels:
        assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=1e-6)
    assert smooth(after, SIDE) == pytest.approx(smooth(before, SIDE), abs=1e-6)
    sound(done)


def test_eased_truing_declares_what_the_side_grows() -> None:
    block = draft_block("dress", "direct", size_12(), length=600.0)
    done = run(block, piece="front", dart="waist dart", truing="eased")
    seam = next(s for s in done.seams if s.name == "side")
    a, b = done.side_length(seam.a), done.side_length(seam.b)
    assert seam.relation.kind == "ease" and a - b > 5
    assert abs(seam.relation.left_over(a, b)) < 0.01
    foot = [max(abs(s.curve.start.imag) for s in d.piece("front").edge(SIDE)) for d in (block, done)]
    assert foot[0] == pytest.approx(foot[1], abs=5)


def test_on_a_whole_front_only_the_wearers_side_comes_in() -> None:
    whole = whole_dress()
    done = run(whole, piece="front", dart="waist dart", wearer="left")
    front = done.piece("front")
    assert [d.wearer for d in front.double_darts] == ["right"]
    right = replace(SIDE, wearer="right")
    assert front.edge(right)[0].curve == whole.piece("front").edge(right)[0].curve
    assert front.edge_length(replace(SIDE, wearer="left")) == pytest.approx(
        front.edge_length(right), abs=1e-6
    )
    sound(done)
    both = run(whole_bodice(), piece="front", dart="waist dart", wearer="right")
    sound(both)


def test_a_later_step_is_told_who_took_the_dart_out() -> None:
    done = run(dress(), piece="front", dart="waist dart")
    with pytest.raises(CannotApply, match="the waist dart is no more: step out took the waist dart out"):
        run(done, piece="front", dart="waist dart")
    done = run(bodice(), piece="front", dart="waist dart")
    with pytest.raises(CannotApply, match="the waist dart is no more: step out took the waist dart out"):
        run(done, piece="front", dart="waist dart")


def test_what_changes_above_and_below_is_told() -> None:
    """At 75 mm below the bust point, y = 95: the dart of 30 mm with its point at 140 takes 30 x 45 / 140,
    9.64 mm; what the side has come in there goes off it."""
    half = dress()
    done = STEP.apply(half, validated(TakeOutDart, {"piece": "front", "dart": "waist dart"}, {}, ""), "out")
    said = done.findings[0].message
    front = done.draft.piece("front")
    side = [s.curve for s in front.edge(SIDE)]
    old = [s.curve for s in half.piece("front").edge(SIDE)]
    came_in = _x_at(old, 95) - _x_at(side, 95)
    assert f"{9.643 - came_in:.1f} mm wider under the bust" in said
    assert "it keeps its length, ending" in said


def _x_at(line: list, y: float) -> float:  # type: ignore[type-arg]
    """By plain bisection along the flattened line, not by the product's own meeting of curves."""
    points = path.flattened(line, 1e-4)
    for p, q in pairwise(points):
        if min(p.imag, q.imag) <= y <= max(p.imag, q.imag):
            return p.real + (y - p.imag) / (q.imag - p.imag) * (q.real - p.real)
    raise AssertionError("the line does not reach that level")


@pytest.mark.parametrize(
    ("draft", "values", "line"),
    [
        (
            bodice,
            {"dart": "bust dart"},
            "front: the bust dart takes 47.2 mm, a shoulder tip gives 35 at most "
            "(move the dart, or release it)",
        ),
        (
            bodice,
            {"dart": "waist dart", "taper": "4 cm"},
            "front: the side cannot come in 30.0 mm over 40.0 mm "
            "(let it taper over at least 50.0 mm, or move a part of the dart first)",
        ),
        (
            dress,
            {"dart": "waist dart", "below": "3 cm"},
            "front: the side cannot come in 30.0 mm over 30.0 mm below the waist "
            "(let it taper over at least 50.0 mm)",
        ),
        (
            bodice,
            {"dart": "waist dart", "edge": "centre front"},
            "front: the centre front lies on the fold and stays straight",
        ),
        (
            bodice,
            {"dart": "waist dart", "edge": "neck"},
            "front: the waist dart opens on the waist, and no edge 'neck' ends there; beside it are: "
            "centre front, side (name the edge, move the dart to the waist or shoulder first, or release it)",
        ),
        (bodice, {"dart": "dart"}, "front: no dart 'dart'; it has: bust dart, waist dart"),
        (
            whole_dress,
            {"dart": "waist dart"},
            "front: 'waist dart' fits 2 darts: front, left waist dart; front, right waist dart "
            "(name the wearer's side)",
        ),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(draft, values: dict[str, str], line: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(CannotApply) as caught:
        run(draft(), piece="front", **values)
    assert str(caught.value) == line


def test_the_inner_of_two_darts_needs_room_beside_the_outer() -> None:
    block = draft_block("bodice", "proportional", size_12())
    with pytest.raises(CannotApply, match=r"the waist beyond the next dart is .* mm long and cannot lose"):
        run(block, piece="back", dart="waist dart")
    done = run(block, piece="back", dart="side waist dart")
    sound(done)


def test_a_dart_named_twice_is_bad_input() -> None:
    with pytest.raises(BadInput, match="the waist dart is named twice"):
        run(dress(), piece="front", dart="waist dart", also=[{"piece": "front", "dart": "waist dart"}])


def test_two_darts_of_one_edge_go_out_one_after_the_other() -> None:
    block = draft_block("dress", "direct", size_12())
    with pytest.raises(CannotApply, match="two darts would come out of the side at once"):
        run(block, piece="back", dart="waist dart", also=[{"piece": "back", "dart": "side waist dart"}])


def test_sentences() -> None:
    params = TakeOutDart(piece="front", dart="waist dart", wearer="left")
    assert (
        STEP.sentence(params) == "Take out the front's left waist dart, bringing the edge in by the intake."
    )
    params = validated(
        TakeOutDart,
        {
            "piece": "front",
            "dart": "waist dart",
            "also": [{"piece": "back", "dart": "waist dart"}],
            "edge": "side",
        },
        {},
        "",
    )
    assert STEP.sentence(params) == (
        "Take out the front's waist dart and the back's waist dart at the side, "
        "bringing the edge in by the intake."
    )


@pytest.mark.parametrize("system", ["proportional", "direct"])
@pytest.mark.parametrize("together", [False, True])
def test_the_checks_find_the_same_girths_as_before(system: str, together: bool) -> None:
    """Measured by the checks' own reading of the landmark lines, not by this step's."""
    block = draft_block("dress", system, size_12(), length=600.0)
    other = [{"piece": "back", "dart": "side waist dart"}] if together else []
    done = run(block, piece="front", dart="waist dart", also=other)
    before, after = levels_of(block), levels_of(done)
    for name in ("bust", "waist", "hip"):
        assert after[name].girth == pytest.approx(before[name].girth, abs=0.1), name
