"""Turning a part about a pivot: what closes on one side of the pivot opens on the other."""

from __future__ import annotations

import cmath
from dataclasses import replace

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import CENTRES, GAPE_CLOSED, Gone, Label, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.carried_inside import carried
from cutonce.reshape.nodes import Material, node_at, split_outline
from cutonce.reshape.places import Spot
from cutonce.reshape.recombine import End, Recombined, Slit, recombine
from cutonce.reshape.slash_line import refuse_outside
from cutonce.reshape.slash_motions import about

_AT_MOUTH_MM = 1e-3
"""Nobody can open a dart so near to where it was."""


def move_dart(
    piece: Piece, dart: Dart, to: Spot, angle: float, new: Dart | None, step: str, name: str = ""
) -> tuple[Piece, tuple[Gone, ...], Recombined]:
    """Close `angle` radians of a dart and open them at a place on an edge.

    The opening becomes the dart `new`, with legs to the same pivot, or part of the edge where `new` is None.
    `name` is that of its material, which must differ where one step opens several.
    The part that holds the middle of the outline's longest span outside the turn stays; all is rigid.
    Fails with CannotApply when the angle is more than the dart has (dart-too-small) or the cut from the place
    to the pivot leaves the piece (slash-leaves, dart-in-the-way).
    """
    has = piece.dart_angle(dart)
    if not 0 < angle <= has + 1e-12:
        raise CannotApply(
            "dart-too-small", piece.key, f"the {dart.name} has {has:.4f} rad, asked {angle:.4f} rad"
        )
    whole = angle > has - 1e-12
    outline = split_outline(piece.outline, [to.on_cloth])
    pivot = piece.pivot(dart)
    first = first_leg(outline, dart)
    q = End(first, first + 2, dart.label) if whole else End(first + 1, first + 1, dart.label)
    p_node = node_at(outline, to.on_cloth)
    edge = to.edge
    cut = f"the cut from the {edge.key} to the point of the {dart.name}"
    refuse_outside(piece, outline, cut, outline[p_node].curve.start, pivot, dart)
    opened = new.label if new else edge
    p = End(p_node, p_node, opened, pivot if new else None)
    slit = Slit(name or f"{dart.name} to {edge.key}", p, q, about(pivot, angle), (pivot,))
    done = recombine(outline, [slit], still_span(outline, [slit]), step)
    darts = tuple(d for d in piece.darts if not (whole and d == dart))
    moved = carried(piece, done)
    gone = tombstones(piece, done, step, f"closed the {dart.name}")
    return replace(moved, darts=darts + ((new,) if new else ())), gone, done


def fold_into(
    piece: Piece, dart: Dart, other: Dart, angle: float, step: str
) -> tuple[Piece, tuple[Gone, ...]]:
    """Close `angle` radians of a dart into another dart that has the same pivot, which grows by as much."""
    pivot = piece.pivot(dart)
    if other == dart or abs(piece.pivot(other) - pivot) > SAME_POINT_MM:
        raise CannotApply(
            "other-pivot", piece.key, f"the {other.name} does not turn about the pivot of the {dart.name}"
        )
    whole = angle > piece.dart_angle(dart) - 1e-12
    outline = piece.outline
    first, target = first_leg(outline, dart), first_leg(outline, other) + 1
    q = End(first, first + 2, dart.label) if whole else End(first + 1, first + 1, dart.label)
    slit = Slit(f"{dart.name} to {other.name}", End(target, target, other.label), q, about(pivot, angle))
    done = recombine(outline, [slit], still_span(outline, [slit]), step)
    darts = tuple(d for d in piece.darts if not (whole and d == dart))
    gone = tombstones(piece, done, step, f"closed the {dart.name}")
    return replace(carried(piece, done), darts=darts), gone


