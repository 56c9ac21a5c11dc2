"""Girths of a garment at bust, waist and hip as worn: widths of the cloth, darts folded, over all pieces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.checks.seam_sides import Walk, walk
from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import InnerLine, Piece
from cutonce.draft.seam import Side
from cutonce.draft.span import Label, Span
from cutonce.geometry.curve import Bounds, Curve, Line, apart, box_of
from cutonce.geometry.meet import meetings, nearest
from cutonce.geometry.motion import Point
from cutonce.geometry.path import bounds, flattened
from cutonce.geometry.region import inside

ON_EDGE_MM = 1.5
"""A landmark line whose end is this near an edge ends on it."""

_FLAT_MM = 0.2
"""Chord to curve of a border, to tell inside from outside."""

NAMES = ("bust", "waist", "hip")


@dataclass(frozen=True, slots=True)
class Level:
    """A girth in mm, and whether the pieces go all round at that level. `spans` are the edges it hangs on."""

    name: str
    girth: float
    is_ring: bool
    spans: tuple[Span, ...]


def levels_of(draft: Draft) -> dict[str, Level]:
    """Every level that the garment has: bust, waist, hip."""
    borders = borders_of(draft)
    return {name: found for name in NAMES if (found := level(draft, name, borders)) is not None}


@dataclass(frozen=True, slots=True)
class Border:
    """A closed outline to measure within: its curves, a box about each, and its corners when flattened."""

    curves: tuple[Curve, ...]
    boxes: tuple[Bounds, ...]
    corners: tuple[Point, ...]


def borders_of(draft: Draft) -> dict[str, Border]:
    """The border of every piece, by key."""
    return {p.key: _border([s.curve for s in p.outline]) for p in draft.pieces}


def _border(curves: Sequence[Curve]) -> Border:
    return Border(tuple(curves), tuple(box_of(c.points) for c in curves), flattened(curves, _FLAT_MM)[1:])


@dataclass(frozen=True, slots=True)
class _Width:
    piece: Piece
    width: float
    ends: tuple[Label | None, Label | None]
    spans: tuple[Span, ...]


def level(draft: Draft, name: str, borders: Mapping[str, Border] | None = None) -> Level | None:
    """The garment's girth at a level: "bust", "waist" or "hip"; None where no piece has it.

    At the waist a piece with a waist edge is measured along it (a seam there counts once, at its sewn
    length; an edge that is drawn up at the length it is drawn to). Otherwise widths are taken along the
    landmark line, within the outline, less darts pointed at both ends; gaps that a spread opened count.
    `borders` are those of the pieces, where they are at hand.
    """
    times = 1 if draft.unfolded else 2
    inside_of = borders_of(draft) if borders is None else borders
    widths: list[_Width] = []
    for piece in draft.pieces:
        waists = [e for e in piece.labels if e.role == "waist"] if name == "waist" else []
        if waists:
            widths += [w for e in waists if (w := _waist_edge(draft, piece, e)) is not None]
        else:
            widths += _lines(piece, name, inside_of[piece.key])
    if not widths:
        return None
    return Level(
        name,
        times * sum(w.width for w in widths),
        _is_ring(draft, widths),
        tuple(s for w in widths for s in w.spans),
    )


def _is_ring(draft: Draft, widths: Sequence[_Width]) -> bool:
    """Does every end lie on a fold, meet its own other half, or find its partner among the other ends?"""
    ends = {(w.piece.key, e) for w in widths for e in w.ends}
    return all(_goes_on(draft, w.piece, e, ends) for w in widths for e in w.ends)


def _goes_on(draft: Draft, piece: Piece, end: Label | None, ends: set[tuple[str, Label | None]]) -> bool:
    if end is None or end in (_MEETS, piece.fold):
        return end is not None
    sides = [(s.b if (piece.key, end) in _refs(s.a) else s.a) for s in draft.seams_of(piece.key, end)]
    return any(ref in ends for side in sides for ref in _refs(side))


def _refs(side: Side) -> set[tuple[str, Label | None]]:
    return {(side.piece, label) for label in side.labels}


_MEETS = Label("other half", "centre front")


def _lines(piece: Piece, name: str, border: Border) -> list[_Width]:
    lines = [x for x in piece.lines if x.name == name and x.kind == "landmark" and x.curves]
    ends = [z for x in lines for z in (x.curves[0].start, x.curves[-1].end)]
    return [_line_width(piece, x, ends, border) for x in lines]


def _line_width(piece: Piece, line: InnerLine, all_ends: Sequence[Point], border: Border) -> _Width:
    """Along the line with the gaps that a spread opened closed by chords, drawn on straight where it stops
    short of an edge. Where an edge has cut the line in two the level does not go through: no ends."""
    path: list[Curve] = [line.curves[0]]
    cut_through = False
    for one, two in pairwise(line.curves):
        if abs(one.end - two.start) > 1e-6:
            path.append(Line(one.end, two.start))
            cut_through |= not inside(border.corners, (one.end + two.start) / 2)
        path.append(two)
    ends: list[Label | None] = []
    for at_end in (False, True):
        point = path[-1].end if at_end else path[0].start
        span = _edge_under(piece, point)
        meets = sum(abs(point - z) < ON_EDGE_MM for z in all_ends) > 1
        if span is None and not meets:
            outward = path[-1].tangent(1) if at_end else -path[0].tangent(0)
            hit = _first_edge(piece, point, outward)
            if hit is not None:
                span = hit[0]
                path = [*path, Line(point, hit[1])] if at_end else [Line(hit[1], point), *path]
        ends.append(_MEETS if meets else span.label if span else None)
    width = _inside_length(path, border)
    width -= sum(_inside_length(path, _border(d.sides)) for d in piece.double_darts)
    beside = tuple(s for e in ends if e is not None and e != _MEETS for s in piece.edge(e))
    return _Width(piece, width, (None, None) if cut_through else (ends[0], ends[1]), beside)


def _edge_under(piece: Piece, point: Point) -> Span | None:
    """The span within ON_EDGE_MM of a point, the nearest where there are several; dart legs not counted."""
    best: tuple[float, Span] | None = None
    for span in piece.outline:
        low = box_of(span.curve.points)
        out = max(low[0] - point.real, point.real - low[2], low[1] - point.imag, point.imag - low[3])
        if span.label.role == "dart leg" or out > ON_EDGE_MM:
            continue
        off = nearest((span.curve,), point)[1]
        if off <= ON_EDGE_MM and (best is None or off < best[0]):
            best = (off, span)
    return best[1] if best else None


def _first_edge(piece: Piece, point: Point, way: complex) -> tuple[Span, Point] | None:
    """Where a ray first meets the outline, dart legs not counted."""
    box = bounds(s.curve for s in piece.outline)
    ray = Line(point, point + way * (abs(complex(box[2] - box[0], box[3] - box[1])) + 1))
    best: tuple[float, Span] | None = None
    for span in piece.outline:
        if span.label.role == "dart leg":
            continue
        for t, _ in meetings(ray, span.curve):
            if best is None or t < best[0]:
                best = (t, span)
    return None if best is None else (best[1], ray.at(best[0]))


def _inside_length(path: Sequence[Curve], border: Border) -> float:
    """How much of a path lies within a border."""
    total = 0.0
    for curve in path:
        low = box_of(curve.points)
        stops = {0.0, 1.0}
        for edge, box in zip(border.curves, border.boxes, strict=True):
            if not apart(low, box):
                stops |= {t for t, _ in meetings(curve, edge)}
        for a, b in pairwise(sorted(stops)):
            if b - a > 1e-9 and inside(border.corners, curve.at((a + b) / 2)):
                total += curve.length_to(b) - curve.length_to(a)
    return total


def _waist_edge(draft: Draft, piece: Piece, label: Label) -> _Width | None:
    """A waist edge at its sewn length; None for the longer side of a seam between two waist edges."""
    partner = draft.partner(piece.key, label)
    if partner is not None and all(e.role == "waist" for e in partner.labels):
        seam = draft.seams_of(piece.key, label)[0]
        if seam.a.piece == piece.key and label in seam.a.labels:
            return None
    size = piece.edge_length(label) * drawn_share(draft, (piece.key, label))
    before, after = _beside(piece, label)
    return _Width(piece, size, (before, after), piece.edge(label))


def drawn_share(draft: Draft, ref: EdgeRef) -> float:
    """What part of its flat length an edge keeps when cords, elastic or gathers along it, or along the edge
    to which it is sewn equal, are drawn up."""
    refs = {ref}
    for seam in draft.seams_of(*ref):
        if seam.relation.kind == "equal":
            refs |= {(side.piece, label) for side in (seam.a, seam.b) for label in side.labels}
    for drawn in draft.drawn:
        if refs & set(drawn.edges):
            flat = sum(draft.piece(key).edge_length(e) for key, e in drawn.edges)
            return min(1.0, drawn.to_mm / flat) if flat else 1.0
    return 1.0


def _beside(piece: Piece, label: Label) -> tuple[Label, Label]:
    """The edges before and after an edge; another run of waist counts as meeting its own other half."""
    run = piece.edge(label)
    spans = [s for s in piece.outline if s.label.role != "dart leg"]
    first, last = spans.index(run[0]), spans.index(run[-1])
    pair = (spans[first - 1].label, spans[(last + 1) % len(spans)].label)
    one, two = (_MEETS if e.role == "waist" else e for e in pair)
    return one, two


def girth_between(draft: Draft, upper: str, lower: str, share: float) -> float | None:
    """The girth at a share of the way down from one level to another; None where it cannot be measured."""
    return next((girth for _, girth in girths_between(draft, upper, lower, (share,))), None)


def girths_between(
    draft: Draft, upper: str, lower: str, shares: Sequence[float]
) -> Iterator[tuple[float, float]]:
    """Shares of the way down from one level to another, each with the girth there; nothing where it cannot
    be measured.

    On each piece, straight across between the places at that share of the way between both marks on each
    edge that has them. Where a piece has not two such edges, girths at both levels are shared in proportion.
    """
    across = {p.key: _edges_between(draft, p, upper, lower) for p in draft.pieces}
    pieces = [p for p in draft.pieces if across[p.key]]
    if any(len(across[p.key]) != 2 for p in pieces):
        pieces = []
    borders = borders_of(draft) if pieces else {}
    for share in shares:
        total = 0.0
        for piece in pieces:
            ends = [side.point(a + (b - a) * share) for side, a, b in across[piece.key]]
            path = [Line(ends[0], ends[1])]
            total += _inside_length(path, borders[piece.key])
            total -= sum(_inside_length(path, _border(d.sides)) for d in piece.double_darts)
        girth = total * (1 if draft.unfolded else 2) if total else _shared(draft, upper, lower, share)
        if girth is not None:
            yield share, girth


def _shared(draft: Draft, upper: str, lower: str, share: float) -> float | None:
    one, two = level(draft, upper), level(draft, lower)
    return one.girth + (two.girth - one.girth) * share if one and two else None


def _edges_between(draft: Draft, piece: Piece, upper: str, lower: str) -> list[tuple[Walk, float, float]]:
    """Edges that have both marks, with the arc lengths at which they lie."""
    sides = [walk(draft, Side(piece.key, (label,))) for label in piece.labels]
    return [(w, w.marks[upper], w.marks[lower]) for w in sides if upper in w.marks and lower in w.marks]
