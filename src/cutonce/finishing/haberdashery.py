"""What to buy beside the cloth: cord, elastic, tape and zips of a cut list gathered, in the shop's steps."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from cutonce.finishing.finished import CutRow

BY_LENGTH: dict[str, float] = {"cord": 500.0, "elastic": 500.0, "stay tape": 500.0}
"""Kinds that are cut from a reel, and the step in mm in which shops sell them (common practice)."""

BY_PIECE = ("zip",)
"""Kinds that are bought in the length they have."""


@dataclass(frozen=True, slots=True)
class Ware:
    """One line of a shopping list: `pieces` of `kind`, `width` mm wide (0 where it has none).

    `length` is what the garment takes in all, `buy` what to ask for: rounded up to the shop's step, or, of
    zips, the length of each. `lengths` are the pieces to cut, longest first; `used_for` says for what.
    """

    kind: str
    width: float
    length: float
    buy: float
    pieces: int
    lengths: tuple[float, ...]
    used_for: tuple[str, ...]


def haberdashery(rows: Iterable[CutRow]) -> tuple[Ware, ...]:
    """The cords, elastics, tapes and zips of a cut list, those of one kind and width together.

    Stay tape of 1.2 m and two of 0.2 m is 1.6 m: ask for 2 m.

    >>> neck = CutRow("stay tape", "tape", "neck", 6.0, 1200.0, 1)
    >>> arms = CutRow("stay tape", "tape", "armhole", 6.0, 200.0, 2)
    >>> [(w.kind, w.length, w.buy, w.pieces) for w in haberdashery([neck, arms])]
    [('stay tape', 1600.0, 2000.0, 3)]
    """
    groups: dict[tuple[str, float], list[CutRow]] = {}
    for row in rows:
        if row.kind in BY_LENGTH:
            groups.setdefault((row.kind, row.width_mm), []).append(row)
        elif row.kind in BY_PIECE:
            groups.setdefault((row.kind, row.length_mm), []).append(row)
    return tuple(_ware(kind, alike) for (kind, _), alike in groups.items())


def _ware(kind: str, rows: list[CutRow]) -> Ware:
    lengths = tuple(sorted((r.length_mm for r in rows for _ in range(r.count)), reverse=True))
    total = sum(lengths)
    step = BY_LENGTH.get(kind)
    buy = math.ceil(total / step - 1e-9) * step if step else rows[0].length_mm
    return Ware(
        kind,
        rows[0].width_mm,
        total,
        buy,
        len(lengths),
        lengths,
        tuple(dict.fromkeys(r.used_for for r in rows)),
    )
