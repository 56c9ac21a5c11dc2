"""Runs: spans that follow each other, found on a piece, parted, walked backwards, put into an outline."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span
from cutonce.geometry.path import Path, starting_at
from cutonce.geometry.tolerance import SAME_POINT_MM

Run = tuple[Span, ...]


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

    Joints are made exact; an outline that would not close is a bug of the caller and raises ValueError.
    """
    first = {id(old[0]): new for old, new in changes}
    n = len(piece.outline)
    inner = {id(s) for old, _ in changes for s in old[1:]}
    begin = next(i for i in range(n) if id(piece.outline[i]) not in inner)
    out: list[Span] = []
    for k in range(n):
        span = piece.outline[(begin + k) % n]
        if id(span) in first:
            out.extend(first[id(span)])
        elif id(span) not in inner:
            out.append(span)
    return replace(piece, outline=closed(out))


def closed(spans: Sequence[Span]) -> Run:
    """Spans as a closed outline, ends made exact. A gap is a bug of the caller and raises ValueError."""
    out = joined(spans)
    for i, span in enumerate(out):
        if span.curve.start != out[i - 1].curve.end:
            raise ValueError(f"the outline is broken at the {span.label.key}")
    return out


def joined(spans: Sequence[Span]) -> Run:
    """Spans round an outline with ends that differ by rounding made one point; gaps are left as they are."""
    curves = [starting_at(s.curve, spans[i - 1].curve.end) for i, s in enumerate(spans)]
    return tuple(s if c is s.curve else replace(s, curve=c) for s, c in zip(spans, curves, strict=True))
