"""A problem as arrays: what the compiled search reads.

Every distinct outline is a shape; what is to be avoided is a shape that stays. For each pair of shapes stands
the no-fit polygon: overlap is then a question about a point, its depth the distance to the nearest edge.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from cutonce.geometry.motion import Point
from cutonce.lay.nofit import no_fit as _no_fit
from cutonce.lay.problem import Problem, Ring, Rule
from cutonce.lay.thin import thinned

THIN_SHARE = 0.0005
"""By so much of its area an outline of many corners may grow: fewer corners are searched faster."""

MANY_CORNERS = 16
"""Outlines of fewer are left as they are."""

FREE = -1.0
"""Stands for `every` where a coordinate has no rule; 0 fixes it."""

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

no_fit = lru_cache(maxsize=65536)(_no_fit)
"""Kept: a process is asked again and again for the same pieces."""


class Field(NamedTuple):
    """The arrays. With S shapes, the pair `p * S + q` is shape q beside shape p.

    `width`, `height` (S): the shapes' extents. Blank i lies by one of the ways `first_way[i]` up to
    `first_way[i + 1]`; a way has its `shape` and its rules: `x_at`, `x_every`, `y_at`, `y_every` (see FREE).
    The first `movable` blanks move; the others are what is to be avoided. `edges` (7 columns: start x, y,
    direction dx, dy, 1 / length squared, inward unit normal x, y) of pair k are `first_edge[k]` up to
    `first_edge[k + 1]`; `box` (4 columns) is round them, and `convex` says that they are one convex ring.
    `size` (S): the shapes' areas.
    """

    movable: int
    bed_width: float
    width: Floats
    height: Floats
    size: Floats
    first_way: Ints
    shape: Ints
    x_at: Floats
    x_every: Floats
    y_at: Floats
    y_every: Floats
    edges: Floats
    first_edge: Ints
    convex: NDArray[np.bool_]
    box: Floats


@lru_cache(maxsize=4)
def field_of(problem: Problem) -> tuple[Field, Floats, Floats]:
    """The arrays of a problem, and where the shapes to be avoided lie (x and y, one each).

    Kept, for a search that takes turns at one problem: they are to be read only.
    """
    rings: dict[Ring, int] = {}
    ways: list[tuple[int, Rule | None, Rule | None]] = []
    firsts = [0]
    for blank in problem.blanks:
        ways += [(rings.setdefault(s.outline, len(rings)), s.along, s.across) for s in blank.shapes]
        firsts.append(len(ways))
    moving = len(rings)
    outlines = [_thin(ring) for ring in rings]
    corners = []
    for ring in problem.bed.avoid:
        corner = complex(min(p.real for p in ring), min(p.imag for p in ring))
        corners.append(corner)
        ways.append((len(outlines), None, None))
        outlines.append(tuple(p - corner for p in ring))
        firsts.append(len(ways))
    edges, first_edge, convex, box = _pairs(outlines, moving, problem.spacing)
    field = Field(
        len(problem.blanks),
        problem.bed.width,
        np.array([max(p.real for p in ring) for ring in outlines]),
        np.array([max(p.imag for p in ring) for ring in outlines]),
        np.array([_area(ring) for ring in outlines]),
        np.array(firsts),
        np.array([shape for shape, _, _ in ways]),
        *_rules([along for _, along, _ in ways]),
        *_rules([across for _, _, across in ways]),
        edges,
        first_edge,
        convex,
        box,
    )
    return field, np.array([c.real for c in corners]), np.array([c.imag for c in corners])


def _thin(ring: Ring) -> Ring:
    return ring if len(ring) <= MANY_CORNERS else thinned(ring, THIN_SHARE)


def _rules(rules: Sequence[Rule | None]) -> tuple[Floats, Floats]:
    at = np.array([rule.at if rule else 0.0 for rule in rules])
    return at, np.array([rule.every if rule else FREE for rule in rules])


def _pairs(
    outlines: Sequence[Ring], moving: int, spacing: float
) -> tuple[Floats, Ints, NDArray[np.bool_], Floats]:
    """Edges, where each pair's begin, whether they are convex, and the boxes."""
    edges: list[Floats] = []
    firsts, convex, boxes = [0], [], []
    for p, one in enumerate(outlines):
        for q, two in enumerate(outlines):
            rings: tuple[Ring, ...] = ()
            if q < moving:
                rings = _beside(one, two, spacing if p < moving else 0.0, p > q and p < moving)
            rows = [_edges(np.array(ring)) for ring in rings]
            edges += rows
            firsts.append(firsts[-1] + sum(map(len, rows)))
            points = np.concatenate([np.array(ring) for ring in rings]) if rings else np.zeros(1, complex)
            boxes.append((points.real.min(), points.imag.min(), points.real.max(), points.imag.max()))
            convex.append(len(rings) == 1 and _is_convex(rows[0]))
    table = np.concatenate(edges) if edges else np.zeros((0, 7))
    return table, np.array(firsts), np.array(convex, np.bool_), np.array(boxes)


def _beside(one: Ring, two: Ring, spacing: float, turned: bool) -> tuple[Ring, ...]:
    """Where `two` may not be beside `one`; with `turned` from that of `one` beside `two`, which is known."""
    if not turned:
        return no_fit(one, two, spacing)
    return tuple(tuple(-p for p in ring) for ring in no_fit(two, one, spacing))


def _edges(ring: NDArray[np.complex128]) -> Floats:
    along = np.roll(ring, -1) - ring
    keep = np.abs(along) > 0.0
    start, along = ring[keep], along[keep]
    length = np.abs(along)
    inward = 1j * along / length
    columns = (start.real, start.imag, along.real, along.imag, length**-2, inward.real, inward.imag)
    return np.stack(columns, axis=1)


def _is_convex(rows: Floats) -> bool:
    along = rows[:, 2] + 1j * rows[:, 3]
    turn = np.conj(along) * np.roll(along, -1)
    return bool(np.all(turn.imag >= -1e-9 * np.abs(turn)) and abs(np.angle(turn).sum() - 2 * np.pi) < 1e-3)


def _area(ring: Sequence[Point]) -> float:
    points = np.array(ring)
    return float(abs((np.conj(points) * np.roll(points, -1)).imag.sum()) / 2)
