"""Moving the end of an edge along its neighbour: armholes lowered, necks widened, shoulder points moved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Gone, Label, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Motion, Point, shifting
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.divide import lines_within
from cutonce.reshape.edge_names import tidied
from cutonce.reshape.fading_end import faded
from cutonce.reshape.folded_edge import folded_edge, reopened
from cutonce.reshape.partners import seam_at
from cutonce.reshape.places import Chain
from cutonce.reshape.runs import parted
from cutonce.reshape.seams import divide_edge, replaced_piece
from cutonce.reshape.soundness import refuse_crossing

_LEAST_SIDE_MM = 5.0
"""Nearer an edge's end than this there is nothing to redraw on that side."""


@dataclass(frozen=True, slots=True)
class EdgeEnd:
    """An end of an edge: piece key, edge, and whether it is the end where the edge starts (outline order)."""

    piece: str
    edge: Label
    at_start: bool


@dataclass(frozen=True, slots=True)
class Neighbour:
    """The edge beside an end, and its length up to the first dart on it."""

    label: Label
    free_mm: float


def neighbour(draft: Draft, end: EdgeEnd) -> Neighbour:
    """The edge along which an end can move. Raises CannotApply where a dart lies in the corner."""
    piece = draft.piece(end.piece)
    spans = piece.outline
    run = piece.edge(end.edge)
    n = len(spans)
    k = spans.index(run[0]) - 1 if end.at_start else (spans.index(run[-1]) + 1) % n
    label = spans[k].label
    if label.role == "dart leg":
        raise CannotApply(
            "dart-in-corner",
            end.piece,
            f"the {label.key} opens in the corner of the {end.edge.key}",
            "move it first",
        )
    free, step = 0.0, -1 if end.at_start else 1
    for i in range(n):
        span = spans[(k + step * i) % n]
        if span.label != label:
            break
        free += span.length
    return Neighbour(label, free)


def partner_end(draft: Draft, end: EdgeEnd) -> EdgeEnd | None:
    """The end of the partner's edge that meets this one at the neighbour's seam; None where there is none."""
    beside = neighbour(draft, end).label
    found = seam_at(draft, end.piece, beside)
    if found is None or found[1] == found[2]:
        return None
    _, mine, other = found
    first = mine.labels[0] if not end.at_start else mine.labels[-1]
    if beside != first:
        return None  # the edge stops in the middle of the seam's side
    edge = other.labels[-1] if not end.at_start else other.labels[0]
    piece = draft.piece(other.piece)
    spans = piece.outline
    run = piece.edge(edge)
    k = (spans.index(run[-1]) + 1) % len(spans) if not end.at_start else spans.index(run[0]) - 1
    if spans[k].label.role == "dart leg":
        return None
    return EdgeEnd(other.piece, spans[k].label, not end.at_start)


def shift_in(draft: Draft, end: EdgeEnd, by: float, reach: float, step: str) -> Draft:
    """Move an end `by` mm along its neighbour, which is cut off there; the corner keeps its angle.

    The neighbour's seam is divided where it is cut, so that its partner can follow. Raises CannotApply where
    the neighbour is too short, or the edge would cross another.
    """
    beside = neighbour(draft, end)
    whole = abs(by - beside.free_mm) < SAME_POINT_MM and _goes_on(draft.piece(end.piece), beside.label)
    if by > beside.free_mm - SAME_POINT_MM and not whole:
        raise CannotApply(
            "past-end",
            f"{end.piece}, {beside.label.key}",
            f"{by:.1f} mm goes past its end or a dart, {beside.free_mm:.1f} mm away",
        )
    if not whole:
        size = draft.piece(end.piece).edge_length(beside.label)
        draft, _ = divide_edge(draft, end.piece, beside.label, size - by if end.at_start else by)
    piece = draft.piece(end.piece)
    thrown = piece.edge(neighbour(draft, end).label)
    labels = {s.label for s in thrown}
    to, along = _cut_place(thrown, end)
    motion = _motion(piece, end, to, along)
    kept = replace(piece, outline=tuple(s for s in piece.outline if s.label not in labels))
    new = _sound(_with_end_moved(kept, end, to, motion, reach, step), end)
    reason = f"moved the end of the {end.edge.key} along it"
    gone = [Gone(end.piece, s.label, s.origin, s.lo, s.hi, step, reason) for s in thrown]
    seams = {s.name for s in draft.seams}
    after = replaced_piece(draft, end.piece, [new], gone)
    return tidied(after, end.piece, seams - {s.name for s in after.seams})


