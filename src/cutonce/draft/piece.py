"""A pattern piece: its sewing line as named spans, and what lies inside it. Face up, y up the body."""

from __future__ import annotations

import cmath
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from cutonce.draft.span import EdgeMark, Label, Landmark, Span, Wearer, sided
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.motion import Motion, Point
from cutonce.geometry.tolerance import SAME_POINT_MM

Cut = Literal["fold", "pair", "single"]
"""How it is cut: once on a fold, twice mirrored, or once, right side up."""

Folds = Literal["toward centre", "toward side", "up", "down"]
"""Which way the intake of a sewn dart is pressed."""


@dataclass(frozen=True, slots=True)
class Dart:
    """A dart that opens on an edge: its legs are two spans of the outline, meeting at the pivot.

    The spans carry `Label(name, "dart leg", wearer)`. The pivot is usually the bust point; the drawn point
    lies `short` mm before it on the middle line. Between the mouth's ends the outline runs to the pivot and
    back; paper and cutting line have `reshape.cap.cap(piece, dart)` there, with the intake pressed the way
    `folds` says (None: toward the centre where the mouth lies level, else down). `capped`: she chose the way
    herself, so a cap that cannot be drawn is refused by the step that chose it.
    """

    name: str
    wearer: Wearer | None = None
    short: float = 0.0
    capped: bool = False
    folds: Folds | None = None

    @property
    def label(self) -> Label:
        return Label(self.name, "dart leg", self.wearer)


@dataclass(frozen=True, slots=True)
class DoubleDart:
    """A dart inside a piece, pointed at both ends: upper and lower point, and the two sides at its widest."""

    name: str
    upper: Point
    lower: Point
    left: Point
    right: Point
    wearer: Wearer | None = None

    @property
    def intake(self) -> float:
        return abs(self.right - self.left)

    @property
    def middle(self) -> Point:
        """The middle of its widest place."""
        return (self.left + self.right) / 2

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Its four points round about."""
        return self.upper, self.left, self.lower, self.right

    @property
    def sides(self) -> tuple[Line, ...]:
        """The four lines along which it is sewn."""
        return tuple(Line(p, q) for p, q in pairwise((*self.corners, self.upper)))

    def moved(self, m: Motion) -> DoubleDart:
        a, b, c, d = m(self.upper), m(self.lower), m(self.left), m(self.right)
        return replace(self, upper=a, lower=b, left=d if m.mirror else c, right=c if m.mirror else d)


@dataclass(frozen=True, slots=True)
class InnerLine:
    """A line inside a piece: a landmark line ("waist"), a guide, a fold, a casing's stitching line."""

    name: str
    curves: tuple[Curve, ...]
    kind: Literal["landmark", "guide", "fold", "stitching"] = "landmark"
    wearer: Wearer | None = None


