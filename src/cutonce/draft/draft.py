"""The draft: all pieces of one garment for one body, and how they are sewn. A value; steps make new ones."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Finish, Opening, Seam, Side
from cutonce.draft.span import Gone, Label
from cutonce.errors import CannotApply

EdgeRef = tuple[str, Label]
"""A piece's key and the label of one of its edges."""


@dataclass(frozen=True, slots=True)
class Draft:
    """Pieces with their seams, finishes and history.

    Before unfolding, `twin` is the wearer's right half of an uneven body, drafted as if it were a left
    half, with the same pieces, labels and steps; None where both halves are alike.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    finishes: tuple[tuple[EdgeRef, Finish], ...] = ()
    openings: tuple[Opening, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    gone: tuple[Gone, ...] = ()
    twin: Draft | None = None
    unfolded: bool = False

    def piece(self, key: str) -> Piece:
        for p in self.pieces:
            if p.key == key:
                return p
        have = ", ".join(p.key for p in self.pieces)
        raise CannotApply("no-piece", "", f"no piece '{key}'; the draft has: {have}")

    def with_pieces(self, new: Iterable[Piece], gone: Iterable[Gone] = ()) -> Draft:
        """The draft with these pieces in the place of those of the same key; others are kept as they are."""
        by_key = {p.key: p for p in new}
        kept = tuple(by_key.pop(p.key, p) for p in self.pieces)
        return replace(self, pieces=kept + tuple(by_key.values()), gone=self.gone + tuple(gone))

    def seams_of(self, piece: str, label: Label) -> tuple[Seam, ...]:
        return tuple(s for s in self.seams if s.seen_from(piece, label) is not None)

    def partner(self, piece: str, label: Label) -> Side | None:
        """The side sewn to this edge, or None."""
        sides = (s.seen_from(piece, label) for s in self.seams)
        return next((found[1] for found in sides if found is not None), None)

    def side_length(self, side: Side) -> float:
        """Length of one side of a seam in mm."""
        piece = self.piece(side.piece)
        return sum(piece.edge_length(label) for label in side.labels)

    def finish(self, piece: str, label: Label) -> Finish | None:
        return dict(self.finishes).get((piece, label))
