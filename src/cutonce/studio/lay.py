"""The lay as a use case: which cloth of a stash, what it takes, what is spare or lacking. No files here."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from cutonce.cloth.cloth import Cloth
from cutonce.cloth.kinds import remarks
from cutonce.cloth.shop import Purchase, to_buy
from cutonce.errors import BadInput, CannotApply, Finding, closest, quoted
from cutonce.finishing.cutlist import cut_list
from cutonce.finishing.enlarge import all_enlarged
from cutonce.finishing.finished import Finished, FinishedPiece
from cutonce.lay.asked import Asked, AskedWay
from cutonce.lay.cuts import cuts, parted
from cutonce.lay.lay import SECONDS
from cutonce.lay.plan import Plan
from cutonce.lay.strips import Strips, cut_strips
from cutonce.studio.largest import Lay
from cutonce.studio.laying import ClothLaying, plan_of
from cutonce.studio.prove import Proven

_SAME_MM = 0.05
"""A lay that is longer than the cloth by less fits: half of what a tape can be read to."""

_LEAST_SECONDS = 1.0
"""For each cloth of a stash in the first round."""


@dataclass(frozen=True, slots=True)
class Watch:
    """Who waits for a search: `best` is told the shortest length so far in mm, `stop` asked if to end."""

    best: Callable[[float], None] = field(default=lambda _: None)
    stop: Callable[[], bool] = field(default=lambda: False)


class Layer(Protocol):
    """Lays a proven design on a cloth; ends when told, with the best so far. It may start from an earlier lay
    of the same. Raises Problem where no lay can be (a piece wider than the cloth)."""

    def __call__(
        self, proven: Proven, cloth: Cloth, asked: Asked, seconds: float, watch: Watch, start: Lay | None
    ) -> Lay: ...


@dataclass(frozen=True, slots=True)
class Outcome:
    """A lay and its answers. `needed` is the length of cloth it takes in mm, remnants not counted; `spare`
    what is left of the length at hand, below 0 what is lacking, None where the cloth is to be bought. Another
    search may start from `lay`.

    `buy` is what to ask for if it is bought new, `lacking` what to buy in addition (None where it fits).
    """

    plan: Plan
    lay: Lay
    asked: Asked
    needed: float
    spare: float | None
    fits: bool
    buy: Purchase
    lacking: Purchase | None
    strips: Strips
    findings: tuple[Finding, ...] = ()

    @property
    def cloth(self) -> Cloth:
        return self.plan.cloth


@dataclass(frozen=True, slots=True)
class Tried:
    """A cloth of the stash: what a short search came to, or why there is no lay on it."""

    cloth: Cloth
    outcome: Outcome | None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The lay to cut by, and every cloth of the stash that was tried (one that was asked for: none).

    `stopped`: she ended the search before its time.
    """

    outcome: Outcome
    tried: tuple[Tried, ...] = ()
    stopped: bool = False


def lay_design(
    proven: Proven,
    cloths: Sequence[Cloth],
    asked: Asked | None = None,
    seconds: float = SECONDS,
    layer: Layer | None = None,
    watch: Watch | None = None,
) -> Chosen:
    """The pieces of a design on one cloth, or on the best of a stash.

    Of several, those at hand are tried for a short time each; the one that fits and wastes least is then laid
    for the rest of it, or, where none suffices, the one that lacks least. Raises BadInput "no-length" where
    all are still to be bought, and Problem where no lay can be on any of them.
    """
    asked, layer, watch = asked or Asked(), layer or by_search, watch or Watch()
    if len(cloths) == 1:
        return Chosen(lay_on(proven, cloths[0], asked, seconds, layer, watch), stopped=watch.stop())
    at_hand = [cloth for cloth in cloths if cloth.length is not None]
    if not at_hand:
        names = ", ".join(cloth.name for cloth in cloths)
        message = f"none of the {len(cloths)} cloths has a length at hand"
        raise BadInput("no-length", "cloth", message, f"--name says which is to be bought: {names}")
    quick = seconds if len(at_hand) == 1 else max(_LEAST_SECONDS, seconds / (2 * len(at_hand)))
    tried = tuple(_tried(proven, cloth, asked, quick, layer, watch) for cloth in at_hand)
    best = best_of(tried)
    left = seconds - quick * len(at_hand)
    if left > 0 and len(at_hand) > 1 and not watch.stop():
        longer = lay_on(proven, best.cloth, asked, left, layer, watch, best.lay)
        best = min(best, longer, key=lambda outcome: outcome.needed)
    return Chosen(best, tried, watch.stop())


