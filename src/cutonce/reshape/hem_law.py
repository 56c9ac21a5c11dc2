"""How far a hem drops at each place round the body: laws in mm of hem, periodic by its girth.

A drop is measured from the hem as it is, downwards; above the old hem it is less than 0.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from cutonce.geometry.tolerance import SAME_POINT_MM


class HemLaw(Protocol):
    """A drop, and its change per mm of hem just before or just after a place."""

    def drop(self, x: float) -> float: ...

    def slope(self, x: float, after: bool) -> float: ...


@dataclass(frozen=True, slots=True)
class Dip:
    """A flat plane through a tube of this girth: lowest at `lowest` mm round, highest opposite.

    The cut of a plane through a tube unrolls to a cosine (arithmetic): y = h + (D / 2) cos(2 pi x / G).

    >>> dip = Dip(1000.0, lowest=0.0, down=80.0, up=40.0)
    >>> [round(dip.drop(x), 3) for x in (0, 125, 250, 500)]
    [80.0, 62.426, 20.0, -40.0]
    """

    girth: float
    lowest: float
    down: float
    up: float

    def drop(self, x: float) -> float:
        angle = 2 * math.pi * (x - self.lowest) / self.girth
        return (self.down - self.up) / 2 + (self.down + self.up) / 2 * math.cos(angle)

    def slope(self, x: float, after: bool) -> float:
        turn = 2 * math.pi / self.girth
        return -(self.down + self.up) / 2 * turn * math.sin(turn * (x - self.lowest))


@dataclass(frozen=True, slots=True)
class Knot:
    """A place with its drop, and the slopes in which the law arrives at it and leaves it."""

    x: float
    drop: float
    arriving: float
    leaving: float


@dataclass(frozen=True, slots=True)
class Knotted:
    """A cubic between each knot and the next, and from the last round to the first."""

    girth: float
    knots: tuple[Knot, ...]

    def drop(self, x: float) -> float:
        one, two, size, u = self._between(x, True)
        h = (1 + 2 * u) * (1 - u) ** 2 * one.drop + u * u * (3 - 2 * u) * two.drop
        return h + size * u * (1 - u) * ((1 - u) * one.leaving - u * two.arriving)

    def slope(self, x: float, after: bool) -> float:
        one, two, size, u = self._between(x, after)
        rise = 6 * u * (1 - u) * (two.drop - one.drop) / size
        return rise + (1 - u) * (1 - 3 * u) * one.leaving + u * (3 * u - 2) * two.arriving

    def _between(self, x: float, after: bool) -> tuple[Knot, Knot, float, float]:
        """The knots about a place, their distance, and what share of it lies behind the place."""
        knots = self.knots
        at = x % self.girth
        starts = [k.x for k in knots]
        i = bisect_right(starts, at) - 1
        if not after and i >= 0 and at - starts[i] < SAME_POINT_MM:
            i -= 1
        elif after and i + 1 < len(knots) and starts[i + 1] - at < SAME_POINT_MM:
            i += 1
        one, two = knots[i % len(knots)], knots[(i + 1) % len(knots)]
        size = (two.x - one.x) % self.girth or self.girth
        behind = (at - one.x) % self.girth
        if not after and behind < SAME_POINT_MM:
            behind = size
        if behind > self.girth - SAME_POINT_MM and size < self.girth - 1:
            behind = 0.0
        return one, two, size, min(1.0, behind / size)


def even(girth: float, drop: float) -> Knotted:
    """The same drop all round."""
    return Knotted(girth, (Knot(0.0, drop, 0.0, 0.0),))


def straight(girth: float, places: Sequence[tuple[float, float]]) -> Knotted:
    """Straight from each place to the next: (mm round, drop), two at least, with a corner at each.

    >>> slant = straight(1000.0, [(250.0, 60.0), (750.0, 0.0)])
    >>> slant.drop(250.0), slant.drop(500.0), slant.drop(0.0)
    (60.0, 30.0, 30.0)
    """
    points = sorted((x % girth, drop) for x, drop in places)
    slopes = _slopes(girth, points)
    return Knotted(
        girth,
        tuple(Knot(x, drop, slopes[i - 1], slopes[i]) for i, (x, drop) in enumerate(points)),
    )


def curved(girth: float, places: Sequence[tuple[float, float]]) -> Knotted:
    """Smoothly through drops at places: (mm round, drop). Between two places it rises or falls all the way:
    no place hangs lower than the lowest that is given. Level at its lowest and highest places.

    Monotone piecewise cubics with the weighted harmonic means of the slopes (Fritsch & Butland, SIAM J. Sci.
    Stat. Comput. 5, 1984).
    """
    points = sorted((x % girth, drop) for x, drop in places)
    if len(points) == 1:
        return even(girth, points[0][1])
    slopes, sizes = _slopes(girth, points), _sizes(girth, points)
    knots = []
    for i, (x, drop) in enumerate(points):
        before, after = slopes[i - 1], slopes[i]
        mean = 0.0
        if before * after > 0:
            w1, w2 = 2 * sizes[i] + sizes[i - 1], sizes[i] + 2 * sizes[i - 1]
            mean = (w1 + w2) / (w1 / before + w2 / after)
        knots.append(Knot(x, drop, mean, mean))
    return Knotted(girth, tuple(knots))


def through(points: Sequence[tuple[float, float]]) -> Callable[[float], float]:
    """A smooth function between the first and the last of three points or more, rising in x: cubics whose
    slope at each point is that of the parabola through it and its neighbours."""
    sizes = [b[0] - a[0] for a, b in pairwise(points)]
    rises = [(b[1] - a[1]) / size for (a, b), size in zip(pairwise(points), sizes, strict=True)]
    slopes = [
        (b * one + a * two) / (a + b)
        for (one, two), (a, b) in zip(pairwise(rises), pairwise(sizes), strict=True)
    ]
    slopes = [2 * rises[0] - slopes[0], *slopes, 2 * rises[-1] - slopes[-1]]
    knots = tuple(Knot(x, y, m, m) for (x, y), m in zip(points, slopes, strict=True))
    law = Knotted(3 * points[-1][0], knots)
    return law.drop


def _sizes(girth: float, points: Sequence[tuple[float, float]]) -> list[float]:
    inner = [b[0] - a[0] for a, b in pairwise(points)]
    return [*inner, girth - points[-1][0] + points[0][0]]


def _slopes(girth: float, points: Sequence[tuple[float, float]]) -> list[float]:
    """From each place to the next, from the last to the first."""
    drops = [d for _, d in points]
    rises = [b - a for a, b in zip(drops, [*drops[1:], drops[0]], strict=True)]
    return [r / s for r, s in zip(rises, _sizes(girth, points), strict=True)]
