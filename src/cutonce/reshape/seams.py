"""Seam bookkeeping: when edges are divided, taken away or renamed, the seams that use them follow."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Opening, Relation, Seam, Side
from cutonce.draft.span import Gone, Label, Span
from cutonce.geometry.tolerance import SAME_POINT_MM


def relabelled(piece: Piece, change: Callable[[Label], Label]) -> Piece:
    """The piece with every edge's label changed by a rule."""
    fold = change(piece.fold) if piece.fold else None
    return replace(piece, outline=tuple(replace(s, label=change(s.label)) for s in piece.outline), fold=fold)


def divide_edge(draft: Draft, piece: str, label: Label, arc: float) -> tuple[Draft, Label]:
    """Call the stretch of an edge beyond `arc` mm (outline order) by the next part number.

    The partner's edge is divided at the same share of its length (from the other end), and the seam in two,
    with its openings; the partner's stretch that is sewn to the further one takes the same part number where
    that is free. Finishes and drawn chains hold for both stretches.
    Returns the draft and the label of the further stretch; nothing happens at the very ends of an edge.
    """
    size = draft.piece(piece).edge_length(label)
    if arc < SAME_POINT_MM or arc > size - SAME_POINT_MM:
        return draft, label
    draft, further = _split_label(draft, piece, label, arc)
    for seam in draft.seams:
        sides = seam.seen_from(piece, label)
        if sides is None:
            continue
        mine, other = sides
        if mine == other:
            draft = _divide_mirrored(draft, seam, label, further)
        else:
            draft = _divide_seam(draft, seam, mine, other, label, further)
    return draft, further


def _split_label(draft: Draft, key: str, label: Label, arc: float) -> tuple[Draft, Label]:
    piece = draft.piece(key)
    further = replace(label, part=_free_part(piece, label))
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
    draft = draft.with_pieces([replace(piece, outline=tuple(out))])
    finishes = tuple(((key, further), f) for ref, f in draft.finishes if ref == (key, label))
    drawn = tuple(replace(d, edges=_with_further(d.edges, draft, key, label, further)) for d in draft.drawn)
    return replace(draft, finishes=draft.finishes + finishes, drawn=drawn), further


def _free_part(piece: Piece, label: Label) -> int:
    return max(e.part for e in piece.labels if e.same_edge(label)) + 1


def _with_further(
    edges: tuple[EdgeRef, ...], draft: Draft, key: str, label: Label, further: Label
) -> tuple[EdgeRef, ...]:
    """A chain of edges with the further stretch put in beside the near one, the way the chain runs."""
    if (key, label) not in edges:
        return edges
    k = edges.index((key, label))
    piece = draft.piece(key)
    end = piece.edge(further)[-1].curve.end
    backwards = k > 0 and edges[k - 1][0] == key and _touches(piece, edges[k - 1][1], end)
    backwards |= k + 1 < len(edges) and edges[k + 1][0] == key and not _touches(piece, edges[k + 1][1], end)
    pair = ((key, further), (key, label)) if backwards else ((key, label), (key, further))
    return edges[:k] + pair + edges[k + 1 :]


def _touches(piece: Piece, label: Label, z: complex) -> bool:
    spans = piece.edge(label)
    return min(abs(spans[0].curve.start - z), abs(spans[-1].curve.end - z)) < SAME_POINT_MM


def _spans_beyond(piece: Piece, label: Label, arc: float) -> dict[int, float]:
    """For spans of the edge that reach beyond `arc`: where on them it falls (0 for those wholly beyond)."""
    out: dict[int, float] = {}
    before = 0.0
    for span in piece.edge(label):
        if arc < before + span.length - SAME_POINT_MM:
            out[id(span)] = max(0.0, arc - before)
        before += span.length
    return out


def _divide_mirrored(draft: Draft, seam: Seam, label: Label, further: Label) -> Draft:
    """Divide a seam of a half piece with its own mirror image: both sides alike."""
    near, far = _beside(seam.a, label, further)
    size = draft.side_length(near)
    share = size / (size + draft.side_length(far))
    return _replaced_seam(draft, seam, (near, near), (far, far), (size, True), share)


