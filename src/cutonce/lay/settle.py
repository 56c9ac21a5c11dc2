"""Our own search: shorten the cloth a little, let what then overlaps settle, again and again.

At every length the blanks are swept (`sweep`) and pushed (`relax`) until none overlaps. A layout found is
drawn together by pushing alone as far as that goes; then the cloth is shortened by a step. Where a
length does not settle, two blanks of like size change places and it is tried again from the best so far.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from dataclasses import field as later

import numpy as np
from numpy.typing import NDArray

from cutonce.lay.field import Field, Floats, Ints, field_of
from cutonce.lay.overlap import measure
from cutonce.lay.problem import Layout, Problem, Spot
from cutonce.lay.relax import relax
from cutonce.lay.sweep import NOWHERE, allowed, begin, sweep

NONE_MM = 1e-3
"""Blanks that lie in each other by less do not overlap: a tenth of what the check lets pass."""

SLACK_MM = 5e-4
"""They are pushed apart by so much more than they overlap."""

ENDLESS_MM = 1e7
"""Longer than any cloth; no infinity, which would not survive fast arithmetic."""

STEP, WIDE_STEP, LOOSE = 0.003, 0.01, 0.75
"""The share by which the cloth is shortened; the wide one while less than LOOSE of it is used."""

DRAWN = (0.004, 2e-5)
"""A layout is drawn together by steps of these shares, from the first, halved down to the last."""

PUSHES, LONG_PUSHES = 100, 400
"""Rounds of pushing between sweeps, and to draw together."""

SWEEPS_AT_ONCE = 5
"""Sweeps between pushes."""

PATIENCE, TRIALS = 60, 2
"""Sweeps without a gain after which the best is taken again; and so often before something is changed."""

GAIN = 0.98
"""Less overlap by this share is a gain."""

HOPELESS = 4.0
"""With so many times the overlap of the best trial a change is taken back at once."""

WORSE = 0.3
"""A trial may be the start of the next though worse than the best by this share on average."""

BY_LESSER, BY_GREATER = 0.75, 0.25
"""A pair weighs its areas to these powers: small blanks make way for large ones. Of eight pairs of powers
tried, those that count the lesser area did best; with none the benchmark's shirts took 5 % more."""

STUCK, BAND = 30, 0.3
"""After so many changes in vain, all blanks change places within a band of this share of the length."""

LONGER = 1.05
"""While no layout is known, each change lengthens the cloth by this factor."""

TURNED = 0.3
"""How often a blank that changes places is turned as well."""


@dataclass(slots=True)
class _State:
    """Where every blank lies and by which way; what is to be avoided comes last and stays."""

    xs: Floats
    ys: Floats
    ways: Ints

    def copy(self) -> _State:
        return _State(self.xs.copy(), self.ys.copy(), self.ways.copy())

    def take(self, other: _State) -> None:
        self.xs[:], self.ys[:], self.ways[:] = other.xs, other.ys, other.ways


@dataclass(slots=True)
class _Trial:
    """A state with overlaps, and how much."""

    state: _State
    overlap: float = math.inf


@dataclass(slots=True)
class _Hunt:
    """The search at one length after the other."""

    problem: Problem
    field: Field
    state: _State
    until: float
    chance: np.random.Generator
    on_better: Callable[[Layout], None]
    usual: float
    least: Floats
    weight: Floats
    deep: Floats
    end: float
    shortest: float = math.inf
    trials: int = 0
    stuck: int = 0
    since: int = 0
    tried: _Trial = later(init=False)
    kept: _Trial = later(init=False)

    @property
    def time_left(self) -> bool:
        return time.monotonic() < self.until


