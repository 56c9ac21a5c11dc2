"""The seams of a typed outline: those it names, and the centre seam of a piece cut as a pair."""

from __future__ import annotations

from collections.abc import Sequence

from cutonce.blocks.outline_model import Outline, OutlineSeam, OutlineSide
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Relation, Seam, Side
from cutonce.draft.span import CENTRES, Label
from cutonce.errors import BadInput, closest, quoted


def drawn_seams(outline: Outline, pieces: Sequence[Piece], where: str) -> tuple[Seam, ...]:
    """All seams. Raises BadInput: unknown-piece, unknown-edge, seam-relation, given-twice."""
    seams = [_seam(s, pieces, f"{where}, seam {quoted(s.name)}") for s in outline.seams]
    taken: dict[tuple[str, Label], str] = {}
    for seam in seams:
        for side in dict.fromkeys((seam.a, seam.b)):
            for label in side.labels:
                other = taken.setdefault((side.piece, label), seam.name)
                if other != seam.name:
                    message = f"edge {quoted(label.key)} of {side.piece} is in seam {quoted(other)} already"
                    raise BadInput("given-twice", f"{where}, seam {quoted(seam.name)}", message)
    for piece in pieces:
        centre = next((label for label in piece.labels if label.role in CENTRES), None)
        if piece.cut == "pair" and centre is not None and (piece.key, centre) not in taken:
            side = Side(piece.key, (centre,))
            seams.append(Seam(centre.name, side, side))
    return tuple(seams)


def _seam(said: OutlineSeam, pieces: Sequence[Piece], where: str) -> Seam:
    if said.relation in ("ease", "pleat") and said.more <= 0:
        raise BadInput("seam-relation", where, f"{said.relation} needs 'more': how much longer a is")
    if said.relation == "stretch" and said.more >= 0:
        raise BadInput("seam-relation", where, "stretch needs a 'more' below 0: how much shorter a is")
    if said.relation in ("equal", "gather") and said.more:
        raise BadInput("seam-relation", where, f"{said.relation} takes no 'more'")
    if said.ratio is not None and said.relation != "gather":
        raise BadInput("seam-relation", where, f"only gather takes a 'ratio', not {said.relation}")
    relation = Relation(said.relation, said.more, said.ratio or 0.0)
    return Seam(said.name, _side(said.a, pieces, where), _side(said.b, pieces, where), relation)


def _side(said: OutlineSide, pieces: Sequence[Piece], where: str) -> Side:
    fits = [p for p in pieces if said.piece in (p.key, p.name) and p.wearer in (None, said.wearer, p.wearer)]
    piece = next((p for p in fits if p.wearer in (None, said.wearer)), fits[0] if fits else None)
    if piece is None:
        have = ", ".join(p.key for p in pieces)
        raise BadInput("unknown-piece", where, f"no piece {quoted(said.piece)}; there are: {have}")
    labels: list[Label] = []
    for name in said.edges:
        found = [e for e in piece.labels if name in (e.key, e.name) and said.wearer in (None, e.wearer)]
        if len(found) != 1:
            what = "more than one edge" if found else "no edge"
            raise BadInput(
                "unknown-edge",
                where,
                f"{what} {quoted(name)} on {piece.key}{closest(name, [e.key for e in piece.labels])}",
                f"it has: {piece.edge_names()}",
            )
        labels.append(found[0])
    order = [e for e in piece.labels if e in labels]
    return Side(piece.key, tuple(order))
