"""Closing a gape: a wedge taken out of an edge, to nothing at a pivot, and the edge made smooth again.

The piece is cut from the edge to the pivot and the part beyond is turned, so that the two sides of the wedge
fall together. The edge's two ends are then turned against each other; between them it is redrawn with the
turn passing evenly from the one to the other, so that its own shape and all its marks are kept. Where the
edge runs aslant to the wedge it loses less than the wedge is wide there; what it loses is what counts.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Origin, Span
from cutonce.errors import CannotApply
from cutonce.geometry.meet import farthest_apart, on_line
from cutonce.geometry.motion import Point, turning
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.blend import with_ends_moved
from cutonce.reshape.darts import close_wedge
from cutonce.reshape.nodes import split_outline
from cutonce.reshape.places import Chain, Spot, neighbours
from cutonce.reshape.runs import parted, with_runs
from cutonce.reshape.slash_line import refuse_outside

MOST_RAD = 0.5
"""A wider wedge is a dart, not a gape: half a radian is 37 mm at the bust circle."""

GAPE = "gape"
"""What the cut is called that `close_wedge` makes."""

_CLOSE_MM = 1e-4
"""An amount is met so closely: far finer than what is told."""

_FROM_MOUTH_MM = 0.1
"""No wedge ends nearer to a dart than scissors can."""


@dataclass(frozen=True, slots=True)
class Wedge:
    """A wedge between two places on an edge (mm from the run's start) and the pivot; `angle` in radians,
    `distance` from the pivot to the edge at the place asked for."""

    pivot: Point
    first: float
    last: float
    angle: float
    distance: float

    def width_at(self, distance: float) -> float:
        """How wide it is so many mm from the pivot, straight across."""
        return 2 * distance * math.sin(self.angle / 2)


@dataclass(frozen=True, slots=True)
class Closed:
    """The piece after; by how much the edge got shorter; the most by which it lies off the cut edges."""

    piece: Piece
    wedge: Wedge
    shorter: float
    deviation: float


@dataclass(frozen=True, slots=True)
class Gape:
    """Where a wedge is to be closed: about `arc` mm along a run of an edge (between darts), to nothing at
    `pivot`; the same angle opens at `outlet`; the edge is redrawn over `reach` mm to both sides."""

    run: Chain
    arc: float
    pivot: Point
    outlet: Dart | Spot
    reach: float

    @property
    def edge(self) -> str:
        return self.run.spans[0].label.key


def wedge_of(gape: Gape, angle: float) -> Wedge:
    """The wedge of so much angle about the place; at an end of the edge it lies wholly to the other side.

    Raises CannotApply (too-wide, past-end, slash-leaves, dart-in-the-way) where there is no such wedge.
    """
    run, piece = gape.run, gape.run.piece
    away = run.spot(gape.arc).point - gape.pivot
    if not 0 < angle <= MOST_RAD:
        raise _too_wide(gape)
    turn = cmath.exp(0.5j * angle)
    first, last = _seen(gape, away / turn), _seen(gape, away * turn)
    if first is None:
        first = 0.0
        last = _seen(gape, (run.spot(0.0).point - gape.pivot) * turn * turn)
    elif last is None:
        last = run.length
        first = _seen(gape, (run.spot(last).point - gape.pivot) / turn / turn)
    if first is None or last is None:
        before, after = neighbours(run)
        raise CannotApply(
            "past-end",
            piece.key,
            f"the wedge is wider than the {gape.edge} between the {before.key} and the {after.key}",
            "close less, or close a part of it elsewhere",
        )
    _refuse_at_mouth(gape, first, last)
    outline = split_outline(piece.outline, [run.spot(s).on_cloth for s in (first, last)])
    for s in (first, last):
        _refuse_outside(piece, outline, "the wedge", run.spot(s).point, gape.pivot)
    if first > last - SAME_POINT_MM:
        raise CannotApply("slash-leaves", piece.key, "the wedge runs outside the piece", "move its place")
    return Wedge(gape.pivot, first, last, angle, abs(away))


def _seen(gape: Gape, way: complex) -> float | None:
    """Where on the run a ray from the pivot meets it: the place nearest to the one asked for."""
    found: list[float] = []
    before = 0.0
    for span in gape.run.spans:
        for t in on_line(span.curve, gape.pivot, way):
            if ((span.curve.at(t) - gape.pivot) * way.conjugate()).real > 0:
                found.append(before + span.curve.length_to(t))
        before += span.length
    return min(found, key=lambda s: abs(s - gape.arc), default=None)


def _refuse_at_mouth(gape: Gape, first: float, last: float) -> None:
    """Refuse a wedge that reaches the mouth of a dart: its sides must be cloth."""
    run = gape.run
    for label, room in zip(neighbours(run), (first, run.length - last), strict=True):
        if label.role == "dart leg" and room < _FROM_MOUTH_MM:
            raise CannotApply(
                "dart-in-the-way",
                run.piece.key,
                f"the wedge reaches the mouth of the {label.key}",
                "move its place along the edge, or make the dart larger instead",
            )


def _refuse_outside(piece: Piece, outline: tuple[Span, ...], name: str, p: Point, pivot: Point) -> None:
    try:
        refuse_outside(piece, outline, name, p, pivot)
    except CannotApply as problem:
        hint = "move its place, or what is in the way first"
        raise CannotApply(problem.code, problem.where, problem.message, hint) from None


def closed_by_angle(gape: Gape, angle: float, step: str) -> Closed:
    """Close the wedge of so much angle, open the outlet by as much and smooth the edge.

    Raises CannotApply where the wedge or the outlet cannot be had (see `wedge_of`, `darts.close_wedge`).
    """
    return _measured(_closed(gape, angle, step))


def closed_by_length(gape: Gape, shorter: float, step: str) -> Closed:
    """As `closed_by_angle`, with the angle for which the edge gets shorter by so much: secant steps, to
    1e-4 mm. Raises CannotApply where no angle up to half a radian gives that."""
    distance = abs(gape.run.spot(gape.arc).point - gape.pivot)
    if shorter >= 2 * distance * math.sin(MOST_RAD / 2):
        raise _too_wide(gape)
    one, at_one = 0.0, -shorter
    two = 2 * math.asin(shorter / 2 / distance)
    for _ in range(30):
        turned = _closed(gape, two, step)
        miss = turned.shorter - shorter
        if abs(miss) < _CLOSE_MM:
            return _measured(turned)
        slope = (miss - at_one) / (two - one)
        one, at_one = two, miss
        two = two - miss / slope if slope > 0 else two * 2
        two = min(max(two, one / 3), one * 3)
    raise CannotApply(
        "past-end",
        gape.run.piece.key,
        f"no wedge there makes the {gape.edge} {shorter:.1f} mm shorter",
        "close less, or move its place",
    )


@dataclass(frozen=True, slots=True)
class _Turned:
    """The piece with its part turned, the cut edges as they then lie, and the edge redrawn."""

    piece: Piece
    cut: tuple[Span, ...]
    new: tuple[Span, ...]
    wedge: Wedge
    shorter: float


def _closed(gape: Gape, angle: float, step: str) -> _Turned:
    wedge = wedge_of(gape, angle)
    run, piece = gape.run, gape.run.piece
    if isinstance(gape.outlet, Spot):
        _refuse_outlet_at_wedge(gape, gape.outlet, wedge)
        outline = split_outline(piece.outline, [gape.outlet.on_cloth])
        _refuse_outside(piece, outline, "the cut to where it opens", gape.outlet.point, gape.pivot)
    sides = (run.spot(wedge.first).on_cloth, run.spot(wedge.last).on_cloth)
    turned, _, _ = close_wedge(piece, sides, gape.pivot, gape.outlet, run.spans[0].label, step)
    cut = _run_again(turned, run.spans)
    turns = _turns(run, cut, wedge)
    new = _redrawn(gape, turns, step)
    wedge = replace(wedge, angle=abs(turns[1] - turns[0]))
    return _Turned(turned, cut, new, wedge, run.length - sum(s.length for s in new))


def _refuse_outlet_at_wedge(gape: Gape, outlet: Spot, wedge: Wedge) -> None:
    """Refuse to open at a corner of the piece what closes there."""
    sides = (gape.run.spot(s).point for s in (wedge.first, wedge.last))
    if any(abs(outlet.point - z) < SAME_POINT_MM for z in sides):
        raise CannotApply(
            "same-place", outlet.piece, "the angle cannot open where it closes", "name another place"
        )


def _measured(t: _Turned) -> Closed:
    off = farthest_apart([s.curve for s in t.new], [s.curve for s in t.cut])
    return Closed(with_runs(t.piece, [(t.cut, t.new)]), t.wedge, t.shorter, off)


def _too_wide(gape: Gape) -> CannotApply:
    distance = abs(gape.run.spot(gape.arc).point - gape.pivot)
    most = 2 * distance * math.sin(MOST_RAD / 2)
    return CannotApply(
        "too-wide",
        gape.run.piece.key,
        f"a wedge there may be {math.degrees(MOST_RAD):.0f} degrees wide at most, {most:.1f} mm at the edge",
        "close less, or move a dart there",
    )


def _run_again(piece: Piece, old: Sequence[Span]) -> tuple[Span, ...]:
    """The same run in the turned piece, with the bridge across the closed wedge where there is one."""
    label = old[0].label
    within: dict[Origin, tuple[float, float]] = {}
    for span in old:
        low, high = within.get(span.origin, (math.inf, -math.inf))
        within[span.origin] = min(low, span.lo, span.hi), max(high, span.lo, span.hi)
    outline = piece.outline
    n = len(outline)

    def mine(span: Span) -> bool:
        low, high = within.get(span.origin, (math.inf, -math.inf))
        held = low - SAME_POINT_MM <= min(span.lo, span.hi) and max(span.lo, span.hi) <= high + SAME_POINT_MM
        return span.label == label and (held or _is_bridge(span))

    first = next(i for i in range(n) if mine(outline[i]) and not mine(outline[i - 1]))
    out: list[Span] = []
    while len(out) < n and mine(outline[(first + len(out)) % n]):
        out.append(outline[(first + len(out)) % n])
    return tuple(out)


def _is_bridge(span: Span) -> bool:
    return span.origin.name == f"{GAPE} start"


def _turns(run: Chain, cut: tuple[Span, ...], wedge: Wedge) -> tuple[float, float]:
    """By how much the part before the wedge and the part after it have turned about the pivot, in radians."""
    bridge = next((s for s in cut if _is_bridge(s)), None)
    if bridge is None:  # the wedge's sides are equally long: the cut edges meet
        before = len(parted(run.spans, (wedge.first,))[0])
        joint = cut[before].curve.start if before < len(cut) else cut[-1].curve.end
        ends = joint, joint
    else:
        ends = bridge.curve.start, bridge.curve.end
    places = (run.spot(s).point for s in (wedge.first, wedge.last))
    one, two = (
        cmath.phase((now - wedge.pivot) / (was - wedge.pivot)) for now, was in zip(ends, places, strict=True)
    )
    return one, two


def _redrawn(gape: Gape, turns: tuple[float, float], step: str) -> tuple[Span, ...]:
    """The edge with what lies before and after the reach turned about the pivot, and led over in between."""
    run = gape.run
    low, high = max(0.0, gape.arc - gape.reach), min(run.length, gape.arc + gape.reach)
    before, within, after = parted(run.spans, (low, high))
    motions = [turning(t, gape.pivot) for t in turns]
    start, end = motions[0](within[0].curve.start), motions[1](within[-1].curve.end)
    led = with_ends_moved(within, start, end, turns, step)
    return (*(s.moved(motions[0]) for s in before), *led, *(s.moved(motions[1]) for s in after))