def settle(
    problem: Problem,
    start: Layout | None,
    seconds: float,
    seed: int,
    on_better: Callable[[Layout], None],
) -> None:
    """Search for `seconds` from `start`, or from chance; tell each layout that is shorter than those before.

    `start` may overlap: it is then settled first, at its own length.
    """
    until = time.monotonic() + seconds
    begin(seed)
    hunt = _begun(problem, start, until, seed, on_better)
    _measure(hunt)
    _at_new_length(hunt)
    shortest_possible = _least_end(hunt.field)
    while hunt.time_left:
        if _settled(hunt):
            _draw_together(hunt)
            _tell(hunt)
            if hunt.shortest <= shortest_possible + NONE_MM:
                return
            _shorten(hunt, shortest_possible)
        elif hunt.since >= PATIENCE:
            _again(hunt)


def _begun(
    problem: Problem, start: Layout | None, until: float, seed: int, on_better: Callable[[Layout], None]
) -> _Hunt:
    field, avoid_x, avoid_y = field_of(problem)
    chance = np.random.default_rng(seed)
    movable, count = field.movable, field.movable + len(avoid_x)
    ways = field.first_way[:-1].copy()
    xs, ys = np.zeros(count), np.zeros(count)
    xs[movable:], ys[movable:] = avoid_x, avoid_y
    state = _State(xs, ys, ways)
    shapes = field.shape[field.first_way[:movable]]
    if start is None:
        end = max(float(field.size[shapes].sum()) / field.bed_width / LOOSE, _least_end(field))
    else:
        end = start.length
    where = {s.blank: s for s in start.spots} if start else {}
    for i, blank in enumerate(problem.blanks):
        spot = where.get(blank.key)
        first, last = field.first_way[i], field.first_way[i + 1]
        ways[i] = first + spot.shape if spot else chance.integers(first, last)
        xs[i] = spot.at.real if spot else chance.random() * end
        ys[i] = spot.at.imag if spot else chance.random() * field.bed_width
    least = _first_weights(field.size[field.shape[ways]], movable)
    usual = float(np.median(np.minimum(field.width[shapes], field.height[shapes])))
    zeros = np.zeros((count, count))
    hunt = _Hunt(problem, field, state, until, chance, on_better, usual, least, least.copy(), zeros, end)
    if start is None:
        _snap(hunt)
    return hunt


def _first_weights(size: Floats, movable: int) -> Floats:
    """Of every pair, mean 1; what is to be avoided counts as large as the blank beside it."""
    size = np.concatenate((size[:movable], np.full(len(size) - movable, math.inf)))
    lesser, greater = np.minimum(size[:, None], size), np.maximum(size[:, None], size)
    greater[np.isinf(greater)] = lesser[np.isinf(greater)]
    lesser[np.isinf(lesser)] = greater[np.isinf(greater)] = 1.0
    least = lesser**BY_LESSER * greater**BY_GREATER
    return np.asarray(least / least[:movable].mean())


def _least_end(field: Field) -> float:
    """The blank that reaches farthest when each lies as near to the cut end as its rules allow."""
    ends = [0.0]
    for i in range(field.movable):
        ways = range(int(field.first_way[i]), int(field.first_way[i + 1]))
        nearest = [(allowed(field.x_at[w], field.x_every[w], 0.0, ENDLESS_MM), field.shape[w]) for w in ways]
        ends.append(min(x + field.width[shape] for x, shape in nearest))
    return float(max(ends))


def _measure(hunt: _Hunt) -> None:
    for i in range(hunt.field.movable):
        measure(hunt.field, i, hunt.state.xs, hunt.state.ys, hunt.state.ways, hunt.deep, NONE_MM)


def _at_new_length(hunt: _Hunt) -> None:
    hunt.weight[:] = hunt.least
    hunt.tried, hunt.kept = _Trial(hunt.state.copy()), _Trial(hunt.state.copy())
    hunt.trials = hunt.since = hunt.stuck = 0


