"""Drawing a line on a piece between two places of its outline, with the darts it crosses folded."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply
from cutonce.geometry import fit, path
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import STILL, Motion, Point
from cutonce.geometry.path import Path
from cutonce.geometry.region import inside
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.centre import back_to_centre
from cutonce.reshape.crossed_darts import crossed_doubles, opened_on
from cutonce.reshape.divide import Fold, crossed_folds, divide, folds_between, frame_at
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.places import Spot

Keep = Literal["above", "below", "centre", "side"]

_DRAWN_ACROSS = 0.2
"""A bend asked toward a side needs a line that does not itself run that way: cosine to its normal."""


@dataclass(frozen=True, slots=True)
class Heading:
    """How a line leaves an edge: any way, square to it, along it, at a corner of so many radians in the kept
    part, or in a given direction of the flat piece (away from the edge)."""

    kind: Literal["free", "square", "along", "corner", "given"] = "free"
    corner: float = 0.0
    given: complex = 0j


@dataclass(frozen=True, slots=True)
class Bend:
    """The line's greatest distance from the straight one: `depth` mm in the direction `toward`, or to the
    kept part where that is None; at the share `at` of the way."""

    depth: float
    toward: complex | None = None
    at: float = 0.5


@dataclass(frozen=True, slots=True)
class Shape:
    """What a line looks like: straight, unless it goes through points, bends, or has headings at its ends."""

    start: Heading = Heading()
    end: Heading = Heading()
    through: tuple[Point, ...] = ()
    bend: Bend | None = None
    fullness: float = 1.0


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A piece divided along a drawn line: the part left of the way from its start, and the part right of it.

    `line` is the line as drawn with the darts named in `folded` closed; `said` what became of darts pointed
    at both ends that it crosses.
    """

    left: Piece
    right: Piece
    line: Path
    folded: tuple[str, ...] = ()
    said: tuple[str, ...] = ()


def draw(
    piece: Piece, a: Spot, b: Spot, shape: Shape, keep_left: bool, label: Label, step: str, both: bool = False
) -> DrawnLine:
    """Divide a piece along a line from a to b; `keep_left`: the kept part lies left of it; `both`: both are.

    Darts that the line crosses are folded for drawing; they must all open on one side of it, where they stay
    closed. That part lies by its centre, so its new edge need not lie on `line`. The new edge gets `label` in
    both parts. Raises CannotApply where the line misses, leaves the piece or crosses darts on both sides.
    """
    if abs(a.point - b.point) < SAME_POINT_MM:
        raise CannotApply("line-misses", piece.key, "the line starts and ends at one place")
    _refuse_mouths(piece, a, b)
    problems: list[CannotApply] = []
    for turned in (False, True):
        p, q = (b, a) if turned else (a, b)
        ends = _Ends(piece, p, q, keep_left != turned, shape, turned)
        try:
            line, folds = ends.folded_line()
            done = divide(piece, p, q, line, label, step)
        except CannotApply as problem:
            problems.append(problem)
            continue
        left, right = (done.two, done.one) if turned else (done.one, done.two)
        drawn = DrawnLine(left, right, line, tuple(f.dart.name for f in folds))
        drawn = _doubles_opened(piece, drawn, (keep_left or both, not keep_left or both), label, step)
        return replace(drawn, left=_upright(drawn.left, piece), right=_upright(drawn.right, piece))
    raise problems[0]


def _upright(part: Piece, whole: Piece) -> Piece:
    """The part with its centre where it was, also where darts were closed in it: the warp runs along it."""
    back = back_to_centre(part.outline, whole)
    if back == STILL:
        return part
    return replace(part.moved(back), grain=replace(part.grain, at=back(part.grain.at)))


def follow(piece: Piece, a: Spot, b: Spot, course: Path, label: Label, step: str) -> DrawnLine:
    """Divide a piece along a course that is given, flat, from a to b; both parts are kept."""
    _refuse_mouths(piece, a, b)
    done = divide(piece, a, b, course, label, step)
    return _doubles_opened(piece, DrawnLine(done.one, done.two, course), (True, True), label, step)


