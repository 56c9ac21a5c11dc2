"""The words round the cloth of a lay: how it lies, its edges' names, where lengths end; rulers."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutonce.geometry.curve import apart, box_of
from cutonce.geometry.motion import Point
from cutonce.lay.plan import Plan, Section
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Item, Text, line
from cutonce.sheets.lay_cloth import Stretch
from cutonce.sheets.lay_measures import TapeUnit, by_tape, down_by_tape, remnant_of, up_by_tape
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.pens import Pen

_WORDS_MM, _SMALL_MM = 2.8, 2.4
_TICK_MM = 1.3

_WAYS = {
    "open": ("single layer, right side up", "single layer"),
    "folded lengthwise": ("folded lengthwise, right sides together: wrong side up", "folded, wrong side up"),
    "folded crosswise": ("folded crosswise, right sides together: wrong side up", "folded, wrong side up"),
}


def ends(plan: Plan, shown: Stretch, on: OnPaper, unit: TapeUnit, taken: list[Text]) -> Iterator[Item]:
    """What the section takes, and where the cloth at hand ends, each a line across with its words above, or
    beside it where they would run into the words `taken`."""
    section = shown.section
    if remnant_of(plan, section) is not None or section.way == "folded crosswise":
        return
    top, zero = section.width, shown.lies.zero
    marks: list[tuple[float, str, Pen]] = []
    if shown.ends != "cut" or section.room is not None:
        needed = f"needed to here: {up_by_tape(section.end - zero, unit)} {unit}"
        marks.append((section.end, needed, Pen.END))
    if section.room is not None:
        there = section.start + section.room
        words = f"{down_by_tape(there - zero, unit)} {unit}"
        if shown.ends == "broken":
            at = on(complex(shown.stop, top / 2)) + 3.4
            text = Text(at, f"goes on to {words}", _SMALL_MM, math.pi / 2, "middle")
            taken.append(text)
            yield text
        else:
            marks.append((there, f"the cloth ends here: {words}", Pen.CUT))
    lines = [on(complex(x, 0)).real for x, _, _ in marks]
    for x, words, pen in marks:
        low, high = on(complex(x, 0)), on(complex(x, top))
        yield line(low, high + 1.2j, pen)
        text = _beside_line(low, high, words, [*taken], lines)
        taken.append(text)
        yield text


def _beside_line(low: Point, high: Point, words: str, taken: list[Text], lines: list[float]) -> Text:
    """Words that end above a line across the cloth, clear of others and of such lines; else along it."""
    texts = [Text(high + 1.2j + rise - 0.8, words, _SMALL_MM, anchor="end") for rise in (0j, 3.3j)]
    for text in texts:
        left, _, right, _ = box_of(text.corners)
        crossed = any(left < x < right for x in lines)
        if not crossed and not any(_touch(text, other) for other in taken):
            return text
    at = (low + high) / 2 + 0.8 + fonts.ASCENT * _SMALL_MM
    return Text(at, words, _SMALL_MM, math.pi / 2, "middle")


def _touch(one: Text, two: Text) -> bool:
    return not apart(box_of(one.corners), box_of(two.corners))


def captions(plan: Plan, shown: Stretch, on: OnPaper, unit: TapeUnit) -> Iterator[Item]:
    """The names of the edges, how the cloth lies, and a ruler along the edge nearest to her."""
    lies, section = shown.lies, shown.section
    top = on(complex(shown.start, lies.far.y))
    yield Text(top + 5.0j, _heading(plan, shown, on), _WORDS_MM, bold=True)
    yield Text(top + 1.2j, lies.far.name, _SMALL_MM)
    low = on(complex(shown.start, lies.near.y))
    yield Text(low - 6.6j, lies.near.name, _SMALL_MM)
    if lies.zero == shown.start:
        middle = on(complex(lies.zero, section.width / 2)) - 5.6
        both = "both cut ends" if section.way == "folded crosswise" else lies.begins
        yield Text(middle, both, _SMALL_MM, math.pi / 2, "middle")
    if shown.ends == "fold":
        yield Text(on(complex(shown.stop, section.width / 2)) + 3.4, "fold", _SMALL_MM, math.pi / 2, "middle")
    yield from _ruler(low, lies.zero, shown, on, unit)
    if shown.start == 0.0:
        yield from _side_ruler(section, on, unit)


def _heading(plan: Plan, shown: Stretch, on: OnPaper) -> str:
    """How a section lies, with its name where there are several, as long as it has room for."""
    section = shown.section
    long, short = _WAYS[section.way]
    if len(plan.sections) == 1:
        return long
    choices = (f"{section.name}: {long}", f"{section.name}: {short}", section.name)
    room = on.size(shown.stop - shown.start)
    fitting = (w for w in choices if fonts.width(w, _WORDS_MM, bold=True) <= room)
    return next(fitting, "") or fonts.shortened(section.name, room, _WORDS_MM, bold=True)


_LABELS: dict[TapeUnit, tuple[float, ...]] = {
    "cm": (100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0),
    "in": (101.6, 152.4, 304.8, 609.6, 914.4, 1828.8),
}
_LEAST_LABELS_MM = 18.0


def _steps(on: OnPaper, unit: TapeUnit) -> tuple[float, float]:
    """How often a ruler has a number, and a tick, in mm of the cloth."""
    label = next((s for s in _LABELS[unit] if on.size(s) >= _LEAST_LABELS_MM), _LABELS[unit][-1])
    return label, label / (5 if unit == "cm" else 4)


def _ruler(low: Point, zero: float, shown: Stretch, on: OnPaper, unit: TapeUnit) -> Iterator[Item]:
    """Ticks below the cloth, and the distance from the cut end at some of them."""
    label, tick = _steps(on, unit)
    first, last = math.ceil((shown.start - zero) / tick - 1e-9), math.floor((shown.stop - zero) / tick + 1e-9)
    for k in range(first, last + 1):
        at = complex(on(complex(zero + k * tick, 0)).real, low.imag)
        numbered = math.isclose(math.remainder(k * tick, label), 0.0, abs_tol=1e-6)
        yield line(at, at - 1j * (1.6 * _TICK_MM if numbered else _TICK_MM), Pen.MEASURE)
        if numbered and k:
            yield Text(at - 2.6j - 1j * fonts.ASCENT * 2.2, _plain(k * tick, unit), 2.2, anchor="middle")


def _side_ruler(section: Section, on: OnPaper, unit: TapeUnit) -> Iterator[Item]:
    """Ticks left of the cut end, and the distance from the edge nearest to her."""
    label, tick = _steps(on, unit)
    for k in range(math.floor(section.width / tick + 1e-9) + 1):
        at = on(complex(0, k * tick))
        numbered = math.isclose(math.remainder(k * tick, label), 0.0, abs_tol=1e-6)
        yield line(at, at - (1.6 * _TICK_MM if numbered else _TICK_MM), Pen.MEASURE)
        if numbered and k:
            yield Text(at - 2.6, _plain(k * tick, unit), 2.2, math.pi / 2, "middle")


def _plain(mm: float, unit: TapeUnit) -> str:
    return by_tape(mm, unit).removesuffix(".0")
