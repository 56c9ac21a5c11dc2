"""A line through a piece that takes darts into itself: the ground of panel seams.

A dart pointed at both ends lies between two stops: the part on each side of the line follows the dart's side
next to it. A dart that opens on the edge may begin or end the line: its legs become part of the new edges.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, DoubleDart, InnerLine, Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply
from cutonce.geometry import fit, path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.darts import first_leg
from cutonce.reshape.divide import Divided, divide_at
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.places import Spot

_MEET_MM = 0.01
"""The halves of a landmark line that end this near each other are one line."""


@dataclass(frozen=True, slots=True)
class Way:
    """Where a route runs: from `start` to `end` (places on edges, or darts that open there), by `through`
    (points, and darts pointed at both ends, in order), in the directions given at its ends, if any."""

    start: Spot | Dart
    end: Spot | Dart
    through: tuple[Point | DoubleDart, ...] = ()
    leave: complex | None = None
    arrive: complex | None = None


def divided_by(piece: Piece, way: Way, label: Label, step: str) -> Divided:
    """The piece divided along a route; `one` lies left of it. Both parts have the new edge under `label`.

    Darts on the way are gone from both. Raises CannotApply where the route leaves the piece or crosses a
    dart that is not on it.
    """
    spots = [end.on_cloth for end in (way.start, way.end) if isinstance(end, Spot)]
    outline = split_outline(piece.outline, spots)
    ends = _node(outline, way.start), _node(outline, way.end)
    left, right = courses(way, outline[ends[0]].curve.start, outline[ends[1]].curve.start)
    done = divide_at(piece, outline, ends, left, label, step, right if right != left else ())
    taken = {d.label for d in (way.start, way.end) if isinstance(d, Dart)}
    return Divided(_as_seam(done.one, taken, label), _as_seam(done.two, taken, label))


def _node(outline: tuple[Span, ...], end: Spot | Dart) -> int:
    if isinstance(end, Dart):
        return (first_leg(outline, end) + 1) % len(outline)
    return node_at(outline, end.on_cloth)


def _as_seam(part: Piece, taken: set[Label], label: Label) -> Piece:
    """The legs of darts taken into the seam under the seam's label."""
    outline = tuple(replace(s, label=label) if s.label in taken else s for s in part.outline)
    return replace(part, outline=outline, darts=tuple(d for d in part.darts if d.label not in taken))


def courses(way: Way, a: Point, b: Point) -> tuple[Path, Path]:
    """The route as it runs left of its darts and right of them, with equally many curves."""
    left: list[Curve] = []
    right: list[Curve] = []
    stops: list[Point] = [a]
    heading = way.leave
    for stop in way.through:
        if not isinstance(stop, DoubleDart):
            stops.append(stop)
            continue
        entry, leave_at = sorted((stop.upper, stop.lower), key=lambda z: abs(z - stops[-1]))
        axis = (leave_at - entry) / abs(leave_at - entry)
        common = _course([*stops, entry], heading, axis)
        sides = sorted((stop.left, stop.right), key=lambda z: -((z - entry) * axis.conjugate()).imag)
        for out, side in ((left, sides[0]), (right, sides[1])):
            out += [*common, Line(entry, side), Line(side, leave_at)]
        stops, heading = [leave_at], axis
    last = _course([*stops, b], heading, way.arrive)
    return (*left, *last), (*right, *last)


def _course(stops: Sequence[Point], leave: complex | None, arrive: complex | None) -> Path:
    points = [z for k, z in enumerate(stops) if k == 0 or abs(z - stops[k - 1]) > SAME_POINT_MM]
    if len(points) < 2:
        return ()
    if len(points) > 2 or (leave is None and arrive is None):
        return fit.through(points, leave, arrive)
    chord = points[1] - points[0]
    leave = leave or fit.easing(chord, arrive or chord)
    return (fit.rounded(points[0], leave, points[1], arrive or fit.easing(chord, leave)),)


def in_order(a: Point, b: Point, stops: Sequence[Point | DoubleDart]) -> tuple[Point | DoubleDart, ...]:
    """Stops in the order in which they come on the way from a to b."""

    def far(stop: Point | DoubleDart) -> float:
        z = (stop.left + stop.right) / 2 if isinstance(stop, DoubleDart) else stop
        return ((z - a) * (b - a).conjugate()).real

    return tuple(sorted(stops, key=far))


def along_guide(piece: Piece, guides: Sequence[InnerLine]) -> tuple[Spot, Spot, Path]:
    """A guide line from edge to edge: its ends and course, run on straight or cut off where it meets them.

    Two guides of a name, of the wearer's left and right, are one line where they meet. Where the piece was
    spread across a guide, its parts lie apart and the line runs straight from one to the next.
    """
    far = math.hypot(*_size(piece))
    name = guides[0].name
    curves = _bridged(_one_line(piece, guides))
    first, last = curves[0], curves[-1]
    whole: Path = (
        Line(first.start - far * first.tangent(0), first.start),
        *curves,
        Line(last.end, last.end + far * last.tangent(1)),
    )
    hits: list[tuple[float, Span, float]] = []
    before = 0.0
    for curve in whole:
        for span in piece.outline:
            hits += [
                (before + curve.length_to(t), span, span.curve.length_to(u))
                for t, u in meetings(curve, span.curve)
            ]
        before += curve.length
    hits.sort(key=lambda hit: hit[0])
    middle = far + path.length(curves) / 2
    earlier = [hit for hit in hits if hit[0] < middle]
    later = [hit for hit in hits if hit[0] > middle]
    if not earlier or not later:
        raise CannotApply("guide-misses", piece.key, f"the guide '{name}' does not cross the piece")
    one, two = earlier[-1], later[0]
    for _, span, _ in (one, two):
        if span.label.role == "dart leg":
            raise CannotApply(
                "guide-dart",
                piece.key,
                f"the guide '{name}' crosses the {span.label.key}",
                "move the dart",
            )
    return _spot(piece, one), _spot(piece, two), path.part(whole, one[0], two[0])


def _one_line(piece: Piece, guides: Sequence[InnerLine]) -> Path:
    if len(guides) == 1:
        return guides[0].curves
    one, two = guides[0].curves, guides[1].curves
    for p in (one, path.reversed_path(one)):
        for q in (two, path.reversed_path(two)):
            if len(guides) == 2 and abs(p[-1].end - q[0].start) < _MEET_MM:
                return (*p, *q)
    raise CannotApply(
        "guides-apart", piece.key, f"the lines '{guides[0].name}' do not meet", "name the wearer's side"
    )


def _bridged(curves: Path) -> Path:
    """The curves end to end, with a straight line over every gap."""
    out: list[Curve] = list(curves[:1])
    for curve in curves[1:]:
        if abs(curve.start - out[-1].end) > SAME_POINT_MM:
            out.append(Line(out[-1].end, curve.start))
        out.append(curve)
    return tuple(out)


def _size(piece: Piece) -> tuple[float, float]:
    box = path.bounds(s.curve for s in piece.outline)
    return box[2] - box[0], box[3] - box[1]


def _spot(piece: Piece, hit: tuple[float, Span, float]) -> Spot:
    _, span, s = hit
    point = span.curve.at(span.curve.at_length(s))
    return Spot(piece.key, point, span.label, span.origin, span.material_at(s))
