"""The closed set of lines on a sheet, and how each one looks.

Chosen so that a black and white printer keeps them apart: weight tells cutting from sewing, the pattern of
dashes tells the rest, and grey is used only for lines nobody cuts or sews along.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Pen(Enum):
    """What a line means. The value is its name in files and in the line key."""

    CUT = "cutting line"
    SEW = "sewing line"
    FOLD = "fold"
    DART = "dart leg"
    STITCH = "stitching line"
    GRAIN = "grain"
    NOTCH = "notch"
    DRILL = "drill mark"
    LANDMARK = "landmark line"
    GUIDE = "guide line"
    CHECK = "check line"
    FRAME = "page line"
    LEADER = "pointer"
    OUTLINE = "outline on the page map"
    PIECE = "piece on the lay"
    CLOTH = "edge of the cloth"
    SELVEDGE = "edge of what can be used"
    STRIPE = "stripe of the cloth"
    FLAW = "flaw"
    END = "end of a length"
    MEASURE = "measure"
    STRIP = "strip from what is left over"
    HATCH = "left over"


@dataclass(frozen=True, slots=True)
class Look:
    """Width in mm, dashes in mm (drawn, left out, ...; empty: solid), grey from 0 (black) to 1 (white)."""

    width: float
    dashes: tuple[float, ...] = ()
    grey: float = 0.0


LOOKS: dict[Pen, Look] = {
    Pen.CUT: Look(0.7),
    Pen.SEW: Look(0.3),
    Pen.FOLD: Look(0.5, (9.0, 2.0, 1.0, 2.0)),
    Pen.DART: Look(0.35, (5.0, 2.0)),
    Pen.STITCH: Look(0.3, (2.0, 1.2)),
    Pen.GRAIN: Look(0.4),
    Pen.NOTCH: Look(0.5),
    Pen.DRILL: Look(0.35),
    Pen.LANDMARK: Look(0.25, (3.0, 3.0), 0.45),
    Pen.GUIDE: Look(0.25, (0.6, 2.0), 0.45),
    Pen.CHECK: Look(0.25),
    Pen.FRAME: Look(0.15, (), 0.35),
    Pen.LEADER: Look(0.2),
    Pen.OUTLINE: Look(0.4, (), 0.6),
    Pen.PIECE: Look(0.45),
    Pen.CLOTH: Look(0.28),
    Pen.SELVEDGE: Look(0.15, (1.0, 1.0), 0.35),
    Pen.STRIPE: Look(0.12, (), 0.7),
    Pen.FLAW: Look(0.3, (1.0, 0.6)),
    Pen.END: Look(0.35, (4.0, 1.2)),
    Pen.MEASURE: Look(0.14, (), 0.2),
    Pen.STRIP: Look(0.22),
    Pen.HATCH: Look(0.1, (), 0.75),
}
"""The widest, 0.7 mm, is about as thick as the blade's own cut: the line's middle is the truth."""
