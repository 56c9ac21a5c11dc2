"""Notches, grain arrows, lines, unsewn stretches: where they stand and that partners' marks meet."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from finishing.pieces import block, draft_of, label, panels, polygon_piece, ring
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint
from steps.drafts import dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.seam import Drawn, Finish, Opening, Relation, Seam, Side
from cutonce.draft.span import EdgeMark, Landmark
from cutonce.finishing.finish import finished
from cutonce.finishing.finished import Finished, FinishedPiece, Notch
from cutonce.geometry import path
from cutonce.geometry.meet import nearest
from cutonce.reshape.unfold import unfolded

HEM, SIDE, WAIST, CENTRE = label("hem"), label("side"), label("waist"), label("centre front")


def two_panels(relation: Relation | None = None, longer: float = 0.0) -> Draft:
    """Front and back, sewn at the side; the front's side is `longer` mm longer."""
    a = polygon_piece((0j, 200 + 0j, complex(200, 300 + longer), 300j), (HEM, SIDE, WAIST, CENTRE), "front")
    b = polygon_piece((-200 + 0j, 0j, 300j, -200 + 300j), (HEM, label("centre back"), WAIST, SIDE), "back")
    seam = Seam("side", Side("front", (SIDE,)), Side("back", (SIDE,)), relation or Relation())
    return Draft((a, replace(b, face="back")), (seam,))


def on_edge(piece: FinishedPiece, edge: str) -> tuple[Notch, ...]:
    return tuple(n for n in piece.notches if n.edge == edge)


def arcs(done: Finished, piece: str, edge: str) -> list[float]:
    """Places of the notches of an edge, mm along its sewing line."""
    made = done.piece(piece)
    sewing = next(e.sewing for e in made.edges if e.key == edge)
    return sorted(nearest(sewing, n.sewing)[0] for n in on_edge(made, edge) if n.kind != "dart")


@settings(max_examples=40, deadline=None)
@given(panels(), st.floats(0.1, 0.9))
def test_notch_is_square_and_on_the_cutting_line(made: tuple[Piece, dict[str, float]], share: float) -> None:
    piece, widths = made
    span = piece.outline[1]
    marked = replace(piece, marks=(EdgeMark("knee", span.origin, span.lo + share * (span.hi - span.lo)),))
    done = finished(draft_of(marked, {k: Finish("raw", w) for k, w in widths.items()}), "x").pieces[0]
    allowance = widths[span.label.name]
    line = LineString(ring(done.cutting, 0.001))
    (notch,) = [n for n in done.notches if n.name == "knee"]
    assert line.distance(ShapelyPoint(notch.at.real, notch.at.imag)) < 0.06
    assert nearest([span.curve], notch.sewing)[1] < 1e-6
    cut = notch.tip - notch.at
    assert abs((cut * notch.along.conjugate()).real) < 1e-6
    assert abs(cut) == pytest.approx(min(6.0, allowance / 2) if allowance else 3.0)
    if allowance:
        assert abs(notch.at - notch.sewing) == pytest.approx(allowance, abs=allowance)


def test_long_seam_gets_its_middle_on_both_sides() -> None:
    done = finished(two_panels(), "x")
    assert arcs(done, "front", "side") == [pytest.approx(150)]
    assert arcs(done, "back", "side") == [pytest.approx(150)]


def test_gathered_seam_gets_quarters_that_meet() -> None:
    """From the start of a: 1/4, 1/2, 3/4 of each side's own length; b is walked backwards."""
    done = finished(two_panels(Relation("gather"), longer=120), "x")
    assert arcs(done, "front", "side") == [pytest.approx(420 * q) for q in (0.25, 0.5, 0.75)]
    assert arcs(done, "back", "side") == [pytest.approx(300 * q) for q in (0.25, 0.5, 0.75)]
    names = {n.name: n.sewing for n in on_edge(done.piece("front"), "side")}
    other = {n.name: n.sewing for n in on_edge(done.piece("back"), "side")}
    assert names.keys() == other.keys()
    assert names["side first quarter"] == pytest.approx(200 + 105j)
    assert other["side first quarter"] == pytest.approx(-200 + 75j)


def test_landmarks_of_the_sample_dress_meet_in_the_side_seam() -> None:
    done = finished(dress(), "dress")
    sides = {k: next(e for e in done.piece(k).edges if e.key == "side").sewing for k in ("front", "back")}
    spots = {
        k: {n.name: n.sewing for n in on_edge(done.piece(k), "side") if n.kind == "landmark"} for k in sides
    }
    assert spots["front"].keys() == spots["back"].keys() == {"waist", "hip"}
    for name in ("waist", "hip"):
        a, b = (nearest(sides[k], spots[k][name])[0] for k in sides)
        assert a == pytest.approx(path.length(sides["back"]) - b, abs=0.1)


