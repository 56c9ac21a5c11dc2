"""What more fullness does to the garment: which edges are longer, and what is now gathered or eased."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.draft import Draft

_TOLD_MM = 1.0
"""Edges that change by less are not told: nobody cuts finer."""


@dataclass(frozen=True, slots=True)
class Changed:
    """An edge or seam and its length in mm before and after; `note` says how the fullness is taken up."""

    what: str
    before: float
    after: float
    note: str = ""


def changed_edges(before: Draft, after: Draft) -> tuple[Changed, ...]:
    """The whole hem first, then every other edge of the same name whose length differs, the most first.

    A seam's edge says how it is joined to its partner ("gathered 1.6 to 1"). Half pieces count half.
    """
    hem = Changed("hem, in all", _hem(before), _hem(after))
    out = [hem] if abs(hem.after - hem.before) > _TOLD_MM else []
    relations = {
        (side.piece, label): seam.relation.words()
        for seam in after.seams
        for side in (seam.a, seam.b)
        for label in side.labels
        if seam.relation.words() != "equal"
    }
    have = {p.key: p for p in before.pieces}
    edges: list[Changed] = []
    for piece in after.pieces:
        old = have.get(piece.key)
        for label in piece.labels:
            if old is None or label not in old.labels or label.role == "hem":
                continue
            lengths = old.edge_length(label), piece.edge_length(label)
            if abs(lengths[1] - lengths[0]) > _TOLD_MM:
                note = relations.get((piece.key, label), "")
                edges.append(Changed(f"{piece.key}, {label.key}", *lengths, note))
    return (*out, *sorted(edges, key=lambda c: -abs(c.after - c.before)))


def _hem(draft: Draft) -> float:
    """The hem once round, as cut: a piece on the fold or of a pair counts twice."""
    return sum(
        piece.edge_length(label) * (1 if piece.cut == "single" else 2)
        for piece in draft.pieces
        for label in piece.labels
        if label.role == "hem"
    )
