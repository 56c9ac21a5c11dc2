"""A finished piece drawn: every line with its pen, every mark in its place, every word clear of the rest."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from shapely import LineString, Polygon

from cutonce.finishing.finished import FinishedPiece
from cutonce.geometry import path as paths
from cutonce.geometry.path import Path
from cutonce.sheets.drawing import Group, Stroke, Text, bounds
from cutonce.sheets.pens import Pen
from cutonce.sheets.piece import piece_group


def _drawn(group: Group, pen: Pen) -> list[Stroke]:
    return [i for i in group.items if isinstance(i, Stroke) and i.pen is pen]


def _length(strokes: list[Stroke]) -> float:
    return sum(paths.length(s.path) for s in strokes)


def _texts(group: Group) -> list[Text]:
    return [i for i in group.items if isinstance(i, Text)]


def _shape(path: Path) -> Polygon:
    return Polygon([(p.real, p.imag) for p in paths.flattened(path)])


def test_each_line_has_its_pen_and_keeps_its_length(front: FinishedPiece) -> None:
    group = piece_group(front)
    sewn = [e for e in front.edges if e.kind != "fold"]
    assert _length(_drawn(group, Pen.SEW)) == pytest.approx(sum(paths.length(e.sewing) for e in sewn))
    assert _length(_drawn(group, Pen.DART)) == pytest.approx(
        sum(paths.length(leg) for d in front.darts for leg in d.legs)
    )
    assert len(_drawn(group, Pen.LANDMARK)) == 1 and len(_drawn(group, Pen.STITCH)) == 1


def test_edge_with_a_dart_is_drawn_with_a_gap_at_its_mouth(front: FinishedPiece) -> None:
    mouth = LineString([(213, 121), (212, 139)])
    for stroke in _drawn(piece_group(front), Pen.SEW):
        assert mouth.distance(LineString([(p.real, p.imag) for p in paths.flattened(stroke.path)])) > 0.5


def test_cutting_line_is_heavy_but_for_the_fold(front: FinishedPiece) -> None:
    group = piece_group(front)
    whole = paths.length(front.cutting)
    (cut,), (fold,) = _drawn(group, Pen.CUT), _drawn(group, Pen.FOLD)
    assert paths.length(cut.path) + paths.length(fold.path) == pytest.approx(whole)
    assert bounds([fold]) == pytest.approx((0.0, -40.0, 0.0, 406.0)), (
        "the fold is cut no wider than the piece"
    )
    assert group.outline == front.cutting
    (closed,) = _drawn(piece_group(replace(front, fold=None)), Pen.CUT)
    assert closed.closed and closed.path == front.cutting


def test_single_notch_at_its_place_and_double_about_it(front: FinishedPiece) -> None:
    group = piece_group(front)
    notches = [s.path[0] for s in _drawn(group, Pen.NOTCH)]
    waist, balance = front.notches
    assert any(n.a == waist.at and n.d == waist.tip for n in notches)
    pair = [n for n in notches if abs((n.d - n.a) - (balance.tip - balance.at)) < 1e-9 and n.a != waist.at]
    assert len(pair) == 2
    assert (pair[0].a + pair[1].a) / 2 == pytest.approx(balance.at)
    assert abs(pair[1].a - pair[0].a) == pytest.approx(6.0)


def test_unsewn_stretch_has_bars_at_its_ends(front: FinishedPiece) -> None:
    middles = [(s.path[0].a + s.path[0].d) / 2 for s in _drawn(piece_group(front), Pen.NOTCH)]
    for end in front.unsewn[0].ends:
        assert min(abs(m - end) for m in middles) < 1e-9


def test_grain_runs_from_end_to_end(front: FinishedPiece) -> None:
    tips = [i.points[0] for i in piece_group(front).items if hasattr(i, "points")]
    assert front.grain.start in tips and front.grain.end in tips


def test_all_words_of_the_label_are_there(front: FinishedPiece) -> None:
    words = [t.words for t in _texts(piece_group(front))]
    assert [w for w in words if w in front.label] == list(front.label)
    for caption in (
        "waist",
        "casing",
        "straight grain",
        "bust point",
        "leave open 50 mm",
        "hem: turn up 40 mm",
    ):
        assert caption in words
    assert "lay on the fold of the cloth" in words


def test_words_are_inside_and_clear_of_lines_and_each_other(front: FinishedPiece) -> None:
    group = piece_group(front)
    boxes = [Polygon([(p.real, p.imag) for p in t.corners]) for t in _texts(group)]
    shape = _shape(front.cutting)
    assert all(shape.covers(b) for b in boxes)
    for one, two in combinations(boxes, 2):
        assert not one.intersects(two)
    for stroke in (i for i in group.items if isinstance(i, Stroke)):
        drawn = LineString([(p.real, p.imag) for p in paths.flattened(stroke.path)])
        for text, box in zip(_texts(group), boxes, strict=True):
            assert not drawn.intersects(box), (text.words, stroke.pen)


def test_no_text_is_upside_down(front: FinishedPiece) -> None:
    assert all(-1.5708 < t.angle <= 1.5709 for t in _texts(piece_group(front)))
