"""From drawn edges to pieces: spans with their identity, marks, landmark lines, the mirrored back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutonce.draft.piece import Dart, DoubleDart, Grain, InnerLine, Piece
from cutonce.draft.span import BLOCK, EdgeMark, Label, Landmark, born_round
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import MIRROR, Point
from cutonce.geometry.path import Path, moved, reversed_path

CENTRE_FRONT = Label("centre front", "centre front")
CENTRE_BACK = Label("centre back", "centre back")
NECK = Label("neck", "neck")
SHOULDER = Label("shoulder", "shoulder")
ARMHOLE = Label("armhole", "armhole")
SIDE = Label("side", "side")
WAIST = Label("waist", "waist")
HEM = Label("hem", "hem")

Edge = tuple[Label, Path]


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark `at` mm from the start of an edge as drawn, with the side at +x."""

    name: str
    edge: Label
    at: float
    printed: bool = True


@dataclass(frozen=True, slots=True)
class Drawing:
    """A half piece as drawn: centre on x = 0, side at +x; edges in counter-clockwise order, dart legs among
    them; levels are landmark lines given by name and height, running from the centre to the side's x."""

    face: Literal["front", "back"]
    edges: tuple[Edge, ...]
    levels: tuple[tuple[str, Point], ...]
    marks: tuple[Mark, ...]
    darts: tuple[Dart, ...]
    double_darts: tuple[DoubleDart, ...] = ()
    points: tuple[Landmark, ...] = ()


def dart_edge(name: str, mouth: Point, pivot: Point, far: Point) -> Edge:
    """Both legs of a dart as an edge, in outline order."""
    return Dart(name).label, (Line(mouth, pivot), Line(pivot, far))


def piece_of(drawing: Drawing) -> Piece:
    """The drawing as a piece: a front as it is, a back mirrored so that it lies at x <= 0."""
    front = drawing.face == "front"
    centre = CENTRE_FRONT if front else CENTRE_BACK
    edges = drawing.edges if front else tuple(_mirrored(edge) for edge in reversed(drawing.edges))
    outline = tuple(born_round(edges, BLOCK))
    lines = [InnerLine(name, (Line(complex(0, end.imag), end),)) for name, end in drawing.levels]
    if not front:
        lines = [InnerLine(x.name, moved(reversed_path(x.curves), MIRROR)) for x in lines]
    doubles = drawing.double_darts if front else tuple(d.moved(MIRROR) for d in drawing.double_darts)
    totals = {label: sum(c.length for e, path in edges if e == label for c in path) for label, _ in edges}
    first = {s.label: s.origin for s in reversed(outline)}
    marks = tuple(
        EdgeMark(m.name, first[m.edge], m.at if front else totals[m.edge] - m.at, m.printed)
        for m in drawing.marks
    )
    widest = max(s.curve.bounds[2] for s in outline) if front else min(s.curve.bounds[0] for s in outline)
    low, high = min(s.curve.bounds[1] for s in outline), max(s.curve.bounds[3] for s in outline)
    return Piece(
        name=drawing.face,
        outline=outline,
        grain=Grain(complex(widest / 4, low + 0.4 * (high - low))),
        cut="fold" if front else "pair",
        fold=centre if front else None,
        darts=drawing.darts,
        double_darts=doubles,
        marks=marks,
        points=drawing.points,
        lines=tuple(lines),
        face=drawing.face,
    )


def _mirrored(edge: Edge) -> Edge:
    label, path = edge
    return label, moved(reversed_path(path), MIRROR)
