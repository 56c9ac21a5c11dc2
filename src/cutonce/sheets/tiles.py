"""The pages of a tiled sheet: which are needed, and the marks that each one carries round its window."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from cutonce.geometry.curve import Bounds, apart
from cutonce.geometry.motion import Motion, Point, shifting
from cutonce.geometry.path import flattened
from cutonce.geometry.region import inside
from cutonce.sheets import clip, fonts
from cutonce.sheets.drawing import Drawing, Fill, Item, Stroke, Text, item_bounds, line, polygon
from cutonce.sheets.paper import BAND_MM, INSET_MM, SAFE_MM, Grid, Tile
from cutonce.sheets.pens import Pen
from cutonce.sheets.rulers import MARK_MM, ruler

SMALL_MM = 2.6
"""Font size of the captions in the margin band."""

_DIAMOND_MM = 3.0
_SPOT_MM = 190.0
HALF_STAMP = "HALF SCALE, NOT FULL SIZE"


@dataclass(frozen=True, slots=True)
class Booklet:
    """What is the same on every page: the sheet's title, its pages in order, the number of the first one
    among `pages` in all, and the scale (1 or 0.5)."""

    title: str
    grid: Grid
    tiles: tuple[Tile, ...]
    first: int
    scale: float

    @property
    def pages(self) -> int:
        return len(self.tiles) + self.first - 1

    def number(self, tile: Tile) -> int:
        return self.tiles.index(tile) + self.first


def needed(drawing: Drawing, grid: Grid) -> tuple[Tile, ...]:
    """The pages whose own cell holds any of the drawing, in reading order.

    Exact: a curve counts where it runs, not where its box lies. A page without a line inside a piece is
    needed too, or the joined piece would have a hole.
    """
    boxed = [(item, item_bounds(item)) for item in drawing.items]
    outlines = [flattened(g.outline) for g in drawing.groups if g.outline]
    return tuple(
        tile
        for tile in grid.tiles()
        if _any_in(boxed, grid.cell(tile)) or _covered(outlines, grid.cell(tile))
    )


def _covered(outlines: Sequence[Sequence[Point]], cell: Bounds) -> bool:
    """Does a cell that no line runs through lie inside an outline? Then its middle does."""
    middle = complex((cell[0] + cell[2]) / 2, (cell[1] + cell[3]) / 2)
    return any(inside(points, middle) for points in outlines)


def _any_in(boxed: Iterable[tuple[Item, Bounds]], cell: Bounds) -> bool:
    return any(not apart(box, cell) and _shows(item, cell) for item, box in boxed)


def _shows(item: Item, box: Bounds) -> bool:
    match item:
        case Stroke():
            return bool(clip.stroke(item, box))
        case Fill():
            return clip.fill(item, box) is not None
        case Text():
            return clip.text(item, box) is not None


def frame(tile: Tile, booklet: Booklet) -> tuple[Item, ...]:
    """Everything on a page that is not the sheet itself, in paper mm from the lower left corner.

    All of it at least `SAFE_MM` from the paper's edge.
    """
    items: list[Item] = [*_watermark(tile, booklet), *_test_marks(booklet)]
    for side in _SIDES:
        items += _side(side, tile, booklet)
    return tuple(items)


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a page: where the neighbour is, and whether this page is cut there or lies beneath."""

    rows: int
    columns: int
    cut: bool
    angle: float
    words: str


_SIDES = (
    _Side(0, -1, True, math.pi / 2, "to the left"),
    _Side(-1, 0, True, 0.0, "above"),
    _Side(0, 1, False, math.pi / 2, "to the right"),
    _Side(1, 0, False, 0.0, "below"),
)


def _side(side: _Side, tile: Tile, booklet: Booklet) -> list[Item]:
    """The join line with its marks, and the words in the band outside it."""
    other = Tile(tile.row + side.rows, tile.column + side.columns)
    grid = booklet.grid
    if not (0 <= other.row < grid.rows and 0 <= other.column < grid.columns):
        return []
    if other not in booklet.tiles:
        return [_band_text(f"{other.name} {side.words} is empty, not printed", side, booklet)]
    if side.cut:
        words = f"cut along this line, then lay this edge on {other.name}"
    else:
        words = f"lay the cut edge of {other.name} on this line"
    return [*_join(side, booklet), _band_text(words, side, booklet)]


