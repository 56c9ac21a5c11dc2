"""Lays the pieces out on one sheet of paper so that it takes few pages. Not the lay on cloth: that is exact.

Each piece is reduced to its upper and lower profile in columns of `COLUMN_MM`, and put where it comes to lie
highest below what lies there already (so a sloping side fits under another). That is done for every sensible
width of sheet and a few orders of pieces, free and with small pieces kept off the page joins; the layout that
takes the fewest pages wins. Grain stays upright: a piece is turned only where it is too wide for the paper
and fits after a quarter turn. Everything is decided by the input alone.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, assert_never

from cutonce.geometry import path as paths
from cutonce.geometry.motion import STILL, Motion, Point, shifting, turning
from cutonce.sheets.drawing import Drawing, Fill, Group, Item, Stroke, Text, moved_group
from cutonce.sheets.paper import OVERLAP_MM, Paper, grid
from cutonce.sheets.rulers import CHECK_STRIP_MM, check_group, check_lines
from cutonce.sheets.tiles import needed

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.floating]
    Points = NDArray[np.complex128]

COLUMN_MM = 5.0
"""Width of a profile's columns: finer gains little paper, coarser wastes it."""

GAP_MM = 8.0
"""Between pieces, so that each can be cut out roughly with room for the shears."""

LEAST_GAP_MM = 5.0
"""What is left of it in the worst case between samples of the outlines."""

_MARGIN_MM = 2.0
"""From the last piece to the right and the lower end of the sheet."""

_LEAST_SHEET_MM = 120.0
"""Either way, so that there is room for check lines of 100 mm and their captions."""

_SAMPLE_MM = 2.5
_INSIDE_MM = 25.0
_COARSE_MM = 4.0
_FLAT_MM = 0.3
_MOST_COLUMNS = 14
_FINALISTS = 6
_EXCHANGES_A_PIECE, _MOST_EXCHANGES = 25, 300


@dataclass(frozen=True, slots=True)
class _Shape:
    """A piece for packing. `points` on and inside it from its upper left corner, x + yj with y down; `top`
    and `bottom` its profile by columns."""

    index: int
    turn: Motion
    corner: Point
    width: float
    height: float
    points: Points
    top: Floats
    bottom: Floats


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the upper left corner of each piece comes to lie (x + yj, y down), and the sheet's size."""

    places: tuple[tuple[_Shape, Point], ...]
    width: float
    height: float


def arrange(
    groups: Sequence[Group], paper: Paper, title: str = "", about: tuple[str, ...] = (), columns: int = 0
) -> Drawing:
    """One sheet with all pieces and its check lines, laid out for a paper.

    `columns` limits how many pages of the paper lie side by side (0: as many as serve best); a piece that is
    too wide for them even when turned gets as many as it needs. Needs at least one group (ValueError).
    """
    if not groups:
        raise ValueError("a sheet needs at least one piece")
    limit = _room(paper, columns or _MOST_COLUMNS)
    shapes = [_shape(i, g, limit) for i, g in enumerate(groups)]
    sheets = [_sheet(layout, groups, title, about) for layout in _finalists(shapes, paper, columns)]
    return min(sheets, key=lambda s: len(needed(s, grid(paper, s.width, s.height))))


def _sheet(layout: _Layout, groups: Sequence[Group], title: str, about: tuple[str, ...]) -> Drawing:
    """A layout as a sheet, the pieces in the order in which they were given."""
    placed: list[tuple[int, Group]] = []
    for shape, place in layout.places:
        shift = complex(place.real, layout.height - place.imag) - shape.corner
        placed.append((shape.index, moved_group(groups[shape.index], shifting(shift).after(shape.turn))))
    laid = tuple(g for _, g in sorted(placed, key=lambda pair: pair[0]))
    checks = check_group(layout.width, layout.height)
    return Drawing((*laid, checks), layout.width, layout.height, title, about)


def _room(paper: Paper, columns: int) -> float:
    """How wide a piece may be on so many pages side by side."""
    return paper.window[0] + (columns - 1) * paper.step[0] - CHECK_STRIP_MM - _MARGIN_MM


