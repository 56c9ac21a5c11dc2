"""Writes sheets as PDF: cut into pages to be joined, or in one for a plotter.

One kind of thing is drawn, `Item`s, clipped to a box of the page; page marks and cover come as items too.
The bytes depend on the drawing alone (no clock). Files are written beside their place and then renamed.
"""

from __future__ import annotations

import io
import math
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, assert_never

from cutonce.errors import BadInput
from cutonce.geometry.curve import Bounds, Cubic, Line, apart
from cutonce.sheets import clip, fonts
from cutonce.sheets.cover import cover
from cutonce.sheets.drawing import Drawing, Fill, Item, Stroke, Text, bounds, moved
from cutonce.sheets.files import write_beside
from cutonce.sheets.paper import A0, INSET_MM, SINGLE, TILED, Paper, Tile, grid, roll
from cutonce.sheets.pens import LOOKS, Look
from cutonce.sheets.rulers import at_scale
from cutonce.sheets.tiles import Booklet, frame, needed, onto_paper

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS_PER_MM = 72 / 25.4
_INK_MM = 0.4
"""Half the widest pen and a little: a stroke this far outside a window still inks its rim."""


@dataclass(frozen=True, slots=True)
class Printed:
    """What was written: the names of the pages in order, those left out as empty, and the characters for
    which no font is there (shown as a substitute)."""

    pages: tuple[str, ...]
    left_out: tuple[str, ...]
    unprintable: tuple[str, ...]


def write_tiled(
    drawing: Drawing,
    path: str | os.PathLike[str],
    paper: Literal["a4", "letter", "a3"] | str,
    scale: float = 1.0,
) -> Printed:
    """Write a sheet as pages to be joined, after a first page with the map of them and the instructions.

    `scale` is 1, or 0.5 for a paper trial that says so on every page. Pages without anything are left out.
    Raises `BadInput` for another paper or scale.
    """
    if paper not in TILED:
        raise _no_paper(paper, TILED)
    if scale not in (1.0, 0.5):
        raise BadInput("unknown-scale", "scale", f"{scale!r} is not a scale of a sheet; there are: 1, 0.5")
    sheet = drawing if scale == 1.0 else at_scale(drawing, scale)
    return _write(sheet, path, TILED[paper], scale, with_cover=True)


def write_single(
    drawing: Drawing, path: str | os.PathLike[str], paper: Literal["a0", "roll"] | str
) -> Printed:
    """Write a sheet for a plotter: "roll" as one page 841 mm wide and as long as it takes, "a0" on A0.

    A sheet that is larger than the paper (a roll page is at most 5080 mm long) goes on several, with the
    same join marks as small pages. Raises `BadInput` for another paper.
    """
    if paper not in SINGLE:
        raise BadInput(
            "unknown-paper", "paper", f"no plotter paper {paper!r}; there are: {', '.join(SINGLE)}"
        )
    size = A0 if paper == "a0" else roll(drawing.height)
    return _write(drawing, path, size, 1.0, with_cover=False)


@dataclass(frozen=True, slots=True)
class Page:
    """A page that stands by itself, in mm from its lower left corner: `marks` anywhere on it, and `shown`,
    what of a larger drawing is seen within `window`."""

    marks: tuple[Item, ...]
    shown: tuple[Item, ...] = ()
    window: Bounds = (0.0, 0.0, 0.0, 0.0)


def write_pages(
    pages: Sequence[Page],
    path: str | os.PathLike[str],
    paper: Paper,
    title: str = "",
    about: tuple[str, ...] = (),
) -> Printed:
    """Write pages as they are, named by their numbers from 1: a lay, a list, what is not to be joined."""
    head = Drawing((), paper.width, paper.height, title, about)
    stream = io.BytesIO()
    canvas = _canvas(stream, head, paper)
    for page in pages:
        canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
        canvas.saveState()
        left, low, right, high = page.window
        seen = canvas.beginPath()
        seen.rect(left, low, right - left, high - low)
        canvas.clipPath(seen, stroke=0, fill=0)
        _draw(canvas, page.shown, page.window)
        canvas.restoreState()
        _draw(canvas, page.marks, (0.0, 0.0, paper.width, paper.height))
        canvas.showPage()
    canvas.save()
    write_beside(path, stream.getvalue())
    items = (i for page in pages for i in (*page.shown, *page.marks))
    words = "".join(i.words for i in items if isinstance(i, Text))
    return Printed(tuple(str(n) for n in range(1, len(pages) + 1)), (), fonts.unprintable(words))


def _no_paper(paper: str, choices: Iterable[str]) -> BadInput:
    return BadInput("unknown-paper", "paper", f"no paper {paper!r} here; there are: {', '.join(choices)}")


def _write(
    sheet: Drawing, path: str | os.PathLike[str], paper: Paper, scale: float, with_cover: bool
) -> Printed:
    _refuse_outside(sheet)
    cut = grid(paper, sheet.width, sheet.height)
    tiles = needed(sheet, cut)
    booklet = Booklet(sheet.title, cut, tiles, 2 if with_cover else 1, scale)
    lost = _unprintable(sheet)
    stream = io.BytesIO()
    canvas = _canvas(stream, sheet, paper)
    if with_cover:
        _page(canvas, paper, cover(sheet, booklet, _notes(lost)))
    boxed = [(item, bounds([item])) for item in sheet.items]
    for tile in tiles:
        _tile_page(canvas, tile, booklet, boxed)
    canvas.save()
    write_beside(path, stream.getvalue())
    left_out = tuple(t.name for t in cut.tiles() if t not in tiles)
    return Printed(tuple(t.name for t in tiles), left_out, lost)


