"""The waist line of a bodice: square to centre, dart legs and side, so that it is smooth when it is sewn.

Between two darts it is one curve. Where a curve's ends lean by different amounts, an even curve's chord leans
by their mean; this gives each dart the length of its legs from the curve before it.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic
from cutonce.geometry.fit import between
from cutonce.geometry.motion import Point

_ROUNDS = 6
"""Leg lengths and angles settle by a factor of a hundred a round."""


@dataclass(frozen=True, slots=True)
class WaistDart:
    """Mouth end next to the centre, pivot, mouth end next to the side; the legs are equal."""

    inner: Point
    pivot: Point
    outer: Point

    @property
    def lean(self) -> float:
        """Half its angle: how far each end of the waist line leans there."""
        return cmath.phase((self.outer - self.pivot) / (self.inner - self.pivot)) / 2


@dataclass(frozen=True, slots=True)
class WaistLine:
    """A trued waist line: its runs between the darts from the centre outwards, and the darts."""

    runs: tuple[Cubic, ...]
    darts: tuple[WaistDart, ...]

    @property
    def length(self) -> float:
        return sum(run.length for run in self.runs)


def deep_enough(pivot: Point, intake: float) -> float:
    """Height of the waist line at the centre from which it runs evenly to a dart whose legs are as long as
    the waist is deep there: with that dart closed, the waist lies level below its pivot."""
    half = math.asin(intake / (2 * pivot.imag))
    mouth = _dart(pivot, pivot.imag, 2 * half).inner
    return mouth.imag + mouth.real * math.tan(half / 2)


def darts_from(centre: float, pivots: Sequence[Point], intakes: Sequence[float]) -> tuple[WaistDart, ...]:
    """The darts in order outwards, each reached evenly from the one before (or from the centre)."""
    darts: list[WaistDart] = []
    start, lean = complex(0, centre), 0.0
    for pivot, intake in zip(pivots, intakes, strict=True):
        leg = pivot.imag
        for _ in range(_ROUNDS):
            half = math.asin(intake / (2 * leg))
            back = cmath.exp(-0.5j * (lean - half))
            leg = ((start - pivot) * back).imag / (-1j * cmath.exp(-1j * half) * back).imag
        darts.append(_dart(pivot, leg, 2 * math.asin(intake / (2 * leg))))
        start, lean = darts[-1].outer, darts[-1].lean
    return tuple(darts)


def _dart(pivot: Point, leg: float, angle: float) -> WaistDart:
    down = -1j * leg
    return WaistDart(pivot + down * cmath.exp(-0.5j * angle), pivot, pivot + down * cmath.exp(0.5j * angle))


def even_side(centre: float, darts: Sequence[WaistDart], side: Point, up: complex) -> float:
    """Height of the side end at which the last run is even; `up` is the side seam's direction there."""
    start, lean = (darts[-1].outer, darts[-1].lean) if darts else (complex(0, centre), 0.0)
    arriving = cmath.phase(-1j * up)
    return start.imag + (side.real - start.real) * math.tan((lean + arriving) / 2)


def waist_line(centre: float, darts: Sequence[WaistDart], side: Point, up: complex) -> WaistLine:
    """The runs from the centre over the darts to the side. Raises CannotApply where darts overlap."""
    runs = []
    start, lean = complex(0, centre), 0.0
    for dart in darts:
        runs.append(_run(start, lean, dart.inner, -dart.lean))
        start, lean = dart.outer, dart.lean
    runs.append(_run(start, lean, side, cmath.phase(-1j * up)))
    return WaistLine(tuple(runs), tuple(darts))


def _run(start: Point, lean: float, end: Point, arriving: float) -> Cubic:
    if end.real - start.real < 1.0:
        raise CannotApply(
            "no-waist",
            "block",
            "the waist leaves no room for its darts",
            "check bust_girth, waist_girth and bust_span",
        )
    return between(start, cmath.exp(1j * lean), end, cmath.exp(1j * arriving))
