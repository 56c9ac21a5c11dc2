"""The layout keeps pieces whole, apart, upright and on the sheet, and always comes out the same."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from cutonce.geometry import path as paths
from cutonce.sheets.arrange import LEAST_GAP_MM, arrange
from cutonce.sheets.drawing import Drawing, Group, Stroke, Text, bounds, polygon
from cutonce.sheets.paper import A0, A3, A4, LETTER, LONGEST_PAGE_MM, Paper, grid
from cutonce.sheets.pens import Pen
from cutonce.sheets.tiles import needed

_ROLL = Paper("roll", 841.0, LONGEST_PAGE_MM)


@st.composite
def _pieces(draw: st.DrawFn) -> list[Group]:
    """One to eight star-shaped pieces, from a strap to a skirt, lying anywhere."""
    groups = []
    for i in range(draw(st.integers(1, 8))):
        width, height = draw(st.floats(8, 700)), draw(st.floats(8, 1300))
        at = complex(draw(st.floats(-500, 500)), draw(st.floats(-500, 500)))
        radii = draw(st.lists(st.floats(0.25, 1.0), min_size=5, max_size=9))
        spokes = [r * cmath.exp(2j * math.pi * k / len(radii)) for k, r in enumerate(radii)]
        outline = polygon([at + complex(width / 2 * s.real, height / 2 * s.imag) for s in spokes], Pen.CUT)
        groups.append(Group(f"p{i}", f"Piece {i}", (outline,), outline.path))
    return groups


def _shape(group: Group) -> Polygon:
    return Polygon([(p.real, p.imag) for p in paths.flattened(group.outline)])


def _pieces_of(drawing: Drawing) -> list[Group]:
    return [g for g in drawing.groups if g.outline]


@settings(max_examples=25, deadline=None)
@given(_pieces(), st.sampled_from([(A4, 0), (LETTER, 0), (_ROLL, 1)]))
def test_pieces_keep_apart_and_on_the_sheet(groups: list[Group], where: tuple[Paper, int]) -> None:
    sheet = arrange(groups, where[0], columns=where[1])
    placed = _pieces_of(sheet)
    assert [g.key for g in placed] == [g.key for g in groups]
    low_x, low_y, high_x, high_y = bounds(sheet.items)
    assert low_x >= 0 and low_y >= 0 and high_x <= sheet.width and high_y <= sheet.height
    shapes = [_shape(g) for g in placed]
    for i, one in enumerate(shapes):
        for two in shapes[:i]:
            assert one.distance(two) >= LEAST_GAP_MM
    for before, after in zip(groups, placed, strict=True):
        moves = [q.a - p.a for p, q in zip(before.outline, after.outline, strict=True)]
        assert max(abs(m - moves[0]) for m in moves) < 1e-9, "shifted, not turned"


def test_same_pieces_same_sheet(piece) -> None:  # type: ignore[no-untyped-def]
    groups = [piece("front", 320, 900), piece("back", 300, 950), piece("strap", 60, 300)]
    assert arrange(groups, A4) == arrange(groups, A4)


def test_pieces_beside_each_other_take_fewer_pages_than_in_a_column(piece) -> None:  # type: ignore[no-untyped-def]
    """Four quarters of a page fit on one; two tall pieces beside each other cost no more than their area."""
    small = [piece(f"p{i}", 75, 110) for i in range(4)]
    sheet = arrange(small, A4)
    assert len(needed(sheet, grid(A4, sheet.width, sheet.height))) == 1
    tall = [piece("left", 250, 800), piece("right", 250, 800)]
    sheet = arrange(tall, A4)
    assert len(needed(sheet, grid(A4, sheet.width, sheet.height))) <= 12


def test_small_piece_is_kept_off_the_joins(piece) -> None:  # type: ignore[no-untyped-def]
    """On A0, one piece half a page high and one three quarters: two pages either way, so neither is cut."""
    sheet = arrange([piece("a", 700, 560), piece("b", 700, 840)], A0, columns=1)
    cut = grid(A0, sheet.width, sheet.height)
    for group in _pieces_of(sheet):
        assert len(needed(Drawing((group,), sheet.width, sheet.height), cut)) == 1


def test_piece_too_wide_for_the_roll_is_turned_a_quarter_with_its_text(piece) -> None:  # type: ignore[no-untyped-def]
    wide = piece("half circle", 1400, 600)
    sheet = arrange([wide], _ROLL, columns=1)
    (laid,) = _pieces_of(sheet)
    left, low, right, high = bounds(laid.items)
    assert (right - left, high - low) == pytest.approx((600, 1400), abs=1e-6)
    (text,) = (i for i in laid.items if isinstance(i, Text))
    assert abs(text.angle) == pytest.approx(math.pi / 2)
    assert sheet.width <= _ROLL.window[0]


def test_piece_too_large_either_way_gets_several_columns(piece) -> None:  # type: ignore[no-untyped-def]
    sheet = arrange([piece("circle", 1500, 1500)], _ROLL, columns=1)
    assert grid(_ROLL, sheet.width, sheet.height).columns == 2


def test_check_lines_are_on_the_sheet(piece) -> None:  # type: ignore[no-untyped-def]
    sheet = arrange([piece("front", 1300, 760)], A3)
    (checks,) = (g for g in sheet.groups if g.key == "check")
    lengths = sorted(i.path[0].length for i in checks.items if isinstance(i, Stroke))[-2:]
    assert lengths == pytest.approx([700.0, 1000.0])


def test_no_pieces_is_a_fault() -> None:
    with pytest.raises(ValueError, match="at least one"):
        arrange([], A4)
