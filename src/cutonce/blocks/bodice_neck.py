"""Half necklines of a bodice: square at the centres and to the shoulders, as long as the neck asks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_shoulder import back_shoulder
from cutonce.geometry.curve import Cubic
from cutonce.geometry.motion import Point

FULLNESS = 0.75
"""Handles reach this share of the way to where the end tangents meet; 0.55 is round, more is squarer."""


@dataclass(frozen=True, slots=True)
class NeckEnds:
    """Where a half neckline runs: side neck point, centre point, and the shoulder's slope at the neck."""

    side: Point
    centre: Point
    slope: float


def front_neckline(ends: NeckEnds) -> Cubic:
    """From the side neck point, square to the shoulder, to the centre front, square to it."""
    down = -1j * complex(math.cos(ends.slope), -math.sin(ends.slope))
    depth = ends.side.imag - ends.centre.imag
    reach = depth / -down.imag
    corner = ends.side + reach * down
    most = 0.95 * corner.real if corner.real > 0 else math.inf
    inward = max(FULLNESS * corner.real, min(ends.side.real / 4, most))
    return Cubic(ends.side, ends.side + FULLNESS * reach * down, ends.centre + inward, ends.centre)


def back_neckline(ends: NeckEnds) -> Cubic:
    """From the centre back, square to it, up to the side neck point, square to the shoulder."""
    up = 1j * complex(math.cos(ends.slope), -math.sin(ends.slope))
    reach = (ends.side.imag - ends.centre.imag) / up.imag
    corner = ends.side - reach * up
    return Cubic(
        ends.centre,
        ends.centre + FULLNESS * corner.real,
        ends.side - FULLNESS * reach * up,
        ends.side,
    )


def neck_ends(frame: Frame) -> tuple[NeckEnds, NeckEnds]:
    """Ends of the front and of the back half neckline."""
    neck, back = frame.neck, back_shoulder(frame)
    front = NeckEnds(
        complex(neck.front_width, frame.front_neck),
        complex(0, frame.front_neck - neck.front_depth),
        frame.shoulder.front_slope,
    )
    return front, NeckEnds(back.neck, complex(0, frame.nape), back.inner_slope)


def half_neckline(frame: Frame) -> float:
    """Length of half the neckline in mm, front and back joined."""
    front, back = neck_ends(frame)
    return front_neckline(front).length + back_neckline(back).length
