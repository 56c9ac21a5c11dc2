"""Turning about a pivot: angles add up, edges and area are kept, intakes follow from leg and angle."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reshape.shapes import pieces, spot
from steps.drafts import BUST_POINT, bodice, whole_bodice

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.reshape.darts import close_wedge, fold_into, move_dart
from cutonce.reshape.places import Chain
from cutonce.reshape.soundness import crossing, gap

SHOULDER, SIDE, WAIST, NECK = (Label(n, n) for n in ("shoulder", "side", "waist", "neck"))  # type: ignore[arg-type]


def lengths(piece: Piece) -> dict[Label, float]:
    return {e: piece.edge_length(e) for e in piece.labels}


def angles(piece: Piece) -> float:
    return sum(piece.dart_angle(d) for d in piece.darts)


@settings(max_examples=60, deadline=None)
@given(piece=pieces(dart=True), edge=st.integers(1, 4), along=st.floats(0.02, 0.98), share=st.floats(0.01, 1))
def test_moving_keeps_the_angle_every_edge_and_the_area(
    piece: Piece, edge: int, along: float, share: float
) -> None:
    dart = piece.darts[0]
    angle = piece.dart_angle(dart) * share
    try:
        new, gone, done = move_dart(piece, dart, spot(piece, edge, along), angle, Dart("new"), "s")
    except CannotApply as problem:
        assume(problem.code not in ("slash-leaves", "dart-in-the-way"))  # the straight cut left the piece
        raise
    assert angles(new) == pytest.approx(angles(piece), abs=1e-9)
    assert new.dart_angle(new.dart("new")) == pytest.approx(angle, abs=1e-9)
    for label, size in lengths(piece).items():
        assert new.edge_length(label) == pytest.approx(size, abs=1e-6)
    assert new.area == pytest.approx(piece.area, rel=1e-9)
    assert gap(new) < 1e-9
    one, two = new.legs(new.dart("new"))
    assert one.length == pytest.approx(two.length, abs=1e-6)
    turns = [part.motion.angle for part in done.parts]
    assert turns[0] == 0 and abs(turns[1]) == pytest.approx(angle, abs=1e-9)
    assert bool(gone) == (share > 1 - 1e-9)


@settings(max_examples=30, deadline=None)
@given(piece=pieces(dart=True), first=st.floats(0.1, 0.6), second=st.floats(0.1, 0.9))
def test_a_dart_split_twice_and_gathered_up_again_is_the_dart_it_was(
    piece: Piece, first: float, second: float
) -> None:
    dart = piece.darts[0]
    whole = piece.dart_angle(dart)
    try:
        one, _, _ = move_dart(piece, dart, spot(piece, 1, 0.5), whole * first, Dart("one"), "s")
        two, _, _ = move_dart(one, dart, spot(one, 3, 0.5), whole * (1 - first) * second, Dart("two"), "s")
    except CannotApply as problem:
        assume(problem.code not in ("slash-leaves", "dart-in-the-way"))
        raise
    for name in ("one", "two"):
        two, _ = fold_into(two, two.dart(name), dart, two.dart_angle(two.dart(name)), "s")
    assert [d.name for d in two.darts] == ["dart"]
    assert two.dart_angle(dart) == pytest.approx(whole, abs=1e-9)
    assert two.area == pytest.approx(piece.area, rel=1e-9)
    assert gap(two) < 1e-9
    # the same shape again, wherever it now lies: all distances between corners are as they were
    assert _spread_of(two) == pytest.approx(_spread_of(piece), abs=1e-5)


def _spread_of(piece: Piece) -> list[float]:
    points = [piece.edge(e)[0].curve.start for e in sorted(piece.labels, key=lambda e: e.key)]
    return [abs(p - q) for p in points for q in points]


@settings(max_examples=40, deadline=None)
@given(
    centre=st.floats(0.25, 0.75),
    half=st.floats(0.01, 0.08),
    outlet=st.sampled_from(["bust dart", "waist dart", "side"]),
    angle=st.floats(0.05, 0.25),
)
def test_a_wedge_closed_at_the_neck_opens_the_same_angle_at_its_outlet(
    centre: float, half: float, outlet: str, angle: float
) -> None:
    front = bodice(250, angle, 25).piece("front")
    assume(crossing(front) is None)
    neck = Chain(front, front.edge(NECK))
    a, b = (neck.spot(neck.length * (centre + d)) for d in (-half, half))
    wedge = abs(math.atan2(*_cross_dot(a.point - BUST_POINT, b.point - BUST_POINT)))
    side = Chain(front, front.edge(SIDE))
    to = side.spot(side.length * 0.7) if outlet == "side" else front.dart(outlet)
    new, gone, done = close_wedge(front, (a.on_cloth, b.on_cloth), BUST_POINT, to, NECK, "s")
    assert gone and gap(new) < 1e-9
    turns = [part.motion.angle for part in done.parts]
    assert abs(turns[1]) == pytest.approx(wedge, abs=1e-9)
    if isinstance(to, Dart):
        assert new.dart_angle(to) == pytest.approx(front.dart_angle(to) + wedge, abs=1e-9)
    for label, size in lengths(front).items():
        if label not in (NECK, SIDE):
            assert new.edge_length(label) == pytest.approx(size, abs=1e-6), label.key


def _cross_dot(u: complex, v: complex) -> tuple[float, float]:
    w = u.conjugate() * v
    return w.imag, w.real


# Worked numbers: facts sheet 4.1, computed there: intake = 2 L sin(a / 2).


@pytest.mark.parametrize(
    ("intake", "leg", "other", "expected"),
    [(70, 260, 140, 37.69), (70, 260, 170, 45.77), (70, 260, 200, 53.85), (76.12, 240, 150, 47.58)],
)
def test_the_intake_follows_the_leg(intake: float, leg: float, other: float, expected: float) -> None:
    """A dart of a stated intake on legs of a stated length, moved to another distance from its pivot: 7 cm on
    26 becomes 3.769 on 14, 4.577 on 17, 5.385 on 20; 18.25 degrees are 7.612 on 24, 4.758 on 15."""
    piece = _disc(leg, other, 2 * math.asin(intake / (2 * leg)))
    dart = piece.darts[0]
    side = Chain(piece, piece.edge(SIDE))
    new, _, _ = move_dart(piece, dart, side.spot(side.length / 2), piece.dart_angle(dart), Dart("new"), "s")
    one, two = new.legs(new.dart("new"))
    assert one.length == pytest.approx(other, abs=1e-6)
    assert abs(two.curve.end - one.curve.start) == pytest.approx(expected, abs=0.005)


def test_seven_on_twenty_six_is_fifteen_and_a_half_degrees() -> None:
    piece = _disc(260, 140, 2 * math.asin(70 / 520))
    assert math.degrees(piece.dart_angle(piece.darts[0])) == pytest.approx(15.473, abs=5e-4)


def _disc(leg: float, other: float, angle: float) -> Piece:
    """A piece about the pivot 0: the dart opens upwards on the shoulder, the side's middle lies `other` mm to
    the right."""
    from cutonce.draft.piece import Grain
    from cutonce.draft.span import born
    from cutonce.geometry.curve import Line

    one = leg * complex(math.sin(angle / 2), math.cos(angle / 2))
    two = complex(-one.real, one.imag)
    right, left, foot = 300 + leg * 1j, -300 + leg * 1j, -300j
    corners = [
        complex(other, -50),
        complex(other, 50),
        right,
        one,
        0j,
        two,
        left,
        -300 + foot,
        complex(other, 0) + foot,
    ]
    roles = ["side", "armhole", "shoulder", "dart", "dart", "shoulder", "neck", "waist", "hem"]
    spans = []
    lo = {"shoulder": 0.0, "dart": 0.0}
    for k, role in enumerate(roles):
        line = Line(corners[k], corners[(k + 1) % len(corners)])
        label = Label("dart", "dart leg") if role == "dart" else Label(role, role)  # type: ignore[arg-type]
        span = born(line, label, "block", lo.get(role, 0.0))
        if role in lo:
            lo[role] = span.hi
        spans.append(span)
    return Piece("front", tuple(spans), Grain(10 + 10j), darts=(Dart("dart"),))


def test_more_than_the_dart_has_is_refused() -> None:
    front = bodice().piece("front")
    dart = front.dart("bust dart")
    side = Chain(front, front.edge(SIDE)).spot(100)
    with pytest.raises(CannotApply, match=r"the bust dart has 0\.2200 rad, asked 0\.3000 rad"):
        move_dart(front, dart, side, 0.3, Dart("new"), "s")


def test_darts_with_unlike_pivots_do_not_join() -> None:
    back = bodice().piece("back")
    side = Chain(back, back.edge(SIDE)).spot(100)
    new, _, _ = move_dart(back, back.dart("waist dart"), side, 0.05, Dart("new"), "s")
    turned, _ = fold_into(new, new.dart("new"), new.dart("waist dart"), 0.05, "s")
    assert turned.dart_angle(turned.dart("waist dart")) == pytest.approx(
        back.dart_angle(back.dart("waist dart")), abs=1e-9
    )
    front = bodice().piece("front")
    with pytest.raises(CannotApply, match="the waist dart does not turn about the pivot of the waist dart"):
        fold_into(front, front.dart("waist dart"), front.dart("waist dart"), 0.1, "s")


def test_a_cut_that_cannot_see_the_pivot_is_refused() -> None:
    """On a whole front, from the right shoulder to the left bust point: the right bust dart's opening lies
    between. From the left neck nothing does."""
    front = whole_bodice().piece("front")
    dart = front.dart("waist dart", "left")
    neck = Chain(front, front.edge(Label("neck", "neck", "left")))
    new, _, _ = move_dart(front, dart, neck.spot(neck.length / 2), 0.05, Dart("new"), "s")
    assert new.dart_angle(new.dart("new")) == pytest.approx(0.05, abs=1e-9)
    shoulder = Chain(front, front.edge(Label("shoulder", "shoulder", "right")))
    with pytest.raises(CannotApply) as caught:
        move_dart(front, dart, shoulder.spot(shoulder.length - 10), 0.05, Dart("new"), "s")
    assert caught.value.code == "dart-in-the-way"
    assert "the cut from the right shoulder to the point of the waist dart crosses the" in str(caught.value)
