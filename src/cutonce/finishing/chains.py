"""Chains of edges that one strip runs along: a neckline over the shoulder seam, an armhole all round."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label

Link = tuple[EdgeRef, bool] | Literal["mirror"] | None
"""What follows an edge's end: another edge and whether its start is met, its own mirror image, or nothing."""

AT_END_MM = 1.0
"""An opening this near to the end of a seam reaches it."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Edges in order, as one strip meets them. `mirrored`: the chain goes on with its own mirror image at one
    end (a half piece on the fold), `closed`: it has no ends. `count`: how many such strips a garment has."""

    edges: tuple[EdgeRef, ...]
    mirrored: bool
    closed: bool
    count: int

    @property
    def words(self) -> str:
        """What the strip is for: "neck of front, back"."""
        names = dict.fromkeys(label.key for _, label in self.edges)
        pieces = dict.fromkeys(key for key, _ in self.edges)
        return f"{' and '.join(names)} of {', '.join(pieces)}"


def chains(draft: Draft, edges: Iterable[EdgeRef]) -> tuple[Chain, ...]:
    """The chains that these edges form, through corners and over sewn seams, in the order of the draft."""
    wanted = dict.fromkeys(edges)
    follow = follower(draft, set(wanted))
    left = dict(wanted)
    out: list[Chain] = []
    while left:
        first = next(iter(left))
        ahead, end = _walk(first, True, follow)
        if end == "loop":
            refs, start = ahead, "loop"
        else:
            behind, start = _walk(first, False, follow)
            refs = [*reversed(behind[1:]), *ahead]
        for ref in refs:
            left.pop(ref, None)
        out.append(_chain(draft, tuple(refs), (start, end)))
    return tuple(out)


def _chain(draft: Draft, refs: tuple[EdgeRef, ...], ends: tuple[str, str]) -> Chain:
    mirrored = "mirror" in ends
    closed = ends == ("mirror", "mirror") or "loop" in ends
    both = any(draft.piece(key).cut != "single" for key, _ in refs)
    return Chain(refs, mirrored, closed, 2 if both and not mirrored else 1)


def _walk(
    first: EdgeRef, forward: bool, follow: Callable[[EdgeRef, bool], Link]
) -> tuple[list[EdgeRef], str]:
    """Edges from one on, in one direction; and how it ends: "loop", "mirror" or "free"."""
    refs, ref, at_end = [first], first, forward
    while True:
        link = follow(ref, at_end)
        if link is None or link == "mirror":
            return refs, link or "free"
        ref, at_start = link
        if ref == first:
            return refs, "loop"
        if ref in refs:
            return refs, "free"
        refs.append(ref)
        at_end = at_start


def follower(draft: Draft, wanted: set[EdgeRef]) -> Callable[[EdgeRef, bool], Link]:
    """A function from an edge and one of its ends (True: the last) to what of `wanted` follows there: the
    next edge of the piece, or one beyond a sewn seam."""
    pieces = {p.key: p for p in draft.pieces}

    def follow(ref: EdgeRef, at_end: bool) -> Link:
        key, label = ref
        piece = pieces[key]
        beside = _beside(piece, label, at_end)
        if (key, beside) in wanted:
            return (key, beside), at_end
        if piece.cut == "fold" and beside == piece.fold:
            return "mirror"
        for seam in draft.seams_of(key, beside):
            link = _over(draft, pieces, seam, Side(key, (beside,)), at_end)
            if link == "mirror" or (link is not None and link[0] in wanted):
                return link
        return None

    return follow


def _beside(piece: Piece, label: Label, at_end: bool) -> Label:
    """The edge next to an edge's end, darts between passed over."""
    labels = piece.labels
    outline = [s.label for s in piece.outline if s.label.role != "dart leg"]
    runs = [e for i, e in enumerate(outline) if e != outline[i - 1]] or list(labels)
    i = runs.index(label)
    return runs[(i + 1) % len(runs)] if at_end else runs[i - 1]


def _over(draft: Draft, pieces: dict[str, Piece], seam: Seam, here: Side, starts: bool) -> Link:
    """Over a seam that starts (or ends) where the chain arrives, to the edge beyond it on the other piece."""
    label = here.labels[0]
    for mine, other in ((seam.a, seam.b), (seam.b, seam.a)):
        at = mine.labels[0] if starts else mine.labels[-1]
        if mine.piece != here.piece or at != label:
            continue
        if _is_open(draft, seam, at_start=starts == (mine is seam.a)):
            return None
        if seam.a == seam.b:
            return "mirror"
        far = other.labels[-1] if starts else other.labels[0]
        return (other.piece, _beside(pieces[other.piece], far, starts)), starts
    return None


def _is_open(draft: Draft, seam: Seam, at_start: bool) -> bool:
    """Does a zip, vent or slit reach this end of the seam (of its side a)?"""
    size = draft.side_length(seam.a)
    for o in draft.openings:
        if o.seam == seam.name and o.kind != "cord exit":
            if at_start and o.start_mm < AT_END_MM:
                return True
            if not at_start and o.start_mm + o.length_mm > size - AT_END_MM:
                return True
    return False


def flat_length(draft: Draft, chain: Chain) -> float:
    """Length of the strip's edge in mm, flat: both sides of a mirrored chain, each half of an uneven body by
    its own length."""
    size = sum(draft.piece(key).edge_length(label) for key, label in chain.edges)
    if not chain.mirrored:
        return size
    other = draft.twin
    return size + (sum(other.piece(k).edge_length(e) for k, e in chain.edges) if other else size)
