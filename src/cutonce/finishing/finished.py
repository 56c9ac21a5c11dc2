"""What finishing makes: values that a sheet draws, a lay packs and a file lists. Nothing here computes.

All places are in the piece's own frame: mm, y up, face up. A path is a tuple of curves, end to end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutonce.draft.span import Role, Wearer
from cutonce.errors import Finding
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path

FinishKind = Literal["seam", "hem", "bound", "faced", "casing", "raw", "fold"]
"""`draft.seam.Finish.kind`, and "fold" for the centre edge of a half piece that is laid on folded cloth."""


@dataclass(frozen=True, slots=True)
class FinishedEdge:
    """One named edge: its sewing line, what lies outside it, and what is done with it.

    `sewing` runs counter-clockwise round the piece; where darts open on the edge it has a gap at each mouth.
    `cut` is the cutting line beside it without the corners. `words` is what a person does: "sew, 10 mm
    allowed", "turn up 40 mm", "gather to 90 mm, sew, 10 mm allowed". `fullness` is its part about fullness,
    "gather to 90 mm", "takes a gathered edge of 139 mm"; "" where the edge has none to take up.
    """

    key: str
    role: Role
    wearer: Wearer | None
    kind: FinishKind
    allowance: float
    sewing: Path
    cut: Path
    words: str
    fullness: str = ""


@dataclass(frozen=True, slots=True)
class Notch:
    """A short cut into the allowance from `at`, on the cutting line, to `tip`; `count` of them side by side.

    It stands square to the sewing line, at the point `sewing`. `along` is the unit direction of the sewing
    line there: the second of two notches stands `NOTCH_GAP_MM` further along it.
    """

    name: str
    edge: str
    kind: Literal["landmark", "balance", "gather", "dart", "centre"]
    at: Point
    tip: Point
    sewing: Point
    along: complex
    count: int = 1


NOTCH_GAP_MM = 6.0
"""Between the two cuts of a double notch; the pair stands with its middle at the place."""


@dataclass(frozen=True, slots=True)
class Drill:
    """A place to mark through the cloth, inside a dart's point or corner; `mark_of` names it."""

    mark_of: str
    at: Point


@dataclass(frozen=True, slots=True)
class DrawnDart:
    """A dart as drawn on paper. `legs` are its sewing lines, `fold` its middle line, `tips` where it ends.

    A dart that opens on an edge has two legs from its mouth to its point and one tip. A dart pointed at both
    ends has four legs and two tips. `intake` is its width in mm at the mouth or the widest place; `press`
    says which way the fold lies on the wrong side. `cap` is the sewing line of the edge over the mouth,
    empty where none can be drawn.
    """

    name: str
    wearer: Wearer | None
    legs: tuple[Path, ...]
    fold: Path
    tips: tuple[Point, ...]
    intake: float
    press: str
    cap: Path = ()


@dataclass(frozen=True, slots=True)
class GrainArrow:
    """From `start` to `end` along the warp; `words` is the kind asked for: "straight grain", "bias"."""

    start: Point
    end: Point
    words: str


@dataclass(frozen=True, slots=True)
class MarkedLine:
    """A line inside the piece: a landmark line, a guide, a fold, a stitching line (a casing)."""

    name: str
    kind: Literal["landmark", "guide", "fold", "stitching"]
    path: Path


@dataclass(frozen=True, slots=True)
class FoldMark:
    """An edge that is laid on the fold of the cloth: not cut, drawn dash-dotted, with its words."""

    path: Path
    words: str


@dataclass(frozen=True, slots=True)
class Unsewn:
    """A stretch of a sewing line that stays open: a zip, vent, slit, or the exit of a cord, with its words.

    Bars square to the line stand at both `ends`, where the stitching stops and is tacked.
    """

    kind: str
    path: Path
    ends: tuple[Point, Point]
    words: str


@dataclass(frozen=True, slots=True)
class PointMark:
    """A named point inside the piece: the bust point, a guide point."""

    name: str
    at: Point


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """One piece as it is cut.

    `sewing` is the closed sewing line, counter-clockwise, with each dart's drawn legs; `cutting` the closed
    cutting line, which holds it. `count` pieces are cut, `cut` says how. A half piece laid on the fold stays
    half: its `fold` edge is part of both closed paths. `flips` is odd where the piece came out mirrored.
    """

    key: str
    title: str
    wearer: Wearer | None
    sewing: Path
    cutting: Path
    edges: tuple[FinishedEdge, ...]
    grain: GrainArrow
    count: int
    cut: Literal["fold", "pair", "single"]
    label: tuple[str, ...]
    notches: tuple[Notch, ...] = ()
    drills: tuple[Drill, ...] = ()
    darts: tuple[DrawnDart, ...] = ()
    lines: tuple[MarkedLine, ...] = ()
    points: tuple[PointMark, ...] = ()
    unsewn: tuple[Unsewn, ...] = ()
    fold: FoldMark | None = None
    flips: int = 0


@dataclass(frozen=True, slots=True)
class Finished:
    """All pieces of a garment as they are cut, in the order of the draft, facings after them.

    `findings` are what finishing has to say: a cutting line that crosses itself, a hem too deep for its
    curve.
    """

    garment: str
    body: str
    date: str
    pieces: tuple[FinishedPiece, ...]
    findings: tuple[Finding, ...] = ()

    def piece(self, key: str) -> FinishedPiece:
        """The piece with that key; KeyError where there is none."""
        for p in self.pieces:
            if p.key == key:
                return p
        raise KeyError(key)


@dataclass(frozen=True, slots=True)
class CutRow:
    """One line of the cut list, in mm: `length_mm` of one, `count` how many, `joins` seams in each.

    `closed`: a strip that is joined to a ring; that join is counted.
    """

    kind: str
    what: str
    used_for: str
    width_mm: float
    length_mm: float
    count: int
    joins: int = 0
    note: str = ""
    closed: bool = False
