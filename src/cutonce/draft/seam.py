"""Seams: which edges are sewn together and how their lengths may differ; and how edges are finished."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutonce.draft.span import Label


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a seam: edges of one piece, in outline order."""

    piece: str
    labels: tuple[Label, ...]

    def holds(self, piece: str, label: Label) -> bool:
        """Is this edge on the side?"""
        return self.piece == piece and label in self.labels


@dataclass(frozen=True, slots=True)
class Relation:
    """How the two lengths of a seam are meant to differ: a - b = `more_mm` on a, or a = `ratio` x b.

    "equal": neither. "ease": `more_mm` of a is eased into b. "gather": a is gathered to b by `ratio`
    (or by what a is longer, where `ratio` is 0: the whole difference is gathered). "pleat": `more_mm` of a
    lies in pleats. "stretch": a is `-more_mm` shorter and stretched onto b.
    """

    kind: Literal["equal", "ease", "gather", "pleat", "stretch"] = "equal"
    more_mm: float = 0.0
    ratio: float = 0.0

    def left_over(self, a: float, b: float) -> float:
        """What remains of a - b after the declared relation, in mm.

        >>> Relation("gather", ratio=1.5).left_over(600, 400), Relation("ease", 6.0).left_over(126, 121)
        (0.0, -1.0)
        """
        if self.kind == "gather":
            return a - b * self.ratio if self.ratio else 0.0
        return a - b - self.more_mm

    def words(self) -> str:
        """As written in the files and on paper: "equal", "ease 6 mm", "gather 1.5"."""
        match self.kind:
            case "equal":
                return "equal"
            case "gather":
                return f"gather {self.ratio:g}" if self.ratio else "gather"
            case _:
                return f"{self.kind} {abs(self.more_mm):.4g} mm"


@dataclass(frozen=True, slots=True)
class Seam:
    """Two sides sewn together, face to face: the start of `a` meets the end of `b`.

    Both run counter-clockwise round their face-up pieces, so one is always walked backwards.
    A seam of a half piece with its own mirror image (a centre seam) has the same side twice.
    """

    name: str
    a: Side
    b: Side
    relation: Relation = Relation()

    def seen_from(self, piece: str, label: Label) -> tuple[Side, Side] | None:
        """Its two sides, that of this edge first; None where the edge is on neither."""
        if self.a.holds(piece, label):
            return self.a, self.b
        return (self.b, self.a) if self.b.holds(piece, label) else None


@dataclass(frozen=True, slots=True)
class Finish:
    """How an edge is finished: allowance in mm outside the sewing line, and the kind.

    "seam" sewn to a partner; "hem" turned up by the allowance (turn-in included), its ends mirrored so it
    matches the garment; "bound" allowance 0, a strip covers it that shows `strip_mm` wide when finished;
    "faced" sewn by the allowance to a shaped facing `strip_mm` wide; "casing" a channel `strip_mm` wide,
    inside width, sewn on by the allowance; "raw" left as cut.
    `shows` is the face on which a binding or facing is seen. `layers` of a binding: "double" is folded
    lengthwise before it is sewn on.
    """

    kind: Literal["seam", "hem", "bound", "faced", "casing", "raw"]
    allowance: float
    strip_mm: float = 0.0
    shows: Literal["right side", "wrong side", "both"] = "wrong side"
    layers: Literal["single", "double"] = "single"


@dataclass(frozen=True, slots=True)
class Opening:
    """A part of a seam that is not sewn: `length_mm` from `start_mm`, along side `a` from its start.

    A "zip", "vent" or "slit" widens the allowance of both sides over its length, with a step at its end; a
    "cord exit" leaves it as it is. A zip that should reach an edge starts (or ends) exactly there.
    """

    seam: str
    kind: Literal["zip", "vent", "slit", "cord exit"]
    start_mm: float
    length_mm: float


@dataclass(frozen=True, slots=True)
class Drawn:
    """A chain of edges drawn up to a length by cord, elastic or gathering threads.

    `edges` are (piece key, label) in order; `channel_mm` the finished width of the casing, 0 for none.
    """

    name: str
    edges: tuple[tuple[str, Label], ...]
    to_mm: float
    by: Literal["cord", "elastic", "gathering"]
    channel_mm: float = 0.0
    tails_mm: float = 0.0
