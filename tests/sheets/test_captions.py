"""Small words find a free place along a line, or stay away."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from cutonce.geometry.curve import Line
from cutonce.sheets.captions import Room, along, readable
from cutonce.sheets.drawing import Item, Text, line
from cutonce.sheets.pens import Pen

EDGE = (Line(10 + 10j, 190 + 10j),)


def _box(text: Item) -> Polygon:
    assert isinstance(text, Text)
    return Polygon([(p.real, p.imag) for p in text.corners])


def test_words_stand_beside_the_line_inside_the_region() -> None:
    room = Room(box(0, 0, 200, 100))
    (text,) = along(EDGE, ("side: sew 10 mm",), 3.0, room)
    drawn = LineString([(10, 10), (190, 10)])
    assert box(0, 0, 200, 100).covers(_box(text)) and drawn.distance(_box(text)) > 0.5


def test_second_words_keep_off_the_first_and_off_lines() -> None:
    room = Room(box(0, 0, 200, 100))
    room.take([line(100 + 0j, 100 + 100j, Pen.GRAIN)])
    texts = [*along(EDGE, ("waist",), 3.0, room), *along(EDGE, ("sew 10 mm",), 3.0, room)]
    assert len(texts) == 2
    assert not _box(texts[0]).intersects(_box(texts[1]))
    assert not any(_box(t).intersects(LineString([(100, 0), (100, 100)])) for t in texts)


def test_shorter_choice_where_the_longer_does_not_fit_and_none_at_last() -> None:
    short = (Line(10 + 10j, 40 + 10j),)
    (text,) = along(short, ("shoulder: sew 10 mm, ease 6 mm", "sew 10 mm"), 3.0, Room(box(0, 0, 200, 100)))
    assert text.words == "sew 10 mm"
    assert along(short, ("shoulder: sew 10 mm, ease 6 mm",), 3.0, Room(box(0, 0, 200, 100))) == ()
    assert along(EDGE, ("side",), 3.0, Room(box(0, 9, 200, 11))) == ()


@given(st.floats(-10, 10))
def test_words_never_stand_on_their_head(angle: float) -> None:
    turned = readable(angle)
    assert -math.pi / 2 < turned <= math.pi / 2 + 1e-6
    assert math.sin(2 * turned) == pytest.approx(math.sin(2 * angle), abs=1e-9)