def _settled(hunt: _Hunt) -> bool:
    """A few sweeps and, where the last gained, pushes on a copy: whether nothing overlaps any more."""
    state = hunt.state
    for _ in range(SWEEPS_AT_ONCE):
        overlap = sweep(
            hunt.field, hunt.end, hunt.usual, NONE_MM, state.xs, state.ys, state.ways,
            hunt.deep, hunt.weight, hunt.least,
        )  # fmt: skip
        if overlap < hunt.tried.overlap:
            hunt.since = 0 if overlap < GAIN * hunt.tried.overlap else hunt.since + 1
            hunt.tried.overlap = overlap
            hunt.tried.state.take(state)
        else:
            hunt.since += 1
        if overlap == 0.0:
            return True
    return hunt.since == 0 and _pushed(hunt, hunt.end, PUSHES)


def _pushed(hunt: _Hunt, end: float, rounds: int) -> bool:
    """Push a copy of the state within `end`; it is taken where nothing overlaps then."""
    trial = hunt.state.copy()
    _clip(hunt.field, trial, end)
    left = relax(hunt.field, end, hunt.usual, SLACK_MM, rounds, trial.xs, trial.ys, trial.ways)
    if left > 0.0:
        return False
    deep = np.zeros_like(hunt.deep)
    for i in range(hunt.field.movable):
        measure(hunt.field, i, trial.xs, trial.ys, trial.ways, deep, NONE_MM)
    if deep.any() or _reach(hunt.field, trial) > end + NONE_MM:
        return False
    hunt.state.take(trial)
    return True


def _clip(field: Field, state: _State, end: float) -> None:
    """Move what sticks out of `end` back, where it has no rule along."""
    shape = field.shape[state.ways[: field.movable]]
    most = np.maximum(end - field.width[shape], 0.0)
    free = field.x_every[state.ways[: field.movable]] < 0.0
    xs = state.xs[: field.movable]
    xs[free] = np.minimum(xs, most)[free]


def _reach(field: Field, state: _State) -> float:
    shape = field.shape[state.ways[: field.movable]]
    return float((state.xs[: field.movable] + field.width[shape]).max())


def _draw_together(hunt: _Hunt) -> None:
    """Shorten by pushing alone, as far as it goes."""
    share, last = DRAWN
    while share > last and hunt.time_left:
        if not _pushed(hunt, _reach(hunt.field, hunt.state) * (1 - share), LONG_PUSHES):
            share /= 2


def _tell(hunt: _Hunt) -> None:
    length = _reach(hunt.field, hunt.state)
    if length >= hunt.shortest:
        return
    hunt.shortest = length
    state, firsts = hunt.state, hunt.field.first_way
    spots = tuple(
        Spot(b.key, int(state.ways[i] - firsts[i]), complex(state.xs[i], state.ys[i]))
        for i, b in enumerate(hunt.problem.blanks)
    )
    reach = max(s.at.real + _width(hunt.problem, i, s) for i, s in enumerate(spots))
    hunt.on_better(Layout(reach, spots))


def _width(problem: Problem, i: int, spot: Spot) -> float:
    return max(p.real for p in problem.blanks[i].shapes[spot.shape].outline)


def _shorten(hunt: _Hunt, least: float) -> None:
    """A shorter cloth: what lies beyond a line across it, anywhere, comes nearer by as much."""
    field, state, movable = hunt.field, hunt.state, hunt.field.movable
    shape = field.shape[state.ways[:movable]]
    used = float(field.size[shape].sum()) / (field.bed_width * hunt.shortest)
    hunt.end = max(hunt.shortest * (1 - (STEP if used > LOOSE else WIDE_STEP)), least)
    beyond = state.xs[:movable] + field.width[shape] / 2 > hunt.chance.random() * hunt.end
    state.xs[:movable][beyond] -= hunt.shortest - hunt.end
    _snap(hunt)
    _measure(hunt)
    _at_new_length(hunt)


