"""Slash and spread on whole pieces: lengths, openings, areas, darts closed into slashes, what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reshape.shapes import Ends, apart, ends, interleave, pieces, slashed, spot

from cutonce.draft.piece import Piece
from cutonce.errors import CannotApply
from cutonce.reshape.places import Spot
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.spread import Slash, Spread, spread

Case = tuple[Piece, tuple[Slash, ...]]


def opened(piece: Piece, slashes: tuple[Slash, ...], **more: complex) -> Spread:
    """Spread, passing over cases that leave a hollow edge or end up lying over themselves."""
    try:
        return spread(piece, slashes, "step", **more)
    except CannotApply as problem:
        assume(problem.code not in ("slash-leaves", "crosses-itself"))
        raise


def ends_of(slash: Slash) -> tuple[complex, complex]:
    assert isinstance(slash.end, Spot)
    return slash.start.point, slash.end.point


def area_opened(slash: Slash) -> float:
    """The opening is an isosceles trapezoid: its lips are d long, its ends a and b wide; half the sum of the
    ends times the height d cos(turn / 2), from the formula for the area of a trapezoid."""
    p, q = ends_of(slash)
    d, a, b = abs(q - p), slash.a or 0.0, slash.b
    return (a + b) / 2 * math.sqrt(d * d - (a - b) ** 2 / 4)


@given(slashed())
@settings(max_examples=60)
def test_new_area_is_old_area_and_the_openings(case: Case) -> None:
    piece, slashes = case
    done = opened(piece, slashes)
    assert done.piece.area == pytest.approx(piece.area + sum(map(area_opened, slashes)), rel=1e-9)


@given(slashed())
@settings(max_examples=60)
def test_every_edge_grows_by_what_opens_in_it_and_no_more(case: Case) -> None:
    piece, slashes = case
    done = opened(piece, slashes)
    for label in piece.labels:
        more = sum(
            wide
            for s in slashes
            if isinstance(s.end, Spot)
            for end, wide in ((s.start, s.a or 0.0), (s.end, s.b))
            if end.label == label
        )
        assert done.piece.edge_length(label) == pytest.approx(piece.edge_length(label) + more, abs=1e-6)


@given(slashed())
@settings(max_examples=60)
def test_openings_are_straight_and_just_as_wide_as_asked(case: Case) -> None:
    piece, slashes = case
    done = opened(piece, slashes)
    found = {s.origin.name: s.length for s in done.piece.outline if s.origin.step == "step"}
    asked = {
        f"{s.name} {which}": w for s in slashes for which, w in (("start", s.a or 0.0), ("end", s.b)) if w
    }
    assert found == pytest.approx(asked, abs=1e-9)


@given(slashed())
@settings(max_examples=40)
def test_each_part_turns_against_its_neighbour_by_twice_the_arcsine(case: Case) -> None:
    piece, slashes = case
    done = opened(piece, slashes)
    turns = {part.beside[0]: part.motion.angle for part in done.done.parts[1:]}
    assert done.done.parts[0].motion.angle == 0
    total = 0.0
    for s in slashes:
        p, q = ends_of(s)
        total += 2 * math.asin(abs((s.a or 0.0) - s.b) / (2 * abs(q - p)))
    assert max(map(abs, turns.values())) <= total + 1e-9
    if len(slashes) == 1:
        assert abs(turns[slashes[0].name]) == pytest.approx(total, abs=1e-9)


@given(slashed())
@settings(max_examples=40)
def test_the_piece_stays_sound_and_its_labels_in_one_run(case: Case) -> None:
    piece, slashes = case
    done = opened(piece, slashes)
    assert gap(done.piece) == 0 and crossing(done.piece) is None
    assert done.piece.labels == tuple(s for s in done.piece.labels if s in piece.labels)
    assert set(done.piece.labels) == set(piece.labels)
    solid = [s.label for s in done.piece.outline]
    assert sum(a != b for a, b in zip(solid, [solid[-1], *solid[:-1]], strict=True)) == len(piece.labels)


@given(slashed(), st.floats(-0.4, 0.4), st.floats(-0.4, 0.4))
@settings(max_examples=40)
def test_the_part_named_stays_and_the_part_named_keeps_the_grain(case: Case, x: float, y: float) -> None:
    piece, slashes = case
    still, grain = 250 * complex(x, y), 250 * complex(-y, x)
    try:
        done = opened(piece, slashes, still=still, grain=grain)
    except CannotApply as problem:
        assume(problem.code != "on-a-slash")
        raise
    kept = [s for s in done.piece.outline if s.origin.step != "step"]
    stayed = [s for s in kept if any(abs(s.curve.start - z) < 1e-9 for z in done.still.border)]
    assert stayed, "no span of the part that stays is where it was"
    turned = done.grain.motion.turn / done.still.motion.turn
    assert abs(done.piece.grain.along - 1j * turned) < 1e-9


@given(pieces(dart=True), st.floats(0.2, 0.8), st.data())
@settings(max_examples=40)
def test_a_dart_closed_into_a_slash_opens_its_own_angle(
    piece: Piece, share: float, data: st.DataObject
) -> None:
    edge = data.draw(st.integers(1, len(piece.labels) - 1))
    dart = piece.darts[0]
    angle, pivot = piece.dart_angle(dart), piece.pivot(dart)
    start = spot(piece, edge, share)
    done = opened(piece, (Slash("slash 1", start, dart),))
    far = abs(start.point - pivot)
    assert abs(done.done.parts[1].motion.angle) == pytest.approx(angle, abs=1e-9)
    assert done.piece.darts == () and all(s.label.role != "dart leg" for s in done.piece.outline)
    assert len(done.gone) == 2 and {g.label for g in done.gone} == {dart.label}
    for k, label in enumerate(piece.labels):
        more = 2 * far * math.sin(angle / 2) if k == edge else 0.0
        assert done.piece.edge_length(label) == pytest.approx(piece.edge_length(label) + more, abs=1e-6)
    assert done.piece.area == pytest.approx(piece.area + far * far * math.sin(angle) / 2, rel=1e-9)
    assert gap(done.piece) == 0


@given(pieces(dart=True), st.lists(st.floats(0.5, 3), min_size=2, max_size=4), st.data())
@settings(max_examples=40)
def test_several_slashes_share_a_dart_and_its_angles_add_up(
    piece: Piece, weights: list[float], data: st.DataObject
) -> None:
    dart = piece.darts[0]
    angle, pivot = piece.dart_angle(dart), piece.pivot(dart)
    n = len(piece.labels)
    places = sorted({round(data.draw(st.floats(1.05, n - 0.05)), 2) for _ in weights})
    places = [x for x in places if 0.04 < x % 1 < 0.96]
    assume(places)
    weights = weights[: len(places)]
    slashes = tuple(
        Slash(f"slash {k}", spot(piece, int(x), x % 1), dart, share=w / sum(weights))
        for k, (x, w) in enumerate(zip(places, weights, strict=False), start=1)
    )
    done = opened(piece, slashes)
    found = {s.origin.name: s.length for s in done.piece.outline if s.origin.step == "step"}
    for s in slashes:
        width = 2 * abs(s.start.point - pivot) * math.sin(angle * s.share / 2)
        assert found[f"{s.name} start"] == pytest.approx(width, abs=1e-9)
    opened_mm2 = sum(abs(s.start.point - pivot) ** 2 * math.sin(angle * s.share) / 2 for s in slashes)
    assert done.piece.area == pytest.approx(piece.area + opened_mm2, rel=1e-9)
    assert done.piece.edge_length(piece.labels[0]) == pytest.approx(
        piece.edge_length(piece.labels[0]), abs=1e-6
    )
    assert gap(done.piece) == 0 and done.piece.darts == ()


@given(pieces(dart=True), st.floats(0.2, 0.8), st.floats(0, 40), st.floats(0, 20), st.data())
@settings(max_examples=40)
def test_a_dart_closed_into_a_slash_that_opens_further(
    piece: Piece, share: float, more: float, at_mouth: float, data: st.DataObject
) -> None:
    edge = data.draw(st.integers(1, len(piece.labels) - 1))
    dart = piece.darts[0]
    start = spot(piece, edge, share)
    alone = 2 * abs(start.point - piece.pivot(dart)) * math.sin(piece.dart_angle(dart) / 2)
    a = alone + at_mouth + more
    done = opened(piece, (Slash("slash 1", start, dart, a, at_mouth),))
    found = {s.origin.name: s.length for s in done.piece.outline if s.origin.step == "step"}
    assert found["slash 1 start"] == pytest.approx(a, abs=1e-6)
    assert found.get("slash 1 end", 0.0) == pytest.approx(at_mouth, abs=1e-6)
    for k, label in enumerate(piece.labels):
        opening = {edge: a, 0: at_mouth}.get(k, 0.0)
        assert done.piece.edge_length(label) == pytest.approx(piece.edge_length(label) + opening, abs=1e-5)


@st.composite
def crossed(draw: st.DrawFn) -> tuple[Piece, Ends, Ends]:
    """A piece and the ends of two slashes in turn, none of them within a millimetre or so of another."""
    piece = draw(pieces())
    n = len(piece.labels)
    one = draw(ends(n))
    return piece, one, draw(ends(n).filter(lambda e: interleave(one, e) and apart(one, e)))


@given(crossed())
@settings(max_examples=40)
def test_crossing_slashes_are_refused_by_name(case: tuple[Piece, Ends, Ends]) -> None:
    piece, *both = case
    slashes = tuple(
        Slash(f"slash {k}", spot(piece, a, s), spot(piece, b, t), 10.0)
        for k, (a, s, b, t) in enumerate(both, start=1)
    )
    with pytest.raises(CannotApply, match=r"slash [12] crosses slash [12]"):
        opened(piece, slashes)
