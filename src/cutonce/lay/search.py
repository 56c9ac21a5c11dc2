"""The search for a short lay: a first one at once, then child processes that better it until the time is up.

Each core has a child. A strip packing (no rules, nothing to avoid) is begun by the strip packing library,
each core from a seed of its own; then, and for every other problem from the beginning, our own search settles
the best layout so far, in turns, so that what one core finds the others go on from. Whatever a child tells is
checked by `verify` before it counts.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib.util import find_spec

from cutonce.errors import CannotApply
from cutonce.lay.crew import Crew
from cutonce.lay.first import first_layout, laid_like
from cutonce.lay.problem import Layout, Problem
from cutonce.lay.strip_search import can_strip
from cutonce.lay.task import Engine, Message, Task
from cutonce.lay.verify import verify

STRIP_SHARE = 0.25
"""Of the whole time, for the strip packing library at the beginning."""

AFRESH_SHARE = 0.3
"""Of the whole time, for a core to settle from chance when another already goes on from the same best layout:
what does not lead on is left for another way in."""

AFRESH_SECONDS, AFRESH_BLANKS = 5.0, 40
"""In less time, or with more blanks, another way in comes to nothing: all go on from the best."""

TURN_SHARE = 0.2
"""Of the whole time, for one turn of settling, after which all cores go on from the best."""

LEAST_TURN_SECONDS = 3.0
"""Of a shorter one too much would go into its beginning: half a second, the first time two."""

LEAST_SECONDS = 0.25
"""What is left is not worth a turn when it is less."""

LOOK_SECONDS = 0.05
"""How often it is asked whether to stop: the bar is 0.2 s until all has ended."""

CHECK_SECONDS = 0.25
"""How often the shortest layout told is checked: a check takes 20 ms of a core that searches."""

LATE_SECONDS = 0.2
"""A child that has not ended its last turn so long after its time is ended."""

EVEN_MM = 0.01
"""Less is no gain: it is within what the check lets pass."""

FAILURES = 2
"""So often may a search fail before it is not asked again."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best layout; how many that were told did not pass the check; how often a search failed, and how."""

    layout: Layout
    thrown_away: int = 0
    failures: tuple[str, ...] = ()


def search(
    problem: Problem,
    seconds: float,
    seed: int = 1,
    cores: int | None = None,
    on_better: Callable[[Layout], None] | None = None,
    stopped: Callable[[], bool] | None = None,
    start: Layout | None = None,
    enough: float | None = None,
) -> Layout:
    """The shortest layout found within `seconds`; what `searched` finds."""
    return searched(problem, seconds, seed, cores, on_better, stopped, start, enough).layout


def searched(
    problem: Problem,
    seconds: float,
    seed: int = 1,
    cores: int | None = None,
    on_better: Callable[[Layout], None] | None = None,
    stopped: Callable[[], bool] | None = None,
    start: Layout | None = None,
    enough: float | None = None,
) -> Found:
    """Lay a problem as short as can be found within `seconds` on `cores` (all there are).

    Every layout told to `on_better`, the first within a second, and the one returned have passed `verify` but
    for the bed's length: where no layout found is short enough, the returned one is longer than the
    bed. The search ends as soon as a layout is no longer than `enough`, or cannot be bettered, or `stopped`
    says so, or at Ctrl-C, and leaves no process behind. It begins from `start`, laid anew in its order where
    that is not legal as it is.

    CannotApply where a blank has no place at all, or the libraries of the lay are not installed.
    """
    _installed()
    hunt = _Hunt(problem, seconds, seed, on_better or (lambda _: None), enough)
    with Crew() as crew:
        try:
            _hunted(hunt, crew, cores or _cores(), stopped or (lambda: False), start)
        except KeyboardInterrupt:
            if hunt.best is None:
                raise
    hunt.check()
    hunt.report()
    if hunt.best is None:
        raise CannotApply("no-layout", "lay", "no layout passed the check")
    return Found(hunt.best, hunt.thrown_away, tuple(hunt.failures))


def missing_libraries() -> tuple[str, ...]:
    """What of the optional extra `cutonce[lay]` is not installed."""
    return tuple(name for name in ("pyclipper", "spyrrow", "numba") if find_spec(name) is None)


def _installed() -> None:
    missing = missing_libraries()
    if missing:
        message = f"libraries of the lay are not installed: {', '.join(missing)}"
        raise CannotApply("not-installed", "lay", message, "pip install 'cutonce[lay]'")