@dataclass(frozen=True, slots=True)
class Grain:
    """Where the grain arrow stands and the unit direction of the warp; `kind` is what the maker asked for."""

    at: Point
    along: complex = 1j
    kind: Literal["straight", "cross", "bias"] = "straight"


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece. `outline` is the closed sewing line, counter-clockwise, dart legs included.

    A half piece (before unfolding) stands for both sides and is drawn as the wearer's left half: a front
    lies at x >= 0 of its centre, a back at x <= 0. `flips` counts reflections since it was drawn.
    """

    name: str
    outline: tuple[Span, ...]
    grain: Grain
    wearer: Wearer | None = None
    cut: Cut = "single"
    fold: Label | None = None
    darts: tuple[Dart, ...] = ()
    double_darts: tuple[DoubleDart, ...] = ()
    marks: tuple[EdgeMark, ...] = ()
    points: tuple[Landmark, ...] = ()
    lines: tuple[InnerLine, ...] = ()
    flips: int = 0
    face: Literal["front", "back"] = "front"

    @property
    def key(self) -> str:
        """Unique within a draft: "front", "left back"."""
        return sided(self.name, self.wearer)

    @property
    def area(self) -> float:
        """Area inside the sewing line in mm2, dart openings left out."""
        return path.area(s.curve for s in self.outline)

    @property
    def labels(self) -> tuple[Label, ...]:
        """Labels of its edges in outline order, each once, dart legs left out."""
        return tuple(dict.fromkeys(s.label for s in self.outline if s.label.role != "dart leg"))

    def edge(self, label: Label) -> tuple[Span, ...]:
        """The spans of an edge in outline order, from its first end; dart legs between are passed over."""
        spans = self.outline
        mine = [i for i, s in enumerate(spans) if s.label is label or s.label == label]
        if not mine:
            raise CannotApply("no-edge", self.key, f"no edge '{label.key}'; it has: {self.edge_names()}")
        k = next((k for k, i in enumerate(mine) if self._begins(i, label)), 0)
        return tuple(spans[i] for i in mine[k:] + mine[:k])

    def _begins(self, i: int, label: Label) -> bool:
        k = i - 1
        while self.outline[k].label.role == "dart leg" and k > i - len(self.outline):
            k -= 1
        return self.outline[k].label != label

    def edge_names(self) -> str:
        return ", ".join(label.key for label in self.labels)

    def edge_length(self, label: Label) -> float:
        """Length of the edge's cloth in mm, darts on it left out."""
        return sum(s.length for s in self.edge(label))

    def legs(self, dart: Dart) -> tuple[Span, Span]:
        """The two legs in outline order; the pivot is where they meet."""
        spans = [s for s in self.outline if s.label == dart.label]
        if abs(spans[0].curve.end - spans[1].curve.start) > SAME_POINT_MM:
            spans.reverse()
        return spans[0], spans[1]

    def mouth(self, dart: Dart) -> tuple[Point, Point]:
        """Where the legs end on the edge, in outline order."""
        one, two = self.legs(dart)
        return one.curve.start, two.curve.end

    def pivot(self, dart: Dart) -> Point:
        return self.legs(dart)[0].curve.end

    def dart_angle(self, dart: Dart) -> float:
        """Opening in radians at the pivot, positive."""
        one, two = self.legs(dart)
        return abs(cmath.phase((two.curve.end - two.curve.start) / (one.curve.start - one.curve.end)))

    def dart_tip(self, dart: Dart) -> Point:
        """The drawn point, `short` mm from the pivot on the dart's middle line."""
        one, two = self.legs(dart)
        pivot = one.curve.end
        u, v = one.curve.start - pivot, two.curve.end - pivot
        middle = u / abs(u) + v / abs(v)
        return pivot + dart.short * middle / abs(middle)

    def dart(self, name: str, wearer: Wearer | None = None) -> Dart:
        found = [d for d in self.darts if d.name == name and wearer in (None, d.wearer)]
        if len(found) != 1:
            have = ", ".join(d.label.key for d in self.darts) or "none"
            what = (
                f"no dart '{name}'" if not found else f"more than one dart '{name}', say which wearer's side"
            )
            raise CannotApply("no-dart", self.key, f"{what}; it has: {have}")
        return found[0]

    def moved(self, m: Motion) -> Piece:
        """The whole piece moved; a reflection is counted and keeps the outline counter-clockwise."""
        outline = tuple(s.moved(m) for s in self.outline)
        if m.mirror:
            outline = tuple(s.reversed() for s in reversed(outline))
        return replace(
            self,
            outline=outline,
            grain=replace(self.grain, at=m(self.grain.at), along=m.of_vector(self.grain.along)),
            double_darts=tuple(d.moved(m) for d in self.double_darts),
            points=tuple(replace(p, at=m(p.at)) for p in self.points),
            lines=tuple(replace(x, curves=path.moved(x.curves, m)) for x in self.lines),
            flips=self.flips + m.mirror,
        )
