"""The parts of an outline and their identity: spans know where they were born and what they are called."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from cutonce.geometry.curve import Curve
from cutonce.geometry.motion import Motion, Point

Wearer = Literal["left", "right"]
"""The wearer's side, never the reader's."""

EdgeRole = Literal[
    "centre front",
    "centre back",
    "neck",
    "shoulder",
    "strap",
    "armhole",
    "side",
    "waist",
    "hem",
    "style line",
    "cut-out",
]
"""What an edge is for, where a person says it."""

Role = EdgeRole | Literal["dart leg"]
"""What a span of an outline is for."""

CENTRES: tuple[EdgeRole, ...] = ("centre front", "centre back")

BLOCK = "block"
"""The step id under which the block's own material is born."""


@dataclass(frozen=True, slots=True)
class Label:
    """The name of an edge within its piece: name, role, wearer's side, and part where it has been divided.

    >>> Label("side", "side", "left").key, Label("side", "side", "left", 2).key
    ('left side', 'left side 2')
    """

    name: str
    role: Role
    wearer: Wearer | None = None
    part: int = 1

    @property
    def key(self) -> str:
        """Unique within a piece, and what a person reads."""
        words = sided(self.name, self.wearer)
        return words if self.part == 1 else f"{words} {self.part}"

    def same_edge(self, other: Label) -> bool:
        """The same edge, or another part of it."""
        return (self.name, self.role, self.wearer) == (other.name, other.role, other.wearer)

    def same_on_either_side(self, other: Label) -> bool:
        """The same part of an edge, on whichever side of the wearer: halves of a whole piece run on so."""
        return (self.name, self.role, self.part) == (other.name, other.role, other.part)


def sided(name: str, wearer: Wearer | None) -> str:
    """A name with the wearer's side where it has one.

    >>> sided("bust dart", "left"), sided("bust dart", None)
    ('left bust dart', 'bust dart')
    """
    return f"{wearer} {name}" if wearer else name


@dataclass(frozen=True, slots=True)
class Origin:
    """Where material was born: the step (or block) that drew it, the name it got, the wearer's side."""

    step: str
    name: str
    wearer: Wearer | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """A curve of an outline: material from `lo` to `hi` mm of its origin (falling after a reflection).

    The material interval stays when the curve is moved or blended; its length is the length at birth.
    `made` is the id of the last step that changed the curve's shape.
    """

    curve: Curve
    origin: Origin
    lo: float
    hi: float
    label: Label
    made: str

    @property
    def length(self) -> float:
        return self.curve.length

    def holds(self, at: float, slack: float = 1e-6) -> bool:
        """Does the material place `at` (mm of the origin) lie on this span?"""
        return min(self.lo, self.hi) - slack <= at <= max(self.lo, self.hi) + slack

    def material_at(self, s: float) -> float:
        """Material place of the arc length `s` from the span's start."""
        return self.lo + (self.hi - self.lo) * s / self.curve.length

    def arc_at(self, material: float) -> float:
        """Arc length from the span's start of a material place."""
        return (material - self.lo) / (self.hi - self.lo) * self.curve.length

    def split(self, s: float) -> tuple[Span, Span]:
        """Two spans, divided exactly at arc length `s` from the start."""
        t = self.curve.at_length(s)
        m = self.material_at(s)
        return (
            replace(self, curve=self.curve.part(0, t), hi=m),
            replace(self, curve=self.curve.part(t, 1), lo=m),
        )

    def moved(self, m: Motion) -> Span:
        return replace(self, curve=self.curve.moved(m))

    def reversed(self) -> Span:
        return replace(self, curve=self.curve.reversed(), lo=self.hi, hi=self.lo)


def born(curve: Curve, label: Label, step: str, lo: float = 0.0, name: str = "") -> Span:
    """A new span whose material begins at `lo` of its origin, which is called as the label or by `name`."""
    own = name or (label.name if label.part == 1 else f"{label.name} {label.part}")
    return Span(curve, Origin(step, own, label.wearer), lo, lo + curve.length, label, step)


def born_along(path: Iterable[Curve], label: Label, step: str) -> list[Span]:
    """New spans along a path, the material of each beginning where that of the one before ends."""
    return born_round([(label, path)], step)


def born_round(edges: Iterable[tuple[Label, Iterable[Curve]]], step: str) -> list[Span]:
    """New spans edge by edge; the material of an edge that comes again, beyond a dart, runs on."""
    out: list[Span] = []
    reached: dict[Label, float] = {}
    for label, path in edges:
        for curve in path:
            out.append(born(curve, label, step, reached.get(label, 0.0)))
            reached[label] = out[-1].hi
    return out


@dataclass(frozen=True, slots=True)
class Gone:
    """A tombstone: material that a step took away, so that a later reference can say by whom and why."""

    piece: str
    label: Label
    origin: Origin
    lo: float
    hi: float
    step: str
    reason: str


GAPE_CLOSED = "closed the gape"
"""The reason on the tombstone of a wedge that was taken out of an edge; the edge itself is still there."""


@dataclass(frozen=True, slots=True)
class EdgeMark:
    """A material place on an edge: where a landmark line meets it, or a notch to sew by.

    Names such as "waist", "hip", "centre front" are used by places; notches are printed.
    """

    name: str
    origin: Origin
    at: float
    printed: bool = True


@dataclass(frozen=True, slots=True)
class Landmark:
    """A point inside a piece: "bust point", "drill", a guide point."""

    name: str
    at: Point
    wearer: Wearer | None = None
