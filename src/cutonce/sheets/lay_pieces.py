"""The pieces of a lay as they are drawn: cutting line, number, name, grain arrow, and measures where there is
room. Words are set anew on the cloth, so they can be read whichever way a piece lies."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutonce.geometry import path as paths
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.region import polygon as region
from cutonce.sheets.captions import Room, along
from cutonce.sheets.drawing import Fill, Group, Item, Stroke, Text, arrow_head, circle, double_arrow, line
from cutonce.sheets.labels import LEAST_MM, Row, label_inside
from cutonce.sheets.lay_measures import Measured, TapeUnit, by_tape
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.pens import Pen
from cutonce.sheets.piece import cutting_strokes

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_NUMBER_MM, _TITLE_MM, _WORDS_MM = 5.0, 3.2, 2.6
_CLEAR_MM = 0.7
_ARROW_MM, _HEAD_MM = 2.2, 1.3
_MEASURE_MM = 2.2
_LEAST_LINE_MM, _BESIDE_MM = 4.0, 1.0
_FLAT_MM = 0.05
_ROUND, _RINGS, _RING_MM = 16, 40, 1.5


def piece_groups(
    rows: Sequence[Measured], on: OnPaper, unit: TapeUnit, room: Room, cloth: Room
) -> tuple[Group, ...]:
    """Each piece as a group, in cutting order.

    `room` is that of the whole drawing, `cloth` that of the cloth, with the same things taken. They are
    filled as words are set: first the labels inside pieces, then those beside theirs, then the measures.
    """
    outlines = [on.path(row.laid.piece.cutting, row.laid.motion) for row in rows]
    areas = [region(o, _FLAT_MM) for o in outlines]
    drawn: list[list[Item]] = [list(_lines(row, on)) for row in rows]
    for items in drawn:
        room.take(items)
    labels = [_label(row, outline, on) for row, outline in zip(rows, outlines, strict=True)]
    for items, texts in zip(drawn, labels, strict=True):
        room.take(texts)
        items += texts
    for i, row in enumerate(rows):
        if not labels[i]:
            drawn[i] += _pointed(str(row.laid.number), areas[i], room)
    for i, row in enumerate(rows):
        drawn[i] += _measures(row, [a for j, a in enumerate(areas) if j != i], on, unit, cloth)
    return tuple(
        Group(row.laid.key, f"{row.laid.number} {row.title}", tuple(items), outline)
        for row, items, outline in zip(rows, drawn, outlines, strict=True)
    )


def _lines(row: Measured, on: OnPaper) -> Iterator[Item]:
    """The cutting line and the grain arrow; what lies on the fold of the cloth is drawn with the cloth."""
    laid = row.laid
    for stroke in cutting_strokes(laid.piece, Pen.PIECE):
        if stroke.pen is Pen.FOLD and laid.on_fold:
            continue
        yield Stroke(on.path(stroke.path, laid.motion), stroke.pen, stroke.closed)
    if row.ends:
        a, b = (on(end.at) for end in row.ends)
        size = min(_ARROW_MM, abs(b - a) / 3)
        yield from double_arrow(a, b, Pen.MEASURE, size)


def _label(row: Measured, outline: Path, on: OnPaper) -> tuple[Text, ...]:
    """The label at the size and with as many of its lines as there is room for: the number at least."""
    arrow = [line(on(row.ends[0].at), on(row.ends[1].at), Pen.GRAIN)] if row.ends else []
    number, title = str(row.laid.number), row.title
    more = [
        w for w in (row.cut if row.cut != "1 layer" else "", row.paper if row.paper != "face up" else "") if w
    ]
    numbered = Row(number, _NUMBER_MM, bold=True)
    choices = (
        (numbered, Row(title, _TITLE_MM), *(Row(_said(w), _WORDS_MM) for w in more)),
        (Row(f"{number}  {title}", _TITLE_MM, bold=True), *(Row(_said(w), _WORDS_MM) for w in more)),
        (Row(f"{number}  {title}", _WORDS_MM, bold=True),),
        (numbered,),
    )
    for avoid in (arrow, ()):
        for rows in choices:
            texts = label_inside(outline, rows, avoid, LEAST_MM, _CLEAR_MM)
            if texts:
                return texts
    return ()


def _said(words: str) -> str:
    return f"cut through {words}" if words[0].isdigit() and not words.startswith("1 layer,") else words


def _pointed(number: str, area: BaseGeometry, room: Room) -> Iterator[Item]:
    """A number beside a piece that is too small for it, in the nearest free place, with a pointer."""
    from shapely import LineString
    from shapely.ops import polylabel

    pole = polylabel(area, tolerance=0.1)
    spot = complex(pole.x, pole.y)
    for ring in range(2, _RINGS):
        for turn in range(_ROUND):
            at = spot + ring * _RING_MM * cmath.exp(2j * math.pi * turn / _ROUND)
            text = Text(at - 0.36j * _TITLE_MM, number, _TITLE_MM, anchor="middle", bold=True)
            if not room.holds(text):
                continue
            pointer = line(
                spot, at - (at - spot) / abs(at - spot) * 0.75 * max(_TITLE_MM, text.width), Pen.LEADER
            )
            if LineString([(p.real, p.imag) for p in (spot, at)]).intersects(area):
                items = (pointer, circle(spot, 0.35, Pen.LEADER), text)
                room.take(items)
                yield from items
                return


def _measures(
    row: Measured, others: Sequence[BaseGeometry], on: OnPaper, unit: TapeUnit, room: Room
) -> Iterator[Item]:
    """Thin lines from the arrow's ends to the edge and from the nearer one to the cut end, where they run
    over cloth, no other piece and no word lies between, and the measure finds room beside the line."""
    for end, other in zip(row.ends, reversed(row.ends), strict=True):
        at, beyond = on(end.at), on(other.at)
        foot = on(complex(end.at.real, end.edge.y))
        if not _passes(at, foot, beyond):
            yield from _measure(at, foot, by_tape(end.from_edge, unit), others, room)
        foot = on(end.at - end.from_cut_end)
        if row.begins_here and not _passes(at, foot, beyond):
            yield from _measure(at, foot, by_tape(end.from_cut_end, unit), others, room)


def _passes(end: Point, foot: Point, other: Point) -> bool:
    """Does the way from one end of an arrow to an edge run along the arrow, over its other end?"""
    if abs(foot - end) < _LEAST_LINE_MM:
        return False
    along = (other - end) * (foot - end).conjugate() / abs(foot - end)
    return abs(along.imag) < _BESIDE_MM and along.real > 0


def _measure(
    end: Point, foot: Point, words: str, others: Sequence[BaseGeometry], room: Room
) -> Iterator[Item]:
    from shapely import LineString

    if abs(foot - end) < _LEAST_LINE_MM:
        return
    way = LineString([(p.real, p.imag) for p in (end, foot)])
    if not room.region.covers(way):
        return
    boxes = (t for t in room.taken if t.geom_type == "Polygon")
    if any(way.intersects(o) for o in others) or any(way.intersects(b) for b in boxes):
        return
    path = (Line(end, foot),)
    texts = along(path, (words,), _MEASURE_MM, room)
    if not texts:
        return
    u = (foot - end) / abs(foot - end)
    items: tuple[Item, ...] = (line(end, foot - _HEAD_MM * u, Pen.MEASURE), arrow_head(foot, u, _HEAD_MM))
    room.take(items)
    yield from (*items, *texts)


def match_marks(places: Sequence[Point], on: OnPaper) -> Iterator[Item]:
    """A small filled diamond at each place where a seam's pattern is matched."""
    for p in places:
        spot = on(p)
        yield Fill((spot - 1.0, spot - 1.0j, spot + 1.0, spot + 1.0j))


