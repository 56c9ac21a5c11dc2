"""The hem of a garment as it is walked round the body: from piece to piece over the seams that end on it.

Every piece lies face up and its outline runs counter-clockwise, so all hems are walked the same way round.
In the half state the walk goes from one centre to the other, and each piece stands for both sides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam
from cutonce.draft.span import CENTRES, Label, Origin, Span
from cutonce.errors import CannotApply
from cutonce.reshape.places import Spot

_SAME_PLACE_MM = 0.01
"""Names nearer than this stand at one place: a mark at the centre of a left and of a right half."""


@dataclass(frozen=True, slots=True)
class Joint:
    """The end of a run of hem: the edge beside it, and the seam by which that edge is sewn, if any.

    `is_a` where the edge is on side `a` of the seam; `mirrored` where it is sewn to its own mirror image.
    """

    piece: str
    edge: Label
    at_start: bool
    seam: Seam | None = None
    is_a: bool = False

    @property
    def mirrored(self) -> bool:
        return self.seam is not None and self.seam.a == self.seam.b


@dataclass(frozen=True, slots=True)
class HemRun:
    """Hem spans of one piece that follow each other, `start` mm round the garment from where the walk began;
    what lies before and after."""

    piece: str
    spans: tuple[Span, ...]
    before: Joint
    after: Joint
    start: float = 0.0

    @property
    def length(self) -> float:
        return sum(s.length for s in self.spans)

    @property
    def end(self) -> float:
        return self.start + self.length


@dataclass(frozen=True, slots=True)
class Hem:
    """The runs in order. `half`: they go half round, and the other half mirrors them. `closed`: the last one
    meets the first."""

    runs: tuple[HemRun, ...]
    half: bool
    closed: bool

    @property
    def girth(self) -> float:
        """Length of the hem all round, mm."""
        return sum(r.length for r in self.runs) * (2 if self.half else 1)


def hem_round(draft: Draft, piece: str = "") -> Hem:
    """The hem of the garment; where it has several, that on which the piece of this key or name lies.

    Raises CannotApply where there is none, where it is not plain which is meant, or where a dart opens on it.
    """
    runs = [run for p in draft.pieces for run in _runs(draft, p)]
    if not runs:
        have = "; ".join(f"{p.key}: {p.edge_names()}" for p in draft.pieces)
        raise CannotApply("no-hem", "", f"no piece has a hem; edges are {have}")
    hems = list(_walked(draft, runs))
    named = [h for h in hems if any(piece in ("", r.piece, draft.piece(r.piece).name) for r in h.runs)]
    if len(named) == 1:
        return named[0]
    words = "; ".join(", ".join(r.piece for r in h.runs) for h in hems)
    if not named:
        raise CannotApply("no-hem", piece, f"no hem lies on '{piece}'; there are hems on: {words}")
    raise CannotApply(
        "ambiguous", "", f"there are {len(named)} hems: {words}", "name a piece of the one meant"
    )


def _runs(draft: Draft, piece: Piece) -> Iterator[HemRun]:
    spans = piece.outline
    n = len(spans)
    for first in range(n):
        if spans[first].label.role != "hem" or spans[first - 1].label.role == "hem":
            continue
        size = next((k for k in range(1, n) if spans[(first + k) % n].label.role != "hem"), n)
        run = tuple(spans[(first + k) % n] for k in range(size))
        beside = spans[first - 1].label, spans[(first + size) % n].label
        for label in beside:
            if label.role == "dart leg":
                raise CannotApply(
                    "dart-on-hem", piece.key, f"the {label.key} opens on the hem", "move it or close it first"
                )
        before, after = _joint(draft, piece.key, beside[0], False), _joint(draft, piece.key, beside[1], True)
        yield HemRun(piece.key, run, before, after)


def _joint(draft: Draft, piece: str, edge: Label, at_start: bool) -> Joint:
    """`at_start`: the edge starts at the hem (outline order)."""
    for seam in draft.seams:
        for side in (seam.a, seam.b):
            if side.piece == piece and side.labels and side.labels[0 if at_start else -1] == edge:
                return Joint(piece, edge, at_start, seam, side is seam.a)
    return Joint(piece, edge, at_start)


def _walked(draft: Draft, runs: Sequence[HemRun]) -> Iterator[Hem]:
    """The runs strung together; a hem that is no ring starts where it is open or meets its mirror image."""
    left = list(runs)
    while left:
        first = left[0]
        seen = [first]
        while (back := _beside(seen[-1].before, left)) is not None and back is not first:
            seen.append(back)
        start = seen[-1] if back is None else first
        ordered = [start]
        while (ahead := _beside(ordered[-1].after, left)) is not None and ahead is not start:
            ordered.append(ahead)
        placed: list[HemRun] = []
        at = 0.0
        for run in ordered:
            placed.append(replace(run, start=at))
            at += run.length
        left = [r for r in left if all(r is not o for o in ordered)]
        yield Hem(tuple(placed), not draft.unfolded, ahead is start)


def _beside(joint: Joint, runs: Sequence[HemRun]) -> HemRun | None:
    """The run on the other side of a joint's seam; None where its partner does not end on a hem."""
    if joint.seam is None or joint.mirrored:
        return None
    other = joint.seam.b if joint.is_a else joint.seam.a
    edge = other.labels[-1 if joint.at_start else 0]
    for run in runs:
        facing = run.before if joint.at_start else run.after
        if (facing.piece, facing.edge) == (other.piece, edge):
            return run
    return None


