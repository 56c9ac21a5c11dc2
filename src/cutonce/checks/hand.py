"""The hand of a piece: mirrored once too often, cut twice where one is wanted, left without its right."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.errors import Finding


def hand(draft: Draft, context: Context) -> Found:
    """Every piece: reflections, and how it is cut against what it is."""
    return tuple(f for piece in draft.pieces for f in _of(draft, piece, context))


def _of(draft: Draft, piece: Piece, context: Context) -> Iterator[Finding]:
    step = context.last_step(piece.outline)
    if piece.flips % 2:
        yield Finding(
            "stop",
            "mirrored",
            piece.key,
            f"as drawn it is the other hand (an odd number of reflections: {piece.flips})",
            step=step,
            hint="cut it face down, or reflect it once more",
        )
    if piece.cut == "pair" and piece.wearer is not None:
        yield Finding(
            "stop",
            "pair-of-one-side",
            piece.key,
            f"it is for the wearer's {piece.wearer} side, yet is cut as a mirrored pair",
            step=step,
            hint="cut it once",
        )
    if piece.cut == "fold" and (piece.fold is None or piece.fold not in piece.labels):
        yield Finding(
            "stop",
            "no-fold",
            piece.key,
            "it is cut on the fold, but the edge for the fold is not there",
            step=step,
            hint="cut it as a pair with a seam",
        )
    if piece.cut == "fold" and draft.unfolded:
        yield Finding(
            "warning",
            "fold-of-whole",
            piece.key,
            "the draft is unfolded, yet this piece is cut on the fold",
            step=step,
            hint="unfold it, or cut it once",
        )
