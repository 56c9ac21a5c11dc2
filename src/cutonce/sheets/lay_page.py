"""The pages of a lay: at which scale, which stretch of it each page shows, and what stands round that."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from cutonce.errors import BadInput
from cutonce.geometry import path as paths
from cutonce.geometry.motion import Motion, shifting
from cutonce.lay.plan import Plan
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Fill, Item, Stroke, Text, line, moved, polygon, scaled_path
from cutonce.sheets.key import depth as words_depth
from cutonce.sheets.key import paragraph
from cutonce.sheets.lay_drawing import LayDrawing, Strip, drawn_height, drawn_width
from cutonce.sheets.lay_head import Head
from cutonce.sheets.lay_scale import SCALES
from cutonce.sheets.lay_table import LAY_CAUTIONS
from cutonce.sheets.paper import SAFE_MM, Paper
from cutonce.sheets.pens import Pen
from cutonce.sheets.rulers import MARK_MM, ruler

HEAD_MM, FOOT_MM = 15.0, 9.0
"""Kept at the top of each page for title and facts, and at the foot for the scale and the cautions."""

LAP_MM = 20.0
"""Neighbouring pages show the same of the lay over this width, so that a piece can be followed across."""

_MOST_PAGES = {5: 1, 10: 6}
"""A scale is taken up to so many pages, the smaller ones up to as many as 1:10: a lay in one view is worth
more than a large one."""

_LEAST_CAUTIONS_MM = 60.0
_SMALL_PIECE_MM = 120.0
"""Width of a piece that at 1:10 is too narrow for its name."""

_TITLE_MM, _FACTS_MM, _SMALL_MM = 5.0, 2.8, 2.2


@dataclass(frozen=True, slots=True)
class Layout:
    """How a lay comes onto pages: the paper as it lies, one part in how many, and from where to where of the
    drawing each page shows, in mm of paper."""

    paper: Paper
    parts: int
    windows: tuple[tuple[float, float], ...]

    def onto(self, page: int, height: float) -> Motion:
        """The shift that takes a drawing of that height to its place on a page."""
        left = self.windows[page][0]
        return shifting(complex(SAFE_MM - left, self.paper.height - SAFE_MM - HEAD_MM - height))


def room_of(paper: Paper) -> complex:
    """Width and height within the margins, head and foot."""
    return complex(paper.width - 2 * SAFE_MM, paper.height - 2 * SAFE_MM - HEAD_MM - FOOT_MM)


def layout(plan: Plan, paper: Paper, strips: Sequence[Strip] = ()) -> Layout:
    """The largest scale at which the cloth's width fits the paper and the lay takes few pages.

    `paper` is upright; it is laid on its side where that takes fewer pages, or as many. Raises BadInput for
    cloth that no scale brings onto it.
    """
    found: Layout | None = None
    for parts in SCALES:
        options = [_windows(plan, p, parts, strips) for p in (sideways(paper), paper)]
        fitting = [o for o in options if o is not None]
        if not fitting:
            continue
        found = min(fitting, key=lambda o: len(o.windows))
        if len(found.windows) <= _most_pages(plan, parts):
            return found
    if found is None:
        message = f"{plan.cloth.width / 1000:.2f} m wide is more than a page shows at 1:{SCALES[-1]}"
        raise BadInput("too-wide", plan.cloth.name, message, "give the width in the right unit")
    return found


def _most_pages(plan: Plan, parts: int) -> int:
    """How many pages a scale may take; more of the largest one where half the pieces are small."""
    sides = (min(b[2] - b[0], b[3] - b[1]) for b in (paths.bounds(x.piece.cutting) for x in plan.laid))
    small = median(sides) < _SMALL_PIECE_MM
    return _MOST_PAGES[10] if parts != min(SCALES) else _MOST_PAGES[5] * (3 if small else 1)


def sideways(paper: Paper) -> Paper:
    return Paper(paper.name, paper.height, paper.width)


def _windows(plan: Plan, paper: Paper, parts: int, strips: Sequence[Strip]) -> Layout | None:
    room, width = room_of(paper), drawn_width(plan, parts, strips)
    if drawn_height(plan, parts) > room.imag:
        return None
    count = max(1, math.ceil((width - LAP_MM) / (room.real - LAP_MM) - 1e-9))
    size = (width + (count - 1) * LAP_MM) / count
    starts = (n * (size - LAP_MM) for n in range(count))
    return Layout(paper, parts, tuple((start, start + size) for start in starts))


def page_marks(head: Head, paper: Paper, number: int, count: int, parts: int) -> list[Item]:
    """Head and foot of a page: title, facts, the scale with its mark, cautions, the page's number."""
    left, right, top = SAFE_MM, paper.width - SAFE_MM, paper.height - SAFE_MM
    items: list[Item] = []
    room = right - left
    if head.stop:
        items += _banner(head.stop, complex(right, top), room * 0.62)
        room *= 0.36
    title = fonts.shortened(head.title, room, _TITLE_MM, bold=True)
    items.append(Text(complex(left, top - fonts.ASCENT * _TITLE_MM - 0.4), title, _TITLE_MM, bold=True))
    y = top - 6.0
    for words in head.facts:
        y -= 1.3 * _FACTS_MM
        shown = fonts.shortened(words, 0.8 * (right - left) if count > 1 else right - left, _FACTS_MM)
        items.append(Text(complex(left, y), shown, _FACTS_MM))
    return [*items, *_foot(paper, number, count, parts)]


