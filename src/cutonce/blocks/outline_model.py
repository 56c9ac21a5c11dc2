"""What an outline file may say: pieces from points typed by hand. The shapes only; `outline` draws them."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo, model_validator

from cutonce.draft.span import EdgeRole, Wearer
from cutonce.errors import BadInput, quoted
from cutonce.quantities import Length, PositiveLength, Ratio
from cutonce.units import angle


def _point_name(value: object) -> object:
    """Points are numbered in the file; a number in a list and a key of a table are the same name."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


PointName = Annotated[str, BeforeValidator(_point_name), Field(min_length=1)]

DIRECTIONS: dict[str, complex] = {"right": 1 + 0j, "up": 1j, "left": -1 + 0j, "down": -1j}


def _heading(value: object, info: ValidationInfo) -> object:
    """ "square", "smooth", a direction, or an angle; kept as text, read when the curve is drawn."""
    if value in ("", "square", "smooth", *DIRECTIONS):
        return value
    angle(value, str((info.context or {}).get("where", "")))
    return value


Heading = Annotated[str, BeforeValidator(_heading)]


class Shape(BaseModel):
    """Frozen, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class OutlinePoint(Shape):
    """A numbered point: `{x = "0 cm", y = "20 cm"}` from the corner of the paper, or `{right = "3 cm",
    up = "20 cm"}` from the point before it, or from the one named by `from`."""

    x: Length | None = Field(None, description="to the right of the corner of the paper")
    y: Length | None = Field(None, description="above the corner of the paper")
    from_: PointName | None = Field(None, alias="from", description="the point to measure from")
    right: Length = Field(0.0, description="to the right of that point")
    left: Length = Field(0.0, description="to the left of that point")
    up: Length = Field(0.0, description="above that point")
    down: Length = Field(0.0, description="below that point")

    @model_validator(mode="after")
    def _one_way(self, info: ValidationInfo) -> Self:
        steps = {"from_", "right", "left", "up", "down"} & self.model_fields_set
        where = str((info.context or {}).get("where", ""))
        if (self.x is None) != (self.y is None):
            raise BadInput("point", where, "a point needs both x and y, or steps such as right and up")
        if self.x is not None and steps:
            raise BadInput("point", where, "a point has x and y, or steps from another point, not both")
        if self.x is None and not steps - {"from_"}:
            raise BadInput("point", where, "a point needs x and y, or one of right, left, up, down")
        if {"right", "left"} <= steps or {"up", "down"} <= steps:
            raise BadInput("point", where, "a point goes right or left, up or down, not both")
        return self


class OutlineEdge(Shape):
    """An edge along points in order. Two points are joined straight, more by a smooth curve through them;
    `inward` or `outward` bends a two-point edge by a depth, `fullness` by how round it is."""

    name: str = Field(min_length=1, description="the edge's name within its piece")
    role: EdgeRole = Field(description="what the edge is for")
    points: tuple[PointName, ...] = Field(min_length=2, description="its points, from end to end")
    wearer: Wearer | None = Field(None, description="the wearer's side, on a piece that is drawn whole")
    straight: bool = Field(False, description="straight from point to point, with a corner at each")
    inward: PositiveLength | None = Field(None, description="greatest depth of a hollow curve")
    outward: PositiveLength | None = Field(None, description="greatest height of a round curve")
    fullness: Ratio | None = Field(None, description="1 as round as an arc, more is fuller, less is flatter")
    start: Heading = Field("", description="square or smooth to the edge before it, or a direction")
    end: Heading = Field("", description="square or smooth to the edge after it, or a direction")

    @model_validator(mode="after")
    def _one_shape(self, info: ValidationInfo) -> Self:
        where = f"{(info.context or {}).get('where', '')}, edge {quoted(self.name)}".removeprefix(", ")
        shaped = [n for n in ("straight", "inward", "outward", "fullness") if getattr(self, n)]
        if len(shaped) > 1:
            raise BadInput("edge-shape", where, f"it cannot be both {shaped[0]} and {shaped[1]}")
        if shaped and shaped != ["straight"] and len(self.points) > 2:
            raise BadInput(
                "edge-shape", where, f"{shaped[0]} needs an edge of two points; this one goes through more"
            )
        if self.straight and (self.start or self.end):
            raise BadInput("edge-shape", where, "a straight edge takes no start or end direction")
        if self.fullness and not (self.start or self.end):
            raise BadInput("edge-shape", where, "fullness needs a direction at start or end")
        return self


class OutlineDart(Shape):
    """A dart that opens on an edge: the two ends of its mouth stand next to each other on that edge."""

    name: str = Field(min_length=1, description="the dart's name")
    mouth: tuple[PointName, PointName] = Field(description="the ends of its mouth, neighbours on an edge")
    point: PointName = Field(description="the pivot: where the legs meet")
    short: Length = Field(0.0, description="how far before the pivot it is drawn to end")
    wearer: Wearer | None = Field(None, description="the wearer's side, on a piece that is drawn whole")


class OutlineDoubleDart(Shape):
    """A dart inside the piece, pointed at both ends."""

    name: str = Field(min_length=1, description="the dart's name")
    upper: PointName = Field(description="its upper point")
    lower: PointName = Field(description="its lower point")
    left: PointName = Field(description="its left side at the widest place")
    right: PointName = Field(description="its right side at the widest place")
    wearer: Wearer | None = Field(None, description="the wearer's side, on a piece that is drawn whole")


class OutlineMark(Shape):
    """A notch or landmark on an edge, at a point that lies on it."""

    name: str = Field(min_length=1, description="the mark's name")
    at: PointName = Field(description="a point on an edge")
    printed: bool = Field(True, description="whether it is a notch to be printed")


class OutlineLine(Shape):
    """A line inside the piece, straight from point to point; it marks the edges on which it ends."""

    name: str = Field(min_length=1, description="the line's name: bust, waist, hip, or your own")
    points: tuple[PointName, ...] = Field(min_length=2, description="its points in order")


class OutlineGrain(Shape):
    """Where the grain arrow runs: from one point towards another."""

    from_: PointName = Field(alias="from", description="where the arrow starts")
    to: PointName = Field(description="where it points to")


class OutlinePiece(Shape):
    """One piece, seen from the right side of the cloth, the top of the body up."""

    name: str = Field(min_length=1, description="the piece's name")
    points: dict[str, OutlinePoint] = Field(min_length=3, description="its numbered points")
    edges: tuple[OutlineEdge, ...] = Field(min_length=1, description="its edges in order round the piece")
    face: Literal["front", "back"] = Field("front", description="which side of the body it covers")
    cut: Literal["fold", "pair", "single"] = Field("single", description="on the fold, as a pair, or once")
    wearer: Wearer | None = Field(None, description="the wearer's side, where the garment is typed whole")
    darts: tuple[OutlineDart, ...] = Field((), description="darts that open on an edge")
    double_darts: tuple[OutlineDoubleDart, ...] = Field((), description="darts pointed at both ends")
    landmarks: dict[str, PointName] = Field({}, description="named points inside, such as bust point")
    marks: tuple[OutlineMark, ...] = Field((), description="notches and landmarks on edges")
    lines: tuple[OutlineLine, ...] = Field((), description="lines inside, such as bust, waist and hip")
    grain: OutlineGrain | None = Field(None, description="the grain; straight up where left out")


class OutlineSide(Shape):
    """One side of a seam: edges of one piece, in order."""

    piece: str = Field(description="the piece's name")
    edges: tuple[str, ...] = Field(min_length=1, description="names of its edges")
    wearer: Wearer | None = Field(None, description="the wearer's side, where the garment is typed whole")


class OutlineSeam(Shape):
    """Two sides sewn together, and how their lengths may differ."""

    name: str = Field(min_length=1, description="the seam's name")
    a: OutlineSide = Field(description="one side")
    b: OutlineSide = Field(description="the other side")
    relation: Literal["equal", "ease", "gather", "pleat", "stretch"] = Field(
        "equal", description="how a and b differ"
    )
    more: Length = Field(0.0, description="how much longer a is, for ease, pleat and stretch (less than 0)")
    ratio: Ratio | None = Field(None, description="how many times as long a is, for gather")


class Outline(Shape):
    """A whole outline file. Half a garment, drawn as the wearer's left half, or `whole`."""

    schema_: Literal[1] = Field(1, alias="schema", description="the version of this kind of file")
    pieces: tuple[OutlinePiece, ...] = Field(min_length=1, description="the pieces")
    seams: tuple[OutlineSeam, ...] = Field((), description="which edges are sewn together")
    whole: bool = Field(False, description="whether every piece is drawn whole, left and right apart")
