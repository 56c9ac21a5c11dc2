"""No-fit polygons: where one outline may not be beside another.

The positions t at which the interior of `b + t` meets the interior of `a` are the Minkowski sum of `a` and
`-b`. Its winding numbers are those of the convolution of the two boundaries: each edge of one is laid at
those corners of the other whose turn takes in its direction, backwards where the corner turns inward (Guibas,
Ramshaw, Stolfi 1983; from memory). That is a few hundred edges where every edge with every edge would be many
thousand. The integer polygons of Clipper (through pyclipper) make a region of them.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence

from cutonce.lay.problem import Ring

_UNITS = 2e8
"""Integer units along the larger of the two outlines: fine beyond any cloth, and sums stay exact."""

_LEAST_WIDTH = 20.0
"""Units: between parallel edges of the two outlines rounding leaves slits, which are no places."""

_Whole = tuple[int, int]

_Trail = list[_Whole]


def no_fit(a: Ring, b: Ring, spacing: float = 0.0) -> tuple[Ring, ...]:
    """The region of positions of b's origin, a's origin at 0, where the two overlap or come nearer than
    `spacing`; where positions on its edge touch. Rings are counter-clockwise, holes clockwise. A hole is a
    place for `b` wholly within a bay of `a`.

    >>> square = (0j, 2 + 0j, 2 + 2j, 2j)
    >>> [sorted((p.real, p.imag) for p in ring) for ring in no_fit(square, square)]
    [[(-2.0, -2.0), (-2.0, 2.0), (2.0, -2.0), (2.0, 2.0)]]
    """
    import pyclipper

    unit = _UNITS / max(max(abs(p.real), abs(p.imag)) for p in (*a, *b))
    trails = [trail for trail in _convolution(_whole(a, unit), _whole(b, -unit)) if len(trail) > 2]
    if not trails:
        return ()
    clipper = pyclipper.Pyclipper()
    clipper.AddPaths(trails, pyclipper.PT_SUBJECT, True)
    found = clipper.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    rings = [ring for ring in found if _is_wide(ring)]
    if spacing:
        wider = pyclipper.PyclipperOffset(2.0, 0.25)
        wider.AddPaths(rings, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
        rings = wider.Execute(spacing * unit)
    return tuple(tuple(complex(x / unit, y / unit) for x, y in ring) for ring in rings)


def _is_wide(ring: Sequence[_Whole]) -> bool:
    """Whether a ring is no slit: its area against its length."""
    area = length = 0.0
    for p, q in zip(ring, [*ring[1:], ring[0]], strict=True):
        area += p[0] * q[1] - q[0] * p[1]
        length += math.hypot(q[0] - p[0], q[1] - p[1])
    return abs(area) > _LEAST_WIDTH * length


def _whole(ring: Ring, unit: float) -> _Trail:
    """In integers, counter-clockwise, no point repeated. A negative unit turns the ring half round."""
    points: _Trail = []
    for p in ring:
        point = (round(p.real * unit), round(p.imag * unit))
        if not points or point != points[-1]:
            points.append(point)
    while len(points) > 1 and points[0] == points[-1]:
        points.pop()
    area = sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(points, points[1:] + points[:1], strict=True))
    return points if area >= 0 else points[::-1]


def _convolution(a: _Trail, b: _Trail) -> list[_Trail]:
    """Closed trails whose winding number at t is in how many parts `a` and the reflected `b` meet there.

    At a sum of two corners as many edges arrive as leave, whatever the directions: of two edges with the very
    same direction, one counts as the earlier throughout (`bisect_right` against `bisect_left`). So trails can
    be walked in any order. They depend on it, the winding numbers do not.
    """
    n, m = len(a), len(b)
    leaving: dict[int, list[int]] = {}
    along_a, along_b = _directions(a), _directions(b)
    for i, j, forward in _taken_in(along_a, along_b, bisect_right):
        p, q = i * m + j, (i + 1) % n * m + j
        leaving.setdefault(p if forward else q, []).append(q if forward else p)
    for j, i, forward in _taken_in(along_b, along_a, bisect_left):
        p, q = i * m + j, i * m + (j + 1) % m
        leaving.setdefault(p if forward else q, []).append(q if forward else p)
    return [
        [(a[at // m][0] + b[at % m][0], a[at // m][1] + b[at % m][1]) for at in trail]
        for trail in _walked(leaving)
    ]


def _directions(ring: _Trail) -> list[float]:
    return [math.atan2(q[1] - p[1], q[0] - p[0]) for p, q in zip(ring, ring[1:] + ring[:1], strict=True)]


def _taken_in(
    edges: Sequence[float], corners: Sequence[float], cut: Callable[[Sequence[float], float], int]
) -> Iterator[tuple[int, int, bool]]:
    """Edges, by their directions, that the turns of the corners of another ring take in; whether forwards.

    A corner's number is that of the edge that leaves it.
    """
    order = sorted(range(len(edges)), key=edges.__getitem__)
    keys = [edges[k] for k in order]
    for corner, after in enumerate(corners):
        before = corners[corner - 1]
        turn = math.remainder(after - before, math.tau)
        start, end = (before, after) if turn > 0.0 else (after, before)
        low, high = cut(keys, start), cut(keys, end)
        if turn == 0.0:
            continue
        for k in range(low, high) if start <= end else (*range(low, len(keys)), *range(high)):
            yield order[k], corner, turn > 0.0


def _walked(leaving: dict[int, list[int]]) -> Iterator[list[int]]:
    """Closed walks that use each edge once, along edges from node to node."""
    while leaving:
        first = at = next(iter(leaving))
        walk: list[int] = []
        while not walk or at != first:
            walk.append(at)
            ways = leaving[at]
            to = ways.pop()
            if not ways:
                del leaving[at]
            at = to
        yield walk
