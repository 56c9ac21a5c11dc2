"""Truing a skirt: from constructed points to curves whose lengths are exact.

The waist is drawn with its darts closed, square to the centre and to the side, then opened again; so the legs
of each dart are equal and the seam is smooth across it. Side seams of front and back get one length.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from itertools import pairwise

from cutonce.blocks.skirt_systems import Quarter
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.fit import between
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import STILL, Motion, Point, turning
from cutonce.geometry.path import Path, length

_CLOSE_MM = 1e-8
_ROUNDS = 100

SIDE_LEAN = 1.5
"""The side leaves the waist at this many times the lean of its chord; 1 is straight, 2 a circle's arc."""


@dataclass(frozen=True, slots=True)
class TruedDart:
    """Mouth ends nearer the centre and nearer the side, and the pivot."""

    inner: Point
    pivot: Point
    outer: Point


@dataclass(frozen=True, slots=True)
class TruedQuarter:
    """A trued quarter, still with the side at +x. `waist` holds the runs between darts, from the centre."""

    quarter: Quarter
    side_hip: Point
    hip_curve: Cubic
    waist: tuple[Path, ...]
    darts: tuple[TruedDart, ...]

    @property
    def waist_length(self) -> float:
        return sum(length(run) for run in self.waist)

    @property
    def side_length(self) -> float:
        return self.hip_curve.length


def true_together(front: Quarter, back: Quarter) -> tuple[TruedQuarter, TruedQuarter]:
    """Both quarters trued: net waists exact, and side seams of one length, half way between the two drawn.

    Raises CannotApply (skirt-does-not-close) where no such curves exist.
    """
    drawn = [_hip_curve(complex(q.waist_width, q.side_rise), _side_hip(q)).length for q in (front, back)]
    shared = sum(drawn) / 2
    return true_quarter(front, shared), true_quarter(back, shared)


def true_quarter(quarter: Quarter, side_length: float) -> TruedQuarter:
    """One quarter whose waist, darts closed, is `quarter.waist` long and whose hip curve is `side_length`.

    The side waist point is moved along both axes, and each dart along its own axis, until the lengths, the
    intakes and the dart lengths are as stated (repeated correction, to 1e-8 mm).
    """
    hip = _side_hip(quarter)
    side = complex(quarter.waist_width, quarter.side_rise)
    axis = -1j * side / abs(side)  # a dart's direction, square to the line from centre to side waist
    start = [d.share * side + d.length * axis for d in quarter.darts]
    pivots = list(start)
    angles = [2 * math.atan2(d.intake / 2, d.length) for d in quarter.darts]
    for _ in range(_ROUNDS):
        curve = _hip_curve(side, hip)
        opened = _opened_waist(side, curve.tangent(1), pivots, angles, axis)
        if opened is None:
            break
        runs, darts = opened
        off_waist = quarter.waist - sum(length(run) for run in runs)
        off_side = side_length - curve.length
        worst = max(abs(off_waist), abs(off_side))
        for i, (stated, found) in enumerate(zip(quarter.darts, darts, strict=True)):
            middle = (found.inner + found.outer) / 2
            off_length = stated.length - abs(found.pivot - middle)
            worst = max(worst, abs(off_length), abs(stated.intake - abs(found.outer - found.inner)))
            pivots[i] += off_length * axis
            angles[i] = 2 * math.asin(min(0.9, stated.intake / (2 * abs(found.pivot - found.inner))))
        if worst < _CLOSE_MM:
            return TruedQuarter(quarter, hip, curve, runs, darts)
        side += 0.8 * complex(off_waist, off_side)
    raise CannotApply(
        "skirt-does-not-close",
        "block",
        f"no waist line of {quarter.waist:.0f} mm fits a hip of {quarter.hip_width:.0f} mm, "
        f"{quarter.hip_depth:.0f} mm below it (both a quarter)",
        "check waist_girth, hip_girth and waist_to_hip",
    )


def _side_hip(quarter: Quarter) -> Point:
    return complex(quarter.hip_width, -quarter.hip_depth)


def _hip_curve(side: Point, hip: Point) -> Cubic:
    """From the hip, upright, to the side waist point, leaning `SIDE_LEAN` times as much as its chord."""
    lean = cmath.phase((side - hip) / 1j)
    return between(hip, 1j, side, 1j * cmath.exp(1j * SIDE_LEAN * lean))


def _opened_waist(
    side: Point, side_tangent: complex, pivots: list[Point], angles: list[float], axis: complex
) -> tuple[tuple[Path, ...], tuple[TruedDart, ...]] | None:
    """The waist drawn with all darts closed and opened again; None where it misses a dart."""
    motions: list[Motion] = [STILL]
    for pivot, angle in zip(pivots, angles, strict=True):
        motions.append(motions[-1].after(turning(angle, pivot)))
    closed = motions[-1]
    curve = _closed_waist(closed(side), closed.of_vector(-1j * side_tangent))
    cuts = [0.0]
    for pivot, angle, before in zip(pivots, angles, motions, strict=False):
        leg = before.of_vector(-axis * cmath.exp(1j * angle / 2))
        hits = on_line(curve, before(pivot), leg)
        if not hits:
            return None
        cuts.append(hits[0])
    cuts.append(1.0)
    if any(b - a < 0.01 for a, b in pairwise(cuts)):
        return None
    runs: list[Path] = []
    darts: list[TruedDart] = []
    for i, motion in enumerate(motions):
        runs.append((curve.part(cuts[i], cuts[i + 1]).moved(motion.inverse()),))
        if i:
            darts.append(TruedDart(runs[i - 1][-1].end, pivots[i - 1], runs[i][0].start))
    return tuple(runs), tuple(darts)


def _closed_waist(side: Point, arriving: complex) -> Cubic:
    """From the centre (0, 0), level, to the side; not below the centre where the side lies higher."""
    curve = between(0j, 1 + 0j, side, arriving)
    if side.imag > 0 > curve.c.imag:
        return Cubic(curve.a, curve.b, side - arriving * side.imag / arriving.imag, side)
    return curve


def straight_side(trued: TruedQuarter) -> Line:
    """The side below the hip, upwards from the hem."""
    return Line(complex(trued.side_hip.real, -trued.quarter.length), trued.side_hip)
