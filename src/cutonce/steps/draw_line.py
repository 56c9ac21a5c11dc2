"""Draw a style line: a new neckline, strap, armhole, yoke edge or top edge, cutting away what lies beyond."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Side
from cutonce.draft.span import EdgeRole, Label
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.reshape.corners import corner_words
from cutonce.reshape.drawn_line import DrawnLine, draw, keeps_left, keeps_left_of_place
from cutonce.reshape.keep_parts import free_label, keep_both, keep_part, with_ends_divided
from cutonce.reshape.places import Spot, resolve
from cutonce.steps.line_parameters import LineParams, PartNames, ends_of, line_words, shape_of
from cutonce.steps.parameters import PlaceParams
from cutonce.steps.step import Example, Result, Step


class DrawLine(LineParams):
    """The line, what the new edge is, and which part is kept."""

    role: EdgeRole = Field("style line", description="what the new edge is for")
    name: str = Field("", description="its name; left out: the same as its role")
    keep: Literal["above", "below", "centre", "side", "both"] | None = Field(
        None, description="the part that is kept"
    )
    keep_with: PlaceParams | None = Field(None, description="or a place that lies in the part kept")
    parts: PartNames | None = Field(None, description="where both are kept: their names")

    @model_validator(mode="after")
    def _which_part(self) -> Self:
        if (self.keep is None) == (self.keep_with is None):
            raise BadInput("which-part", "keep", "say which part is kept: either 'keep' or 'keep_with'")
        if (self.keep == "both") != (self.parts is not None):
            raise BadInput(
                "part-names", "parts", "'parts' names the two pieces where both are kept, else none"
            )
        if self.keep == "both" and self.depth and not self.toward:
            raise BadInput("line-shape", "toward", "both parts are kept: say which way the line bends")
        return self


def apply(draft: Draft, params: DrawLine, step: str) -> Result:
    piece, a, b = ends_of(draft, params.start, params.end)
    shape = shape_of(draft, params, piece, a, b)
    left = _keeps_left(draft, params, piece, a, b)
    draft = with_ends_divided(draft, (a, b))
    piece = draft.piece(piece.key)
    label = free_label(piece, Label(params.name or params.role, params.role))
    drawn = draw(piece, a, b, shape, left, label, step, both=params.parts is not None)
    one, two = (drawn.left, drawn.right) if left else (drawn.right, drawn.left)
    if params.parts is not None:
        named = tuple(replace(p, name=n) for p, n in zip((one, two), params.parts.names, strict=True))
        new, seam = keep_both(draft, piece.key, (named[0], named[1]), label, label.name, step)
        return Result(new, (_said(new, seam.a, drawn, step),))
    why = f"drew the {label.name} and cut away what lay beyond it"
    cut = keep_part(draft, piece.key, one, two, label, step, why)
    return Result(cut.draft, (_said(cut.draft, Side(piece.key, cut.edge), drawn, step), *cut.findings))


def _keeps_left(draft: Draft, params: DrawLine, piece: Piece, a: Spot, b: Spot) -> bool:
    if params.keep_with is not None:
        spot = resolve(draft, params.keep_with.place())
        if spot.piece != piece.key:
            raise CannotApply("other-piece", piece.key, f"{params.keep_with.words()} is not in this piece")
        return keeps_left_of_place(piece, a, b, spot)
    if params.parts is not None:
        return keeps_left(piece, a, b, params.parts.first)
    if params.keep is None or params.keep == "both":
        raise ValueError("refused by the parameters")
    return keeps_left(piece, a, b, params.keep)


def _said(draft: Draft, edge: Side, drawn: DrawnLine, step: str) -> Finding:
    piece = draft.piece(edge.piece)
    corners = corner_words(piece, edge.labels)
    text = f"the {edge.labels[0].name} is {draft.side_length(edge):.1f} mm long, {corners}"
    if drawn.folded:
        text += f"; drawn with the {' and the '.join(drawn.folded)} folded"
    return Finding("note", "line-drawn", piece.key, "; ".join((text, *drawn.said)), step)


def sentence(params: DrawLine) -> str:
    name = params.name or params.role
    if params.parts is not None:
        kept = f" and keep both parts, {params.parts.names[0]} and {params.parts.names[1]}"
    elif params.keep_with is not None:
        kept = f" and keep the part with {params.keep_with.words()}"
    else:
        what = f"what lies {params.keep}" if params.keep in ("above", "below") else f"the {params.keep} part"
        kept = f" and keep {what}"
    return f"Draw the {name} {line_words(params.start, params.end, params)}{kept}."


_BACK_NECKLINE = {
    "start": {"piece": "back", "edge": "shoulder", "from": "neck", "by": "3 cm"},
    "end": {"piece": "back", "edge": "centre back", "from": "neck", "by": "6 cm"},
    "leave": "square",
    "arrive": "square",
    "role": "neck",
    "keep": "below",
}

STEP = Step(
    name="draw_line",
    title="Draw a style line",
    purpose=(
        "Draw a new neckline, strap, armhole, yoke edge or top edge between two places on the edges of a "
        "piece, with the darts in its way folded, and cut away what lies beyond it, or keep both parts."
    ),
    holds=(
        "The line ends on the edges at the places given, square or along them as asked; edges, darts and "
        "seams that fall away are told, and every other edge keeps its length within 0.01 mm."
    ),
    params=DrawLine,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A lower and wider back neckline",
            params=_BACK_NECKLINE,
            changes=(
                ("back", "shoulder", -30.0),
                ("back", "centre back", -60.0),
                ("front", "shoulder", -30.0),
                ("front", "shoulder 2", 30.0),
            ),
            because=(
                "The shoulder loses what the line cuts off; the front's shoulder is divided where it is sewn "
                "to the line's end, ready for its own neckline. Only the neck has a length of its own."
            ),
            rest_free=True,
        ),
        Example(
            title="The front neckline that meets it, smooth across the shoulder",
            before=({"do": "draw_line", **_BACK_NECKLINE},),
            params={
                "start": {"piece": "front", "edge": "shoulder", "from": "neck", "by": "3 cm"},
                "end": {"piece": "front", "edge": "centre front", "from": "neck", "by": "8 cm"},
                "leave": "with partner",
                "arrive": "square",
                "role": "neck",
                "keep": "below",
            },
            changes=(("front", "shoulder", 0.0), ("front", "centre front", -80.0)),
            because="The shoulders were divided alike, 3 cm from the neck, so they still match.",
            rest_free=True,
        ),
        Example(
            title="A strapless top edge through the bust dart",
            params={
                "start": {"piece": "front", "edge": "centre front", "from": "neck", "by": "14 cm"},
                "end": {"piece": "front", "edge": "side", "from": "armhole", "by": "1 cm"},
                "depth": "2.5 cm",
                "toward": "up",
                "leave": "square",
                "arrive": "square",
                "name": "top",
                "role": "neck",
                "keep": "below",
            },
            changes=(
                ("front", "centre front", -140.0),
                ("front", "side", -10.0),
                ("back", "side", -10.0),
                ("back", "side 2", 10.0),
            ),
            because="What lies above goes; the dart is folded while the line is drawn: it sews up smooth.",
            rest_free=True,
        ),
    ),
)
