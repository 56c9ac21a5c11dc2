"""What of a drawing lies inside a box, exactly: curves are split where they cross its sides."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from cutonce.geometry.curve import Bounds, Curve, Line, apart, box_of
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Fill, Stroke, Text


@dataclass(frozen=True, slots=True)
class Run:
    """A connected stretch of a stroke inside a box. `begins` is its arc length from the stroke's start, so
    that dashes go on where they left off; `closed` says it is the whole of a closed stroke."""

    path: Path
    begins: float
    closed: bool = False


def stroke(item: Stroke, box: Bounds) -> tuple[Run, ...]:
    """The stretches of a stroke inside a box, in order."""
    curves = _with_closing_line(item)
    if all(_within(c.bounds, box) for c in curves):
        return (Run(curves, 0.0, item.closed),)
    runs: list[Run] = []
    before = 0.0
    for curve in curves:
        for t0, t1 in inside(curve, box):
            piece = curve.part(t0, t1)
            if runs and abs(runs[-1].path[-1].end - piece.start) < SAME_POINT_MM:
                runs[-1] = replace(runs[-1], path=(*runs[-1].path, piece))
            else:
                runs.append(Run((piece,), before + curve.length_to(t0)))
        before += curve.length
    if item.closed and len(runs) > 1 and abs(runs[-1].path[-1].end - runs[0].path[0].start) < SAME_POINT_MM:
        last = runs.pop()  # it runs through the stroke's start: one stretch, not two
        runs[0] = replace(last, path=(*last.path, *runs[0].path))
    return tuple(runs)


def _with_closing_line(item: Stroke) -> Path:
    first, last = item.path[0].start, item.path[-1].end
    if item.closed and abs(last - first) > SAME_POINT_MM:
        return (*item.path, Line(last, first))
    return item.path


def inside(curve: Curve, box: Bounds) -> tuple[tuple[float, float], ...]:
    """Parameter intervals of a curve inside a box, its sides included; a touch at one point is none."""
    if apart(curve.bounds, box):
        return ()
    if _within(curve.bounds, box):
        return ((0.0, 1.0),)
    low, high = complex(box[0], box[1]), complex(box[2], box[3])
    cuts = {0.0, 1.0}
    for corner in (low, high):
        cuts.update(on_line(curve, corner, 1), on_line(curve, corner, 1j))
    kept: list[tuple[float, float]] = []
    steps = sorted(cuts)
    for t0, t1 in pairwise(steps):
        if not _holds(box, curve.at((t0 + t1) / 2)):
            continue
        if kept and kept[-1][1] == t0:
            kept[-1] = (kept[-1][0], t1)
        else:
            kept.append((t0, t1))
    return tuple(kept)


def fill(item: Fill, box: Bounds) -> Fill | None:
    """The part of a filled polygon inside a box (Sutherland and Hodgman: one side after the other)."""
    points: Sequence[Point] = item.points
    for normal, reach in ((1, box[2]), (-1, -box[0]), (-1j, box[3]), (1j, -box[1])):
        points = _half(points, normal, reach)
        if len(points) < 3:
            return None
    return Fill(tuple(points), item.grey)


def _half(points: Sequence[Point], normal: complex, reach: float) -> list[Point]:
    """The part of a polygon where (p * normal).real <= reach; normal is 1, -1, -i (y) or i (-y)."""
    out: list[Point] = []
    for i, q in enumerate(points):
        p = points[i - 1]
        over_p, over_q = (p * normal).real - reach, (q * normal).real - reach
        if (over_p > 0) != (over_q > 0):
            out.append(p + (q - p) * over_p / (over_p - over_q))
        if over_q <= 0:
            out.append(q)
    return out


@dataclass(frozen=True, slots=True)
class Letters:
    """Letters as they are set: `at` is where their base line begins, `face` the font, `height` its size.

    Part of a text keeps the font of the whole, so that both halves of a word cut by a page match.
    """

    at: Point
    words: str
    face: fonts.Face
    height: float
    angle: float
    grey: float


def letters(item: Text) -> Letters:
    """A whole text as it is set."""
    words = fonts.printable(item.words)
    return Letters(item.start, words, fonts.face(words, item.bold), item.height_mm, item.angle, item.grey)


def text(item: Text, box: Bounds) -> Letters | None:
    """The letters of a text that touch a box; those cut by its sides are kept whole."""
    whole = letters(item)
    if _within(box_of(item.corners), box):
        return whole
    words, along = whole.words, cmath.exp(1j * item.angle)
    up = 1j * along * item.height_mm
    ends = [0.0, *(fonts.set_width(words[: i + 1], item.height_mm, whole.face) for i in range(len(words)))]
    hit = []
    for i, letter in enumerate(words):
        low, high = whole.at + along * ends[i], whole.at + along * ends[i + 1]
        corners = [p + k * up for p in (low, high) for k in (-fonts.DESCENT, fonts.ASCENT)]
        if letter != " " and not apart(box_of(corners), box):
            hit.append(i)
    if not hit:
        return None
    first, last = hit[0], hit[-1]
    return replace(whole, at=whole.at + along * ends[first], words=words[first : last + 1])


def _within(one: Bounds, box: Bounds) -> bool:
    return one[0] >= box[0] and one[1] >= box[1] and one[2] <= box[2] and one[3] <= box[3]


def _holds(box: Bounds, p: Point) -> bool:
    return box[0] <= p.real <= box[2] and box[1] <= p.imag <= box[3]
