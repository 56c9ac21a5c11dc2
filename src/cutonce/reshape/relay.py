"""Laying the cloth of an edge along a new line: the spans keep their material, the line gives their shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span
from cutonce.geometry import path
from cutonce.geometry.curve import Curve
from cutonce.geometry.fit import between
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.recombine import starting_at

Run = tuple[Span, ...]


def relaid(spans: Sequence[Span], line: Sequence[Curve], step: str) -> Run:
    """The material of the spans laid along a line in proportion to their lengths.

    A span comes out as one span for each curve of its part of the line; marks keep their place on the cloth.
    Where the line is as long as the spans were, every place keeps its arc length.
    """
    total, goal = sum(s.length for s in spans), path.length(line)
    out: list[Span] = []
    at = 0.0
    for span in spans:
        size = span.length * goal / total
        curves = path.part(line, at, at + size)
        at += size
        whole = path.length(curves)
        done = 0.0
        for curve in curves:
            lo = span.lo + (span.hi - span.lo) * done / whole
            done += curve.length
            hi = span.lo + (span.hi - span.lo) * done / whole
            joined = starting_at(curve, out[-1].curve.end) if out else starting_at(curve, line[0].start)
            out.append(
                replace(span, curve=joined, lo=lo, hi=hi, made=span.made if joined == span.curve else step)
            )
    return (*out[:-1], replace(out[-1], curve=_ending_at(out[-1].curve, line[-1].end)))


def parted(spans: Sequence[Span], arcs: Sequence[float]) -> tuple[Run, ...]:
    """A run divided at arc lengths from its start, rising: one part more than arcs, some perhaps empty."""
    parts: list[list[Span]] = [[]]
    before = 0.0
    cuts = list(arcs)
    for whole in spans:
        rest, after = whole, before + whole.length
        while cuts and cuts[0] < after - SAME_POINT_MM:
            at = cuts.pop(0) - (after - rest.length)
            if at > SAME_POINT_MM:
                near, rest = rest.split(at)
                parts[-1].append(near)
            parts.append([])
        parts[-1].append(rest)
        before = after
    parts += [[] for _ in cuts]
    return tuple(tuple(part) for part in parts)


def turned(spans: Sequence[Span]) -> Run:
    """The same run walked the other way."""
    return tuple(s.reversed() for s in reversed(spans))


def curves_of(spans: Sequence[Span]) -> Path:
    return tuple(s.curve for s in spans)


def with_runs(piece: Piece, changes: Sequence[tuple[Sequence[Span], Sequence[Span]]]) -> Piece:
    """The piece with runs of its outline replaced: contiguous, found by identity, in outline order.

    Joints are made exact; an outline left open is a bug of the caller and raises ValueError.
    """
    first = {id(old[0]): (len(old), new) for old, new in changes}
    n = len(piece.outline)
    inner = {id(s) for old, _ in changes for s in old[1:]}
    begin = next(i for i in range(n) if id(piece.outline[i]) not in inner)
    out: list[Span] = []
    for k in range(n):
        span = piece.outline[(begin + k) % n]
        if id(span) in first:
            out.extend(first[id(span)][1])
        elif id(span) not in inner:
            out.append(span)
    joined = [replace(s, curve=starting_at(s.curve, out[i - 1].curve.end)) for i, s in enumerate(out)]
    for i, span in enumerate(joined):
        if abs(span.curve.start - joined[i - 1].curve.end) > SAME_POINT_MM:
            raise ValueError(f"the outline is broken at the {span.label.key}")
    return replace(piece, outline=tuple(joined))


def runs_of(piece: Piece, label: Label) -> tuple[Run, ...]:
    """An edge as its runs between darts, in outline order."""
    outline = piece.outline
    n = len(outline)
    at = {id(s): i for i, s in enumerate(outline)}
    runs: list[list[Span]] = []
    for span in piece.edge(label):
        if runs and (at[id(runs[-1][-1])] + 1) % n == at[id(span)]:
            runs[-1].append(span)
        else:
            runs.append([span])
    return tuple(tuple(run) for run in runs)


def end_moved(spans: Sequence[Span], end: Point, arriving: complex, reach: float, step: str) -> Run:
    """A run whose last `reach` mm are redrawn so that it ends at `end`, in the direction `arriving`."""
    line = curves_of(spans)
    size = path.length(line)
    kept = path.part(line, 0.0, size - reach) if reach < size - SAME_POINT_MM else ()
    start = kept[-1].end if kept else line[0].start
    leaving = kept[-1].tangent(1) if kept else line[0].tangent(0)
    return relaid(spans, (*kept, between(start, leaving, end, arriving)), step)


def _ending_at(curve: Curve, p: Point) -> Curve:
    return replace(curve, d=p) if curve.d != p and abs(curve.d - p) < SAME_POINT_MM else curve
