"""Slashes as parameters: where they run and how far they open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.errors import BadInput
from cutonce.quantities import Length, PositiveLength, Ratio
from cutonce.reshape.slash_amounts import Amount
from cutonce.steps.parameters import Params, PlaceParams

Kind = Literal["hinged", "through equal", "through unequal"]
MOST_SLASHES = 60
"""More slits than this nobody cuts; a greater number is a slip."""


class Opens(Params):
    """How far slashes open: one of the four."""

    each: PositiveLength | None = Field(None, description="each slash by this much")
    total: PositiveLength | None = Field(None, description="or all together, shared out among them")
    ratio: Ratio | None = Field(None, description="or until the edge is this many times its length")
    to: PositiveLength | None = Field(None, description="or until the edge is this long")

    @model_validator(mode="after")
    def _just_one(self) -> Self:
        if sum(x is not None for x in (self.each, self.total, self.ratio, self.to)) != 1:
            raise BadInput("opens", "", "say how far the slashes open by one of: each, total, ratio, to")
        return self

    def amount(self) -> Amount:
        if self.each is not None:
            return Amount("each", self.each)
        if self.total is not None:
            return Amount("total", self.total)
        if self.ratio is not None:
            return Amount("ratio", self.ratio)
        return Amount("length", self.to or 0.0)

    def words(self) -> str:
        if self.each is not None:
            return f"by {self.each:.4g} mm each"
        if self.total is not None:
            return f"by {self.total:.4g} mm in all"
        if self.ratio is not None:
            return f"until the edge is {self.ratio:.4g} times as long"
        return f"until the edge is {self.to or 0:.4g} mm long"


class OneSlash(Params):
    """A slash with its own two places, and its own amounts where they differ from the set's."""

    start: PlaceParams = Field(description="where it starts, on an edge")
    end: PlaceParams | None = Field(None, description="where it ends, on an edge")
    dart: str = Field("", description="or the dart that it ends in, which closes into it")
    opens: Length | None = Field(None, description="how far it opens at its start")
    end_opens: Length = Field(0.0, description="how far it opens at its end: 0 is hinged there")

    @model_validator(mode="after")
    def _one_end(self) -> Self:
        if (self.end is None) == (not self.dart):
            raise BadInput("slash", "", "a slash ends at one of: end, dart")
        if self.opens is None and self.end_opens != 0:
            raise BadInput("slash", "", "a slash with 'end_opens' needs 'opens' too")
        return self

    def words(self) -> str:
        end = _on_piece(self.end) if self.end else f"the {self.dart}"
        own = "" if self.opens is None else f" ({self.opens:.4g} mm, {self.end_opens:.4g} mm)"
        return f"from {_on_piece(self.start)} to {end}{own}"


class SlashSet(Params):
    """Slashes that open by one rule: given one by one, or spaced evenly between places."""

    kind: Kind = Field(
        "hinged", description="kept whole at one end; or opened through, alike or unlike at both ends"
    )
    opens: Opens | None = Field(None, description="how far the slashes open at their start")
    end_opens: Opens | None = Field(None, description="how far at their end; hinged: instead of the start")
    slashes: tuple[OneSlash, ...] = Field((), description="the slashes one by one")
    count: int = Field(0, ge=0, le=MOST_SLASHES, description="or how many, spaced evenly")
    starts: tuple[PlaceParams, ...] = Field((), description="first and last start, or one for all")
    ends: tuple[PlaceParams, ...] = Field((), description="first and last end, or one for all (a fan)")
    dart: str = Field("", description="or the dart that all end in, which closes into them")
    weights: tuple[Ratio, ...] = Field((), description="parts in which a total is shared out, one a slash")

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        if bool(self.slashes) == bool(self.count):
            raise BadInput("slashes", "", "give the slashes one by one ('slashes') or say how many ('count')")
        if self.count:
            self._check_even()
        elif self.starts or self.ends or self.dart:
            raise BadInput("slashes", "", "'starts', 'ends' and 'dart' go with 'count'")
        if self.weights and len(self.weights) != (self.count or len(self.slashes)):
            raise BadInput("weights", "", "give one weight a slash")
        if self.weights and any(o is not None and o.each is not None for o in (self.opens, self.end_opens)):
            raise BadInput("weights", "", "weights share out a total, a ratio or a length, not 'each'")
        self._check_kind()
        return self

    def _check_even(self) -> None:
        if len(self.starts) not in (1, 2):
            raise BadInput("slashes", "", "'starts' holds one place or two")
        if bool(self.dart) == bool(self.ends) or len(self.ends) > 2:
            raise BadInput("slashes", "", "slashes end at 'ends' (one place or two) or in a 'dart'")
        if self.count > 1 and len(self.starts) == 1 and len(self.ends) == 1:
            raise BadInput("slashes", "", f"{self.count} slashes cannot share both their places")
        if self.count == 1 and len(self.starts) + len(self.ends) > 2:
            raise BadInput("slashes", "", "one slash takes one start and one end")

    def _check_kind(self) -> None:
        both = self.opens is not None and self.end_opens is not None
        none = self.opens is None and self.end_opens is None
        into_darts = bool(self.dart) or any(s.dart for s in self.slashes)
        if self.kind == "hinged" and both:
            raise BadInput("kind", "", "a hinged slash opens at one end: 'opens' or 'end_opens'")
        if self.kind == "through unequal" and not both and any(s.opens is None for s in self._open()):
            raise BadInput("kind", "", "unequal slashes need both 'opens' and 'end_opens'")
        if self.kind == "through equal" and (self.end_opens is not None or none):
            raise BadInput("kind", "", "equal slashes take 'opens' alone, for both ends")
        if none and not into_darts and any(s.opens is None for s in self._open()):
            raise BadInput("opens", "", "say how far the slashes open: 'opens'")

    def _open(self) -> tuple[OneSlash | SlashSet, ...]:
        return self.slashes or (self,)

    def words(self) -> str:
        rule = self.opens or self.end_opens
        how = f"{self.kind}, opened {rule.words()}" if rule else self.kind
        if self.opens and self.end_opens:
            how += f" and at the end {self.end_opens.words()}"
        if self.count:
            times = "once" if self.count == 1 else f"{self.count} times, evenly"
            end = f"into the {self.dart}" if self.dart else f"to {_range(self.ends)}"
            return f"{times}, from {_range(self.starts)} {end}, {how}"
        return f"{', '.join(one.words() for one in self.slashes)}, {how}"


def _range(places: Sequence[PlaceParams]) -> str:
    """One place, or "the hem (50 mm from the side - 20 mm from the centre front)"."""
    words = [_on_piece(p) for p in places]
    edges = [w.partition(",")[0].partition(" at the ")[0] for w in words]
    if len(words) == 1:
        return words[0]
    if edges[0] != edges[1]:
        return f"{words[0]} up to {words[1]}"
    inner = (w.removeprefix(edges[0]).lstrip(", ") for w in words)
    return f"{edges[0]} ({' - '.join(inner)})"


def _on_piece(place: PlaceParams) -> str:
    """The place in words without the piece, which the sentence names already."""
    return place.words().replace(f"the {place.piece}'s ", "the ", 1)
