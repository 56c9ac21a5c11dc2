"""The waist of a bodice or dress: its shaping shared among darts and side, and the trued waist line."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cutonce.blocks.bodice_frame import Frame

WIDEST_DART = 40.0
"""A wider waist dart pokes at its point; it becomes two (from memory)."""

LEAST_DART = 6.0
"""A narrower waist dart is not worth sewing; the side seam takes it."""

FRONT_SHORT = 20.0
"""The front waist dart ends this far below the bust point, so that it never meets the bust dart's legs."""

DART_NAMES = ("waist dart", "side waist dart")


@dataclass(frozen=True, slots=True)
class WaistPlan:
    """Intakes at the waist in mm: darts of front and back from the centre outwards, and what each piece's
    side seam takes in (negative: it leans outwards)."""

    front: tuple[float, ...]
    back: tuple[float, ...]
    side: float

    @property
    def darts(self) -> float:
        return sum(self.front) + sum(self.back)

    def taking(self, more: float) -> WaistPlan:
        """The plan with `more` mm taken in: by the darts in proportion, by the side what they cannot take."""
        darts = self.darts
        factor = (darts + more) / darts if darts else 1.0
        front, back = (tuple(min(WIDEST_DART, i * factor) for i in d) for d in (self.front, self.back))
        left = darts + more - sum(front) - sum(back)
        return WaistPlan(front, back, self.side + left / 2)


def waist_plan(frame: Frame, waist: float, side_at_least: float = -math.inf) -> WaistPlan:
    """Shares of the shaping from half the bust line to `waist`, half the waist girth with ease.

    The side takes at least `side_at_least` a piece. Darts under 6 mm go to the side, one over 4 cm becomes
    two of at most 4 cm, and what is left over goes to the side too. Never a negative dart.
    """
    shaping = frame.half_width - waist
    shares = frame.waist
    side = max(shares.side * shaping / 2, side_at_least) if shaping > 0 else shaping / 2
    rest = max(0.0, shaping - 2 * side)
    total = shares.front + shares.back
    front, back = (_darts(rest * share / total) for share in (shares.front, shares.back))
    left_over = shaping - sum(front) - sum(back)
    return WaistPlan(front, back, left_over / 2)


def _darts(intake: float) -> tuple[float, ...]:
    if intake < LEAST_DART:
        return ()
    if intake <= WIDEST_DART:
        return (intake,)
    return (min(intake / 2, WIDEST_DART),) * 2


def dart_places(frame: Frame) -> tuple[tuple[float, float], tuple[float, float]]:
    """Distances from the centre of the waist darts, front then back: next to the centre, next to the side."""
    return (
        (frame.bust.point.real, frame.front_line - 15),
        (frame.back_width / 2 + 5, frame.back_width - 10),
    )
