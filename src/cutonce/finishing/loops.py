"""Small loops of a parallel curve: where an inside turn is tighter than the allowance, the line folds back
and crosses itself. The cloth is cut where the two sides cross; the loop between is no edge of anything."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from cutonce.geometry.curve import Curve, apart, box_of
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, area, ending_at, starting_at
from cutonce.geometry.tolerance import SAME_POINT_MM

_MOST = 8
"""More loops than this in one line are no tight turns but a wrong allowance."""


def folds_back(path: Path) -> bool:
    """Does the path turn back on itself anywhere, within a curve or from one to the next?"""
    before: complex | None = None
    for curve in path:
        u, v = curve.tangent(0), curve.tangent(1)
        if (u.conjugate() * v).real < 0 or (before is not None and (before.conjugate() * u).real < 0):
            return True
        before = v
    return False


def without_loops(path: Path, longest: float) -> tuple[Path, tuple[Point, ...]]:
    """The path with loops of up to `longest` mm cut off where it crosses itself, and the places.

    A line that folds back at an inside turn of a counter-clockwise outline loops counter-clockwise; only such
    loops are cut. Longer ones stay: there the allowance itself is wrong, and a check reports the crossing.
    """
    spots: list[Point] = []
    for _ in range(_MOST):
        found = _first_loop(path, longest)
        if found is None:
            break
        path, spot = found
        spots.append(spot)
    return path, tuple(spots)


def closed_without_loops(line: Path, longest: float) -> tuple[Path, tuple[Point, ...]]:
    """The same for a closed line, wherever it happens to start."""
    line, spots = without_loops(line, longest)
    half = len(line) // 2
    line, more = without_loops((*line[half:], *line[:half]), longest)
    return line, (*spots, *more)


def _runs_along(curve: Curve, way: complex) -> bool:
    """Does the curve only ever advance in a direction? Curves end to end that all do so never meet again."""
    back = way.conjugate()
    return all(((q - p) * back).real > 0 for p, q in pairwise(curve.points))


def _first_loop(path: Path, longest: float) -> tuple[Path, Point] | None:
    """Cut off the longest loop that begins on the first curve from which one within reach begins."""
    boxes = [box_of(c.points) for c in path]
    for i in range(len(path)):
        best: tuple[float, int, float, float] | None = None
        between = 0.0
        way = path[i].tangent(1)
        onward = _runs_along(path[i], way)
        for j in range(i + 1, len(path)):
            onward = onward and _runs_along(path[j], way)
            clear = onward or apart(boxes[i], boxes[j])
            for t, u in () if clear else meetings(path[i], path[j]):
                size = between + (1 - t) * path[i].length + u * path[j].length
                if SAME_POINT_MM * 10 < size <= longest and (best is None or size > best[0]):
                    loop = (path[i].part(t, 1), *path[i + 1 : j], path[j].part(0, u))
                    if area(loop) > 0:
                        best = (size, j, t, u)
            between += path[j].length
            if between > longest:
                break
        if best is not None:
            _, j, t, u = best
            spot = path[i].at(t)
            ends = path[i].part(0, t), replace(path[j].part(u, 1), a=spot)
            kept = [c for c in ends if c.length > SAME_POINT_MM]
            return _joined((*path[:i], *kept, *path[j + 1 :]), path[-1].end), spot
    return None


def _joined(path: Path, end: Point) -> Path:
    """Curves end to end again, where one of no length among them was left out."""
    out = list(path)
    for k in range(1, len(out)):
        out[k] = starting_at(out[k], out[k - 1].end)
    out[-1] = ending_at(out[-1], end)
    return tuple(out)
