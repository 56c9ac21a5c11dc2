"""Seam bookkeeping: when edges are divided, taken away or renamed, the seams that use them follow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Relation, Seam, Side
from cutonce.draft.span import Gone, Label, Span
from cutonce.geometry.tolerance import SAME_POINT_MM


def relabelled(piece: Piece, change: Callable[[Label], Label]) -> Piece:
    """The piece with every edge's label changed by a rule."""
    fold = change(piece.fold) if piece.fold else None
    return replace(piece, outline=tuple(replace(s, label=change(s.label)) for s in piece.outline), fold=fold)


def divide_edge(draft: Draft, piece: str, label: Label, arc: float) -> tuple[Draft, Label]:
    """Call the stretch of an edge beyond `arc` mm (outline order) by the next part number.

    The partner's edge is divided at the same share of its length (from the other end), and the seam in two.
    Returns the draft and the label of the further stretch; nothing happens at the very ends of an edge.
    """
    size = draft.piece(piece).edge_length(label)
    if arc < SAME_POINT_MM or arc > size - SAME_POINT_MM:
        return draft, label
    draft, further = _split_label(draft, piece, label, arc)
    for seam in draft.seams_of(piece, label):
        mine, other = (seam.a, seam.b) if _on(seam.a, piece, label) else (seam.b, seam.a)
        if mine == other:
            continue
        draft = _divide_seam(draft, seam, mine, other, label, further)
    return draft, further


def _on(side: Side, piece: str, label: Label) -> bool:
    return side.piece == piece and label in side.labels


def _split_label(draft: Draft, key: str, label: Label, arc: float) -> tuple[Draft, Label]:
    piece = draft.piece(key)
    taken = {e.part for p in draft.pieces for e in p.labels if replace(e, part=1) == replace(label, part=1)}
    further = replace(label, part=max(taken) + 1)
    out: list[Span] = []
    beyond = _spans_beyond(piece, label, arc)
    for span in piece.outline:
        cut = beyond.get(id(span))
        if cut is None:
            out.append(span)
        elif cut <= SAME_POINT_MM:
            out.append(replace(span, label=further))
        else:
            near, far = span.split(cut)
            out += [near, replace(far, label=further)]
    return draft.with_pieces([replace(piece, outline=tuple(out))]), further


def _spans_beyond(piece: Piece, label: Label, arc: float) -> dict[int, float]:
    """For spans of the edge that reach beyond `arc`: where on them it falls (0 for those wholly beyond)."""
    out: dict[int, float] = {}
    before = 0.0
    for span in piece.edge(label):
        if arc < before + span.length - SAME_POINT_MM:
            out[id(span)] = max(0.0, arc - before)
        before += span.length
    return out


def _divide_seam(draft: Draft, seam: Seam, mine: Side, other: Side, label: Label, further: Label) -> Draft:
    """Divide the other side where `mine` now passes from `label` to `further`, and the seam with it."""
    cut = mine.labels.index(label) + 1
    near = Side(mine.piece, mine.labels[:cut])
    far = Side(mine.piece, (further, *mine.labels[cut:]))
    share = draft.side_length(near) / (draft.side_length(near) + draft.side_length(far))
    target = draft.side_length(other) * (1 - share)
    for k, edge in enumerate(other.labels):
        size = draft.piece(other.piece).edge_length(edge)
        if target <= size + SAME_POINT_MM:
            draft, beyond = divide_edge_alone(draft, other.piece, edge, target)
            if beyond == edge:  # the cut falls between two edges of the partner
                split = k + 1 if target > SAME_POINT_MM else k
                first, second = other.labels[:split], other.labels[split:]
            else:
                first, second = (*other.labels[: k + 1],), (beyond, *other.labels[k + 1 :])
            break
        target -= size
    pairs = ((near, Side(other.piece, second)), (far, Side(other.piece, first)))
    flip = mine != seam.a
    new = [
        replace(
            seam,
            name=seam.name if i == 0 else f"{seam.name} {further.part}",
            a=p[1] if flip else p[0],
            b=p[0] if flip else p[1],
            relation=_shared(seam.relation, share if i == 0 else 1 - share),
        )
        for i, p in enumerate(pairs)
    ]
    at = draft.seams.index(seam)
    return replace(draft, seams=draft.seams[:at] + tuple(new) + draft.seams[at + 1 :])


def divide_edge_alone(draft: Draft, piece: str, label: Label, arc: float) -> tuple[Draft, Label]:
    """Divide a label without touching seams; returns the same label where the cut falls on an end."""
    size = draft.piece(piece).edge_length(label)
    if arc < SAME_POINT_MM or arc > size - SAME_POINT_MM:
        return draft, label
    return _split_label(draft, piece, label, arc)


def _shared(relation: Relation, share: float) -> Relation:
    return replace(relation, more_mm=relation.more_mm * share)


def replaced_piece(draft: Draft, old: str, parts: Sequence[Piece], gone: Sequence[Gone] = ()) -> Draft:
    """Put the parts of a divided piece in its place; seams, finishes and drawn edges follow their edges.

    Edges cut by the division must have been divided first (`divide_edge`), so that each label lies in one
    part. What refers to an edge that no part holds is dropped; the tombstones say why.
    """
    keep = [p for p in draft.pieces if p.key != old]
    at = next(i for i, p in enumerate(draft.pieces) if p.key == old)
    pieces = (*keep[:at], *parts, *keep[at:])
    home = {label: p.key for p in parts for label in p.labels}

    def side(s: Side) -> Side | None:
        if s.piece != old:
            return s
        keys = {home.get(label) for label in s.labels} - {None}
        labels = tuple(label for label in s.labels if label in home)
        return Side(str(keys.pop()), labels) if len(keys) == 1 else None

    seams = []
    for seam in draft.seams:
        a, b = side(seam.a), side(seam.b)
        if a and b:
            seams.append(replace(seam, a=a, b=b))

    def ref(r: EdgeRef) -> EdgeRef | None:
        return r if r[0] != old else ((home[r[1]], r[1]) if r[1] in home else None)

    finishes = tuple((new, f) for r, f in draft.finishes if (new := ref(r)) is not None)
    drawn = tuple(
        replace(d, edges=tuple(new for r in d.edges if (new := ref(r)) is not None)) for d in draft.drawn
    )
    left = {s.name for s in seams}
    openings = tuple(o for o in draft.openings if o.seam in left)
    return replace(
        draft,
        pieces=pieces,
        seams=tuple(seams),
        finishes=finishes,
        drawn=tuple(d for d in drawn if d.edges),
        openings=openings,
        gone=draft.gone + tuple(gone),
    )


def gone_with(part: Piece, old: str, step: str, reason: str) -> tuple[Gone, ...]:
    """Tombstones for every span of a part that is thrown away."""
    return tuple(Gone(old, s.label, s.origin, s.lo, s.hi, step, reason) for s in part.outline)