def _refuse_mouths(piece: Piece, *spots: Spot) -> None:
    """A place at a dart's mouth lies on both sides of it: which of them the line would end on is not said."""
    for spot in spots:
        outline = split_outline(piece.outline, [spot.on_cloth])
        node = node_at(outline, spot.on_cloth)
        if abs(outline[node].curve.start - spot.point) > SAME_POINT_MM:
            raise CannotApply(
                "at-a-mouth",
                piece.key,
                f"the line ends at the mouth of the {outline[node - 1].label.key}",
                "end it beside the dart, or move the dart first",
            )


def _doubles_opened(
    piece: Piece, drawn: DrawnLine, kept: tuple[bool, bool], label: Label, step: str
) -> DrawnLine:
    """The parts that are kept with the double darts crossed by the line opening on it."""
    parts = [drawn.left, drawn.right]
    said: list[str] = []
    for dart in crossed_doubles(piece, drawn.line):
        for k in (0, 1):
            if kept[k]:
                done = opened_on(parts[k], dart, label, step, all(kept))
                parts[k] = done.piece
                said.append(done.said)
    return replace(drawn, left=parts[0], right=parts[1], said=tuple(dict.fromkeys(said)))


class _Ends:
    """One way round: from p to q, with the darts that open between them (counter-clockwise) to be folded."""

    def __init__(self, piece: Piece, p: Spot, q: Spot, keep_one: bool, shape: Shape, turned: bool) -> None:
        self.piece, self.p, self.q, self.keep_one, self.shape = piece, p, q, keep_one, shape
        self.outline = split_outline(piece.outline, [p.on_cloth, q.on_cloth])
        na, nb = node_at(self.outline, p.on_cloth), node_at(self.outline, q.on_cloth)
        self.nodes = na, nb
        self.between = folds_between(piece, self.outline, na, nb)
        self.start, self.end = (shape.end, shape.start) if turned else (shape.start, shape.end)
        self.through = shape.through[::-1] if turned else shape.through
        self.at = None if shape.bend is None else (1 - shape.bend.at if turned else shape.bend.at)

    def folded_line(self) -> tuple[Path, tuple[Fold, ...]]:
        """The line, and the folds it crosses when drawn with just those folded."""
        folds: tuple[Fold, ...] = ()
        for _ in range(len(self.between) + 2):
            line = self._line(folds)
            crossed = crossed_folds(self.between, self.outline, line)
            if [f.dart for f in crossed] == [f.dart for f in folds]:
                return line, folds
            folds = crossed
        raise CannotApply(
            "line-at-pivot",
            self.piece.key,
            f"the line passes so near the {self.between[0].dart.name}'s point that it crosses it only open",
            "move an end or a point",
        )

    def _line(self, folds: tuple[Fold, ...]) -> Path:
        last = folds[-1].closed if folds else STILL
        a, b = self.p.point, last(self.q.point)
        stops = [frame_at(folds, self.outline, z)(z) for z in self.through]
        leave = self._direction(self.start, self.p, STILL, b - a, True)
        back = self._direction(self.end, self.q, last, a - b, False)
        arrive = None if back is None else -back
        if stops:
            return fit.through([a, *stops, b], leave, arrive)
        if self.at is not None:
            return self._bent(a, b, leave, arrive)
        if leave is None and arrive is None:
            return (Line(a, b),)
        if leave is None:
            leave = fit.easing(b - a, arrive or b - a)
        if arrive is None:
            arrive = fit.easing(b - a, leave)
        return (fit.rounded(a, leave, b, arrive, self.shape.fullness),)

    def _bent(self, a: Point, b: Point, leave: complex | None, arrive: complex | None) -> Path:
        bend = self.shape.bend
        if bend is None or self.at is None:
            raise ValueError("no bend")
        chord = (b - a) / abs(b - a)
        left = 1j * chord
        toward = (left if self.keep_one else -left) if bend.toward is None else bend.toward
        aside = (left.conjugate() * toward).real
        if abs(aside) < _DRAWN_ACROSS:
            raise CannotApply(
                "bend-along", self.piece.key, "the line runs the way it should bend", "say another side"
            )
        middle = a + (b - a) * self.at + bend.depth * math.copysign(1, aside) * left
        one, two = (middle - a) / abs(middle - a), (b - middle) / abs(b - middle)
        return (
            fit.rounded(a, leave or one * one / chord, middle, chord, self.shape.fullness),
            fit.rounded(middle, chord, b, arrive or two * two / chord, self.shape.fullness),
        )

    def _direction(
        self, heading: Heading, spot: Spot, frame: Motion, way: complex, at_start: bool
    ) -> complex | None:
        """The unit direction in which the line leaves an end, in the drawing's frame; None: any."""
        flat = frame.inverse().of_vector(way)
        found = leaving(self.piece, spot, heading, flat, self.keep_one != at_start)
        return None if found is None else frame.of_vector(found)