def _beside(side: Side, label: Label, further: Label) -> tuple[Side, Side]:
    """A side of a seam in two, where its edge `label` has been divided from `further`."""
    cut = side.labels.index(label) + 1
    return Side(side.piece, side.labels[:cut]), Side(side.piece, (further, *side.labels[cut:]))


def _divide_seam(draft: Draft, seam: Seam, mine: Side, other: Side, label: Label, further: Label) -> Draft:
    """Divide the other side where `mine` now passes from `label` to `further`, and the seam with it."""
    near, far = _beside(mine, label, further)
    return _divide_between(draft, seam, (near, far), other, mine == seam.a, further)


def _divide_between(
    draft: Draft, seam: Seam, mine: tuple[Side, Side], other: Side, is_a: bool, like: Label
) -> Draft:
    near, far = mine
    share = draft.side_length(near) / (draft.side_length(near) + draft.side_length(far))
    draft, first, second = _divided_side(draft, other, draft.side_length(other) * (1 - share), like)
    if is_a:
        return _replaced_seam(
            draft, seam, (near, second), (far, first), (draft.side_length(near), True), share
        )
    first_mm = draft.side_length(first)
    return _replaced_seam(draft, seam, (second, near), (first, far), (first_mm, False), share)


def _divided_side(draft: Draft, side: Side, at: float, like: Label) -> tuple[Draft, Side, Side]:
    """A side of a seam divided `at` mm from its start; the first stretch is numbered as `like` if free."""
    for k, edge in enumerate(side.labels):
        size = draft.piece(side.piece).edge_length(edge)
        if at <= size + SAME_POINT_MM:
            draft, beyond = divide_edge_alone(draft, side.piece, edge, at)
            if beyond == edge:  # the cut falls between two edges
                split = k + 1 if at > SAME_POINT_MM else k
                return draft, Side(side.piece, side.labels[:split]), Side(side.piece, side.labels[split:])
            near = edge
            if (edge.name, edge.role, edge.part, beyond.part) == (like.name, like.role, edge.part, like.part):
                draft, near, beyond = _swapped(draft, side.piece, edge, beyond), beyond, edge
            first = Side(side.piece, (*side.labels[:k], near))
            return draft, first, Side(side.piece, (beyond, *side.labels[k + 1 :]))
        at -= size
    raise ValueError("the place lies beyond the side of the seam")


def _swapped(draft: Draft, key: str, one: Label, two: Label) -> Draft:
    """The labels of two stretches exchanged, in the piece, its finishes (alike) and drawn chains."""
    other = {one: two, two: one}

    def change(label: Label) -> Label:
        return other.get(label, label)

    drawn = tuple(
        replace(d, edges=tuple((p, change(e)) if p == key else (p, e) for p, e in d.edges))
        for d in draft.drawn
    )
    return replace(draft.with_pieces([relabelled(draft.piece(key), change)]), drawn=drawn)


def _replaced_seam(
    draft: Draft,
    seam: Seam,
    near: tuple[Side, Side],
    far: tuple[Side, Side],
    first: tuple[float, bool],
    share: float,
) -> Draft:
    """A seam in two, each with its share of the relation and its part of the openings.

    `first` is the length of the stretch at the start of side a and whether that is the near one; `share` the
    near one's part of the whole.
    """
    first_mm, near_first = first
    taken = {s.name for s in draft.seams}
    further = next(name for k in range(2, 999) if (name := f"{base_name(seam.name)} {k}") not in taken)
    names = (seam.name, further)
    pairs = (near, far)
    new: list[Seam] = []
    for i, part in enumerate((share, 1 - share)):
        new.append(
            Seam(
                names[i],
                pairs[i][0],
                pairs[i][1],
                _shared(seam.relation, part),
            )
        )
    first_name, last_name = names if near_first else names[::-1]
    openings = tuple(
        part
        for o in draft.openings
        for part in _divided_opening(o, seam.name, first_name, last_name, first_mm)
    )
    at = draft.seams.index(seam)
    seams = draft.seams[:at] + tuple(new) + draft.seams[at + 1 :]
    return replace(draft, seams=seams, openings=openings)


