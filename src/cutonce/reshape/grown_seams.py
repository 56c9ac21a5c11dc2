"""Seams that have grown together: what a division parted, made one again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Opening, Seam, Side
from cutonce.draft.span import Label
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.edge_names import renamed, tidied


def seams_grown_together(draft: Draft, key: str) -> Draft:
    """Seams of a piece that follow each other along one edge and one partner made one seam; the parts of the
    edge become one again, on both sides. Only seams that are equal grow together."""
    while True:
        found = _pair(draft, key)
        mirrored = None if found else _mirrored_pair(draft, key)
        if found:
            draft = _made_one(draft, *found)
        elif mirrored:
            draft = _made_one_mirrored(draft, *mirrored)
        else:
            return draft


def _pair(draft: Draft, key: str) -> tuple[Seam, Seam] | None:
    """Two seams, turned so that the piece's sides are their `a` and follow each other in outline order."""
    sides = [
        s for s in draft.seams if key in (s.a.piece, s.b.piece) and s.a != s.b and s.relation.kind == "equal"
    ]
    turned = [s if s.a.piece == key else replace(s, a=s.b, b=s.a) for s in sides if s.a.piece != s.b.piece]
    for one in turned:
        for two in turned:
            if (
                one is not two
                and one.b.piece == two.b.piece
                and _follow(draft.piece(key), one.a.labels[-1], two.a.labels[0])
                and _follow(draft.piece(one.b.piece), two.b.labels[-1], one.b.labels[0])
            ):
                return one, two
    return None


def _mirrored_pair(draft: Draft, key: str) -> tuple[Seam, Seam] | None:
    """Two seams of a half piece with its own mirror image that follow each other."""
    mine = [s for s in draft.seams if s.a == s.b and s.a.piece == key]
    piece = draft.piece(key)
    pairs = ((x, y) for x in mine for y in mine if _follow(piece, x.a.labels[-1], y.a.labels[0]))
    return next(pairs, None)


def _made_one_mirrored(draft: Draft, one: Seam, two: Seam) -> Draft:
    shift = draft.side_length(one.a)
    side = Side(one.a.piece, one.a.labels + two.a.labels)
    first, last = sorted((one.name, two.name), key=lambda name: (len(name), name))
    new = Seam(first, side, side, one.relation)
    seams = tuple(new if s.name == one.name else s for s in draft.seams if s.name != two.name)
    moved = {one.name: 0.0, two.name: shift}
    openings = [
        replace(o, seam=first, start_mm=o.start_mm + moved[o.seam]) if o.seam in moved else o
        for o in draft.openings
    ]
    return _one_label(replace(draft, seams=seams, openings=_run_on(openings)), (side,), last)


def _one_label(draft: Draft, sides: tuple[Side, ...], gone: str) -> Draft:
    """Parts of one edge in each side under one label, the lowest part's."""
    for side in sides:
        keep = min(side.labels, key=lambda e: e.part)
        alike = {e: keep for e in side.labels if e != keep and e.same_edge(keep)}
        draft = tidied(renamed(draft, side.piece, alike), side.piece)
    return tidied(draft, sides[0].piece, {gone})


def _follow(piece: Piece, one: Label, two: Label) -> bool:
    """Parts of one edge, the second beginning where the first ends."""
    alike = one != two and one.same_edge(two)
    cloth = [s.label for s in piece.outline if s.label.role != "dart leg"]
    return alike and (one, two) in pairwise([*cloth, cloth[0]])


def _made_one(draft: Draft, one: Seam, two: Seam) -> Draft:
    """`one` with `two` sewn on, openings kept."""
    lengths = draft.side_length(one.a), draft.side_length(two.b)
    was = next(s for s in draft.seams if s.name == one.name)
    forward = was.a == one.a
    shift_one, shift_two = (0.0, lengths[0]) if forward else (lengths[1], 0.0)
    a = Side(one.a.piece, one.a.labels + two.a.labels)
    b = Side(one.b.piece, two.b.labels + one.b.labels)
    new = replace(was, a=a if forward else b, b=b if forward else a)
    seams = tuple(new if s.name == one.name else s for s in draft.seams if s.name != two.name)
    openings = [_opening(draft, o, one, two, (shift_one, shift_two), forward) for o in draft.openings]
    draft = replace(draft, seams=seams, openings=_run_on(openings))
    return _one_label(draft, (a, b), two.name)


def _run_on(openings: Sequence[Opening]) -> tuple[Opening, ...]:
    """Openings of one kind in one seam that begin where another ends, made one."""
    out: list[Opening] = []
    for o in sorted(openings, key=lambda o: (o.seam, o.kind, o.start_mm)):
        last = out[-1] if out else None
        if last and (last.seam, last.kind) == (o.seam, o.kind):
            gap = o.start_mm - last.start_mm - last.length_mm
            if abs(gap) < SAME_POINT_MM:
                out[-1] = replace(last, length_mm=last.length_mm + o.length_mm)
                continue
        out.append(o)
    return tuple(out)


def _opening(
    draft: Draft, o: Opening, one: Seam, two: Seam, shifts: tuple[float, float], forward: bool
) -> Opening:
    if o.seam == one.name:
        return replace(o, start_mm=o.start_mm + shifts[0])
    if o.seam != two.name:
        return o
    seam = next(s for s in draft.seams if s.name == two.name)
    start = o.start_mm
    if (seam.a == two.a) != forward:
        start = draft.side_length(seam.a) - start - o.length_mm
    return replace(o, seam=one.name, start_mm=start + shifts[1])
