"""Shapes that the steps' parameters share: the frozen model, places, edges."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.span import sided
from cutonce.errors import BadInput
from cutonce.quantities import Length, Share
from cutonce.reshape.places import Place, chain


class Params(BaseModel):
    """A step's parameters: frozen, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class EdgeParams(Params):
    """An edge of a piece: `{piece = "front", edge = "side", wearer = "left"}`."""

    piece: str = Field(description="the piece's name")
    edge: str = Field(description="the edge's name")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")

    def refs(self, draft: Draft) -> tuple[EdgeRef, ...]:
        """The labels it means, each with its piece's key; raises CannotApply where none or several fit."""
        run = chain(draft, self.piece, self.edge, self.wearer)
        return tuple(dict.fromkeys((run.piece.key, s.label) for s in run.spans))

    def words(self) -> str:
        return Place(self.piece, self.edge, self.wearer).words()


class DartParams(Params):
    """A dart of a piece: `{piece = "front", dart = "bust dart", wearer = "left"}`."""

    piece: str = Field(description="the piece that has the dart")
    dart: str = Field(description="the dart's name")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")

    def words(self) -> str:
        return f"the {self.piece}'s {sided(self.dart, self.wearer)}"


class PlaceParams(Params):
    """A place: on an edge by a landmark or by tape, or a point inside; it may be shifted.

    `{piece = "front", edge = "side", at = "waist"}`,
    `{piece = "back", edge = "neck", from = "shoulder", by = "3 in"}`,
    `{piece = "front", edge = "hem", from = "side", share = 0.4}`,
    `{piece = "front", point = "bust point", wearer = "left", down = "2 cm"}`.
    """

    piece: str = Field(description="the piece's name")
    edge: str = Field("", description="the edge's name")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")
    at: str = Field("", description="a landmark on the edge, a dart's mouth, or the edge next to an end")
    from_: str = Field("", alias="from", description="where the tape starts: the same kind of name as `at`")
    toward: str = Field("", description="which way to measure, where the start lies within the edge")
    by: Length | None = Field(None, description="how far along the edge")
    share: Share | None = Field(None, description="or which part of the way")
    point: str = Field("", description="or the name of a point inside the piece")
    down: Length = Field(0.0, description="shifted down the body")
    out: Length = Field(0.0, description="shifted away from the centre")

    @model_validator(mode="after")
    def _one_way_to_say_it(self) -> Self:
        if bool(self.point) == bool(self.edge):
            raise BadInput("place", self.piece, "a place needs either an edge or a point")
        if self.point and (self.at or self.from_ or self.by is not None or self.share is not None):
            raise BadInput("place", self.piece, "a point takes no 'at', 'from', 'by' or 'share'")
        where = f"{self.piece}, {self.edge}"
        if self.edge and not self.at and not self.from_:
            raise BadInput("place", where, "say where: 'at', or 'from' with 'by' or 'share'")
        if self.edge and self.at and (self.from_ or self.by is not None or self.share is not None):
            raise BadInput("place", where, "'at' goes alone, or 'from' with 'by' or 'share'")
        if self.from_ and (self.by is None) == (self.share is None):
            raise BadInput("place", where, "'from' needs one of 'by' and 'share'")
        return self

    def place(self) -> Place:
        return Place(
            self.piece,
            self.edge,
            self.wearer,
            self.at,
            self.from_,
            self.toward,
            self.by,
            self.share,
            self.point,
            self.down,
            self.out,
        )

    def words(self) -> str:
        return self.place().words()