def close_wedge(
    piece: Piece, edges: tuple[Material, Material], pivot: Point, outlet: Dart | Spot, label: Label, step: str
) -> tuple[Piece, tuple[Gone, ...], Recombined]:
    """Take out the wedge between two places on an edge (in outline order) to nothing at the pivot.

    The same angle opens at the outlet: a dart that pivots there, or a place on another edge, where it becomes
    part of that edge. The two cut lines may differ in length; the edge then has a jog, to be blended.
    """
    places = [*edges] + ([outlet.on_cloth] if isinstance(outlet, Spot) else [])
    outline = split_outline(piece.outline, places)
    first, last = node_at(outline, edges[0]), node_at(outline, edges[1])
    p1, p2 = outline[first].curve.start, outline[last].curve.start
    turned = (p1 - pivot) / (p2 - pivot)
    angle = -abs(cmath.phase(turned))
    if isinstance(outlet, Dart):
        node = first_leg(outline, outlet) + 1
        if abs(outline[node % len(outline)].curve.start - pivot) > SAME_POINT_MM:
            raise CannotApply("other-pivot", piece.key, f"the {outlet.name} does not pivot at that point")
        q = End(node, node, outlet.label)
    else:
        node = node_at(outline, outlet.on_cloth)
        q = End(node, node, outlet.edge)
    slit = Slit("gape", End(first, last, label), q, about(pivot, angle), (pivot,))
    done = recombine(outline, [slit], still_span(outline, [slit]), step)
    return carried(piece, done), tombstones(piece, done, step, GAPE_CLOSED), done


def at_mouth(piece: Piece, dart: Dart, point: Point) -> bool:
    """Is the point an end of the dart's mouth, so that nothing can be opened there but the dart itself?"""
    return min(abs(point - z) for z in piece.mouth(dart)) < _AT_MOUTH_MM


def first_leg(outline: tuple[Span, ...], dart: Dart) -> int:
    n = len(outline)
    for i in range(n):
        if outline[i].label == dart.label and outline[(i + 1) % n].label == dart.label:
            return i
    raise CannotApply("no-dart", "", f"the {dart.name} no longer opens on an edge")


def still_span(outline: tuple[Span, ...], slits: list[Slit]) -> int:
    """A span that may stay: the longest of the centre edges, else the longest that no slit takes away."""
    n = len(outline)
    taken = {
        k % n for s in slits for e in (s.p, s.q) for k in range(e.first, e.first + (e.last - e.first) % n)
    }
    free = [i for i in range(n) if i not in taken and outline[i].label.role != "dart leg"]
    centre = [i for i in free if outline[i].label.role in CENTRES]
    return max(centre or free, key=lambda i: outline[i].length)


def tombstones(piece: Piece, done: Recombined, step: str, reason: str) -> tuple[Gone, ...]:
    return tuple(Gone(piece.key, s.label, s.origin, s.lo, s.hi, step, reason) for s in done.removed)


def left_unsewn(piece: Piece, dart: Dart, step: str) -> tuple[Piece, tuple[Gone, ...]]:
    """The piece with a dart's mouth bridged straight: its legs go, the opening becomes part of its edge.

    Raises CannotApply where the dart opens in the corner of two edges (dart-at-corner).
    """
    outline = piece.outline
    n = len(outline)
    first = first_leg(outline, dart)
    one, two = outline[first], outline[(first + 1) % n]
    before, after = outline[first - 1].label, outline[(first + 2) % n].label
    if before != after:
        raise CannotApply(
            "dart-at-corner",
            piece.key,
            f"the {dart.name} opens where {before.key} and {after.key} meet",
            "move it to one edge first",
        )
    across = Line(one.curve.start, two.curve.end)
    bridge = born(across, before, step, name=f"{dart.name} opening")
    new = tuple(bridge if s is one else s for s in outline if s is not two)
    gone = tuple(
        Gone(piece.key, s.label, s.origin, s.lo, s.hi, step, f"left the {dart.name} unsewn")
        for s in (one, two)
    )
    return replace(piece, outline=new, darts=tuple(d for d in piece.darts if d != dart)), gone
