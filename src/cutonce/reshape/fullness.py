"""When an edge has become longer for the sake of fullness, its seam says so: ease, gathers or pleats."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn, Opening, Relation, Seam
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.reshape.partners import seam_at

Fullness = Literal["gather", "ease", "pleat"]


def with_fullness(draft: Draft, piece: str, label: Label, kind: Fullness, grown: float, name: str) -> Draft:
    """The draft in which an edge, now `grown` mm longer, is gathered, eased or pleated to what it is sewn to.

    What the seam left over before, it leaves over still. An edge without a partner is drawn up by gathering
    threads to its old length, as `name`; ease and pleats need a partner. Raises CannotApply (no-partner,
    own-partner).
    """
    found = seam_at(draft, piece, label)
    if found is None:
        return _drawn_up(draft, piece, label, kind, grown, name)
    seam, mine, other = found
    if mine == other:
        raise CannotApply(
            "own-partner",
            piece,
            f"the {label.key} is sewn to its own mirror image: both sides are fuller, neither takes it up",
            "choose an edge with another partner",
        )
    on_a = mine is seam.a
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    left = seam.relation.left_over(a - grown, b) if on_a else seam.relation.left_over(a, b - grown)
    if seam.relation.kind == "gather":
        return _with_seam(draft, seam, replace(seam, relation=Relation("gather", ratio=(a - left) / b)))
    if kind != "gather":
        more = seam.relation.more_mm + (grown if on_a else -grown)
        return _with_seam(draft, seam, replace(seam, relation=Relation(kind, more)))
    if not on_a:
        draft, seam = turned_seam(draft, seam)
        a, b, left = b, a, -left
    return _with_seam(draft, seam, replace(seam, relation=Relation("gather", ratio=(a - left) / b)))


def turned_seam(draft: Draft, seam: Seam) -> tuple[Draft, Seam]:
    """The same seam with its sides exchanged: what is measured from the start of side a is measured anew.

    The start of a meets the end of b; a stretch keeps its share of the length.
    """
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    scale = b / a
    relation = seam.relation
    if relation.kind == "gather":
        relation = replace(relation, ratio=1 / relation.ratio if relation.ratio else 0.0)
    new = Seam(seam.name, seam.b, seam.a, replace(relation, more_mm=-relation.more_mm))

    def opening(o: Opening) -> Opening:
        return replace(o, start_mm=b - (o.start_mm + o.length_mm) * scale, length_mm=o.length_mm * scale)

    openings = tuple(opening(o) if o.seam == seam.name else o for o in draft.openings)
    return _with_seam(replace(draft, openings=openings), seam, new), new


def _with_seam(draft: Draft, old: Seam, new: Seam) -> Draft:
    at = next(i for i, s in enumerate(draft.seams) if s.name == old.name)
    return replace(draft, seams=(*draft.seams[:at], new, *draft.seams[at + 1 :]))


def _drawn_up(draft: Draft, piece: str, label: Label, kind: Fullness, grown: float, name: str) -> Draft:
    if any((piece, label) in d.edges for d in draft.drawn):
        return draft  # its cord or thread draws it to the length that was asked for
    if kind != "gather":
        what = "pleats" if kind == "pleat" else "ease"
        raise CannotApply(
            "no-partner",
            piece,
            f"the {label.key} is sewn to nothing that could take {what} up",
            "gather it, which draws it to its old length",
        )
    edge = ((piece, label),)
    length = draft.piece(piece).edge_length(label) - grown
    return replace(draft, drawn=(*draft.drawn, Drawn(name, edge, length, "gathering")))
