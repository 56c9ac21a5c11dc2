"""Shaped facings: a strip of the garment itself along an edge, as a piece of its own.

Darts that open on the edge are closed first; the centre keeps its place and the grain. The facing's edge is
the garment's sewing line; its ends lie along the neighbouring edges; its inner edge runs `strip_mm` inside.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.seam import Finish, Seam, Side
from cutonce.draft.span import Label, Span, born_along
from cutonce.errors import Finding
from cutonce.finishing.allowance import Finishes, Stretch, allowance_at, stretches
from cutonce.finishing.corners import straight_on
from cutonce.finishing.defaults import Defaults
from cutonce.geometry import offset, path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import MIRROR, STILL, turning
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.region import crossing
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.centre import back_to_centre
from cutonce.reshape.divide import folds_between

STEP = "facing"
"""The step id under which a facing's own edges are born."""

_AT_END_MM = 0.5
"""Just inside the end of an edge: its allowance there may be that of an opening."""

INNER = Label("inner edge", "style line")


@dataclass(frozen=True, slots=True)
class Facing:
    """A facing as a draft of one piece with its finishes; `faced` are the garment's edges that it faces."""

    draft: Draft
    faced: tuple[EdgeRef, ...]

    @property
    def piece(self) -> Piece:
        return self.draft.pieces[0]


def facings(
    draft: Draft, finishes: Finishes, defaults: Defaults
) -> tuple[tuple[Facing, ...], tuple[Finding, ...]]:
    """A shaped facing for every run of faced edges; a finding for each that cannot be drawn as a piece."""
    made: list[Facing] = []
    findings: list[Finding] = []
    for piece in draft.pieces:
        for labels in _faced_runs(draft, piece, finishes):
            name = " + ".join(label.key for label in labels)
            found = _facing(piece, labels, finishes, stretches(draft, piece, defaults), defaults)
            if found is None:
                findings.append(
                    Finding(
                        "warning",
                        "no-facing",
                        piece.key,
                        f"the facing of the {name} cannot be drawn as a piece; the cut list has a strip",
                    )
                )
            else:
                made.append(found)
    return tuple(made), tuple(findings)


def _faced_runs(draft: Draft, piece: Piece, finishes: Finishes) -> list[tuple[Label, ...]]:
    """Neighbouring faced edges of one width, in outline order; edges that are drawn up take a strip."""
    drawn = {ref for d in draft.drawn for ref in d.edges}
    labels = piece.labels
    widths = [_width(piece, e, finishes, (piece.key, e) in drawn) for e in labels]
    n = len(labels)
    starts = [i for i in range(n) if widths[i] and (widths[i - 1] != widths[i] or n == 1)]
    out: list[tuple[Label, ...]] = []
    for i in starts:
        run = [labels[i]]
        k = (i + 1) % n
        while widths[k] == widths[i] and k != i:
            run.append(labels[k])
            k = (k + 1) % n
        out.append(tuple(run))
    return out


def _width(piece: Piece, label: Label, finishes: Finishes, is_drawn: bool) -> tuple[float, str] | None:
    finish = finishes.of(piece, label)
    if finish.kind != "faced" or not finish.strip_mm or is_drawn:
        return None
    return finish.strip_mm, finish.shows


def _facing(
    piece: Piece,
    labels: Sequence[Label],
    finishes: Finishes,
    openings: Sequence[Stretch],
    defaults: Defaults,
) -> Facing | None:
    edge, before, after = _closed_edge(piece, labels)
    width = finishes.of(piece, labels[0]).strip_mm
    inner = _inner([s.curve for s in edge], width)
    end = _first_hit([s.curve for s in after], inner)
    start = _first_hit([s.curve for s in before], inner)
    if not before or not after or end is None or start is None or end[1] - start[1] < SAME_POINT_MM:
        return None
    line = reversed_path(path.part(inner, start[1], end[1]))
    back = _up_to(before, start[0])
    spans = [
        *edge,
        *_up_to(after, end[0]),
        *born_along(line, INNER, STEP),
        *(s.reversed() for s in reversed(back)),
    ]
    back_again = back_to_centre(spans, piece)
    joined = _joined([s.moved(back_again) for s in spans])
    if path.area(s.curve for s in joined) <= 0 or crossing([s.curve for s in joined]) is not None:
        return None
    allowances = {e: finishes.of(piece, e).allowance for e in piece.labels}
    for run, arc in ((before, piece.edge_length(before[0].label) - _AT_END_MM), (after, _AT_END_MM)):
        label = run[0].label
        here = [s for s in openings if s.label == label]
        allowances[label] = allowance_at(arc, allowances[label], here, defaults)
    return _as_draft(piece, labels, joined, allowances, finishes.of(piece, labels[0]).shows)


def _closed_edge(piece: Piece, labels: Sequence[Label]) -> tuple[list[Span], list[Span], list[Span]]:
    """The edge with its darts closed, and the edges beside it as they run away from it: the one before
    (turned round) and the one after, moved along."""
    outline = piece.outline
    n = len(outline)
    ends = piece.edge(labels[0])[0], piece.edge(labels[-1])[-1]
    first, last = (next(i for i in range(n) if outline[i] is e) for e in ends)
    folds = folds_between(piece, outline, first, (last + 1) % n)
    closed = {k: f.closed for f in folds for k in f.legs}
    edge: list[Span] = []
    motion = STILL
    for i in ((first + k) % n for k in range((last - first) % n + 1)):
        if i in closed:
            motion = closed[i]
        else:
            edge.append(outline[i].moved(motion))
    before = [s.reversed() for s in _away(outline, first - 1, -1)]
    return edge, before, [s.moved(motion) for s in _away(outline, last + 1, 1)]


