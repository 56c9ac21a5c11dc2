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
from cutonce.lay.asked import Asked
from cutonce.lay.lay import Effort, Search, lay
from cutonce.lay.plan import Plan
from cutonce.lay.problem import Layout, Problem
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven


@dataclass(frozen=True, slots=True)
class State:
    """A lay that a later one may start from: its plan, and the layout of each part of the cloth."""

    plan: Plan
    layouts: tuple[Layout, ...]


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
        warm = _Warm(self.search or _engine(), before.layouts if isinstance(before, State) else ())
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
    """A search that begins where an earlier one of the same blanks ended."""

    engine: Any
    before: tuple[Layout, ...]
    made: list[Layout] = field(default_factory=list)

    def __call__(self, problem: Problem, **how: Any) -> Layout:
        old = self.before[len(self.made)] if len(self.made) < len(self.before) else None
        layout: Layout = self.engine(problem, start=_fitting(problem, old), **how)
        self.made.append(layout)
        return layout


def _fitting(problem: Problem, old: Layout | None) -> Layout | None:
    """The old layout, if it is one of the same blanks and of shapes that they still have."""
    if old is None:
        return None
    shapes = {blank.key: len(blank.shapes) for blank in problem.blanks}
    if {s.blank for s in old.spots} != set(shapes) or any(s.shape >= shapes[s.blank] for s in old.spots):
        return None
    return old


def _furthest(plan: Plan) -> str:
    """The piece that reaches furthest along the cloth."""
    reach = {one.key: max(one.motion(z).real for z in path.flattened(one.piece.cutting)) for one in plan.laid}
    return max(reach, key=lambda key: reach[key], default="")


def _area(remnant: Remnant) -> float:
    ring = remnant.outline
    return abs(sum((a.conjugate() * b).imag for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2