def shift_out(draft: Draft, end: EdgeEnd, by: float, reach: float, step: str) -> Draft:
    """Move an end `by` mm outward: its neighbour runs on straight by as much; the corner keeps its angle."""
    piece = draft.piece(end.piece)
    label = neighbour(draft, end).label
    run = piece.edge(label)
    beside = run[-1].curve if end.at_start else run[0].curve
    along = beside.tangent(1) if end.at_start else beside.tangent(0)
    corner = beside.end if end.at_start else beside.start
    to = corner + by * along if end.at_start else corner - by * along
    motion = _motion(piece, end, to, along)
    moved = _with_end_moved(piece, end, to, motion, reach, step)
    edge = moved.edge(end.edge)
    line = Line(corner, edge[0].curve.start) if end.at_start else Line(edge[-1].curve.end, corner)
    name = f"{label.key} {end.edge.key} end"
    added = born(line, label, step, name=name)
    at = moved.outline.index(edge[0]) if end.at_start else moved.outline.index(edge[-1]) + 1
    new = replace(moved, outline=(*moved.outline[:at], added, *moved.outline[at:]))
    return draft.with_pieces([_sound(new, end)])


def _goes_on(piece: Piece, label: Label) -> bool:
    """Is there another part of the same edge?"""
    return any(e != label and e.same_edge(label) for e in piece.labels)


def _cut_place(thrown: Sequence[Span], end: EdgeEnd) -> tuple[Point, complex]:
    """Where the neighbour is cut, and its direction there."""
    if end.at_start:
        return thrown[0].curve.start, thrown[0].curve.tangent(0)
    return thrown[-1].curve.end, thrown[-1].curve.tangent(1)


def _motion(piece: Piece, end: EdgeEnd, to: Point, along: complex) -> Motion:
    """The motion that takes the edge's end to a place where the neighbour runs in direction `along`, keeping
    the corner's angle."""
    run = piece.edge(end.edge)
    spans = piece.outline
    if end.at_start:
        was = spans[spans.index(run[0]) - 1].curve.tangent(1)
        at = run[0].curve.start
    else:
        was = spans[(spans.index(run[-1]) + 1) % len(spans)].curve.tangent(0)
        at = run[-1].curve.end
    w = along / was
    return Motion(w / abs(w), to - w / abs(w) * at)


def _with_end_moved(piece: Piece, end: EdgeEnd, to: Point, motion: Motion, reach: float, step: str) -> Piece:
    """The piece with an edge redrawn from its moved end, with the darts on it folded."""
    edge = folded_edge(piece, piece.edge(end.edge))
    if not end.at_start:
        to = edge.last(to)
        motion = edge.last.after(motion).after(edge.last.inverse())
    length = sum(s.length for s in edge.spans)
    new = faded(edge.spans, motion, min(reach, length), end.at_start, step)
    opened = reopened(piece, edge, _ending_at(new, to, end.at_start))
    return replace(opened, lines=lines_within(opened))


def _ending_at(spans: tuple[Span, ...], to: Point, at_start: bool) -> tuple[Span, ...]:
    """The run with its moved end set exactly to its place."""
    if at_start:
        return (replace(spans[0], curve=replace(spans[0].curve, a=to)), *spans[1:])
    return (*spans[:-1], replace(spans[-1], curve=replace(spans[-1].curve, d=to)))


def shift_within(draft: Draft, run: Chain, arc: float, by: float, reach: float | None, step: str) -> Draft:
    """Move a place within an edge `by` mm square into the piece (less than 0: outward); the edge is redrawn
    to both sides, over `reach` mm or as far as it goes."""
    if not _LEAST_SIDE_MM < arc < run.length - _LEAST_SIDE_MM:
        raise CannotApply(
            "at-an-end", run.name, "the place lies at the edge's end", "name the edge beside it"
        )
    edge = folded_edge(run.piece, run.spans)
    before, after = parted(edge.spans, (arc,))
    inward = 1j * before[-1].curve.tangent(1)
    motion = shifting(by * inward)
    to = motion(before[-1].curve.end)
    sides = []
    for side, at_start in ((before, False), (after, True)):
        size = sum(s.length for s in side)
        sides.append(_ending_at(faded(side, motion, min(reach or size, size), at_start, step), to, at_start))
    new = reopened(run.piece, edge, [*sides[0], *sides[1]])
    new = replace(new, lines=lines_within(new))
    return draft.with_pieces([_sound(new, EdgeEnd(new.key, run.spans[0].label, True))])


def _sound(piece: Piece, end: EdgeEnd) -> Piece:
    refuse_crossing(
        piece,
        f"the {end.edge.key} would cross another edge",
        "move it less, or let the change reach less far",
    )
    return piece