def leaving(piece: Piece, spot: Spot, heading: Heading, way: complex, kept_right: bool) -> complex | None:
    """The unit direction in which a line leaves the outline at a spot; None where any will do.

    `way` is roughly where it goes; `kept_right`: the part whose corner is meant lies right of it.
    """
    match heading.kind:
        case "free":
            return None
        case "given":
            return heading.given
        case "square":
            return 1j * edge_direction(piece, spot)
        case "along":
            along = edge_direction(piece, spot)
            return along if (along.conjugate() * way).real >= 0 else -along
        case "corner":
            turn = heading.corner if kept_right else math.pi - heading.corner
            return edge_direction(piece, spot) * cmath.exp(1j * turn)


def edge_direction(piece: Piece, spot: Spot) -> complex:
    """Unit direction of the outline (counter-clockwise) along the named edge at a spot."""
    origin, material = spot.on_cloth
    found = [s for s in piece.outline if s.origin == origin and s.holds(material)]
    named = [s for s in found if s.label == spot.label] or found
    span = min(named, key=lambda s: abs(s.curve.at(s.curve.at_length(s.arc_at(material))) - spot.point))
    return span.curve.tangent(span.curve.at_length(span.arc_at(material)))


def keeps_left(piece: Piece, a: Spot, b: Spot, keep: Keep) -> bool:
    """Does the part asked for lie left of the way from a to b? Judged by the middles of the two parts.

    Raises CannotApply where neither lies more that way than the other.
    """
    left, right = (_middle(part) for part in _halves(piece, a, b))
    match keep:
        case "above" | "below":
            gap = left.imag - right.imag
        case _:
            gap = abs(left.real) - abs(right.real)
    if abs(gap) < 1.0:
        raise CannotApply(
            "which-part", piece.key, f"neither part lies {_WORDS[keep]} the other", "name a place in it"
        )
    return (gap > 0) == (keep in ("above", "side"))


def keeps_left_of_place(piece: Piece, a: Spot, b: Spot, place: Spot) -> bool:
    """Does the part that holds a place lie left of the way from a to b? Raises CannotApply for one on it."""
    left, right = _halves(piece, a, b)
    if place.origin is not None:
        holds = [
            any(s.origin == place.origin and s.holds(place.material) for s in part) for part in (left, right)
        ]
    else:
        holds = [inside(path.flattened([s.curve for s in part], 0.5), place.point) for part in (left, right)]
    if holds[0] == holds[1]:
        raise CannotApply(
            "which-part", piece.key, "the place given lies in neither part, or in both", "name another"
        )
    return holds[0]


_WORDS: dict[Keep, str] = {
    "above": "above",
    "below": "below",
    "centre": "nearer the centre than",
    "side": "nearer the side than",
}


def _halves(piece: Piece, a: Spot, b: Spot) -> tuple[tuple[Span, ...], tuple[Span, ...]]:
    """The outline from b round to a (left of the way from a to b), and from a round to b."""
    outline = split_outline(piece.outline, [a.on_cloth, b.on_cloth])
    na, nb = node_at(outline, a.on_cloth), node_at(outline, b.on_cloth)
    if na == nb:
        raise CannotApply("line-misses", piece.key, "the line starts and ends at one place")
    n = len(outline)

    def run(first: int, last: int) -> tuple[Span, ...]:
        return tuple(outline[(first + k) % n] for k in range((last - first) % n))

    return run(nb, na), run(na, nb)


def _middle(spans: Sequence[Span]) -> Point:
    """Centre of area of what the spans and the straight line between their ends enclose."""
    points = path.flattened([s.curve for s in spans], 0.5)
    total, moment = 0.0, 0j
    for p, q in zip(points, [*points[1:], points[0]], strict=True):
        part = (p.conjugate() * q).imag
        total += part
        moment += part * (p + q) / 3
    return moment / total if abs(total) > SAME_POINT_MM else sum(points) / len(points)
