"""Laying one piece against another along an edge and making them one."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Side
from cutonce.draft.span import Gone, Label, Origin, Span
from cutonce.errors import CannotApply
from cutonce.geometry.meet import farthest_apart
from cutonce.geometry.motion import Motion, laying, shifting
from cutonce.geometry.path import with_end, with_start
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.edge_names import renamed, tidied
from cutonce.reshape.grown_seams import seams_grown_together
from cutonce.reshape.places import Chain
from cutonce.reshape.soundness import crossing


@dataclass(frozen=True, slots=True)
class Joined:
    """`draft` after, the joined piece's key, the motion of the piece that was laid on, and the widest gap
    there was between the two edges."""

    draft: Draft
    key: str
    motion: Motion
    gap_mm: float


def join(draft: Draft, still: Chain, laid: Chain, name: str, within: float, step: str) -> Joined:
    """Lay the piece of `laid` against that of `still` along those edges, and make them one called `name`.

    The piece laid on moves rigidly. Raises CannotApply where the edges differ by more than `within` mm, are
    sewn to others, have darts on them, or where the pieces would lie over each other.
    """
    one, two = still.piece, laid.piece
    if one.key == two.key:
        raise CannotApply(
            "same-piece", one.key, "a piece cannot be joined to itself", "name edges of two pieces"
        )
    _refuse_darts(still)
    _refuse_darts(laid)
    if one.fold and two.fold:
        raise CannotApply(
            "two-folds", one.key, f"both {one.key} and {two.key} lie on a fold", "unfold them first"
        )
    seam = _seam_between(draft, still, laid)
    motion = _laid_on(still, laid)
    gap = farthest_apart([s.curve for s in still.spans], [s.curve.moved(motion) for s in laid.spans])
    if gap > within:
        raise CannotApply(
            "edges-differ",
            still.name,
            f"the edges are {still.length:.1f} and {laid.length:.1f} mm and lie up to {gap:.1f} mm apart",
            f"true them first, or allow {gap:.1f} mm",
        )
    draft = replace(draft, seams=tuple(s for s in draft.seams if s.name != seam))
    draft, two, laid = _with_own_names(draft, one, two, laid)
    joined = _made_one(one, two, still, laid, motion, name)
    if two.fold:
        joined = joined.moved(motion.inverse())
    if crossing(joined) is not None:
        raise CannotApply("pieces-overlap", one.key, f"the {two.key} would lie over the {one.key}")
    draft = _in_place(draft, one, two, joined, _tombstones(still, laid, joined, step))
    gone = {seam} if seam else set()
    draft = seams_grown_together(tidied(draft, joined.key, gone), joined.key)
    return Joined(draft, joined.key, motion, gap)


def _refuse_darts(run: Chain) -> None:
    outline = run.piece.outline
    for a, b in zip(run.spans, run.spans[1:], strict=False):
        after = outline[(outline.index(a) + 1) % len(outline)]
        if after != b:
            raise CannotApply("dart-on-edge", run.name, f"the {after.label.key} opens on it", "move it first")


def _seam_between(draft: Draft, still: Chain, laid: Chain) -> str:
    """The name of the seam that is retired; "" where the edges are sewn to nothing."""
    wanted = {
        (c.piece.key, label) for c in (still, laid) for label in dict.fromkeys(s.label for s in c.spans)
    }
    for seam in draft.seams:
        sewn = {(side.piece, e) for side in (seam.a, seam.b) for e in side.labels}
        if sewn == wanted:
            return seam.name
        if sewn & wanted:
            raise CannotApply(
                "sewn-elsewhere",
                still.name,
                f"the seam '{seam.name}' sews {' and '.join(sorted(f'{p}, {e.key}' for p, e in sewn))}",
                "join the two sides of one seam, each whole",
            )
    return ""


def _laid_on(still: Chain, laid: Chain) -> Motion:
    """The end of one on the start of the other, in line, what their ends differ by shared at both."""
    a, b = still.spans[0].curve.start, still.spans[-1].curve.end
    p, q = laid.spans[-1].curve.end, laid.spans[0].curve.start
    lay = laying(p, q, a, b)
    return shifting((b - lay(q)) / 2).after(lay)


def _with_own_names(draft: Draft, one: Piece, two: Piece, laid: Chain) -> tuple[Draft, Piece, Chain]:
    """The second piece with labels, darts' names and origins that the first has not; parts are renumbered."""
    have = set(one.labels)
    change: dict[Label, Label] = {}
    for label in two.labels:
        if label in have:
            used = [e.part for e in (*have, *two.labels, *change.values()) if e.same_edge(label)]
            change[label] = replace(label, part=max(used) + 1)
    names = {d.label for d in one.darts}
    change |= {d.label: replace(d.label, name=f"{two.name} {d.name}") for d in two.darts if d.label in names}
    draft = renamed(draft, two.key, change)
    piece = draft.piece(two.key)
    darts = tuple(replace(d, name=change.get(d.label, d.label).name) for d in piece.darts)
    piece = _own_origins(replace(piece, darts=darts), one)
    at = [two.outline.index(s) for s in laid.spans]
    return draft.with_pieces([piece]), piece, Chain(piece, tuple(piece.outline[i] for i in at))


