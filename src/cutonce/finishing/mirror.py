"""Finished pieces turned over: the other hand of a piece, and a half piece opened out along its fold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.span import Wearer
from cutonce.finishing.finished import (
    DrawnDart,
    Drill,
    FinishedEdge,
    FinishedPiece,
    FoldMark,
    GrainArrow,
    MarkedLine,
    Notch,
    PointMark,
    Unsewn,
)
from cutonce.geometry import path
from cutonce.geometry.curve import Curve
from cutonce.geometry.motion import Motion, Point, reflecting
from cutonce.geometry.path import Path, reversed_path

_ON_FOLD_MM = 1e-3
"""A point so near to the fold lies on it."""


def mirrored(piece: FinishedPiece, over: Motion) -> FinishedPiece:
    """The piece reflected; closed lines run counter-clockwise again, words and counts are kept."""

    def back(line: Path) -> Path:
        return reversed_path(path.moved(line, over))

    return replace(
        piece,
        sewing=back(piece.sewing),
        cutting=back(piece.cutting),
        edges=tuple(replace(e, sewing=back(e.sewing), cut=back(e.cut)) for e in reversed(piece.edges)),
        notches=tuple(_notch(n, over) for n in piece.notches),
        drills=tuple(Drill(d.mark_of, over(d.at)) for d in piece.drills),
        darts=tuple(_dart(d, over) for d in piece.darts),
        grain=GrainArrow(over(piece.grain.start), over(piece.grain.end), piece.grain.words),
        lines=tuple(MarkedLine(x.name, x.kind, path.moved(x.path, over)) for x in piece.lines),
        points=tuple(PointMark(p.name, over(p.at)) for p in piece.points),
        unsewn=tuple(
            Unsewn(u.kind, back(u.path), (over(u.ends[1]), over(u.ends[0])), u.words) for u in piece.unsewn
        ),
        fold=FoldMark(back(piece.fold.path), piece.fold.words) if piece.fold else None,
    )


def _notch(n: Notch, over: Motion) -> Notch:
    return replace(n, at=over(n.at), tip=over(n.tip), sewing=over(n.sewing), along=-over.of_vector(n.along))


def _dart(d: DrawnDart, over: Motion) -> DrawnDart:
    return replace(
        d,
        legs=tuple(path.moved(leg, over) for leg in d.legs),
        fold=path.moved(d.fold, over),
        tips=tuple(over(t) for t in d.tips),
        cap=reversed_path(path.moved(d.cap, over)),
    )


def opened_out(piece: FinishedPiece) -> FinishedPiece:
    """A half piece opened out along its fold, whole, cut once; a piece without a fold is returned as it is.

    Its edges are then named for the wearer's side: the half drawn is the wearer's left.
    """
    if piece.fold is None:
        return piece
    p, q = piece.fold.path[0].start, piece.fold.path[-1].end
    other = mirrored(piece, reflecting(p, q))
    edges = tuple(_sided(e, "left") for e in piece.edges if e.kind != "fold")
    more = tuple(_sided(e, "right") for e in other.edges if e.kind != "fold")
    words = {"cut 1 on the fold": "cut 1, right side up"}
    return replace(
        piece,
        sewing=_doubled(piece.sewing, p, q),
        cutting=_doubled(piece.cutting, p, q),
        edges=edges + more,
        notches=piece.notches + tuple(n for n in other.notches if not _on(n.at, p, q)),
        drills=piece.drills + tuple(d for d in other.drills if not _on(d.at, p, q)),
        darts=piece.darts + other.darts,
        lines=piece.lines + other.lines,
        points=piece.points + tuple(m for m in other.points if not _on(m.at, p, q)),
        unsewn=piece.unsewn + other.unsewn,
        fold=None,
        cut="single",
        label=tuple(words.get(line, line) for line in piece.label),
    )


def _sided(edge: FinishedEdge, wearer: Wearer) -> FinishedEdge:
    return replace(edge, key=f"{wearer} {edge.key}", wearer=wearer)


def _doubled(line: Path, p: Point, q: Point) -> Path:
    """A closed line with what lies on the axis taken out, and its image put in its place."""
    on_axis = [all(_on(c.at(t), p, q) for t in (0.0, 0.5, 1.0)) for c in line]
    n = len(line)
    first = next(i for i in range(n) if on_axis[i - 1] and not on_axis[i])
    half: list[Curve] = [line[(first + k) % n] for k in range(n) if not on_axis[(first + k) % n]]
    image = reversed_path(path.moved(half, reflecting(p, q)))
    return _joined(half, image)


def _joined(half: Sequence[Curve], image: Sequence[Curve]) -> Path:
    """Both halves end to end, their ends on the axis made one point each."""
    first, *rest = image
    out = [*half, replace(first, a=half[-1].end), *rest]
    out[-1] = replace(out[-1], d=out[0].start)
    return tuple(out)


def _on(z: Point, p: Point, q: Point) -> bool:
    return abs(((z - p) * (q - p).conjugate()).imag) < _ON_FOLD_MM * abs(q - p)
