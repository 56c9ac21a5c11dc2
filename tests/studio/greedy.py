"""A layer that takes no time to speak of: the first legal lay, always the same."""

from __future__ import annotations

from typing import Any

from cutonce.cloth.cloth import Cloth
from cutonce.lay.asked import Asked
from cutonce.lay.first import first_layout
from cutonce.lay.lay import Effort, lay
from cutonce.lay.plan import Plan
from cutonce.lay.problem import Layout, Problem
from cutonce.studio.lay import Watch, length_taken
from cutonce.studio.prove import Proven


def first_only(problem: Problem, **how: Any) -> Layout:
    """The engine: one order of the pieces, told once."""
    found = first_layout(problem)
    how["on_better"](found)
    return found


def greedy(proven: Proven, cloth: Cloth, asked: Asked, seconds: float, watch: Watch) -> Plan:
    return lay(
        proven.finished,
        cloth,
        asked,
        proven.replayed.draft.seams,
        Effort(seconds),
        on_better=lambda plan: watch.best(length_taken(plan)),
        stopped=watch.stop,
        search=first_only,
    )
