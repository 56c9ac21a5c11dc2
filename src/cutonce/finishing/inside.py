"""What is drawn inside a finished piece: darts, drill marks, grain, lines, points, stretches left unsewn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from cutonce.draft.piece import Dart, DoubleDart, Piece
from cutonce.draft.span import sided
from cutonce.errors import CannotApply
from cutonce.finishing.allowance import Stretch
from cutonce.finishing.cutting import Cutting
from cutonce.finishing.dart_mouth import Mouth
from cutonce.finishing.finished import DrawnDart, Drill, GrainArrow, MarkedLine, PointMark, Unsewn
from cutonce.geometry import path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.cap import cap
from cutonce.units import show

DRILL_MM = 10.0
"""A hole is marked this far inside a dart's point, so that the sewn dart covers it (common practice)."""

DRILL_SIDE_MM = 3.0
"""And this far inside the side corners of a dart pointed at both ends."""

LONGEST_ARROW_MM = 300.0
"""Long enough to be measured from at both ends; a longer one is in the way of other marks."""

_ARROW_CLEAR_MM = 12.0
"""The arrow keeps this clear of the sewing line at both ends,"""

_ARROW_SHARE = 0.7
"""but takes this share of a short piece."""


def darts(piece: Piece, cutting: Cutting) -> tuple[DrawnDart, ...]:
    """Every dart as it is drawn: legs to the drawn point, its fold, how wide, which way it is pressed."""
    out = [_single(piece, m.name, m.mouth) for m in cutting.mouths]
    return (*out, *(_double(d) for d in piece.double_darts))


def _single(piece: Piece, name: str, mouth: Mouth) -> DrawnDart:
    dart = next(d for d in piece.darts if d.label.key == name)
    middle = (mouth.one + mouth.two) / 2
    return DrawnDart(
        name,
        dart.wearer,
        ((Line(mouth.one, mouth.tip),), (Line(mouth.two, mouth.tip),)),
        (Line(middle, mouth.tip),),
        (mouth.tip,),
        abs(mouth.one - mouth.two),
        mouth.press,
        _sewn_over(piece, replace(dart, folds=mouth.folds)),
    )


def _sewn_over(piece: Piece, dart: Dart) -> Path:
    try:
        return cap(piece, dart)
    except CannotApply:  # the cutting line has said so already: its mouth is bridged straight
        return ()


def _double(dart: DoubleDart) -> DrawnDart:
    legs = tuple((Line(end, side),) for end in (dart.upper, dart.lower) for side in (dart.left, dart.right))
    return DrawnDart(
        sided(dart.name, dart.wearer),
        dart.wearer,
        legs,
        (Line(dart.upper, dart.lower),),
        (dart.upper, dart.lower),
        dart.intake,
        "press towards the centre",
    )


def drills(piece: Piece, cutting: Cutting) -> tuple[Drill, ...]:
    """Holes to mark: before each dart point, inside the sides of a double dart, points called "drill"."""
    out = [Drill(m.name, _towards(m.mouth.tip, (m.mouth.one + m.mouth.two) / 2)) for m in cutting.mouths]
    for dart in piece.double_darts:
        name = sided(dart.name, dart.wearer)
        middle = (dart.left + dart.right) / 2
        out += [Drill(name, _towards(end, middle)) for end in (dart.upper, dart.lower)]
        out += [Drill(name, _towards(side, middle, DRILL_SIDE_MM)) for side in (dart.left, dart.right)]
    out += [Drill(p.name, p.at) for p in piece.points if p.name.startswith("drill")]
    return tuple(out)


def _towards(p: Point, q: Point, by: float = DRILL_MM) -> Point:
    """A little way from p to q; never past 0.4 of it."""
    gap = abs(q - p)
    return p + (q - p) * min(by / gap, 0.4) if gap else p


def points(piece: Piece) -> tuple[PointMark, ...]:
    return tuple(
        PointMark(sided(p.name, p.wearer), p.at) for p in piece.points if not p.name.startswith("drill")
    )


def lines(piece: Piece) -> tuple[MarkedLine, ...]:
    return tuple(MarkedLine(sided(x.name, x.wearer), x.kind, x.curves) for x in piece.lines if x.curves)


def grain(piece: Piece, sewing: Path) -> GrainArrow:
    """The arrow along the warp within the sewing line: through the place the piece gives where that has room,
    else through the place that has most."""
    along = piece.grain.along / abs(piece.grain.along)
    left, low, right, high = path.bounds(sewing)
    size = abs(complex(right - left, high - low))
    middle = complex((left + right) / 2, (low + high) / 2)
    wanted = _room(sewing, piece.grain.at, along, near=piece.grain.at)
    if wanted is None or abs(wanted[1] - wanted[0]) < 0.25 * size:
        tried = (_room(sewing, middle + 1j * along * size * k / 12, along) for k in range(-5, 6))
        options = [*(w for w in (wanted,) if w), *(t for t in tried if t)]
        wanted = max(options, key=lambda w: abs(w[1] - w[0]), default=(middle, middle))
    a, b = wanted
    half = min(LONGEST_ARROW_MM, max(_ARROW_SHARE * abs(b - a), abs(b - a) - 2 * _ARROW_CLEAR_MM)) / 2
    centre = (a + b) / 2
    kind = piece.grain.kind
    return GrainArrow(
        centre - half * along, centre + half * along, f"{kind} grain" if kind != "bias" else kind
    )


def _room(sewing: Path, p: Point, along: complex, near: Point | None = None) -> tuple[Point, Point] | None:
    """The run inside the outline of the line through p: the one that holds `near`, else the longest."""
    stops = sorted(
        ((curve.at(t) - p) * along.conjugate()).real
        for curve in sewing
        if _may_meet(curve, p, along)
        for t in on_line(curve, p, along)
    )
    gaps = [(s, e) for s, e in pairwise(stops) if e - s > 1.0]
    inner = [(s, e) for s, e in gaps if _inside(sewing, p + along * (s + e) / 2)]
    if near is not None:
        inner = [(s, e) for s, e in inner if s <= 0 <= e]
    if not inner:
        return None
    s, e = max(inner, key=lambda r: r[1] - r[0])
    return p + along * s, p + along * e


def _inside(sewing: Path, p: Point) -> bool:
    """Odd number of crossings to the right, counted on the curves themselves."""
    level = [c for c in sewing if _may_meet(c, p, 1 + 0j)]
    return sum(1 for c in level for t in on_line(c, p, 1 + 0j) if c.at(t).real > p.real) % 2 == 1


def _may_meet(curve: Curve, p: Point, along: complex) -> bool:
    """Do the curve's control points lie on both sides of the line through p? (It lies within their hull.)"""
    turned = along.conjugate()
    heights = [((z - p) * turned).imag for z in curve.points]
    return min(heights) <= 0 <= max(heights)


def unsewn(piece: Piece, openings: Sequence[Stretch]) -> tuple[Unsewn, ...]:
    """Every stretch of this piece's sewing lines that stays open."""
    return tuple(_open(piece, s) for s in openings if s.full[1] - s.full[0] > SAME_POINT_MM)


def _open(piece: Piece, stretch: Stretch) -> Unsewn:
    start, end = stretch.full
    kind = stretch.opening.kind
    line = path.part([s.curve for s in piece.edge(stretch.label)], start, end)
    return Unsewn(kind, line, (line[0].start, line[-1].end), f"{kind} {show(end - start, 'mm')}")
