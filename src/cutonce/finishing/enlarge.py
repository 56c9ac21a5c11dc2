"""Finished pieces made larger for a cloth that shrinks: cut = finished / (1 - s), along the warp and across.

A stretch of the plane, square to the warp, about the piece's own origin: lines stay lines and cubics stay
cubics (their control points are stretched), so the enlarged piece is exact. Washed, it is the piece drafted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from cutonce.errors import BadInput
from cutonce.finishing.finished import (
    DrawnDart,
    Drill,
    Finished,
    FinishedPiece,
    FoldMark,
    GrainArrow,
    MarkedLine,
    Notch,
    PointMark,
    Unsewn,
)
from cutonce.finishing.mirror import opened_out
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path

MOST_SHARE = 0.3
"""Cloth that shrinks by more is no cloth to sew with: such a share is a slip (30 written for 3 %)."""

_SQUARE = 1e-4
"""A fold within this (radians) of the warp, or of the line across it, stays a mirror when stretched."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """`warp` is a unit vector; lengths along it become `along` times as long, across it `across` times."""

    warp: complex
    along: float
    across: float

    def __call__(self, z: Point) -> Point:
        turned = z * self.warp.conjugate()
        return complex(turned.real * self.along, turned.imag * self.across) * self.warp

    def of_curve(self, curve: Curve) -> Curve:
        match curve:
            case Line():
                return Line(self(curve.a), self(curve.d))
            case Cubic():
                return Cubic(self(curve.a), self(curve.b), self(curve.c), self(curve.d))

    def of_path(self, line: Iterable[Curve]) -> Path:
        return tuple(self.of_curve(c) for c in line)

    def of_direction(self, v: complex) -> complex:
        """A unit vector's direction in the stretched piece."""
        moved = self(v)
        return moved / abs(moved) if moved else v


def enlarged(piece: FinishedPiece, shrink_along: float, shrink_across: float) -> FinishedPiece:
    """The piece as it is cut from cloth that shrinks by these shares, with a label line that says so.

    A half piece whose warp runs slantwise to its fold is opened out first: its two halves are stretched
    differently. Words on the piece keep the lengths as finished. Raises BadInput for shares that are none.

    >>> Stretch(1j, 1 / (1 - 0.05), 1.0)(100 + 100j)
    (100+105.26315789473684j)
    """
    for share, way in ((shrink_along, "along"), (shrink_across, "across")):
        if not -MOST_SHARE <= share <= MOST_SHARE:
            message = f"shrinks by {share:.0%} {way} the warp; it must be within {MOST_SHARE:.0%} either way"
            raise BadInput("bad-shrinkage", "cloth", message)
    if shrink_along == 0 and shrink_across == 0:
        return piece
    arrow = piece.grain.end - piece.grain.start
    warp = arrow / abs(arrow)
    if piece.fold is not None and shrink_along != shrink_across and _slants(piece.fold, warp):
        piece = opened_out(piece)
    by = Stretch(warp, 1 / (1 - shrink_along), 1 / (1 - shrink_across))
    return replace(_stretched(piece, by), label=(*piece.label, shrinkage_line(shrink_along, shrink_across)))


def all_enlarged(done: Finished, shrink_along: float, shrink_across: float) -> Finished:
    """Every piece of a garment as it is cut from cloth that shrinks."""
    return replace(done, pieces=tuple(enlarged(p, shrink_along, shrink_across) for p in done.pieces))


def shrinkage_line(shrink_along: float, shrink_across: float) -> str:
    """What the label says of it.

    >>> shrinkage_line(0.03, 0.01)
    'enlarged for shrinkage: 3 % along the warp, 1 % across; lengths in words are as finished'
    """
    along, across = (f"{100 * s:.3g} %" for s in (shrink_along, shrink_across))
    return (
        f"enlarged for shrinkage: {along} along the warp, {across} across; lengths in words are as finished"
    )


def _slants(fold: FoldMark, warp: complex) -> bool:
    run = fold.path[-1].end - fold.path[0].start
    turned = run / abs(run) * warp.conjugate()
    return min(abs(turned.real), abs(turned.imag)) > _SQUARE


def _stretched(piece: FinishedPiece, by: Stretch) -> FinishedPiece:
    return replace(
        piece,
        sewing=by.of_path(piece.sewing),
        cutting=by.of_path(piece.cutting),
        edges=tuple(replace(e, sewing=by.of_path(e.sewing), cut=by.of_path(e.cut)) for e in piece.edges),
        notches=tuple(_notch(n, by) for n in piece.notches),
        drills=tuple(Drill(d.mark_of, by(d.at)) for d in piece.drills),
        darts=tuple(_dart(d, by) for d in piece.darts),
        grain=GrainArrow(by(piece.grain.start), by(piece.grain.end), piece.grain.words),
        lines=tuple(MarkedLine(x.name, x.kind, by.of_path(x.path)) for x in piece.lines),
        points=tuple(PointMark(p.name, by(p.at)) for p in piece.points),
        unsewn=tuple(
            Unsewn(u.kind, by.of_path(u.path), (by(u.ends[0]), by(u.ends[1])), u.words) for u in piece.unsewn
        ),
        fold=FoldMark(by.of_path(piece.fold.path), piece.fold.words) if piece.fold else None,
    )


def _notch(n: Notch, by: Stretch) -> Notch:
    return replace(n, at=by(n.at), tip=by(n.tip), sewing=by(n.sewing), along=by.of_direction(n.along))


def _dart(d: DrawnDart, by: Stretch) -> DrawnDart:
    legs = tuple(by.of_path(leg) for leg in d.legs)
    before, after = _widest(d.legs), _widest(legs)
    return replace(
        d,
        legs=legs,
        fold=by.of_path(d.fold),
        tips=tuple(by(t) for t in d.tips),
        intake=d.intake * after / before if before else d.intake,
        cap=by.of_path(d.cap),
    )


def _widest(legs: tuple[Path, ...]) -> float:
    """Between the two legs at the mouth, or at the widest place of a dart pointed at both ends (whose legs
    run from the ends to the sides)."""
    if len(legs) == 2:
        return abs(legs[0][0].start - legs[1][0].start)
    return abs(legs[0][-1].end - legs[1][-1].end)
