"""A cloth on which every lay wastes the same share: what fits is known exactly, and no search is needed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from cutonce.finishing.finished import FinishedPiece
from cutonce.geometry import path
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven


def area(piece: FinishedPiece) -> float:
    """mm2 of cloth: a half piece on the fold counts twice, as does one of a pair."""
    return abs(path.area(piece.cutting)) * (2 if piece.cut == "fold" else piece.count)


@dataclass
class AreaLaying:
    """Takes `waste` times the area over the width; a lay that fits takes no time, another all of it."""

    room: float
    width: float = 1000.0
    waste: float = 1.2
    now: float = 0.0
    lengths: list[float] = field(default_factory=list)

    @property
    def clock(self) -> Callable[[], float]:
        return lambda: self.now

    def demand(self, design: Proven) -> float:
        return sum(area(p) for p in design.finished.pieces) / self.width

    def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
        length = self.waste * self.demand(design)
        self.lengths.append(length)
        if length <= self.room:
            self.now += 0.0 if ends_early else seconds
            return Lay(self.room if ends_early else length, True, "laid")
        self.now += seconds
        return Lay(length, False, "over", max(design.finished.pieces, key=area).key)
