"""Add a guide: a line or a point inside a piece, for later steps to use."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import InnerLine, Piece
from cutonce.draft.span import Landmark
from cutonce.errors import CannotApply, Finding
from cutonce.geometry import fit, path
from cutonce.reshape.places import Spot, resolve
from cutonce.reshape.soundness import off_piece
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.step import Example, Result, Step


class AddGuide(Params):
    """A name, and a place for a point, or two and more for a line."""

    name: str = Field(min_length=1, description="its name, by which later places find it")
    at: PlaceParams | None = Field(None, description="where a point lies")
    from_: PlaceParams | None = Field(None, alias="from", description="or where a line starts")
    to: PlaceParams | None = Field(None, description="where it ends")
    through: tuple[PlaceParams, ...] = Field((), description="places that the line passes, in order")
    kind: Literal["guide", "fold", "stitching"] = Field("guide", description="what a line is printed as")


def apply(draft: Draft, params: AddGuide, step: str) -> Result:
    if params.at is not None:
        return _point(draft, params, params.at, step)
    if params.from_ is None or params.to is None:
        raise CannotApply("guide", params.name, "say 'at' for a point, or 'from' and 'to' for a line")
    places = (params.from_, *params.through, params.to)
    spots = [resolve(draft, p.place()) for p in places]
    piece = _one_piece(draft, params, spots)
    points = [s.point for s in spots]
    if any(abs(a - b) < 1.0 for a, b in pairwise(points)):
        raise CannotApply("guide", piece.key, f"two places of the {params.name} lie at one point")
    curves = fit.through(points)
    _refuse_outside(piece, params.name, [c.at(k / 16) for c in curves for k in range(17)])
    line = InnerLine(params.name, curves, params.kind, params.from_.wearer)
    message = f"the {params.name} is {path.length(curves):.1f} mm long"
    new = replace(piece, lines=(*piece.lines, line))
    return Result(draft.with_pieces([new]), (Finding("note", "guide-added", piece.key, message, step),))


def _point(draft: Draft, params: AddGuide, at: PlaceParams, step: str) -> Result:
    if params.from_ is not None or params.to is not None or params.through:
        raise CannotApply(
            "guide", params.name, "say 'at' for a point, or 'from' and 'to' for a line, not both"
        )
    spot = resolve(draft, at.place())
    piece = draft.piece(spot.piece)
    if any(p.name == params.name and p.wearer == at.wearer for p in piece.points):
        raise CannotApply(
            "guide", piece.key, f"there is a point '{params.name}' already", "take another name"
        )
    _refuse_outside(piece, params.name, [spot.point])
    new = replace(piece, points=(*piece.points, Landmark(params.name, spot.point, at.wearer)))
    message = f"the point '{params.name}' is set"
    return Result(draft.with_pieces([new]), (Finding("note", "guide-added", piece.key, message, step),))


def _one_piece(draft: Draft, params: AddGuide, spots: list[Spot]) -> Piece:
    keys = {s.piece for s in spots}
    if len(keys) > 1:
        raise CannotApply(
            "other-piece", params.name, f"the line runs over {', '.join(sorted(keys))}; keep to one"
        )
    return draft.piece(spots[0].piece)


def _refuse_outside(piece: Piece, name: str, points: list[complex]) -> None:
    if off_piece(piece, points) is not None:
        raise CannotApply("outside", piece.key, f"the {name} leaves the piece", "move a place inward")


def sentence(params: AddGuide) -> str:
    if params.at is not None:
        return f"Mark the point '{params.name}' at {params.at.words()}."
    ends = [p.words() for p in (params.from_, *params.through, params.to) if p is not None]
    what = {"guide": "guide", "fold": "fold line", "stitching": "stitching line"}[params.kind]
    return (
        f"Draw the {what} '{params.name}' from {' by way of '.join(ends[:-1])} to {ends[-1] if ends else ''}."
    )


STEP = Step(
    name="add_guide",
    title="Add a guide",
    purpose=(
        "Draw a line inside a piece from place to place, or mark a point, by landmarks; later steps can "
        "start from it, and it is printed."
    ),
    holds="The outline is as it was; the guide moves with its part of the piece from now on.",
    params=AddGuide,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A point 6 cm toward the side from the bust point",
            params={
                "name": "pocket corner",
                "at": {"piece": "front", "point": "bust point", "out": "6 cm"},
            },
            because="A guide changes no edge.",
        ),
        Example(
            title="A line across the skirt front at half its side below the hip",
            block="skirt",
            params={
                "name": "band",
                "from": {
                    "piece": "skirt front",
                    "edge": "centre front",
                    "from": "waist",
                    "share": 0.7,
                },
                "to": {"piece": "skirt front", "edge": "side", "from": "waist", "share": 0.7},
            },
            because="A guide changes no edge.",
        ),
    ),
)
