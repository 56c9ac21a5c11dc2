"""Seams as they are walked: both sides as spans, the notches along them, and the corners at their ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label, Origin, Span
from cutonce.geometry.motion import Point
from cutonce.reshape.corners import corner


@dataclass(frozen=True, slots=True)
class Walk:
    """One side of a seam, in outline order; `marks` gives each notch's arc length from the start."""

    piece: Piece
    spans: tuple[Span, ...]
    marks: dict[str, float]
    length: float

    def between(self, start: float, end: float) -> tuple[Span, ...]:
        """The spans that lie, at least in part, between two arc lengths."""
        out: list[Span] = []
        before = 0.0
        for span in self.spans:
            after = before + span.length
            if after > start + 1e-6 and before < end - 1e-6:
                out.append(span)
            before = after
        return tuple(out)

    def point(self, arc: float) -> Point:
        """The place at an arc length, held within the side."""
        for span in self.spans:
            if arc <= span.length or span is self.spans[-1]:
                return span.curve.at(span.curve.at_length(arc))
            arc -= span.length
        raise ValueError("a side without spans has no places")


def exists(draft: Draft, side: Side) -> bool:
    """Whether the draft has the piece and all edges that a side names."""
    piece = next((p for p in draft.pieces if p.key == side.piece), None)
    return piece is not None and bool(side.labels) and set(side.labels) <= set(piece.labels)


def sound_seams(draft: Draft) -> Iterator[Seam]:
    """Seams whose edges are all there."""
    return (s for s in draft.seams if exists(draft, s.a) and exists(draft, s.b))


def walk(draft: Draft, side: Side) -> Walk:
    """A side with its notches. A name that stands more than once on it tells nothing and is left out."""
    piece = draft.piece(side.piece)
    spans = tuple(s for label in side.labels for s in piece.edge(label))
    on: dict[Origin, list[tuple[float, Span]]] = {}
    total = 0.0
    for span in spans:
        on.setdefault(span.origin, []).append((total, span))
        total += span.length
    marks: dict[str, list[float]] = {}
    for mark in piece.marks:
        for before, span in on.get(mark.origin, ()):
            if span.holds(mark.at):
                arc = before + span.arc_at(mark.at)
                if not any(abs(arc - a) < 1e-3 for a in marks.setdefault(mark.name, [])):
                    marks[mark.name].append(arc)
    once = {name: arcs[0] for name, arcs in marks.items() if len(arcs) == 1}
    return Walk(piece, spans, once, total)


@dataclass(frozen=True, slots=True)
class Corner:
    """Where a side of a seam ends: the angle inside the piece, darts there folded, the edge beyond it, and
    the two spans that meet."""

    piece: Piece
    angle: float
    beyond: Label
    spans: tuple[Span, Span]
    at: Point


def corner_of(piece: Piece, labels: tuple[Label, ...], at_end: bool) -> Corner | None:
    """The corner at the start or end of a chain of edges; None where the chain is the whole outline."""
    spans = piece.outline
    n = len(spans)
    mine = [i for i in range(n) if spans[i].label in labels]
    if not mine or len(mine) == n:
        return None
    on = {*mine, *(i for i in range(n) if spans[i].label.role == "dart leg")}
    label = labels[-1] if at_end else labels[0]
    for i in mine:
        if spans[i].label != label:
            continue
        k = _follower(spans, i, at_end)
        if k not in on or spans[k].label not in labels:
            pair = (i, k) if at_end else (k, i)
            angle = _closed_angle(spans, *pair)
            point = spans[i].curve.end if at_end else spans[i].curve.start
            return Corner(piece, angle, spans[k].label, (spans[pair[0]], spans[pair[1]]), point)
    return None


def _follower(spans: tuple[Span, ...], i: int, forward: bool) -> int:
    """The next span that is no dart leg."""
    n, step = len(spans), 1 if forward else -1
    k = (i + step) % n
    while spans[k].label.role == "dart leg" and k != i:
        k = (k + step) % n
    return k


def _closed_angle(spans: tuple[Span, ...], i: int, k: int) -> float:
    """The angle inside the piece from span i to span k, with the dart between them, if any, folded."""
    n = len(spans)
    angle = 0.0
    here = i
    while here != k:
        there = (here + 1) % n
        legs = spans[here].label.role == spans[there].label.role == "dart leg"
        if not (legs and spans[here].label == spans[there].label):
            angle += corner(spans[here], spans[there])
        here = there
    return angle


def words(labels: tuple[Label, ...]) -> str:
    """Names of edges, for messages."""
    return " + ".join(label.key for label in labels)
