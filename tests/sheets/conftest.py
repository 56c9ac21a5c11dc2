"""A few pieces with all kinds of lines, and sheets made of them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cutonce.geometry.curve import Cubic, Line
from cutonce.sheets.drawing import Group, Stroke, Text, double_arrow
from cutonce.sheets.pens import Pen

PieceMaker = Callable[..., Group]


def make_piece(key: str, width: float, height: float, at: complex = 0j) -> Group:
    """A front with a hollow side and neck; its curves are real cubics."""

    def p(x: float, y: float) -> complex:
        return at + complex(x * width, y * height)

    outline = (
        Line(p(0, 0), p(1, 0)),
        Cubic(p(1, 0), p(1, 0.3), p(0.75, 0.4), p(0.8, 0.7)),
        Line(p(0.8, 0.7), p(0.55, 1)),
        Cubic(p(0.55, 1), p(0.5, 0.85), p(0.1, 0.85), p(0, 0.85)),
        Line(p(0, 0.85), p(0, 0)),
    )
    items = (
        Stroke(outline, Pen.CUT, closed=True),
        Stroke((Line(p(0.05, 0.05), p(0.9, 0.05)),), Pen.SEW),
        Stroke((Line(p(0.02, 0.5), p(0.7, 0.5)),), Pen.LANDMARK),
        Stroke((Line(p(0.3, 0), p(0.35, 0.3)), Line(p(0.35, 0.3), p(0.4, 0))), Pen.DART),
        *double_arrow(p(0.5, 0.15), p(0.5, 0.7), Pen.GRAIN),
        Text(p(0.1, 0.4), f"{key} cut 1", 5.0),
    )
    return Group(key, key.title(), items, outline)


@pytest.fixture
def piece() -> PieceMaker:
    return make_piece
