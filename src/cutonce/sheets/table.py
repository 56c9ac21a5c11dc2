"""A ruled table as drawing items: columns of words, rows broken over lines, cut where a page is full."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.geometry.motion import Point
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Anchor, Item, Text, line
from cutonce.sheets.pens import Pen

_LEAD = 1.32
_PAD_MM = 0.9
_GAP_MM = 2.0


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its title, its width in mm, and where its words stand."""

    title: str
    width: float
    anchor: Anchor = "start"


@dataclass(frozen=True, slots=True)
class TableRow:
    """The words of one row, a cell each; a cell may hold several lines, parted by a line break."""

    cells: tuple[str, ...]
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows at a text size in mm. Each row has one cell a column."""

    columns: tuple[Column, ...]
    rows: tuple[TableRow, ...]
    size: float = 3.0

    @property
    def width(self) -> float:
        return sum(c.width for c in self.columns)


def row_depth(table: Table, row: TableRow) -> float:
    """How tall a row is, in mm."""
    lines = (len(_lines(cell, column, table.size, row.bold)) for cell, column in _cells(table, row))
    return max(lines, default=1) * _LEAD * table.size + 2 * _PAD_MM


def head_depth(table: Table) -> float:
    return row_depth(table, _head(table))


def depth(table: Table) -> float:
    """How tall the whole table is with its head, in mm."""
    return head_depth(table) + sum(row_depth(table, r) for r in table.rows)


def broken(table: Table, first: float, others: float) -> tuple[Table, ...]:
    """The table cut where a page is full: `first` mm of room on the first page, `others` on the next ones.

    A row that is taller than a page stands on one alone. The first part has no rows where not one fits.
    """
    parts: list[list[TableRow]] = [[]]
    left = first - head_depth(table)
    for row in table.rows:
        tall = row_depth(table, row)
        if tall > left and (parts[-1] or len(parts) == 1):
            parts.append([])
            left = others - head_depth(table)
        parts[-1].append(row)
        left -= tall
    return tuple(Table(table.columns, tuple(rows), table.size) for rows in parts)


def table_items(table: Table, at: Point) -> tuple[Item, ...]:
    """The table with its head, `at` its upper left corner: a line below the head and below each row."""
    items: list[Item] = []
    y = at.imag
    for row, pen in ((_head(table), Pen.LEADER), *((r, Pen.FRAME) for r in table.rows)):
        items += _row(table, row, complex(at.real, y))
        y -= row_depth(table, row)
        items.append(line(complex(at.real, y), complex(at.real + table.width, y), pen))
    return tuple(items)


def _head(table: Table) -> TableRow:
    return TableRow(tuple(c.title for c in table.columns), bold=True)


def _cells(table: Table, row: TableRow) -> list[tuple[str, Column]]:
    return list(zip(row.cells, table.columns, strict=True))


def _lines(cell: str, column: Column, size: float, bold: bool) -> list[str]:
    return [
        part
        for words in cell.split("\n")
        for part in fonts.wrapped(words, column.width - _GAP_MM, size, bold) or ("",)
    ]


def _row(table: Table, row: TableRow, at: Point) -> list[Text]:
    texts: list[Text] = []
    x = at.real
    for cell, column in _cells(table, row):
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[column.anchor]
        place = x + share * (column.width - _GAP_MM)
        y = at.imag - _PAD_MM
        for words in _lines(cell, column, table.size, row.bold):
            y -= _LEAD * table.size
            base = y + (_LEAD - fonts.ASCENT) / 2 * table.size
            if words:
                texts.append(Text(complex(place, base), words, table.size, 0.0, column.anchor, row.bold))
        x += column.width
    return texts
