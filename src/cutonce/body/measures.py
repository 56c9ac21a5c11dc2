"""One body: its measures in mm, left and right where they differ, measured or estimated.

Every value keeps what she typed and, where it was estimated, from what and how surely.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Final

from cutonce.body.terms import BY_KEY, SIDES, TERMS, Term, Wearer
from cutonce.errors import BadInput, CannotApply, closest, quoted

_PLACES: Final = {key: place for place, key in enumerate(BY_KEY)}


@dataclass(frozen=True, slots=True)
class Estimate:
    """How an estimated value came about. `sd_mm` is the residual SD in mm, None where it is unknown."""

    source: str
    sd_mm: float | None


@dataclass(frozen=True, slots=True)
class Measure:
    """One value in mm. `wearer` is None where both sides are alike or the measure has no sides."""

    key: str
    mm: float
    wearer: Wearer | None = None
    text: str = ""
    estimate: Estimate | None = None


@dataclass(frozen=True, slots=True)
class Body:
    """One person's measures on one day. Holds at most one value for a measure, or one for each side.

    However they were given, `measures` stand in the order of `TERMS`, left before right.

    >>> body = Body("Ida", (Measure("bust_girth", 920.0), Measure("shoulder_length", 124.0, "left"),
    ...                     Measure("shoulder_length", 120.0, "right")))
    >>> body.mm("bust_girth"), body.mm("shoulder_length", "left"), body.mm("shoulder_length"), body.uneven
    (920.0, 124.0, 122.0, ('shoulder_length',))
    """

    name: str
    measures: tuple[Measure, ...]
    date: date | None = None
    notes: str = ""
    _index: dict[tuple[str, Wearer | None], Measure] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        index: dict[tuple[str, Wearer | None], Measure] = {}
        for measure in self.measures:
            _check(measure, index, self.name)
            index[measure.key, measure.wearer] = measure
        for key, wearer in index:
            if wearer is not None and (key, _other(wearer)) not in index:
                raise BadInput("one-side-only", self.name, f"{key} is given for the {wearer} side only")
        object.__setattr__(self, "_index", index)
        object.__setattr__(self, "measures", tuple(sorted(self.measures, key=_place)))

    def mm(self, key: str, wearer: Wearer | None = None) -> float:
        """A measure in mm; with no `wearer`, the mean of both sides where they differ.

        Raises BadInput for a name that is no measure, CannotApply for one this body lacks.
        """
        found = self.find(key, wearer)
        if found is not None:
            return found.mm
        left, right = self._index.get((key, "left")), self._index.get((key, "right"))
        if left is not None and right is not None:
            return (left.mm + right.mm) / 2
        raise missing(key, self.name)

    def find(self, key: str, wearer: Wearer | None = None) -> Measure | None:
        """The value for that side, else the one for both; None where there is neither."""
        return self._index.get((key, wearer)) or self._index.get((key, None))

    def has(self, key: str) -> bool:
        """Whether the measure is there, for one side or both."""
        return self.find(key, "left") is not None

    @property
    def uneven(self) -> tuple[str, ...]:
        """The measures that differ between left and right, in their usual order."""
        return tuple(
            term.key
            for term in TERMS
            if term.sided and self.has(term.key) and self.mm(term.key, "left") != self.mm(term.key, "right")
        )

    @property
    def estimated(self) -> tuple[Measure, ...]:
        """The values that were estimated, not measured."""
        return tuple(measure for measure in self.measures if measure.estimate is not None)

    @property
    def names(self) -> BodyNames:
        """What expressions look measures up in: `hip_girth`, `shoulder_length`, `shoulder_length.left`."""
        return BodyNames(self)

    def one_side(self, wearer: Wearer) -> Body:
        """The even body that has this side's measures on both sides, from which one half is drafted."""
        kept = (measure for measure in self.measures if measure.wearer in (None, wearer))
        return replace(self, measures=tuple(replace(measure, wearer=None) for measure in kept))

    def with_measures(self, measures: Iterable[Measure]) -> Body:
        """The same body with these values in place of what it had for the same measures."""
        new = tuple(measures)
        keys = {measure.key for measure in new}
        return replace(self, measures=(*(old for old in self.measures if old.key not in keys), *new))


