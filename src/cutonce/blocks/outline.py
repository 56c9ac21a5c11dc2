"""A block from points typed by hand: so that a paper block can be entered with a ruler, edge by edge."""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from cutonce.blocks.outline_curves import DrawnEdge, coordinates, drawn_curves, named, ordered
from cutonce.blocks.outline_marks import with_marks
from cutonce.blocks.outline_model import Outline, OutlineDart, OutlineDoubleDart, OutlineLine, OutlinePiece
from cutonce.blocks.outline_place import placed
from cutonce.blocks.outline_seams import drawn_seams
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Grain, InnerLine, Piece
from cutonce.draft.span import BLOCK, CENTRES, Label, Landmark, Span, born_round
from cutonce.errors import BadInput, CannotApply, Finding, quoted
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import STILL, Point
from cutonce.geometry.path import Path, polyline
from cutonce.geometry.region import crossing
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.validation import validated

_LEAST_LEG_MM = 1.0
_WIDEST_DEG = 150.0
"""A dart shorter or wider than this is no dart."""


def read_outline(document: object, measures: Mapping[str, float], where: str) -> Outline:
    """An outline file's content as a model, its lengths worked out in mm. Raises BadInput."""
    return validated(Outline, document, measures, where)


def outline_block(outline: Outline, where: str = "outline") -> tuple[Draft, tuple[Finding, ...]]:
    """The draft of an outline file.

    Half pieces are laid with their centre edge on x = 0 (fronts at x >= 0, backs at x <= 0); one that was
    typed as the wearer's right half is turned over, with a note. Raises BadInput and CannotApply, each
    naming piece and edge: outline-not-closed, crosses-itself, unknown-point, given-twice, dart-mouth,
    dart-flat, dart-short, unknown-edge, unknown-piece, and those of `outline_curves`.
    """
    pieces: list[Piece] = []
    findings: list[Finding] = []
    for shape in outline.pieces:
        at = f"{where}, piece {quoted(shape.name)}"
        points = coordinates(shape.points, at)
        piece, said = _piece(shape, points, at)
        motion = STILL
        if not outline.whole:
            piece, motion, also = placed(piece, at)
            said = (*said, *also)
        laid = {name: motion(point) for name, point in points.items()}
        piece = with_marks(piece, shape, laid, at, is_half=not outline.whole)
        if piece.key in {p.key for p in pieces}:
            raise BadInput("given-twice", where, f"piece {quoted(piece.key)} is there twice")
        pieces.append(piece)
        findings.extend(said)
    draft = Draft(tuple(pieces), drawn_seams(outline, pieces, where), unfolded=outline.whole)
    return draft, tuple(findings)


def _piece(shape: OutlinePiece, points: dict[str, Point], where: str) -> tuple[Piece, tuple[Finding, ...]]:
    edges = ordered(shape, points, where)
    _check_names(shape, where)
    _check_darts(shape, points, where)
    paths = drawn_curves(edges, points, where)
    outline = _outline(edges, paths, points, where)
    _refuse_crossing(outline, where)
    labels = tuple(dict.fromkeys(s.label for s in outline if s.label.role != "dart leg"))
    centre = next((label for label in labels if label.role in CENTRES), None)
    if shape.cut == "fold" and centre is None:
        raise BadInput(
            "no-fold",
            where,
            "a piece cut on the fold needs an edge of role centre front or centre back",
            f"its edges: {', '.join(label.key for label in labels)}",
        )
    piece = Piece(
        name=shape.name,
        outline=outline,
        grain=_grain(shape, points, outline, where),
        wearer=shape.wearer,
        cut=shape.cut,
        fold=centre if shape.cut == "fold" else None,
        darts=tuple(Dart(d.name, d.wearer, d.short) for d in shape.darts),
        double_darts=tuple(_double_dart(d, points, where) for d in shape.double_darts),
        points=tuple(
            Landmark(name, named(points, n, f"{where}, landmark {quoted(name)}"), shape.wearer)
            for name, n in shape.landmarks.items()
        ),
        lines=tuple(
            InnerLine(x.name, _line(x, points, f"{where}, line {quoted(x.name)}"), wearer=shape.wearer)
            for x in shape.lines
        ),
        face=shape.face,
    )
    return piece, _unused(shape, where)


def _refuse_crossing(outline: tuple[Span, ...], where: str) -> None:
    spot = crossing([s.curve for s in outline])
    if spot is not None:
        x, y = spot.real / 10, spot.imag / 10
        raise CannotApply(
            "crosses-itself", where, f"the outline crosses or touches itself at x {x:.1f} cm, y {y:.1f} cm"
        )


def _line(line: OutlineLine, points: dict[str, Point], where: str) -> Path:
    places = [named(points, name, where) for name in line.points]
    for (one, z), (other, w) in pairwise(zip(line.points, places, strict=True)):
        if abs(w - z) < SAME_POINT_MM:
            raise BadInput("same-place", where, f"points {one} and {other} lie at one place", "leave one out")
    return polyline(places)


