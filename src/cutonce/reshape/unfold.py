"""From half pieces to the whole garment: joining a half to its mirror image, or to the other half."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Opening, Seam, Side
from cutonce.draft.span import CENTRES, Gone, Label, Origin, Span, Wearer
from cutonce.errors import CannotApply
from cutonce.geometry.motion import MIRROR, laying, shifting
from cutonce.geometry.path import with_end
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.runs import closed
from cutonce.reshape.seams import relabelled

_CENTRE_SLACK_MM = 0.1
"""Centre edges that differ by less are brought together at their lower end; a tenth is a pencil line."""


def unfolded(draft: Draft, apart: Sequence[str], step: str) -> Draft:
    """Whole pieces with the wearer's left and right named.

    Half pieces are joined along the centre edge, but those named in `apart`, and those cut as a pair, become
    a left and a right piece with a centre seam. Raises CannotApply where a piece named is not there
    (no-piece), where the two halves' centre edges differ or one is not straight.
    """
    if draft.unfolded:
        raise CannotApply("unfolded", "", "the pieces are unfolded already", "leave this step out")
    for name in apart:
        draft.piece(name)
    other = draft.twin or draft
    pieces: list[Piece] = []
    gone: list[Gone] = []
    new_seams: list[Seam] = []
    for half in draft.pieces:
        centre = centre_label(half)
        left = _sided(_upright(half, centre), "left")
        right = _mirrored(_upright(other.piece(half.key), centre))
        if centre is None or half.name in apart or half.cut == "pair":
            pieces += [replace(left, wearer="left", cut="single", fold=None)]
            pieces += [replace(right, wearer="right", cut="single", fold=None)]
            if centre is not None and not draft.seams_of(half.key, centre):
                new_seams.append(Seam(centre.name, Side(half.key, (centre,)), Side(half.key, (centre,))))
            continue
        pieces.append(_joined(half, left, right, centre))
        gone += [
            Gone(half.key, s.label, s.origin, s.lo, s.hi, step, "joined the halves along it")
            for s in half.edge(centre)
        ]
    whole = {p.name for p in pieces if p.wearer is None}
    return replace(
        draft,
        pieces=tuple(pieces),
        seams=_seams((*draft.seams, *new_seams), whole),
        finishes=tuple((r, f) for ref, f in draft.finishes for r in _both(ref, whole)),
        drawn=tuple(_drawn(d, w, whole) for d in draft.drawn for w in _SIDES),
        openings=tuple(x for o in draft.openings for x in _openings(o, draft, other)),
        gone=draft.gone + tuple(gone),
        twin=None,
        unfolded=True,
    )


_SIDES: tuple[Wearer, Wearer] = ("left", "right")


def centre_label(half: Piece) -> Label | None:
    """The label of a half piece's centre edge, or None."""
    return next((e for e in half.labels if e.role in CENTRES), None)


def _sided(piece: Piece, wearer: Wearer) -> Piece:
    def of(label: Label) -> Label:
        return replace(label, wearer=wearer)

    def origin(o: Origin) -> Origin:
        return replace(o, wearer=wearer)

    named = relabelled(piece, of)
    return replace(
        named,
        outline=tuple(replace(s, origin=origin(s.origin)) for s in named.outline),
        darts=tuple(replace(d, wearer=wearer) for d in piece.darts),
        double_darts=tuple(replace(d, wearer=wearer) for d in piece.double_darts),
        marks=tuple(replace(m, origin=origin(m.origin)) for m in piece.marks),
        points=tuple(replace(p, wearer=wearer) for p in piece.points),
        lines=tuple(replace(x, wearer=wearer) for x in piece.lines),
    )


def _mirrored(half: Piece) -> Piece:
    """The right half: the left-hand drawing reflected in its centre line (the upright through x = 0).

    A reflection that makes the other hand is meant, so it is not counted.
    """
    return replace(_sided(half.moved(MIRROR), "right"), flips=half.flips)


def _upright(half: Piece, centre: Label | None) -> Piece:
    """The half laid with the chord of its centre edge on x = 0, where a step has turned or shifted it."""
    if centre is None:
        return half
    spans = half.edge(centre)
    ends = sorted((spans[0].curve.start, spans[-1].curve.end), key=lambda z: z.imag)
    if max(abs(z.real) for z in ends) < SAME_POINT_MM:
        return half
    low = 1j * ends[0].imag
    return half.moved(laying(ends[0], ends[1], low, low + 1j))