def hatched(ring: Sequence[Point], words: Sequence[str], on: OnPaper, room: Room) -> Iterator[Item]:
    """An area left over: its outline, thin slanting lines, and its size where there is room."""
    corners = [on(p) for p in ring]
    outline = paths.polyline((*corners, corners[0]))
    if not words:
        yield from (*_slants(corners, ()), Stroke(outline, Pen.HATCH, closed=True))
        return
    rows = tuple(Row(w, _WORDS_MM) for w in words)
    texts: tuple[Text, ...] = ()
    for shown in (rows, rows[-1:]):
        texts = tuple(t for t in label_inside(outline, shown, (), LEAST_MM, _CLEAR_MM) if room.holds(t))
        if len(texts) == len(shown):
            break
    if len(texts) not in (len(rows), 1):
        texts = ()
    room.take(texts)
    yield from _slants(corners, texts)
    yield Stroke(outline, Pen.HATCH, closed=True)
    yield from texts


_HATCH_MM = 4.0


def _slants(corners: Sequence[Point], texts: Sequence[Text]) -> Iterator[Item]:
    from shapely import LineString, MultiLineString, Polygon, union_all

    area = Polygon([(p.real, p.imag) for p in corners]).buffer(0)
    boxes = [Polygon([(p.real, p.imag) for p in t.corners]).buffer(0.6) for t in texts]
    free = area.difference(union_all(boxes)) if boxes else area
    left, low, right, high = area.bounds
    first, last = math.ceil((left - high) / _HATCH_MM), math.floor((right - low) / _HATCH_MM)
    lines = [
        LineString([(k * _HATCH_MM + low, low), (k * _HATCH_MM + high, high)]) for k in range(first, last + 1)
    ]
    for part in getattr(free.intersection(MultiLineString(lines)), "geoms", ()):
        if part.geom_type == "LineString":
            (x0, y0), (x1, y1) = part.coords[0], part.coords[-1]
            yield line(complex(x0, y0), complex(x1, y1), Pen.HATCH)


def size_words(mm: tuple[float, float], unit: TapeUnit) -> str:
    """A size to plan by: whole centimetres, or inches, rounded down.

    >>> size_words((423.0, 187.0), "cm"), size_words((423.0, 187.0), "in")
    ('42 × 18 cm', '16 × 7 in')
    """
    step = 10.0 if unit == "cm" else 25.4
    one, two = (math.floor(m / step + 1e-9) for m in mm)
    return f"{one} × {two} {unit}"
