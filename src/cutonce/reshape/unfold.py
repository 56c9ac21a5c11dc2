"""From half pieces to the whole garment: joining a half to its mirror image, or to the other half."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Gone, Label, Origin, Span, Wearer
from cutonce.errors import CannotApply
from cutonce.geometry.motion import reflecting
from cutonce.reshape.recombine import starting_at
from cutonce.reshape.seams import relabelled

_CENTRE_SLACK_MM = 0.1


def unfolded(draft: Draft, apart: Sequence[str], step: str) -> Draft:
    """Whole pieces with the wearer's left and right named.

    Half pieces are joined along the centre edge, but those named in `apart` become a left and a right piece
    with a centre seam. Raises CannotApply where the two halves' centre edges differ.
    """
    if draft.unfolded:
        raise CannotApply("unfolded", "", "the pieces are unfolded already")
    other = draft.twin or draft
    pieces: list[Piece] = []
    gone: list[Gone] = []
    for half in draft.pieces:
        left = _sided(half, "left")
        right = _mirrored(other.piece(half.key))
        centre = centre_label(half)
        if centre is None or half.name in apart or half.cut == "pair":
            pieces += [replace(left, wearer="left", cut="single", fold=None)]
            pieces += [replace(right, wearer="right", cut="single", fold=None)]
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
        seams=_seams(draft, whole),
        finishes=tuple((r, f) for ref, f in draft.finishes for r in _both(ref, whole)),
        drawn=tuple(
            replace(d, name=f"{w} {d.name}", edges=tuple(_one(ref, w, whole) for ref in d.edges))
            for d in draft.drawn
            for w in _SIDES
        ),
        openings=tuple(o for o in draft.openings),
        gone=draft.gone + tuple(gone),
        twin=None,
        unfolded=True,
    )


_SIDES: tuple[Wearer, Wearer] = ("left", "right")


def centre_label(half: Piece) -> Label | None:
    """The label of a half piece's centre edge, or None."""
    return next((e for e in half.labels if e.role in ("centre front", "centre back")), None)


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
    return replace(_sided(half.moved(reflecting(0j, 1j)), "right"), flips=half.flips)


def _joined(half: Piece, left: Piece, right: Piece, centre: Label) -> Piece:
    left_centre, right_centre = replace(centre, wearer="left"), replace(centre, wearer="right")
    a, b = left.edge(left_centre), right.edge(right_centre)
    if abs(left.edge_length(left_centre) - right.edge_length(right_centre)) > _CENTRE_SLACK_MM:
        raise CannotApply(
            "centres-differ",
            half.key,
            f"the {centre.name} is {left.edge_length(left_centre):.1f} mm on the left half and "
            f"{right.edge_length(right_centre):.1f} mm on the right",
        )
    bowed = max(abs(p.real) for s in (*a, *b) for p in (s.curve.start, s.curve.at(0.5), s.curve.end))
    if bowed > _CENTRE_SLACK_MM:
        raise CannotApply(
            "centre-not-straight",
            half.key,
            f"the {centre.name} leaves the straight by {bowed:.1f} mm and cannot lie on a fold",
            "keep a seam there",
        )
    first, second = _after(left, left_centre), _after(right, right_centre)
    joined = [*first]
    for span in second:
        joined.append(replace(span, curve=starting_at(span.curve, joined[-1].curve.end)))
    joined[0] = replace(joined[0], curve=starting_at(joined[0].curve, joined[-1].curve.end))
    return replace(
        left,
        outline=tuple(joined),
        wearer=None,
        cut="single",
        fold=None,
        flips=0,
        darts=left.darts + right.darts,
        double_darts=left.double_darts + right.double_darts,
        marks=left.marks + right.marks,
        points=left.points + right.points,
        lines=left.lines + right.lines,
        grain=replace(left.grain, at=1j * left.grain.at.imag),
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
    if ref[1].role in ("centre front", "centre back") and ref[0] in whole:
        return ()
    return tuple(_one(ref, w, whole) for w in _SIDES)


def _side(side: Side, wearer: Wearer, whole: set[str]) -> Side:
    refs = [_one((side.piece, label), wearer, whole) for label in side.labels]
    order = refs if wearer == "left" else refs[::-1]
    return Side(order[0][0], tuple(label for _, label in order))


def _seams(draft: Draft, whole: set[str]) -> tuple[Seam, ...]:
    """Each seam once for the wearer's left and once for the right; a centre seam once, or not at all."""
    out: list[Seam] = []
    for seam in draft.seams:
        if seam.a == seam.b:
            if seam.a.piece not in whole:
                out.append(replace(seam, a=_side(seam.a, "left", whole), b=_side(seam.b, "right", whole)))
            continue
        for w in _SIDES:
            a, b = _side(seam.a, w, whole), _side(seam.b, w, whole)
            out.append(replace(seam, name=f"{w} {seam.name}", a=a, b=b))
    return tuple(out)