def _double_dart(dart: OutlineDoubleDart, points: dict[str, Point], where: str) -> DoubleDart:
    def at(name: str) -> Point:
        return named(points, name, f"{where}, dart {quoted(dart.name)}")

    return DoubleDart(dart.name, at(dart.upper), at(dart.lower), at(dart.left), at(dart.right), dart.wearer)


def _check_names(shape: OutlinePiece, where: str) -> None:
    """No name twice; every dart's mouth lies on exactly one edge."""
    keys = [Label(e.name, e.role, e.wearer).key for e in shape.edges]
    named_darts = [(d.name, d.wearer) for d in shape.darts] + [(d.name, d.wearer) for d in shape.double_darts]
    dart_keys = [f"{wearer} {name}" if wearer else name for name, wearer in named_darts]
    for key in (*keys, *dart_keys):
        if (keys + dart_keys).count(key) > 1:
            raise BadInput("given-twice", where, f"the name {quoted(key)} is there twice")
    for dart in shape.darts:
        on = [e for e in shape.edges if _mouth_on(dart, e.points)]
        if len(on) != 1:
            raise BadInput(
                "dart-mouth",
                f"{where}, dart {quoted(dart.name)}",
                f"its mouth, points {dart.mouth[0]} and {dart.mouth[1]}, is not on one edge",
                "name both ends next to each other among the points of an edge",
            )


def _check_darts(shape: OutlinePiece, points: dict[str, Point], where: str) -> None:
    """Every dart opens from its point like a wedge, and is drawn to end between its point and its mouth."""
    for dart in shape.darts:
        at = f"{where}, dart {quoted(dart.name)}"
        point = named(points, dart.point, at)
        one, two = (named(points, name, at) - point for name in dart.mouth)
        long = min(abs(one), abs(two))
        opens = math.degrees(abs(cmath.phase(two * one.conjugate())))
        if long < _LEAST_LEG_MM or not opens < _WIDEST_DEG:
            message = f"its point lies at its mouth: it is {long:.1f} mm long and opens {opens:.0f} degrees"
            raise BadInput("dart-flat", at, message, "name a point inside the piece")
        if not 0 <= dart.short < long:
            message = f"'short' is {dart.short:.1f} mm, and the dart {long:.1f} mm long"
            raise BadInput("dart-short", at, message, "say how far before the pivot the dart is drawn to end")


def _mouth_on(dart: OutlineDart, points: Sequence[str]) -> bool:
    return any({one, two} == set(dart.mouth) for one, two in pairwise(points))


def _outline(
    edges: Sequence[DrawnEdge], paths: Sequence[Sequence[Path]], points: dict[str, Point], where: str
) -> tuple[Span, ...]:
    """Spans in order, darts' legs between the stretches; material of an edge runs on across its darts."""
    lines: list[tuple[Label, Path]] = []
    for drawn, runs in zip(edges, paths, strict=True):
        label = Label(drawn.edge.name, drawn.edge.role, drawn.edge.wearer)
        for stretch, run in zip(drawn.stretches, runs, strict=True):
            lines.append((label, run))
            if stretch.dart is not None:
                pivot = named(points, stretch.dart.point, f"{where}, dart {quoted(stretch.dart.name)}")
                mouth = points[stretch.points[-1]]
                other = next(n for n in stretch.dart.mouth if n != stretch.points[-1])
                leg = Dart(stretch.dart.name, stretch.dart.wearer).label
                lines.append((leg, (Line(mouth, pivot), Line(pivot, points[other]))))
    return tuple(born_round(lines, BLOCK))


def _grain(shape: OutlinePiece, points: dict[str, Point], outline: Sequence[Span], where: str) -> Grain:
    if shape.grain is None:
        corners = [s.curve.start for s in outline]
        return Grain(sum(corners) / len(corners))
    one = named(points, shape.grain.from_, f"{where}, grain")
    two = named(points, shape.grain.to, f"{where}, grain")
    if one == two:
        raise BadInput("same-place", f"{where}, grain", "the grain runs from a point to itself")
    return Grain((one + two) / 2, (two - one) / abs(two - one))


def _unused(shape: OutlinePiece, where: str) -> tuple[Finding, ...]:
    """A note for points that nothing uses: most often a slip in the list of an edge."""
    used = {n for e in shape.edges for n in e.points} | set(shape.landmarks.values())
    used |= {n for d in shape.darts for n in (*d.mouth, d.point)} | {m.at for m in shape.marks}
    used |= {n for d in shape.double_darts for n in (d.upper, d.lower, d.left, d.right)}
    used |= {n for x in shape.lines for n in x.points}
    used |= {p.from_ for p in shape.points.values() if p.from_ is not None}
    if shape.grain is not None:
        used |= {shape.grain.from_, shape.grain.to}
    left = [n for n in shape.points if n not in used]
    if not left:
        return ()
    what = f"point {left[0]} is" if len(left) == 1 else f"points {', '.join(left)} are"
    return (
        Finding(
            "note", "unused-point", where, f"{what} not used", BLOCK, "add it to an edge or leave it out"
        ),
    )