def _columns_for(paper: Paper, width: float) -> int:
    return 1 + max(0, math.ceil((width - _room(paper, 1) - 1e-9) / paper.step[0]))


def _finalists(shapes: Sequence[_Shape], paper: Paper, columns: int) -> list[_Layout]:
    """The likely best layouts, cheapest first: the estimate by samples is a page out now and then."""
    tried: list[tuple[tuple[float, ...], int]] = []
    plans = list(_plans(shapes, paper, columns))
    for n, (order, how) in enumerate(plans):
        tried.append((_cost(_pack(order, paper, *how), paper), n))
    best, *others = sorted(tried)
    order, how = plans[best[1]]
    found = [_bettered(order, how, paper, best[0])]
    costs = {best[0]}
    for cost, n in others:
        if cost not in costs and len(found) < _FINALISTS:
            costs.add(cost)
            found.append(_pack(plans[n][0], paper, *plans[n][1]))
    return found


def _bettered(order: list[_Shape], how: tuple[float, bool], paper: Paper, cost: tuple[float, ...]) -> _Layout:
    """A layout after exchanging two pieces in the order, again and again, wherever that is no dearer."""
    chance = random.Random(0)  # a fixed sequence: the same pieces always give the same sheet
    for _ in range(min(_MOST_EXCHANGES, _EXCHANGES_A_PIECE * len(order)) if len(order) > 1 else 0):
        i, j = chance.sample(range(len(order)), 2)
        other = list(order)
        other[i], other[j] = other[j], other[i]
        new = _cost(_pack(other, paper, *how), paper)
        if new <= cost:
            cost, order = new, other
    return _pack(order, paper, *how)


def _plans(
    shapes: Sequence[_Shape], paper: Paper, columns: int
) -> Iterator[tuple[list[_Shape], tuple[float, bool]]]:
    """Every order of pieces, width of sheet and manner (kept off the joins or free) that is tried."""
    least = _columns_for(paper, max(s.width for s in shapes))
    in_a_row = _columns_for(paper, sum(s.width + GAP_MM for s in shapes))
    most = max(least, columns or min(_MOST_COLUMNS, in_a_row))
    orders = (
        sorted(shapes, key=lambda s: -s.height),
        sorted(shapes, key=lambda s: -s.width),
        sorted(shapes, key=lambda s: -s.width * s.height),
    )
    for count in range(least, most + 1):
        for order in orders:
            for off_joins in (True, False):
                yield order, (_room(paper, count), off_joins)


def _pack(order: Sequence[_Shape], paper: Paper, room: float, off_joins: bool) -> _Layout:
    """Put each piece in turn where its lower end comes highest; of equal places the one furthest left."""
    import numpy as np

    count = int(room / COLUMN_MM) + 1
    sky = np.full(count, CHECK_STRIP_MM, dtype=np.float64)
    places = []
    for shape in order:
        starts = int((room - shape.width) / COLUMN_MM + 1e-9) + 1
        n = min(len(shape.top), count)
        windows = np.lib.stride_tricks.sliding_window_view(sky, n)[:starts]
        y = (windows - shape.top[:n]).max(axis=1)
        x = CHECK_STRIP_MM + COLUMN_MM * np.arange(len(y))
        if off_joins:
            y = _off_joins(x, y, shape, paper)
        i = int(np.argmin(y))
        places.append((shape, complex(x[i], y[i])))
        _raise(sky, i, shape, float(y[i]))
    width = max(_LEAST_SHEET_MM, max(p.real + s.width for s, p in places) + _MARGIN_MM)
    height = max(_LEAST_SHEET_MM, max(p.imag + s.height for s, p in places) + _MARGIN_MM)
    return _Layout(tuple(places), width, height)


def _off_joins(x: Floats, y: Floats, shape: _Shape, paper: Paper) -> Floats:
    """For a piece that fits on one page: down to the next page rather than across a join, and at no place
    where it lies across an upright join. Larger pieces: unchanged."""
    import numpy as np

    step_x, step_y = paper.step
    if shape.height <= step_y:
        next_page = (np.floor(y / step_y) + 1) * step_y
        y = np.where(y + shape.height > next_page, next_page, y)
    if shape.width <= step_x - COLUMN_MM:
        across = np.floor(x / step_x) != np.floor((x + shape.width) / step_x)
        if not across.all():
            y = np.where(across, np.inf, y)
    return y