def base_name(name: str) -> str:
    """A seam's name without the number that it got when it was divided.

    >>> base_name("left side 2"), base_name("side")
    ('left side', 'side')
    """
    words = name.rsplit(" ", 1)
    return words[0] if len(words) == 2 and words[1].isdigit() else name


def _divided_opening(o: Opening, seam: str, first: str, last: str, cut: float) -> tuple[Opening, ...]:
    """An opening goes with the stretch it lies in; one that lies across the cut is divided there."""
    if o.seam != seam:
        return (o,)
    end = o.start_mm + o.length_mm
    out = []
    if o.start_mm < cut - SAME_POINT_MM:
        out.append(replace(o, seam=first, length_mm=min(end, cut) - o.start_mm))
    if end > cut + SAME_POINT_MM:
        start = max(o.start_mm, cut)
        out.append(replace(o, seam=last, start_mm=start - cut, length_mm=end - start))
    return tuple(out)


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
    part. A seam whose side now lies in several parts is divided between them, its partner too. What refers to
    an edge that no part holds is dropped; the tombstones say why.
    """
    home = {label: p.key for p in parts for label in p.labels}
    draft = _seams_parted(draft, old, home)
    at = next(i for i, p in enumerate(draft.pieces) if p.key == old)
    keep = [p for p in draft.pieces if p.key != old]

    def side(s: Side) -> Side | None:
        if s.piece != old:
            return s
        keys = {home.get(label) for label in s.labels}
        key = keys.pop() if len(keys) == 1 else None
        return Side(key, s.labels) if key else None

    def ref(r: EdgeRef) -> EdgeRef | None:
        return r if r[0] != old else ((home[r[1]], r[1]) if r[1] in home else None)

    seams = tuple(
        replace(seam, a=a, b=b) for seam in draft.seams if (a := side(seam.a)) and (b := side(seam.b))
    )
    drawn = tuple(
        replace(d, edges=tuple(new for r in d.edges if (new := ref(r)) is not None)) for d in draft.drawn
    )
    left = {s.name for s in seams}
    return replace(
        draft,
        pieces=(*keep[:at], *parts, *keep[at:]),
        seams=seams,
        finishes=tuple((new, f) for r, f in draft.finishes if (new := ref(r)) is not None),
        drawn=tuple(d for d in drawn if d.edges),
        openings=tuple(o for o in draft.openings if o.seam in left),
        gone=draft.gone + tuple(gone),
    )


def _seams_parted(draft: Draft, old: str, home: Mapping[Label, str]) -> Draft:
    """Every seam of a piece divided where its side passes from one part to another, or to one thrown away."""
    todo = [s for s in draft.seams if old in (s.a.piece, s.b.piece)]
    while todo:
        seam = todo.pop()
        for mine, other in ((seam.a, seam.b), (seam.b, seam.a)):
            k = _passage(mine, home) if mine.piece == old else 0
            if not k or (other.piece == old and other != mine):
                continue
            near, far = Side(old, mine.labels[:k]), Side(old, mine.labels[k:])
            known = {s.name for s in draft.seams} - {seam.name}
            if other == mine:
                size, rest = draft.side_length(near), draft.side_length(far)
                pair = ((near, near), (far, far))
                draft = _replaced_seam(draft, seam, *pair, (size, True), size / (size + rest))
            else:
                draft = _divide_between(draft, seam, (near, far), other, mine is seam.a, mine.labels[k])
            todo += [s for s in draft.seams if s.name not in known]
            break
    return draft


def _passage(side: Side, home: Mapping[Label, str]) -> int:
    """The first place in a side at which it passes into another part; 0 where it lies in one."""
    return next(
        (k for k, (x, y) in enumerate(pairwise(side.labels), 1) if home.get(x) != home.get(y)),
        0,
    )


def gone_with(part: Piece, old: str, step: str, reason: str) -> tuple[Gone, ...]:
    """Tombstones for every span of a part that is thrown away."""
    return tuple(Gone(old, s.label, s.origin, s.lo, s.hi, step, reason) for s in part.outline)
