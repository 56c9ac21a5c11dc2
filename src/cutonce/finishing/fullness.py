"""How the fullness of an edge is taken up when it is sewn, on both sides of the seam: words and lengths."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Seam
from cutonce.draft.span import Label
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.units import show


@dataclass(frozen=True, slots=True)
class Taken:
    """The two lengths in mm of a seam whose sides differ: `mine` that of the edge's own side, `other` that of
    its partner. `worked` is True on the side that is gathered, eased, pleated or stretched."""

    seam: Seam
    mine: float
    other: float
    worked: bool


def taken(draft: Draft, piece: Piece, label: Label) -> Taken | None:
    """The first seam of an edge that is declared other than equal; None where there is none.

    The side that is worked is the longer one as declared, for a stretch the shorter one: side a unless the
    amount is negative or the ratio under 1. A gather without a ratio is of the side that is longer now.
    """
    for seam in draft.seams_of(piece.key, label):
        if seam.relation.kind == "equal" or seam.a == seam.b:
            continue
        a, b = draft.side_length(seam.a), draft.side_length(seam.b)
        on_a = seam.a.holds(piece.key, label)
        mine, other = (a, b) if on_a else (b, a)
        worked_a = _worked_a(seam, a, b)
        if worked_a is not None:
            return Taken(seam, mine, other, worked_a == on_a)
    return None


def _worked_a(seam: Seam, a: float, b: float) -> bool | None:
    relation = seam.relation
    if relation.kind == "gather":
        more = relation.ratio - 1 if relation.ratio else a - b
        return more > 0 if abs(more) > 1e-6 else None
    if abs(relation.more_mm) < TOLD_MM:
        return None
    return (relation.more_mm > 0) != (relation.kind == "stretch")


def drawn_up(draft: Draft, piece: Piece, label: Label) -> Drawn | None:
    """What draws an edge up, or None."""
    return next((d for d in draft.drawn if (piece.key, label) in d.edges), None)


def drawn_with_partner(draft: Draft, piece: Piece, label: Label) -> bool:
    """Is the edge sewn edge to edge to one that is drawn up, and so drawn up with it?"""
    for seam in draft.seams_of(piece.key, label):
        sides = seam.seen_from(piece.key, label)
        if sides is None or seam.relation.kind != "equal":
            continue
        if any((sides[1].piece, e) in d.edges for d in draft.drawn for e in sides[1].labels):
            return True
    return False


def fullness_words(draft: Draft, piece: Piece, label: Label) -> str:
    """What to do with an edge's fullness beside sewing it; "" where there is none.

    Lengths are those on the paper: of one half where the piece is cut on the fold, of all edges of the side
    where it has several, and then said to be so.
    """
    drawn = drawn_up(draft, piece, label)
    seam = taken(draft, piece, label)
    said = [_drawn_words(drawn)] if drawn else []
    if drawn is None and drawn_with_partner(draft, piece, label):
        said.append("drawn up with its partner")
    if seam is not None and not (drawn and seam.worked):
        side = next(s for s in (seam.seam.a, seam.seam.b) if s.holds(piece.key, label))
        whole = f", over {len(side.labels)} edges" if len(side.labels) > 1 else ""
        said.append(_seam_words(seam) + whole)
    if said and meets_fold(piece, label):
        said[-1] += ", each half"
    return "; ".join(said)


def _drawn_words(drawn: Drawn) -> str:
    to = show(drawn.to_mm, "mm")
    words = f"gather to {to}" if drawn.by == "gathering" else f"draw up to {to} by {drawn.by}"
    return f"{words}, over {len(drawn.edges)} edges" if len(drawn.edges) > 1 else words


def _seam_words(seam: Taken) -> str:
    kind = seam.seam.relation.kind
    amount = show(abs(seam.seam.relation.more_mm), "mm")
    if seam.worked:
        match kind:
            case "gather":
                return f"gather to {show(seam.other, 'mm')}"
            case "ease":
                return f"ease {amount} in"
            case "pleat":
                return f"pleat {amount}"
            case _:
                return f"stretch {amount} onto its partner"
    match kind:
        case "gather":
            return f"takes a gathered edge of {show(seam.other, 'mm')}"
        case "ease":
            return f"takes an edge eased by {amount}"
        case "pleat":
            return f"takes an edge pleated by {amount}"
        case _:
            return f"takes an edge stretched by {amount}"


def sewn_length(draft: Draft, piece: Piece, label: Label) -> float:
    """Length in mm of an edge once it is sewn: its partner's where it is worked (its share of it where the
    side has several edges), what it is drawn up to, else its own."""
    size = piece.edge_length(label)
    drawn = drawn_up(draft, piece, label)
    if drawn is not None:
        return size * drawn.to_mm / sum(draft.piece(k).edge_length(e) for k, e in drawn.edges)
    seam = taken(draft, piece, label)
    return size * seam.other / seam.mine if seam and seam.worked else size


def meets_fold(piece: Piece, label: Label) -> bool:
    """Does the edge end on the fold of a half piece, so that the cloth has it twice?"""
    if piece.cut != "fold" or piece.fold is None:
        return False
    outline = [s.label for s in piece.outline if s.label.role != "dart leg"]
    pairs = zip(outline, [*outline[1:], outline[0]], strict=True)
    return any({a, b} == {label, piece.fold} for a, b in pairs)
