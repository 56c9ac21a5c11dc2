"""Arithmetic of strips: widths of bindings, lengths with joins, the square of cloth that yields them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

SPARE = 1.2
"""Cloth to allow over a strip's own area: squares are said to yield about 17 % less than area over width."""


def binding_width(
    finished: float, layers: Literal["single", "double"], turning: float | None = None
) -> float:
    """Cut width of a binding in mm: single 2 x finished + 2 allowances, double 4 x finished + 2 allowances.

    The allowance is as wide as the binding where nothing else is said: 4 and 6 times the finished width.

    >>> binding_width(6.35, "single"), binding_width(10, "double", 6)
    (25.4, 52)
    """
    a = finished if turning is None else turning
    return (2 if layers == "single" else 4) * finished + 2 * a


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip to cut: `length` in mm in all, in `parts` joined by `joins` slanting seams (the one that closes
    a ring counted)."""

    length: float
    parts: int
    joins: int


def strip(size: float, closed: bool, width: float, run: float, join: float, ends: float) -> Strip:
    """The strip for an edge of `size` mm cut from cloth that gives `run` mm along its diagonal.

    A strip `width` wide is at most `run - width` long. Each join at 45 degrees takes 2 sqrt 2 x its allowance
    along the strip; each free end is `ends` longer than the edge.

    >>> strip(1000.0, False, 32, 1272.8, 6, 10)
    Strip(length=1020.0, parts=1, joins=0)
    >>> strip(3000, True, 40, 1272.8, 6, 10).parts
    3
    """
    longest = max(run - width, 1.0)
    per_join = 2 * math.sqrt(2) * join
    parts = 1
    while True:
        joins = parts if closed else parts - 1
        total = size + joins * per_join + (0.0 if closed else 2 * ends)
        if total <= parts * longest or per_join >= longest:
            return Strip(total, parts, joins)
        parts += 1


def square_side(length: float, width: float) -> float:
    """Side in mm of the square of cloth that yields a bias strip, spare included: sqrt(length x width x 1.2).

    >>> round(square_side(3000, 40) / 10)
    38
    """
    return math.sqrt(length * width * SPARE)