def test_one_cut_for_the_front_two_for_the_back() -> None:
    done = finished(dress(), "dress")
    assert {n.count for n in done.piece("front").notches} == {1}
    assert {n.count for n in on_edge(done.piece("back"), "side")} == {1}  # joins a front
    pair = two_panels()
    both_back = replace(pair, pieces=tuple(replace(p, face="back") for p in pair.pieces))
    assert {n.count for p in finished(both_back, "x").pieces for n in p.notches} == {2}


def test_centre_is_notched_on_the_fold_and_not_in_a_corner() -> None:
    done = finished(block("dress"), "dress")
    centre = [n for n in done.piece("front").notches if n.kind == "centre"]
    assert sorted(n.edge for n in centre) == ["hem", "neck"]
    assert all(n.at.real == pytest.approx(0, abs=1e-6) for n in centre)
    assert [n for n in done.piece("back").notches if n.kind == "centre"] == []
    whole = finished(unfolded(block("dress"), ("back",), "unfold"), "dress").piece("front")
    assert sorted(n.edge.split()[-1] for n in whole.notches if n.kind == "centre") == ["hem", "neck"]


def test_zip_ends_are_notched_and_barred() -> None:
    draft = replace(two_panels(), openings=(Opening("side", "zip", 50.0, 120.0),))
    done = finished(draft, "x")
    assert arcs(done, "front", "side") == [pytest.approx(x) for x in (50, 150, 170)]
    assert arcs(done, "back", "side") == [pytest.approx(x) for x in (130, 150, 250)]
    (front,), (back,) = done.piece("front").unsewn, done.piece("back").unsewn
    assert front.ends == (pytest.approx(200 + 50j), pytest.approx(200 + 170j))
    assert back.ends == (pytest.approx(-200 + 170j), pytest.approx(-200 + 50j))
    assert front.words == "zip 120 mm"


def test_cord_exit_leaves_the_allowance() -> None:
    draft = two_panels()
    exits = Opening("side", "cord exit", 30.0, 12.0), Opening("side", "cord exit", 200.0, 15.0)
    left = replace(draft, openings=exits)
    done, plain = finished(left, "x").piece("front"), finished(draft, "x").piece("front")
    assert done.cutting == plain.cutting
    assert [u.words for u in done.unsewn] == ["cord exit 12 mm", "cord exit 15 mm"]
    assert path.length(done.unsewn[1].path) == pytest.approx(15)


def test_drawn_edge_is_notched_where_it_runs_on_smoothly() -> None:
    a, b = label("side"), replace(label("side"), part=2)
    piece = polygon_piece((0j, 200 + 0j, 200 + 100j, 200 + 300j, 300j), (HEM, a, b, WAIST, CENTRE))
    drawn = Drawn("fan", (("panel", a),), 60.0, "gathering")
    done = finished(Draft((piece,), drawn=(drawn,)), "x").pieces[0]
    spots = {n.name: n.sewing for n in done.notches}
    assert spots == {"fan end": pytest.approx(200 + 100j), "fan middle": pytest.approx(200 + 50j)}


@settings(max_examples=40, deadline=None)
@given(panels(), st.floats(0, math.pi))
def test_grain_arrow_lies_inside_along_the_warp(made: tuple[Piece, dict[str, float]], angle: float) -> None:
    piece, _ = made
    along = complex(math.cos(angle), math.sin(angle))
    turned = replace(piece, grain=Grain(piece.grain.at, along))
    arrow = finished(Draft((turned,)), "x").pieces[0].grain
    assert abs(((arrow.end - arrow.start) * along.conjugate()).imag) < 1e-6
    assert abs(arrow.end - arrow.start) > 30
    inside = Polygon(ring(tuple(s.curve for s in piece.outline)))
    assert inside.covers(LineString([(p.real, p.imag) for p in (arrow.start, arrow.end)]))


def test_grain_place_outside_the_piece_is_moved_in() -> None:
    piece = replace(two_panels().pieces[0], grain=Grain(-500 + 900j))
    arrow = finished(Draft((piece,)), "x").pieces[0].grain
    for p in (arrow.start, arrow.end):
        assert 0 < p.real < 200 and 0 < p.imag < 300
    assert arrow.words == "straight grain"


def test_points_and_lines_are_carried_over() -> None:
    base = dress()
    front = base.piece("front")
    drilled = replace(front, points=(*front.points, Landmark("drill pocket", 100 - 50j)))
    done = finished(base.with_pieces([drilled]), "dress").piece("front")
    assert [p.name for p in done.points] == ["bust point"]
    assert [d.mark_of for d in done.drills].count("drill pocket") == 1
    assert [x.name for x in done.lines] == ["bust", "waist"]