def _snap(hunt: _Hunt) -> None:
    """Every blank where its rules and the cloth allow, as near as may be; by any way that has a place."""
    field, state = hunt.field, hunt.state
    for i in range(field.movable):
        first, last = int(field.first_way[i]), int(field.first_way[i + 1])
        for way in (int(state.ways[i]), *range(first, last)):
            shape = field.shape[way]
            high = field.bed_width - field.height[shape]
            x = allowed(field.x_at[way], field.x_every[way], state.xs[i], hunt.end - field.width[shape])
            y = allowed(field.y_at[way], field.y_every[way], state.ys[i], max(high, 0.0))
            if high > -NONE_MM and NOWHERE not in (x, y):
                state.xs[i], state.ys[i], state.ways[i] = x, y, way
                break


def _again(hunt: _Hunt) -> None:
    """Back to the least overlap of this trial; after some trials keep the better one and change something."""
    hunt.state.take(hunt.tried.state)
    hunt.trials += 1
    hunt.since = 0
    if hunt.trials >= TRIALS or hunt.tried.overlap > HOPELESS * hunt.kept.overlap:
        if hunt.tried.overlap <= hunt.kept.overlap * (1 + hunt.chance.exponential(WORSE)):
            hunt.kept = _Trial(hunt.tried.state.copy(), hunt.tried.overlap)
        hunt.state.take(hunt.kept.state)
        if hunt.shortest == math.inf:
            hunt.end *= LONGER
        hunt.stuck += 1
        if hunt.stuck % STUCK == 0:
            _shake(hunt)
            hunt.kept.overlap = math.inf
        else:
            _change_places(hunt)
        hunt.tried.overlap = math.inf
        hunt.weight[:] = hunt.least
        hunt.trials = 0
    _measure(hunt)


def _change_places(hunt: _Hunt) -> None:
    """Two blanks of different outline and like size lie where the other lay; one may be turned."""
    field, state, chance = hunt.field, hunt.state, hunt.chance
    movable = field.movable
    shape = field.shape[state.ways[:movable]]
    box = field.width[shape] * field.height[shape]
    i = int(chance.integers(movable))
    others = np.flatnonzero(field.shape[field.first_way[:movable]] != field.shape[field.first_way[i]])
    if len(others) == 0:
        others = np.arange(movable)
    unlike = np.abs(np.log(box[others] / box[i])) * (1 + chance.random(len(others)))
    nearest = others[np.argsort(unlike)[: max(3, movable // 5)]]
    j = int(nearest[chance.integers(len(nearest))])
    _exchange(hunt, [(i, j), (j, i)], [i] if chance.random() < TURNED else [])


def _shake(hunt: _Hunt) -> None:
    """Blanks in a band across the cloth change places at random, turned at random."""
    chance = hunt.chance
    middle = chance.random() * hunt.end
    chosen = np.flatnonzero(np.abs(_middles(hunt).real - middle) < BAND * hunt.end / 2).tolist()
    _exchange(hunt, list(zip(chosen, chance.permutation(chosen).tolist(), strict=True)), chosen)


def _middles(hunt: _Hunt) -> NDArray[np.complex128]:
    """The middle of each blank's box."""
    field, state, movable = hunt.field, hunt.state, hunt.field.movable
    shape = field.shape[state.ways[:movable]]
    x, y = state.xs[:movable] + field.width[shape] / 2, state.ys[:movable] + field.height[shape] / 2
    return np.asarray(x + 1j * y)


def _exchange(hunt: _Hunt, places: Sequence[tuple[int, int]], turned: Sequence[int]) -> None:
    """The first of each pair goes where the middle of the second lies; those `turned` lie any way."""
    field, state, middles = hunt.field, hunt.state, _middles(hunt)
    for i in turned:
        state.ways[i] = hunt.chance.integers(field.first_way[i], field.first_way[i + 1])
    for one, other in places:
        now = field.shape[state.ways[one]]
        state.xs[one] = middles[other].real - field.width[now] / 2
        state.ys[one] = middles[other].imag - field.height[now] / 2
    _snap(hunt)
