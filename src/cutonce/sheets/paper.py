"""Paper sizes, and how a sheet is cut into pages that are joined again.

The join is a lap. Each page shows a window of the sheet; windows overlap by `OVERLAP_MM` at the right and at
the bottom. A page is cut along its left and top line and laid on the pages beside and above it, edge to line.
So each page is cut on two sides at most, glue has `OVERLAP_MM` plus the blank margin to hold on, and a cut
that strays by a millimetre shows the same drawing underneath, not a gap. (Page edges laid end to end would
need four exact cuts a page.)
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from cutonce.geometry.curve import Bounds
from cutonce.geometry.tolerance import SAME_POINT_MM

SAFE_MM = 7.0
"""Nothing is printed nearer to the paper's edge; desktop printers leave out up to 6.4 mm (a quarter inch)."""

BAND_MM = 4.5
"""Between the safe margin and the window: room for the page's marks and their captions."""

INSET_MM = SAFE_MM + BAND_MM

OVERLAP_MM = 6.0
"""Of the windows of two neighbours: several times a careful cut's error, and no more, for it costs pages."""

LONGEST_PAGE_MM = 14400 * 25.4 / 72
"""The longest page (5080 mm) that every PDF reader takes. A longer roll is cut into pages of this length:
the format's own way out, a larger unit, is ignored by some readers, and prints at a wrong scale."""

PLOT_WIDTH_MM = 841.0
"""The width of A0, and so of a copy shop's plot."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size in mm, upright."""

    name: str
    width: float
    height: float

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of the part of the sheet that one page shows."""
        return self.width - 2 * INSET_MM, self.height - 2 * INSET_MM

    @property
    def step(self) -> tuple[float, float]:
        """How far the next page lies to the right, and down."""
        width, height = self.window
        return width - OVERLAP_MM, height - OVERLAP_MM


A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)
A3 = Paper("A3", 297.0, 420.0)
A0 = Paper("A0", PLOT_WIDTH_MM, 1189.0)

TILED = {"a4": A4, "letter": LETTER, "a3": A3}
SINGLE = ("a0", "roll")


def roll(height: float) -> Paper:
    """A page of plot width, long enough for a sheet of this height, or the longest page there is."""
    return Paper("roll", PLOT_WIDTH_MM, min(height + 2 * INSET_MM, LONGEST_PAGE_MM))


def twice(paper: Paper) -> Paper:
    """A paper with twice the step: a sheet laid out for it takes few pages at half scale."""
    (step_x, step_y), rim = paper.step, OVERLAP_MM + 2 * INSET_MM
    return Paper(paper.name, 2 * step_x + rim, 2 * step_y + rim)


@dataclass(frozen=True, slots=True, order=True)
class Tile:
    """A page's place: rows from the top, columns from the left, both from 0."""

    row: int
    column: int

    @property
    def name(self) -> str:
        """Row as letters, column as a number.

        >>> Tile(1, 2).name, Tile(26, 0).name
        ('B3', 'AA1')
        """
        letters, n = "", self.row + 1
        while n:
            n, digit = divmod(n - 1, 26)
            letters = chr(ord("A") + digit) + letters
        return f"{letters}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class Grid:
    """How a sheet of a given size is cut into pages of one paper."""

    paper: Paper
    columns: int
    rows: int
    height: float

    def tiles(self) -> Iterator[Tile]:
        for row in range(self.rows):
            for column in range(self.columns):
                yield Tile(row, column)

    def window(self, tile: Tile) -> Bounds:
        """What the page shows of the sheet, in the sheet's own mm (y up from its lower edge)."""
        (step_x, step_y), (width, height) = self.paper.step, self.paper.window
        left, top = tile.column * step_x, self.height - tile.row * step_y
        return left, top - height, left + width, top

    def cell(self, tile: Tile) -> Bounds:
        """The part of its window that only this page has to show: less the overlap, its end not included.

        Cells cover the sheet without overlapping; a page whose cell is empty can be left out.
        """
        left, bottom, right, top = self.window(tile)
        if tile.column < self.columns - 1:
            right -= OVERLAP_MM + 2 * SAME_POINT_MM
        if tile.row < self.rows - 1:
            bottom += OVERLAP_MM + 2 * SAME_POINT_MM
        return left, bottom, right, top


def grid(paper: Paper, width: float, height: float) -> Grid:
    """The pages that a sheet needs, at least one.

    >>> grid(A4, 187, 274).columns, grid(A4, 188, 274).columns
    (1, 2)
    """
    counts = []
    for size, step in zip((width, height), paper.step, strict=True):
        counts.append(max(1, math.ceil((size - OVERLAP_MM - SAME_POINT_MM) / step)))
    return Grid(paper, counts[0], counts[1], height)
