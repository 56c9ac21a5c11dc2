"""Sweeps over a lay with overlaps: each blank that overlaps goes to the best place found for it.

Guided local search: pairs that go on overlapping weigh more with every sweep, so that what is in the way is
moved out of it (Voudouris and Tsang 1999; for packing outlines Egeblad, Nielsen and Odgaard 2007; both from
memory).
Compiled; driven by `settle`.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from cutonce.lay.field import Field, Floats, Ints
from cutonce.lay.overlap import FAR, depth, measure

ANYWHERE = 30
"""Places tried anywhere on the cloth for a blank that overlaps,"""

NEARBY = 20
"""and near where it lies."""

NEARBY_SHARE = 0.25
"""Near is within this share of its extent, either way."""

KEPT = 3
"""So many of them are bettered by small steps."""

COARSE, MIDDLE, FINE = 0.05, 0.002, 1e-5
"""Steps, as shares of the blanks' usual extent: the first, the last of those kept, the last of the best."""

NOWHERE = -1e9
"""Stands for a coordinate where there is none: no number at all would not survive fast arithmetic."""

HEAVIER, LIGHTER = (1.2, 2.0), 0.95
"""A pair that overlaps gains weight by a factor between these, the deepest most; others lose it again."""


@njit(cache=True)
def begin(seed: int) -> None:
    """Seed the compiled code's own chance."""
    np.random.seed(seed)


@njit(cache=True, fastmath=True)
def allowed(at: float, every: float, wanted: float, most: float) -> float:
    """The coordinate within 0..most that is nearest to `wanted` and that the rule allows; NOWHERE if none."""
    if most < 0.0:
        return NOWHERE
    if every < 0.0:
        return min(max(wanted, 0.0), most)
    if every == 0.0:
        return at if -1e-6 <= at <= most + 1e-6 else NOWHERE
    least, last = np.ceil((-1e-6 - at) / every), np.floor((most + 1e-6 - at) / every)
    if least > last:
        return NOWHERE
    return float(at + every * min(max(np.round((wanted - at) / every), least), last))


@njit(cache=True, fastmath=True)
def _within(reach: float) -> float:
    return (2.0 * np.random.random() - 1.0) * reach


@njit(cache=True, fastmath=True)
def _stepped(at: float, every: float, value: float, by: float, most: float) -> float:
    """A step from a coordinate: as long as wanted where it is free, whole repeats where it is not."""
    if every < 0.0 or by == 0.0:
        return min(max(value + by, 0.0), most)
    if every == 0.0:
        return value
    found = allowed(at, every, value + np.sign(by) * max(abs(by), every), most)
    return value if found == NOWHERE else found


@njit(cache=True, fastmath=True)
def _barred(field: Field, i: int, xs: Floats, ys: Floats, ways: Ints, bars: Floats, pairs: Ints) -> None:
    """For each way of blank i and each other: their pair, and the box on the cloth outside which it is clear.

    Side by side in memory: of all places tried most are told by these boxes alone.
    """
    shapes = len(field.width)
    for way in range(field.first_way[i], field.first_way[i + 1]):
        q = field.shape[way]
        w = way - field.first_way[i]
        for j in range(len(xs)):
            pair = field.shape[ways[j]] * shapes + q
            pairs[w, j] = pair
            bars[w, j, 0] = xs[j] + field.box[pair, 0]
            bars[w, j, 1] = ys[j] + field.box[pair, 1]
            bars[w, j, 2] = xs[j] + field.box[pair, 2]
            bars[w, j, 3] = ys[j] + field.box[pair, 3]
        bars[w, i, :2], bars[w, i, 2:] = FAR, -FAR


