"""A slash is a straight line inside the piece: it may touch the outline at its two ends only."""

from __future__ import annotations

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Span
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line, apart
from cutonce.geometry.meet import meetings, nearest
from cutonce.geometry.motion import Point
from cutonce.geometry.path import flattened
from cutonce.geometry.region import inside
from cutonce.geometry.tolerance import FLATTEN_MM

_AT_AN_END_MM = 1e-3
"""A meeting this near to an end is that end itself: places are split to a millionth, curves met to less."""


def refuse_outside(
    piece: Piece, outline: tuple[Span, ...], name: str, p: Point, q: Point, into: Dart | None = None
) -> None:
    """Raise CannotApply unless the straight line from p to q, both on the outline, runs inside the piece.

    `into` is the dart that the slash ends in, at its pivot q.
    """
    line = Line(p, q)
    low_x, low_y, high_x, high_y = line.bounds
    box = low_x - _AT_AN_END_MM, low_y - _AT_AN_END_MM, high_x + _AT_AN_END_MM, high_y + _AT_AN_END_MM
    for span in outline:
        if (into is not None and span.label == into.label) or apart(span.curve.bounds, box):
            continue
        for t, _ in meetings(line, span.curve):
            at = line.at(t)
            if min(abs(at - p), abs(at - q)) > _AT_AN_END_MM:
                raise _refusal(piece, name, span)
    middle = line.at(0.5)
    if nearest([s.curve for s in outline], middle)[1] < FLATTEN_MM:
        raise CannotApply(
            "slash-leaves", piece.key, f"{name} runs along the outline", "end it on another edge"
        )
    if not inside(flattened([s.curve for s in outline]), middle):
        raise CannotApply(
            "slash-leaves",
            piece.key,
            f"{name} runs outside the piece",
            "move one of its ends, or use two slashes",
        )


def _refusal(piece: Piece, name: str, span: Span) -> CannotApply:
    if span.label.role == "dart leg":
        dart = span.label.key
        return CannotApply(
            "dart-in-the-way",
            piece.key,
            f"{name} crosses the {dart}",
            "end it in the dart, which then closes into it, or move the dart first",
        )
    return CannotApply(
        "slash-leaves",
        piece.key,
        f"{name} leaves the piece at its {span.label.key}",
        "move one of its ends, or use two slashes",
    )
