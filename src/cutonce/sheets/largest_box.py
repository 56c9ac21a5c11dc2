"""The largest upright rectangle in an area: near enough to plan by, never too large."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutonce.geometry.curve import Bounds, box_of
from cutonce.geometry.motion import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_CELLS = 64
"""Cells along the longer side of the area: the rectangle found is at most two cells short each way."""


def largest_box(ring: tuple[Point, ...]) -> Bounds | None:
    """The largest rectangle along the axes that a grid over a closed polygon holds; None for a sliver.

    It lies wholly inside. Largest by area, found over columns by the largest rectangle under a histogram.

    >>> largest_box((0j, 640 + 0j, 640 + 320j, 320j))
    (0.0, 0.0, 640.0, 320.0)
    """
    left, low, right, high = box_of(ring)
    if right <= left or high <= low:
        return None
    cell = max(right - left, high - low) / _CELLS
    columns, rows = max(1, int((right - left) / cell)), max(1, int((high - low) / cell))
    wide, tall = (right - left) / columns, (high - low) / rows
    best = (0, 0, 0, 0, 0)
    heights = [0] * columns
    for row, full in enumerate(_covered(ring, (left, low), (wide, tall), (columns, rows))):
        heights = [h + 1 if is_full else 0 for h, is_full in zip(heights, full, strict=True)]
        best = max(best, _under(heights, row))
    area, first, last, under, over = best
    if not area:
        return None
    return left + first * wide, low + under * tall, left + last * wide, low + over * tall


def _covered(
    ring: tuple[Point, ...], corner: tuple[float, float], cell: tuple[float, float], count: tuple[int, int]
) -> NDArray[np.bool_]:
    """Which cells of a grid lie inside, by rows from below."""
    import numpy as np
    from shapely import Polygon, box, covers, prepare

    area = Polygon([(p.real, p.imag) for p in ring]).buffer(1e-6)
    prepare(area)
    xs, ys = corner[0] + cell[0] * np.arange(count[0]), corner[1] + cell[1] * np.arange(count[1])
    x, y = np.meshgrid(xs, ys)
    inside: NDArray[np.bool_] = covers(area, box(x, y, x + cell[0], y + cell[1]))
    return inside


def _under(heights: list[int], row: int) -> tuple[int, int, int, int, int]:
    """Area, first and last column, and the rows of the largest rectangle that stands on a row."""
    best, open_at = (0, 0, 0, 0, 0), list[tuple[int, int]]()
    for column, height in enumerate([*heights, 0]):
        first = column
        while open_at and open_at[-1][1] >= height:
            first, tall = open_at.pop()
            best = max(best, (tall * (column - first), first, column, row + 1 - tall, row + 1))
        open_at.append((first, height))
    return best
