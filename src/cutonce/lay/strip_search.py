"""Strip packing by the library spyrrow, for problems without rules, cloth to avoid or a turned-over shape.

The library packs in 32-bit floats, panics on input that is no clean polygon, keeps its distance from the
strip's edges too and knows neither rules nor obstacles. So each outline goes to it thinned and at its own
origin, the strip is widened by twice the spacing, and what comes back is put exactly onto the bed. A panic
is a BaseException of no importable class: it ends the thread that solves, which is seen by there being no
result.
"""

from __future__ import annotations

import math
import random
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from cutonce.errors import CannotApply
from cutonce.geometry.motion import Motion, Point
from cutonce.lay.problem import Blank, Layout, Problem, Ring, Spot
from cutonce.lay.thin import thinned

THIN_SHARE = 0.0005
"""By so much of its area an outline may grow: fewer corners are searched faster."""

WIDER = 2e-6
"""The strip is wider by this share: a piece exactly as wide as the bed has to go in, in 32-bit floats."""

EXPLORING = 0.8
"""The share of the time for exploring, the rest compresses what was found: the library's own proportion."""

LOOK_SECONDS = 0.03
"""How often new layouts are fetched from the library."""

FEASIBLE = (0, 3, 4)
"""Types of report without overlap: found while exploring, while compressing, and the final one."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A shape of a blank that is the first of its kind turned by `degrees`, and shifted by `shift`."""

    shape: int
    degrees: float
    shift: Point


@dataclass(frozen=True, slots=True)
class _Item:
    """Like blanks, each with its ways to lie: one item for the library, wanted as often as they are."""

    ring: Ring
    blanks: tuple[tuple[Blank, tuple[_Way, ...]], ...]


def can_strip(problem: Problem) -> bool:
    """Whether a strip packing says the problem whole: no rules and nothing to avoid."""
    free = all(s.along is None and s.across is None for blank in problem.blanks for s in blank.shapes)
    return free and not problem.bed.avoid and bool(problem.blanks)


def strip_search(
    problem: Problem,
    start: Layout | None,
    seconds: float,
    seed: int,
    on_better: Callable[[Layout], None],
    workers: int = 1,
) -> None:
    """Search for `seconds` and tell each layout that is shorter than those before; `start` is not used.

    Where a blank has shapes turned over, which of the two kinds it is laid by is left to the seed.
    CannotApply where the problem is no strip packing, or the library gives up on it.
    """
    import spyrrow

    if not can_strip(problem):
        raise CannotApply("no-strip", "lay", "rules or cloth to avoid are beyond a strip packing")
    items = _items(problem, random.Random(seed))
    reports = spyrrow.ProgressQueue()
    instance = spyrrow.StripPackingInstance("", _height(problem), [_sent(k, i) for k, i in enumerate(items)])
    config = _config(problem, seconds, seed, workers)
    results: list[object] = []
    solving = threading.Thread(target=lambda: results.append(instance.solve(config, reports)), daemon=True)
    solving.start()
    shortest = math.inf
    going = True
    while going:
        solving.join(LOOK_SECONDS)
        going = solving.is_alive()
        good = [solution for kind, solution in reports.drain() if int(kind) in FEASIBLE]
        if good:
            best = min(good, key=lambda solution: float(solution.width))
            if best.width < shortest:
                shortest = best.width
                on_better(_layout(problem, items, best))
    if not results:
        raise CannotApply("search-failed", "lay", "the strip packing gave up on these outlines")


def _items(problem: Problem, chance: random.Random) -> list[_Item]:
    grouped: dict[object, list[tuple[Blank, tuple[_Way, ...]]]] = {}
    rings: dict[object, Ring] = {}
    for blank in problem.blanks:
        hands = sorted({shape.motion.mirror for shape in blank.shapes})
        ways = _ways(blank, chance.choice(hands))
        ring = blank.shapes[ways[0].shape].outline
        key = (ring, tuple(round(way.degrees, 6) for way in ways))
        grouped.setdefault(key, []).append((blank, ways))
        rings[key] = ring
    return [_Item(thinned(rings[key], THIN_SHARE), tuple(blanks)) for key, blanks in grouped.items()]


def _ways(blank: Blank, mirror: bool) -> tuple[_Way, ...]:
    """The blank's shapes of one hand, as turns of the first of them."""
    those = [i for i, shape in enumerate(blank.shapes) if shape.motion.mirror == mirror]
    back = blank.shapes[those[0]].motion.inverse()
    motions: list[tuple[int, Motion]] = [(i, blank.shapes[i].motion.after(back)) for i in those]
    return tuple(_Way(i, math.degrees(motion.angle), motion.shift) for i, motion in motions)


def _height(problem: Problem) -> float:
    return (problem.bed.width + 2 * problem.spacing) * (1 + WIDER) + 1e-4


def _sent(number: int, item: _Item) -> Any:
    import spyrrow

    points = [(p.real, p.imag) for p in item.ring]
    degrees = [way.degrees for way in item.blanks[0][1]]
    return spyrrow.Item(str(number), points, len(item.blanks), degrees)


def _config(problem: Problem, seconds: float, seed: int, workers: int) -> Any:
    from datetime import timedelta

    import spyrrow

    config = spyrrow.StripPackingConfig(
        early_termination=False,
        min_items_separation=problem.spacing if problem.spacing > 0.0 else None,
        total_computation_time=None,
        exploration_time=1,
        compression_time=1,
        num_workers=workers,
        seed=seed,
    )
    config.exploration_time = timedelta(seconds=EXPLORING * seconds)
    config.compression_time = timedelta(seconds=(1 - EXPLORING) * seconds)
    return config


def _layout(problem: Problem, items: Sequence[_Item], solution: Any) -> Layout:
    """The library's places as spots: the turn is the nearest way's, the place put onto the bed."""
    used = [0] * len(items)
    spots = []
    for placed in solution.placed_items:
        number = int(placed.id)
        blank, ways = items[number].blanks[used[number]]
        used[number] += 1
        way = min(ways, key=lambda way: abs(math.remainder(way.degrees - placed.rotation, 360.0)))
        spots.append(Spot(blank.key, way.shape, complex(*placed.translation) - way.shift))
    return _on_bed(problem, spots)


def _on_bed(problem: Problem, spots: Sequence[Spot]) -> Layout:
    left = min(spot.at.real for spot in spots)
    blanks = {blank.key: blank for blank in problem.blanks}
    moved, reach = [], 0.0
    for spot in spots:
        outline = blanks[spot.blank].shapes[spot.shape].outline
        top = problem.bed.width - max(p.imag for p in outline)
        at = complex(spot.at.real - left, max(0.0, min(top, spot.at.imag - problem.spacing)))
        reach = max(reach, at.real + max(p.real for p in outline))
        moved.append(Spot(spot.blank, spot.shape, at))
    return Layout(reach, tuple(moved))