@njit(cache=True, fastmath=True)
def _cost(
    field: Field, i: int, w: int, x: float, y: float, most: float,
    xs: Floats, ys: Floats, weight: Floats, bars: Floats, pairs: Ints, near: Ints, count: int,
) -> float:  # fmt: skip
    """The weighted depths of blank i, by its way `w`, in those of `near`; given up once `most` is reached."""
    total: float = 0.0
    for k in range(count):
        j = near[k]
        if x <= bars[w, j, 0] or x >= bars[w, j, 2] or y <= bars[w, j, 1] or y >= bars[w, j, 3]:
            continue
        d = depth(field, pairs[w, j], x - xs[j], y - ys[j])
        if d > 0.0:
            total += weight[i, j] * d
            if total >= most:
                return total
    return total


@njit(cache=True, fastmath=True)
def _near(bars: Floats, w: int, x: float, y: float, reach: float, near: Ints) -> int:
    """Into `near` those that the blank can touch when it moves by up to `reach`; how many they are."""
    count = 0
    for j in range(bars.shape[1]):
        beside = x <= bars[w, j, 0] - reach or x >= bars[w, j, 2] + reach
        if not (beside or y <= bars[w, j, 1] - reach or y >= bars[w, j, 3] + reach):
            near[count] = j
            count += 1
    return count


@njit(cache=True, fastmath=True)
def _bettered(
    field: Field, i: int, way: int, x: float, y: float, found: float, step: float, last: float, end: float,
    xs: Floats, ys: Floats, weight: Floats, bars: Floats, pairs: Ints, near: Ints,
) -> tuple[float, float, float]:  # fmt: skip
    """Go down in steps along, across and aslant that grow with success and halve without."""
    shape, w = field.shape[way], way - field.first_way[i]
    wide, high = end - field.width[shape], max(field.bed_width - field.height[shape], 0.0)
    x_at, x_every, y_at, y_every = field.x_at[way], field.x_every[way], field.y_at[way], field.y_every[way]
    step_x, step_y, reach = step, step, 8.0 * step
    cx, cy = x, y
    count = _near(bars, w, x, y, reach, near)
    while (step_x > last or step_y > last) and found > 0.0:
        axis = np.random.randint(4)
        dx = 0.0 if axis == 1 else step_x
        dy = 0.0 if axis == 0 else (-step_y if axis == 3 else step_y)
        best, bx, by = found, x, y
        for sign in (1.0, -1.0):
            nx = _stepped(x_at, x_every, x, sign * dx, wide)
            ny = _stepped(y_at, y_every, y, sign * dy, high)
            if not (np.abs(nx - cx) <= reach and np.abs(ny - cy) <= reach):
                cx, cy = nx, ny
                count = _near(bars, w, cx, cy, reach, near)
            c = _cost(field, i, w, nx, ny, best, xs, ys, weight, bars, pairs, near, count)
            if c < best:
                best, bx, by = c, nx, ny
        factor = 1.1 if best < found else 0.5
        found, x, y = best, bx, by
        if axis > 1:
            factor = np.sqrt(factor)
        if axis != 1:
            step_x *= factor
        if axis != 0:
            step_y *= factor
    return found, x, y