def _join(side: _Side, booklet: Booklet) -> list[Item]:
    """The line where two pages meet and diamonds on it, at the same places of the sheet on both pages."""
    paper = booklet.grid.paper
    (width, height), (step_x, step_y) = paper.window, paper.step
    low, top = complex(INSET_MM, INSET_MM), INSET_MM + height
    if side.columns:
        x = INSET_MM if side.cut else INSET_MM + step_x
        ends = complex(x, low.imag), complex(x, top)
        spots = [complex(x, top - along) for along in _spots(step_y)]
    else:
        y = top if side.cut else top - step_y
        ends = complex(low.real, y), complex(low.real + width, y)
        spots = [complex(low.real + along, y) for along in _spots(step_x)]
    inward = complex(-side.columns, side.rows)
    items: list[Item] = [line(*ends, Pen.FRAME)]
    for spot in spots:
        items += _diamond(spot, inward, whole=not side.cut)
    return items


def _spots(step: float) -> Iterator[float]:
    """Where along a join the diamonds stand: two on small paper, one to about `_SPOT_MM` on a plot."""
    count = max(2, round(step / _SPOT_MM))
    return (step * (i + 0.5) / count for i in range(count))


def _diamond(spot: complex, inward: complex, whole: bool) -> Iterator[Item]:
    """A diamond with its diagonals; on a cut edge only the half that stays on the page."""
    tip, side = _DIAMOND_MM * inward, _DIAMOND_MM * 1j * inward
    corners = (spot - side, spot + tip, spot + side, *((spot - tip,) if whole else ()))
    far = spot - tip if whole else spot
    yield polygon(corners, Pen.LEADER)
    yield line(far, spot + tip, Pen.LEADER)
    if whole:
        yield line(spot - side, spot + side, Pen.LEADER)


def _band_text(words: str, side: _Side, booklet: Booklet) -> Text:
    """Words at the end of the band along a side: right or top, where no mark is."""
    paper = booklet.grid.paper
    right, top = paper.width - INSET_MM, paper.height - INSET_MM
    base = 0.35 * (BAND_MM - SMALL_MM) + fonts.DESCENT * SMALL_MM
    match (side.rows, side.columns):
        case (0, -1):
            at = complex(INSET_MM - base, top)
        case (-1, 0):
            at = complex(right, top + base)
        case (0, 1):
            at = complex(paper.width - SAFE_MM - base, top)
        case _:
            at = complex(right, SAFE_MM + base)
    return Text(at, words, SMALL_MM, side.angle, "end")


def _test_marks(booklet: Booklet) -> list[Item]:
    """100 mm across in the bottom band, 100 mm upright in the right band, each with its caption."""
    paper = booklet.grid.paper
    middle, lift = SAFE_MM + BAND_MM / 2, 0.35 * SMALL_MM
    start, end = complex(INSET_MM, middle), complex(INSET_MM + MARK_MM, middle)
    items: list[Item] = list(ruler(start, end, MARK_MM, 3.0))
    items.append(Text(end + 2 - 1j * lift, "100 mm on paper", SMALL_MM))
    start, end = (complex(paper.width - middle, INSET_MM + y) for y in (0.0, MARK_MM))
    items += ruler(start, end, MARK_MM, 3.0)
    items.append(Text(end + 2j + lift, "100 mm on paper", SMALL_MM, math.pi / 2))
    return items


def _watermark(tile: Tile, booklet: Booklet) -> Iterator[Item]:
    """The page's name, large and light in its upper left corner, and in the top band what it belongs to.

    A sheet on one page alone has no page name; one for a plotter, without a page map, has it small only.
    """
    paper = booklet.grid.paper
    left, top = INSET_MM, paper.height - INSET_MM
    base = 0.35 * (BAND_MM - SMALL_MM) + fonts.DESCENT * SMALL_MM
    tail = f"  ·  page {booklet.number(tile)} of {booklet.pages}"
    if booklet.pages > 1:
        tail += f"  ·  {tile.name}"
        if booklet.first > 1:
            yield Text(complex(left + 13, top - 24), tile.name, 12.0, bold=True, grey=0.8)
    if booklet.scale != 1:
        tail += f"  ·  {HALF_STAMP}"
        yield Text(complex(left + 13, top - 32), HALF_STAMP, 5.0, bold=True)
    room = paper.window[0] - fonts.width(tail, SMALL_MM) - 75.0
    head = fonts.shortened(booklet.title, room, SMALL_MM)
    yield Text(complex(left, top + base), head + tail, SMALL_MM)


def onto_paper(tile: Tile, grid: Grid) -> Motion:
    """The shift that lays a page's window of the sheet on its paper.

    Assembling is its inverse: sheet = paper point + (window's lower left corner) - (INSET_MM, INSET_MM).
    """
    left, bottom, _, _ = grid.window(tile)
    return shifting(complex(INSET_MM - left, INSET_MM - bottom))
