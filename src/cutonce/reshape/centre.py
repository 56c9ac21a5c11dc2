"""The centre stays where darts are closed: the warp runs along it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from cutonce.draft.piece import Piece
from cutonce.draft.span import CENTRES, Span
from cutonce.geometry.motion import STILL, Motion, laying
from cutonce.geometry.tolerance import SAME_POINT_MM


def back_to_centre(outline: Sequence[Span], whole: Piece) -> Motion:
    """The motion that lays an outline's centre where it was on the piece that it was cut from.

    The centre is a centre edge, else the place where an edge of the wearer's left meets that of the right.
    STILL where there is none, or where it has not moved.
    """
    span = _at_centre(outline)
    was = None if span is None else next((s for s in whole.outline if _is_part(span, s)), None)
    if span is None or was is None:
        return STILL
    start, end = (was.curve.at(was.curve.at_length(was.arc_at(m))) for m in (span.lo, span.hi))
    if max(abs(span.curve.start - start), abs(span.curve.end - end)) < SAME_POINT_MM:
        return STILL
    return laying(span.curve.start, span.curve.end, start, end)


def _at_centre(outline: Sequence[Span]) -> Span | None:
    edges = [s for s in outline if s.label.role in CENTRES]
    if edges:
        return max(edges, key=lambda s: s.length)
    for one, two in pairwise((*outline, outline[0])):
        if one.label.role == two.label.role and {one.label.wearer, two.label.wearer} == {"left", "right"}:
            return one
    return None


def _is_part(span: Span, of: Span) -> bool:
    return of.origin == span.origin and of.holds(span.lo) and of.holds(span.hi)