def _joined(half: Piece, left: Piece, right: Piece, centre: Label) -> Piece:
    left_centre, right_centre = replace(centre, wearer="left"), replace(centre, wearer="right")
    a, b = left.edge(left_centre), right.edge(right_centre)
    _refuse_unlike(half, centre, a, b)
    first, second = _after(left, left_centre), _after(right, right_centre)
    right = right.moved(shifting(first[-1].curve.end - second[0].curve.start))
    second = _after(right, right_centre)
    last = replace(second[-1], curve=with_end(second[-1].curve, first[0].curve.start))
    origins = {s.origin for s in (*a, *b)}
    heights = [z.imag for s in a for z in (s.curve.start, s.curve.end)]
    on_fold = min(max(left.grain.at.imag, min(heights)), max(heights))
    return replace(
        left,
        outline=closed((*first, *second[:-1], last)),
        wearer=None,
        cut="single",
        fold=None,
        darts=left.darts + right.darts,
        double_darts=left.double_darts + right.double_darts,
        marks=tuple(m for m in left.marks + right.marks if m.origin not in origins),
        points=left.points + right.points,
        lines=left.lines + right.lines,
        grain=replace(left.grain, at=1j * on_fold),
    )


def _refuse_unlike(half: Piece, centre: Label, a: Sequence[Span], b: Sequence[Span]) -> None:
    """Raise CannotApply unless both centre edges are straight and of one length."""
    one, two = sum(s.length for s in a), sum(s.length for s in b)
    if abs(one - two) > _CENTRE_SLACK_MM:
        raise CannotApply(
            "centres-differ",
            half.key,
            f"the {centre.name} is {one:.1f} mm on the left half and {two:.1f} mm on the right",
            "make them alike first, or keep the halves apart",
        )
    bowed = max(abs(s.curve.at(t).real) for s in (*a, *b) for t in (0.0, 0.25, 0.5, 0.75, 1.0))
    if bowed > _CENTRE_SLACK_MM:
        raise CannotApply(
            "centre-not-straight",
            half.key,
            f"the {centre.name} leaves the straight by {bowed:.1f} mm and cannot lie on a fold",
            "keep the halves apart, with a seam there",
        )


def _after(piece: Piece, centre: Label) -> tuple[Span, ...]:
    """The outline from the end of the centre edge round to its start."""
    spans = piece.outline
    n = len(spans)
    first = next(i for i in range(n) if spans[i].label == centre and spans[(i + 1) % n].label != centre)
    turned = spans[first + 1 :] + spans[: first + 1]
    return tuple(s for s in turned if s.label != centre)


def _one(ref: EdgeRef, wearer: Wearer, whole: set[str]) -> EdgeRef:
    piece, label = ref
    return (piece if piece in whole else f"{wearer} {piece}", replace(label, wearer=wearer))


def _both(ref: EdgeRef, whole: set[str]) -> tuple[EdgeRef, ...]:
    if ref[1].role in CENTRES and ref[0] in whole:
        return ()
    return tuple(_one(ref, w, whole) for w in _SIDES)


def _side(side: Side, wearer: Wearer, whole: set[str]) -> Side:
    refs = [_one((side.piece, label), wearer, whole) for label in side.labels]
    order = refs if wearer == "left" else refs[::-1]
    return Side(order[0][0], tuple(label for _, label in order))


def _seams(seams: Sequence[Seam], whole: set[str]) -> tuple[Seam, ...]:
    """Each seam once for the wearer's left and once for the right; a centre seam once, or not at all."""
    out: list[Seam] = []
    for seam in seams:
        if seam.a == seam.b:
            if seam.a.piece not in whole:
                out.append(replace(seam, a=_side(seam.a, "left", whole), b=_side(seam.b, "right", whole)))
            continue
        for w in _SIDES:
            a, b = _side(seam.a, w, whole), _side(seam.b, w, whole)
            out.append(replace(seam, name=f"{w} {seam.name}", a=a, b=b))
    return tuple(out)


def _openings(opening: Opening, draft: Draft, other: Draft) -> tuple[Opening, ...]:
    """An opening in a seam that becomes two is in both; one in a centre seam stays as it is."""
    seam = next((s for s in draft.seams if s.name == opening.seam), None)
    if seam is None or seam.a == seam.b:
        return (opening,)
    start = other.side_length(seam.a) - opening.start_mm - opening.length_mm
    return (
        replace(opening, seam=f"left {seam.name}"),
        replace(opening, seam=f"right {seam.name}", start_mm=start),
    )


def _drawn(drawn: Drawn, wearer: Wearer, whole: set[str]) -> Drawn:
    edges = tuple(_one(ref, wearer, whole) for ref in drawn.edges)
    return replace(drawn, name=f"{wearer} {drawn.name}", edges=edges if wearer == "left" else edges[::-1])
