"""A length of cloth, or a remnant, as it lies on the table right side up.

Places on cloth are complex numbers in mm: x runs along the warp from the cut end, y across from the selvedge
that lies nearest to her. Right side up, y grows to the left of the direction of x.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from cutonce.geometry.motion import Point

Nap = Literal["none", "two-way", "one-way"]
"""none: a plain cloth, pieces may lie either way up, and on plain cloth a bias either way across; two-way:
either way up, never turned a quarter (a print or stripe that is the same upside down); one-way: all pieces
the same way up."""

RightSide = Literal["one", "either"]
"""one: face and wrong side differ; either: both sides are alike, so a piece may be turned over."""


@dataclass(frozen=True, slots=True)
class Repeat:
    """A pattern that comes again each `every` mm; the middle of a stripe lies at `offset`."""

    every: float
    offset: float = 0.0


@dataclass(frozen=True, slots=True)
class Flaw:
    """A stain or fault: nothing may be cut within `radius` mm of `at`."""

    at: Point
    radius: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Remnant:
    """A left-over piece of the same cloth, its outline counter-clockwise, x along the warp."""

    name: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Price:
    """What a metre or a yard costs."""

    amount: Decimal
    per: Literal["m", "yd"]
    currency: str


@dataclass(frozen=True, slots=True)
class Cloth:
    """One cloth of her stash, or one to be bought.

    `width` from selvedge to selvedge and `usable` between the selvedges, centred, in mm; `length` at hand
    from the cut end, None where it is to be bought; `remnants` lie beside it. `stripe_across` repeats
    across the width (stripes along the warp), `stripe_along` along the length; a check has both.
    `shrink_along` and `shrink_across` are shares: cut = finished / (1 - s). `bias_drop` is the share by
    which a bias hang grows in length. `weight` in g/m2. `sold_by` is the shop's smallest step in mm.
    """

    name: str
    width: float
    usable: float
    length: float | None = None
    remnants: tuple[Remnant, ...] = ()
    nap: Nap = "none"
    right_side: RightSide = "one"
    stripe_across: Repeat | None = None
    stripe_along: Repeat | None = None
    shrink_along: float = 0.0
    shrink_across: float = 0.0
    bias_drop: float = 0.0
    flaws: tuple[Flaw, ...] = ()
    price: Price | None = None
    weight: float | None = None
    kind: str = ""
    sold_by: float = 100.0
    note: str = ""
