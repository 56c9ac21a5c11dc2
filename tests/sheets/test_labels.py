"""A label is inside its piece and clear of its lines, or beside it with a pointer; never across the edge."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Line
from cutonce.sheets.drawing import Item, Stroke, Text, line, polygon
from cutonce.sheets.labels import LEAST_MM, Row, place_label
from cutonce.sheets.pens import Pen

ROWS = (
    Row("Front", 7.0, bold=True),
    Row("wearer's left side"),
    Row("cut 1, right side up"),
    Row("size 92, 3 May 2026, 15 mm allowance included"),
)


def _outline(*points: complex) -> paths.Path:
    return polygon(points, Pen.CUT).path


def _shape(outline: paths.Path) -> Polygon:
    return Polygon([(p.real, p.imag) for p in paths.flattened(outline)])


def _boxes(items: tuple[Item, ...]) -> list[Polygon]:
    return [Polygon([(p.real, p.imag) for p in t.corners]) for t in items if isinstance(t, Text)]


@settings(max_examples=60, deadline=None)
@given(st.floats(6, 500), st.floats(6, 900), st.floats(-0.4, 0.4), st.floats(0, 1))
def test_label_never_crosses_the_edge(width: float, height: float, lean: float, hollow: float) -> None:
    corner = complex(width, height)
    outline = (
        Line(0j, complex(width, 0)),
        Line(complex(width, 0), corner + lean * width),
        Line(corner + lean * width, complex(lean * width, height)),
        Cubic(
            complex(lean * width, height),
            complex(hollow * width * 0.7, 0.7 * height),
            complex(hollow * width * 0.7, 0.3 * height),
            0j,
        ),
    )
    shape = _shape(outline)
    items = place_label(outline, ROWS)
    boxes = _boxes(items)
    assert len(boxes) == len(ROWS)
    inside = [shape.covers(box) for box in boxes]
    beside = [shape.disjoint(box) for box in boxes]
    assert all(inside) or all(beside)
    assert min(t.height_mm for t in items if isinstance(t, Text)) >= LEAST_MM - 1e-9
    for i, box in enumerate(boxes):
        assert all(box.intersection(other).area < 1e-6 for other in boxes[:i])


def test_wide_piece_gets_its_label_upright_at_full_size() -> None:
    texts = place_label(_outline(0j, 300 + 0j, 300 + 500j, 500j), ROWS)
    assert [t.height_mm for t in texts if isinstance(t, Text)] == pytest.approx([7.0, 4.0, 4.0, 4.0])
    assert all(t.angle == 0.0 for t in texts if isinstance(t, Text))
    ys = [t.at.imag for t in texts if isinstance(t, Text)]
    assert ys == sorted(ys, reverse=True), "read from the top"


def test_upright_strip_gets_its_label_along_it() -> None:
    outline = _outline(0j, 40 + 0j, 40 + 500j, 500j)
    texts = [t for t in place_label(outline, ROWS) if isinstance(t, Text)]
    assert all(t.angle == pytest.approx(math.pi / 2) for t in texts)
    assert texts[0].height_mm == pytest.approx(7.0)


def test_narrow_strip_gets_its_label_beside_it_with_a_pointer_into_it() -> None:
    outline = _outline(0j, 8 + 0j, 8 + 500j, 500j)
    items = place_label(outline, ROWS)
    pointers = [i for i in items if isinstance(i, Stroke)]
    assert pointers and _shape(outline).covers(LineString([(4, 250), (4, 250.1)]))
    start = pointers[0].path[0].a
    assert 0 < start.real < 8
    assert all(t.at.real > 8 for t in items if isinstance(t, Text))


def test_label_keeps_clear_of_lines_inside() -> None:
    outline = _outline(0j, 300 + 0j, 300 + 400j, 400j)
    grain = line(150 + 20j, 150 + 380j, Pen.GRAIN)
    waist = line(0 + 200j, 300 + 200j, Pen.LANDMARK)
    boxes = _boxes(place_label(outline, ROWS, [grain, waist]))
    for stroke in (grain, waist):
        drawn = LineString([(p.real, p.imag) for p in paths.flattened(stroke.path)])
        assert all(drawn.distance(box) >= 1.5 for box in boxes)


def test_label_lies_over_inner_lines_before_it_leaves_the_piece() -> None:
    outline = _outline(0j, 120 + 0j, 120 + 60j, 60j)
    crowded = [line(complex(x, 0), complex(x, 60), Pen.LANDMARK) for x in range(5, 120, 8)]
    shape = _shape(outline)
    assert all(shape.covers(box) for box in _boxes(place_label(outline, ROWS, crowded)))


def test_empty_label_is_nothing() -> None:
    outline = _outline(0j, 120 + 0j, 120 + 60j)
    assert place_label(outline, ()) == () == place_label(outline, (Row(""),))
