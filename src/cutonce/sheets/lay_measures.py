"""What a tape measures on a lay: where each piece's grain arrow begins and ends. No drawing here.

Everything is measured square to two straight lines: the cut end, and the edge of the cloth along the warp
that lies nearer (a selvedge, or the fold). Two places of the grain arrow fix a piece: where both lie as far
from the edge, the arrow runs along the warp.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from cutonce.finishing.finished import FinishedEdge, FinishedPiece
from cutonce.geometry.curve import Curve
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.lay.plan import Laid, Plan, Section
from cutonce.lay.problem import Ring

TapeUnit = Literal["cm", "in"]
"""How her tape is divided: centimetres with millimetres, or inches with eighths."""

TAPE_STEP_MM: dict[TapeUnit, float] = {"cm": 1.0, "in": 25.4 / 8}
"""The tape's finest division; what is stated is within half of it."""

_PART_MM = 0.5
"""Selvedges that part by twice this are seen not to lie on each other."""

_SHOWN_SAME_MM = 1e-6
"""A length that is over a whole division by less is not rounded up to the next one."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A line along the warp to measure from: its name, and how far across it lies."""

    name: str
    y: float


@dataclass(frozen=True, slots=True)
class Ground:
    """A section of the cloth as it lies on the table: its two edges along the warp, and where its length is
    measured from (`zero`, in the cloth's x, called `begins`)."""

    near: Edge
    far: Edge
    zero: float
    begins: str

    def nearest(self, y: float) -> Edge:
        """The edge that a tape is laid to: the nearer one, in the middle the one nearest to her."""
        return self.near if y - self.near.y <= self.far.y - y else self.far


@dataclass(frozen=True, slots=True)
class ArrowEnd:
    """One end of a grain arrow: what it is called, where it lies on the cloth, and both distances in mm."""

    name: str
    at: Point
    from_cut_end: float
    from_edge: float
    edge: Edge


@dataclass(frozen=True, slots=True)
class Measured:
    """One piece to be laid by tape measure. `ends` are those of its grain arrow, the one nearer to the cut
    end first; none for a piece without an arrow. `begins_here`: the cut end is that of its own section."""

    laid: Laid
    title: str
    cut: str
    paper: str
    ends: tuple[ArrowEnd, ...]
    begins_here: bool


def measured(plan: Plan) -> tuple[Measured, ...]:
    """Every piece of a lay in cutting order."""
    grounds = tuple(ground(plan, i) for i in range(len(plan.sections)))
    in_order = sorted(plan.laid, key=lambda laid: laid.number)
    return tuple(_measured(plan, laid, grounds[laid.section]) for laid in in_order)


def ground(plan: Plan, section: int) -> Ground:
    """A section's edges and its beginning. A remnant is measured from its own left end and its own edges; the
    length of cloth from its cut end, also where it lies folded first and then open."""
    here = plan.sections[section]
    remnant = remnant_of(plan, here)
    if remnant is not None:
        top = max(p.imag for p in remnant)
        return Ground(Edge("near edge", 0.0), Edge("far edge", top), here.start, "left end")
    if here.way == "folded crosswise":
        return Ground(Edge("near selvedge", 0.0), Edge("far selvedge", here.width), 0.0, "cut end")
    lengths = (s.end - s.start for s in plan.sections[:section] if remnant_of(plan, s) is None)
    zero = here.start - sum(lengths)
    if here.way == "folded lengthwise":
        far = "nearer selvedge" if beside_the_middle(plan, here) else "selvedges"
        return Ground(Edge("fold", 0.0), Edge(far, here.width), zero, "cut end")
    return Ground(Edge("near selvedge", 0.0), Edge("far selvedge", here.width), zero, "cut end")


def fold_of(plan: Plan, section: Section) -> float:
    """Where cloth folded lengthwise is folded, mm from the near selvedge."""
    return plan.cloth.width / 2 if section.fold is None else section.fold


def beside_the_middle(plan: Plan, section: Section) -> bool:
    """Is it folded so far beside its middle that its selvedges part?"""
    return (
        section.way == "folded lengthwise" and abs(fold_of(plan, section) - plan.cloth.width / 2) > _PART_MM
    )


def remnant_of(plan: Plan, section: Section) -> Ring | None:
    """The outline of the remnant that a section is, where it lies: its lowest places on y = 0, its left end
    at the section's start. None where the section is the length of cloth."""
    for remnant in plan.cloth.remnants:
        if remnant.name == section.name:
            low = complex(min(p.real for p in remnant.outline), min(p.imag for p in remnant.outline))
            return tuple(p - low + section.start for p in remnant.outline)
    return None


