"""Her cloth as beds for the search: what is usable, where the flaws lie, remnants laid one after another."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from cutonce.cloth.cloth import Cloth, Flaw, Remnant
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.motion import Motion, Point, shifting
from cutonce.lay.outline import polygons_in, ring_of
from cutonce.lay.plan import Way
from cutonce.lay.problem import Bed, Ring

GAP_MM = 10.0
"""Between two remnants laid out one after another: nothing spans it."""

_SIDES = 32
"""Of the polygon round a flaw: it reaches at most 0.5 % of the radius beyond it."""

_FAR_MM = 1e5
"""Further than any lay reaches: 100 m, still exact to 0.01 mm in 32 bits."""

MAIN = "cloth"
"""The name of the section that is her length of cloth."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a bed: from `start` on, `room` long (None: without limit), `width` as it lies on the table.

    `low` is where the bed's y = 0 lies on it, counted from the selvedge or a remnant's edge; `margin` is kept
    free before it.
    """

    name: str
    start: float
    room: float | None
    width: float
    low: float = 0.0
    margin: float = 0.0


@dataclass(frozen=True, slots=True)
class Stage:
    """Cloth laid one way, to be filled by one search. `before` is the length laid out before it.

    `fold` is where it is folded: lengthwise, from the near selvedge; crosswise, from the cut end, if that is
    settled beforehand.
    """

    way: Way
    bed: Bed
    parts: tuple[Part, ...]
    before: float = 0.0
    fold: float | None = None


def usable_check(cloth: Cloth) -> None:
    """Raises BadInput for cloth that is none."""
    if not 0 < cloth.usable <= cloth.width:
        message = f"usable over {cloth.usable:g} mm of a width of {cloth.width:g} mm"
        raise BadInput("bad-width", cloth.name, message, "the usable width is part of the width")
    if cloth.length is not None and cloth.length <= 0 and not cloth.remnants:
        raise BadInput("no-cloth", cloth.name, "there is no length of it and there are no remnants")
    if cloth.length is not None and cloth.length < 0:
        raise BadInput("no-cloth", cloth.name, f"its length is {cloth.length:g} mm")


def open_stage(cloth: Cloth, margin: float, before: float = 0.0, remnants: bool = True) -> Stage:
    """Single layer, right side up; remnants first, so that they are used up before her length is cut.

    `before` is the length of cloth that a folded section has taken.
    """
    parts: list[Part] = []
    avoid: list[Ring] = []
    rest = cloth.remnants if remnants else ()
    width = max([cloth.usable, *(_size(r).imag for r in rest)])
    reached = 0.0
    for remnant in rest:
        size = _size(remnant)
        parts.append(Part(remnant.name, reached, size.real, size.imag))
        avoid += _lacking(remnant, reached, width)
        avoid.append(_box(reached + size.real, 0.0, reached + size.real + GAP_MM, width))
        reached += size.real + GAP_MM
    room = _room(cloth, margin, before)
    main = room is None or room > 0 or not rest
    if main:
        side = (cloth.width - cloth.usable) / 2
        parts.append(Part(MAIN, reached, room, cloth.width, side, margin))
        shift = complex(reached - margin - before, -side)
        avoid += [flaw_ring(f.at + shift, f.radius) for f in cloth.flaws]
        if width > cloth.usable:
            avoid.append(_box(reached, cloth.usable, _FAR_MM, width))
    end = None if main and room is None else reached + (room or 0.0) if main else reached - GAP_MM
    return Stage("open", Bed(width, end, _within(avoid, width)), tuple(parts), before)


def fold_line(cloth: Cloth, on_stripe: bool) -> float:
    """Where cloth is folded lengthwise, from the near selvedge: along its middle, or, so that the stripes of
    both layers lie on each other, along the middle of the stripe next to it.

    >>> from cutonce.cloth.cloth import Repeat
    >>> fold_line(Cloth("c", 1000.0, 980.0, stripe_across=Repeat(70.0, 20.0)), True)
    510.0
    """
    middle, repeat = cloth.width / 2, cloth.stripe_across
    if repeat is None or not on_stripe:
        return middle
    return middle - math.remainder(middle - repeat.offset, repeat.every)


def lengthwise_stage(cloth: Cloth, margin: float, on_stripe: bool = False) -> Stage:
    """Folded lengthwise, the near layer on top; the fold is at y = 0, flaws of both layers lie as folded.

    Raises CannotApply where the stripe to fold on leaves no two layers.
    """
    fold, side = fold_line(cloth, on_stripe), (cloth.width - cloth.usable) / 2
    half = min(fold, cloth.width - fold) - side
    if half <= 0:
        message = "its repeat is so wide that no stripe lies near its middle to be folded on"
        raise CannotApply("no-fold", cloth.name, message, "lay it open, or match nothing")
    avoid = [
        flaw_ring(complex(f.at.real - margin, turn * abs(f.at.imag - fold)), f.radius)
        for f in cloth.flaws
        for turn in (1, -1)
    ]
    room = _room(cloth, margin, 0.0)
    part = Part(MAIN, 0.0, room, half + side, 0.0, margin)
    return Stage("folded lengthwise", Bed(half, room, _within(avoid, half)), (part,), 0.0, fold)


def crosswise_stage(cloth: Cloth, margin: float) -> Stage:
    """Folded across; the bed is counted from the fold. With flaws the fold lies at half the length at hand.

    Raises CannotApply on cloth with a one-way nap, whose upper layer would lie upside down, and for flaws
    on cloth of no known length.
    """
    if cloth.nap == "one-way":
        message = "cannot be folded crosswise: its nap would run up in one layer and down in the other"
        raise CannotApply("nap-forbids-fold", cloth.name, message, "fold it lengthwise or lay it open")
    if cloth.flaws and cloth.length is None:
        message = "has flaws but no length: folded crosswise, where they come to lie is not known"
        raise CannotApply("no-length", cloth.name, message, "give the length at hand")
    room = None if cloth.length is None else cloth.length / 2 - margin
    fold = cloth.length / 2 if cloth.flaws and cloth.length is not None else None
    side = (cloth.width - cloth.usable) / 2
    avoid = [
        flaw_ring(_from_fold(f, fold, side + cloth.usable), f.radius) for f in cloth.flaws if fold is not None
    ]
    part = Part(MAIN, 0.0, room, cloth.width, side, margin)
    return Stage(
        "folded crosswise", Bed(cloth.usable, room, _within(avoid, cloth.usable)), (part,), 0.0, fold
    )


def _from_fold(flaw: Flaw, fold: float, top: float) -> Point:
    return complex(abs(fold - flaw.at.real), top - flaw.at.imag)


def part_at(stage: Stage, x: float) -> int:
    """The index of the part that holds a place x of the bed."""
    return max((i for i, p in enumerate(stage.parts) if p.start <= x), default=0)


def to_section(stage: Stage, part: int, cloth: Cloth) -> Motion:
    """From places on the bed to places in the section: x from its start (crosswise: from the fold), y
    across."""
    here = stage.parts[part]
    if stage.way == "folded crosswise":
        return Motion(-1 + 0j, complex(0, here.low + cloth.usable))
    return shifting(complex(here.margin - here.start, here.low))


def _room(cloth: Cloth, margin: float, before: float) -> float | None:
    return None if cloth.length is None else max(0.0, cloth.length - before - 2 * margin)


def _size(remnant: Remnant) -> complex:
    xs, ys = [p.real for p in remnant.outline], [p.imag for p in remnant.outline]
    return complex(max(xs) - min(xs), max(ys) - min(ys))


def _lacking(remnant: Remnant, start: float, width: float) -> list[Ring]:
    """What a remnant lacks of the bed from `start` on, over its own length."""
    from shapely import Polygon, box

    low = complex(min(p.real for p in remnant.outline), min(p.imag for p in remnant.outline))
    outline = Polygon([((p - low).real + start, (p - low).imag) for p in remnant.outline])
    if not outline.is_valid or outline.area <= 0:
        raise BadInput("bad-outline", remnant.name, "the remnant's outline crosses itself or has no area")
    return [
        ring_of(p) for p in polygons_in(box(start, 0, start + _size(remnant).real, width).difference(outline))
    ]


def flaw_ring(at: Point, radius: float) -> Ring:
    """A regular polygon that holds the circle."""
    out = radius / math.cos(math.pi / _SIDES)
    return tuple(at + out * cmath.exp(2j * math.pi * k / _SIDES) for k in range(_SIDES))


def _box(low_x: float, low_y: float, high_x: float, high_y: float) -> Ring:
    return complex(low_x, low_y), complex(high_x, low_y), complex(high_x, high_y), complex(low_x, high_y)


def _within(rings: list[Ring], width: float) -> tuple[Ring, ...]:
    """Those that reach into the bed."""
    return tuple(
        r
        for r in rings
        if max(p.imag for p in r) > 0 and min(p.imag for p in r) < width and max(p.real for p in r) > 0
    )
