"""Pieces: edges that wrap and that darts interrupt, darts, motions and reflections, messages."""

from __future__ import annotations

import cmath
import itertools
import math
from dataclasses import replace

import pytest
from geometry.shapes import mirrors, motions
from hypothesis import given
from hypothesis import strategies as st
from steps.drafts import bodice_front

from cutonce.draft.piece import Dart, DoubleDart, Grain, InnerLine, Piece
from cutonce.draft.span import EdgeMark, Label, Landmark, Span
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import STILL, Motion, reflecting, turning
from cutonce.geometry.path import area, length, point_at

FRONT = bodice_front()
rotations = st.integers(0, len(FRONT.outline) - 1)


def rotated(piece: Piece, k: int) -> Piece:
    """The same outline, begun at another span."""
    return replace(piece, outline=piece.outline[k:] + piece.outline[:k])


def closed(piece: Piece) -> bool:
    spans = piece.outline
    return all(
        abs(a.curve.end - b.curve.start) < 1e-9 for a, b in zip(spans, spans[1:] + spans[:1], strict=True)
    )


# --- edges


@given(rotations)
def test_an_edge_is_the_same_wherever_the_outline_begins(k: int) -> None:
    piece = rotated(FRONT, k)
    for label in FRONT.labels:
        assert piece.edge(label) == FRONT.edge(label)
        assert piece.edge_length(label) == FRONT.edge_length(label)
    assert set(piece.labels) == set(FRONT.labels)
    assert piece.area == pytest.approx(FRONT.area)


def test_an_edge_runs_on_beyond_its_dart() -> None:
    waist = next(e for e in FRONT.labels if e.role == "waist")
    spans = FRONT.edge(waist)
    assert len(spans) == 2
    dart = FRONT.dart("waist dart")
    one, two = FRONT.legs(dart)
    assert spans[0].curve.end == one.curve.start and two.curve.end == spans[1].curve.start
    # the intake is not cloth of the edge
    chord = abs(spans[1].curve.end - spans[0].curve.start)
    assert FRONT.edge_length(waist) == pytest.approx(chord - abs(two.curve.end - one.curve.start), abs=0.5)


def test_an_edge_that_begins_at_a_dart() -> None:
    """A dart between two edges belongs to neither; the edge behind it begins at its far leg."""
    side, hem = Label("side", "side"), Label("hem", "hem")
    leg = Label("dart", "dart leg")
    curves = (
        (hem, 0j, 40 + 0j),
        (leg, 40 + 0j, 30 + 20j),
        (leg, 30 + 20j, 44 + 4j),
        (side, 44 + 4j, 40j),
        (hem, 40j, 0j),
    )
    spans = tuple(
        Span(Line(p, q), FRONT.outline[0].origin, 0.0, abs(q - p), label, "block") for label, p, q in curves
    )
    for k in range(5):
        piece = rotated(Piece("corner", spans, Grain(10 + 10j), darts=(Dart("dart"),)), k)
        assert [s.curve.start for s in piece.edge(hem)] == [40j, 0j]
        assert [s.curve.start for s in piece.edge(side)] == [44 + 4j]
        assert piece.pivot(piece.darts[0]) == 30 + 20j


def test_a_round_piece_of_one_edge() -> None:
    label = Label("edge", "cut-out")
    corners = [cmath.rect(50, k * math.pi / 3) for k in range(6)]
    spans = tuple(
        Span(Line(p, q), FRONT.outline[0].origin, 0.0, 50.0, label, "block")
        for p, q in zip(corners, corners[1:] + corners[:1], strict=True)
    )
    piece = Piece("disc", spans, Grain(0j))
    assert piece.edge(label) == spans
    assert piece.edge_length(label) == pytest.approx(300)
    assert piece.labels == (label,)


def test_labels_are_in_outline_order_without_darts() -> None:
    assert [e.key for e in FRONT.labels] == [
        "waist",
        "side",
        "armhole",
        "shoulder",
        "neck",
        "centre front",
    ]
    assert FRONT.edge_names() == "waist, side, armhole, shoulder, neck, centre front"


def test_an_edge_that_is_not_there() -> None:
    with pytest.raises(CannotApply) as told:
        FRONT.edge(Label("sid", "side"))
    assert str(told.value) == (
        "front: no edge 'sid'; it has: waist, side, armhole, shoulder, neck, centre front"
    )


# --- darts


@given(rotations)
def test_legs_meet_at_the_pivot_wherever_the_outline_begins(k: int) -> None:
    piece = rotated(FRONT, k)
    for dart in piece.darts:
        one, two = piece.legs(dart)
        assert one.curve.end == two.curve.start == piece.pivot(dart)
        assert piece.mouth(dart) == (one.curve.start, two.curve.end)
        assert piece.legs(dart) == FRONT.legs(dart)


def test_the_angle_and_the_drawn_point_of_a_dart() -> None:
    dart = FRONT.dart("bust dart")
    assert FRONT.dart_angle(dart) == pytest.approx(0.22)
    one, two = FRONT.legs(dart)
    short = replace(dart, short=25.0)
    tip = FRONT.dart_tip(short)
    assert abs(tip - FRONT.pivot(dart)) == pytest.approx(25)
    # on the middle line: as far from either leg
    pivot = FRONT.pivot(dart)
    to_one, to_two = (abs(cmath.phase((tip - pivot) / (p - pivot))) for p in (one.curve.start, two.curve.end))
    assert to_one == pytest.approx(to_two) and to_one == pytest.approx(0.11)
    assert FRONT.dart_tip(replace(dart, short=0.0)) == pivot


