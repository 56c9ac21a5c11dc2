"""All blanks pushed out of each other at once, each pair by half its depth: small overlaps spread and vanish.

What moves of single blanks cannot do where all lie close: everything shifts a little. Compiled.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from cutonce.lay.field import Field, Floats, Ints
from cutonce.lay.overlap import apart, way_out

PAIRS_EACH = 40
"""No blank has more neighbours than this on average; pairs beyond are left to the sweeps."""

AGAIN = 10
"""Rounds after which neighbours are looked up again,"""

LOOK, SLOWEST = 25, 0.9
"""and rounds after which it is given up, unless what is left has fallen to this share."""


@njit(cache=True, fastmath=True)
def relax(
    field: Field, end: float, usual: float, slack: float, rounds: int, xs: Floats, ys: Floats, ways: Ints,
) -> float:  # fmt: skip
    """Push for up to `rounds`; the sum of depths left, 0 where none is more than `slack` / 2.

    Coordinates with a rule stay as they are; the other one takes the push. Each pair is parted by `slack`
    more than it is deep, so that rounding leaves nothing.
    """
    moving, shapes = field.movable, len(field.width)
    pairs = np.empty((len(xs) * PAIRS_EACH, 2), np.int64)
    out = np.zeros(2)
    count = 0
    before = 1e300
    for turn in range(rounds):
        if turn % AGAIN == 0:
            count = _near_pairs(field, 0.05 * usual, xs, ys, ways, pairs)
        total = 0.0
        for k in range(count):
            i, j = pairs[k, 0], pairs[k, 1]
            pair = field.shape[ways[j]] * shapes + field.shape[ways[i]]
            dx, dy = xs[i] - xs[j], ys[i] - ys[j]
            if apart(field, pair, dx, dy, 0.0):
                continue
            deep = way_out(field, pair, dx, dy, out)
            if deep > slack / 2:
                total += deep
            if deep > 0.0:
                by = (deep + slack) * (0.5 if j < moving else 1.0)
                _push(field, i, end, by, out, xs, ys, ways)
                if j < moving:
                    _push(field, j, end, -by, out, xs, ys, ways)
        if total == 0.0:
            return 0.0
        if turn % LOOK == LOOK - 1:
            if total > SLOWEST * before:
                return total
            before = total
    return total


@njit(cache=True, fastmath=True)
def _near_pairs(field: Field, reach: float, xs: Floats, ys: Floats, ways: Ints, pairs: Ints) -> int:
    moving, shapes = field.movable, len(field.width)
    count = 0
    for i in range(moving):
        for j in range(len(xs)):
            if i <= j < moving or count == len(pairs):
                continue
            pair = field.shape[ways[j]] * shapes + field.shape[ways[i]]
            if not apart(field, pair, xs[i] - xs[j], ys[i] - ys[j], reach):
                pairs[count, 0], pairs[count, 1] = i, j
                count += 1
    return count


@njit(cache=True, fastmath=True)
def _push(
    field: Field, i: int, end: float, by: float, out: Floats, xs: Floats, ys: Floats, ways: Ints
) -> None:
    """Move blank i along `out`, or along what its rules leave of it, then farther, but thrice at most."""
    way = ways[i]
    shape = field.shape[way]
    ux = out[0] if field.x_every[way] < 0.0 else 0.0
    uy = out[1] if field.y_every[way] < 0.0 else 0.0
    free = ux * ux + uy * uy
    if free == 0.0:
        return
    by = by / max(free, 1.0 / 3.0)
    if ux != 0.0:
        xs[i] = min(max(xs[i] + by * ux, 0.0), max(end - field.width[shape], 0.0))
    if uy != 0.0:
        ys[i] = min(max(ys[i] + by * uy, 0.0), max(field.bed_width - field.height[shape], 0.0))
