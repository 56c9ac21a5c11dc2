"""Closing a wedge: areas, angles and lengths against plain geometry on a straight edge."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from steps.drafts import bodice_front

from cutonce.draft.piece import Grain, Piece
from cutonce.draft.span import EdgeMark, Label, Role, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Line
from cutonce.geometry.path import polyline
from cutonce.reshape.blend import corners, with_ends_moved
from cutonce.reshape.darts import close_wedge
from cutonce.reshape.gape import Gape, closed_by_angle, closed_by_length, wedge_of
from cutonce.reshape.places import Chain
from cutonce.reshape.soundness import crossing, gap

NECK, WAIST = Label("neck", "neck"), Label("waist", "waist")
PIVOT = 200 + 150j


def block(slant: float = 0.0) -> Piece:
    """A box 400 wide, 300 high at its middle, whose top (the neck) slants by so many radians."""
    rise = 200 * math.tan(slant)
    corner = [0j, 400 + 0j, complex(400, 300 + rise), complex(0, 300 - rise), 0j]
    names: tuple[Role, ...] = ("waist", "side", "neck", "centre front")
    spans = [born(c, Label(name, name), "block") for name, c in zip(names, polyline(corner), strict=True)]
    return Piece("front", tuple(spans), Grain(50 + 50j))


def run_of(piece: Piece, label: Label) -> Chain:
    return Chain(piece, piece.edge(label))


def gape(piece: Piece, share: float = 0.5, reach: float = 1e4, outlet_share: float = 0.5) -> Gape:
    run, waist = run_of(piece, NECK), run_of(piece, WAIST)
    return Gape(run, run.length * share, PIVOT, waist.spot(waist.length * outlet_share), reach)


@settings(max_examples=40, deadline=None)
@given(slant=st.floats(-0.6, 0.6), share=st.floats(0.35, 0.65), degrees=st.floats(0.5, 12))
def test_the_wedge_goes_and_the_outlet_comes(slant: float, share: float, degrees: float) -> None:
    piece = block(slant)
    it = gape(piece, share)
    wedge = wedge_of(it, math.radians(degrees))
    p, q = (it.run.spot(s).point for s in (wedge.first, wedge.last))
    assert cmath.phase((q - PIVOT) / (p - PIVOT)) == pytest.approx(math.radians(degrees), abs=1e-9)
    sides = (it.run.spot(wedge.first).on_cloth, it.run.spot(wedge.last).on_cloth)
    turned, gone, _ = close_wedge(piece, sides, PIVOT, it.outlet, NECK, "gape")
    sector = 0.5 * ((p - PIVOT).conjugate() * (q - PIVOT)).imag
    opening = 0.5 * 150 * 150 * math.sin(math.radians(degrees))
    assert turned.area == pytest.approx(piece.area - sector + opening, rel=1e-9)
    assert sum(abs(g.hi - g.lo) for g in gone) == pytest.approx(abs(q - p), abs=1e-9)
    done = closed_by_angle(it, math.radians(degrees), "gape")
    assert done.wedge.angle == pytest.approx(math.radians(degrees), abs=1e-9)
    assert gap(done.piece) < 1e-9 and crossing(done.piece) is None
    for label in piece.labels:
        if label.role in ("side", "centre front"):
            assert done.piece.edge_length(label) == pytest.approx(piece.edge_length(label), abs=1e-9)
    opened = 2 * 150 * math.sin(math.radians(degrees) / 2)
    assert done.piece.edge_length(WAIST) == pytest.approx(400 + opened, abs=1e-6)
    between = path.area([*(s.curve for s in done.piece.edge(NECK)), *_back(turned, done.piece)])
    assert done.piece.area == pytest.approx(turned.area + between, rel=1e-9)


def _back(turned: Piece, done: Piece) -> list[Line]:
    """The cut edges of the turned piece, walked back."""
    spans = turned.edge(NECK)
    return [s.curve.reversed() for s in reversed(spans)]  # type: ignore[misc]


@settings(max_examples=40, deadline=None)
@given(slant=st.floats(-0.5, 0.5), share=st.floats(0.4, 0.6), amount=st.floats(1, 25))
def test_the_edge_loses_what_is_asked(slant: float, share: float, amount: float) -> None:
    it = gape(block(slant), share)
    done = closed_by_length(it, amount, "gape")
    was, now = it.run.length, done.piece.edge_length(NECK)
    assert was - now == pytest.approx(amount, abs=1e-3)
    assert done.shorter == pytest.approx(was - now, abs=1e-9)
    assert corners([s.curve for s in done.piece.edge(NECK)]) < 1e-6
    # straight across the wedge no line can lose more, and what it loses goes with the cosine of the slant
    assert done.wedge.width_at(done.wedge.distance) >= amount * 0.97


@settings(max_examples=30, deadline=None)
@given(amount=st.floats(1, 20), near=st.floats(40, 110))
def test_square_to_the_wedge_it_loses_its_width(amount: float, near: float) -> None:
    """A wedge of `amount` at the bust circle is amount x 150 / near at the edge 150 mm away; straight across,
    the edge loses that but for what a bend of so small an angle takes (length x angle squared / 12)."""
    it = gape(block())
    angle = 2 * math.asin(amount / 2 / near)
    assume(angle < 0.3)
    done = closed_by_angle(it, angle, "gape")
    wide = 2 * 150 * math.sin(angle / 2)
    assert done.wedge.width_at(near) == pytest.approx(amount, abs=1e-9)
    assert done.wedge.width_at(150) == pytest.approx(wide, abs=1e-9)
    assert wide == pytest.approx(amount * 150 / near, rel=1e-9)
    assert done.shorter == pytest.approx(wide, abs=400 * angle * angle / 12 + 0.01)


def test_ends_and_their_directions_turn_with_their_parts() -> None:
    it = gape(block(0.2), 0.45)
    done = closed_by_angle(it, 0.08, "gape")
    before, after = block(0.2).outline, done.piece.outline
    for old, new in ((before, after),):
        for i, span in enumerate(old):
            if span.label.role in ("side", "centre front"):
                j = next(k for k, s in enumerate(new) if s.origin == span.origin)
                for a, b in ((i - 1, j - 1), ((i + 1) % len(old), (j + 1) % len(new))):
                    if old[a].label != NECK:
                        continue
                    end = 1 if a == i - 1 else 0
                    was = old[a].curve.tangent(end) / span.curve.tangent(1 - end)
                    now = new[b].curve.tangent(end) / new[j].curve.tangent(1 - end)
                    assert now == pytest.approx(was, abs=1e-9)


def test_beyond_the_reach_the_edge_is_only_turned() -> None:
    it = gape(block(), 0.5, reach=60)
    done = closed_by_angle(it, 0.05, "gape")
    made = [s for s in done.piece.edge(NECK) if s.made == "gape"]
    kept = [s for s in done.piece.edge(NECK) if s.made != "gape"]
    assert sum(s.length for s in kept) == pytest.approx(400 - 120, abs=1e-6)
    assert sum(s.length for s in made) < 120
    assert corners([s.curve for s in done.piece.edge(NECK)]) < 1e-6


def test_marks_keep_their_place_on_the_cloth() -> None:
    piece = block()
    span = piece.edge(NECK)[0]
    piece = replace(piece, marks=(EdgeMark("notch", span.origin, 100.0),))
    done = closed_by_angle(gape(piece), 0.05, "gape")
    run = run_of(done.piece, NECK)
    arc = run.arc_of(span.origin, 100.0)
    assert arc is not None and arc == pytest.approx(run.length / 4, abs=0.05)


def test_at_an_end_the_wedge_lies_to_one_side() -> None:
    for share, end in ((0.0, "first"), (1.0, "last")):
        wedge = wedge_of(gape(block(), share), 0.05)
        assert getattr(wedge, end) == pytest.approx(0 if share == 0 else 400, abs=1e-9)
        assert wedge.last - wedge.first > 5
        done = closed_by_angle(gape(block(), share), 0.05, "gape")
        assert gap(done.piece) < 1e-9 and crossing(done.piece) is None


@settings(max_examples=30, deadline=None)
@given(
    width=st.floats(225, 280),
    bust=st.floats(0.05, 0.3),
    share=st.floats(0, 1),
    amount=st.floats(2, 12),
    into=st.sampled_from(["bust dart", "waist dart"]),
)
def test_around_the_bust_point_what_closes_opens(
    width: float, bust: float, share: float, amount: float, into: str
) -> None:
    piece = bodice_front(width, bust)
    run = run_of(piece, NECK)
    dart = piece.dart(into)
    done = closed_by_length(Gape(run, run.length * share, piece.pivot(dart), dart, 1e4), amount, "gape")
    for other in piece.darts:
        grown = done.piece.dart_angle(done.piece.dart(other.name)) - piece.dart_angle(other)
        assert grown == pytest.approx(done.wedge.angle if other == dart else 0, abs=1e-9)
    for label in piece.labels:
        if label != NECK:
            assert done.piece.edge_length(label) == pytest.approx(piece.edge_length(label), abs=1e-6)
    assert gap(done.piece) < 1e-9 and crossing(done.piece) is None
    assert corners([s.curve for s in done.piece.edge(NECK)]) < 1e-6


@pytest.mark.parametrize(
    ("angle", "says"),
    [(0.6, "29 degrees wide at most"), (0.0, "29 degrees wide at most")],
)
def test_a_wedge_that_is_no_wedge(angle: float, says: str) -> None:
    with pytest.raises(CannotApply, match=says):
        wedge_of(gape(block()), angle)


def test_a_wedge_wider_than_the_edge() -> None:
    a, b = 190 + 300j, 210 + 300j
    corner = [0j, 400 + 0j, 400 + 250j, b, a, 250j, 0j]
    names: tuple[Role, ...] = ("waist", "side", "shoulder", "neck", "armhole", "centre front")
    spans = [born(c, Label(n, n), "block") for n, c in zip(names, polyline(corner), strict=True)]
    with pytest.raises(CannotApply, match="wider than the neck between the shoulder and the armhole"):
        wedge_of(gape(Piece("front", tuple(spans), Grain(50 + 50j))), 0.3)


def test_a_run_between_other_ends_keeps_its_shape_and_material() -> None:
    spans = [born(Line(0j, 60 + 0j), NECK, "block"), born(Line(60 + 0j, 100 + 0j), NECK, "block", 60)]
    new = with_ends_moved(spans, 5 + 5j, 5 + 95j, (math.pi / 2, math.pi / 2), "x")
    assert all(abs(c.at(t).real - 5) < 1e-6 for c in (s.curve for s in new) for t in (0, 0.3, 0.7, 1))
    assert [(s.lo, s.hi) for s in _joined(new)] == [(0, 60), (60, 100)]
    assert sum(s.length for s in new) == pytest.approx(90, abs=1e-6)
    with pytest.raises(CannotApply, match="fall together"):
        with_ends_moved(spans, 5j, 5j, (0, 0), "x")


def _joined(spans: tuple[Span, ...]) -> list[Span]:
    out: list[Span] = []
    for s in spans:
        if out and out[-1].hi == s.lo and s.lo != 60:
            out[-1] = replace(out[-1], hi=s.hi)
        else:
            out.append(s)
    return out
