"""A plain bodice or dress block measured on its pieces, darts closed and partners joined, as worn.

Nothing is taken from how the block was drawn: every figure is read off the outlines, darts and marks. Lengths
in mm, angles in radians. Both pieces are looked at with the centre on x = 0 and the side at +x.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import MIRROR, Point, turning
from cutonce.reshape.corners import corner
from cutonce.reshape.widths import intake_at

NECK, SHOULDER = Label("neck", "neck"), Label("shoulder", "shoulder")
ARMHOLE, SIDE = Label("armhole", "armhole"), Label("side", "side")
WAIST = Label("waist", "waist")
WAIST_DARTS = ("waist dart", "side waist dart")


@dataclass(frozen=True, slots=True)
class HalfPiece:
    """A half piece with its side at +x, its centre edge, and its dart to bust point or shoulder blade."""

    piece: Piece
    centre: Label
    upper_dart: Dart | None

    def edge(self, label: Label) -> tuple[Span, ...]:
        return self.piece.edge(label)

    @property
    def neck_point(self) -> Point:
        """The side neck point."""
        return self.edge(NECK)[0].curve.start

    @property
    def shoulder_point(self) -> Point:
        return self.edge(SHOULDER)[0].curve.start

    @property
    def underarm(self) -> Point:
        return self.edge(ARMHOLE)[0].curve.start

    @property
    def shoulder_slope(self) -> float:
        """Slope of the shoulder below the horizontal where it meets the neck."""
        along = self.edge(SHOULDER)[-1].curve.tangent(1)
        return math.atan2(along.imag, -along.real)

    @property
    def neck_angle(self) -> float:
        """Angle inside the piece between shoulder and neck."""
        return corner(self.edge(SHOULDER)[-1], self.edge(NECK)[0])

    @property
    def armhole_angle(self) -> float:
        """Angle inside the piece between armhole and shoulder."""
        return corner(self.edge(ARMHOLE)[-1], self.edge(SHOULDER)[0])

    @property
    def centre_angle(self) -> float:
        """Angle inside the piece between neck and centre."""
        return corner(self.edge(NECK)[-1], self.edge(self.centre)[0])

    @property
    def underarm_angle(self) -> float:
        """Angle inside the piece between side and armhole."""
        return corner(self.edge(SIDE)[-1], self.edge(ARMHOLE)[0])

    @property
    def width_line(self) -> float:
        """Half width where the armhole comes nearest to the centre, as drawn."""
        return min(s.curve.bounds[0] for s in self.edge(ARMHOLE)[-1:])

    @property
    def dart_in_armhole(self) -> bool:
        """Whether a dart opens on the armhole."""
        spans = [s.curve for s in self.edge(ARMHOLE)]
        return any(a.end != b.start for a, b in pairwise(spans))

    @property
    def armhole_width(self) -> float:
        """From where the armhole comes nearest to the centre to the underarm, upper dart closed."""
        spans = [s.curve for s in self.edge(ARMHOLE)]
        if self.upper_dart and self.upper_dart.name == "bust dart":
            closing = turning(self.piece.dart_angle(self.upper_dart), self.piece.pivot(self.upper_dart))
            part = spans[:1] if self.dart_in_armhole else spans
            spans = [c.moved(closing) for c in part] + spans[len(part) :]
        return spans[0].start.real - min(c.bounds[0] for c in spans)

    @property
    def lower_width(self) -> float:
        """From the top of the lower armhole out to the underarm, as drawn."""
        lower = self.edge(ARMHOLE)[0].curve
        return lower.start.real - lower.end.real

    @property
    def corner_gap(self) -> float | None:
        """Distance at 45 degrees of the lower armhole from its corner: below its top, level with its end."""
        lower = self.edge(ARMHOLE)[0].curve
        corner = complex(lower.end.real, lower.start.imag)
        diagonal = cmath.exp(0.25j * math.pi)
        hits = (lower.at(t) - corner for t in on_line(lower, corner, diagonal))
        return max(((z * diagonal.conjugate()).real for z in hits), default=None)

    @property
    def turns(self) -> int:
        """How often the armhole changes the side to which it bends (inflections)."""
        signs = []
        for span in self.edge(ARMHOLE):
            bends = (span.curve.curvature((i + 0.5) / 24) for i in range(24))
            signs += [b > 0 for b in bends if abs(b) > 1e-6]
        return sum(a != b for a, b in pairwise(signs))

    @property
    def kink(self) -> float:
        """The largest corner within the armhole, in radians, a dart on it closed."""
        spans = self.edge(ARMHOLE)
        worst = 0.0
        for one, two in pairwise(spans):
            corner = cmath.phase(two.curve.tangent(0) / one.curve.tangent(1))
            if one.curve.end != two.curve.start and self.upper_dart:
                corner -= self.piece.dart_angle(self.upper_dart)
            worst = max(worst, abs(corner))
        return worst

    def level(self, mark: str) -> float:
        """Height of a landmark line, read from its mark on the centre edge."""
        spans = self.edge(self.centre)
        for m in self.piece.marks:
            if m.name == mark:
                for s in spans:
                    if s.origin == m.origin and s.holds(m.at):
                        return s.curve.at(s.curve.at_length(s.arc_at(m.at))).imag
        raise CannotApply("no-mark", self.piece.key, f"no mark '{mark}' on the {self.centre.key}")

    def width_at(self, height: float) -> float:
        """From the centre to the side at a height, less what darts pointed at both ends take there."""
        spans = self.edge(SIDE)
        hits = [s.curve.at(t).real for s in spans for t in on_line(s.curve, 1j * height, 1 + 0j)]
        if not hits:  # rounding at the very ends of the side
            ends = (spans[0].curve.start, spans[-1].curve.end)
            hits = [min(ends, key=lambda z: abs(z.imag - height)).real]
        return max(hits) - sum(intake_at(self.piece, d, height) for d in self.piece.double_darts)

    @property
    def waist_darts(self) -> tuple[float, ...]:
        """Intakes of its waist darts at their mouths."""
        doubles = [d.intake for d in self.piece.double_darts if d.name in WAIST_DARTS]
        singles = []
        for d in self.piece.darts:
            if d.name in WAIST_DARTS:
                a, b = self.piece.mouth(d)
                singles.append(abs(b - a))
        return (*doubles, *singles)


def halves_of(draft: Draft) -> tuple[HalfPiece, HalfPiece]:
    """Front and back of a half block. Raises CannotApply where there are none."""
    front, back = draft.piece("front"), draft.piece("back").moved(MIRROR)
    return (
        HalfPiece(front, Label("centre front", "centre front"), _dart(front, "bust dart")),
        HalfPiece(back, Label("centre back", "centre back"), _dart(back, "shoulder dart")),
    )


def _dart(piece: Piece, name: str) -> Dart | None:
    return next((d for d in piece.darts if d.name == name), None)


def bust_point(front: HalfPiece) -> Point:
    """Where the block has the bust point: the pivot of its bust dart."""
    if front.upper_dart is None:
        raise CannotApply("no-dart", front.piece.key, "no bust dart")
    return front.piece.pivot(front.upper_dart)


def front_waist_length(front: HalfPiece) -> float:
    """From the side neck point over the bust point to the waist, darts closed."""
    point = bust_point(front)
    neck = abs(front.neck_point - point)
    for d in front.piece.darts:
        if d.name == "waist dart":
            leg = front.piece.legs(d)[0].curve
            return neck + (point.imag - leg.end.imag) + leg.length
    for dd in front.piece.double_darts:
        if dd.name == "waist dart":
            return neck + (point.imag - dd.upper.imag) + abs(dd.upper - dd.left)
    return neck + point.imag - _waist_height(front, point.real)


def _waist_height(half: HalfPiece, x: float) -> float:
    if WAIST not in half.piece.labels:
        return half.level("waist")
    spans = half.edge(WAIST)
    hits = [s.curve.at(t).imag for s in spans for t in on_line(s.curve, complex(x, 0), 1j)]
    return hits[0] if hits else spans[0].curve.start.imag


def girth_at(halves: Sequence[HalfPiece], mark: str) -> float:
    """Half the finished girth at a landmark line, front and back together."""
    if mark == "waist" and WAIST in halves[0].piece.labels:
        return sum(h.piece.edge_length(WAIST) for h in halves)
    return sum(h.width_at(h.level(mark)) for h in halves)
