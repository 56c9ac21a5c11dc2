"""A buying list on one page: what to ask for in the shop, how much is needed and why; and the same as CSV."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from cutonce.errors import BadInput, closest, quoted
from cutonce.geometry.motion import Point
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Item, Text, line, polygon
from cutonce.sheets.files import write_beside
from cutonce.sheets.key import depth as words_depth
from cutonce.sheets.key import paragraph
from cutonce.sheets.paper import A4, LETTER, SAFE_MM, Paper
from cutonce.sheets.pdf import Page, write_pages
from cutonce.sheets.pens import Pen
from cutonce.sheets.sheet import Sheets
from cutonce.sheets.table import Column, Table, TableRow, broken, depth, row_depth, table_items

BUYING_PAPERS: dict[str, Paper] = {"a4": A4, "letter": LETTER}

_MARGIN_MM = 14.0
_SIZES_MM = (3.3, 3.0, 2.7, 2.4)
"""Text sizes, the largest first: the list is set smaller where that keeps it on one page."""

_TITLE_MM, _FACTS_MM = 6.0, 3.2


@dataclass(frozen=True, slots=True)
class ToBuy:
    """One thing to buy. `needed` is what the garment takes and `buy` what to ask for, each with its unit
    ("145.3 cm", "1.5 m"); `cost` is None where no price is known."""

    kind: str
    what: str
    needed: str
    buy: str
    note: str = ""
    cost: Decimal | None = None
    currency: str = ""

    @property
    def cost_words(self) -> str:
        """ "49.95 EUR"; "" where no price is known."""
        return "" if self.cost is None else f"{self.cost} {self.currency}".rstrip()


@dataclass(frozen=True, slots=True)
class BuyingList:
    """What to buy for one garment, for whom, and what must be said with it. `body` and `date` as printed."""

    garment: str
    rows: tuple[ToBuy, ...]
    body: str = ""
    date: str = ""
    notes: tuple[str, ...] = ()

    @property
    def totals(self) -> tuple[tuple[Decimal, str], ...]:
        """What the priced rows cost together, by currency in the order of first meeting."""
        sums: dict[str, Decimal] = {}
        for row in self.rows:
            if row.cost is not None:
                sums[row.currency] = sums.get(row.currency, Decimal(0)) + row.cost
        return tuple((amount, currency) for currency, amount in sums.items())

    @property
    def total_words(self) -> str:
        """ "49.95 EUR", "49.95 EUR without what has no price", or "" where nothing has one."""
        said = " and ".join(f"{amount} {currency}".rstrip() for amount, currency in self.totals)
        unpriced = any(row.cost is None for row in self.rows)
        return f"{said} without what has no price" if said and unpriced else said


def write_buying_list(bought: BuyingList, folder: str | os.PathLike[str], paper: str = "a4") -> Sheets:
    """Write `buying-list.pdf` and `buying-list.csv` into an existing folder.

    Raises BadInput, before anything is written, for an unknown paper or a list with nothing on it.
    """
    if paper not in BUYING_PAPERS:
        message = f"no paper {quoted(paper)} for a buying list{closest(paper, BUYING_PAPERS)}"
        raise BadInput("unknown-paper", "paper", message, f"there are: {', '.join(BUYING_PAPERS)}")
    if not bought.rows:
        raise BadInput("nothing-to-buy", bought.garment or "buying list", "there is nothing to buy")
    size = BUYING_PAPERS[paper]
    files = (Path(folder) / "buying-list.pdf", Path(folder) / "buying-list.csv")
    about = tuple(w for w in (bought.body, bought.date) if w)
    printed = write_pages(buying_pages(bought, size), files[0], size, _title(bought), about)
    write_beside(files[1], buying_list_csv(bought).encode("utf-8"))
    return Sheets(files, {files[0].name: printed})


_COLUMNS = ("kind", "what", "needed", "buy", "cost", "currency", "note")


def buying_list_csv(bought: BuyingList) -> str:
    """The list as CSV with a header row; an empty cell where no price is known."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for r in bought.rows:
        cost = "" if r.cost is None else str(r.cost)
        writer.writerow((r.kind, r.what, r.needed, r.buy, cost, r.currency, r.note))
    return stream.getvalue()


def buying_list_text(bought: BuyingList) -> str:
    """The list as plain lines, for a terminal or a message."""
    lines = [_title(bought), *(" · ".join(w for w in (_for(bought), bought.date) if w),)]
    for row in bought.rows:
        cost = f", {row.cost_words}" if row.cost_words else ""
        note = f" ({row.note})" if row.note else ""
        lines.append(f"- {row.kind}: {row.what}: {row.buy}{cost}; needed {row.needed}{note}")
    total = [f"Together: {bought.total_words}"] if bought.total_words else []
    return "\n".join(w for w in (*lines, *total, *bought.notes) if w) + "\n"