def _own_origins(piece: Piece, other: Piece) -> Piece:
    """Origins renamed whose stretches the other piece has too: a place must be found once."""
    taken = [(s.origin, min(s.lo, s.hi), max(s.lo, s.hi)) for s in other.outline]

    def clashes(s: Span) -> bool:
        low, high = min(s.lo, s.hi), max(s.lo, s.hi)
        return any(
            o == s.origin and low < b - SAME_POINT_MM and a + SAME_POINT_MM < high for o, a, b in taken
        )

    twice = {s.origin for s in piece.outline if clashes(s)}

    def own(o: Origin) -> Origin:
        return replace(o, name=f"{piece.key} {o.name}") if o in twice else o

    return replace(
        piece,
        outline=tuple(replace(s, origin=own(s.origin)) for s in piece.outline),
        marks=tuple(replace(m, origin=own(m.origin)) for m in piece.marks),
    )


def _made_one(one: Piece, two: Piece, still: Chain, laid: Chain, motion: Motion, name: str) -> Piece:
    a, b = still.spans[0].curve.start, still.spans[-1].curve.end
    first = _rest(one, still)
    second = [s.moved(motion) for s in _rest(two, laid)]
    second[0] = replace(second[0], curve=with_start(second[0].curve, a))
    second[-1] = replace(second[-1], curve=with_end(second[-1].curve, b))
    moved = two.moved(motion)
    return replace(
        one,
        name=name,
        wearer=one.wearer if one.wearer == two.wearer else None,
        outline=(*first, *second),
        cut="fold" if one.fold or two.fold else one.cut,
        fold=one.fold or two.fold,
        darts=one.darts + two.darts,
        double_darts=one.double_darts + moved.double_darts,
        marks=tuple(dict.fromkeys(one.marks + two.marks)),
        points=one.points + moved.points,
        lines=one.lines + moved.lines,
        flips=max(one.flips, two.flips),
    )


def _rest(piece: Piece, run: Chain) -> list[Span]:
    """The outline from a run's end round to its start."""
    outline = piece.outline
    after = (outline.index(run.spans[-1]) + 1) % len(outline)
    return list((outline[after:] + outline[:after])[: len(outline) - len(run.spans)])


def _in_place(draft: Draft, one: Piece, two: Piece, joined: Piece, gone: tuple[Gone, ...]) -> Draft:
    """The joined piece for the two, and everything that named them naming it."""
    taken = {p.key for p in draft.pieces} - {one.key, two.key}
    if joined.key in taken:
        raise CannotApply(
            "piece-name", one.key, f"there is a piece '{joined.key}' already", "choose another name"
        )
    keys = {one.key: joined.key, two.key: joined.key}

    def side(s: Side) -> Side:
        return replace(s, piece=keys.get(s.piece, s.piece))

    def moved(ref: EdgeRef) -> EdgeRef | None:
        piece, label = ref
        if piece not in keys:
            return ref
        return (joined.key, label) if label in joined.labels else None

    drawn = [replace(d, edges=tuple(new for ref in d.edges if (new := moved(ref)))) for d in draft.drawn]
    return replace(
        draft,
        pieces=tuple(joined if p.key == one.key else p for p in draft.pieces if p.key != two.key),
        seams=tuple(replace(s, a=side(s.a), b=side(s.b)) for s in draft.seams),
        finishes=tuple((new, f) for ref, f in draft.finishes if (new := moved(ref))),
        drawn=tuple(d for d in drawn if d.edges),
        gone=draft.gone + gone,
    )


def _tombstones(still: Chain, laid: Chain, joined: Piece, step: str) -> tuple[Gone, ...]:
    return tuple(
        Gone(key, s.label, s.origin, s.lo, s.hi, step, "joined the pieces along it")
        for run in (still, laid)
        for s in run.spans
        for key in dict.fromkeys((joined.key, run.piece.key))
    )