def _measured(plan: Plan, laid: Laid, lies: Ground) -> Measured:
    section = plan.sections[laid.section]
    here = lies.zero == section.start or section.way == "folded crosswise"
    return Measured(laid, laid.piece.title, cut_words(laid), paper_words(laid), _ends(laid, lies), here)


def cut_words(laid: Laid) -> str:
    """How it is cut there: "1 layer", "2 layers", "on the fold".

    A half piece on the fold comes out whole, and so does every layer of it.
    """
    layers = f"{laid.layers} layers" if laid.layers != 1 else "1 layer"
    return f"{layers}, on the fold" if laid.on_fold else layers


def paper_words(laid: Laid) -> str:
    """How the printed paper lies: "face up", "face down", "opened out"."""
    if not laid.motion.mirror or laid.paper == "opened out":
        return laid.paper
    return "face down" if laid.paper == "face up" else "face up"


def _ends(laid: Laid, lies: Ground) -> tuple[ArrowEnd, ...]:
    arrow = laid.piece.grain
    if abs(arrow.end - arrow.start) < SAME_POINT_MM:
        return ()
    names = _end_names(laid)
    places = [laid.motion(p) for p in (arrow.start, arrow.end)]
    edge = lies.nearest((places[0] + places[1]).imag / 2)
    ends = [
        ArrowEnd(name, p, p.real - lies.zero, abs(p.imag - edge.y), edge)
        for name, p in zip(names, places, strict=True)
    ]
    return tuple(sorted(ends, key=lambda end: (end.from_cut_end, end.at.imag)))


def _end_names(laid: Laid) -> tuple[str, str]:
    """What the two ends of a piece's arrow point at, "hem" and "neck"; where that is not plain, which end
    of the print they are, as its words read: "lower" and "upper", "left" and "right"."""
    piece = laid.piece
    start, end = piece.grain.start, piece.grain.end
    u = (end - start) / abs(end - start)
    one, two = (_pointed_at(piece, p, way) for p, way in ((start, -u), (end, u)))
    if one and two and one != two:
        return one, two
    if abs(u.imag) > 0.05:
        return ("lower", "upper") if u.imag > 0 else ("upper", "lower")
    rightwards = (u.real > 0) != (laid.paper == "face down")  # then the piece is the print turned over
    return ("left", "right") if rightwards else ("right", "left")


def _pointed_at(piece: FinishedPiece, p: Point, way: complex) -> str:
    """The name of the edge that a ray from p meets first; "" for none (the mouth of a dart)."""
    best, name = math.inf, ""
    for edge in piece.edges:
        for curve in edge.sewing:
            for s in _meets(curve, p, way):
                if s < best:
                    best, name = s, _edge_name(edge)
    return name


def _meets(curve: Curve, p: Point, way: complex) -> Iterator[float]:
    for t in on_line(curve, p, way):
        s = ((curve.at(t) - p) * way.conjugate()).real
        if s > 0:
            yield s


def _edge_name(edge: FinishedEdge) -> str:
    """The edge's name without the wearer's side and without the number of a part."""
    name = edge.key.removeprefix(f"{edge.wearer} ") if edge.wearer else edge.key
    head, _, last = name.rpartition(" ")
    return head if head and last.isdigit() else name


def by_tape(mm: float, unit: TapeUnit) -> str:
    """A length as her tape reads it, to the nearest division, without the unit.

    >>> by_tape(1234.6, "cm"), by_tape(120.65, "in"), by_tape(-0.2, "cm"), by_tape(3.2, "in")
    ('123.5', '4 3/4', '0.0', '1/8')
    """
    return _divisions(round(mm / TAPE_STEP_MM[unit]), unit)


def up_by_tape(mm: float, unit: TapeUnit) -> str:
    """The same rounded up, for what must be enough.

    >>> up_by_tape(1234.1, "cm"), up_by_tape(1234.0, "cm")
    ('123.5', '123.4')
    """
    return _divisions(math.ceil((mm - _SHOWN_SAME_MM) / TAPE_STEP_MM[unit]), unit)


def down_by_tape(mm: float, unit: TapeUnit) -> str:
    """The same rounded down, for what there is."""
    return _divisions(math.floor((mm + _SHOWN_SAME_MM) / TAPE_STEP_MM[unit]), unit)


def _divisions(count: int, unit: TapeUnit) -> str:
    if unit == "cm":
        return f"{count / 10:.1f}"
    whole, part = divmod(abs(count), 8)
    common = math.gcd(part, 8)
    fraction = f"{part // common}/{8 // common}" if part else ""
    number = " ".join(word for word in (str(whole) if whole or not part else "", fraction) if word)
    return f"-{number}" if count < 0 else number
