"""The cloth of a lay as it is drawn: its edges, the fold, stripes, flaws, and where its lengths end."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from cutonce.cloth.cloth import Repeat
from cutonce.geometry.motion import Point
from cutonce.lay.plan import Plan, Section
from cutonce.lay.problem import Ring
from cutonce.sheets.drawing import Item, arrow_head, circle, line, polygon
from cutonce.sheets.lay_measures import (
    Ground,
    fold_of,
    ground,
    remnant_of,
)
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.pens import Pen

MOST_BEYOND_MM = 25.0
"""On paper: cloth beyond what the lay takes is drawn so far; what is longer is broken off."""

OPEN_BEYOND_MM = 6.0
"""On paper: cloth that is yet to be bought is drawn so far beyond what is needed, without an end."""

_LEAST_STRIPE_MM = 1.6
"""On paper: stripes nearer to each other than this are drawn every second, every third, ..."""

_WORDS_MM, _SMALL_MM = 2.8, 2.4
_TICK_MM = 1.3
_BREAK_MM = 2.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """What is drawn of a section, from `start` to `stop` of the lay; how it ends there, "cut", "open" (on to
    be bought), "broken" (there is more of it) or "fold". `lies` is what it is measured from."""

    section: Section
    lies: Ground
    start: float
    stop: float
    ends: str

    @property
    def corners(self) -> Ring:
        """The rectangle drawn, counter-clockwise."""
        top = 1j * self.section.width
        return self.start + 0j, self.stop + 0j, self.stop + top, self.start + top


def stretches(plan: Plan, parts: int, reach: float = 0.0) -> tuple[Stretch, ...]:
    """How far each section is drawn: the last one on to the end of the cloth where that is near, and as far
    as `reach` where strips lie beyond the pieces."""
    return tuple(_stretch(plan, i, parts, reach) for i in range(len(plan.sections)))


def _stretch(plan: Plan, i: int, parts: int, reach: float) -> Stretch:
    section, lies = plan.sections[i], ground(plan, i)
    start, end = section.start, section.end
    remnant = remnant_of(plan, section)
    if remnant is not None:
        return Stretch(section, lies, start, max(p.real for p in remnant), "cut")
    if section.way == "folded crosswise":
        return Stretch(section, lies, lies.zero, end, "fold")
    if i < len(plan.sections) - 1:
        return Stretch(section, lies, start, end, "cut")
    used = max(end, reach)
    if section.room is None:
        return Stretch(section, lies, start, used + parts * OPEN_BEYOND_MM, "open")
    at_hand = start + section.room
    if at_hand - used > parts * MOST_BEYOND_MM:
        return Stretch(section, lies, start, used + parts * MOST_BEYOND_MM, "broken")
    return Stretch(section, lies, start, max(end, at_hand), "cut")


def under_pieces(plan: Plan, shown: Stretch, on: OnPaper) -> Iterator[Item]:
    """Stripes and check lines, and the strips beside the selvedges that cannot be used."""
    yield from _stripes(plan, shown, on)
    if remnant_of(plan, shown.section) is None:
        yield from _selvedges(plan, shown, on)


def edges(plan: Plan, shown: Stretch, on: OnPaper) -> Iterator[Item]:
    """The outline of a section, the fold dash-dotted; the outline of a remnant."""
    remnant = remnant_of(plan, shown.section)
    if remnant is not None:
        yield polygon([on(p) for p in remnant], Pen.CLOTH)
        return
    a, b, c, d = (on(p) for p in shown.corners)
    lengthwise = shown.section.way == "folded lengthwise"
    yield line(a, b, Pen.FOLD if lengthwise else Pen.CLOTH)
    yield line(d, c, Pen.CLOTH)
    yield line(a, d, Pen.CLOTH)
    match shown.ends:
        case "fold":
            yield line(b, c, Pen.FOLD)
        case "cut":
            yield line(b, c, Pen.CLOTH)
        case "broken":
            yield from _torn(b, c)


def _torn(low: Point, high: Point) -> Iterator[Item]:
    """A zigzag across the cloth where the drawing leaves some of it out."""
    steps = max(4, round(abs(high - low) / (2 * _BREAK_MM)))
    places = [low + (high - low) * i / steps + (_BREAK_MM / 2 if i % 2 else 0) for i in range(steps + 1)]
    for p, q in pairwise(places):
        yield line(p, q, Pen.CLOTH)


def _selvedges(plan: Plan, shown: Stretch, on: OnPaper) -> Iterator[Item]:
    margin = (plan.cloth.width - plan.cloth.usable) / 2
    if margin <= 0:
        return
    ys = [shown.section.width - margin]
    if shown.section.way != "folded lengthwise":
        ys.append(margin)
    for y in ys:
        yield line(on(complex(shown.start, y)), on(complex(shown.stop, y)), Pen.SELVEDGE)


def _stripes(plan: Plan, shown: Stretch, on: OnPaper) -> Iterator[Item]:
    """The middle of each stripe along the warp, and of each across it, drawn lightly."""
    section = shown.section
    across, along = plan.cloth.stripe_across, plan.cloth.stripe_along
    if remnant_of(plan, section) is not None:
        return  # where the pattern lies on a remnant is not known
    if across is not None:
        if section.way == "folded lengthwise":  # the upper layer is turned over about the fold
            across = Repeat(across.every, fold_of(plan, section) - across.offset)
        for y in _repeats(across, 0.0, section.width, on):
            yield line(on(complex(shown.start, y)), on(complex(shown.stop, y)), Pen.STRIPE)
    if along is not None:
        along = Repeat(along.every, along.offset + shown.lies.zero)
        for x in _repeats(along, shown.start, shown.stop, on):
            yield line(on(complex(x, 0)), on(complex(x, section.width)), Pen.STRIPE)


def _repeats(repeat: Repeat, low: float, high: float, on: OnPaper) -> Iterator[float]:
    """Places of a repeat between two, thinned out where they would be too near on paper."""
    step = repeat.every * max(1, math.ceil(_LEAST_STRIPE_MM * on.parts / repeat.every))
    first = math.ceil((low - repeat.offset) / step - 1e-9)
    last = math.floor((high - repeat.offset) / step + 1e-9)
    return (repeat.offset + k * step for k in range(first, last + 1))


def flaws(plan: Plan, shown: Stretch, on: OnPaper) -> Iterator[tuple[Item, str]]:
    """A circle for each flaw that lies in a section, with its note; folded, where it comes to lie."""
    if remnant_of(plan, shown.section) is not None:
        return
    for flaw in plan.cloth.flaws:
        at, layer = _folded(flaw.at + shown.lies.zero, plan, shown.section)
        if shown.start - flaw.radius <= at.real <= shown.stop + flaw.radius:
            words = ", ".join(w for w in (flaw.note or "flaw", layer) if w)
            yield circle(on(at), on.size(flaw.radius), Pen.FLAW), words


def _folded(at: Point, plan: Plan, section: Section) -> tuple[Point, str]:
    """Where a place of the cloth lies on the table, and in which layer.

    The half nearer to her is folded over the other, so it lies on top; crosswise, the half beyond the fold.
    """
    match section.way:
        case "open":
            return at, ""
        case "folded lengthwise":
            across = at.imag - fold_of(plan, section)
            return complex(at.real, abs(across)), "in the upper layer" if across < 0 else "in the lower layer"
        case "folded crosswise":
            beyond = at.real - section.end
            layer = "in the upper layer" if beyond > 0 else "in the lower layer"
            return complex(section.end - abs(beyond), at.imag), layer


def nap_words(plan: Plan) -> str:
    """What the nap, a print, stripes or checks ask for, in one line; "" for a plain cloth."""
    cloth = plan.cloth
    words = []
    if cloth.nap == "one-way":
        words.append("one-way cloth: the tops of all pieces point along the arrow")
    if cloth.nap == "two-way":
        words.append("two-way cloth: pieces lie either way up, never turned a quarter")
    if cloth.stripe_across is not None and cloth.stripe_along is not None:
        words.append("check lines drawn lightly")
    elif cloth.stripe_across is not None or cloth.stripe_along is not None:
        words.append("stripes drawn lightly")
    return "; ".join(words)


def nap_arrow(plan: Plan, on: OnPaper, at: Point) -> tuple[tuple[Item, ...], float]:
    """The arrow of a one-way cloth from a place on the drawing, along the tops of the pieces; its width."""
    if plan.cloth.nap != "one-way" or not plan.laid:
        return (), 0.0
    tops = sum(laid.motion.of_vector(1j).real for laid in plan.laid)
    way = 1 if tops >= 0 else -1
    tip, tail = (at + 14, at) if way > 0 else (at, at + 14)
    return (line(tail, tip - 2.5 * way, Pen.GRAIN), arrow_head(tip, way, 2.8)), 16.0
