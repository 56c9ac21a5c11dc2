"""From a lay to the sheet she follows at the table: `lay.pdf` to print, `lay.svg` to look at."""

from __future__ import annotations

import math
import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from cutonce.errors import BadInput, closest, quoted
from cutonce.lay.plan import Plan
from cutonce.sheets.drawing import Item, moved
from cutonce.sheets.lay_drawing import LayDrawing, Strip, lay_drawing
from cutonce.sheets.lay_head import Head as Head
from cutonce.sheets.lay_head import LayFor as LayFor
from cutonce.sheets.lay_head import lay_head
from cutonce.sheets.lay_page import (
    HEAD_MM,
    Layout,
    lay_marks,
    layout,
    page_marks,
    room_of,
)
from cutonce.sheets.lay_picture import lay_picture
from cutonce.sheets.lay_table import TABLE_MM, flowed, lay_table, lay_words
from cutonce.sheets.paper import A4, LETTER, SAFE_MM, Paper
from cutonce.sheets.pdf import Page, write_pages
from cutonce.sheets.sheet import Sheets
from cutonce.sheets.svg import write_svg
from cutonce.sheets.table import Table, broken, depth, table_items

LAY_PAPERS: dict[str, Paper] = {"a4": A4, "letter": LETTER}
"""What a lay is printed on."""

_GAP_MM = 5.0
_LEAST_WORDS_MM = 60.0
"""Words beside the table want a column at least so wide."""


def write_lay(
    plan: Plan, folder: str | os.PathLike[str], said: LayFor | None = None, strips: Sequence[Strip] = ()
) -> Sheets:
    """Write `lay.svg` and `lay.pdf` into an existing folder.

    `strips` are those placed on what is left over. Raises BadInput, before anything is written, for an
    unknown paper, a lay without pieces, or cloth too wide to draw.
    """
    words = said or LayFor()
    if words.paper not in LAY_PAPERS:
        message = f"no paper {quoted(words.paper)} for a lay{closest(words.paper, LAY_PAPERS)}"
        raise BadInput("unknown-paper", "paper", message, f"there are: {', '.join(LAY_PAPERS)}")
    if not plan.laid:
        raise BadInput("no-pieces", plan.cloth.name, "nothing to lay: there are no pieces")
    pages = lay_pages(plan, words, strips)
    files = (Path(folder) / "lay.svg", Path(folder) / "lay.pdf")
    write_svg(lay_picture(plan, words, strips, pages.layout.parts).drawing, files[0])
    about = tuple(w for w in (words.body, words.date, *pages.head.facts) if w)
    printed = write_pages(pages.pages, files[1], pages.layout.paper, pages.head.title, about)
    return Sheets(files, {files[1].name: printed})


@dataclass(frozen=True, slots=True)
class LayPages:
    """The pages of a lay: the drawing, how it comes onto them, and every page as it is written."""

    drawn: LayDrawing
    layout: Layout
    head: Head
    pages: tuple[Page, ...]


def lay_pages(plan: Plan, said: LayFor, strips: Sequence[Strip] = ()) -> LayPages:
    """Pages that show the lay, then its table and words; a short lay has them all on one page."""
    fit = layout(plan, LAY_PAPERS[said.paper], strips)
    head = lay_head(plan, said, fit.parts)
    drawn = lay_drawing(plan, fit.parts, said.unit, strips, head.title)
    table = lay_table(plan, drawn.rows, said.unit)
    lays = [_lay_page(drawn, fit, n) for n in range(len(fit.windows))]
    below = room_of(fit.paper).imag - drawn.drawing.height - _GAP_MM
    together = len(lays) == 1 and depth(table) <= below
    room = below if together else room_of(fit.paper).imag
    first, *others = _table_pages(plan, said, fit.paper, table, strips, room)
    if together:
        lays = [replace(lays[0], marks=(*lays[0].marks, *first))]
    else:
        lays.append(Page(tuple(first)))
    pages = [*lays, *(Page(tuple(items)) for items in others)]
    whole = tuple(
        replace(p, marks=(*p.marks, *page_marks(head, fit.paper, n, len(pages), fit.parts if p.shown else 0)))
        for n, p in enumerate(pages, start=1)
    )
    return LayPages(drawn, fit, head, whole)


def _lay_page(drawn: LayDrawing, fit: Layout, n: int) -> Page:
    onto = fit.onto(n, drawn.drawing.height)
    start, stop = fit.windows[n]
    low, high = onto(complex(start, 0)), onto(complex(stop, drawn.drawing.height))
    shown = tuple(moved(i, onto) for i in drawn.drawing.items)
    return Page(tuple(lay_marks(drawn, fit, n)), shown, (low.real, low.imag, high.real, high.imag))


def _table_pages(
    plan: Plan, said: LayFor, paper: Paper, table: Table, strips: Sequence[Strip], first: float
) -> list[list[Item]]:
    """The table cut into pages, `first` mm of the first one free; the words beside it, or else below it, or
    else on pages of their own."""
    whole, wide = room_of(paper).imag, paper.width - 2 * SAFE_MM
    foot = paper.height - SAFE_MM - HEAD_MM - whole
    parts = broken(table, first, whole)
    tops = [foot + first, *(foot + whole for _ in parts[1:])]
    pages = [list(table_items(p, complex(SAFE_MM, top))) for p, top in zip(parts, tops, strict=True)]
    places = (
        (0, complex(SAFE_MM + TABLE_MM + _GAP_MM, tops[0]), wide - TABLE_MM - _GAP_MM),
        (len(pages) - 1, complex(SAFE_MM, tops[-1] - depth(parts[-1]) - _GAP_MM), wide),
    )
    for page, corner, room in places:
        if room < _LEAST_WORDS_MM:
            continue
        blocks = lay_words(plan, said.notes, room, strips, said.unit)
        if sum(b.depth for b in blocks) <= corner.imag - foot:
            pages[page] += flowed(blocks, corner, -math.inf)[0]
            return pages
    return [
        *pages,
        *flowed(lay_words(plan, said.notes, wide, strips, said.unit), complex(SAFE_MM, foot + whole), foot),
    ]