def buying_pages(bought: BuyingList, paper: Paper) -> tuple[Page, ...]:
    """The list as pages: one, at the largest text size with which it fits one; else more at the smallest."""
    top = paper.height - _MARGIN_MM
    head, y = _head(bought, complex(_MARGIN_MM, top), paper.width - 2 * _MARGIN_MM)
    foot, low = _foot(bought, paper)
    tables = [_table(bought, paper.width - 2 * _MARGIN_MM, size) for size in _SIZES_MM]
    table = next((t for t in tables if depth(t) <= y - low), tables[-1])
    parts = broken(table, y - low, top - low)
    pages: list[list[Item]] = []
    for n, part in enumerate(parts):
        start = y if n == 0 else top
        pages.append([*_ticked(part, complex(_MARGIN_MM, start)), *(head if n == 0 else ())])
    pages[-1] += foot
    return tuple(Page((*items, *_number(n, len(pages), paper))) for n, items in enumerate(pages, start=1))


def _title(bought: BuyingList) -> str:
    return f"{bought.garment}: to buy" if bought.garment else "To buy"


def _for(bought: BuyingList) -> str:
    return f"for {bought.body}" if bought.body else ""


def _head(bought: BuyingList, at: Point, room: float) -> tuple[list[Item], float]:
    title = fonts.shortened(_title(bought), room, _TITLE_MM, bold=True)
    items: list[Item] = [Text(at - 1j * fonts.ASCENT * _TITLE_MM, title, _TITLE_MM, bold=True)]
    y = at.imag - 1.4 * _TITLE_MM
    facts = " · ".join(w for w in (_for(bought), bought.date) if w)
    if facts:
        rows = paragraph(facts, complex(at.real, y), room, _FACTS_MM)
        items += rows
        y -= words_depth(rows)
    return items, y - 4.0


def _table(bought: BuyingList, room: float, size: float) -> Table:
    """Columns in shares of the room; the first is the box to tick."""
    shares = (0.05, 0.13, 0.21, 0.13, 0.13, 0.12, 0.23)
    titles = ("", "Kind", "What", "Needed", "To buy", "Cost", "Note")
    columns = tuple(Column(t, s * room) for t, s in zip(titles, shares, strict=True))
    rows = [TableRow(("", r.kind, r.what, r.needed, r.buy, r.cost_words, r.note)) for r in bought.rows]
    if bought.total_words:
        cost, _, rest = bought.total_words.partition(" without ")
        together = f"without {rest}" if rest else ""
        rows.append(TableRow(("", "Together", "", "", "", cost, together), bold=True))
    return Table(columns, tuple(rows), size)


def _ticked(table: Table, at: Point) -> Iterator[Item]:
    """The table with an empty box at the start of each row, to be ticked in the shop."""
    yield from table_items(table, at)
    y = at.imag - row_depth(
        table, replace(table.rows[0], cells=tuple(c.title for c in table.columns), bold=True)
    )
    side = 1.05 * table.size
    for row in table.rows:
        if row.cells[1] != "Together" or not row.bold:
            corner = complex(at.real + 0.6, y - 1.3 - side)
            yield polygon(_square(corner, side), Pen.LEADER)
        y -= row_depth(table, row)


def _square(corner: Point, side: float) -> Sequence[Point]:
    return corner, corner + side, corner + side + 1j * side, corner + 1j * side


def _foot(bought: BuyingList, paper: Paper) -> tuple[list[Item], float]:
    """The notes at the foot of the page, below a line, and the height at which they begin."""
    items: list[Item] = []
    room = paper.width - 2 * _MARGIN_MM
    rows = [text for note in bought.notes for text in paragraph(note, 0j, room, 2.8)]
    y = _MARGIN_MM + sum(1.35 * 2.8 for _ in rows) + (3.0 if rows else 0.0)
    if rows:
        items.append(line(complex(_MARGIN_MM, y), complex(_MARGIN_MM + room, y), Pen.FRAME))
    for n, text in enumerate(rows, start=1):
        items.append(replace(text, at=complex(_MARGIN_MM, y - 1.0 - n * 1.35 * 2.8 + 0.8)))
    return items, y + 3.0


def _number(n: int, count: int, paper: Paper) -> tuple[Item, ...]:
    if count == 1:
        return ()
    place = complex(paper.width - _MARGIN_MM, SAFE_MM)
    return (Text(place, f"page {n} of {count}", 2.4, anchor="end"),)
