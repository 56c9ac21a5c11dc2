"""Dividing a piece along a line: areas sum, edges are kept, both faces of the cut are the same material."""

from __future__ import annotations

import cmath
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reshape.shapes import ends, pieces, spot, strip

from cutonce.draft.piece import Dart, DoubleDart, Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.fit import through
from cutonce.reshape.corners import corner as corner_of
from cutonce.reshape.divide import divide, folds_between
from cutonce.reshape.drawn_line import Bend, Heading, Shape, draw
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.panel_line import Way, divided_by
from cutonce.reshape.soundness import crossing, gap

CUT = Label("cut", "style line")


def length(spans: tuple[Span, ...]) -> float:
    return sum(s.length for s in spans)


def straight(piece: Piece, a: int, s: float, b: int, t: float) -> tuple[Piece, Piece]:
    p, q = spot(piece, a, s), spot(piece, b, t)
    try:
        done = divide(piece, p, q, (Line(p.point, q.point),), CUT, "step")
    except CannotApply as problem:
        assert problem.code == "line-leaves"  # the edges hollow in, a chord may leave the piece
        assume(False)
        raise
    return done.one, done.two


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_areas_sum_and_edges_are_kept(data: st.DataObject) -> None:
    piece = data.draw(pieces())
    a, s, b, t = data.draw(ends(len(piece.labels)))
    one, two = straight(piece, a, s, b, t)
    assert one.area + two.area == pytest.approx(piece.area, rel=1e-9)
    assert gap(one) == gap(two) == 0
    for label in piece.labels:
        parts = [p.edge_length(label) for p in (one, two) if label in p.labels]
        assert sum(parts) == pytest.approx(piece.edge_length(label), abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_both_faces_of_the_cut_are_one_material(data: st.DataObject) -> None:
    piece = data.draw(pieces())
    one, two = straight(piece, *data.draw(ends(len(piece.labels))))
    mine, other = one.edge(CUT), two.edge(CUT)
    assert length(mine) == pytest.approx(length(other), abs=1e-9)
    assert [(s.origin, s.lo, s.hi) for s in mine] == [(s.origin, s.hi, s.lo) for s in reversed(other)]
    assert abs(mine[0].curve.start - other[-1].curve.end) < 1e-9
    assert abs(mine[-1].curve.end - other[0].curve.start) < 1e-9


@settings(max_examples=40, deadline=None)
@given(pieces(dart=True), st.floats(0.1, 0.9), st.floats(0.1, 0.9))
def test_a_line_through_a_dart_is_drawn_with_it_folded(piece: Piece, s: float, t: float) -> None:
    """From the edge before the dart's to the edge after it, through the dart: it stays with its pivot."""
    n = len(piece.labels)
    p, q = spot(piece, n - 1, 0.85 + 0.1 * s), spot(piece, 1, 0.05 + 0.1 * t)
    dart = piece.darts[0]
    try:
        done = draw(piece, p, q, Shape(), True, CUT, "step")
    except CannotApply as problem:
        assert problem.code in ("line-at-pivot", "line-leaves", "crosses-dart")  # on its far side
        assume(False)
        raise
    assume(done.folded)
    left, right = done.left, done.right
    assert left.area + right.area == pytest.approx(piece.area, rel=1e-9)
    assert left.darts == (dart,)
    assert right.darts == ()
    assert left.dart_angle(dart) == pytest.approx(piece.dart_angle(dart), abs=1e-9)
    assert left.pivot(dart) == piece.pivot(dart)
    assert left.edge_length(CUT) == pytest.approx(right.edge_length(CUT), abs=1e-6)
    first, second = left.legs(dart)
    assert first.length == pytest.approx(second.length, abs=1e-6)
    i, n = left.outline.index(first), len(left.outline)
    across = corner_of(left.outline[i - 1], first) + corner_of(second, left.outline[(i + 2) % n])
    assert across == pytest.approx(cmath.pi, abs=1e-6)  # smooth when the dart is sewn


def test_where_the_end_lies_with_the_dart_folded() -> None:
    """A dart of 60 degrees in a square of 200: closing it swings the far corner about the pivot."""
    square = strip(200, 200)
    hem, rest = square.outline[0], square.outline[1:]
    pivot, half = 100 + 80j, 80 * 0.5773502691896258
    one, two = complex(100 - half), complex(100 + half)
    legs = [Span(Line(one, pivot), hem.origin, 0, 1, Label("dart", "dart leg"), "x")]
    legs.append(Span(Line(pivot, two), hem.origin, 1, 2, Label("dart", "dart leg"), "x"))
    outline = (
        replace(hem, curve=Line(0j, one), lo=10, hi=10 + one.real),
        *legs,
        replace(hem, curve=Line(two, 200 + 0j), lo=100, hi=300 - two.real),
        *rest,
    )
    piece = replace(square, outline=outline, darts=(Dart("dart"),))
    a, b = spot(piece, 3, 0.5), spot(piece, 1, 0.5)
    outline = split_outline(piece.outline, [a.on_cloth, b.on_cloth])
    folds = folds_between(piece, outline, node_at(outline, a.on_cloth), node_at(outline, b.on_cloth))
    assert [f.dart.name for f in folds] == ["dart"]
    assert folds[0].closed(two) == pytest.approx(one)
    end = folds[0].closed(b.point)
    assert end == pytest.approx(pivot + (200 + 100j - pivot) * cmath.exp(-1j * cmath.pi / 3))


def test_a_line_that_leaves_the_piece_is_refused() -> None:
    piece = strip()
    p, q = spot(piece, 1, 0.5), spot(piece, 3, 0.5)
    course = through([p.point, 150 + 500j, q.point])
    with pytest.raises(CannotApply, match="the line leaves the piece at the waist"):
        divide(piece, p, q, course, CUT, "step")


def test_a_line_from_a_place_to_itself_is_refused() -> None:
    piece = strip()
    p = spot(piece, 1, 0.5)
    with pytest.raises(CannotApply, match="starts and ends at one place"):
        divide(piece, p, p, (Line(p.point, p.point + 1),), CUT, "step")


@pytest.mark.parametrize("depth", [5.0, 30.0, 90.0])
def test_a_bend_is_as_deep_as_asked(depth: float) -> None:
    """The deepest place of a line bent upward, square to a level straight line 300 mm long."""
    piece = strip()
    done = draw(
        piece, spot(piece, 1, 0.5), spot(piece, 3, 0.5), Shape(bend=Bend(depth, 1j)), True, CUT, "step"
    )
    top = max(c.bounds[3] for c in done.line)
    assert top == pytest.approx(200 + depth, abs=1e-6)
    assert not any(isinstance(c, Line) for c in done.line)


@pytest.mark.parametrize(
    ("heading", "corner"),
    [(Heading("square"), 90.0), (Heading("corner", cmath.pi / 3), 60.0), (Heading("corner", 2.0), 114.5916)],
)
@pytest.mark.parametrize("keep_left", [True, False])
def test_the_corner_in_the_kept_part_is_as_asked(heading: Heading, corner: float, keep_left: bool) -> None:
    piece = strip()
    a, b = spot(piece, 1, 0.4), spot(piece, 3, 0.6)
    done = draw(piece, a, b, Shape(heading, heading), keep_left, CUT, "step")
    kept = done.left if keep_left else done.right
    run = kept.edge(CUT)
    first = kept.outline.index(run[0])
    last = (kept.outline.index(run[-1]) + 1) % len(kept.outline)
    for i in (first, last):
        angle = corner_of(kept.outline[i - 1], kept.outline[i])
        assert angle * 180 / cmath.pi == pytest.approx(corner, abs=1e-3)


@settings(max_examples=40, deadline=None)
@given(st.floats(40, 260), st.floats(40, 260), st.floats(5, 40), st.floats(-20, 20))
def test_a_double_dart_taken_in_leaves_both_sides_alike(a: float, b: float, half: float, lean: float) -> None:
    """Areas sum to the piece's less the dart's; a dart that is alike about its middle makes equal sides."""
    piece = strip()
    dart = DoubleDart("dart", 150 + lean + 300j, 150 - lean + 100j, 150 - half + 200j, 150 + half + 200j)
    axis = (dart.lower - dart.upper) / abs(dart.lower - dart.upper)
    side = half * 1j * axis
    dart = replace(dart, left=150 + 200j - side, right=150 + 200j + side)
    if dart.left.real > dart.right.real:
        dart = replace(dart, left=dart.right, right=dart.left)
    piece = replace(piece, double_darts=(dart,))
    top, foot = spot(piece, 2, 1 - a / 300), spot(piece, 0, b / 300)
    done = divided_by(piece, Way(top, foot, (dart,)), CUT, "step")
    taken = 2 * half * abs(dart.upper - dart.lower) / 2
    assert done.one.area + done.two.area == pytest.approx(piece.area - taken, rel=1e-9)
    assert done.one.edge_length(CUT) == pytest.approx(done.two.edge_length(CUT), abs=1e-6)
    assert done.one.double_darts == done.two.double_darts == ()
    assert crossing(done.one) is None and crossing(done.two) is None
    assert [(s.lo, s.hi) for s in done.one.edge(CUT)] == [(s.hi, s.lo) for s in reversed(done.two.edge(CUT))]


def test_an_s_shaped_line_has_no_loop() -> None:
    """Headings that oblige the line to turn back still give a plain curve."""
    piece = strip()
    a, b = spot(piece, 1, 0.2), spot(piece, 3, 0.2)
    done = draw(piece, a, b, Shape(Heading("square"), Heading("square")), True, CUT, "step")
    curve = done.line[0]
    assert isinstance(curve, Cubic)
    assert all((curve.derivative(k / 50) * -1).real > 0 for k in range(51))
