"""Lays a label of several lines inside a piece: upright where it fits, along the piece where that is longer,
smaller where it must be, and beside the piece with a pointer where it would be too small to read.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, flattened
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Item, Stroke, Text, circle, line
from cutonce.sheets.pens import Pen

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

LEAST_MM = 2.4
"""The smallest font size that is printed (about 7 pt): below it the label goes beside the piece."""

CLEAR_MM = 2.0
"""Between a label and the piece's edge or a line inside it."""

_LEAD = 1.35
_FLAT_MM = 0.2
_ASIDE_MM = 8.0
_MOST_PARTS = 4


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a label, at the size it has where there is room."""

    words: str
    height_mm: float = 4.0
    bold: bool = False


@dataclass(frozen=True, slots=True)
class _Spot:
    """A place for a label's middle, its scale (1: full size) and its angle."""

    middle: Point
    scale: float
    angle: float


def place_label(
    outline: Path, rows: Sequence[Row], avoid: Sequence[Stroke] = (), least: float = LEAST_MM
) -> tuple[Item, ...]:
    """The texts of a label, clear of the outline.

    `outline` is the closed edge of the piece; `avoid` are lines inside it that the label keeps clear of where
    it can. Where it would get smaller than `least` it lies over them; if it does not fit then either, it
    stands at the right of the piece with a pointer into it. No rows: nothing.
    """
    shown = tuple(r for r in rows if r.words)
    if not shown:
        return ()
    for lines in (avoid, ()):
        texts = label_inside(outline, shown, lines, least)
        if texts:
            return texts
    return tuple(_beside(outline, shown))


def label_inside(
    outline: Path,
    rows: Sequence[Row],
    avoid: Sequence[Stroke] = (),
    least: float = LEAST_MM,
    clear: float = CLEAR_MM,
) -> tuple[Text, ...]:
    """The texts of a label inside an outline, `clear` mm from it and from the lines to `avoid`; none where it
    would have to be smaller than `least`."""
    least_scale = least / min(r.height_mm for r in rows)
    free = _without(_polygon(outline).buffer(-clear), avoid, clear)
    spot = _best_spot(free, _size(rows), least_scale)
    return tuple(_texts(rows, spot)) if spot is not None else ()


def _size(rows: Sequence[Row]) -> complex:
    """Width and height of the block at full size."""
    width = max(fonts.width(r.words, r.height_mm, r.bold) for r in rows)
    return complex(width, sum(_LEAD * r.height_mm for r in rows))


def _polygon(outline: Path) -> Polygon:
    """The outline as a polygon, to the nanometre: numbers next to zero upset the search for its middle."""
    from shapely import Polygon

    return Polygon([(round(p.real, 6), round(p.imag, 6)) for p in flattened(outline, _FLAT_MM)])


def _without(inside: BaseGeometry, avoid: Sequence[Stroke], clear: float) -> BaseGeometry:
    from shapely import LineString, buffer, union_all

    lines = [LineString([(p.real, p.imag) for p in flattened(s.path, _FLAT_MM)]) for s in avoid]
    if not lines:
        return inside
    return inside.difference(union_all(buffer(lines, clear, quad_segs=2)))


def _best_spot(free: BaseGeometry, size: complex, least: float) -> _Spot | None:
    """The place where the block is largest; upright unless turning it makes it a quarter larger."""
    upright, turned = (_largest(free, size, angle) for angle in (0.0, math.pi / 2))
    best = turned if turned.scale > 1.25 * upright.scale else upright
    return best if best.scale >= least else None


def _largest(free: BaseGeometry, size: complex, angle: float) -> _Spot:
    """The largest block at an angle, up to full size, about the middle of the largest ellipse of its shape.

    Stretched so that the block is square, the free region's largest circle is that ellipse.
    """
    from shapely.affinity import rotate, scale
    from shapely.ops import polylabel

    level = rotate(free, -angle, origin=(0, 0), use_radians=True)
    ratio = size.imag / size.real
    best = _Spot(0j, 0.0, angle)
    for part in sorted(_parts(level), key=lambda p: -p.area)[:_MOST_PARTS]:
        pole = polylabel(scale(part, ratio, 1.0, origin=(0, 0)), tolerance=0.5)
        middle = complex(pole.x / ratio, pole.y)
        k = _largest_scale(part, middle, size)
        if k > best.scale:
            best = _Spot(middle * cmath.exp(1j * angle), k, angle)
    return best


def _largest_scale(part: Polygon, middle: Point, size: complex) -> float:
    """The largest scale, up to 1, at which a block about a place lies within a region (by bisection)."""
    from shapely import box

    def fits(k: float) -> bool:
        low, high = middle - k * size / 2, middle + k * size / 2
        return bool(part.covers(box(low.real, low.imag, high.real, high.imag)))

    if fits(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(12):
        k = (low + high) / 2
        low, high = (k, high) if fits(k) else (low, k)
    return low


def _parts(free: BaseGeometry) -> list[Polygon]:
    parts = getattr(free, "geoms", [free])
    return [p for p in parts if p.area > LEAST_MM**2]


def _texts(rows: Sequence[Row], spot: _Spot) -> Iterator[Text]:
    """The rows about the middle of the block, centred."""
    along = cmath.exp(1j * spot.angle)
    y = _size(rows).imag / 2
    for row in rows:
        y -= _LEAD * row.height_mm
        base = y + (_LEAD - 1) / 2 * row.height_mm + fonts.DESCENT * row.height_mm
        at = spot.middle + along * 1j * spot.scale * base
        yield Text(at, row.words, spot.scale * row.height_mm, spot.angle, "middle", row.bold)


def _beside(outline: Path, rows: Sequence[Row]) -> Iterator[Item]:
    """The block at the right of the piece, and a pointer from it to a dot in the piece's widest place."""
    from shapely.ops import polylabel

    pole = polylabel(_polygon(outline), tolerance=0.5)
    spot = complex(pole.x, pole.y)
    size = _size(rows)
    edge = complex(max(c.bounds[2] for c in outline) + _ASIDE_MM, spot.imag)
    yield line(spot, edge - 1.5, Pen.LEADER)
    yield circle(spot, 0.8, Pen.LEADER)
    yield from _texts(rows, _Spot(edge + size.real / 2, 1.0, 0.0))
