"""Lines of known length: the 100 mm marks of each page and the check lines across the whole sheet."""

from __future__ import annotations

import math
from dataclasses import replace

from cutonce.geometry.motion import Point
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Drawing, Group, Item, Text, line, scaled
from cutonce.sheets.pens import Pen

MARK_MM = 100.0
"""The test mark on each page, both ways; a tailor's ruler reads half a millimetre on it."""

CHECK_STRIP_MM = 13.0
"""Kept free for the check lines along the top and the left edge of a sheet."""

_LONGEST_CHECK_MM = 1000.0
_CAPTION_MM = 2.8
_CHECK_KEY = "check"


def ruler(a: Point, b: Point, step: float, tick: float) -> tuple[Item, ...]:
    """A line from a to b with a cross tick, `tick` mm long, every `step` mm from a and at both ends."""
    length = abs(b - a)
    across = 0.5j * tick * (b - a) / length
    places = [i * step for i in range(int(length / step + 1e-9) + 1)]
    if length - places[-1] > step * 1e-6:
        places.append(length)
    ticks = (a + (b - a) * s / length for s in places)
    return (line(a, b, Pen.CHECK), *(line(p - across, p + across, Pen.CHECK) for p in ticks))


def check_length(room: float) -> float:
    """The longest round length up to 1 m that fits: whole 100 mm, below that whole 10 mm, or none (0).

    >>> check_length(1822.0), check_length(764.0), check_length(87.0), check_length(7.0)
    (1000.0, 700.0, 80.0, 0.0)
    """
    step = 100.0 if room >= 100 else 10.0
    return min(_LONGEST_CHECK_MM, step * int(room / step + 1e-9))


def check_lines(width: float, height: float) -> tuple[float, float]:
    """Lengths of the two check lines of a sheet: across and down."""
    return check_length(width - CHECK_STRIP_MM), check_length(height - CHECK_STRIP_MM)


def check_group(width: float, height: float, scale: float = 1.0) -> Group:
    """The check lines in the strips along the top and the left edge, from the upper left corner.

    In mm of the full-size sheet; at half `scale` the captions are set larger, to stay readable, and say what
    the lines measure there.
    """
    across, down = check_lines(width, height)
    corner = complex(5.0, height - 5.0)
    size = _CAPTION_MM / scale if scale == 1 else 2.0 / scale
    gap = 1.8 + fonts.ASCENT * size
    items: list[Item] = []
    if across:
        items += ruler(corner, corner + across, 100.0, 3.0)
        items.append(Text(corner + 2 - 1j * gap, _caption(across, scale), size))
    if down:
        items += ruler(corner, corner - 1j * down, 100.0, 3.0)
        words = _caption(down, scale)
        foot = min(down, 12 + fonts.width(words, size))
        items.append(Text(corner + gap - 1j * foot, words, size, math.pi / 2))
    return Group(_CHECK_KEY, "Check lines", tuple(items))


def _caption(length: float, scale: float) -> str:
    words = f"check line: {length:.0f} mm on the full-size pattern"
    return words if scale == 1 else f"{words}, {scale * length:.0f} mm here"


def at_scale(drawing: Drawing, scale: float) -> Drawing:
    """A whole sheet at another scale; its check lines, if it has them, are captioned anew."""
    kept = without_checks(drawing)
    if len(kept) < len(drawing.groups):
        kept = (*kept, check_group(drawing.width, drawing.height, scale))
    return scaled(replace(drawing, groups=kept), scale)


def without_checks(drawing: Drawing) -> tuple[Group, ...]:
    """The groups of a sheet that are not its check lines."""
    return tuple(g for g in drawing.groups if g.key != _CHECK_KEY)
