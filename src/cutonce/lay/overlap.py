"""How deep blanks lie in each other: compiled arithmetic on no-fit polygons.

Depth is the shortest way out: the distance to the nearest edge of the no-fit polygon, 0 outside it.
"""

from __future__ import annotations

import math

from numba import njit

from cutonce.lay.field import Field, Floats, Ints

FAR = 1e300
"""Farther than anything; no infinity, which would not survive fast arithmetic."""


@njit(cache=True, fastmath=True)
def depth(field: Field, pair: int, x: float, y: float) -> float:
    """How deep shape q lies in shape p when its origin is at (x, y) from p's; `pair` is p * S + q."""
    edges, first, last = field.edges, field.first_edge[pair], field.first_edge[pair + 1]
    best = FAR
    if field.convex[pair]:
        for k in range(first, last):
            d = edges[k, 5] * (x - edges[k, 0]) + edges[k, 6] * (y - edges[k, 1])
            if d <= 0.0:
                return 0.0
            best = min(best, d)
        return best
    if not _within(edges, first, last, x, y):
        return 0.0
    for k in range(first, last):
        px, py = x - edges[k, 0], y - edges[k, 1]
        t = min(max((px * edges[k, 2] + py * edges[k, 3]) * edges[k, 4], 0.0), 1.0)
        qx, qy = px - t * edges[k, 2], py - t * edges[k, 3]
        best = min(best, qx * qx + qy * qy)
    return math.sqrt(best)


@njit(cache=True, fastmath=True)
def _within(edges: Floats, first: int, last: int, x: float, y: float) -> bool:
    """Even-odd rule."""
    odd = False
    for k in range(first, last):
        y0, dy = edges[k, 1], edges[k, 3]
        if (y0 > y) != (y0 + dy > y) and ((x - edges[k, 0]) * dy < (y - y0) * edges[k, 2]) == (dy > 0.0):
            odd = not odd
    return odd


@njit(cache=True, fastmath=True)
def way_out(field: Field, pair: int, x: float, y: float, out: Floats) -> float:
    """The depth, and into `out` the unit direction of the shortest way out."""
    edges, first, last = field.edges, field.first_edge[pair], field.first_edge[pair + 1]
    best = FAR
    if field.convex[pair]:
        for k in range(first, last):
            d = edges[k, 5] * (x - edges[k, 0]) + edges[k, 6] * (y - edges[k, 1])
            if d <= 0.0:
                return 0.0
            if d < best:
                best = d
                out[0], out[1] = -edges[k, 5], -edges[k, 6]
        return best
    if not _within(edges, first, last, x, y):
        return 0.0
    out[0], out[1] = 1.0, 0.0
    for k in range(first, last):
        px, py = x - edges[k, 0], y - edges[k, 1]
        t = min(max((px * edges[k, 2] + py * edges[k, 3]) * edges[k, 4], 0.0), 1.0)
        qx, qy = px - t * edges[k, 2], py - t * edges[k, 3]
        d = qx * qx + qy * qy
        if d < best:
            best = d
            if d > 1e-24:
                out[0], out[1] = -qx / math.sqrt(d), -qy / math.sqrt(d)
    return math.sqrt(best)


@njit(cache=True, fastmath=True)
def apart(field: Field, pair: int, x: float, y: float, reach: float) -> bool:
    """Whether the point is farther than `reach` from the box round the no-fit polygon."""
    box = field.box
    beside = x <= box[pair, 0] - reach or x >= box[pair, 2] + reach
    return bool(beside or y <= box[pair, 1] - reach or y >= box[pair, 3] + reach)


@njit(cache=True, fastmath=True)
def measure(field: Field, i: int, xs: Floats, ys: Floats, ways: Ints, deep: Floats, none: float) -> None:
    """Fill row and column i of the matrix of depths; less than `none` counts as 0."""
    shapes = len(field.width)
    q = field.shape[ways[i]]
    for j in range(len(xs)):
        if j == i:
            continue
        pair = field.shape[ways[j]] * shapes + q
        dx, dy = xs[i] - xs[j], ys[i] - ys[j]
        d = 0.0 if apart(field, pair, dx, dy, 0.0) else depth(field, pair, dx, dy)
        if d < none:
            d = 0.0
        deep[i, j] = d
        deep[j, i] = d
