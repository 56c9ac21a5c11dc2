"""A stretch of an edge about a place, and the stretch that is sewn to it."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.partners import across, on_edge, seam_at
from cutonce.reshape.places import Chain, Spot, neighbours

LEAST_LEFT_MM = 1.0
"""Of the edge at least so much is left at either end of a stretch: less cannot be sewn."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of an edge of a piece from `start` to `end` in outline order, `middle` within it.

    `before` and `after` are the mm of the edge that lie on either side, up to its end or the next dart;
    `beside` what comes there.
    """

    piece: str
    start: Spot
    middle: Spot
    end: Spot
    before: float
    after: float
    beside: tuple[Label, Label]


def stretch_about(draft: Draft, spot: Spot, back: float, on: float, what: str) -> Stretch:
    """The stretch from `back` mm before a place on an edge to `on` mm after it, in outline order.

    Raises CannotApply where it runs off the edge's end (past-end) or over a dart's mouth (crosses-dart);
    `what` names the thing that is to lie there.
    """
    piece = draft.piece(spot.piece)
    run = _run(piece, spot)
    arc = run.arc_of(*spot.on_cloth)
    if arc is None:
        raise ValueError("the place is not on its own edge")
    if arc - back < LEAST_LEFT_MM:
        raise _too_near(piece, run, arc, back, False, what)
    if arc + on > run.length - LEAST_LEFT_MM:
        raise _too_near(piece, run, run.length - arc, on, True, what)
    return Stretch(
        piece.key,
        run.spot(arc - back),
        run.spot(arc),
        run.spot(arc + on),
        arc - back,
        run.length - arc - on,
        neighbours(run),
    )


def opposite(draft: Draft, stretch: Stretch, what: str) -> tuple[Seam | None, Stretch | None]:
    """The seam in which a stretch lies and the stretch sewn to it: its ends and middle meet when sewn.

    (None, None) for an edge sewn to nothing, (seam, None) for one sewn to its own mirror image. Raises
    CannotApply where the stretch is sewn to more than one edge (seam-divided), or a dart opens in the
    partner (crosses-dart).
    """
    piece = draft.piece(stretch.piece)
    found = [seam_at(draft, piece.key, label) for label in labels_within(piece, stretch)]
    seams = {f[0].name for f in found if f is not None}
    first = found[0]
    if first is None and not seams:
        return None, None
    if first is None or None in found or len(seams) > 1:
        raise CannotApply(
            "seam-divided",
            piece.key,
            f"the {what} would lie across the end of a seam: the edge is sewn to more than one there",
            "make it smaller or move it",
        )
    seam, mine, other = first
    if mine == other:
        return seam, None
    end, middle, start = (_sewn_to(draft, s) for s in (stretch.start, stretch.middle, stretch.end))
    run = _run(draft.piece(other.piece), middle)
    arcs = [run.arc_of(*s.on_cloth) for s in (start, middle, end)]
    if arcs[0] is None or arcs[2] is None or not arcs[0] < arcs[2]:
        raise CannotApply(
            "crosses-dart",
            other.piece,
            f"a dart opens in the partner's {middle.label.key if middle.label else 'edge'} where the "
            f"{what} would lie",
            "move the dart first, or the place",
        )
    after = run.length - arcs[2]
    return seam, Stretch(run.piece.key, start, middle, end, arcs[0], after, neighbours(run))


def labels_within(piece: Piece, stretch: Stretch) -> tuple[Label, ...]:
    """Labels of the edges that a stretch lies on, in outline order."""
    return tuple(dict.fromkeys(s.label for s in spans_within(piece, stretch)[0]))


def spans_within(piece: Piece, stretch: Stretch) -> tuple[tuple[Span, ...], tuple[complex, complex]]:
    """The spans of a stretch, and the outline's unit direction before its start and after its end."""
    outline = split_outline(piece.outline, [stretch.start.on_cloth, stretch.end.on_cloth])
    first, last = node_at(outline, stretch.start.on_cloth), node_at(outline, stretch.end.on_cloth)
    n = len(outline)
    spans = tuple(outline[(first + k) % n] for k in range((last - first) % n))
    return spans, (outline[first - 1].curve.tangent(1), outline[last].curve.tangent(0))


def _sewn_to(draft: Draft, spot: Spot) -> Spot:
    if spot.label is None:
        raise ValueError("not on an edge")
    piece = draft.piece(spot.piece)
    arc = Chain(piece, piece.edge(spot.label)).arc_of(*spot.on_cloth)
    there = None if arc is None else across(draft, spot.piece, spot.label, arc)
    if there is None:
        raise ValueError("not in a seam")
    return on_edge(draft, there.piece, there.label, there.arc)


def _run(piece: Piece, spot: Spot) -> Chain:
    """The spans of an edge about a place, up to the next dart; left and right halves are one."""
    outline = piece.outline
    n = len(outline)
    origin, material = spot.on_cloth
    holds = [i for i, s in enumerate(outline) if s.origin == origin and s.holds(material)]
    at = next((i for i in holds if outline[i].label == spot.label), holds[0])

    def joined(a: Span, b: Span) -> bool:
        return a.label.same_on_either_side(b.label)

    first = last = at
    while joined(outline[first - 1], outline[at]) and (at - first) < n - 1:
        first -= 1
    while joined(outline[(last + 1) % n], outline[at]) and (last - first) < n - 1:
        last += 1
    return Chain(piece, tuple(outline[k % n] for k in range(first, last + 1)))


def _too_near(piece: Piece, run: Chain, there: float, needed: float, at_end: bool, what: str) -> CannotApply:
    beyond = neighbours(run)[at_end]
    edge, room = run.spans[0].label.key, f"{there:.1f} mm from it, where it needs {needed:.1f} mm"
    if beyond.role == "dart leg":
        return CannotApply(
            "crosses-dart",
            piece.key,
            f"the {what} would lie across the {beyond.key}, which opens on the {edge}: its middle is {room}",
            "move the dart first, or the place",
        )
    return CannotApply(
        "past-end",
        piece.key,
        f"the {what} would run off the end of the {edge} at the {beyond.key}: its middle is {room}",
        "make it smaller or move it",
    )
