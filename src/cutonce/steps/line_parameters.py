"""Shapes shared by the steps that draw a line on a piece: where it runs, how it leaves its ends."""

from __future__ import annotations

import math
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.errors import BadInput, CannotApply, quoted
from cutonce.quantities import Length, Ratio, Share, read_angle
from cutonce.reshape.drawn_line import Bend, Heading, Keep, Shape
from cutonce.reshape.partners import onward_from
from cutonce.reshape.places import Spot, outward_of, resolve
from cutonce.steps.parameters import Params, PlaceParams

_WORDS = ("free", "square", "along", "with partner")
_HOW = "'free', 'square' to the edge, 'along' it, 'with partner' (as the partner's line runs on), or '80 deg'"


def read_heading(value: object, info: ValidationInfo) -> str | float:
    """One of the words, or the angle of the corner in the kept part."""
    if isinstance(value, float) and (info.context or {}).get("trusted"):
        return value
    if isinstance(value, str) and value in _WORDS:
        return value
    try:
        return read_angle(value, info)
    except BadInput as problem:
        words = ", ".join(f"'{w}'" for w in _WORDS)
        raise BadInput(
            "not-a-heading",
            problem.where,
            f"{quoted(value)} is no way to leave an edge",
            f"say {words} or '80 deg'",
        ) from None


LineHeading = Annotated[
    str | float,
    BeforeValidator(read_heading),
    WithJsonSchema(
        {
            "type": "string",
            "description": (
                "'free', 'square' to the edge, 'along' it, 'with partner' (the partner's line runs on "
                "smoothly across the seam), or the corner's angle in the kept part"
            ),
            "examples": ["square", "80 deg"],
        }
    ),
]


class CourseParams(Params):
    """How a line runs: straight, through points, bent by a depth, or led by its headings."""

    through: tuple[PlaceParams, ...] = Field((), description="points that it goes through, in order")
    leave: LineHeading = Field("free", description=f"how it leaves its start: {_HOW}")
    arrive: LineHeading = Field("free", description="how it arrives at its end: the same words")
    depth: Length = Field(0.0, description="how far it bends away from the straight line at its deepest")
    toward: Literal["", "up", "down", "centre", "side"] = Field(
        "", description="which way it bends; left out: into the part kept"
    )
    deepest: Share = Field(0.5, description="where it is deepest, as a part of the way from its start")
    fullness: Ratio = Field(1.0, description="1: like a part of an ellipse; more is fuller, less is flatter")

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        if self.through and (self.depth or self.fullness != 1):
            raise BadInput(
                "line-shape",
                "through",
                "a line through points takes no 'depth' or 'fullness'",
                "leave one out",
            )
        if not 0.05 <= self.deepest <= 0.95:
            raise BadInput("line-shape", "deepest", "a line is deepest between 0.05 and 0.95 of its way")
        for name, value in (("leave", self.leave), ("arrive", self.arrive)):
            if isinstance(value, float) and not 0.05 < value < math.pi - 0.05:
                raise BadInput("out-of-range", name, "the corner must lie between 3 and 177 degrees")
        return self


class LineParams(CourseParams):
    """A line between two places on the edges of a piece."""

    start: PlaceParams = Field(description="where the line starts, on an edge")
    end: PlaceParams = Field(description="where it ends, on an edge of the same piece")


class PartNames(Params):
    """The names of the two parts of a piece: `{above = "yoke", below = "front"}` or by centre and side."""

    above: str = Field("", description="the name of the upper part")
    below: str = Field("", description="the name of the lower part")
    centre: str = Field("", description="the name of the part nearer the centre")
    side: str = Field("", description="the name of the part nearer the side")

    @model_validator(mode="after")
    def _a_pair(self) -> Self:
        if sum(bool(n) for n in (self.above, self.below, self.centre, self.side)) != 2 or bool(
            self.above
        ) != bool(self.below):
            raise BadInput(
                "part-names", "parts", "name both parts: 'above' and 'below', or 'centre' and 'side'"
            )
        if self.names[0] == self.names[1]:
            raise BadInput("part-names", "parts", f"both parts are called {quoted(self.names[0])}")
        return self

    @property
    def first(self) -> Keep:
        """Which part the first name belongs to."""
        return "above" if self.above else "centre"

    @property
    def names(self) -> tuple[str, str]:
        return (self.above, self.below) if self.above else (self.centre, self.side)


def ends_of(draft: Draft, start: PlaceParams, end: PlaceParams) -> tuple[Piece, Spot, Spot]:
    """The piece and the two places; raises CannotApply where they are not on edges of one piece."""
    a, b = resolve(draft, start.place()), resolve(draft, end.place())
    if a.piece != b.piece:
        raise CannotApply(
            "other-piece",
            a.piece,
            f"the line starts on the {a.piece} and ends on the {b.piece}",
            "keep to one piece",
        )
    for spot, place in ((a, start), (b, end)):
        if spot.label is None:
            raise CannotApply("not-on-edge", a.piece, f"{place.words()} lies inside", "a line ends on edges")
    return draft.piece(a.piece), a, b


def shape_of(draft: Draft, params: CourseParams, piece: Piece, a: Spot, b: Spot) -> Shape:
    """How the line runs, with places found and directions worked out."""
    points = [resolve(draft, p.place()) for p in params.through]
    for spot, place in zip(points, params.through, strict=True):
        if spot.piece != piece.key:
            raise CannotApply("other-piece", piece.key, f"the line cannot go through {place.words()}")
    bend = Bend(params.depth, _toward(params, piece, a), params.deepest) if params.depth else None
    return Shape(
        heading_of(draft, params.leave, a),
        heading_of(draft, params.arrive, b),
        tuple(s.point for s in points),
        bend,
        params.fullness,
    )


def _toward(params: CourseParams, piece: Piece, a: Spot) -> complex | None:
    outward = outward_of(piece, a.label.wearer if a.label is not None else piece.wearer)
    match params.toward:
        case "":
            return None
        case "up":
            return 1j
        case "down":
            return -1j
        case "side":
            return complex(outward)
        case "centre":
            return complex(-outward)


def heading_of(draft: Draft, said: str | float, spot: Spot) -> Heading:
    if isinstance(said, float):
        return Heading("corner", said)
    match said:
        case "square":
            return Heading("square")
        case "along":
            return Heading("along")
        case "with partner":
            return Heading("given", given=onward_from(draft, spot))
        case _:
            return Heading()


def line_words(start: PlaceParams, end: PlaceParams, params: CourseParams) -> str:
    """The line's run in plain words: "from ... to ..., through ..."."""
    text = f"from {start.words()} to {end.words()}"
    if params.through:
        text += f", through {' and '.join(p.words() for p in params.through)}"
    if params.depth:
        toward = {"": "into the part kept", "up": "upward", "down": "downward"}.get(
            params.toward, f"toward the {params.toward}"
        )
        text += (
            f", {abs(params.depth):.4g} mm {toward if params.depth > 0 else 'the other way than ' + toward}"
        )
    for verb, said in (("leaving", params.leave), ("arriving", params.arrive)):
        if isinstance(said, float):
            text += f", {verb} at {math.degrees(said):.4g} degrees"
        elif said == "with partner":
            text += f", {verb} smoothly with its partner"
        elif said != "free":
            text += f", {verb} {said}"
    return text
