"""The whole lay: from finished pieces and her cloth to a plan that has been checked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from cutonce.cloth.cloth import Cloth
from cutonce.draft.seam import Seam
from cutonce.errors import BadInput
from cutonce.finishing.enlarge import all_enlarged
from cutonce.finishing.finished import Finished
from cutonce.geometry import path
from cutonce.lay.asked import Asked
from cutonce.lay.assemble import StageLaid, assembled
from cutonce.lay.beds import Stage, crosswise_stage, lengthwise_stage, open_stage, usable_check
from cutonce.lay.cuts import Cut, cuts, parted
from cutonce.lay.matched import matched
from cutonce.lay.matching import Matchable, pattern
from cutonce.lay.places import Join, joins, usual
from cutonce.lay.plan import Plan, Way
from cutonce.lay.prepare import Prepared, known_keys, prepared, settled_by
from cutonce.lay.problem import Layout, Problem
from cutonce.lay.proof import prove
from cutonce.lay.remains import left_over, share
from cutonce.lay.said import findings

SECONDS = 10.0
"""For the whole search, unless she says otherwise."""

Stopped = Callable[[], bool]
"""Asked now and then whether to end with the best so far."""


class Search(Protocol):
    """Lays a problem as short as it can within `seconds`; tells each better layout; ends soon once
    `stopped`."""

    def __call__(
        self,
        problem: Problem,
        *,
        seconds: float,
        seed: int,
        cores: int,
        on_better: Callable[[Layout], None],
        stopped: Stopped,
        enough: float | None,
    ) -> Layout: ...


@dataclass(frozen=True, slots=True)
class Effort:
    """How long, from which seed and on how many cores to search. `enough`: end as soon as it fits the length
    at hand."""

    seconds: float = SECONDS
    seed: int = 0
    cores: int = 2
    enough: bool = False


@dataclass(frozen=True, slots=True)
class _Job:
    """What is laid on what, and what is matched. `groups` are the stages of the cloth with what is cut on
    each."""

    cloth: Cloth
    asked: Asked
    groups: tuple[tuple[Way, tuple[Cut, ...]], ...]
    joins: tuple[Join, ...]

    @property
    def cuts(self) -> tuple[Cut, ...]:
        return tuple(c for _, group in self.groups for c in group)

    @property
    def with_remnants(self) -> bool:
        """Remnants lie open, on their own; where in the pattern they were cut is not known."""
        return bool(self.cloth.remnants) and not self.joins and self.asked.way == "open"


def lay(
    done: Finished,
    cloth: Cloth,
    asked: Asked | None = None,
    seams: Sequence[Seam] = (),
    effort: Effort | None = None,
    on_better: Callable[[Plan], None] = lambda _: None,
    stopped: Stopped = lambda: False,
    search: Search | None = None,
) -> Plan:
    """Lay a garment's finished pieces (as finished: they are enlarged here for the cloth's shrinkage).

    `seams` are the draft's, for stripes and checks to be matched over. `on_better` is told each better plan
    that has all pieces, without what it leaves over. The plan has passed the independent check. Raises
    BadInput or CannotApply, one line each, where there is nothing to lay or no way to lay it.
    """
    usable_check(cloth)
    if not done.pieces:
        raise BadInput("no-pieces", done.garment or "lay", "there is nothing to lay")
    job = _job(all_enlarged(done, cloth.shrink_along, cloth.shrink_across), cloth, asked or Asked(), seams)
    effort = effort or Effort()
    engine = search or _engine()
    before: list[StageLaid] = []
    settled: dict[str, Matchable] = {}
    whole = sum(_size(c) for c in job.cuts)
    for n, (way, group) in enumerate(job.groups):
        ready = _ready(job, way, group, before, settled)
        last = n == len(job.groups) - 1
        watch = _Watch(job, ready, tuple(before), on_better if last else None)
        layout = engine(
            ready.problem,
            seconds=effort.seconds * sum(_size(c) for c in group) / whole,
            seed=effort.seed,
            cores=effort.cores,
            on_better=watch.better,
            stopped=stopped,
            enough=ready.problem.bed.length if effort.enough and last else None,
        )
        before.append(_laid(ready, layout))
        prove(before[-1], ready, job.asked.spacing)
        settled |= settled_by(ready, layout, pattern(cloth, ready.stage))
    return _plan(job, before)


def _engine() -> Search:
    from cutonce.lay.search import search

    return search


def _job(done: Finished, cloth: Cloth, asked: Asked, seams: Sequence[Seam]) -> _Job:
    groups = _groups(done, asked)
    chosen = [c for _, group in groups for c in group]
    known_keys(asked, chosen)
    if cloth.stripe_along is None and cloth.stripe_across is None:
        return _Job(cloth, asked, groups, ())
    wanted = usual(seams, chosen, cloth.stripe_across is not None) if asked.match is None else asked.match
    return _Job(cloth, asked, groups, joins(wanted, seams, chosen))


def _groups(done: Finished, asked: Asked) -> tuple[tuple[Way, tuple[Cut, ...]], ...]:
    """What is cut on each stage, in the order of the cloth; a stage with nothing to cut is left out."""
    if asked.way != "part folded, part open":
        return ((asked.way, cuts(done, asked.way)),)
    folded, single = parted(done)
    both: tuple[tuple[Way, tuple[Cut, ...]], ...] = (("folded lengthwise", folded), ("open", single))
    return tuple(pair for pair in both if pair[1])


def _ready(
    job: _Job, way: Way, group: Sequence[Cut], before: Sequence[StageLaid], settled: dict[str, Matchable]
) -> Prepared:
    taken = assembled(before, job.cloth).taken
    stage = _stage(job, way, taken)
    parts = sum(len(one.stage.parts) for one in before)
    return prepared(group, job.cloth, stage, job.asked, job.joins, settled, parts)


def _stage(job: _Job, way: Way, taken: float) -> Stage:
    match way:
        case "open":
            return open_stage(job.cloth, job.asked.margin, taken, job.with_remnants)
        case "folded lengthwise":
            return lengthwise_stage(job.cloth, job.asked.margin, bool(job.joins))
        case "folded crosswise":
            return crosswise_stage(job.cloth, job.asked.margin)


def _laid(ready: Prepared, layout: Layout) -> StageLaid:
    blanks = {b.key: b for b in ready.problem.blanks}
    return StageLaid(ready.stage, ready.cuts, ready.outlines, blanks, layout)


def _plan(job: _Job, done: Sequence[StageLaid], complete: bool = True) -> Plan:
    """The plan of laid stages; what is left over, which takes longest, only where it is `complete`."""
    whole = assembled(done, job.cloth)
    told = matched(job.joins, job.cloth, whole.sections, whole.laid, job.cuts)
    return Plan(
        cloth=job.cloth,
        sections=whole.sections,
        laid=whole.laid,
        length=whole.taken,
        share=share(whole, job.cloth),
        left=left_over(whole, job.cloth) if complete else (),
        matched=told,
        findings=findings(whole, job.cloth, job.cuts, told, bool(job.joins), job.with_remnants),
    )


@dataclass(frozen=True, slots=True)
class _Watch:
    """Stands between the search and her who waits: what is told as a layout becomes a plan."""

    job: _Job
    ready: Prepared
    before: tuple[StageLaid, ...]
    told: Callable[[Plan], None] | None

    def better(self, layout: Layout) -> None:
        if self.told is not None:
            self.told(_plan(self.job, [*self.before, _laid(self.ready, layout)], complete=False))


def _size(cut: Cut) -> float:
    return abs(path.area(cut.piece.cutting))