class BodyNames(Mapping[str, float]):
    """A body's measures by name, for expressions; asking for one that is missing says how to take it."""

    __slots__ = ("_body",)

    def __init__(self, body: Body) -> None:
        self._body = body

    def __getitem__(self, name: str) -> float:
        key, dot, side = name.partition(".")
        if key not in BY_KEY or (dot and side not in SIDES):
            raise KeyError(name)
        wearer: Wearer | None = "left" if side == "left" else "right" if side == "right" else None
        return self._body.mm(key, wearer)

    def __iter__(self) -> Iterator[str]:
        for term in TERMS:
            if self._body.has(term.key):
                yield term.key
                if term.sided:
                    yield from (f"{term.key}.{side}" for side in SIDES)

    def __len__(self) -> int:
        return sum(1 for _ in self)


def body_of(name: str, mm: Mapping[str, float | tuple[float, float]]) -> Body:
    """A body straight from numbers in mm; a pair is (left, right).

    >>> body_of("Ida", {"bust_girth": 920.0, "shoulder_length": (124.0, 120.0)}).uneven
    ('shoulder_length',)
    """
    measures: list[Measure] = []
    for key, value in mm.items():
        if isinstance(value, tuple):
            measures += (Measure(key, float(one), side) for side, one in zip(SIDES, value, strict=True))
        else:
            measures.append(Measure(key, float(value)))
    return Body(name, tuple(measures))


def shoulder_slope(body: Body, wearer: Wearer | None = None) -> float:
    """The slope of the shoulder in radians, from its drop and its length: asin(drop / length)."""
    drop, along = body.mm("shoulder_drop", wearer), body.mm("shoulder_length", wearer)
    if abs(drop) >= along:
        message = f"shoulder_drop {drop:.0f} mm is not less than shoulder_length {along:.0f} mm"
        raise CannotApply("impossible-measure", body.name, message, "measure both again")
    return math.asin(drop / along)


def term_of(key: str, where: str) -> Term:
    """The term of that name; BadInput with the closest names where there is none."""
    term = BY_KEY.get(key)
    if term is None:
        message = f"no measure {quoted(key)}{closest(key, BY_KEY)}"
        raise BadInput("unknown-measure", where, message, "all measures: docs/measures.md")
    return term


def missing(key: str, where: str) -> CannotApply:
    """What is said of a measure that a body lacks: its name, how to take it, that it may be estimated."""
    term = term_of(key, where)
    return CannotApply(
        "missing-measure",
        where,
        f"{key} ({term.name}) is missing. To take it: {term.how[0].lower()}{term.how[1:].rstrip('.')}",
        "or have it estimated with --estimate",
    )


def _check(measure: Measure, index: Mapping[tuple[str, Wearer | None], Measure], where: str) -> None:
    term = term_of(measure.key, where)
    if measure.wearer is not None and not term.sided:
        raise BadInput("not-sided", where, f"{measure.key} has no left and right")
    clash: tuple[Wearer | None, ...] = (measure.wearer, None) if measure.wearer else (None, *SIDES)
    if any((measure.key, wearer) in index for wearer in clash):
        raise BadInput("given-twice", where, f"{measure.key} is given twice")
    if not math.isfinite(measure.mm):
        raise BadInput("not-finite", where, f"{measure.key} is not a finite length")


def _place(measure: Measure) -> tuple[int, bool]:
    return _PLACES[measure.key], measure.wearer == "right"


def _other(wearer: Wearer) -> Wearer:
    return "right" if wearer == "left" else "left"
