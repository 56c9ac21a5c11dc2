"""Cut, turn, recombine: the one operation under every dart, gape and spread.

The outline is cut at the ends of slits. Each slit parts the piece in two; the part met first when walking
counter-clockwise from the still place stays, the far part moves rigidly. The boundary is then walked once in
its unchanged order with a stack, each span mapped by its part's motion, and the openings are bridged. No
polygon booleans, so nothing is lost and every span keeps its identity.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from cutonce.draft.span import Label, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import STILL, Motion, Point
from cutonce.geometry.path import starting_at
from cutonce.geometry.region import inside
from cutonce.geometry.tolerance import FLATTEN_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class End:
    """Where a slit meets the outline. Node i is the start of span i.

    Spans from node `first` up to node `last` are taken away (a dart's legs, a wedge); usually first = last.
    What opens here is bridged by one straight span with `label`, or by two legs to `pivot` where given.
    """

    first: int
    last: int
    label: Label
    pivot: Point | None = None


@dataclass(frozen=True, slots=True)
class Slit:
    """A cut from `p` to `q` by way of `via`. `far_motion(entered_at_p)` is the far part's motion against the
    near part, when the walk comes to the slit at p (True) or at q (False)."""

    name: str
    p: End
    q: End
    far_motion: Callable[[bool], Motion]
    via: tuple[Point, ...] = ()

    def end(self, at_p: bool) -> End:
        return self.p if at_p else self.q


@dataclass(slots=True)
class Part:
    """A rigid part: its motion, its boundary before the cut as points, and the names of the slits round it
    (first the one beyond which it lies, seen from the part where the walk began)."""

    motion: Motion
    border: list[Point] = field(default_factory=list)
    beside: list[str] = field(default_factory=list)

    def reaches(self, z: Point) -> bool:
        """Does the point lie within this part before the cut, or on its border?"""
        return inside(self.border, z) or _distance(self.border, z) < SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Recombined:
    """`outline` after; `removed` the spans taken away; `parts` with their motions, the still part first;
    `cuts` the lines along which the old piece was cut."""

    outline: tuple[Span, ...]
    removed: tuple[Span, ...]
    parts: tuple[Part, ...]
    cuts: tuple[Line, ...]

    def motion_at(self, z: Point) -> Motion:
        """The motion of the part in which a point of the old piece lies."""
        return self.part_at(z).motion

    def part_at(self, z: Point) -> Part:
        for part in self.parts:
            if inside(part.border, z):
                return part
        return min(self.parts, key=lambda part: _distance(part.border, z))


def _distance(border: Sequence[Point], z: Point) -> float:
    gaps = []
    for p, q in zip(border, [*border[1:], border[0]], strict=True):
        line = Line(p, q)
        size = line.length
        t = ((z - p) * (q - p).conjugate()).real / size**2 if size else 0.0
        gaps.append(abs(line.at(min(1.0, max(0.0, t))) - z))
    return min(gaps)


def recombine(outline: tuple[Span, ...], slits: Sequence[Slit], still: int, step: str) -> Recombined:
    """Open (or close) all slits at once; the part that holds span `still` does not move.

    Raises CannotApply where slits cross each other or the still span is taken away.
    """
    n = len(outline)

    def position(node: int) -> int:
        return (node - still) % n or n  # the walk ends at the node where the still span begins

    events: dict[int, list[tuple[Slit, bool]]] = {}
    for slit in slits:
        for at_p in (True, False):
            events.setdefault(slit.end(at_p).first % n, []).append((slit, at_p))
    return _Walk(outline, step, position).run(events, still)


class _Walk:
    """One walk round the boundary. Holds the stack of slits whose far part is being walked."""

    def __init__(self, outline: tuple[Span, ...], step: str, position: Callable[[int], int]) -> None:
        self.outline = outline
        self.step = step
        self.position = position
        self.parts = [Part(STILL)]
        self.stack: list[tuple[Slit, bool, Part]] = []
        self.part = self.parts[0]
        self.new: list[Span] = []
        self.removed: list[Span] = []

    def run(self, events: dict[int, list[tuple[Slit, bool]]], still: int) -> Recombined:
        n = len(self.outline)
        skip_to = 0
        for j in range(n + 1):
            node = (still + j) % n
            here = events.get(node, []) if j else []
            for slit, at_p in sorted(here, key=lambda e: self._order(e, j)):
                end = slit.end(at_p)
                skip_to = max(skip_to, j + (end.last - end.first) % n)
                if self.stack and self.stack[-1][0] is slit:
                    self._leave(slit, at_p)
                elif any(s is slit for s, _, _ in self.stack):
                    raise CannotApply("slits-cross", "", f"{slit.name} crosses {self.stack[-1][0].name}")
                else:
                    self._enter(slit, at_p)
            if j == n:
                break
            if j < skip_to:
                self.removed.append(self.outline[node])
                continue
            span = self.outline[node]
            self.part.border.append(span.curve.start)
            self.part.border.extend(list(span.curve.flattened(FLATTEN_MM * 5))[:-1])
            self._add(span.moved(self.part.motion))
        if self.stack or skip_to > n:
            name = self.stack[-1][0].name if self.stack else "a slit"
            raise CannotApply("slit-open", "", f"{name} does not cross the piece beside the part that stays")
        cuts = tuple(
            cut
            for slit in {id(s): s for es in events.values() for s, _ in es}.values()
            for cut in self._cuts(slit)
        )
        return Recombined(self._closed(), tuple(self.removed), tuple(self.parts), cuts)

    def _order(self, event: tuple[Slit, bool], now: int) -> tuple[int, int]:
        """At one node: first those ending here, the latest begun first; then by farther other end."""
        slit, at_p = event
        other = self.position(slit.end(not at_p).first)
        return (0, -other) if other < now else (1, -other)

    def _enter(self, slit: Slit, at_p: bool) -> None:
        end = slit.end(at_p)
        near = self._point(end.first)
        self.part.border.append(near)
        far_part = Part(self.part.motion.after(slit.far_motion(at_p)), beside=[slit.name])
        self.part.beside.append(slit.name)
        self._bridge(slit, at_p, self.part.motion(near), far_part.motion(self._point(end.last)), self.part)
        self.stack.append((slit, at_p, self.part))
        self.parts.append(far_part)
        self.part = far_part

    def _leave(self, slit: Slit, at_p: bool) -> None:
        _, entered_at_p, parent = self.stack.pop()
        end = slit.end(at_p)
        far, near = self._point(end.first), self._point(end.last)
        via = slit.via if entered_at_p else tuple(reversed(slit.via))
        self.part.border.append(far)
        self.part.border.extend(reversed(via))
        parent.border.extend(via)
        self._bridge(slit, at_p, self.part.motion(far), parent.motion(near), parent)
        self.part = parent

    def _cuts(self, slit: Slit) -> list[Line]:
        out: list[Line] = []
        for p, q in {(slit.p.first, slit.q.first), (slit.p.last, slit.q.last)}:
            stops = [self._point(p), *slit.via, self._point(q)]
            out += [Line(a, b) for a, b in pairwise(stops) if abs(a - b) > SAME_POINT_MM]
        return out

    def _point(self, node: int) -> Point:
        return self.outline[node % len(self.outline)].curve.start

    def _bridge(self, slit: Slit, at_p: bool, a: Point, b: Point, near: Part) -> None:
        """Fill what has opened between the end of the part before and the start of the part after."""
        if abs(a - b) < SAME_POINT_MM:
            return
        end = slit.end(at_p)
        name = f"{slit.name} {'start' if at_p else 'end'}"
        if end.pivot is None:
            self._add(born(Line(a, b), end.label, self.step, name=name))
            return
        pivot = near.motion(end.pivot)
        for k, leg in enumerate((Line(a, pivot), Line(pivot, b)), start=1):
            self._add(born(leg, end.label, self.step, name=f"{name} leg {k}"))

    def _add(self, span: Span) -> None:
        if self.new:
            span = replace(span, curve=starting_at(span.curve, self.new[-1].curve.end))
        self.new.append(span)

    def _closed(self) -> tuple[Span, ...]:
        first, last = self.new[0], self.new[-1]
        return (replace(first, curve=starting_at(first.curve, last.curve.end)), *self.new[1:])
