"""A dart's cap: sewn along its legs and pressed, the intake ends on the edge."""

from __future__ import annotations

import cmath
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.draft.piece import Dart, Folds, Grain, Piece
from cutonce.draft.span import Label, Role, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.fit import between
from cutonce.geometry.meet import nearest
from cutonce.reshape.cap import cap, fold_direction

WAYS: tuple[Folds, ...] = ("toward centre", "toward side")


def edge(name: Role, *curves: Curve) -> list[Span]:
    return [born(c, Label(name, name), "block") for c in curves]


def panel(
    half_angle: float, leg: float, lean: float, slopes: tuple[float, float], short: float = 0.0
) -> Piece:
    """A dart in the waist at the bottom of a rectangle; its middle line leans, the edge beside it slopes."""
    pivot = 120 + 200j
    down = -1j * cmath.exp(1j * lean)
    one, two = (
        pivot + leg * down * cmath.exp(-1j * half_angle),
        pivot + leg * down * cmath.exp(1j * half_angle),
    )
    outline = [
        *edge("waist", between(-200 + 0j, 1 + 0j, one, cmath.exp(1j * slopes[0]))),
        born(Line(one, pivot), Label("waist dart", "dart leg"), "block"),
        born(Line(pivot, two), Label("waist dart", "dart leg"), "block"),
        *edge("waist", between(two, cmath.exp(1j * slopes[1]), 440 + 0j, 1 + 0j)),
        *edge("side", Line(440 + 0j, 440 + 300j)),
        *edge("armhole", Line(440 + 300j, -200 + 300j)),
        *edge("centre front", Line(-200 + 300j, -200 + 0j)),
    ]
    return Piece("front", tuple(outline), Grain(60 + 150j), darts=(Dart("waist dart", short=short),))


def mirrored_in(p: complex, q: complex, z: complex) -> complex:
    return p + (q - p) * ((z - p) / (q - p)).conjugate()


@settings(max_examples=60, deadline=None)
@given(
    half=st.floats(0.01, 0.25),
    leg=st.floats(120, 190),
    lean=st.floats(-0.2, 0.2),
    slopes=st.tuples(st.floats(-0.3, 0.3), st.floats(-0.3, 0.3)),
    short=st.floats(0, 40),
    way=st.sampled_from(WAYS),
)
def test_the_pressed_intake_lies_on_the_edge(
    half: float, leg: float, lean: float, slopes: tuple[float, float], short: float, way: Folds
) -> None:
    piece = panel(half, leg, lean, slopes, short)
    dart = replace(piece.darts[0], folds=way)
    line = cap(piece, dart)
    one, two = (s.curve for s in piece.legs(dart))
    assert abs(line[0].start - one.start) < 1e-9 and abs(line[-1].end - two.end) < 1e-9
    assert max(abs(a.end - b.start) for a, b in pairwise(line)) < 1e-6
    tip, middle = piece.dart_tip(dart), (one.start + two.end) / 2
    onto = one.start if way == "toward centre" else two.end
    waist = [s.curve for s in piece.edge(Label("waist", "waist"))]
    for z in path.flattened(line, 0.05):
        right_of_middle = ((middle - tip).conjugate() * (z - tip)).imag > 0
        beyond = right_of_middle == (way == "toward centre")
        sewn = mirrored_in(tip, middle, z) if beyond else z
        pressed = mirrored_in(tip, onto, sewn)
        assert nearest(waist, pressed)[1] < 1e-3, (z, pressed)


def test_a_straight_edge_gives_a_roof_whose_slopes_mirror_it() -> None:
    """Legs 150 long, 15.473 degrees apart: pressed to the centre, the near half of the cap makes
    with the leg the angle that the edge makes on the other side."""
    half = cmath.pi / 180 * 15.473 / 2
    piece = panel(half, 150, 0.0, (0.0, 0.0))
    leg = piece.legs(piece.darts[0])[0].curve
    line = cap(piece, piece.darts[0])
    along_leg = leg.end - leg.start
    outside = cmath.phase(along_leg / -piece.outline[0].curve.tangent(1))
    inside = cmath.phase(line[0].tangent(0) / along_leg)
    assert inside == pytest.approx(outside, abs=1e-9)
    assert abs(line[0].tangent(0) - cmath.exp(-1j * 2 * half)) < 1e-9


def test_an_edge_shorter_than_half_the_intake_is_carried_on_straight() -> None:
    pivot, one, two = 30 + 200j, 5 + 0j, 55 + 0j
    outline = [
        *edge("waist", Line(0j, one)),
        born(Line(one, pivot), Label("waist dart", "dart leg"), "block"),
        born(Line(pivot, two), Label("waist dart", "dart leg"), "block"),
        *edge("waist", Line(two, 240 + 0j)),
        *edge("side", Line(240 + 0j, 240 + 300j), Line(240 + 300j, 300j)),
        *edge("centre front", Line(300j, 0j)),
    ]
    piece = Piece("front", tuple(outline), Grain(60 + 150j), darts=(Dart("waist dart"),))
    line = cap(piece, piece.darts[0])
    assert path.length(line) == pytest.approx(
        2 * abs(line[0].start - path.point_at(line, path.length(line) / 2))
    )
    assert path.point_at(line, path.length(line) / 2).real == pytest.approx(30)


def test_a_dart_with_no_way_named_folds_to_the_centre_or_down() -> None:
    piece = panel(0.1, 150, 0.0, (0.0, 0.0))
    assert fold_direction(piece, piece.darts[0]) == "toward centre"
    side = piece.moved(_quarter_turn())
    assert fold_direction(side, side.darts[0]) == "down"


def test_a_dart_is_not_pressed_along_its_own_legs() -> None:
    piece = panel(0.1, 150, 0.0, (0.0, 0.0))
    with pytest.raises(CannotApply) as caught:
        cap(piece, replace(piece.darts[0], folds="down"))
    assert str(caught.value) == (
        "front: the waist dart cannot be pressed down (press it toward centre or toward side)"
    )


def test_an_edge_that_runs_away_from_the_mouth_has_no_cap() -> None:
    """Beside the mouth the edge turns back along the leg: its reflection never meets the middle line."""
    pivot, one, two = 100 + 200j, 90 + 0j, 110 + 0j
    away = Cubic(one - 300j, one - 200j, one - 100j, one)
    outline = [
        *edge("waist", away),
        born(Line(one, pivot), Label("waist dart", "dart leg"), "block"),
        born(Line(pivot, two), Label("waist dart", "dart leg"), "block"),
        *edge("waist", Line(two, 240 + 0j)),
        *edge("side", Line(240 + 0j, 240 + 300j), Line(240 + 300j, 300j)),
        *edge("centre front", Line(300j, away.start)),
    ]
    piece = Piece("front", tuple(outline), Grain(60 + 150j), darts=(Dart("waist dart"),))
    with pytest.raises(CannotApply, match="the edge beside the waist dart does not close over it"):
        cap(piece, piece.darts[0])


def _quarter_turn():  # type: ignore[no-untyped-def]
    from cutonce.geometry.motion import turning

    return turning(cmath.pi / 2)
