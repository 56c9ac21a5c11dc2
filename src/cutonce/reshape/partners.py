"""Across a seam: the place on the partner that is sewn to a place, and the partner laid beside the piece."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.geometry.motion import Motion
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.places import Chain, Spot


@dataclass(frozen=True, slots=True)
class Across:
    """A place on the partner: piece key, edge, and mm from that edge's first end in outline order."""

    seam: Seam
    piece: str
    label: Label
    arc: float


def seam_at(draft: Draft, piece: str, label: Label) -> tuple[Seam, Side, Side] | None:
    """The seam of an edge with its own side first, or None."""
    for seam in draft.seams:
        sides = seam.seen_from(piece, label)
        if sides is not None:
            return seam, *sides
    return None


def across(draft: Draft, piece: str, label: Label, arc: float) -> Across | None:
    """The place that is sewn to the one `arc` mm along an edge; None where the edge has no partner.

    Partners are walked in opposite directions, at the same share of their lengths.
    """
    found = seam_at(draft, piece, label)
    if found is None:
        return None
    seam, mine, other = found
    before = sum(draft.piece(piece).edge_length(e) for e in mine.labels[: mine.labels.index(label)])
    left = draft.side_length(other) * (1 - (before + arc) / draft.side_length(mine))
    for edge in other.labels:
        size = draft.piece(other.piece).edge_length(edge)
        if left <= size + SAME_POINT_MM or edge == other.labels[-1]:
            return Across(seam, other.piece, edge, min(max(left, 0.0), size))
        left -= size
    return None


def on_edge(draft: Draft, piece: str, label: Label, arc: float) -> Spot:
    """The spot `arc` mm along one edge."""
    whole = draft.piece(piece)
    return Chain(whole, whole.edge(label)).spot(arc)


def tangent_on(draft: Draft, piece: str, label: Label, arc: float) -> complex:
    """Unit direction of the outline `arc` mm along an edge; at a corner within it, of the stretch before."""
    before = 0.0
    spans = draft.piece(piece).edge(label)
    for span in spans:
        if arc <= before + span.length + SAME_POINT_MM or span is spans[-1]:
            return span.curve.tangent(span.curve.at_length(min(max(arc - before, 0.0), span.length)))
        before += span.length
    raise CannotApply("no-edge", piece, f"the {label.key} is empty")


def onward_from(draft: Draft, spot: Spot) -> complex:
    """The direction in which the partner's line would run on across the seam into the spot's piece.

    The partner is laid with its seam against this one's; where another edge of it begins at the place sewn to
    the spot, that edge's direction is carried on. Raises CannotApply where the edge has no partner or no edge
    of the partner begins there.
    """
    for label, arc in _edges_at(draft, spot):
        there = across(draft, spot.piece, label, arc)
        if there is not None and (there.piece, there.label) != (spot.piece, label):
            return -laid_beside(draft, spot.piece, label, arc).of_vector(_leaving_seam(draft, there))
    name = spot.label.key if spot.label else "place"
    raise CannotApply("no-partner", spot.piece, f"the {name} is sewn to no other piece", "say 'square'")


def _edges_at(draft: Draft, spot: Spot) -> list[tuple[Label, float]]:
    """The spot's edge and, at the end of a divided one, the next part of it; with mm along each."""
    piece = draft.piece(spot.piece)
    out: list[tuple[Label, float]] = []
    for label in piece.labels:
        if spot.label is None or not label.same_edge(spot.label):
            continue
        spans = piece.edge(label)
        arc = Chain(piece, spans).arc_of(*spot.on_cloth)
        if arc is None:
            ends = ((0.0, spans[0].curve.start), (sum(s.length for s in spans), spans[-1].curve.end))
            arc = next((s for s, z in ends if abs(z - spot.point) < SAME_POINT_MM), None)
        if arc is not None:
            out.append((label, arc))
    return out


def _leaving_seam(draft: Draft, there: Across) -> complex:
    """The direction in which the partner's other edge at the place leaves the seam."""
    outline = draft.piece(there.piece).outline
    spans = draft.piece(there.piece).edge(there.label)
    size = sum(s.length for s in spans)
    if there.arc < SAME_POINT_MM:
        return -outline[outline.index(spans[0]) - 1].curve.tangent(1)
    if there.arc > size - SAME_POINT_MM:
        return outline[(outline.index(spans[-1]) + 1) % len(outline)].curve.tangent(0)
    raise CannotApply(
        "partner-not-drawn",
        there.piece,
        f"no line ends on the {there.label.key} where this one would meet it, {there.arc:.1f} mm along of "
        f"{size:.1f} mm",
        "draw the partner's line first, or move the end",
    )


def laid_beside(draft: Draft, piece: str, label: Label, arc: float) -> Motion:
    """The motion that lays the partner against the piece: the sewn places together, the seams in line."""
    there = across(draft, piece, label, arc)
    if there is None:
        raise CannotApply("no-partner", piece, f"the {label.key} is sewn to no other piece")
    w = -tangent_on(draft, piece, label, arc) / tangent_on(draft, there.piece, there.label, there.arc)
    here = on_edge(draft, piece, label, arc).point
    return Motion(w, here - w * on_edge(draft, there.piece, there.label, there.arc).point)
