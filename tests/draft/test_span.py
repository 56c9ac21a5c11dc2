"""Spans: material and arc length, splitting, moving, reversing; labels."""

from __future__ import annotations

import pytest
from geometry.shapes import curves, inner_shares, motions
from hypothesis import assume, given

from cutonce.draft.span import Label, Origin, Span, born, born_along, born_round
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Motion

SIDE = Label("side", "side")


def span_of(curve: Curve, lo: float = 30.0) -> Span:
    assume(curve.length > 1)
    return born(curve, SIDE, "block", lo)


@given(curves, inner_shares)
def test_material_and_arc_are_inverse(curve: Curve, share: float) -> None:
    span = span_of(curve)
    for one in (span, span.reversed()):
        s = share * one.length
        assert one.arc_at(one.material_at(s)) == pytest.approx(s, abs=1e-9)
        assert one.holds(one.material_at(s))
    assert span.material_at(0) == 30.0
    assert span.material_at(span.length) == pytest.approx(30.0 + span.length)
    assert span.reversed().material_at(0) == pytest.approx(30.0 + span.length)


@given(curves, inner_shares)
def test_split_parts_material_and_curve_at_one_place(curve: Curve, share: float) -> None:
    span = span_of(curve)
    s = share * span.length
    near, far = span.split(s)
    assert near.lo == span.lo and far.hi == span.hi and near.hi == far.lo == span.material_at(s)
    assert near.curve.end == far.curve.start
    assert near.length + far.length == pytest.approx(span.length, abs=1e-9)
    assert near.length == pytest.approx(s, abs=1e-9)
    assert (near.label, near.origin, near.made) == (far.label, far.origin, far.made)
    # what was `hi - lo` mm at birth still is, in two parts
    assert (near.hi - near.lo) + (far.hi - far.lo) == pytest.approx(span.hi - span.lo)


@given(curves, inner_shares, motions)
def test_a_mark_stays_with_its_cloth_through_motions(curve: Curve, share: float, motion: Motion) -> None:
    span = span_of(curve)
    mark = span.material_at(share * span.length)
    place = span.curve.at(span.curve.at_length(span.arc_at(mark)))
    moved = span.moved(motion)
    if motion.mirror:
        moved = moved.reversed()
    again = moved.curve.at(moved.curve.at_length(moved.arc_at(mark)))
    assert abs(again - motion(place)) < 1e-6
    assert (moved.origin, moved.label, moved.made) == (span.origin, span.label, span.made)


@given(curves)
def test_reversed_twice_is_the_same(curve: Curve) -> None:
    span = span_of(curve)
    assert span.reversed().reversed() == span


def test_holds_only_its_own_material() -> None:
    span = Span(Line(0j, 10 + 0j), Origin("block", "side"), 50.0, 20.0, SIDE, "block")  # reflected
    assert span.holds(20.0) and span.holds(50.0) and span.holds(35.0)
    assert not span.holds(19.99) and not span.holds(50.01)


def test_what_is_born() -> None:
    one = born(Line(0j, 10 + 0j), Label("hem", "hem", "left", 2), "hem-line", 5.0)
    assert one.origin == Origin("hem-line", "hem 2", "left")
    assert (one.lo, one.hi, one.made) == (5.0, 15.0, "hem-line")
    assert born(Line(0j, 1j), SIDE, "s", name="start").origin.name == "start"


def test_material_runs_on_along_an_edge_and_beyond_its_darts() -> None:
    bend = Cubic(10 + 0j, 20 + 0j, 30 + 10j, 40 + 10j)
    along = born_along((Line(0j, 10 + 0j), bend), SIDE, "block")
    assert [s.lo for s in along] == [0.0, 10.0] and along[1].hi == 10.0 + bend.length
    waist, dart = Label("waist", "waist"), Label("waist dart", "dart leg")
    spans = born_round(
        [
            (waist, [Line(0j, 30 + 0j)]),
            (dart, [Line(30 + 0j, 40 + 90j), Line(40 + 90j, 50 + 0j)]),
            (waist, [Line(50 + 0j, 80 + 0j)]),
        ],
        "block",
    )
    assert [(s.lo, s.hi) for s in spans if s.label == waist] == [(0.0, 30.0), (30.0, 60.0)]
    assert spans[1].hi == spans[2].lo


def test_labels() -> None:
    left, right = Label("side", "side", "left"), Label("side", "side", "right")
    assert [SIDE.key, left.key, Label("side", "side", "left", 3).key] == ["side", "left side", "left side 3"]
    assert left.same_edge(Label("side", "side", "left", 2)) and not left.same_edge(right)
    assert left.same_on_either_side(right)
    assert not left.same_on_either_side(Label("side", "side", "right", 2))
    assert not SIDE.same_edge(Label("side", "style line"))
