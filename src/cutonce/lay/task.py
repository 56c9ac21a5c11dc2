"""What a search process is asked and what it tells. Values that are pickled between a program and itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutonce.lay.problem import Layout, Problem

Engine = Literal["strip", "settle", "orders"]
"""strip: the strip packing library; settle: our own search from a layout; orders: other orders of laying."""


@dataclass(frozen=True, slots=True)
class Task:
    """Search a problem for `seconds` from `start`. `number` comes back with each message about it."""

    number: int
    engine: Engine
    problem: Problem
    start: Layout | None
    seconds: float
    seed: int
    workers: int = 1


@dataclass(frozen=True, slots=True)
class Message:
    """About a task: a better layout, that it is done, or why it failed (`words`, one line)."""

    number: int
    kind: Literal["better", "done", "failed"]
    layout: Layout | None = None
    words: str = ""