def _cores() -> int:
    """Those this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def _hunted(hunt: _Hunt, crew: Crew, cores: int, stopped: Callable[[], bool], start: Layout | None) -> None:
    """The first layout here, without children: on a busy machine they would keep her waiting for it."""
    if start is not None:
        hunt.begin(start)
    if hunt.best is None:
        hunt.consider(first_layout(hunt.problem))
        hunt.check()
    hunt.report()
    if hunt.over or stopped():
        return
    for _ in range(cores):
        _next_task(hunt, crew, crew.hire())
    while hunt.busy and not hunt.over and not stopped():
        for name, message in crew.told(min(LOOK_SECONDS, hunt.left + LATE_SECONDS)):
            hunt.hear(message)
            if message.kind != "better":
                hunt.check()
                _next_task(hunt, crew, name if crew.here(name) else crew.hire())
        hunt.look()


def _next_task(hunt: _Hunt, crew: Crew, name: int) -> None:
    task = hunt.next_task()
    if task is not None:
        crew.give(name, task)


class _Hunt:
    """What is known while it goes on: the best layout, those to be checked, who is at what."""

    def __init__(
        self,
        problem: Problem,
        seconds: float,
        seed: int,
        on_better: Callable[[Layout], None],
        enough: float | None,
    ) -> None:
        self.problem = replace(problem, bed=replace(problem.bed, length=None))
        self.seconds, self.seed, self.on_better = seconds, seed, on_better
        self.until = time.monotonic() + seconds
        self.enough = max(least_length(problem), -1.0 if enough is None else enough) + EVEN_MM / 2
        self.goal = enough
        self.rough: Layout | None = None
        self.afresh = seconds >= AFRESH_SECONDS and len(problem.blanks) <= AFRESH_BLANKS
        self.gone_from: Layout | None = None
        self.best: Layout | None = None
        self.told: Layout | None = None
        self.waiting: list[Layout] = []
        self.checked_at = 0.0
        self.thrown_away = 0
        self.failures: list[str] = []
        self.failed: dict[Engine, int] = {}
        self.at: dict[int, Engine] = {}
        self.given = 0

    @property
    def left(self) -> float:
        return self.until - time.monotonic()

    @property
    def busy(self) -> bool:
        return bool(self.at)

    @property
    def over(self) -> bool:
        """Time is up, or what is found is short enough."""
        good = self.best is not None and self.best.length <= self.enough
        return good or self.left <= -LATE_SECONDS

    def begin(self, start: Layout) -> None:
        """A layout from before. Where its pieces have changed too much for it, it is laid anew in its order.
        Either way one child settles it as it lies: at the length that is enough, if one is."""
        self.afresh = False
        known = _measured(self.problem, start)
        self.consider(known)
        self.check()
        if self.best is None and (anew := laid_like(self.problem, start)) is not None:
            self.consider(anew)
            self.check()
        if self.best is not None:
            self.rough = known if self.goal is None else replace(known, length=min(known.length, self.goal))

    def hear(self, message: Message) -> None:
        if message.layout is not None:
            self.consider(message.layout)
        if message.kind != "better":
            engine = self.at.pop(message.number)
            if message.kind == "failed":
                self.failures.append(message.words)
                self.failed[engine] = self.failed.get(engine, 0) + 1

    def consider(self, layout: Layout) -> None:
        if self.best is None or layout.length < self.best.length - EVEN_MM:
            self.waiting.append(layout)

    def look(self) -> None:
        """Check and report now and then, at once where that may end the search."""
        now = time.monotonic()
        short = any(layout.length <= self.enough for layout in self.waiting)
        if self.waiting and (short or now - self.checked_at >= CHECK_SECONDS):
            self.check()
            self.report()

    def check(self) -> None:
        """The shortest that waits and passes becomes the best; what does not pass is thrown away."""
        for layout in sorted(self.waiting, key=lambda layout: layout.length):
            if self.best is not None and layout.length >= self.best.length - EVEN_MM:
                break
            if verify(self.problem, layout):
                self.thrown_away += 1
                continue
            self.best = layout
            break
        self.waiting.clear()
        self.checked_at = time.monotonic()

    def report(self) -> None:
        if self.best is not None and self.best is not self.told:
            self.told = self.best
            self.on_better(self.best)

    def next_task(self) -> Task | None:
        """For a child that has none: the strip packing first, then turns of settling from the best."""
        left = self.left - LOOK_SECONDS
        engine, start = self._engine(), self.best
        rough = self.rough is not None and not self.failed.get("settle")
        if rough:
            engine, start = "settle", self.rough
        if engine is None or left < LEAST_SECONDS:
            return None
        self.rough = None
        share = STRIP_SHARE if rough or engine == "strip" else TURN_SHARE
        if engine == "settle" and not rough:
            if self.afresh and self.at and self.gone_from is self.best and left > AFRESH_SHARE * self.seconds:
                start, share = None, AFRESH_SHARE
            else:
                self.gone_from = self.best
        seconds = max(LEAST_TURN_SECONDS, share * self.seconds)
        if left - seconds < LEAST_TURN_SECONDS:
            seconds = left
        number = self.given
        self.given += 1
        self.at[number] = engine
        return Task(number, engine, self.problem, start, seconds, self.seed + number)

    def _engine(self) -> Engine | None:
        choices: list[Engine] = ["settle", "orders"]
        if can_strip(self.problem):
            begun = self.seconds - self.left > STRIP_SHARE * self.seconds / 2
            choices = ["settle", "strip", "orders"] if begun else ["strip", "settle", "orders"]
        return next((engine for engine in choices if self.failed.get(engine, 0) < FAILURES), None)


def _measured(problem: Problem, layout: Layout) -> Layout:
    """With the length that it takes with the outlines that the blanks have now."""
    ends = {b.key: [max(p.real for p in s.outline) for s in b.shapes] for b in problem.blanks}
    known = [s for s in layout.spots if 0 <= s.shape < len(ends.get(s.blank, ()))]
    return replace(layout, length=max((s.at.real + ends[s.blank][s.shape] for s in known), default=0.0))


def least_length(problem: Problem) -> float:
    """No layout is shorter: the longest blank laid its shortest way, and the area over the width."""
    lengths = [min(max(p.real for p in s.outline) for s in b.shapes) for b in problem.blanks if b.shapes]
    area = sum(min(_area(s.outline) for s in b.shapes) for b in problem.blanks if b.shapes)
    return (
        max(lengths, default=0.0) if problem.bed.width <= 0.0 else max([area / problem.bed.width, *lengths])
    )


def _area(ring: tuple[complex, ...]) -> float:
    return abs(sum((p.conjugate() * q).imag for p, q in zip(ring, ring[1:] + ring[:1], strict=True))) / 2
