"""Carrying what lies inside a piece along with its parts."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from cutonce.draft.piece import DoubleDart, Grain, InnerLine, Piece
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Curve
from cutonce.geometry.meet import meetings
from cutonce.reshape.recombine import Part, Recombined


def carried(piece: Piece, done: Recombined, grain_part: Part | None = None) -> Piece:
    """The piece with the new outline, and points, lines, double darts and grain moved with their parts.

    Lines that run across a slit are cut there. The grain keeps to `grain_part`, else to the part that did
    not move. A double dart across a slit raises CannotApply.
    """
    keep = grain_part or done.parts[0]
    home = done.part_at(piece.grain.at)
    return replace(
        piece,
        outline=done.outline,
        points=tuple(replace(p, at=done.motion_at(p.at)(p.at)) for p in piece.points),
        lines=tuple(_carried_line(x, done) for x in piece.lines),
        double_darts=tuple(_carried_dart(piece, d, done) for d in piece.double_darts),
        grain=Grain(home.motion(piece.grain.at), keep.motion.of_vector(piece.grain.along), piece.grain.kind),
    )


def _carried_line(line: InnerLine, done: Recombined) -> InnerLine:
    if len(done.parts) == 1:
        return line
    out: list[Curve] = []
    for curve in line.curves:
        out.extend(c.moved(done.motion_at(c.at(0.5))) for c in _cut_at_parts(curve, done))
    return replace(line, curves=tuple(out))


def _cut_at_parts(curve: Curve, done: Recombined) -> list[Curve]:
    """The curve cut where it crosses from one part into another."""
    at = {t for cut in done.cuts for t, _ in meetings(curve, cut)}
    stops = [0.0, *sorted(t for t in at if 1e-6 < t < 1 - 1e-6), 1.0]
    return [curve.part(a, b) for a, b in pairwise(stops) if b - a > 1e-9]


def _carried_dart(piece: Piece, dart: DoubleDart, done: Recombined) -> DoubleDart:
    parts = {id(done.part_at(z)) for z in dart.corners}
    if len(parts) > 1:
        raise CannotApply(
            "double-dart-in-the-way",
            piece.key,
            f"the {dart.name} lies across the cut",
            "take the dart out first",
        )
    return dart.moved(done.motion_at(dart.upper))
