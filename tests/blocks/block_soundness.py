"""What every bodice and dress block must be, measured by other means than those that drew it."""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping

from shapely import LineString

from cutonce.blocks.bodice_systems import SYSTEMS
from cutonce.body import Body, body_of
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.geometry.region import crossing, polygon

SEAM_MM, GIRTH_MM = 0.1, 0.5
WAIST = Label("waist", "waist")

NAMES = [s.name for s in SYSTEMS]
KINDS = ("bodice", "dress")
EVERY = [(kind, system) for kind in KINDS for system in NAMES]


def changed(body: Body, **measures: float | tuple[float, float]) -> Body:
    """The body with these measures in place of its own."""
    return body.with_measures(body_of("", measures).measures)


def faults(draft: Draft, body: Body, ease: Mapping[str, float]) -> list[str]:
    """All that is wrong with a block, in words; an empty list where it is sound."""
    halves = [draft] if draft.twin is None else [draft, draft.twin]
    said = [f"{piece.key}: {fault}" for half in halves for piece in half.pieces for fault in _outline(piece)]
    for half in halves:
        for seam in half.seams:
            off = half.side_length(seam.a) - half.side_length(seam.b)
            if abs(off) > SEAM_MM:
                said.append(f"seam {seam.name}: {off:.3f} mm")
    is_dress = any(label.name == "hem" for label in draft.piece("front").labels)
    for level in ("bust", "waist", "hip") if is_dress else ("bust", "waist"):
        girth = 2 / len(halves) * sum(_width(p, level) for half in halves for p in half.pieces)
        off = girth - body.mm(f"{level}_girth") - ease[level]
        if abs(off) > GIRTH_MM:
            said.append(f"{level} girth: {off:.3f} mm")
    return said


def _outline(piece: Piece) -> list[str]:
    spans = piece.outline
    said = []
    for one, two in zip(spans, spans[1:] + spans[:1], strict=True):
        if abs(one.curve.end - two.curve.start) > 1e-6:
            said.append(f"open between {one.label.key} and {two.label.key}")
    if piece.area <= 0:
        said.append("not counter-clockwise")
    at = crossing([s.curve for s in spans])
    if at is not None:
        said.append(f"crosses itself at {at}")
    for dart in piece.darts:
        one, two = piece.legs(dart)
        if abs(one.length - two.length) > 1e-6:
            said.append(f"{dart.name}: legs differ")
    return said


def _width(piece: Piece, level: str) -> float:
    """Width of one piece at a landmark line: the line laid across its area, less darts pointed at both ends.

    A bodice's waist is its lower edge, darts left out. A hair above the bust line's lowest place the underarm
    begins, so the line is laid a hundredth of a millimetre lower.
    """
    if level == "waist" and WAIST in piece.labels:
        return piece.edge_length(WAIST)
    line = next(x for x in piece.lines if x.name == level)
    y = line.curves[0].start.imag - 0.01
    area = polygon([s.curve for s in piece.outline], 0.01)
    across = area.intersection(LineString([(-2000, y), (2000, y)])).length
    return across - sum(_taken(d.upper, d.lower, d.left, d.right, y) for d in piece.double_darts)


def _taken(upper: complex, lower: complex, left: complex, right: complex, y: float) -> float:
    diamond = LineString([(z.real, z.imag) for z in (upper, left, lower, right, upper)])
    hits = diamond.intersection(LineString([(-2000, y), (2000, y)]))
    xs = [g.x for g in getattr(hits, "geoms", [hits]) if g.geom_type == "Point"]
    return max(xs) - min(xs) if len(xs) == 2 else 0.0


def turn(one: complex, two: complex) -> float:
    """Turn from one direction to another in degrees, counter-clockwise."""
    return math.degrees(cmath.phase(two / one))


def mark_at(piece: Piece, name: str, edge: str) -> complex:
    """Where a mark of an edge lies."""
    mark = next(m for m in piece.marks if m.name == name and m.origin.name == edge)
    span = next(s for s in piece.outline if s.origin == mark.origin and s.holds(mark.at))
    return span.curve.at(span.curve.at_length(span.arc_at(mark.at)))
