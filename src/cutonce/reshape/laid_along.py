"""Laying the cloth of an edge along a new line: the spans keep their material, the line gives their shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.span import Span
from cutonce.geometry import path
from cutonce.geometry.curve import Curve
from cutonce.geometry.fit import between
from cutonce.geometry.motion import Point
from cutonce.geometry.path import ending_at, starting_at
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.runs import Run, curves_of


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
    return (*out[:-1], replace(out[-1], curve=ending_at(out[-1].curve, line[-1].end)))


def end_moved(spans: Sequence[Span], end: Point, arriving: complex, reach: float, step: str) -> Run:
    """A run whose last `reach` mm are redrawn so that it ends at `end`, in the direction `arriving`."""
    line = curves_of(spans)
    size = path.length(line)
    kept = path.part(line, 0.0, size - reach) if reach < size - SAME_POINT_MM else ()
    start = kept[-1].end if kept else line[0].start
    leaving = kept[-1].tangent(1) if kept else line[0].tangent(0)
    return relaid(spans, (*kept, between(start, leaving, end, arriving)), step)
