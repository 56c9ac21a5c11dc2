"""What a step did, read from the drafts before and after it: the difference of their material.

A stretch of material is known by its origin and its interval. Two pieces may hold the same (a line that parts
a piece belongs to both parts; the sides of front and back go by one name), so for each piece after the step
it is first found from which pieces before it its outline comes, and only those are asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Origin, Wearer

What = Literal["changed", "made", "removed", "split", "moved", "joined", "redrawn"]

_CHANGED_MM = 1e-3
"""Lengths and places that part by less are the same."""


@dataclass(frozen=True, slots=True)
class Change:
    """One edge that is not as it was; lengths in mm, 0 where it did not exist.

    "changed": its length; "made": of new material; "redrawn": of new material under its old name; "removed":
    none of its material is on an edge any more; "split": a part of an edge that has other parts elsewhere;
    "moved": an edge that went by another name or lay on another piece; "joined": of several edges. `sources`
    are the edges that it was, as "piece, edge"; where it moved or was joined, `before_mm` is their length.
    `half` is the half of an uneven body on which it lies, before unfolding.
    """

    piece: str
    edge: str
    what: What
    before_mm: float
    after_mm: float
    sources: tuple[str, ...] = ()
    half: Wearer | None = None


def difference(before: Draft, after: Draft) -> tuple[Change, ...]:
    """Every edge that is not as it was; kept edges are left out, and pieces that no step has touched."""
    if before.twin is not None and after.twin is not None:
        left = _difference(before.pieces, after.pieces)
        right = _difference(before.twin.pieces, after.twin.pieces)
        return (
            *(replace(change, half="left") for change in left),
            *(replace(change, half="right") for change in right),
        )
    unfolds = after.unfolded and not before.unfolded
    return _difference(before.pieces, after.pieces, before.twin.pieces if before.twin else (), unfolds)


@dataclass(slots=True, eq=False)
class _Edge:
    """An edge as it was or is; `heirs` are the edges that hold of its material afterwards."""

    piece: str
    name: str
    length: float = 0.0
    heirs: set[tuple[str, str, Wearer | None]] = field(default_factory=set)

    @property
    def key(self) -> tuple[str, str]:
        return self.piece, self.name


_Stretches = list[tuple[float, float, _Edge]]


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Material of an edge of which it is not yet known where it was."""

    label: Label
    origin: Origin
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class _Old:
    """A piece before: its edges, and which stretches of which material lay on them. `side` is the wearer's
    side that it becomes in unfolding, None where it becomes both."""

    piece: str
    edges: dict[Label, _Edge]
    material: dict[Origin, _Stretches]
    side: Wearer | None = None

    def under(self, new: _Stretch, unfolds: bool) -> _Stretches:
        """What of a stretch lay on which edge here."""
        origin = new.origin
        if unfolds:
            if self.side not in (None, origin.wearer):
                return []
            origin = replace(origin, wearer=None)
        found = []
        for low, high, edge in self.material.get(origin, ()):
            low, high = max(low, new.low), min(high, new.high)
            if high - low > _CHANGED_MM:
                found.append((low, high, edge))
        return found


def _old(piece: Piece, side: Wearer | None) -> _Old:
    edges: dict[Label, _Edge] = {}
    material: dict[Origin, _Stretches] = {}
    for span in piece.outline:
        if span.label.role != "dart leg":
            edge = edges.setdefault(span.label, _Edge(piece.key, span.label.key))
            edge.length += span.length
            material.setdefault(span.origin, []).append((min(span.lo, span.hi), max(span.lo, span.hi), edge))
    return _Old(piece.key, edges, material, side)


_Found = tuple[_Edge, list[_Edge], Wearer | None]
"""An edge afterwards, the edges that it was, and the wearer's side on which it lies."""


def _difference(
    before: Sequence[Piece], after: Sequence[Piece], twin: Sequence[Piece] = (), unfolds: bool = False
) -> tuple[Change, ...]:
    same = {id(p) for p in before} & {id(p) for p in after}
    olds = [_old(p, "left" if twin else None) for p in before if id(p) not in same]
    olds += [_old(p, "right") for p in twin]
    found = [f for piece in after if id(piece) not in same for f in _with_sources(piece, olds, unfolds)]
    for edge, sources, wearer in found:
        for source in sources:
            source.heirs.add((*edge.key, wearer if unfolds else None))
    there = {edge.key for edge, _, _ in found}
    known = {edge.key: edge for old in olds for edge in old.edges.values()}
    out = [
        Change(*edge.key, "removed", edge.length, 0.0, half=old.side)
        for old in olds
        for edge in old.edges.values()
        if not edge.heirs and edge.key not in there
    ]
    for edge, sources, wearer in found:
        out += _told(edge, sources, known.get(edge.key), wearer if unfolds else None)
    return tuple(out)


def _with_sources(piece: Piece, olds: Sequence[_Old], unfolds: bool) -> Iterable[_Found]:
    """Each edge of a piece after the step with the edges before that held its material.

    The piece of its own name is asked first, then those that explain the most of what is left unexplained.
    """
    found: dict[Label, _Found] = {}
    left: list[_Stretch] = []
    for span in piece.outline:
        label = span.label
        if label.role != "dart leg":
            edge, _, _ = found.setdefault(label, (_Edge(piece.key, label.key), [], label.wearer))
            edge.length += span.length
            left.append(_Stretch(label, span.origin, min(span.lo, span.hi), max(span.lo, span.hi)))
    rest = list(olds)
    while left and rest:
        parent = next((old for old in rest if old.piece == piece.key), None) or max(
            rest, key=lambda old: sum(hi - lo for s in left for lo, hi, _ in old.under(s, unfolds))
        )
        rest.remove(parent)
        unexplained: list[_Stretch] = []
        for stretch in left:
            under = parent.under(stretch, unfolds)
            sources = found[stretch.label][1]
            sources += [edge for _, _, edge in under if edge not in sources]
            unexplained += _without(stretch, under)
        if unexplained == left and parent.piece != piece.key:
            break  # the best explains nothing: this is new
        left = unexplained
    return found.values()


def _without(stretch: _Stretch, taken: _Stretches) -> Iterator[_Stretch]:
    """What of a stretch is left between those taken from it."""
    reached = stretch.low
    for low, high, _ in sorted(taken, key=lambda t: t[0]):
        if low - reached > _CHANGED_MM:
            yield replace(stretch, low=reached, high=low)
        reached = max(reached, high)
    if reached == stretch.low:
        yield stretch
    elif stretch.high - reached > _CHANGED_MM:
        yield replace(stretch, low=reached)


def _told(edge: _Edge, sources: Sequence[_Edge], was: _Edge | None, side: Wearer | None) -> Iterable[Change]:
    names = tuple(f"{s.piece}, {s.name}" for s in sources)
    if not sources:
        what: What = "redrawn" if was else "made"
        return (Change(*edge.key, what, was.length if was else 0.0, edge.length),)
    if len(sources) > 1:
        return (Change(*edge.key, "joined", sum(s.length for s in sources), edge.length, names),)
    (source,) = sources
    if source is was:
        same = abs(edge.length - was.length) <= _CHANGED_MM
        return () if same else (Change(*edge.key, "changed", was.length, edge.length),)
    if sum(heir[2] == side for heir in source.heirs) > 1:
        return (Change(*edge.key, "split", 0.0, edge.length, names),)
    return (Change(*edge.key, "moved", source.length, edge.length, names),)
