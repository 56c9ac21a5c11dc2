"""A lay to follow at the table: pieces on cloth, in cutting order, with what is left over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutonce.cloth.cloth import Cloth
from cutonce.errors import Finding
from cutonce.finishing.finished import FinishedPiece
from cutonce.geometry.motion import Motion, Point
from cutonce.lay.problem import Ring

Way = Literal["open", "folded lengthwise", "folded crosswise"]
"""open: single layer, right side up. Folded, right sides together: the wrong side is up, and what is drawn is
what lies on the upper layer; the fold is at y = 0 (lengthwise) or at the section's end (crosswise)."""

Paper = Literal["face up", "face down", "opened out"]
"""How the printed paper lies before any turning over by the motion. Face down: the second of a mirrored pair.
Opened out: the paper is a half, laid twice along its fold line, once each way up."""


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the cloth laid one way: "part folded, part open" has two, remnants one each.

    `start` to `end` is the length it takes, mm from the cut end of the whole lay; `width` is what lies on the
    table: half the cloth where it is folded lengthwise. `room` is how much there is, None without limit.
    `fold`: where cloth folded lengthwise is folded, mm from the near selvedge: along its middle, or along the
    stripe next to it; the selvedges then part, and `width` is that of the narrower layer.
    """

    name: str
    way: Way
    start: float
    end: float
    width: float
    room: float | None = None
    fold: float | None = None


@dataclass(frozen=True, slots=True)
class Laid:
    """One piece where it lies. `number` is its place in cutting order.

    `piece` is as it is cut there: opened out or half, of the right hand, enlarged for shrinkage; `motion`
    takes its frame to the cloth's (x along from the cut end of the lay, y across). `layers` it is cut
    through at once; `on_fold`: its fold edge lies on the fold.
    """

    number: int
    key: str
    piece: FinishedPiece
    motion: Motion
    section: int
    layers: int = 1
    on_fold: bool = False
    paper: Paper = "face up"


@dataclass(frozen=True, slots=True)
class Matched:
    """Whether a seam's pattern runs on: the notch, both places' distance from a repeat, and by how much they
    differ. `matched` where that is within 1 mm; else `why` says what stands in the way. `spots` are the two
    places in the lay, where they are known."""

    seam: str
    notch: str
    off_along: float
    off_across: float
    matched: bool
    why: str = ""
    spots: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """A lay that has been checked: no overlap, inside the cloth, grain true.

    `length` is what it takes, `share` the part of that cloth which is pieces (0 to 1), `left` the larger
    areas that remain between and beside them, biggest first. `findings` say what does not fit.
    """

    cloth: Cloth
    sections: tuple[Section, ...]
    laid: tuple[Laid, ...]
    length: float
    share: float
    left: tuple[Ring, ...] = ()
    matched: tuple[Matched, ...] = ()
    findings: tuple[Finding, ...] = ()
