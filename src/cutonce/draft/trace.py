"""What a step did, read from the drafts before and after it: the difference of their material."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Origin

What = Literal["changed", "made", "removed", "split", "moved", "joined"]

_CHANGED_MM = 1e-3

Key = tuple[str, str]
"""A piece's key and an edge's key."""


@dataclass(frozen=True, slots=True)
class Change:
    """One edge that is not as it was; lengths in mm, 0 where it did not exist.

    "changed": its length; "made": of new material; "removed"; "split": a part of an edge that is still there;
    "moved": an edge that went by another name or lay on another piece; "joined": of several edges. `sources`
    are the edges that it was, as "piece, edge".
    """

    piece: str
    edge: str
    what: What
    before_mm: float
    after_mm: float
    sources: tuple[str, ...] = ()


def difference(before: Draft, after: Draft) -> tuple[Change, ...]:
    """Every edge that is not as it was; kept edges are left out, and pieces that no step has touched."""
    same = {id(p) for p in before.pieces} & {id(p) for p in after.pieces}
    old_pieces = [p for p in before.pieces if id(p) not in same]
    new_pieces = [p for p in after.pieces if id(p) not in same]
    old, new = _lengths(old_pieces), _lengths(new_pieces)
    material = _material(old_pieces)
    out = [Change(*key, "removed", was, 0.0) for key, was in old.items() if key not in new]
    for piece in new_pieces:
        for label in piece.labels:
            key = (piece.key, label.key)
            if key not in old:
                out.append(_new(piece, key, new, material))
            elif abs(new[key] - old[key]) > _CHANGED_MM:
                out.append(Change(*key, "changed", old[key], new[key]))
    return tuple(out)


def _lengths(pieces: Iterable[Piece]) -> dict[Key, float]:
    out: dict[Key, float] = {}
    for piece in pieces:
        for span in piece.outline:
            if span.label.role != "dart leg":
                key = (piece.key, span.label.key)
                out[key] = out.get(key, 0.0) + span.length
    return out


_Material = dict[Origin, list[tuple[float, float, Key]]]


def _material(pieces: Iterable[Piece]) -> _Material:
    """For each origin, which stretches of it lay on which edge."""
    out: _Material = {}
    for piece in pieces:
        for span in piece.outline:
            low, high = sorted((span.lo, span.hi))
            out.setdefault(span.origin, []).append((low, high, (piece.key, span.label.key)))
    return out


def _new(piece: Piece, key: Key, new: dict[Key, float], material: _Material) -> Change:
    """An edge whose name is new: where its material was before."""
    found: dict[Key, None] = {}
    for span in piece.outline:
        if span.label.key == key[1]:
            low, high = sorted((span.lo, span.hi))
            for lo, hi, source in material.get(span.origin, ()):
                if min(high, hi) - max(low, lo) > _CHANGED_MM:
                    found[source] = None
    what: What = "made"
    if len(found) > 1:
        what = "joined"
    elif found:
        what = "split" if next(iter(found)) in new else "moved"
    return Change(*key, what, 0.0, new[key], tuple(f"{p}, {e}" for p, e in found))
