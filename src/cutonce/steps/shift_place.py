"""Shift a place: lower an armhole, widen or deepen a neck, move a shoulder point, set a strap's width."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.quantities import Length, PositiveLength
from cutonce.reshape.places import chains, named_arc, pieces_named
from cutonce.reshape.shifting import (
    EdgeEnd,
    neighbour,
    partner_end,
    shift_in,
    shift_out,
    shift_within,
)
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step


class ShiftPlace(Params):
    """Which edge is redrawn, which of its ends moves along the edge beside it, and how far."""

    edge: EdgeParams = Field(description="the edge that is redrawn; on both sides where no wearer is named")
    end: str = Field(description="the edge beside the end that moves, or a landmark within the edge")
    by: Length = Field(
        description="how far: along the edge beside it, which gets shorter, or square into the piece; less "
        "than 0: outward"
    )
    partner: bool = Field(False, description="the partner follows by as much along the shared seam")
    reach: PositiveLength | None = Field(
        None, description="how much of the edge is redrawn; left out: all, or as far as the first dart"
    )

    @model_validator(mode="after")
    def _somewhere(self) -> Self:
        if self.by == 0:
            raise BadInput("out-of-range", "by", "'by' is 0: nothing would move")
        return self


def apply(draft: Draft, params: ShiftPlace, step: str) -> Result:
    pieces = pieces_named(draft, params.edge.piece, params.edge.wearer)
    ends = _ends(draft, pieces, params)
    if not ends:
        return _within(draft, pieces, params, step)
    said: list[Finding] = []
    for end in ends:
        draft, told = _shifted(draft, end, params, step)
        said += told
    return Result(draft, tuple(said))


def _ends(draft: Draft, pieces: tuple[Piece, ...], params: ShiftPlace) -> list[EdgeEnd]:
    """The ends of every edge of that name that lie beside the edge named."""
    out: list[EdgeEnd] = []
    for run in chains(draft, pieces, params.edge.edge, params.edge.wearer):
        for label in dict.fromkeys(s.label for s in run.spans):
            for at_start in (True, False):
                end = EdgeEnd(run.piece.key, label, at_start)
                if _is_called(_beside(run.piece, end), params.end):
                    out.append(end)
    return out


def _beside(piece: Piece, end: EdgeEnd) -> Label:
    run, spans = piece.edge(end.edge), piece.outline
    k = spans.index(run[0]) - 1 if end.at_start else (spans.index(run[-1]) + 1) % len(spans)
    return spans[k].label


def _is_called(label: Label, name: str) -> bool:
    return name in (label.name, label.role, label.key)


def _shifted(draft: Draft, end: EdgeEnd, params: ShiftPlace, step: str) -> tuple[Draft, list[Finding]]:
    """One end moved, and its partner's; what there is to say."""
    beside = neighbour(draft, end).label
    partner = partner_end(draft, end)
    if params.partner and partner is None:
        raise CannotApply(
            "no-partner",
            end.piece,
            f"no partner's edge meets the {end.edge.key} at the {beside.key}",
            "leave 'partner' out",
        )
    both = [(end, params.by)]
    if params.partner and partner is not None:
        theirs = neighbour(draft, partner).label
        share = draft.piece(partner.piece).edge_length(theirs) / draft.piece(end.piece).edge_length(beside)
        both.append((partner, params.by * share))
    said: list[Finding] = []
    for each, by in both:
        was = draft.piece(each.piece).edge_length(each.edge)
        if by > 0:
            draft = shift_in(draft, each, by, params.reach or was, step)
        else:
            draft = shift_out(draft, each, -by, params.reach or was, step)
        now = draft.piece(each.piece).edge_length(each.edge)
        way = "shorter" if by > 0 else "longer"
        text = (
            f"the {each.edge.key} is {now:.1f} mm, was {was:.1f}; the {beside.key} is {abs(by):.1f} mm {way}"
        )
        said.append(Finding("note", "place-shifted", each.piece, text, step))
    if partner is not None and not params.partner:
        behind = f"{partner.piece}'s {partner.edge.key}"
        text = f"the {behind} did not follow: {abs(params.by):.1f} mm have no partner"
        said.append(Finding("warning", "partner-behind", end.piece, text, step, "say partner = true"))
    return draft, said


def _within(draft: Draft, pieces: tuple[Piece, ...], params: ShiftPlace, step: str) -> Result:
    """A place within the edge, such as a whole front's neck at the centre front, moved square to it."""
    found = chains(draft, pieces, params.edge.edge, params.edge.wearer)
    if len(found) > 1:
        names = "; ".join(run.name for run in found)
        raise CannotApply(
            "ambiguous",
            "",
            f"'{params.edge.edge}' fits {len(found)} edges: {names}",
            "name the wearer's side",
        )
    run = found[0]
    if params.partner:
        raise CannotApply(
            "no-partner", run.name, f"the {params.end} lies within the edge: no partner can follow"
        )
    arc = named_arc(draft, run, params.end, params.edge.wearer)
    new = shift_within(draft, run, arc, params.by, params.reach, step)
    labels = dict.fromkeys(s.label for s in run.spans)
    now = sum(new.piece(run.piece.key).edge_length(e) for e in labels)
    text = f"the {params.edge.edge} is {now:.1f} mm, was {run.length:.1f}"
    return Result(new, (Finding("note", "place-shifted", run.name, text, step),))


def sentence(params: ShiftPlace) -> str:
    way = "in" if params.by > 0 else "out"
    follows = "; the partner follows" if params.partner else ""
    over = f", over {params.reach:.4g} mm" if params.reach else ""
    what = f"the end of {params.edge.words()} at the {params.end}"
    return f"Move {what} {abs(params.by):.4g} mm {way}{over}{follows}."


STEP = Step(
    name="shift_place",
    title="Shift a place",
    purpose=(
        "Move the end of an edge along the edge beside it and redraw it: an armhole lowered at the side, a "
        "neck widened at the shoulder or lowered at the centre, a shoulder point moved, a strap made wider."
    ),
    holds=(
        "The corner keeps its angle and the edge runs on smoothly; where the partner follows, both sides of "
        "the seam lose or gain alike."
    ),
    params=ShiftPlace,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The armhole lowered by 2 cm at the side, front and back",
            params={
                "edge": {"piece": "front", "edge": "armhole"},
                "end": "side",
                "by": "2 cm",
                "partner": True,
            },
            changes=(("front", "side", -20.0), ("back", "side", -20.0)),
            because="Both side seams lose what the armholes go down by; only the armholes get longer.",
            rest_free=True,
        ),
        Example(
            title="The neck widened by 1.5 cm on the shoulder, front and back",
            params={
                "edge": {"piece": "front", "edge": "neck"},
                "end": "shoulder",
                "by": "1.5 cm",
                "partner": True,
            },
            changes=(("front", "shoulder", -15.0), ("back", "shoulder", -15.0)),
            because="Both shoulders lose 1.5 cm at the neck.",
            rest_free=True,
        ),
        Example(
            title="The neck lowered by 3 cm at the centre front",
            params={"edge": {"piece": "front", "edge": "neck"}, "end": "centre front", "by": "3 cm"},
            changes=(("front", "centre front", -30.0), ("front", "shoulder", 0.0)),
            because="The centre front loses 3 cm; the neck stays square to it.",
            rest_free=True,
        ),
    ),
)
