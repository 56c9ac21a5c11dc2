"""Slash and spread: any number of slashes in one piece, each with its own kind and amount, opened at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Gone, Label, Span
from cutonce.errors import CannotApply
from cutonce.geometry.motion import Point
from cutonce.reshape.carry import carried
from cutonce.reshape.darts import first_leg, still_span, tombstones
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.opening import closing_dart, trapezoid
from cutonce.reshape.places import Spot
from cutonce.reshape.recombine import End, Recombined, Slit, recombine


@dataclass(frozen=True, slots=True)
class Slash:
    """A straight slash from `start` on an edge to `end`: another edge, or the mouth of a dart, which then
    closes into it. It opens `a` mm at its start and `b` mm at its end; b = 0 is hinged, a = b through and
    equal."""

    name: str
    start: Spot
    end: Spot | Dart
    a: float
    b: float = 0.0


@dataclass(frozen=True, slots=True)
class Spread:
    """`piece` after; `gone` tombstones of darts closed; `done` the parts with their turns."""

    piece: Piece
    gone: tuple[Gone, ...]
    done: Recombined


def spread(
    piece: Piece, slashes: Sequence[Slash], step: str, still: Point | None = None, grain: Point | None = None
) -> Spread:
    """Open all slashes. The part in which the point `still` lies stays where it is (default: the one with the
    centre edge, else the longest edge); the grain follows the part in which `grain` lies (default: the still
    part). Openings become part of the edges they open in. New area = old area + openings.
    """
    places = [s.start.on_cloth for s in slashes]
    places += [s.end.on_cloth for s in slashes if isinstance(s.end, Spot)]
    outline = split_outline(piece.outline, places)
    slits = [_slit(piece, outline, s) for s in slashes]
    done = recombine(outline, slits, still_span(outline, slits), step)
    grain_part = done.part_at(grain) if grain is not None else None
    if grain_part is None and still is not None:
        grain_part = done.part_at(still)
    new = carried(piece, done, step, grain_part)
    if still is not None:
        new = new.moved(done.motion_at(still).inverse())
    closed = {s.end for s in slashes if isinstance(s.end, Dart)}
    new = replace(new, darts=tuple(d for d in new.darts if d not in closed))
    return Spread(new, tombstones(piece, done, step, "closed it into a spread"), done)


def _slit(piece: Piece, outline: tuple[Span, ...], slash: Slash) -> Slit:
    p_node = node_at(outline, slash.start.on_cloth)
    p = End(p_node, p_node, _label(slash.start))
    start = outline[p_node].curve.start
    if isinstance(slash.end, Dart):
        leg = first_leg(outline, slash.end)
        pivot = outline[leg].curve.end
        mouth = (outline[leg].curve.start, outline[(leg + 1) % len(outline)].curve.end)
        edge = outline[leg - 1].label
        motion = closing_dart(slash.name, start, pivot, mouth, slash.a, slash.b)
        return Slit(slash.name, p, End(leg, leg + 2, edge), motion, (pivot,))
    q_node = node_at(outline, slash.end.on_cloth)
    if p_node == q_node:
        raise CannotApply("slash-misses", piece.key, f"{slash.name} starts and ends at one place")
    motion = trapezoid(slash.name, start, outline[q_node].curve.start, slash.a, slash.b)
    return Slit(slash.name, p, End(q_node, q_node, _label(slash.end)), motion)


def _label(spot: Spot) -> Label:
    if spot.label is None:
        raise CannotApply("not-on-edge", spot.piece, "a slash starts and ends on an edge")
    return spot.label
