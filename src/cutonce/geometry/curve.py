"""The two curves a pattern is made of: straight lines and cubic Bezier curves.

Both answer the same questions, in mm, with a parameter t from 0 to 1. Arc lengths are exact for lines and to
1e-11 mm for cubics (see `arc`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from fontTools.misc.bezierTools import calcCubicBounds

from cutonce.geometry.arc import arc_length
from cutonce.geometry.motion import Motion, Point
from cutonce.geometry.tolerance import STANDSTILL_MM

Bounds = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


def box_of(points: Sequence[Point]) -> Bounds:
    """The box round points; a curve lies within that of its control points."""
    xs, ys = [p.real for p in points], [p.imag for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def apart(one: Bounds, two: Bounds) -> bool:
    """Do two boxes lie clear of each other?"""
    return one[2] < two[0] or two[2] < one[0] or one[3] < two[1] or two[3] < one[1]


@lru_cache(maxsize=1 << 16)
def _cubic_length(a: complex, b: complex, c: complex, d: complex) -> float:
    return arc_length(*_derivative(a, b, c, d), 0.0, 1.0)


def _derivative(a: complex, b: complex, c: complex, d: complex) -> tuple[complex, complex, complex]:
    return 3 * (d - 3 * c + 3 * b - a), 6 * (c - 2 * b + a), 3 * (b - a)


def _unit(v: complex) -> complex:
    size = abs(v)
    if size == 0:
        raise ValueError("a curve of no length has no direction")
    return v / size


@dataclass(frozen=True, slots=True)
class Line:
    """Straight from `a` to `d`."""

    a: Point
    d: Point

    @property
    def points(self) -> tuple[Point, ...]:
        """Its control points."""
        return self.a, self.d

    @property
    def start(self) -> Point:
        return self.a

    @property
    def end(self) -> Point:
        return self.d

    @property
    def length(self) -> float:
        return abs(self.d - self.a)

    @property
    def area(self) -> float:
        """Its part of a closed outline's area (counter-clockwise positive): half the integral x dy - y dx."""
        return 0.5 * (self.a.conjugate() * self.d).imag

    @property
    def bounds(self) -> Bounds:
        return box_of(self.points)

    def at(self, t: float) -> Point:
        return self.a + t * (self.d - self.a)

    def derivative(self, t: float) -> complex:
        return self.d - self.a

    def tangent(self, t: float) -> complex:
        """Unit vector along the curve. Raises ValueError where the ends fall together."""
        return _unit(self.d - self.a)

    def curvature(self, t: float) -> float:
        return 0.0

    def length_to(self, t: float) -> float:
        return t * self.length

    def at_length(self, s: float) -> float:
        """The parameter at arc length `s` from the start, held within the curve."""
        length = self.length
        return min(1.0, max(0.0, s / length)) if length else 0.0

    def part(self, t0: float, t1: float) -> Line:
        """The stretch from t0 to t1; its ends are the exact ends where t0 is 0 or t1 is 1."""
        return Line(self.a if t0 == 0 else self.at(t0), self.d if t1 == 1 else self.at(t1))

    def moved(self, m: Motion) -> Line:
        return Line(m(self.a), m(self.d))

    def reversed(self) -> Line:
        return Line(self.d, self.a)

    def flattened(self, tolerance: float) -> Iterator[Point]:
        """Points after the start, the end included."""
        yield self.d


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bezier curve from `a` to `d` with control points `b` and `c`."""

    a: Point
    b: Point
    c: Point
    d: Point

    @property
    def points(self) -> tuple[Point, ...]:
        """Its control points."""
        return self.a, self.b, self.c, self.d

    @property
    def start(self) -> Point:
        return self.a

    @property
    def end(self) -> Point:
        return self.d

    @property
    def length(self) -> float:
        return _cubic_length(self.a, self.b, self.c, self.d)

    @property
    def area(self) -> float:
        """Its part of the area of a closed outline; exact (a polynomial of degree five)."""
        a, b, c, d = self.a, self.b, self.c, self.d

        def cross(u: complex, v: complex) -> float:
            return (u.conjugate() * v).imag

        twice = (
            6 * cross(a, b)
            + 3 * cross(a, c)
            + cross(a, d)
            + 3 * cross(b, c)
            + 3 * cross(b, d)
            + 6 * cross(c, d)
        )
        return twice / 20

    @property
    def bounds(self) -> Bounds:
        box = calcCubicBounds(*((p.real, p.imag) for p in self.points))
        return box[0], box[1], box[2], box[3]

    def at(self, t: float) -> Point:
        u = 1 - t
        return u * u * u * self.a + 3 * u * u * t * self.b + 3 * u * t * t * self.c + t * t * t * self.d

    def derivative(self, t: float) -> complex:
        u = 1 - t  # Bernstein's form: exact at both ends
        return 3 * (u * u * (self.b - self.a) + 2 * u * t * (self.c - self.b) + t * t * (self.d - self.c))

    def tangent(self, t: float) -> complex:
        """Unit vector along the curve.

        Where the curve stands still (a control point on its end, a cusp) it is the exact limit: from inside
        at the ends; leaving a cusp in the first half, reaching one in the second. Raises ValueError where
        all four points fall together.
        """
        v = self.derivative(t)
        if abs(v) < STANDSTILL_MM:  # the first term of the Taylor series that does not vanish
            p, q, _ = _derivative(self.a, self.b, self.c, self.d)
            bend = 2 * p * t + q
            v = p if abs(bend) < STANDSTILL_MM else bend if t < 0.5 else -bend
        return _unit(v)

    def curvature(self, t: float) -> float:
        """Signed, per mm; positive where it turns to the left; 0 where the curve stands still, as there it
        may have no bound."""
        p, q, _ = _derivative(self.a, self.b, self.c, self.d)
        v = self.derivative(t)
        speed = abs(v)
        return (v.conjugate() * (2 * p * t + q)).imag / speed**3 if speed > STANDSTILL_MM else 0.0

    def length_to(self, t: float) -> float:
        return arc_length(*_derivative(self.a, self.b, self.c, self.d), 0.0, t)

    def at_length(self, s: float) -> float:
        """The parameter at arc length `s` from the start, held within the curve (Newton, to 1e-10 mm)."""
        total = self.length
        if s <= 0 or s >= total:
            return 0.0 if s <= 0 else 1.0
        p, q, r = _derivative(self.a, self.b, self.c, self.d)
        low, high, t = 0.0, 1.0, s / total
        miss = arc_length(p, q, r, 0.0, t) - s
        for _ in range(60):
            if abs(miss) < 1e-10:
                break
            low, high = (low, t) if miss > 0 else (t, high)
            speed = abs((p * t + q) * t + r)
            better = t - miss / speed if speed > STANDSTILL_MM else low
            if not low < better < high:
                better = (low + high) / 2
            if better > t:
                miss += arc_length(p, q, r, t, better)
            else:
                miss -= arc_length(p, q, r, better, t)
            t = better
        return t

    def part(self, t0: float, t1: float) -> Cubic:
        """The stretch from t0 to t1 (de Casteljau); ends exact where t0 is 0 or t1 is 1."""

        def blossom(x: float, y: float, z: float) -> complex:
            ab, bc, cd = (p + x * (q - p) for p, q in ((self.a, self.b), (self.b, self.c), (self.c, self.d)))
            abc, bcd = ab + y * (bc - ab), bc + y * (cd - bc)
            return abc + z * (bcd - abc)

        start = self.a if t0 == 0 else blossom(t0, t0, t0)
        end = self.d if t1 == 1 else blossom(t1, t1, t1)
        return Cubic(start, blossom(t0, t0, t1), blossom(t0, t1, t1), end)

    def moved(self, m: Motion) -> Cubic:
        return Cubic(m(self.a), m(self.b), m(self.c), m(self.d))

    def reversed(self) -> Cubic:
        return Cubic(self.d, self.c, self.b, self.a)

    def flattened(self, tolerance: float) -> Iterator[Point]:
        """Points after the start, the end included, with chords within `tolerance` of the curve.

        Equal parameter steps; the count follows from the bound on the second derivative
        (chord error <= h^2 / 8 max|r''|).
        """
        bend = 6 * max(abs(self.a - 2 * self.b + self.c), abs(self.b - 2 * self.c + self.d))
        n = max(1, math.ceil(math.sqrt(bend / (8 * tolerance))))
        a = self.a
        p, q, r = _derivative(a, self.b, self.c, self.d)
        p, q = p / 3, q / 2
        for i in range(1, n):
            t = i / n
            yield ((p * t + q) * t + r) * t + a
        yield self.d


Curve = Line | Cubic


def as_cubic(curve: Curve) -> Cubic:
    """The same curve as a cubic; a line gets control points at its thirds."""
    if isinstance(curve, Cubic):
        return curve
    third = (curve.d - curve.a) / 3
    return Cubic(curve.a, curve.a + third, curve.d - third, curve.d)