def places_named(draft: Draft, hem: Hem, name: str) -> tuple[float, ...]:
    """Where on the hem a name lies, in mm round: at marks on it and at the edges that end on it.

    An edge's key with its part ("left side 2") goes before that without ("left side"), which goes before the
    plain name ("side").
    """
    for called in (_key, _without_part, _plainly):
        found = [at for at, n in _names(draft, hem, called) if n == name]
        if found:
            return _distinct(hem, found)
    return ()


def place_named(draft: Draft, hem: Hem, name: str) -> float:
    """The one place of that name, in mm round. Raises CannotApply where there is none or more than one."""
    found = places_named(draft, hem, name)
    if len(found) == 1:
        return found[0]
    have = ", ".join(dict.fromkeys(n for _, n in _names(draft, hem, _without_part)))
    if not found:
        raise CannotApply("no-landmark", "hem", f"no '{name}' on the hem; it has: {have}")
    raise CannotApply("ambiguous", "hem", f"'{name}' is in {len(found)} places on the hem; it has: {have}")


def names_round(draft: Draft, hem: Hem) -> tuple[tuple[float, str], ...]:
    """Every place on the hem that has a name, once, in order."""
    out: list[tuple[float, str]] = []
    for at, name in sorted(_names(draft, hem, _without_part), key=lambda pair: pair[0]):
        if all(
            abs(at - x) > _SAME_PLACE_MM and (not hem.closed or abs(at - x) < hem.girth - _SAME_PLACE_MM)
            for x, _ in out
        ):
            out.append((at, name))
    return tuple(out)


def _key(label: Label) -> str:
    return label.key


def _without_part(label: Label) -> str:
    return replace(label, part=1).key


def _plainly(label: Label) -> str:
    return label.name


def _names(draft: Draft, hem: Hem, called: Callable[[Label], str]) -> Iterator[tuple[float, str]]:
    for run in hem.runs:
        piece = draft.piece(run.piece)
        for mark in piece.marks:
            at = arc_on(run, mark.origin, mark.at)
            if at is not None:
                yield run.start + at, mark.name
        yield from ((run.start + at, f"centre {piece.face}") for at in _halves_meet(run))
        for joint, at in ((run.before, run.start), (run.after, run.end)):
            edge = joint.edge
            yield at, edge.role if edge.role in CENTRES else called(edge)


def _halves_meet(run: HemRun) -> Iterator[float]:
    """Where the hem of the wearer's left half passes into that of the right, or the other way."""
    at = 0.0
    for one, two in pairwise(run.spans):
        at += one.length
        if {one.label.wearer, two.label.wearer} == {"left", "right"}:
            yield at


def arc_on(run: HemRun, origin: Origin, material: float) -> float | None:
    """Arc length along a run of a material place; None where it lies elsewhere."""
    before = 0.0
    for span in run.spans:
        if span.origin == origin and span.holds(material):
            return before + span.arc_at(material)
        before += span.length
    return None


def place_of(hem: Hem, spot: Spot) -> float:
    """Where a spot on the hem lies, in mm round. Raises CannotApply where it lies elsewhere."""
    origin, material = spot.on_cloth
    for run in hem.runs:
        if run.piece == spot.piece:
            at = arc_on(run, origin, material)
            if at is not None:
                return run.start + at
    raise CannotApply("not-on-hem", spot.piece, "the place does not lie on this hem")


def _distinct(hem: Hem, places: Sequence[float]) -> tuple[float, ...]:
    """Places that differ; the end of a ring is its beginning."""
    out: list[float] = []
    for at in sorted(places):
        if hem.closed and at > hem.girth - _SAME_PLACE_MM:
            at -= hem.girth
        if all(abs(at - x) > _SAME_PLACE_MM for x in out):
            out.append(at)
    return tuple(out)
