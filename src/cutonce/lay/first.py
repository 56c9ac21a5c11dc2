"""A first legal lay at once: one blank after the other, each where it ends furthest left.

It handles every problem: rules, cloth to avoid, spacing, several shapes. The bed's length is not a wall to
it: what finds no room on the cloth is laid past its end, so a shortfall has a figure. Outlines are thinned
outwards for speed (`thin`), so the result is legal, if a little long.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from cutonce.errors import CannotApply
from cutonce.geometry.motion import Point
from cutonce.lay.clearance import SLACK_MM, polygon_of
from cutonce.lay.nofit import no_fit as _no_fit
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Ring, Shape, Spot
from cutonce.lay.rooms import HAIR_MM, UNITS, Box, best_place
from cutonce.lay.thin import thinned

THIN_SHARE = 0.02
"""By so much of its area an outline may grow when it is thinned: a first lay may waste that much."""

EVEN_MM = 1e-6
"""An order whose lay is longer by less is as good, and may lead on."""

MOST_BACK_MM = 0.004
"""Two tips set back by as much overlap by less than the check lets pass."""

CORNERS = 16
"""Corners at which thinning stops: no-fit polygons of two such take a millisecond."""

LIKE_SHARE, LIKE_CORNERS = 0.002, 40
"""The same for blanks laid as they lay before: there a growth of a few millimetres has no place to go."""

ASIDE_MM = 2.0
"""So much higher such a blank may come to lie than it lay: what those below it have grown."""


no_fit = lru_cache(maxsize=8192)(_no_fit)
"""Kept, as one order after the other asks for the same pairs."""


@dataclass(frozen=True, slots=True)
class _Tried:
    """A shape with what the placing needs: the thinned outline a hair smaller, the shape's extent, and
    between which two places across the cloth its origin is to be."""

    shape: Shape
    core: Ring
    size: Point
    across: tuple[float, float] = (0.0, math.inf)


@dataclass(frozen=True, slots=True)
class _Laid:
    tried: _Tried
    at: Point


def first_layout(problem: Problem, tries: int = 1, stopped: Callable[[], bool] = lambda: False) -> Layout:
    """A legal layout: of `tries` orders of the blanks, the first by area, the one that ends soonest.

    Its length may be greater than the bed's. The same problem gives the same layout. CannotApply where a
    blank has no place on cloth of any length: it is too wide, or its rules leave none.
    """
    _possible(problem)
    shapes = {blank.key: tuple(_tried(shape) for shape in blank.shapes) for blank in problem.blanks}
    best: Layout | None = None
    for order in _orders(problem, tries):
        if best is not None and stopped():
            break
        made = _lay(problem, order, shapes, best.length if best else None)
        best = made or best
    return best or Layout(0.0, ())


def other_orders(
    problem: Problem,
    start: Layout | None,
    seconds: float,
    seed: int,
    on_better: Callable[[Layout], None],
) -> None:
    """For `seconds`, exchange two blanks in the order, keep what is no longer, tell what is shorter."""
    until = time.monotonic() + seconds
    chance = random.Random(seed)
    shapes = {blank.key: tuple(_tried(shape) for shape in blank.shapes) for blank in problem.blanks}
    order = next(_orders(problem, 1))
    shortest = start.length if start else math.inf
    least = math.inf
    while time.monotonic() < until and len(order) > 1:
        other = list(order)
        i, j = chance.sample(range(len(order)), 2)
        other[i], other[j] = other[j], other[i]
        made = _lay(problem, sorted(other, key=lambda blank: not _fixed(blank)), shapes, least)
        if made is not None:
            order, least = other, made.length + EVEN_MM
            if made.length < shortest:
                shortest = made.length
                on_better(made)


def laid_like(problem: Problem, old: Layout) -> Layout | None:
    """Laid anew in the order in which the blanks lie along an old layout, each by the shape it has there:
    where it lay across the cloth, only moved along, or anywhere, whichever is shorter.

    For a layout of like blanks of other sizes. None where it does not name just the blanks and shapes of the
    problem, or that order leaves a blank without a place.
    """
    blanks = {blank.key: blank for blank in problem.blanks}
    spots = sorted(old.spots, key=lambda spot: (spot.at.real, spot.at.imag))
    if sorted(spot.blank for spot in spots) != sorted(blanks):
        return None
    if not all(0 <= spot.shape < len(blanks[spot.blank].shapes) for spot in spots):
        return None
    order = [blanks[spot.blank] for spot in spots]
    free = {spot.blank: (_tried(blanks[spot.blank].shapes[spot.shape]),) for spot in spots}
    kept = {spot.blank: (_kept(problem, blanks[spot.blank], spot),) for spot in spots}
    made = [one for shapes in (kept, free) if (one := _lay(problem, order, shapes, math.inf)) is not None]
    if not made:
        return None
    best = min(made, key=lambda layout: layout.length)
    shapes = {spot.blank: spot.shape for spot in spots}
    return replace(best, spots=tuple(replace(spot, shape=shapes[spot.blank]) for spot in best.spots))


def _kept(problem: Problem, blank: Blank, spot: Spot) -> _Tried:
    """The shape of an old spot, to lie about where it lay across the cloth."""
    tried = _tried(blank.shapes[spot.shape], LIKE_SHARE, LIKE_CORNERS)
    y = min(max(0.0, spot.at.imag), max(0.0, problem.bed.width - tried.size.imag))
    return replace(tried, across=(y, y + ASIDE_MM))


def _possible(problem: Problem) -> None:
    bed = problem.bed
    if not bed.width > 0.0 or (bed.length is not None and not bed.length > 0.0):
        raise CannotApply("no-cloth", "lay", "the cloth has no width or no length")
    for blank in problem.blanks:
        if not blank.shapes:
            raise CannotApply("no-way-to-lie", blank.key, "there is no way in which it may lie on this cloth")
        if any(polygon_of(shape.outline) is None for shape in blank.shapes):
            raise CannotApply("bad-outline", blank.key, "its outline crosses itself or has no area")
        least = min(_size(shape).imag for shape in blank.shapes)
        if least > bed.width + HAIR_MM:
            message = f"takes {least / 10:.1f} cm across, the cloth has {bed.width / 10:.1f} cm"
            raise CannotApply("too-wide", blank.key, message, "split it, or take a wider cloth")


def _orders(problem: Problem, tries: int) -> Iterator[list[Blank]]:
    """Largest first by area, length, width, then by area times chance; what has one place only before all."""
    measures: list[Callable[[Blank], float]] = [
        _area,
        lambda blank: _size(blank.shapes[0]).real,
        lambda blank: _size(blank.shapes[0]).imag,
    ]
    for number in range(tries):
        if number < len(measures):
            measure = measures[number]
        else:
            chance = random.Random(number)
            shares = {blank.key: _area(blank) * chance.uniform(0.5, 1.0) for blank in problem.blanks}

            def measure(blank: Blank, shares: dict[str, float] = shares) -> float:
                return shares[blank.key]

        yield sorted(problem.blanks, key=lambda blank: (not _fixed(blank), -measure(blank)))


def _fixed(blank: Blank) -> bool:
    return all(_one_place(shape) for shape in blank.shapes)


def _one_place(shape: Shape) -> bool:
    return all(rule is not None and rule.every <= 0.0 for rule in (shape.along, shape.across))


def _lay(
    problem: Problem, order: Sequence[Blank], shapes: Mapping[str, tuple[_Tried, ...]], limit: float | None
) -> Layout | None:
    """The blanks laid in that order; None as soon as that reaches `limit`."""
    laid: list[_Laid] = []
    spots: list[Spot] = []
    avoid = tuple(_counter_clockwise(ring) for ring in problem.bed.avoid)
    reach = 0.0
    for blank in order:
        best: tuple[float, float, int, Point] | None = None
        for index, tried in enumerate(shapes[blank.key]):
            most = best[0] if best else limit
            at = _place(problem.bed, avoid, laid, tried, problem.spacing, most)
            if at is not None and (best is None or (at.real + tried.size.real, at.imag) < best[:2]):
                best = (at.real + tried.size.real, at.imag, index, at)
        if best is None and limit is None:
            message = "there is no place for it: what lies there, or is to be avoided, takes every one"
            raise CannotApply("no-place", blank.key, message, "move what is fixed, or free its place")
        if best is None:
            return None
        spots.append(Spot(blank.key, best[2], best[3]))
        laid.append(_Laid(shapes[blank.key][best[2]], best[3]))
        reach = max(reach, best[0])
    return Layout(reach, tuple(spots)) if limit is None or reach < limit else None


def _place(
    bed: Bed, avoid: Sequence[Ring], laid: Sequence[_Laid], tried: _Tried, spacing: float, most: float | None
) -> Point | None:
    """The best place of one shape; with `most`, only where it ends no further than that."""
    along = tried.shape.along
    past = [0.0, *(one.at.real + one.tried.size.real for one in laid), *(p.real for r in avoid for p in r)]
    far = max(past) + spacing + (0.0 if along is None else max(along.every, along.at)) + HAIR_MM
    if most is not None:
        far = min(far, most - tried.size.real)
    low, high = tried.across
    box = Box(complex(0.0, max(0.0, low)), complex(far, min(high, bed.width - tried.size.imag)))
    taken = [
        tuple(p + one.at for p in ring)
        for one in laid
        for ring in no_fit(one.tried.core, tried.core, _between(one.tried.shape, tried.shape, spacing))
    ]
    taken += [ring for hole in avoid for ring in no_fit(hole, tried.core)]
    return best_place(box, taken, along, tried.shape.across)


def _between(one: Shape, other: Shape, spacing: float) -> float:
    """Room between two shapes: where neither can move, what the check lets pass is not asked for."""
    return max(0.0, spacing - SLACK_MM) if _one_place(one) and _one_place(other) else spacing


def _tried(shape: Shape, share: float = THIN_SHARE, corners: int = CORNERS) -> _Tried:
    """What has one place only is not thinned: two such pieces may lie as near to each other as they can."""
    outline = shape.outline if _one_place(shape) else thinned(shape.outline, share, corners)
    return _Tried(shape, _smaller(outline), _size(shape))


@lru_cache(maxsize=1024)
def _smaller(ring: Ring) -> Ring:
    """A ring set in by a hair; the ring itself where that leaves it in pieces, or sets a tip back too far."""
    import pyclipper

    offset = pyclipper.PyclipperOffset()
    whole = [(round(p.real * UNITS), round(p.imag * UNITS)) for p in ring]
    offset.AddPath(whole, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    made = offset.Execute(-HAIR_MM * UNITS)
    if len(made) != 1:
        return ring
    small = tuple(complex(x, y) / UNITS for x, y in made[0])
    back = max(min(abs(p - q) for q in small) for p in ring)
    return small if back <= MOST_BACK_MM else ring


def _size(shape: Shape) -> Point:
    return complex(max(p.real for p in shape.outline), max(p.imag for p in shape.outline))


def _area(blank: Blank) -> float:
    return _twice_area(blank.shapes[0].outline)


def _twice_area(ring: Ring) -> float:
    return sum((p.conjugate() * q).imag for p, q in zip(ring, ring[1:] + ring[:1], strict=True))


def _counter_clockwise(ring: Ring) -> Ring:
    return ring if _twice_area(ring) >= 0.0 else tuple(reversed(ring))
