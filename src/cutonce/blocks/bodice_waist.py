"""The waist of a bodice or dress: its shaping shared among darts and side, and the trued waist line."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.blocks.bodice_frame import Frame
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic
from cutonce.geometry.fit import between
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import STILL, Motion, Point, turning
from cutonce.geometry.path import Path, part

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

    def scaled(self, factor: float) -> WaistPlan:
        """All darts by one factor."""
        return WaistPlan(
            tuple(i * factor for i in self.front), tuple(i * factor for i in self.back), self.side
        )


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


def bust_level(frame: Frame) -> float:
    """Height of the bust line above the waist: the lower of underarm line and bust point, as it must pass
    below the armhole and not above the bust point."""
    return min(frame.underarm, frame.bust.point.imag)


@dataclass(frozen=True, slots=True)
class WaistDart:
    """Mouth end next to the centre, pivot, mouth end next to the side."""

    inner: Point
    pivot: Point
    outer: Point


@dataclass(frozen=True, slots=True)
class OpenWaist:
    """A trued waist line: the runs between darts from the centre outwards, and the darts."""

    runs: tuple[Path, ...]
    darts: tuple[WaistDart, ...]

    @property
    def length(self) -> float:
        return sum(c.length for run in self.runs for c in run)


def _angles(pivots: Sequence[Point], intakes: Sequence[float]) -> list[float]:
    return [2 * math.atan2(i / 2, p.imag) for p, i in zip(pivots, intakes, strict=True)]


def _closing(pivots: Sequence[Point], angles: Sequence[float]) -> list[Motion]:
    """For each run between darts, the motion that closes all darts before it."""
    motions = [STILL]
    for pivot, angle in zip(pivots, angles, strict=True):
        motions.append(motions[-1].after(turning(-angle, pivot)))
    return motions


def natural_drop(pivots: Sequence[Point], intakes: Sequence[float], side: Point, up: complex) -> float:
    """How far the waist's side end should lie below the centre so that the closed waist is one even curve.

    `up` is the side seam's direction there. An even curve's chord has half the lean of its end tangent.
    """
    last = _closing(pivots, _angles(pivots, intakes))[-1]
    end, lean = last(side), cmath.phase(last.of_vector(-1j * up))
    return end.imag - end.real * math.tan(lean / 2)


def open_waist(pivots: Sequence[Point], intakes: Sequence[float], side: Point, up: complex) -> OpenWaist:
    """The waist line drawn with its darts closed, square to centre and side, and opened again.

    So the legs of each dart are equal and the sewn line has no corner. From the centre (0, 0) to `side`.
    """
    angles = _angles(pivots, intakes)
    motions = _closing(pivots, angles)
    curve = between(0j, 1 + 0j, motions[-1](side), motions[-1].of_vector(-1j * up))
    cuts = [0.0]
    for pivot, angle, before in zip(pivots, angles, motions, strict=False):
        hits = on_line(curve, before(pivot), before.of_vector(-1j * cmath.exp(-0.5j * angle)))
        if not hits:
            raise _off(curve)
        cuts.append(curve.length_to(hits[0]))
    cuts.append(curve.length)
    if any(b - a < 1.0 for a, b in pairwise(cuts)):
        raise _off(curve)
    runs = [
        tuple(c.moved(m.inverse()) for c in part((curve,), a, b))
        for m, (a, b) in zip(motions, pairwise(cuts), strict=True)
    ]
    darts = [WaistDart(runs[i][-1].end, p, runs[i + 1][0].start) for i, p in enumerate(pivots)]
    return OpenWaist(tuple(runs), tuple(darts))


def _off(curve: Cubic) -> CannotApply:
    return CannotApply(
        "no-waist",
        "block",
        f"a waist of {curve.length / 10:.1f} cm (a quarter) leaves no room for its darts",
        "check bust_girth, waist_girth and bust_span",
    )
