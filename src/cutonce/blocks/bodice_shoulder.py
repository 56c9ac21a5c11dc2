"""Shoulder seams of a bodice, drawn straight with their darts closed and opened again."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from cutonce.blocks.bodice_frame import Frame
from cutonce.geometry.motion import Point, turning

_ROUNDS = 30
_CLOSE = 1e-13


@dataclass(frozen=True, slots=True)
class ShoulderLine:
    """A shoulder from the side neck point `neck` to the shoulder point `tip`, with a dart or none.

    Where a dart opens on the seam, `dart` holds the mouth's end next to the neck, the dart's pivot, and the
    mouth's end next to the tip. `inner_slope` and `outer_slope` are the seam's slopes below the horizontal at
    the neck and at the tip.
    """

    neck: Point
    tip: Point
    inner_slope: float
    outer_slope: float
    dart: tuple[Point, Point, Point] | None = None

    @property
    def length(self) -> float:
        """Length of the seam, dart closed."""
        if self.dart is None:
            return abs(self.tip - self.neck)
        return abs(self.dart[0] - self.neck) + abs(self.tip - self.dart[2])


def _down(slope: float) -> complex:
    return complex(math.cos(slope), -math.sin(slope))


def _opened(
    neck: Point, slope: float, length: float, share: float, pivot: Point, angle: float
) -> ShoulderLine:
    """A straight seam with a dart of this angle opened at a share of its length."""
    along = _down(slope)
    mouth = neck + share * length * along
    open_it = turning(-angle, pivot)
    return ShoulderLine(
        neck,
        open_it(neck + length * along),
        slope,
        slope + angle,
        (mouth, pivot, open_it(mouth)),
    )


def front_shoulder(frame: Frame) -> ShoulderLine:
    """The front seam, at its slope with the bust dart closed; open where that dart is in the shoulder."""
    neck = complex(frame.neck.front_width, frame.front_neck)
    slope, length = frame.shoulder.front_slope, frame.shoulder.length
    if frame.bust.opens_on == "armhole":
        return ShoulderLine(neck, neck + length * _down(slope), slope, slope)
    return _opened(neck, slope, length, frame.bust.place, frame.bust.point, frame.bust.angle)


def back_shoulder(frame: Frame) -> ShoulderLine:
    """The back seam: as long as the front's with its dart closed, its ends at the back slope with it open.

    The seam's slope at the neck follows by the secant rule.
    """
    s = frame.shoulder
    neck = complex(frame.neck.back_width, frame.nape + frame.neck.back_rise)
    if s.dart <= 0:
        return ShoulderLine(neck, neck + s.length * _down(s.back_slope), s.back_slope, s.back_slope)

    def at(slope: float) -> ShoulderLine:
        mouth = neck + s.dart_share * s.length * _down(slope)
        angle = 2 * math.asin(min(0.9, s.dart / (2 * abs(mouth - s.dart_point))))
        return _opened(neck, slope, s.length, s.dart_share, s.dart_point, angle)

    def miss(line: ShoulderLine) -> float:
        return -cmath.phase(line.tip - line.neck) - s.back_slope

    one, two = s.back_slope, s.back_slope - 0.08
    off_one, line = miss(at(one)), at(two)
    for _ in range(_ROUNDS):
        off_two = miss(line)
        if abs(off_two) < _CLOSE or off_two == off_one:
            break
        one, two, off_one = two, two - off_two * (two - one) / (off_two - off_one), off_two
        line = at(two)
    return line