@njit(cache=True, fastmath=True)
def _moved(
    field: Field, i: int, end: float, usual: float, xs: Floats, ys: Floats, ways: Ints, weight: Floats,
) -> bool:  # fmt: skip
    """Lay blank i where it overlaps least, by weight; whether it moved."""
    near, everyone = np.empty(len(xs), np.int64), np.arange(len(xs))
    first, choices = field.first_way[i], field.first_way[i + 1] - field.first_way[i]
    bars, pairs = np.empty((choices, len(xs), 4)), np.empty((choices, len(xs)), np.int64)
    _barred(field, i, xs, ys, ways, bars, pairs)
    here = _cost(field, i, ways[i] - first, xs[i], ys[i], FAR, xs, ys, weight, bars, pairs, everyone, len(xs))
    if here <= 0.0:
        return False
    costs, at_x, at_y = np.full(KEPT, FAR), np.zeros(KEPT), np.zeros(KEPT)
    by_way = np.zeros(KEPT, np.int64)
    costs[0], at_x[0], at_y[0], by_way[0] = here, xs[i], ys[i], ways[i]
    now = field.shape[ways[i]]
    mid_x, mid_y = xs[i] + field.width[now] / 2, ys[i] + field.height[now] / 2
    for k in range(ANYWHERE + NEARBY):
        way = first + np.random.randint(choices)
        shape = field.shape[way]
        wide, high = end - field.width[shape], field.bed_width - field.height[shape]
        if k < ANYWHERE:
            x, y = np.random.random() * wide, np.random.random() * high
        else:
            x = (
                mid_x
                - field.width[shape] / 2
                + (2 * np.random.random() - 1) * NEARBY_SHARE * field.width[now]
            )
            y = (
                mid_y
                - field.height[shape] / 2
                + (2 * np.random.random() - 1) * NEARBY_SHARE * field.height[now]
            )
        x = allowed(field.x_at[way], field.x_every[way], x, wide)
        y = allowed(field.y_at[way], field.y_every[way], y, max(high, 0.0))
        if x == NOWHERE or y == NOWHERE:
            continue
        c = _cost(
            field, i, way - first, x, y, costs[KEPT - 1], xs, ys, weight, bars, pairs, everyone, len(xs)
        )
        if c < costs[KEPT - 1]:
            rank = KEPT - 1
            while rank > 0 and costs[rank - 1] > c:
                costs[rank], at_x[rank], at_y[rank] = costs[rank - 1], at_x[rank - 1], at_y[rank - 1]
                by_way[rank] = by_way[rank - 1]
                rank -= 1
            costs[rank], at_x[rank], at_y[rank], by_way[rank] = c, x, y, way
            if c == 0.0:
                break
    best, best_x, best_y, best_way = FAR, 0.0, 0.0, ways[i]
    for k in range(KEPT):
        if costs[k] < FAR and best > 0.0:
            c, x, y = _bettered(
                field, i, by_way[k], at_x[k], at_y[k], costs[k], COARSE * usual, MIDDLE * usual, end,
                xs, ys, weight, bars, pairs, near,
            )  # fmt: skip
            if c < best:
                best, best_x, best_y, best_way = c, x, y, by_way[k]
    if best > 0.0:
        best, best_x, best_y = _bettered(
            field, i, best_way, best_x, best_y, best, MIDDLE * usual, FINE * usual, end,
            xs, ys, weight, bars, pairs, near,
        )  # fmt: skip
    if best >= here:
        return False
    xs[i], ys[i], ways[i] = best_x, best_y, best_way
    return True


@njit(cache=True, fastmath=True)
def sweep(
    field: Field, end: float, usual: float, none: float, xs: Floats, ys: Floats, ways: Ints,
    deep: Floats, weight: Floats, least: Floats,
) -> float:  # fmt: skip
    """One sweep over all that overlap, then the weights; the sum of what is left, each depth times `least`.

    `least` holds what a pair weighs at first: large pieces weigh more, so that small ones make way.
    """
    moving, count = field.movable, len(xs)
    for i in np.random.permutation(moving):
        if deep[i].sum() > 0.0 and _moved(field, i, end, usual, xs, ys, ways, weight):
            measure(field, i, xs, ys, ways, deep, none)
    total = worst = 0.0
    for i in range(count):
        for j in range(min(i, moving)):
            total += least[i, j] * deep[i, j]
            worst = max(worst, least[i, j] * deep[i, j])
    low, high = HEAVIER
    for i in range(count):
        for j in range(min(i, moving)):
            if deep[i, j] > 0.0:
                weight[i, j] *= low + (high - low) * least[i, j] * deep[i, j] / worst
            else:
                weight[i, j] = max(least[i, j], LIGHTER * weight[i, j])
            weight[j, i] = weight[i, j]
    return total
