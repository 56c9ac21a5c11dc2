"""Armholes of a bodice: square at the shoulder, upright at the width line, square to the side seam.

Each half armhole is two cubics that share a tangent where it stands upright. With the bust dart in the
armhole, they are drawn with that dart closed and the lower one is opened with it.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_shoulder import ShoulderLine
from cutonce.geometry.curve import Cubic
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import Point

UPPER_FULLNESS = 0.6
"""Handles of the upper curve reach this share of the way to where its end tangents meet."""

UPRIGHT_BACK, UPRIGHT_FRONT = 0.42, 0.36
"""Where the armhole stands upright, as a share of its height from the underarm line."""

FRONT_CORNER, BACK_CORNER = (17.5, 25.0), (20.5, 30.0)
"""Least and greatest distance from the corner at 45 degrees, mm: front 1.75 to 2.5 cm, back 3 to 5 mm more
(from memory). The greatest grows with an armhole wider than `CORNER_WIDTH`."""

CORNER_WIDTH = 120.0

LEAST_RUN, MOST_RUN = 0.15, 0.95
_ROUNDS = 40


@dataclass(frozen=True, slots=True)
class Armhole:
    """A half armhole from shoulder to underarm: `upper` ends where `lower` begins, but for a dart between."""

    upper: Cubic
    lower: Cubic

    @property
    def length(self) -> float:
        return self.upper.length + self.lower.length


def back_armhole(frame: Frame, shoulder: ShoulderLine, side_down: complex) -> Armhole:
    """The back's, upright on the back width line; `side_down` is the way the side leaves the underarm."""
    tip = shoulder.tip
    upright = complex(frame.back_width, frame.underarm + UPRIGHT_BACK * (tip.imag - frame.underarm))
    upper = _upper(tip, shoulder.outer_slope, upright)
    corner = _corner(frame, frame.corners[1], BACK_CORNER)
    ends = _Ends(upright, -1j, frame.underarms[1], 1j * side_down)
    return Armhole(upper, _lower(ends, frame.back_width, corner))


def front_armhole(frame: Frame, shoulder: ShoulderLine, side_down: complex) -> Armhole:
    """The front's. With the dart in the armhole it stands upright at the dart, on the chest width line, dart
    closed; otherwise on the front armhole line."""
    tip = shoulder.tip
    under, out = frame.underarms[0], 1j * side_down
    corner = _corner(frame, frame.corners[0], FRONT_CORNER)
    if frame.bust.opens_on == "shoulder":
        upright = complex(frame.front_line, frame.underarm + UPRIGHT_FRONT * (tip.imag - frame.underarm))
        upper = _upper(tip, shoulder.outer_slope, upright)
        return Armhole(upper, _lower(_Ends(upright, -1j, under, out), frame.front_line, corner))
    above, below = dart_mouth(frame)
    upper = _upper(tip, shoulder.outer_slope, above)
    open_down = -1j * cmath.exp(-1j * frame.bust.angle)
    return Armhole(upper, _lower(_Ends(below, open_down, under, out), below.real, corner))


def dart_mouth(frame: Frame) -> tuple[Point, Point]:
    """Ends of the bust dart in the armhole, upper and lower; its legs are equal.

    The upper end lies on the chest width line, the lower at the dart's height above the underarm line: with
    legs r at angle p to the horizontal, r cos(p + a) = chest, r sin p = height, both from the bust point.
    """
    point, angle = frame.bust.point, frame.bust.angle
    across = frame.chest_width - point.real
    height = frame.underarm + frame.bust.place - point.imag
    up = (height + across * math.sin(angle)) / math.cos(angle)
    most = (0.85 * (frame.side - point.real) - across * math.cos(angle)) / math.sin(angle)
    above = complex(across, min(up, most))
    return point + above, point + above * cmath.exp(-1j * angle)


def _corner(frame: Frame, stated: float, usual: tuple[float, float]) -> float:
    """The system's distance from the corner, held within what is usual for an armhole as wide as this."""
    start = frame.front_line if frame.bust.opens_on == "shoulder" else dart_mouth(frame)[1].real
    wide = frame.half_width - frame.back_width - start
    return min(max(stated, usual[0]), usual[1] * max(1.0, wide / CORNER_WIDTH))


def _upper(tip: Point, slope: float, upright: Point) -> Cubic:
    """From the shoulder point, square to the seam, to where the armhole stands upright."""
    down = -1j * complex(math.cos(slope), -math.sin(slope))
    height, out = tip.imag - upright.imag, tip.real - upright.real
    reach = out / -down.real if down.real < 0 else math.inf
    if reach > 0 and reach * -down.imag < 0.9 * height:
        turn = tip + reach * down
        return Cubic(
            tip,
            tip + UPPER_FULLNESS * reach * down,
            upright + UPPER_FULLNESS * (turn - upright),
            upright,
        )
    return Cubic(tip, tip + height / 3 * down, upright + 1j * height / 3, upright)


@dataclass(frozen=True, slots=True)
class _Ends:
    """Where the lower curve begins and ends, and its directions there."""

    start: Point
    down: complex
    under: Point
    out: complex


def _lower(ends: _Ends, line: float, corner: float) -> Cubic:
    """The lower curve that passes `corner` mm from its corner at 45 degrees.

    The corner is where the width line meets the underarm line. Both handles are one share of their side,
    found by bisection; where the distance cannot be had, the nearest that can.
    """
    start, under = ends.start, ends.under
    high, wide = start.imag - under.imag, under.real - start.real
    at = complex(line, under.imag)
    diagonal = cmath.exp(1j * math.pi / 4)

    def curve(share: float) -> Cubic:
        return Cubic(start, start + share * high * ends.down, under - share * wide * ends.out, under)

    low, top = LEAST_RUN, MOST_RUN
    for _ in range(_ROUNDS):
        middle = (low + top) / 2
        drawn = curve(middle)
        hits = on_line(drawn, at, diagonal)
        away = ((drawn.at(hits[-1]) - at) * diagonal.conjugate()).real if hits else 0.0
        if away > corner:
            low = middle
        else:
            top = middle
        if top - low < 1e-9:
            break
    return curve((low + top) / 2)
