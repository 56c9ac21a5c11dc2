"""Where a shape may lie: the places of its origin at which it is on the bed and on nothing laid.

A region is what remains of a rectangle of places when the no-fit rings are taken away (pyclipper, on whole
numbers). Rules narrow it: to lines where one coordinate is ruled, to a lattice where both are. All that is
asked of it is its place furthest left, then lowest.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutonce.geometry.motion import Point
from cutonce.lay.problem import Ring, Rule

UNITS = 1e5
"""Whole numbers per mm: a thousandth of the 0.01 mm of the check."""

HAIR_MM = 0.0004
"""The bed's edges are this much too wide, and outlines this much too small, while a place is looked for: so a
gap into which a piece goes exactly has an inside. What is found is put back onto the bed."""


@dataclass(frozen=True, slots=True)
class Box:
    """Places from `low` to `high`: the corners of a rectangle, which may have no area."""

    low: Point
    high: Point

    @property
    def empty(self) -> bool:
        return self.high.real < self.low.real - HAIR_MM or self.high.imag < self.low.imag - HAIR_MM

    def nearest(self, p: Point) -> Point:
        x = max(self.low.real, min(self.high.real, p.real))
        return complex(x, max(self.low.imag, min(self.high.imag, p.imag)))


def best_place(box: Box, taken: Sequence[Ring], along: Rule | None, across: Rule | None) -> Point | None:
    """The place furthest left, then lowest, in the box, outside all `taken` rings, that both rules allow.

    `taken` go round what they take counter-clockwise, round holes in it clockwise. None where there is no
    such place.
    """
    if box.empty:
        return None
    free = _free(box, taken)
    if along is None and across is None:
        places = [p for ring in free for p in ring]
    elif across is None:
        turned = [tuple(complex(p.imag, p.real) for p in ring) for ring in free]
        places = [complex(at, low) for at, low, _ in _stretches(turned, along, box.low.real, box.high.real)]
    else:
        rows = _stretches(free, across, box.low.imag, box.high.imag)
        places = [complex(x, at) for at, low, high in rows if (x := _first(along, low, high)) is not None]
    return box.nearest(min(places, key=lambda p: (p.real, p.imag))) if places else None


def _free(box: Box, taken: Sequence[Ring]) -> list[Ring]:
    """The rings of the box, a hair wider, less all that is taken; those of holes among them."""
    import pyclipper

    hair = complex(HAIR_MM, HAIR_MM)
    low, high = box.low - hair, box.high + hair
    corners = (low, complex(high.real, low.imag), high, complex(low.real, high.imag))
    clipper = pyclipper.Pyclipper()
    clipper.AddPath(_whole(corners), pyclipper.PT_SUBJECT, True)
    paths = [_whole(ring) for ring in taken if _meets(ring, low, high)]
    if paths:
        clipper.AddPaths(paths, pyclipper.PT_CLIP, True)
    left = clipper.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return [tuple(complex(x, y) / UNITS for x, y in path) for path in left]


def _whole(ring: Sequence[Point]) -> list[tuple[int, int]]:
    return [(round(p.real * UNITS), round(p.imag * UNITS)) for p in ring]


def _meets(ring: Ring, low: Point, high: Point) -> bool:
    xs, ys = [p.real for p in ring], [p.imag for p in ring]
    return max(xs) > low.real and min(xs) < high.real and max(ys) > low.imag and min(ys) < high.imag


def _stretches(
    rings: Sequence[Ring], rule: Rule | None, low: float, high: float
) -> Iterator[tuple[float, float, float]]:
    """On each line y = `at` that the rule allows from `low` to `high`: at, and the stretches of x there."""
    for at in _allowed(rule, low, high):
        xs = sorted(x for ring in rings for x in _crossings(ring, at))
        for start, end in zip(xs[::2], xs[1::2], strict=True):
            yield at, start, end


def _allowed(rule: Rule | None, low: float, high: float) -> Iterator[float]:
    """The values of a rule from `low` to `high`, a hair beyond included."""
    if rule is None:
        return
    if rule.every <= 0.0:
        if low - HAIR_MM <= rule.at <= high + HAIR_MM:
            yield rule.at
        return
    first = math.ceil((low - HAIR_MM - rule.at) / rule.every)
    last = math.floor((high + HAIR_MM - rule.at) / rule.every)
    yield from (rule.at + k * rule.every for k in range(first, last + 1))


def _crossings(ring: Ring, at: float) -> Iterator[float]:
    before = ring[-1]
    for here in ring:
        if (before.imag > at) != (here.imag > at):
            yield before.real + (at - before.imag) / (here.imag - before.imag) * (here.real - before.real)
        before = here


def _first(rule: Rule | None, low: float, high: float) -> float | None:
    """The least value from `low` to `high` that the rule allows."""
    if rule is None:
        return low
    return next(_allowed(rule, low + HAIR_MM, high - HAIR_MM), None)
