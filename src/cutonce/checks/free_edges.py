"""Edges that are sewn to nothing: necklines, armholes, hems, cut-outs. What several checks look for."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import EdgeRole, Label


def free_edges(draft: Draft, roles: tuple[EdgeRole, ...]) -> Iterator[tuple[Piece, Label]]:
    """Every edge of these roles that no seam joins to another and that does not lie on the fold."""
    sewn = {(s.piece, e) for seam in draft.seams for s in (seam.a, seam.b) for e in s.labels}
    for piece in draft.pieces:
        for label in piece.labels:
            if label.role in roles and (piece.key, label) not in sewn and label != piece.fold:
                yield piece, label
