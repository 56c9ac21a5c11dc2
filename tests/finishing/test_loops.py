"""Inside curves tighter than their allowance: small loops are cut off, large ones stay and are reported."""

from __future__ import annotations

import cmath
import math

import pytest
from finishing.pieces import arc, cut_of, draft_of, label, piece_of, ring
from shapely import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from cutonce.draft.piece import Piece
from cutonce.draft.seam import Finish
from cutonce.finishing.loops import closed_without_loops, folds_back, without_loops
from cutonce.geometry import path
from cutonce.geometry.curve import Line
from cutonce.geometry.path import polyline


def dipped(radius: float) -> Piece:
    """A panel whose upper edge dips in a square V, its bottom rounded with this radius."""
    centre = 150 + 60j
    down = cmath.exp(-0.75j * math.pi)
    near, far = centre + radius * cmath.exp(-0.25j * math.pi), centre + radius * down
    top = near - 70 * down, far + 70 * cmath.exp(0.75j * math.pi)
    upper = [
        Line(complex(300, top[0].imag), top[0]),
        Line(top[0], near),
        *arc(centre, near, -math.pi / 2),
        Line(far, top[1]),
        Line(top[1], complex(0, top[1].imag)),
    ]
    return piece_of(
        [
            (label("hem"), [Line(0j, 300 + 0j)]),
            (label("side"), [Line(300 + 0j, upper[0].start)]),
            (label("neck"), upper),
            (label("waist"), [Line(upper[-1].end, 0j)]),
        ]
    )


@pytest.mark.parametrize(
    ("radius", "allowance", "codes"),
    [(12.0, 10.0, []), (8.0, 10.0, ["tight-inside-curve"]), (4.0, 10.0, ["tight-inside-curve"])],
)
def test_a_small_loop_is_cut_off_and_said(radius: float, allowance: float, codes: list[str]) -> None:
    """The two straight cutting lines meet at the square corner that a V without rounding has."""
    piece = dipped(radius)
    cutting = cut_of(draft_of(piece, {"neck": Finish("faced", allowance)}))
    assert [f.code for f in cutting.findings] == codes
    assert all(f.severity == "note" and f.spot for f in cutting.findings)
    assert Polygon(ring(cutting.line)).is_valid
    sewing = path.flattened([s.curve for s in piece.edge(label("neck"))], 0.001)
    neck = LineString([(p.real, p.imag) for p in sewing])
    points = [c.at(k / 100) for c in cutting.line for k in range(101)]
    lowest = min((z for z in points if 100 < z.real < 200 and z.imag > 20), key=lambda z: z.imag)
    deep = 60 + math.sqrt(2) * (allowance - radius) if codes else 60 - radius + allowance
    assert lowest.imag == pytest.approx(deep, abs=0.01) and abs(lowest.real - 150) < 0.5
    assert neck.distance(ShapelyPoint(lowest.real, lowest.imag)) > allowance - 0.01


def test_a_large_loop_stays_and_stops() -> None:
    cutting = cut_of(draft_of(dipped(2.0), {"neck": Finish("faced", 40.0)}))
    assert "cutting-crosses" in [f.code for f in cutting.findings if f.severity == "stop"]


def test_loops_of_a_plain_line() -> None:
    """A counter-clockwise loop goes, when it is short; one the other way round is no fold of the line."""
    line = polyline([0j, 10 + 0j, 12 + 2j, 10 + 4j, 8 + 2j, 14 - 4j, 30 - 4j])
    straight, spots = without_loops(line, 20.0)
    assert len(spots) == 1 and spots[0] == pytest.approx(10 + 0j)
    assert path.length(straight) == pytest.approx(10 + abs(4 - 4j) + 16)
    assert without_loops(line, 5.0) == (line, ())
    other = tuple(Line(c.a.conjugate(), c.d.conjugate()) for c in line if isinstance(c, Line))
    assert without_loops(other, 20.0) == (other, ())


def test_folds_are_seen() -> None:
    assert folds_back(polyline([0j, 10 + 0j, 5 + 1j]))
    assert not folds_back(polyline([0j, 10 + 0j, 15 + 4j]))


@pytest.mark.parametrize("k", range(8))
def test_a_loop_over_the_start_of_a_closed_line_is_found(k: int) -> None:
    """A rectangle with a small loop where its side bends inward, begun at each of its points."""
    corners = [0j, 100 + 0j, 100 + 55j, 95 + 55j, 95 + 50j, 110 + 50j, 110 + 100j, 100j]
    line, spots = closed_without_loops(polyline([*corners[k:], *corners[:k], corners[k]]), 40.0)
    assert spots == (pytest.approx(100 + 50j),)
    assert path.area(line) == pytest.approx(100 * 100 + 10 * 50)
    assert line[0].start == pytest.approx(line[-1].end)


def test_a_loop_that_ends_with_the_line_leaves_nothing_of_no_length() -> None:
    """The line's end lies on it: what is left of its last curve is a point, which has no direction."""
    line = polyline([0j, 10 + 0j, 12 + 3j, 5 + 3j, 5 + 0j])
    left, spots = without_loops(line, 40.0)
    assert [(c.start, c.end) for c in left] == [(0j, 5 + 0j)] and spots == (5 + 0j,)