def _refuse_outside(sheet: Drawing) -> None:
    """A sheet whose items reach outside it would lose them in silence: that is a fault in its maker."""
    reach = bounds(sheet.items)
    room = (-_INK_MM, -_INK_MM, sheet.width + _INK_MM, sheet.height + _INK_MM)
    if reach[0] < room[0] or reach[1] < room[1] or reach[2] > room[2] or reach[3] > room[3]:
        raise ValueError(f"items reach to {reach}, outside a sheet of {sheet.width} x {sheet.height} mm")


def _unprintable(sheet: Drawing) -> tuple[str, ...]:
    texts = [sheet.title, *sheet.about, *(i.words for i in sheet.items if isinstance(i, Text))]
    return fonts.unprintable("".join(texts))


def _notes(lost: tuple[str, ...]) -> tuple[str, ...]:
    if not lost:
        return ()
    codes = ", ".join(f"U+{ord(c):04X}" for c in lost)
    return (f"Characters without a font here, shown as {fonts.SUBSTITUTE}: {codes}.",)


def _canvas(stream: io.BytesIO, sheet: Drawing, paper: Paper) -> Canvas:
    from reportlab.pdfgen.canvas import Canvas

    size = (paper.width * POINTS_PER_MM, paper.height * POINTS_PER_MM)
    canvas = Canvas(stream, pagesize=size, invariant=1, pageCompression=1)
    canvas.setTitle(sheet.title)
    canvas.setSubject("; ".join(sheet.about))
    canvas.setAuthor("Cutonce")
    canvas.setCreator("Cutonce")
    canvas.setViewerPreference("PrintScaling", "None")  # asks the reader to offer 100 % first
    return canvas


def _page(canvas: Canvas, paper: Paper, items: Iterable[Item]) -> None:
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    _draw(canvas, items, (0.0, 0.0, paper.width, paper.height))
    canvas.showPage()


def _tile_page(canvas: Canvas, tile: Tile, booklet: Booklet, boxed: list[tuple[Item, Bounds]]) -> None:
    """The page's marks first and the sheet over them, so that no mark hides a line."""
    cut = booklet.grid
    paper, window = cut.paper, cut.window(tile)
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    _draw(canvas, frame(tile, booklet), (0.0, 0.0, paper.width, paper.height))
    canvas.saveState()
    shown = canvas.beginPath()
    shown.rect(INSET_MM, INSET_MM, *paper.window)
    canvas.clipPath(shown, stroke=0, fill=0)
    shift = onto_paper(tile, cut)
    box = (window[0] - _INK_MM, window[1] - _INK_MM, window[2] + _INK_MM, window[3] + _INK_MM)
    inked = (item for item, b in boxed if not apart(b, box))
    low = shift(complex(box[0], box[1]))
    high = shift(complex(box[2], box[3]))
    _draw(canvas, (moved(i, shift) for i in inked), (low.real, low.imag, high.real, high.imag))
    canvas.restoreState()
    canvas.showPage()


def _draw(canvas: Canvas, items: Iterable[Item], box: Bounds) -> None:
    """Draw what of the items lies in a box, in mm of the page."""
    for item in items:
        match item:
            case Stroke():
                look = LOOKS[item.pen]
                for run in clip.stroke(item, box):
                    _draw_run(canvas, run, look)
            case Fill():
                part = clip.fill(item, box)
                if part is not None:
                    _draw_fill(canvas, part)
            case Text():
                letters = clip.text(item, box)
                if letters is not None:
                    _draw_letters(canvas, letters)
            case _:
                assert_never(item)


def _draw_run(canvas: Canvas, run: clip.Run, look: Look) -> None:
    canvas.setStrokeGray(look.grey)
    canvas.setLineWidth(look.width)
    canvas.setLineJoin(1)
    cycle = sum(look.dashes)
    canvas.setDash(list(look.dashes), math.fmod(run.begins, cycle) if cycle else 0)
    drawn = canvas.beginPath()
    drawn.moveTo(run.path[0].a.real, run.path[0].a.imag)
    for curve in run.path:
        match curve:
            case Line(d=d):
                drawn.lineTo(d.real, d.imag)
            case Cubic(b=b, c=c, d=d):
                drawn.curveTo(b.real, b.imag, c.real, c.imag, d.real, d.imag)
    if run.closed:
        drawn.close()
    canvas.drawPath(drawn, stroke=1, fill=0)


def _draw_fill(canvas: Canvas, part: Fill) -> None:
    canvas.setFillGray(part.grey)
    drawn = canvas.beginPath()
    drawn.moveTo(part.points[0].real, part.points[0].imag)
    for p in part.points[1:]:
        drawn.lineTo(p.real, p.imag)
    drawn.close()
    canvas.drawPath(drawn, stroke=0, fill=1)


def _draw_letters(canvas: Canvas, letters: clip.Letters) -> None:
    fonts.register(letters.face)
    canvas.setFillGray(letters.grey)
    canvas.setFont(letters.face, letters.height)
    canvas.saveState()
    canvas.translate(letters.at.real, letters.at.imag)
    if letters.angle:
        canvas.rotate(math.degrees(letters.angle))
    canvas.drawString(0, 0, letters.words)
    canvas.restoreState()
