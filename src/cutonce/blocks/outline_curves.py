"""Drawing a typed outline: from numbered points to curves, in the order of the edges, counter-clockwise."""

from __future__ import annotations

import cmath
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.blocks.outline_model import DIRECTIONS, OutlineDart, OutlineEdge, OutlinePiece, OutlinePoint
from cutonce.errors import BadInput, closest, quoted
from cutonce.geometry.curve import Cubic
from cutonce.geometry.fit import between, through
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, polyline
from cutonce.units import angle

SAME_PLACE_MM = 0.1
"""Two typed points nearer than this are one: she measures to half a millimetre at best."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of an edge between darts, with the dart that follows it, if any."""

    points: tuple[str, ...]
    dart: OutlineDart | None


@dataclass(frozen=True, slots=True)
class DrawnEdge:
    """An edge in counter-clockwise order. `outward` bends it out of the piece, less than 0 into it."""

    edge: OutlineEdge
    stretches: tuple[Stretch, ...]
    outward: float
    start: str
    end: str

    @property
    def first(self) -> str:
        return self.stretches[0].points[0]

    @property
    def last(self) -> str:
        return self.stretches[-1].points[-1]


def coordinates(points: dict[str, OutlinePoint], where: str) -> dict[str, Point]:
    """Each numbered point in mm, as typed: x to the right, y up.

    Raises BadInput: point (nothing to measure from), unknown-point.
    """
    found: dict[str, Point] = {}
    before: Point | None = None
    for name, point in points.items():
        if point.x is not None and point.y is not None:
            at = complex(point.x, point.y)
        else:
            if point.from_ is not None:
                before = named(found, point.from_, f"{where}, point {name}")
            if before is None:
                raise BadInput("point", f"{where}, point {name}", "the first point needs x and y")
            at = before + complex(point.right - point.left, point.up - point.down)
        found[name] = before = at
    return found


def named(points: Mapping[str, Point], name: str, where: str) -> Point:
    """The point of that number. Raises BadInput (unknown-point) with the choices."""
    if name not in points:
        have = ", ".join(points)
        raise BadInput("unknown-point", where, f"no point {quoted(name)}{closest(name, points)}", have)
    return points[name]


def ordered(piece: OutlinePiece, points: dict[str, Point], where: str) -> tuple[DrawnEdge, ...]:
    """The edges in counter-clockwise order; an outline typed clockwise is walked the other way.

    Raises BadInput: outline-not-closed, same-place, unknown-point, dart-mouth.
    """
    for edge in piece.edges:
        for name in edge.points:
            named(points, name, f"{where}, edge {quoted(edge.name)}")
        for one, two in pairwise(edge.points):
            if abs(points[one] - points[two]) < SAME_PLACE_MM:
                raise BadInput(
                    "same-place",
                    f"{where}, edge {quoted(edge.name)}",
                    f"points {one} and {two} are at the same place",
                )
    for edge, follower in zip(piece.edges, piece.edges[1:] + piece.edges[:1], strict=True):
        if edge.points[-1] != follower.points[0]:
            raise BadInput(
                "outline-not-closed",
                where,
                f"edge {quoted(edge.name)} ends at point {edge.points[-1]}, "
                f"the next one, {quoted(follower.name)}, begins at point {follower.points[0]}",
                "list the edges round the piece, each beginning where the last one ended",
            )
    corners = [points[name] for edge in piece.edges for name in edge.points[:-1]]
    if _signed_area(corners) >= 0:
        return tuple(_drawn(piece, edge, where, False) for edge in piece.edges)
    return tuple(_drawn(piece, edge, where, True) for edge in reversed(piece.edges))


def _signed_area(corners: Sequence[Point]) -> float:
    return sum((p.conjugate() * q).imag for p, q in zip(corners, [*corners[1:], corners[0]], strict=True))


def _drawn(piece: OutlinePiece, edge: OutlineEdge, where: str, turned: bool) -> DrawnEdge:
    names = edge.points[::-1] if turned else edge.points
    start, end = (_back(edge.end), _back(edge.start)) if turned else (edge.start, edge.end)
    bend = (edge.outward or 0.0) - (edge.inward or 0.0)
    stretches: list[Stretch] = []
    run = [names[0]]
    for one, two in pairwise(names):
        dart = next((d for d in piece.darts if set(d.mouth) == {one, two}), None)
        if dart is not None:
            stretches.append(Stretch(tuple(run), dart))
            run = [two]
        else:
            run.append(two)
    stretches.append(Stretch(tuple(run), None))
    short = next((s for s in stretches if len(s.points) < 2), None)
    if short is not None:
        raise BadInput(
            "dart-mouth",
            f"{where}, edge {quoted(edge.name)}",
            f"a dart's mouth begins or ends the edge at point {short.points[0]}; "
            "some edge is needed on both sides of it",
        )
    if len(stretches) > 1 and (bend or edge.fullness):
        raise BadInput(
            "edge-shape", f"{where}, edge {quoted(edge.name)}", "an edge with a dart is curved through points"
        )
    return DrawnEdge(edge, tuple(stretches), bend, start, end)