def _banner(words: str, corner: complex, room: float) -> list[Item]:
    """White on black at the upper right: nobody who has the page in hand can miss it."""
    size = 3.4
    said = fonts.shortened(words, room - 4, size, bold=True)
    width, tall = fonts.width(said, size, bold=True) + 4, 6.0
    box = (corner - width - 1j * tall, corner - 1j * tall, corner, corner - width)
    return [Fill(box), Text(box[0] + 2 + 1.9j, said, size, bold=True, grey=1.0)]


def _foot(paper: Paper, number: int, count: int, parts: int) -> list[Item]:
    """The scale with its mark at the left; the cautions beside it, or below it where there is no room."""
    left, right = SAFE_MM, paper.width - SAFE_MM
    page = f"page {number} of {count}"
    items: list[Item] = [Text(complex(right, SAFE_MM + 0.6), page, _SMALL_MM, anchor="end")]
    below = paragraph(LAY_CAUTIONS, 0j, right - left - fonts.width(page, _SMALL_MM) - 4, _SMALL_MM)
    low = complex(left, SAFE_MM + words_depth(below))
    if not parts:
        return [*items, *(moved(t, shifting(low)) for t in below)]
    scale = f"100 mm on paper, {MARK_MM * parts / 1000:g} m of cloth: scale 1:{parts}. Measure it."
    at = left + MARK_MM + 2.5 + fonts.width(scale, _FACTS_MM) + 5.0
    beside = paragraph(LAY_CAUTIONS, 0j, right - at, _SMALL_MM) if right - at > _LEAST_CAUTIONS_MM else ()
    stacked = not 0 < len(beside) <= 2
    y = SAFE_MM + FOOT_MM - (1.4 if stacked else 4.0)
    items += ruler(complex(left, y), complex(left + MARK_MM, y), 10.0, 2.4)
    items.append(Text(complex(left + MARK_MM + 2.5, y - 0.9), scale, _FACTS_MM))
    words, corner = (below, low) if stacked else (beside, complex(at, y + 2.0))
    return [*items, *(moved(t, shifting(corner)) for t in words)]


def lay_marks(drawn: LayDrawing, plan: Layout, page: int) -> list[Item]:
    """On a page that shows part of the lay: where its neighbours begin, and the map of the pages."""
    if len(plan.windows) == 1:
        return []
    onto = plan.onto(page, drawn.drawing.height)
    items: list[Item] = []
    for other, words in ((page - 1, "page {} ends here"), (page + 1, "page {} begins here")):
        if 0 <= other < len(plan.windows):
            x = plan.windows[other][1 if other < page else 0]
            low = onto(complex(x, 0))
            high = low + 1j * drawn.drawing.height
            items.append(line(low, high, Pen.LANDMARK))
            items.append(
                Text(
                    low + 1.0j + (-0.8 if other < page else 0.8),
                    words.format(other + 1),
                    _SMALL_MM,
                    anchor="end" if other < page else "start",
                )
            )
    return [*items, *_map(drawn, plan, page)]


def _map(drawn: LayDrawing, plan: Layout, page: int) -> list[Item]:
    """The lay made small, at the right of the head, this page's part framed."""
    sheet = drawn.drawing
    k = min(8.0 / sheet.height, 0.18 * plan.paper.width / sheet.width)
    corner = complex(
        plan.paper.width - SAFE_MM - k * sheet.width, plan.paper.height - SAFE_MM - HEAD_MM + 0.4
    )
    items: list[Item] = []
    for group in sheet.groups:
        if group.outline:
            small = paths.moved(scaled_path(group.outline, k), shifting(corner))
            items.append(Stroke(small, Pen.FRAME, closed=True))
    for n, (start, stop) in enumerate(plan.windows):
        low, high = corner + k * start, corner + complex(k * stop, k * sheet.height)
        box = (low, complex(high.real, low.imag), high, complex(low.real, high.imag))
        if n == page:
            items.append(polygon(box, Pen.SEW))
        middle = corner + complex(k * (start + stop) / 2, k * sheet.height / 2 - 1.1)
        items.append(Text(middle, str(n + 1), 3.0, anchor="middle", bold=n == page))
    return items
