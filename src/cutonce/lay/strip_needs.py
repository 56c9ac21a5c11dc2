"""The strips that a cut list asks for, one by one, and the values that say where each is cut."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from cutonce.cloth.cloth import Cloth
from cutonce.finishing.finished import CutRow
from cutonce.lay.problem import Ring

Grain = Literal["bias", "straight", "cross"]

_GRAINS: dict[str, Grain] = {"bias strip": "bias", "straight strip": "straight", "cross strip": "cross"}
"""What a row of the cut list says it is; other rows are no strips of the cloth."""


@dataclass(frozen=True, slots=True)
class Need:
    """One strip to cut: `length` mm in one, without joins, free ends included; `width` as cut.

    `row` is its place in the cut list, from 0; `copy` of `copies` alike. `closed`: joined to a ring. `joins`
    are those that the cut list counts.
    """

    row: int
    kind: str
    used_for: str
    grain: Grain
    width: float
    length: float
    closed: bool = False
    joins: int = 0
    copy: int = 1
    copies: int = 1

    def loss(self, join: float) -> float:
        """What a join takes along the strip, `join` mm allowed on both parts: on the bias it is sewn at 45
        degrees to the strip and takes 2 sqrt 2 x its allowance, on the straight grain twice."""
        return 2 * join * (math.sqrt(2) if self.grain == "bias" else 1.0)

    def slanted(self, join: float) -> float:
        """Length along the sides of a strip whose two ends slant alike: a ring has a join for it, a free end
        is trimmed square and costs, both together, the strip's width."""
        if self.grain != "bias":
            return self.length + (self.loss(join) if self.closed else 0.0)
        return self.length + (self.loss(join) if self.closed else self.width)


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of cloth in a strip. `ring` are its four corners in places of the lay; `length` along its
    sides. `leftover` is the number of the area that it is cut from, 0 cloth yet to buy; `layer` of folded
    cloth, else ""."""

    ring: Ring
    length: float
    leftover: int
    layer: str = ""


@dataclass(frozen=True, slots=True)
class CutStrip:
    """A strip in parts, with `joins` seams (the one that closes a ring counted)."""

    need: Need
    parts: tuple[Part, ...]
    joins: int


@dataclass(frozen=True, slots=True)
class Block:
    """A block of cloth that is cut into one long strip round and round, the continuous way.

    `long` and `height` are its sides with seam allowances. A rectangle (`seams` 2) has the corner cut off
    at 45 degrees and sewn to the other end; a parallelogram with two sides on the bias (`seams` 1) is ready.
    Lines `width` apart are drawn beside the bias sides, the long sides are sewn to a tube one line further,
    and `rounds` whole rounds give `gives` mm of strip with `joins` seams in it.
    """

    ring: Ring
    leftover: int
    layer: str
    long: float
    height: float
    seams: int
    width: float
    rounds: int
    gives: float
    joins: int
    serves: tuple[Need, ...] = ()


def needs(rows: Iterable[CutRow], cloth: Cloth | None = None, join: float = 6.0) -> tuple[Need, ...]:
    """Every strip of a cut list, one for each copy, the joins that the list counted taken off again.

    On a cloth that shrinks, lengths and widths are enlarged by the greater of its two shares: a strip on the
    bias shrinks by less than that.
    """
    grown = 1 / (1 - max(cloth.shrink_along, cloth.shrink_across)) if cloth else 1.0
    out: list[Need] = []
    for place, row in enumerate(rows):
        grain = _GRAINS.get(row.what)
        if grain is None or row.width_mm <= 0:
            continue
        plain = Need(
            place,
            row.kind,
            row.used_for,
            grain,
            row.width_mm * grown,
            row.length_mm,
            row.closed,
            row.joins,
            copies=row.count,
        )
        size = (row.length_mm - row.joins * plain.loss(join)) * grown
        out += [replace(plain, length=size, copy=k) for k in range(1, row.count + 1)]
    return tuple(out)
