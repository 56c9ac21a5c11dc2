"""Corners of a piece: the angle between two edges, on the side of the cloth."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span


def corner(one: Span, two: Span) -> float:
    """Angle in radians within the piece where span one ends and two begins: pi where they run on smoothly."""
    return math.pi - cmath.phase(two.curve.tangent(0) / one.curve.tangent(1))


def end_corners(piece: Piece, labels: Sequence[Label]) -> tuple[tuple[Label, float], tuple[Label, float]]:
    """For a run of edges in outline order: the edge beside each end, and the corner's angle in radians."""
    outline = piece.outline
    first = outline.index(piece.edge(labels[0])[0])
    after = (outline.index(piece.edge(labels[-1])[-1]) + 1) % len(outline)
    return (
        (outline[first - 1].label, corner(outline[first - 1], outline[first])),
        (outline[after].label, corner(outline[after - 1], outline[after])),
    )


def corner_words(piece: Piece, labels: Sequence[Label]) -> str:
    """ "90.0 degrees to the shoulder and 88.5 degrees to the centre front"."""
    (before, one), (after, two) = end_corners(piece, labels)
    first = f"{math.degrees(one):.1f} degrees to the {before.key}"
    return f"{first} and {math.degrees(two):.1f} degrees to the {after.key}"