def test_darts_by_name() -> None:
    assert FRONT.dart("waist dart").name == "waist dart"
    with pytest.raises(CannotApply) as told:
        FRONT.dart("waste dart")
    assert str(told.value) == "front: no dart 'waste dart'; it has: bust dart, waist dart"
    both = replace(FRONT, darts=(Dart("bust dart", "left"), Dart("bust dart", "right")))
    assert both.dart("bust dart", "right").wearer == "right"
    with pytest.raises(CannotApply, match="more than one dart 'bust dart', say which wearer's side"):
        both.dart("bust dart")
    with pytest.raises(CannotApply, match="it has: none"):
        replace(FRONT, darts=()).dart("bust dart")


# --- motions and reflections


@given(motions)
def test_a_moved_piece_is_the_same_piece(motion: Motion) -> None:
    moved = FRONT.moved(motion)
    assert closed(moved)
    assert moved.area == pytest.approx(FRONT.area, rel=1e-9) and moved.area > 0  # still counter-clockwise
    for label in FRONT.labels:
        assert moved.edge_length(label) == pytest.approx(FRONT.edge_length(label), abs=1e-9)
    for dart in FRONT.darts:
        assert moved.dart_angle(dart) == pytest.approx(FRONT.dart_angle(dart), abs=1e-9)
        assert abs(moved.dart_tip(dart) - motion(FRONT.dart_tip(dart))) < 1e-8
    for before, after in zip(FRONT.points, moved.points, strict=True):
        assert abs(after.at - motion(before.at)) < 1e-9
    assert abs(moved.grain.along) == pytest.approx(1)
    assert moved.flips == FRONT.flips + motion.mirror
    assert set(moved.labels) == set(FRONT.labels)


@given(motions)
def test_moved_back_it_is_as_it_was_but_for_its_flips(motion: Motion) -> None:
    back = FRONT.moved(motion).moved(motion.inverse())
    assert back.flips == (2 if motion.mirror else 0)
    for one, two in zip(FRONT.outline, back.outline, strict=True):
        assert (one.label, one.origin, one.lo, one.hi) == (two.label, two.origin, two.lo, two.hi)
        assert abs(one.curve.at(0.3) - two.curve.at(0.3)) < 1e-8


@given(st.lists(st.one_of(mirrors, st.just(STILL), st.just(turning(0.3))), max_size=6))
def test_flips_count_reflections(chain: list[Motion]) -> None:
    piece = FRONT
    for motion in chain:
        piece = piece.moved(motion)
    assert piece.flips == sum(m.mirror for m in chain)
    assert type(piece.flips) is int


@given(mirrors, st.floats(0.02, 0.98))
def test_a_mark_keeps_its_cloth_when_the_piece_is_turned_over(mirror: Motion, share: float) -> None:
    side = FRONT.edge(next(e for e in FRONT.labels if e.role == "side"))
    total = sum(s.length for s in side)
    s = share * total
    place = point_at([x.curve for x in side], s)
    for span in side:
        if s <= span.length:
            mark = EdgeMark("notch", span.origin, span.material_at(s))
            break
        s -= span.length
    turned = FRONT.moved(mirror)
    home = [
        x for x in turned.outline if x.origin == mark.origin and x.holds(mark.at) and x.label.role == "side"
    ]
    again = home[0].curve.at(home[0].curve.at_length(home[0].arc_at(mark.at)))
    assert abs(again - mirror(place)) < 1e-6


def test_what_lies_inside_moves_along() -> None:
    double = DoubleDart("back dart", 10j + 20, -10j + 20, 18 + 0j, 22 + 0j)
    piece = replace(
        FRONT,
        double_darts=(double,),
        lines=(InnerLine("waist", (Line(0j, 200 + 0j),)),),
        points=(Landmark("bust point", 90 + 170j, "left"),),
    )
    mirror = reflecting(0j, 1j)
    over = piece.moved(mirror)
    (dart,) = over.double_darts
    # its left stays on the left of the paper
    assert (dart.left, dart.right) == (-22 + 0j, -18 + 0j)
    assert dart.left.real < dart.right.real and dart.intake == pytest.approx(4)
    assert over.lines[0].curves == (Line(-0j, -200 + 0j),)
    assert over.points[0] == Landmark("bust point", -90 + 170j, "left")
    turned = piece.moved(turning(math.pi / 2))
    assert turned.grain.along == pytest.approx(FRONT.grain.along * 1j)
    assert turned.double_darts[0].left == pytest.approx(18j)


def test_a_double_dart_measures_itself() -> None:
    dart = DoubleDart("waist dart", 50 + 100j, 50 - 120j, 40 + 0j, 60 + 2j)
    assert dart.intake == pytest.approx(abs(20 + 2j)) and dart.middle == 50 + 1j
    assert length(dart.sides) == pytest.approx(
        sum(abs(q - p) for p, q in itertools.pairwise((*dart.corners, dart.upper)))
    )
    assert area(dart.sides) > 0


def test_keys() -> None:
    assert FRONT.key == "front" and replace(FRONT, wearer="left").key == "left front"
