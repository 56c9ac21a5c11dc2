"""The grid of pages covers the sheet; a page is left out only if nothing is lost by it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic, Line
from cutonce.sheets import clip
from cutonce.sheets.drawing import Drawing, Fill, Group, Stroke, Text, polygon
from cutonce.sheets.paper import A0, A3, A4, LETTER, LONGEST_PAGE_MM, OVERLAP_MM, Tile, grid, roll
from cutonce.sheets.pens import Pen
from cutonce.sheets.tiles import needed, onto_paper

_WIDTH, _HEIGHT = 900.0, 700.0
_inside = st.builds(complex, st.floats(0, _WIDTH), st.floats(0, _HEIGHT))


def _sheet(*items: Stroke | Fill | Text, outline: tuple[Line, ...] = ()) -> Drawing:
    return Drawing((Group("a", "A", items, outline),), _WIDTH, _HEIGHT)


@settings(max_examples=60, deadline=None)
@given(st.builds(Cubic, _inside, _inside, _inside, _inside), st.sampled_from([A4, LETTER, A3]))
def test_each_point_of_a_stroke_is_on_a_printed_page(curve: Cubic, paper) -> None:  # type: ignore[no-untyped-def]
    stroke = Stroke((curve,), Pen.CUT)
    cut = grid(paper, _WIDTH, _HEIGHT)
    tiles = needed(_sheet(stroke), cut)
    stretches = [s for tile in tiles for s in clip.inside(curve, cut.window(tile))]
    for i in range(101):
        assert any(t0 - 1e-9 <= i / 100 <= t1 + 1e-9 for t0, t1 in stretches), i / 100


@given(st.floats(0, _WIDTH), st.floats(0, _HEIGHT))
def test_each_point_of_the_sheet_is_in_one_cell(x: float, y: float) -> None:
    cut = grid(A4, _WIDTH, _HEIGHT)
    cells = [cut.cell(t) for t in cut.tiles()]
    hits = [c for c in cells if c[0] <= x <= c[2] and c[1] <= y <= c[3]]
    near_a_join = any(min(abs(x - c[2]), abs(y - c[1])) < 1e-5 for c in cells)
    assert len(hits) == 1 or near_a_join


def test_neighbours_share_the_overlap() -> None:
    cut = grid(LETTER, _WIDTH, _HEIGHT)
    one, right, below = (cut.window(Tile(r, c)) for r, c in ((0, 0), (0, 1), (1, 0)))
    assert abs(one[2] - right[0] - OVERLAP_MM) < 1e-9
    assert abs(below[3] - one[1] - OVERLAP_MM) < 1e-9
    assert one[3] == _HEIGHT and one[0] == 0.0


def test_line_on_a_join_needs_one_page_only() -> None:
    cut = grid(A4, _WIDTH, _HEIGHT)
    x = cut.window(Tile(0, 1))[0]
    upright = Stroke((Line(complex(x, _HEIGHT - 10), complex(x, _HEIGHT - 200)),), Pen.CUT)
    assert [t.name for t in needed(_sheet(upright), cut)] == ["A2"]


def test_empty_pages_are_left_out_by_the_curve_not_its_box() -> None:
    cut = grid(A4, _WIDTH, _HEIGHT)
    slant = Stroke((Line(1 + 1j, complex(_WIDTH - 1, _HEIGHT - 1)),), Pen.CUT)
    step_x, step_y = A4.step
    touched = set()
    for i in range(20001):
        p = slant.path[0].at(i / 20000)
        column, row = int(p.real // step_x), int((_HEIGHT - p.imag) // step_y)
        touched.add(Tile(min(row, cut.rows - 1), min(column, cut.columns - 1)))
    assert set(needed(_sheet(slant), cut)) == touched
    assert Tile(0, 0) not in touched


def test_blank_page_inside_a_piece_is_printed() -> None:
    edge = polygon((10 + 10j, 890 + 10j, 890 + 690j, 10 + 690j), Pen.CUT)
    cut = grid(A4, _WIDTH, _HEIGHT)
    assert "B2" in [t.name for t in needed(_sheet(edge, outline=edge.path), cut)]  # type: ignore[arg-type]
    assert "B2" not in [t.name for t in needed(_sheet(edge), cut)]


def test_texts_and_fills_need_their_page_too() -> None:
    cut = grid(A4, _WIDTH, _HEIGHT)
    left, _, _, top = cut.window(Tile(0, 2))
    at = complex(left + 20, top - 20)
    assert [t.name for t in needed(_sheet(Text(at, "here", 5.0)), cut)] == ["A3"]
    assert [t.name for t in needed(_sheet(Fill((at, at + 3, at + 3j))), cut)] == ["A3"]


def test_windows_lie_inside_the_margins() -> None:
    for paper in (A4, LETTER, A3, A0, roll(9000.0)):
        cut = grid(paper, paper.window[0], paper.window[1])
        shift = onto_paper(Tile(0, 0), cut)
        left, low, right, high = cut.window(Tile(0, 0))
        corners = shift(complex(left, low)), shift(complex(right, high))
        assert corners[0].real >= 7 and corners[0].imag >= 7
        assert corners[1].real <= paper.width - 7 and corners[1].imag <= paper.height - 7


def test_roll_is_as_long_as_needed_and_never_longer_than_a_page_may_be() -> None:
    assert abs(roll(1500.0).height - 1523.0) < 1e-9
    assert roll(9000.0).height == LONGEST_PAGE_MM
    assert abs(LONGEST_PAGE_MM - 5080.0) < 1e-9
