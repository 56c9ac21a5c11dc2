"""The first page of a tiled pattern: what it is, how to print and join it, and the map of its pages."""

from __future__ import annotations

import math

from cutonce.geometry import path as paths
from cutonce.geometry.motion import Point, shifting
from cutonce.sheets import fonts
from cutonce.sheets.drawing import (
    Drawing,
    Group,
    Item,
    Stroke,
    Text,
    line,
    moved,
    polygon,
    scaled,
)
from cutonce.sheets.key import (
    CAUTIONS,
    depth,
    key_depth,
    line_key,
    paragraph,
    print_steps,
)
from cutonce.sheets.paper import INSET_MM, SAFE_MM, Tile
from cutonce.sheets.pens import Pen
from cutonce.sheets.rulers import MARK_MM, check_lines, ruler, without_checks
from cutonce.sheets.tiles import HALF_STAMP, SMALL_MM, Booklet

_MARK_WORDS = "100 mm on paper"
_MARK_STRIP_MM = 12.0
"""Room for the upright test mark, left of the page map."""


def cover(drawing: Drawing, booklet: Booklet, notes: tuple[str, ...] = ()) -> tuple[Item, ...]:
    """The first page, in paper mm. `drawing` is the whole sheet at the booklet's scale; `notes` are lines
    that must be said here (characters that could not be printed)."""
    paper = booklet.grid.paper
    room = paper.window[0]
    head, y = _head(drawing, booklet, notes, complex(INSET_MM, paper.height - INSET_MM), room)
    foot, top = _foot(booklet)
    low, high = complex(INSET_MM + _MARK_STRIP_MM, top + 4), complex(INSET_MM + room, y - 2)
    mark = complex(INSET_MM + 2, top + 4)
    return (*head, *_upright_mark(mark), *_map(drawing, booklet, low, high), *foot)


def _head(
    drawing: Drawing, booklet: Booklet, notes: tuple[str, ...], at: Point, room: float
) -> tuple[list[Item], float]:
    """Title, what it is for, the instructions; and the height at which they end."""
    items: list[Item] = []
    y = at.imag

    def put(words: str, size: float, gap: float) -> None:
        nonlocal y
        rows = paragraph(words, complex(at.real, y), room, size)
        items.extend(rows)
        y -= depth(rows) + gap

    put(drawing.title, 7.0, 0.5)
    for words in drawing.about:
        put(words, 3.4, 0.0)
    if booklet.scale != 1:
        put(f"{HALF_STAMP}: a paper trial, every length is half of the real one", 5.0, 0.5)
    y -= 1.5
    checks = check_lines(drawing.width / booklet.scale, drawing.height / booklet.scale)
    for n, step in enumerate(print_steps(tiled=True, checks=checks, scale=booklet.scale), start=1):
        put(f"{n}.  {step}", 3.2, 0.5)
    for words in notes:
        put(words, 3.2, 0.5)
    count = len(booklet.tiles)
    left_out = booklet.grid.rows * booklet.grid.columns - count
    y -= 1.0
    put(_counted(booklet, count, left_out), 3.4, 0.0)
    return items, y


def _counted(booklet: Booklet, count: int, left_out: int) -> str:
    pages = f"{count} pages" if count != 1 else "1 page"
    words = f"Page map: this page and {pages} of {booklet.grid.paper.name}"
    if not left_out:
        return words + "."
    empty = "1 empty one, crossed out, is" if left_out == 1 else f"{left_out} empty ones, crossed out, are"
    return f"{words}; {empty} left out."


def _map(drawing: Drawing, booklet: Booklet, low: Point, high: Point) -> list[Item]:
    """The sheet made small between two corners, with every page's name and number in its place."""
    grid = booklet.grid
    _, _, width, _ = grid.window(Tile(0, grid.columns - 1))
    _, bottom, _, _ = grid.window(Tile(grid.rows - 1, 0))
    room, height = high - low, grid.height - bottom
    k = min(room.real / width, room.imag / height)
    place = complex(low.real + (room.real - k * width) / 2, high.imag - k * grid.height)
    items: list[Item] = []
    for tile in grid.tiles():
        left, under, right, top = (k * side for side in grid.cell(tile))
        items += _map_cell(tile, booklet, place + complex(left, under), place + complex(right, top))
    for group in without_checks(scaled(drawing, k)):
        items += _map_piece(group, place, k * grid.paper.step[1], k * grid.height)
    return items


def _map_piece(group: Group, place: Point, row: float, height: float) -> list[Item]:
    """A piece's outline and its name, in the lower half of a row of cells, clear of the page names."""
    if not group.outline:
        return []
    left, low, right, high = paths.bounds(group.outline)
    items: list[Item] = [Stroke(paths.moved(group.outline, shifting(place)), Pen.OUTLINE, closed=True)]
    size = min(3.0, 0.2 * row)
    words = fonts.shortened(group.title, 1.1 * (right - left), size)
    if len(words) < min(4, len(group.title)):
        return items
    base = height - (math.floor((height - (low + high) / 2) / row) + 0.75) * row
    return [*items, Text(place + complex((left + right) / 2, base), words, size, anchor="middle")]


def _map_cell(tile: Tile, booklet: Booklet, low: Point, high: Point) -> list[Item]:
    """A page's place on the map: its name and its number, or crossed out where it is left out."""
    corners = (low, complex(high.real, low.imag), high, complex(low.real, high.imag))
    items: list[Item] = [polygon(corners, Pen.FRAME)]
    if tile not in booklet.tiles:
        return [*items, line(low, high, Pen.FRAME), line(corners[1], corners[3], Pen.FRAME)]
    size = high - low
    height = min(4.0, 0.25 * size.imag, 0.3 * size.real)
    at = corners[3] + complex(0.3, -1.1) * height
    items.append(Text(at, tile.name, height, bold=True))
    items.append(Text(at - 0.95j * height, f"p. {booklet.number(tile)}", 0.7 * height))
    return items


def _upright_mark(at: Point) -> tuple[Item, ...]:
    caption = Text(at + complex(5.5, MARK_MM / 2), _MARK_WORDS, 3.0, math.pi / 2, "middle")
    return (*ruler(at, at + 1j * MARK_MM, 10.0, 3.0), caption)


def _foot(booklet: Booklet) -> tuple[list[Item], float]:
    """The test mark across, cautions and line key from the foot of the page upwards; and where they end."""
    paper = booklet.grid.paper
    room = paper.window[0]
    at = complex(INSET_MM + 2, INSET_MM + 1)
    items: list[Item] = [
        *ruler(at, at + MARK_MM, 10.0, 3.0),
        Text(at + MARK_MM + 3 - 1.05j, _MARK_WORDS, 3.0),
    ]
    tail = f"page 1 of {booklet.pages}"
    items.append(Text(complex(INSET_MM + room, SAFE_MM + 1), tail, SMALL_MM, anchor="end"))
    words = paragraph(CAUTIONS, 0j, room, 2.4)
    y = at.imag + 4 + depth(words)
    items += (moved(t, shifting(complex(INSET_MM, y))) for t in words)
    y += 2 + key_depth(room)
    items += line_key(complex(INSET_MM, y), room)
    return items, y
