"""Drawings as values: motion, scale, bounds, and never a mirror."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from cutonce.geometry.curve import Line
from cutonce.geometry.motion import reflecting, shifting, turning
from cutonce.sheets.drawing import (
    Drawing,
    Fill,
    Group,
    Stroke,
    Text,
    arrow_head,
    bounds,
    circle,
    double_arrow,
    moved,
    moved_group,
    scaled,
)
from cutonce.sheets.pens import LOOKS, Pen


def test_turned_item_keeps_its_sizes() -> None:
    turn = turning(math.pi / 2)
    stroke = moved(Stroke((Line(0j, 10 + 0j),), Pen.SEW), turn)
    text = moved(Text(5 + 0j, "abc", 4.0), turn)
    assert isinstance(stroke, Stroke) and isinstance(text, Text)
    assert stroke.path[0].d == pytest.approx(10j)
    assert text.at == pytest.approx(5j)
    assert text.angle == pytest.approx(math.pi / 2)
    assert text.height_mm == 4.0


def test_print_is_never_mirrored() -> None:
    with pytest.raises(ValueError, match="mirrored"):
        moved(Text(0j, "left", 4.0), reflecting(0j, 1j))


def test_scaling_takes_places_curves_and_text_but_not_pens() -> None:
    group = Group("a", "A", (circle(20 + 20j, 10.0, Pen.CUT), Text(4 + 4j, "A", 6.0)), (Line(0j, 8 + 0j),))
    half = scaled(Drawing((group,), 40.0, 30.0), 0.5)
    ring, text = half.groups[0].items
    assert (half.width, half.height) == (20.0, 15.0)
    assert bounds([ring]) == pytest.approx((5.0, 5.0, 15.0, 15.0))
    assert isinstance(text, Text) and (text.at, text.height_mm) == (2 + 2j, 3.0)
    assert half.groups[0].outline == (Line(0j, 4 + 0j),)
    assert isinstance(ring, Stroke) and ring.pen is Pen.CUT


def test_circle_keeps_its_radius() -> None:
    ring = circle(3 + 4j, 50.0, Pen.DRILL)
    radii = [abs(curve.at(i / 20) - (3 + 4j)) for curve in ring.path for i in range(21)]
    assert min(radii) > 49.99 and max(radii) < 50.02


def test_text_box_follows_anchor_and_angle() -> None:
    ends = {a: bounds([Text(0j, "hem", 10.0, 0.0, a)]) for a in ("start", "middle", "end")}  # type: ignore[arg-type]
    width = Text(0j, "hem", 10.0).width
    assert ends["start"] == pytest.approx((0.0, -2.5, width, 7.5))
    assert ends["middle"] == pytest.approx((-width / 2, -2.5, width / 2, 7.5))
    assert ends["end"] == pytest.approx((-width, -2.5, 0.0, 7.5))
    upright = bounds([Text(0j, "hem", 10.0, math.pi / 2)])
    assert upright == pytest.approx((-7.5, 0.0, 2.5, width))


def test_grain_arrow_points_both_ways_and_ends_where_asked() -> None:
    shaft, up, down = double_arrow(2j, 52j, Pen.GRAIN)
    assert isinstance(up, Fill) and isinstance(down, Fill)
    assert up.points[0] == 52j and down.points[0] == 2j
    assert bounds([shaft])[1] > 2 and bounds([shaft])[3] < 52
    assert arrow_head(0j, 5j, 3.0).points[1].imag == pytest.approx(-3.0)


def test_group_moves_as_one() -> None:
    group = Group("a", "A", (circle(0j, 5.0, Pen.CUT),), (Line(0j, 1j),))
    away = moved_group(group, shifting(7 + 1j))
    assert bounds(away.items) == pytest.approx((2.0, -4.0, 12.0, 6.0))
    assert away.outline == (Line(7 + 1j, 7 + 2j),)


def test_empty_drawing_has_no_bounds() -> None:
    with pytest.raises(ValueError, match="no bounds"):
        bounds([])


def test_lines_on_pieces_differ_without_colour() -> None:
    assert set(LOOKS) == set(Pen)
    lines = [LOOKS[p] for p in (Pen.CUT, Pen.SEW, Pen.FOLD, Pen.DART, Pen.STITCH, Pen.LANDMARK, Pen.GUIDE)]
    for one, two in combinations(lines, 2):
        light, heavy = sorted((one.width, two.width))
        assert one.dashes != two.dashes or heavy >= 2 * light
