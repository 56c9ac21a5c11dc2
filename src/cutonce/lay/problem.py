"""What is to be laid, and a layout of it. Plain values; every search and every check reads these.

Places are those of `cloth`: complex, mm, x along the cloth from the cut end, y across. A bed is a strip
`0 <= y <= width`, `0 <= x`; the search makes the laid length as short as it can.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.geometry.motion import Motion, Point

Ring = tuple[Point, ...]
"""A closed polygon, counter-clockwise, the first point not repeated."""


@dataclass(frozen=True, slots=True)
class Rule:
    """Where a coordinate may be: `at + k * every` for any whole k; only at `at` where `every` is 0.

    A piece on the fold has `across = Rule(0.0)`; a piece matched to a stripe has the stripe's repeat.
    """

    at: float
    every: float = 0.0


@dataclass(frozen=True, slots=True)
class Shape:
    """One way a blank may lie. `outline` has its least x and y at 0, in cloth directions.

    `motion` takes the piece's own frame to the outline's: it turns (and turns over, where that is allowed)
    and shifts. Laid at `at`, the outline's points are `at + point`, so the piece lies by
    `shifting(at).after(motion)`. `along` and `across` restrict x and y of `at`; None leaves them free.
    """

    motion: Motion
    outline: Ring
    along: Rule | None = None
    across: Rule | None = None


@dataclass(frozen=True, slots=True)
class Blank:
    """One thing to lay once: its key (unique in a problem), the finished piece it is cut from, its shapes."""

    key: str
    piece: str
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Bed:
    """The cloth as a strip: its usable width, its length (None: as long as needed), and where not to lay.

    `avoid` are rings, in bed places, that no blank may overlap: flaws grown by their radius, cloth that a
    remnant lacks, gaps between remnants.
    """

    width: float
    length: float | None = None
    avoid: tuple[Ring, ...] = ()


@dataclass(frozen=True, slots=True)
class Problem:
    """Blanks to lay on a bed, at least `spacing` mm from each other (not from the bed's edges)."""

    bed: Bed
    blanks: tuple[Blank, ...]
    spacing: float = 0.0


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one blank lies: which of its shapes, and where that shape's origin is."""

    blank: str
    shape: int
    at: Point


@dataclass(frozen=True, slots=True)
class Layout:
    """Every blank of a problem laid, and the length it takes: the greatest x of any outline."""

    length: float
    spots: tuple[Spot, ...]