def named(cloths: Sequence[Cloth], name: str, where: str) -> tuple[Cloth, ...]:
    """The cloth of that name, all of them where none is named. Raises BadInput with the choices."""
    if not name:
        return tuple(cloths)
    found = tuple(cloth for cloth in cloths if cloth.name.casefold() == name.strip().casefold())
    if not found:
        names = [cloth.name for cloth in cloths]
        message = f"no cloth {quoted(name)}{closest(name, names)}"
        raise BadInput("unknown-cloth", where, message, f"there are: {', '.join(names)}")
    return found


def best_of(tried: Sequence[Tried]) -> Outcome:
    """Of those that fit the one that wastes least; else the one that lacks least, remnants without room last.

    Raises CannotApply where no cloth can take the pieces at all.
    """
    outcomes = [one.outcome for one in tried if one.outcome is not None]
    if not outcomes:
        why = "; ".join(f"{one.cloth.name}: {one.why}" for one in tried)
        raise CannotApply("no-lay", "cloth", f"the pieces can be laid on none of them: {why}")
    fitting = [outcome for outcome in outcomes if outcome.fits]
    if fitting:
        return min(fitting, key=wasted)
    return min(outcomes, key=lambda outcome: (outcome.lacking is None, -(outcome.spare or 0.0)))


def wasted(outcome: Outcome) -> float:
    """mm2 of cloth that the lay takes and that is no piece."""
    area = sum((s.end - s.start) * s.width * (1 if s.way == "open" else 2) for s in outcome.plan.sections)
    return area * (1 - outcome.plan.share)


def _tried(proven: Proven, cloth: Cloth, asked: Asked, seconds: float, layer: Layer, watch: Watch) -> Tried:
    try:
        return Tried(cloth, lay_on(proven, cloth, asked, seconds, layer, watch))
    except CannotApply as problem:
        return Tried(cloth, None, str(problem))


def lay_on(
    proven: Proven,
    cloth: Cloth,
    asked: Asked,
    seconds: float,
    layer: Layer,
    watch: Watch,
    start: Lay | None = None,
) -> Outcome:
    """The pieces on one cloth, with what it takes and what is left. Raises what the layer raises."""
    return outcome_of(proven, layer(proven, cloth, asked, seconds, watch, start), asked)


def outcome_of(proven: Proven, lay: Lay, asked: Asked) -> Outcome:
    """The answers of a lay."""
    plan = plan_of(lay)
    cloth = plan.cloth
    rows = cut_list(proven.replayed.draft, pieces=proven.finished)
    strips = cut_strips(plan, rows)
    needed = plan.length
    if cloth.length is None and strips.more is not None:
        needed += strips.more.length
    spare = None if cloth.length is None else cloth.length - needed
    stops = any(f.severity == "stop" for f in plan.findings)
    fits = not stops and (spare is None or spare >= -_SAME_MM)
    return Outcome(
        plan,
        lay,
        asked,
        needed,
        spare,
        fits,
        to_buy(cloth, needed),
        to_buy(cloth, -spare) if spare is not None and not fits and spare < 0 else None,
        strips,
        (*remarks(cloth), *plan.findings, *strips.findings),
    )


def by_search(
    proven: Proven, cloth: Cloth, asked: Asked, seconds: float, watch: Watch, start: Lay | None
) -> Lay:
    """The layer that is used: a search on all cores. Raises BadInput where its libraries are missing."""
    laying = ClothLaying(
        cloth, asked, stopped=watch.stop, told=lambda plan: watch.best(plan.length), lays=_seed(start)
    )
    return laying.lay(proven, seconds, start, False)


def _seed(start: Lay | None) -> int:
    """Another one for a search that goes on."""
    return 0 if start is None else 1


def as_cut(done: Finished, cloth: Cloth, way: AskedWay) -> dict[str, FinishedPiece]:
    """What is cut of a garment on a cloth laid one way, by key: halves opened out, hands apart, enlarged."""
    larger = all_enlarged(done, cloth.shrink_along, cloth.shrink_across)
    if way == "part folded, part open":
        folded, single = parted(larger)
        return {cut.key: cut.piece for cut in (*folded, *single)}
    return {cut.key: cut.piece for cut in cuts(larger, way)}