def _back(heading: str) -> str:
    """The same direction, walked the other way."""
    opposite = {"up": "down", "down": "up", "left": "right", "right": "left"}
    if heading in ("", "square", "smooth"):
        return heading
    return opposite.get(heading) or f"{cmath.phase(-cmath.exp(1j * angle(heading)))!r} rad"


def drawn_curves(edges: Sequence[DrawnEdge], points: dict[str, Point], where: str) -> list[list[Path]]:
    """The path of each stretch of each edge. An edge square or smooth to its neighbour waits for that one.

    Raises BadInput (direction-loop) where two edges wait for each other, (edge-depth) for a depth that
    no curve with these directions has.
    """
    n = len(edges)
    built: dict[int, list[Path]] = {}
    while len(built) < n:
        before = len(built)
        for i, edge in enumerate(edges):
            if i in built:
                continue
            start = _direction(edge.start, points, edge.stretches[0].points[:2], built.get((i - 1) % n), True)
            end = _direction(
                edge.end, points, edge.stretches[-1].points[:-3:-1], built.get((i + 1) % n), False
            )
            if start is not _WAITS and end is not _WAITS:
                built[i] = _edge_paths(edge, points, start, end, f"{where}, edge {quoted(edge.edge.name)}")
        if len(built) == before:
            loop = [quoted(edges[i].edge.name) for i in range(n) if i not in built]
            raise BadInput(
                "direction-loop",
                where,
                f"edges {' and '.join(loop[:2])} each wait for the other's direction",
                "give one of them a direction such as 'right' or '20 deg'",
            )
    return [built[i] for i in range(n)]


_WAITS = complex("nan")


def _direction(
    heading: str,
    points: dict[str, Point],
    ends: Sequence[str],
    neighbour: list[Path] | None,
    at_start: bool,
) -> complex | None:
    """The direction of travel at one end of an edge; None where it is free, _WAITS where not yet known.

    `ends` are the end's own point and the next one inward.
    """
    if not heading:
        return None
    if heading in DIRECTIONS:
        return DIRECTIONS[heading]
    if heading not in ("square", "smooth"):
        return cmath.exp(1j * angle(heading))
    if neighbour is None:
        return _WAITS
    beside = neighbour[-1][-1].tangent(1) if at_start else neighbour[0][0].tangent(0)
    if heading == "smooth":
        return beside
    inward = points[ends[1]] - points[ends[0]]
    travel = inward if at_start else -inward
    turned = beside * 1j
    return turned if (turned.conjugate() * travel).real >= 0 else -turned


def _edge_paths(
    edge: DrawnEdge, points: dict[str, Point], start: complex | None, end: complex | None, where: str
) -> list[Path]:
    last = len(edge.stretches) - 1
    out: list[Path] = []
    for k, stretch in enumerate(edge.stretches):
        at = [points[name] for name in stretch.points]
        u, v = start if k == 0 else None, end if k == last else None
        if edge.edge.straight:
            out.append(polyline(at))
        elif len(at) > 2 or (u is None and v is None and not edge.outward):
            out.append(through(at, u, v))
        else:
            out.append((_bent(at[0], at[1], u, v, edge, where),))
    return out


def _bent(p: Point, q: Point, u: complex | None, v: complex | None, edge: DrawnEdge, where: str) -> Cubic:
    """A single curve between two points with the directions, fullness or depth asked for."""
    chord = q - p
    depth = edge.outward
    if u is None and v is None:  # an arc of that depth: its tangents lean 2 atan(2 depth / chord)
        lean = cmath.exp(-2j * cmath.phase(complex(abs(chord), 2 * depth)))
        return between(p, chord * lean, q, chord / lean)
    if u is None:  # the free end leans as much, the other way
        u = chord * chord * v.conjugate() if v is not None else chord
    if v is None:
        v = chord * chord * u.conjugate()
    if not depth:
        return between(p, u, q, v, edge.edge.fullness or 1.0)
    return _of_depth(p, u, q, v, depth, where)


def _of_depth(p: Point, u: complex, q: Point, v: complex, depth: float, where: str) -> Cubic:
    """A curve with these directions whose greatest distance from the chord is `depth`, outward positive."""

    def reached(fullness: float) -> float:
        curve = between(p, u, q, v, fullness)
        turned = -1j * (q - p) / abs(q - p)
        offs = [((curve.at(i / 32) - p) * turned.conjugate()).real for i in range(33)]
        return max(offs) if depth > 0 else -min(offs)

    low, high = 0.05, 4.0
    if not reached(low) < abs(depth) < reached(high):
        raise BadInput(
            "edge-depth",
            where,
            f"no curve with these directions bends by {abs(depth):.1f} mm; "
            f"they allow {max(0.0, reached(low)):.1f} to {max(0.0, reached(high)):.1f} mm",
        )
    for _ in range(50):
        mid = (low + high) / 2
        low, high = (mid, high) if reached(mid) < abs(depth) else (low, mid)
    return between(p, u, q, v, (low + high) / 2)
