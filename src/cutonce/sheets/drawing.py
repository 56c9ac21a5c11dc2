"""A drawing as plain values: strokes, fills and texts in mm, y up, gathered in named groups.

Everything that goes on paper is made of these, the page marks too, so each exporter only has to know three
kinds of thing. There is no reflection: print is never mirrored (a motion that mirrors is refused).
"""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal, assert_never

from cutonce.geometry import path as paths
from cutonce.geometry.curve import Bounds, Cubic, Curve, Line, box_of
from cutonce.geometry.motion import Motion, Point
from cutonce.geometry.path import Path
from cutonce.sheets import fonts
from cutonce.sheets.pens import Pen

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A chain of curves drawn with a pen; `closed` joins its end to its start."""

    path: Path
    pen: Pen
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled polygon: arrow heads, dots. Grey from 0 (black) to 1 (white)."""

    points: tuple[Point, ...]
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Text:
    """One line of real text; `at` is on its base line at the anchor, `height_mm` the font size.

    `angle` in radians, counter-clockwise; `grey` from 0 (black) to 1 (white).
    """

    at: Point
    words: str
    height_mm: float
    angle: float = 0.0
    anchor: Anchor = "start"
    bold: bool = False
    grey: float = 0.0

    @property
    def width(self) -> float:
        return fonts.width(self.words, self.height_mm, self.bold)

    @property
    def start(self) -> Point:
        """Where the base line begins."""
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        return self.at - back * self.width * cmath.exp(1j * self.angle) if back else self.at

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The box round the text, counter-clockwise from below its start."""
        along = cmath.exp(1j * self.angle)
        up, right = along * 1j * self.height_mm, along * self.width
        low, high = self.start - fonts.DESCENT * up, self.start + fonts.ASCENT * up
        return low, low + right, high + right, high


Item = Stroke | Fill | Text


@dataclass(frozen=True, slots=True)
class Group:
    """What belongs together on a sheet: one pattern piece, the check lines, the line key.

    `outline` is the closed edge of the paper that is cut out, empty where there is none to cut out.
    """

    key: str
    title: str
    items: tuple[Item, ...]
    outline: Path = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole sheet: groups within 0..width and 0..height. `about` are lines for the cover (body, date)."""

    groups: tuple[Group, ...]
    width: float
    height: float
    title: str = ""
    about: tuple[str, ...] = ()

    @property
    def items(self) -> Iterator[Item]:
        for group in self.groups:
            yield from group.items


def bounds(items: Iterable[Item]) -> Bounds:
    """Box round items (the middle of the strokes); an empty drawing has none and raises ValueError."""
    boxes = [item_bounds(i) for i in items]
    if not boxes:
        raise ValueError("an empty drawing has no bounds")
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def item_bounds(item: Item) -> Bounds:
    match item:
        case Stroke():
            return paths.bounds(item.path)
        case Fill():
            return box_of(item.points)
        case Text():
            return box_of(item.corners)
        case _:
            assert_never(item)


def moved(item: Item, m: Motion) -> Item:
    """An item turned and shifted; a mirroring motion raises ValueError, for print is never mirrored."""
    if m.mirror:
        raise ValueError("a drawing cannot be mirrored: its text would be")
    match item:
        case Stroke():
            return replace(item, path=paths.moved(item.path, m))
        case Fill():
            return replace(item, points=tuple(m(p) for p in item.points))
        case Text():
            return replace(item, at=m(item.at), angle=item.angle + m.angle)
        case _:
            assert_never(item)


def moved_group(group: Group, m: Motion) -> Group:
    items = tuple(moved(i, m) for i in group.items)
    return replace(group, items=items, outline=paths.moved(group.outline, m))


def scaled(drawing: Drawing, factor: float) -> Drawing:
    """The drawing at another scale: places, curves and text. Pens keep their width, to stay readable."""
    groups = tuple(_scaled_group(g, factor) for g in drawing.groups)
    return replace(drawing, groups=groups, width=drawing.width * factor, height=drawing.height * factor)


def _scaled_group(group: Group, k: float) -> Group:
    items = tuple(_scaled_item(i, k) for i in group.items)
    return replace(group, items=items, outline=scaled_path(group.outline, k))


def _scaled_item(item: Item, k: float) -> Item:
    match item:
        case Stroke():
            return replace(item, path=scaled_path(item.path, k))
        case Fill():
            return replace(item, points=tuple(k * p for p in item.points))
        case Text():
            return replace(item, at=k * item.at, height_mm=k * item.height_mm)
        case _:
            assert_never(item)


def scaled_path(path: Path, k: float) -> Path:
    """A path `k` times as large, about 0."""
    return tuple(_scaled_curve(c, k) for c in path)


def _scaled_curve(curve: Curve, k: float) -> Curve:
    match curve:
        case Line():
            return Line(k * curve.a, k * curve.d)
        case Cubic():
            return Cubic(k * curve.a, k * curve.b, k * curve.c, k * curve.d)
        case _:
            assert_never(curve)


def line(a: Point, b: Point, pen: Pen) -> Stroke:
    return Stroke((Line(a, b),), pen)


def polygon(points: Iterable[Point], pen: Pen) -> Stroke:
    """A closed outline through the points."""
    corners = tuple(points)
    return Stroke(paths.polyline((*corners, corners[0])), pen, closed=True)


def circle(centre: Point, radius: float, pen: Pen) -> Stroke:
    """A circle of four cubics; k = 4/3 (sqrt 2 - 1) keeps it within 0.03 % of the radius."""
    k = 0.5522847498307936
    quarters = []
    for turn in (1, 1j, -1, -1j):
        a, d = radius * turn, radius * turn * 1j
        quarters.append(Cubic(centre + a, centre + a + k * d, centre + d + k * a, centre + d))
    return Stroke(tuple(quarters), pen, closed=True)


def arrow_head(tip: Point, direction: complex, size: float) -> Fill:
    """A slim filled triangle that points along `direction`."""
    u = direction / abs(direction)
    return Fill((tip, tip - size * u * (1 + 0.3j), tip - size * u * (1 - 0.3j)))


def double_arrow(a: Point, b: Point, pen: Pen, size: float = 6.0) -> tuple[Item, ...]:
    """A line with an arrow head at both ends: the grain."""
    u = (b - a) / abs(b - a)
    shaft = line(a + size * u, b - size * u, pen)
    return shaft, arrow_head(b, u, size), arrow_head(a, -u, size)
