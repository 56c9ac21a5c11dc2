"""A layer that takes no time to speak of: the first legal lay, always the same."""

from __future__ import annotations

from typing import Any

from cutonce.cloth.cloth import Cloth
from cutonce.lay.asked import Asked
from cutonce.lay.first import first_layout
from cutonce.lay.problem import Layout, Problem
from cutonce.studio.largest import Lay
from cutonce.studio.lay import Watch
from cutonce.studio.laying import ClothLaying
from cutonce.studio.prove import Proven


def first_only(problem: Problem, **how: Any) -> Layout:
    """The engine: one order of the pieces, told once."""
    found = first_layout(problem)
    how["on_better"](found)
    return found


def greedy(
    proven: Proven, cloth: Cloth, asked: Asked, seconds: float, watch: Watch, start: Lay | None
) -> Lay:
    told = ClothLaying(
        cloth, asked, stopped=watch.stop, told=lambda plan: watch.best(plan.length), search=first_only
    )
    return told.lay(proven, seconds, start, False)
