"""Marks of a typed piece: those asked for, those where a landmark line ends, and those at the centre."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from cutonce.blocks.outline_curves import named
from cutonce.blocks.outline_model import OutlinePiece
from cutonce.draft.piece import Piece
from cutonce.draft.span import CENTRES, EdgeMark, Label, Origin, Span
from cutonce.errors import BadInput, quoted
from cutonce.geometry.meet import nearest
from cutonce.geometry.motion import Point

ON_EDGE_MM = 1.0
"""A typed point this near an edge lies on it."""


def with_marks(
    piece: Piece, shape: OutlinePiece, points: Mapping[str, Point], where: str, is_half: bool
) -> Piece:
    """The piece with its edge marks; a name stands once on an edge, a typed mark before a made one.

    `points` are the numbered points where the piece now lies. At a corner both edges are marked.
    Raises BadInput (not-on-edge, unknown-point).
    """
    marks: dict[tuple[str, Origin], EdgeMark] = {}
    made = (*_typed(piece, shape, points, where), *_at_lines(piece), *(_at_centre(piece) if is_half else ()))
    for mark in made:
        marks.setdefault((mark.name, mark.origin), mark)
    return replace(piece, marks=tuple(marks.values()))


def _typed(piece: Piece, shape: OutlinePiece, points: Mapping[str, Point], where: str) -> Iterator[EdgeMark]:
    for mark in shape.marks:
        at = f"{where}, mark {quoted(mark.name)}"
        point = named(points, mark.at, at)
        near = _on_outline(piece, point)
        on = [(span, material) for span, material, off in near if off <= ON_EDGE_MM]
        if not on:
            span, _, off = near[0]
            raise BadInput(
                "not-on-edge",
                at,
                f"point {mark.at} lies {off:.1f} mm from the nearest edge, {quoted(span.label.key)}",
                f"a mark's point may be off by {ON_EDGE_MM:g} mm",
            )
        for span, material in on:
            yield EdgeMark(mark.name, span.origin, material, mark.printed)


def _at_lines(piece: Piece) -> Iterator[EdgeMark]:
    for line in piece.lines:
        for point in (line.curves[0].start, line.curves[-1].end):
            for span, material, off in _on_outline(piece, point):
                if off <= ON_EDGE_MM:
                    yield EdgeMark(line.name, span.origin, material)


def _at_centre(piece: Piece) -> Iterator[EdgeMark]:
    """On the two edges beside a centre edge, at the end that meets it: the centre's name."""
    spans = piece.outline
    for one, two in zip(spans, spans[1:] + spans[:1], strict=True):
        if one.label == two.label:
            continue
        if two.label.role in CENTRES:
            yield EdgeMark(two.label.name, one.origin, one.hi)
        if one.label.role in CENTRES:
            yield EdgeMark(one.label.name, two.origin, two.lo)


def _on_outline(piece: Piece, point: Point) -> list[tuple[Span, float, float]]:
    """For each edge its span nearest to the point, the material place on it, and how far; nearest first."""
    best: dict[Label, tuple[Span, float, float]] = {}
    for span in piece.outline:
        if span.label.role == "dart leg":
            continue
        arc, off = nearest((span.curve,), point)
        if span.label not in best or off < best[span.label][2]:
            best[span.label] = (span, span.material_at(arc), off)
    return sorted(best.values(), key=lambda found: found[2])
