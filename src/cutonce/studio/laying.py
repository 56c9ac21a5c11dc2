"""Her cloth, on which the same pieces are laid again and again in other sizes: each starts from the last."""

from __future__ import annotations

import math
import os
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from cutonce.cloth.cloth import Cloth, Remnant
from cutonce.errors import BadInput
from cutonce.geometry import path
from cutonce.geometry.motion import Motion
from cutonce.lay.asked import Asked
from cutonce.lay.lay import Effort, Search, lay
from cutonce.lay.plan import Plan
from cutonce.lay.problem import Layout, Problem, Spot
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven


@dataclass(frozen=True, slots=True)
class State:
    """A lay that a later one may start from: its plan, and what was laid how on each part of the cloth."""

    plan: Plan
    parts: tuple[tuple[Problem, Layout], ...]


@dataclass(slots=True)
class ClothLaying:
    """Lays on one cloth under her wishes. Every lay has a seed of its own, so that a second try is one.

    `told` hears of each better plan while it is searched for.
    """

    cloth: Cloth
    asked: Asked = field(default_factory=Asked)
    cores: int = field(default_factory=lambda: len(os.sched_getaffinity(0)))
    stopped: Callable[[], bool] = lambda: False
    told: Callable[[Plan], None] = lambda _: None
    search: Search | None = None
    lays: int = 0

    @property
    def room(self) -> float:
        """mm at hand; without limit where the cloth is to be bought."""
        if self.cloth.length is None:
            return 0.0 if self.cloth.remnants else math.inf
        return self.cloth.length

    def demand(self, design: Proven) -> float:
        """The pieces' area, enlarged for shrinkage, less that of remnants, over the usable width."""
        cloth = self.cloth
        area = sum(
            abs(path.area(p.cutting)) * (2 if p.cut == "fold" else p.count) for p in design.finished.pieces
        )
        area /= (1 - cloth.shrink_along) * (1 - cloth.shrink_across)
        return max(0.0, area - sum(_area(r) for r in cloth.remnants)) / cloth.usable

    def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
        """Lay the design's pieces; see `Laying`."""
        before = start.state if start is not None else None
        warm = _Warm(self.search or _engine(), before.parts if isinstance(before, State) else ())
        plan = lay(
            design.finished,
            self.cloth,
            self.asked,
            design.replayed.draft.seams,
            Effort(seconds, seed=self.lays, cores=self.cores, enough=ends_early),
            on_better=self.told,
            stopped=self.stopped,
            search=warm,
        )
        self.lays += 1
        stops = any(f.severity == "stop" for f in plan.findings)
        over = _furthest(plan) if stops else ""
        return Lay(plan.length, not stops, State(plan, tuple(warm.made)), over)


def plan_of(lay: Lay) -> Plan:
    """The plan of a lay that was made here. Raises TypeError for another."""
    if not isinstance(lay.state, State):
        raise TypeError("a lay on cloth carries its plan")
    return lay.state.plan


def at_hand(cloth: Cloth) -> Cloth:
    """The cloth itself; raises BadInput where none of it is at hand."""
    if cloth.length is None and not cloth.remnants:
        message = "it has no length, so everything fits it"
        raise BadInput("no-length", cloth.name, message, "give the length at hand, or ask what to buy")
    return cloth


def _engine() -> Search:
    from cutonce.lay.search import search

    return search


@dataclass(slots=True)
class _Warm:
    """A search that begins where an earlier one of the same pieces, or of what they were cut from, ended."""

    engine: Any
    before: tuple[tuple[Problem, Layout], ...]
    made: list[tuple[Problem, Layout]] = field(default_factory=list)

    def __call__(self, problem: Problem, **how: Any) -> Layout:
        known = self.before[len(self.made)] if len(self.made) < len(self.before) else None
        start = None if known is None else carried(problem, *known)
        layout: Layout = self.engine(problem, start=start, **how)
        self.made.append((problem, layout))
        return layout


def carried(problem: Problem, was: Problem, old: Layout) -> Layout | None:
    """An old layout carried over to a problem with pieces in other sizes, other ways to lie, or in parts.

    A blank lies as its namesake lay; a new one where the piece of the longest like name lay, of which it is
    taken to be a part. The layout may overlap. None where a blank is like none of the old ones.
    """
    blanks = {blank.key: blank for blank in was.blanks}
    spots = {spot.blank: spot for spot in old.spots}
    found: list[Spot] = []
    for blank in problem.blanks:
        key = _like(blank.key, tuple(spots))
        if key is None:
            return None
        spot = spots[key]
        motion = blanks[key].shapes[spot.shape].motion
        index = min(range(len(blank.shapes)), key=lambda k: _turned(blank.shapes[k].motion, motion))
        at = spot.at
        if key != blank.key:
            at += motion.shift - blank.shapes[index].motion.shift
        found.append(Spot(blank.key, index, at))
    return Layout(old.length, tuple(found))


def _like(key: str, known: tuple[str, ...]) -> str | None:
    if key in known:
        return key
    return max((k for k in known if k in key or key in k), key=len, default=None)


def _turned(one: Motion, other: Motion) -> float:
    """How far two ways to lie differ: turned over counts most."""
    return abs(one.turn - other.turn) + (10.0 if one.mirror != other.mirror else 0.0)


def _furthest(plan: Plan) -> str:
    """The piece that reaches furthest along the cloth."""
    reach = {one.key: max(one.motion(z).real for z in path.flattened(one.piece.cutting)) for one in plan.laid}
    return max(reach, key=lambda key: reach[key], default="")


def _area(remnant: Remnant) -> float:
    ring = remnant.outline
    return abs(sum((a.conjugate() * b).imag for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2
