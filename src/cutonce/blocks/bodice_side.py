"""The side seam of a bodice or dress: one line for front and back alike, so that they match."""

from __future__ import annotations

from collections.abc import Sequence

from cutonce.geometry.curve import Line
from cutonce.geometry.fit import through
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM


def side_seam(underarm: Point, bust: Point, below: Sequence[Point], leaving: complex | None = None) -> Path:
    """From the underarm straight down to the bust line, then smoothly through the points below it.

    `leaving` is the direction at the last point. The bust line may be the underarm line; the seam then sets
    out straight for the next point, or upright where that lies further out: an armhole is square to the side
    seam and must not dip before it.
    """
    if abs(bust - underarm) < SAME_POINT_MM:
        first = below[0] - underarm
        if first.real > 0:
            return through((underarm, *below), start=-1j, end=leaving)
        if len(below) == 1:
            return (Line(underarm, below[0]),)
        return through((underarm, *below), start=first, end=leaving)
    return (Line(underarm, bust), *through((bust, *below), start=-1j, end=leaving))
