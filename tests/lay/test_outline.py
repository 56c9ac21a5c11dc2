"""Outlines to search with hold the cutting line, keep its box, and have few corners."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lay.garments import example, of_block, panel
from shapely import Polygon

from cutonce.errors import CannotApply
from cutonce.finishing.finished import FinishedPiece
from cutonce.geometry import path
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Motion
from cutonce.lay.outline import laid_outline, outlines_of
from cutonce.lay.problem import Ring

PIECES = [p for name in ("a_line", "cellist", "stage_tunic") for p in example(name)[0].pieces]
PIECES += [p for name in ("bodice", "dress", "skirt") for p in of_block(name, "18")[0].pieces]


def polygon(ring: Ring) -> Polygon:
    return Polygon([(p.real, p.imag) for p in ring])


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.key)
@settings(max_examples=5)
@given(st.floats(-math.pi, math.pi), st.booleans())
def test_it_holds_the_curve_and_lies_near_it(piece: FinishedPiece, angle: float, over: bool) -> None:
    outlines = outlines_of(piece.cutting, piece.key)
    motion, ring = laid_outline(outlines, Motion(cmath.exp(1j * angle), 0j, over))
    true = polygon([motion(p) for p in path.flattened(piece.cutting, 0.002)])
    held = polygon(ring)
    assert held.is_valid and held.exterior.is_ccw
    assert held.buffer(1e-6).covers(true.buffer(0))
    assert held.area - true.area < 0.2 * true.length
    assert true.buffer(2.0).covers(held)
    assert held.bounds[:2] == pytest.approx((0, 0), abs=1e-9)
    assert held.bounds == pytest.approx(path.bounds(path.moved(piece.cutting, motion)), abs=1e-6)
    assert len(ring) <= 130


def test_few_corners() -> None:
    corners = [len(outlines_of(p.cutting, p.key).outer) for p in PIECES]
    assert sum(corners) / len(corners) < 50


def test_straight_edges_along_the_cloth_stay_where_they_are() -> None:
    _, ring = laid_outline(outlines_of(panel("a", 300, 500).cutting, "a"), Motion(-1j))
    assert sorted((round(p.real, 9), round(p.imag, 9)) for p in ring) == [
        (0, 0),
        (0, 300),
        (500, 0),
        (500, 300),
    ]


def test_a_line_that_crosses_itself_counts_with_all_that_it_encloses() -> None:
    bow = (0j, 200 + 200j, 200 + 0j, 0 + 150j)
    line = tuple(Line(a, b) for a, b in zip(bow, (*bow[1:], bow[0]), strict=True))
    assert polygon(outlines_of(line, "bow").outer).area > 5000


def test_a_line_round_nothing_is_refused() -> None:
    line = (Line(0j, 100 + 0j), Line(100 + 0j, 0j))
    with pytest.raises(CannotApply, match="ribbon: its cutting line encloses no cloth"):
        outlines_of(line, "ribbon")
