"""Labels and seam names put in order after a cut: parts numbered from one, runs that have grown together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from dataclasses import replace

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Finish, Seam, Side
from cutonce.draft.span import Label
from cutonce.reshape.partners import seam_at
from cutonce.reshape.seams import base_name, relabelled

LabelMap = Mapping[Label, Label]


def tidied(draft: Draft, piece: str, seams: Iterable[str] = (), fresh: Iterable[Label] = ()) -> Draft:
    """Edges of one name that now adjoin, are in no seam and finished alike become one; parts are numbered
    from one. `seams` are names of seams that are no more: those numbered after them move up. `fresh` are
    new edges: they take the finish of the edge that they run on from.
    """
    draft = renamed(draft, piece, _grown_together(draft, piece, set(fresh)))
    change = _renumbered(draft.piece(piece))
    draft = _partners_in_step(renamed(draft, piece, change), piece, change)
    return _seams_renumbered(draft, {base_name(name) for name in seams})


def renamed(draft: Draft, key: str, change: LabelMap) -> Draft:
    """A piece's edges renamed, with its fold, seams, finishes and drawn chains; names that fall together
    keep the first one's finish."""
    if not change:
        return draft

    def of(label: Label) -> Label:
        return change.get(label, label)

    def side(s: Side) -> Side:
        return Side(key, tuple(dict.fromkeys(of(e) for e in s.labels))) if s.piece == key else s

    finishes: dict[EdgeRef, Finish] = {}
    for (p, e), f in draft.finishes:
        finishes.setdefault((p, of(e) if p == key else e), f)
    return replace(
        draft.with_pieces([relabelled(draft.piece(key), of)]),
        seams=tuple(replace(s, a=side(s.a), b=side(s.b)) for s in draft.seams),
        finishes=tuple(finishes.items()),
        drawn=tuple(
            replace(d, edges=tuple(dict.fromkeys((p, of(e)) if p == key else (p, e) for p, e in d.edges)))
            for d in draft.drawn
        ),
    )


def _grown_together(draft: Draft, key: str, fresh: Set[Label]) -> dict[Label, Label]:
    sewn = {e for s in draft.seams for side in (s.a, s.b) if side.piece == key for e in side.labels}
    finish = {e: f for (p, e), f in draft.finishes if p == key}
    drawn = {e: d.name for d in draft.drawn for p, e in d.edges if p == key}
    cloth = [s.label for s in draft.piece(key).outline if s.label.role != "dart leg"]
    change: dict[Label, Label] = {}
    for before, after in zip([cloth[-1], *cloth], cloth, strict=False):
        one, two = change.get(before, before), change.get(after, after)
        if one == two or not one.same_edge(two) or before in sewn or after in sewn:
            continue
        alike = finish.get(before) == finish.get(after) or not fresh.isdisjoint((before, after))
        if alike and drawn.get(before) == drawn.get(after):
            keep, drop = sorted((one, two), key=lambda e: e.part)
            change = {k: keep if v == drop else v for k, v in change.items()} | {drop: keep}
    return change


def _alike(label: Label) -> Label:
    return replace(label, part=1)


def _renumbered(piece: Piece) -> dict[Label, Label]:
    groups: dict[Label, list[int]] = {}
    for label in piece.labels:
        groups.setdefault(_alike(label), []).append(label.part)
    return {
        replace(label, part=part): replace(label, part=k)
        for label, parts in groups.items()
        for k, part in enumerate(sorted(parts), start=1)
        if part != k
    }


def _partners_in_step(draft: Draft, key: str, change: LabelMap) -> Draft:
    """Partners' stretches that had the same number as one that has been renumbered exchanged for it."""
    for old, new in sorted(change.items(), key=lambda pair: pair[1].part):
        found = seam_at(draft, key, new)
        if found is None or len(found[1].labels) > 1 or len(found[2].labels) > 1:
            continue
        _, mine, other = found
        edge = other.labels[0]
        if mine != other and edge.same_on_either_side(old):
            wanted = replace(edge, part=new.part)
            draft = renamed(draft, other.piece, {edge: wanted, wanted: edge})
    return draft


def _seams_renumbered(draft: Draft, bases: Set[str]) -> Draft:
    if not bases:
        return draft
    names: dict[str, str] = {s.name: s.name for s in draft.seams}
    count: dict[str, int] = {}
    for seam in sorted(draft.seams, key=_number):
        base = base_name(seam.name)
        if base not in bases:
            continue
        count[base] = k = count.get(base, 0) + 1
        names[seam.name] = base if k == 1 else f"{base} {k}"
    return replace(
        draft,
        seams=tuple(replace(s, name=names[s.name]) for s in draft.seams),
        openings=tuple(replace(o, seam=names.get(o.seam, o.seam)) for o in draft.openings),
    )


def _number(seam: Seam) -> int:
    last = seam.name.rsplit(" ", 1)[-1]
    return int(last) if last.isdigit() and base_name(seam.name) != seam.name else 1
