"""Fullness to fit: the most of a design's free amounts whose pieces her cloth still holds.

A search over replay, finishing and the lay. What cannot be drawn, what a check stops and what is more cloth
than there is are ruled out first, without a lay; see `largest` for the rest.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Protocol

from cutonce.body import Body
from cutonce.errors import BadInput, CannotApply, Finding, Problem
from cutonce.recipe.free import FreeAmount, free_amounts, groups, settled
from cutonce.recipe.recipe import Recipe
from cutonce.studio.consequences import Changed, changed_edges
from cutonce.studio.largest import FINEST, Border, Job, Lay, largest
from cutonce.studio.prove import Proven, prove

SECONDS = 80.0
"""For the whole search, unless she says otherwise."""

_LEAST_SHARE = 0.12
"""Part of the time for the lay of the least, which ends as soon as it fits."""

_LESS = 0.1
"""The second choice: this share of the freedom given up."""

_AFTER_SHARE = 0.06
"""Part of the time for the lay of the second choice."""


class Laying(Protocol):
    """Her cloth, and how pieces are laid on it."""

    @property
    def room(self) -> float:
        """How much cloth there is, mm."""

    def demand(self, design: Proven) -> float:
        """The cloth in mm that the pieces would take if none were wasted."""

    def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
        """Lay the pieces, starting from an earlier lay of theirs in other sizes; `ends_early`: as soon as
        they fit. Raises Problem where no lay can be (a piece wider than the cloth)."""


@dataclass(frozen=True, slots=True)
class Settled:
    """One free amount and what became of it, as written; `least` and `most` as she wrote them."""

    step: str
    words: str
    text: str
    least: str
    most: str
    group: str = ""


@dataclass(frozen=True, slots=True)
class SecondChoice:
    """A little less, and the cloth that then remains (mm)."""

    amounts: tuple[Settled, ...]
    spare: float


@dataclass(frozen=True, slots=True)
class Fullest:
    """The most that fits. `recipe` has ordinary amounts, `proven` is that design on the body.

    `positions` say for each group how far from least to most it came. `bound` is what stopped it, in one
    sentence; `blocks` the piece that reaches furthest beyond the cloth at the next step up ("" where the
    cloth was not what stopped it). `changed` are edges that are longer than at the least.
    """

    recipe: Recipe
    proven: Proven
    positions: tuple[tuple[str, float], ...]
    amounts: tuple[Settled, ...]
    lay: Lay
    bound: str
    blocks: str
    changed: tuple[Changed, ...]
    second: SecondChoice | None
    findings: tuple[Finding, ...]
    seconds: float
    lays: int


Said = Callable[[str], None]
"""Told what is being done, for a person who waits."""


def fullest(
    recipe: Recipe,
    body: Body,
    laying: Laying,
    seconds: float = SECONDS,
    said: Said = lambda _: None,
    stopped: Callable[[], bool] = lambda: False,
    clock: Callable[[], float] = time.monotonic,
) -> Fullest:
    """The most of the free amounts that the cloth holds, found within `seconds`; once `stopped`, the most so
    far.

    Groups are filled one after another, in the order in which the design first has them. Raises BadInput
    where no amount is free, CannotApply where even the least does not fit, Problem where the least cannot be
    drawn.
    """
    amounts = free_amounts(recipe, body.names)
    if not amounts:
        hint = 'write for example opens = { total = { least = "4 cm", most = "25 cm" } }'
        raise BadInput("nothing-free", recipe.name, "no amount of the design is free", hint)
    began = clock()

    def now() -> float:
        """Once she asks to stop, all time is spent."""
        return math.inf if stopped() else clock()

    search = _Search(recipe, body, laying, now, said)
    least = search.at({})
    start = _least_lay(recipe, laying, least, _LEAST_SHARE * seconds)
    for group in groups(amounts):
        left = seconds * (1 - _AFTER_SHARE) - (now() - began)
        share = left / (len(groups(amounts)) - len(search.found))
        start = search.fill(group, start, share)
    second = None if stopped() else _second(search, amounts, start, _AFTER_SHARE * seconds)
    best = search.at(search.found)
    return Fullest(
        recipe=settled(recipe, body.names, search.found),
        proven=best,
        positions=tuple(search.found.items()),
        amounts=settled_amounts(amounts, search.found),
        lay=start,
        bound=search.bound,
        blocks=search.blocks,
        changed=changed_edges(least.replayed.draft, best.replayed.draft),
        second=second,
        findings=best.findings,
        seconds=clock() - began,
        lays=search.lays,
    )


def _least_lay(recipe: Recipe, laying: Laying, least: Proven, seconds: float) -> Lay:
    lay = laying.lay(least, seconds, None, True)
    if not lay.fits:
        short = f"{(lay.length - laying.room) / 10:.0f} cm short"
        message = f"even with every free amount at its least the pieces do not fit: {short}"
        hint = "'cutonce lay' without --fullest says what helps"
        raise CannotApply("does-not-fit", recipe.name, message, hint)
    return lay


@dataclass(slots=True)
class _Search:
    """What is known on the way: positions found, and why they are not larger."""

    recipe: Recipe
    body: Body
    laying: Laying
    clock: Callable[[], float]
    said: Said
    found: dict[str, float] = field(default_factory=dict)
    bound: str = ""
    blocks: str = ""
    lays: int = 1
    known: dict[tuple[tuple[str, float], ...], Proven | Problem] = field(default_factory=dict)
    last: Proven | None = None

    def at(self, positions: Mapping[str, float]) -> Proven:
        """The design at these positions; raises what stands in its way."""
        key = tuple(sorted(positions.items()))
        if key not in self.known:
            try:
                plain = settled(self.recipe, self.body.names, positions)
                made = prove(plain, self.body, old=self.last)
                self.known[key] = self.last = made
            except Problem as problem:
                self.known[key] = problem
        made_or_not = self.known[key]
        if isinstance(made_or_not, Problem):
            raise made_or_not
        return made_or_not

    def fill(self, group: str, start: Lay, seconds: float) -> Lay:
        """Find the largest position of one group, the others where they are; the lay of it."""
        if seconds <= 0:
            self.found[group] = 0.0
            return start
        ends = self.clock() + seconds
        reach, why = self._reach(group)
        name = f"'{group}' " if group else ""

        def lay(position: float, given: float, before: Lay | None) -> Lay:
            self.said(f"Trying {name}{position:.1%} of the way from least to most")
            try:
                return self.laying.lay(self._with(group, position), given, before, True)
            except Problem as problem:
                return Lay(math.inf, False, why=str(problem))

        def demand(position: float) -> float:
            return self.laying.demand(self._with(group, position))

        job = Job(lay, demand, self.laying.room, self.clock)
        border = largest(job, start, reach, ends - self.clock())
        self.found[group] = border.best.position
        self.lays += border.lays
        self.bound, self.blocks = _bound(border, why)
        return border.best.lay

    def _with(self, group: str, position: float) -> Proven:
        return self.at({**self.found, group: position})

    def _reach(self, group: str) -> tuple[float, str]:
        """The largest position that can be drawn and is not more cloth than there is, and what is beyond."""
        why = self._against(group, 1.0)
        if not why:
            return 1.0, ""
        low, high = 0.0, 1.0
        while high - low > FINEST / 2:
            middle = (low + high) / 2
            against = self._against(group, middle)
            if against:
                high, why = middle, against
            else:
                low = middle
        return low, why

    def _against(self, group: str, position: float) -> str:
        """What speaks against a position before any lay; "" where nothing does."""
        try:
            made = self._with(group, position)
        except Problem as problem:
            return f"more cannot be drawn: {problem}"
        stops = {(f.code, f.where) for f in self.at({}).stops}
        new = [f for f in made.stops if (f.code, f.where) not in stops]
        if new:
            return f"more would not be fit to cut: {new[0].where}: {new[0].message}"
        demand = self.laying.demand(made)
        if demand > self.laying.room:
            return f"more is {demand / 10:.0f} cm of cloth by its area alone"
        return ""


def _bound(border: Border, why: str) -> tuple[str, str]:
    """Why there is no more, and the piece that blocks."""
    if border.beyond is None:
        return why or "the limit that the design sets", ""
    over = border.beyond.lay.over
    if border.beyond.lay.why:
        return f"more cannot be laid: {border.beyond.lay.why}", over
    who = f"; the {over} reaches furthest beyond it" if over else ""
    return f"the cloth: at the next step up no lay was found{who}", over


def settled_amounts(amounts: tuple[FreeAmount, ...], positions: Mapping[str, float]) -> tuple[Settled, ...]:
    """Every free amount as it is written at its group's position."""
    return tuple(
        Settled(
            a.step,
            a.words,
            str(a.written(positions.get(a.group, 0.0))),
            str(a.least_text),
            str(a.most_text),
            a.group,
        )
        for a in amounts
    )


def _second(
    search: _Search, amounts: tuple[FreeAmount, ...], start: Lay, seconds: float
) -> SecondChoice | None:
    """A little less of everything, laid as short as it goes; None where there is no less."""
    less = {group: position - min(_LESS, position / 2) for group, position in search.found.items()}
    if max(less.values()) < FINEST:
        return None
    try:
        lay = search.laying.lay(search.at(less), seconds, start, False)
    except Problem:
        return None
    search.lays += 1
    if not lay.fits:
        lay = replace(lay, length=search.laying.room)
    return SecondChoice(settled_amounts(amounts, less), search.laying.room - lay.length)
