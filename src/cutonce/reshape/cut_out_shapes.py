"""The shapes that are cut out across a seam or an edge: one half of each, drawn on a piece as it lies.

A half lies between two places on the outline that are already fixed. At a round end it leaves the outline
square, so that the halves of two pieces run into each other smoothly when sewn.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path


@dataclass(frozen=True, slots=True)
class Bed:
    """Where a half shape lies: its ends on the outline, in outline order, with the outline's unit direction
    there; and the place on the outline about which it is round."""

    start: Point
    along_start: complex
    centre: Point
    end: Point
    along_end: complex

    @property
    def angle(self) -> float:
        """The angle within the piece, at the centre, from one end to the other: pi on a straight edge."""
        return cmath.phase((self.start - self.centre) / (self.end - self.centre)) % (2 * math.pi)

    @property
    def inward(self) -> complex:
        """Unit direction from the centre into the piece, half-way between the ends."""
        out = self.end - self.centre
        return out / abs(out) * cmath.exp(0.5j * self.angle)


def half_round(bed: Bed, depth: float) -> Path:
    """Half an ellipse (a circle where depth and ends allow), from the start to the end of its bed.

    It leaves and meets the outline square, and is deepest `depth` mm from the centre, half-way between the
    ends. On a straight edge it is the half ellipse itself, within 5e-6 of its size; where the edge has one
    corner, at the centre, it is the arc of a circle of as much more than half a turn as the corner asks.
    """
    deepest = bed.centre + depth * bed.inward
    onward = -1j * bed.inward
    one = _arc(bed.start, 1j * bed.along_start, deepest, onward)
    two = _arc(deepest, onward, bed.end, -1j * bed.along_end)
    return one + two


def half_drop(bed: Bed, depth: float, pointed_at_start: bool) -> Path:
    """Half a teardrop from the start to the end of its bed: round about the centre, at `depth` mm, to the one
    end, and straight from there to the point at the other end, touching the circle."""
    inward = bed.inward
    widest = bed.centre + depth * inward
    if pointed_at_start:
        tip, low, square, onward = bed.start, bed.end, 1j * bed.along_end, 1j * inward
    else:
        tip, low, square, onward = bed.end, bed.start, 1j * bed.along_start, -1j * inward
    away = tip - bed.centre
    if abs(away) <= depth * 1.001:
        raise _too_bent()
    side = math.copysign(1.0, (away.conjugate() * inward).imag)
    touching = bed.centre + depth * away / abs(away) * cmath.exp(1j * side * math.acos(depth / abs(away)))
    straight = (tip - touching) / abs(tip - touching)
    path: Path = (
        *_arc(low, square, widest, onward),
        *_arc(widest, onward, touching, straight),
        Line(touching, tip),
    )
    return reversed_path(path) if pointed_at_start else path


def _arc(p: Point, leave: complex, q: Point, arrive: complex) -> tuple[Cubic, Cubic]:
    """The conic with these ends and directions, as two cubics: a circle's or an ellipse's arc where the ends
    lie so. Its weight is cos(turn / 2), its halves' the root of (1 + weight) / 2; a cubic's handles are
    4/3 w / (1 + w) of the way to its corner (the usual approximation of a conic)."""
    cross = (leave.conjugate() * arrive).imag
    ahead = ((q - p).conjugate() * arrive).imag / cross if cross else -1.0
    back = (leave.conjugate() * (q - p)).imag / cross if cross else -1.0
    turn = abs(cmath.phase(arrive / leave))
    if ahead <= 0 or back <= 0 or turn > math.radians(170):
        raise _too_bent()
    corner = p + ahead * leave
    w = math.cos(turn / 2)
    one, two = (p + w * corner) / (1 + w), (w * corner + q) / (1 + w)
    middle = (p + 2 * w * corner + q) / (2 + 2 * w)
    half = math.sqrt((1 + w) / 2)
    k = 4 / 3 * half / (1 + half)
    return (
        Cubic(p, p + k * (one - p), middle + k * (one - middle), middle),
        Cubic(middle, middle + k * (two - middle), q + k * (two - q), q),
    )


def _too_bent() -> CannotApply:
    return CannotApply(
        "edge-too-bent", "", "the edge bends too much there for a shape of this size", "make it smaller"
    )
