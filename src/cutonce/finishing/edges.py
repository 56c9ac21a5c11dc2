"""The edges of a piece once its cutting line is drawn: places by arc length, and the edge as a value."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import EdgeMark, Label
from cutonce.finishing.allowance import Run
from cutonce.finishing.cutting import Cutting
from cutonce.finishing.finished import FinishedEdge
from cutonce.finishing.fullness import fullness_words
from cutonce.geometry import path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings, nearest
from cutonce.geometry.motion import Point
from cutonce.units import show

_ON_LINE_MM = 0.05
"""Half a pen line: a place straight outside the sewing line lies on the cutting line if it lies so near."""


@dataclass(frozen=True, slots=True)
class EdgePlace:
    """A place on an edge: its point on the sewing line, the unit direction of the line there, the allowance,
    and the point on the cutting line straight outside it."""

    label: Label
    arc: float
    sewing: Point
    along: complex
    allowance: float
    at: Point


def place(cutting: Cutting, label: Label, arc: float) -> EdgePlace:
    """The place `arc` mm along an edge (darts left out), held within the edge.

    Near a corner the straight way outward may leave the allowance; the cutting line is then met where it is.
    """
    i = _run_at(cutting, label, arc)
    run = cutting.runs[i]
    s = min(max(arc - run.start, 0.0), run.end - run.start)
    k, t = path.find(run.sewing, s)
    p, u = run.sewing[k].at(t), run.sewing[k].tangent(t)
    at = p - 1j * u * run.allowance
    near_end = min(s, run.end - run.start - s) < 4 * run.allowance
    if near_end and run.allowance and nearest(cutting.cuts[i], at)[1] > _ON_LINE_MM:
        at = _outward(cutting, p, -1j * u, run.allowance)
    return EdgePlace(label, arc, p, u, run.allowance, at)


def _run_at(cutting: Cutting, label: Label, arc: float) -> int:
    mine = [i for i, r in enumerate(cutting.runs) if r.label == label]
    return next((i for i in mine if arc <= cutting.runs[i].end), mine[-1])


def _outward(cutting: Cutting, p: Point, out: complex, allowance: float) -> Point:
    ray = Line(p, p + (4 * allowance + 10) * out)
    hits = [t for curve in cutting.line for t, _ in meetings(ray, curve)]
    return ray.at(min(hits)) if hits else p + allowance * out


def mark_places(piece: Piece) -> tuple[tuple[EdgeMark, Label, float], ...]:
    """The printed marks of a piece with the edge and the arc length where each lies now; those whose cloth is
    no longer on the outline are left out."""
    out: list[tuple[EdgeMark, Label, float]] = []
    printed = [m for m in piece.marks if m.printed]
    for label in piece.labels if printed else ():
        before = 0.0
        for span in piece.edge(label):
            for mark in printed:
                if span.origin == mark.origin and span.holds(mark.at):
                    out.append((mark, label, before + span.arc_at(mark.at)))
            before += span.length
    return tuple(out)


def is_corner(cutting: Cutting, label: Label, at_end: bool) -> bool:
    """Does the edge end in a corner, and not run on smoothly into the next?"""
    mine = [i for i, r in enumerate(cutting.runs) if r.label == label]
    n = len(cutting.runs)
    i, j = (mine[-1], (mine[-1] + 1) % n) if at_end else ((mine[0] - 1) % n, mine[0])
    if cutting.runs[i].dart:
        return True
    u, v = cutting.runs[i].sewing[-1].tangent(1), cutting.runs[j].sewing[0].tangent(0)
    return abs((u.conjugate() * v).imag) > 0.05 or (u.conjugate() * v).real < 0


def edges(draft: Draft, piece: Piece, cutting: Cutting) -> tuple[FinishedEdge, ...]:
    """Every edge in outline order with its finish in words, and how its fullness is taken up."""
    out: list[FinishedEdge] = []
    for label in piece.labels:
        mine = [i for i, r in enumerate(cutting.runs) if r.label == label]
        if not mine:
            continue
        first = cutting.runs[mine[0]]
        sewing: list[Curve] = [c for i in mine for c in cutting.runs[i].sewing]
        cut: list[Curve] = [c for i in mine for c in cutting.cuts[i]]
        finish = first.finish
        how = fullness_words(draft, piece, label)
        out.append(
            FinishedEdge(
                label.key,
                label.role,
                label.wearer,
                finish.kind,
                finish.allowance,
                tuple(sewing),
                tuple(cut),
                f"{how}, {_words(first)}" if how else _words(first),
                how,
            )
        )
    return tuple(out)


def _words(run: Run) -> str:
    finish = run.finish
    width = show(finish.allowance, "mm")
    match finish.kind:
        case "fold":
            return "lay on the fold"
        case "hem":
            return f"turn up {width}"
        case "bound":
            return "bind" if not finish.allowance else f"bind, {width} allowed"
        case "faced":
            return f"face, {width} allowed"
        case "casing":
            return f"casing {show(finish.strip_mm, 'mm')} wide, {width} allowed"
        case "raw":
            return f"{width} allowed" if finish.allowance else "cut edge"
        case "seam":
            return f"sew, {width} allowed"
