"""Chains of curves, end to end: a path is a tuple of curves. Places on it are arc lengths from its start."""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from cutonce.geometry.curve import Bounds, Cubic, Curve, Line
from cutonce.geometry.motion import Motion, Point
from cutonce.geometry.tolerance import FLATTEN_MM, SAME_POINT_MM

Path = tuple[Curve, ...]

_MOST_HALVINGS = 12
"""Only a curve that stands still (a cusp, a control point on its end) is halved so often."""


def length(path: Iterable[Curve]) -> float:
    return sum(c.length for c in path)


def area(path: Iterable[Curve]) -> float:
    """Area inside a closed path in mm2, positive when it runs counter-clockwise."""
    return sum(c.area for c in path)


def turn(path: Iterable[Curve]) -> float:
    """By how much the curves turn in all, in radians, counter-clockwise positive; corners between them are
    left out.

    >>> round(turn((Cubic(10, 10 + 5.52285j, 5.52285 + 10j, 10j),)), 3)  # a quarter of a circle
    1.571
    """
    return sum(_turn(curve, 0) for curve in path if isinstance(curve, Cubic))


def _turn(curve: Cubic, depth: int) -> float:
    """The cubic is halved until its control points turn less than a right angle, as then it does too."""
    u, v, w = curve.b - curve.a, curve.c - curve.b, curve.d - curve.c
    acute = min((u.conjugate() * v).real, (v.conjugate() * w).real, (u.conjugate() * w).real) > 0
    if acute or depth == _MOST_HALVINGS:
        return cmath.phase(curve.tangent(1) / curve.tangent(0)) if curve.length > SAME_POINT_MM else 0.0
    return _turn(curve.part(0, 0.5), depth + 1) + _turn(curve.part(0.5, 1), depth + 1)


def find(path: Sequence[Curve], s: float) -> tuple[int, float]:
    """Index of the curve and parameter on it at arc length `s`, held within the path."""
    for i, curve in enumerate(path):
        size = curve.length
        if s <= size or i == len(path) - 1:
            return i, curve.at_length(s)
        s -= size
    raise ValueError("an empty path has no places")


def point_at(path: Sequence[Curve], s: float) -> Point:
    i, t = find(path, s)
    return path[i].at(t)


def tangent_at(path: Sequence[Curve], s: float) -> complex:
    i, t = find(path, s)
    return path[i].tangent(t)


def part(path: Sequence[Curve], s0: float, s1: float) -> Path:
    """The stretch from s0 to s1 (s0 < s1), split exactly; slivers below a point's size are left out."""
    out: list[Curve] = []
    before = 0.0
    for curve in path:
        size = curve.length
        low, high = max(s0 - before, 0.0), min(s1 - before, size)
        if high - low > SAME_POINT_MM:
            t0 = 0.0 if low <= SAME_POINT_MM else curve.at_length(low)
            t1 = 1.0 if high >= size - SAME_POINT_MM else curve.at_length(high)
            out.append(curve if t0 == 0.0 and t1 == 1.0 else curve.part(t0, t1))
        before += size
    return tuple(out)


def reversed_path(path: Sequence[Curve]) -> Path:
    return tuple(c.reversed() for c in reversed(path))


def moved(path: Iterable[Curve], m: Motion) -> Path:
    return tuple(c.moved(m) for c in path)


def starting_at(curve: Curve, p: Point) -> Curve:
    """The curve with its start set exactly to `p` where it lies there but for rounding; else as it is."""
    return replace(curve, a=p) if curve.a != p and abs(curve.a - p) < SAME_POINT_MM else curve


def ending_at(curve: Curve, p: Point) -> Curve:
    """As `starting_at`, for the curve's end."""
    return replace(curve, d=p) if curve.d != p and abs(curve.d - p) < SAME_POINT_MM else curve


def with_start(curve: Curve, p: Point) -> Curve:
    """The curve with its start moved to a point nearby, its direction there kept (a line's turns)."""
    match curve:
        case Line():
            return Line(p, curve.d)
        case Cubic():
            return Cubic(p, curve.b + (p - curve.a), curve.c, curve.d)


def with_end(curve: Curve, p: Point) -> Curve:
    """As `with_start`, for the curve's end."""
    return with_start(curve.reversed(), p).reversed()


def flattened(path: Sequence[Curve], tolerance: float = FLATTEN_MM) -> tuple[Point, ...]:
    """The path as points, start included."""
    if not path:
        return ()
    points = [path[0].a]
    for curve in path:
        points.extend(curve.flattened(tolerance))
    return tuple(points)


def bounds(path: Iterable[Curve]) -> Bounds:
    boxes = [c.bounds for c in path]
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def polyline(points: Sequence[Point]) -> Path:
    """Straight lines through the points, in order."""
    return tuple(Line(p, q) for p, q in pairwise(points))


def svg_data(path: Sequence[Curve], closed: bool = False) -> str:
    """SVG path data in mm with y down as SVG has it (the sign of y is turned), nine significant digits."""

    def at(p: Point) -> str:
        return f"{p.real:.9g},{-p.imag + 0.0:.9g}"

    words: list[str] = []
    pen: Point | None = None
    for curve in path:
        if pen is None or abs(curve.a - pen) > SAME_POINT_MM:
            words.append(f"M{at(curve.a)}")
        match curve:
            case Line():
                words.append(f"L{at(curve.d)}")
            case Cubic():
                words.append(f"C{at(curve.b)} {at(curve.c)} {at(curve.d)}")
        pen = curve.d
    if closed:
        words.append("Z")
    return " ".join(words)
