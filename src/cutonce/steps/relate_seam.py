"""Relate the two sides of a seam: equal, eased, gathered, pleated, stretched; and notch it."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Relation, Seam, Side
from cutonce.draft.span import EdgeMark
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import PositiveLength, Ratio, Share
from cutonce.reshape.fullness import turned_seam
from cutonce.reshape.partners import seam_at
from cutonce.reshape.places import Chain, chain
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step


class RelateSeam(Params):
    """Which seam, by the edge of its fuller side, and how the two sides are meant to differ."""

    fuller: EdgeParams = Field(description="an edge of the seam: the side that is eased, gathered or pleated")
    relation: Literal["equal", "ease", "gather", "pleat", "stretch"] = Field(
        description="how it is sewn to its partner; stretch: it is the shorter one"
    )
    amount: PositiveLength | None = Field(
        None, description="how much longer it is (shorter, for stretch); left out: as it is now"
    )
    ratio: Ratio | None = Field(
        None, description="gather: its length over its partner's; left out: as it is now"
    )
    notches: tuple[Share, ...] = Field((), description="notches on both sides at these shares of the seam")


def apply(draft: Draft, params: RelateSeam, step: str) -> Result:
    run = chain(draft, params.fuller.piece, params.fuller.edge, params.fuller.wearer)
    label = run.spans[0].label
    found = seam_at(draft, run.piece.key, label)
    if found is None:
        raise CannotApply("no-seam", run.name, "this edge is not sewn to another")
    seam, mine, other = found
    longer, shorter = draft.side_length(mine), draft.side_length(other)
    relation = _relation(params, longer, shorter, run.name)
    if mine != seam.a and relation.kind != "equal":
        draft, seam = turned_seam(draft, seam)
    new = replace(seam, relation=relation)
    at = draft.seams.index(seam)
    draft = replace(draft, seams=(*draft.seams[:at], new, *draft.seams[at + 1 :]))
    draft = _notched(draft, mine, other, params, seam)
    left = relation.left_over(longer, shorter)
    message = f"{longer:.1f} mm sewn to {shorter:.1f} mm: {relation.words()}"
    if abs(left) > TOLD_MM:
        message += f"; {abs(left):.1f} mm {'too long' if left > 0 else 'too short'} for that"
    return Result(draft, (Finding("note", "seam-related", f"{run.piece.key}, {label.key}", message, step),))


def _relation(params: RelateSeam, longer: float, shorter: float, where: str) -> Relation:
    if params.ratio is not None and params.relation != "gather":
        raise CannotApply("relation", where, "'ratio' is for a gather only", "give 'amount' instead")
    match params.relation:
        case "equal":
            if params.amount is not None:
                raise CannotApply("relation", where, "equal sides take no 'amount'")
            return Relation()
        case "gather":
            if params.amount is not None:
                raise CannotApply("relation", where, "a gather is stated by 'ratio', not by 'amount'")
            if params.ratio is not None and params.ratio < 1:
                message = f"a gather's ratio is 1 or more, not {params.ratio:.4g}"
                raise CannotApply("relation", where, message, "name the edge of the fuller side")
            return Relation("gather", ratio=params.ratio or longer / shorter)
        case "stretch":
            return Relation("stretch", longer - shorter if params.amount is None else -params.amount)
        case _:
            return Relation(params.relation, longer - shorter if params.amount is None else params.amount)


def _notched(draft: Draft, mine: Side, other: Side, params: RelateSeam, seam: Seam) -> Draft:
    """Notches at equal shares of both sides, walked from the start of `mine` and the end of `other`."""
    for k, share in enumerate(params.notches, start=1):
        name = f"{seam.name} {k}"
        for side, at in ((mine, share), (other, 1 - share)):
            piece = draft.piece(side.piece)
            draft = draft.with_pieces([_with_mark(piece, side, at, name)])
    return draft


def _with_mark(piece: Piece, side: Side, share: float, name: str) -> Piece:
    spans = tuple(s for label in side.labels for s in piece.edge(label))
    run = Chain(piece, spans)
    origin, at = run.spot(run.length * share).on_cloth
    return replace(piece, marks=(*piece.marks, EdgeMark(name, origin, at)))


def sentence(params: RelateSeam) -> str:
    how = {
        "equal": "Sew {} to its partner edge to edge",
        "ease": "Ease {} into its partner",
        "gather": "Gather {} to its partner",
        "pleat": "Pleat {} to its partner",
        "stretch": "Stretch {} onto its partner",
    }[params.relation].format(params.fuller.words())
    if params.ratio is not None:
        how += f", {params.ratio:g} to 1"
    elif params.amount is not None:
        how += f", by {params.amount:.4g} mm"
    return how + (f", with {len(params.notches)} notches." if params.notches else ".")


STEP = Step(
    name="relate_seam",
    title="Relate the sides of a seam",
    purpose=(
        "Say how the two sides of a seam are meant to differ, so that ease, a gather and an error never look "
        "alike; and set notches at equal shares of both sides."
    ),
    holds="No edge changes; what is left of the difference after the relation is what the checks report.",
    params=RelateSeam,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The side seam edge to edge, notched at its quarters",
            params={
                "fuller": {"piece": "front", "edge": "side"},
                "relation": "equal",
                "notches": [0.25, 0.5, 0.75],
            },
            because="Only the relation is stated and notches are set.",
        ),
    ),
)