def _away(outline: tuple[Span, ...], i: int, step: int) -> list[Span]:
    """The spans of one edge from span i on in one direction, its darts closed."""
    n = len(outline)
    label = next((s.label for s in _around(outline, i, step) if s.label.role != "dart leg"), INNER)
    out: list[Span] = []
    motion = STILL
    k = i
    while len(out) < n:
        span, nxt = outline[k % n], outline[(k + step) % n]
        if span.label == label:
            out.append(span.moved(motion))
        elif span.label.role != "dart leg":
            break
        elif nxt.label == span.label:
            near, far = (span, nxt) if step > 0 else (nxt, span)
            pivot = near.curve.end
            turn = cmath.phase((near.curve.start - pivot) / (far.curve.end - pivot))
            motion = motion.after(turning(turn * step, pivot))
            k += step
        k += step
    return out


def _around(outline: tuple[Span, ...], i: int, step: int) -> list[Span]:
    n = len(outline)
    return [outline[(i + step * k) % n] for k in range(n)]


def _inner(edge: Path | list[Curve], width: float) -> Path:
    """The line `width` inside an edge, its corners made true, carried on straight beyond both ends."""
    moved = offset.to_right(edge, -width)
    out: Path = (moved[0],)
    for curve in moved[1:]:
        made = straight_on(out, (curve,), 3 * width)
        out = (*made.one, *made.between, *made.two)
    p, q = out[0].start, out[-1].end
    ahead, beyond = p - width * out[0].tangent(0), q + width * out[-1].tangent(1)
    return (Line(ahead, p), *out, Line(q, beyond))


def _first_hit(line: Sequence[Curve], inner: Path) -> tuple[float, float] | None:
    """Where a line first meets another: arc lengths on both."""
    before = 0.0
    for curve in line:
        hits: list[tuple[float, float]] = []
        reached = 0.0
        for other in inner:
            hits += [
                (before + curve.length_to(t), reached + other.length_to(u)) for t, u in meetings(curve, other)
            ]
            reached += other.length
        if hits:
            return min(hits)
        before += curve.length
    return None


def _up_to(spans: Sequence[Span], size: float) -> list[Span]:
    """The first `size` mm of a run of spans."""
    out: list[Span] = []
    for span in spans:
        if size <= SAME_POINT_MM:
            break
        out.append(span if size >= span.length - SAME_POINT_MM else span.split(size)[0])
        size -= span.length
    return out


def _joined(spans: Sequence[Span]) -> tuple[Span, ...]:
    """The spans end to end; the small gaps of rounding closed."""
    out = list(spans[:1])
    for span in spans[1:]:
        out.append(replace(span, curve=replace(span.curve, a=out[-1].curve.end)))
    out[-1] = replace(out[-1], curve=replace(out[-1].curve, d=out[0].curve.start))
    return tuple(out)


def _as_draft(
    piece: Piece,
    labels: Sequence[Label],
    outline: tuple[Span, ...],
    allowances: dict[Label, float],
    shows: str,
) -> Facing:
    """The facing as a draft: finished like the garment's edges, its inner edge left as cut.

    A facing that ends up inside is sewn face to face with the garment, so one that is cut once is drawn
    mirrored; one that shows on the outside is not.
    """
    words = _edge_words(piece, labels)
    on_fold = piece.cut == "fold" and any(s.label == piece.fold for s in outline)
    made = Piece(
        name=f"{piece.name} {words} facing",
        outline=outline,
        grain=Grain(piece.grain.at, piece.grain.along, piece.grain.kind),
        wearer=piece.wearer,
        cut="pair" if piece.cut == "fold" and not on_fold else piece.cut,
        fold=piece.fold if on_fold else None,
        marks=piece.marks,
        face=piece.face,
    )
    if made.cut == "single" and shows == "wrong side":
        made = replace(made.moved(MIRROR), flips=piece.flips)
    kept = [e for e in made.labels if e != INNER]
    sewn = [e for e in kept if e != made.fold]
    set_finishes = [((made.key, e), Finish("seam", allowances[e])) for e in sewn]
    set_finishes.append(((made.key, INNER), Finish("raw", 0.0)))
    faced = tuple((piece.key, e) for e in labels)
    seams = tuple(Seam(f"{made.key} {e.key}", Side(made.key, (e,)), Side(made.key, (e,))) for e in sewn)
    return Facing(Draft((made,), seams=seams, finishes=tuple(set_finishes)), faced)


def _edge_words(piece: Piece, labels: Sequence[Label]) -> str:
    """The edge in words: without the side where both sides are in it or the piece's name says it."""
    names = dict.fromkeys(label.name for label in labels)
    sides = {label.wearer for label in labels} - {piece.wearer}
    side = f"{sides.pop()} " if len(sides) == 1 and None not in sides else ""
    part = f" {labels[0].part}" if len(labels) == 1 and labels[0].part > 1 else ""
    return side + " and ".join(names) + part