def _raise(sky: Floats, i: int, shape: _Shape, y: float) -> None:
    """Take up the room of a piece at column i, with the gap below it and two columns to either side."""
    import numpy as np

    for shift in range(-2, 3):
        low, high = max(0, i + shift), max(0, min(len(sky), i + shift + len(shape.bottom)))
        part = shape.bottom[low - i - shift : high - i - shift]
        sky[low:high] = np.maximum(sky[low:high], y + part + GAP_MM)


def _cost(layout: _Layout, paper: Paper) -> tuple[float, ...]:
    """Pages used, pieces cut by joins, then paper: less is better."""
    import numpy as np

    step_x, step_y = paper.step
    columns = max(1, math.ceil((layout.width - OVERLAP_MM) / step_x))
    rows = max(1, math.ceil((layout.height - OVERLAP_MM) / step_y))
    used = np.zeros((rows, columns), dtype=bool)
    across, down = check_lines(layout.width, layout.height)
    used[0, : int((CHECK_STRIP_MM + across) / step_x) + 1] = True
    used[: int((CHECK_STRIP_MM + down) / step_y) + 1, 0] = True
    cut = 0
    for shape, place in layout.places:
        at = shape.points + place
        row = np.minimum(at.imag // step_y, rows - 1).astype(int)
        column = np.minimum(at.real // step_x, columns - 1).astype(int)
        used[row, column] = True
        cut += int(row.min() != row.max() or column.min() != column.max())
    return float(used.sum()), float(cut), layout.width * layout.height


def _shape(index: int, group: Group, limit: float) -> _Shape:
    """A piece's samples and profile; turned a quarter where it is too wide for the limit and then fits."""
    import numpy as np

    points = np.concatenate([_samples(item) for item in group.items])
    width, height = np.ptp(points.real), np.ptp(points.imag)
    turn = STILL
    if width > limit >= height:
        turn = turning(-math.pi / 2)
        points, width, height = -1j * points, height, width
    corner = complex(points.real.min(), points.imag.max())
    down = (points - corner).conjugate()
    column = (down.real / COLUMN_MM).astype(int)
    count = int(width / COLUMN_MM) + 1
    top, bottom = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(top, np.minimum(column, count - 1), down.imag)
    np.maximum.at(bottom, np.minimum(column, count - 1), down.imag)
    points = _thinned(np.concatenate([down, *_inside(top, bottom)]))
    return _Shape(index, turn, corner, float(width), float(height), points, top, bottom)


def _thinned(points: Points) -> Points:
    """One point for each square of `_COARSE_MM` that has any: enough to count pages by."""
    import numpy as np

    squares: Points = np.round(points.real / _COARSE_MM) + 1j * np.round(points.imag / _COARSE_MM)
    thinned: Points = _COARSE_MM * np.unique(squares)
    return thinned


def _inside(top: Floats, bottom: Floats) -> Iterator[Points]:
    """Points between the upper and the lower profile, for pages that only hold the inside of a piece."""
    import numpy as np

    for i in range(0, len(top), int(_INSIDE_MM / COLUMN_MM)):
        if bottom[i] - top[i] > _INSIDE_MM:
            yield (i + 0.5) * COLUMN_MM + 1j * np.arange(top[i], bottom[i], _INSIDE_MM)


def _samples(item: Item) -> Points:
    """Points along an item, at most `_SAMPLE_MM` apart."""
    import numpy as np

    match item:
        case Stroke():
            corners = np.array(paths.flattened(item.path, _FLAT_MM))
        case Fill():
            corners = np.array((*item.points, item.points[0]))
        case Text():
            corners = np.array((*item.corners, item.corners[0]))
        case _:
            assert_never(item)
    steps = np.diff(corners)
    counts = np.maximum(1, np.ceil(np.abs(steps) / _SAMPLE_MM)).astype(int)
    starts, along = np.repeat(corners[:-1], counts), np.repeat(steps / counts, counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    within = np.arange(len(starts)) - first
    return np.concatenate([starts + along * within, corners[-1:]])
