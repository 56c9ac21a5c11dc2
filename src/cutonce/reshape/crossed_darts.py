"""Darts pointed at both ends that a line crosses: cut at their widest they become two that open on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, DoubleDart, Piece
from cutonce.draft.span import Label, Span, born, sided
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings, nearest
from cutonce.geometry.motion import Point
from cutonce.geometry.region import inside
from cutonce.geometry.tolerance import FLATTEN_MM
from cutonce.reshape.places import Chain
from cutonce.reshape.runs import parted, runs_of, with_runs

_NEAR_WIDEST_MM = 15.0
"""A dart cut this near its widest keeps straight legs on both sides of the line."""

_NARROW_MM = 10.0
"""Where the tip of a dart is cut off no wider than this, the rest can end on the line: less than a tuck."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A part after, and what became of the dart, in words."""

    piece: Piece
    said: str


def crossed_doubles(piece: Piece, line: Sequence[Curve]) -> tuple[DoubleDart, ...]:
    """The double darts of a piece whose sides a line crosses."""
    return tuple(d for d in piece.double_darts if any(meetings(c, side) for c in line for side in d.sides))


def opened_on(part: Piece, dart: DoubleDart, label: Label, step: str, both: bool) -> Opened:
    """A part whose new edge `label` crosses a double dart, with the dart opening on that edge.

    Cut near its widest the dart keeps its tip in this part and becomes a dart with straight legs; the
    mouth is set so that its legs are alike. Cut elsewhere, what lies in this part ends on the edge if it is
    narrow there and the other part is not kept (`both`); else this raises CannotApply.
    """
    others = tuple(d for d in part.double_darts if (d.name, d.wearer) != (dart.name, dart.wearer))
    part = replace(part, double_darts=others)
    border = path.flattened([s.curve for s in part.outline], FLATTEN_MM * 5)
    tips = [z for z in (dart.upper, dart.lower) if inside(border, z)]
    edge, hits = _crossed_run(part, dart, label)
    if len(hits) < 2 or not tips:
        return Opened(part, f"the {dart.name} fell away")
    curves = [s.curve for s in edge.spans]
    reach = max(nearest(curves, z)[1] for z in (dart.left, dart.right))
    if len(tips) == 2 or (both and reach > _NEAR_WIDEST_MM):
        raise _refused(part, dart)
    if reach <= _NEAR_WIDEST_MM or not inside(border, dart.middle):
        return _with_open_dart(part, dart, edge, (hits[0], hits[-1]), tips[0], step)
    one, two = edge.spot(hits[0]).point, edge.spot(hits[-1]).point
    if abs(two - one) > _NARROW_MM:
        raise _refused(part, dart)
    end = (one + two) / 2
    moved = replace(dart, upper=end) if tips[0] == dart.lower else replace(dart, lower=end)
    said = f"the {dart.name} now ends on the line, which gains the {abs(two - one):.1f} mm it took there"
    return Opened(replace(part, double_darts=(*others, moved)), said)


def _crossed_run(part: Piece, dart: DoubleDart, label: Label) -> tuple[Chain, list[float]]:
    """The stretch of the new edge, between darts that open on it, that the dart crosses; and where, in mm."""
    found = [(Chain(part, run), sorted(_arcs(run, dart))) for run in runs_of(part, label)]
    return max(found, key=lambda pair: len(pair[1]))


def _refused(part: Piece, dart: DoubleDart) -> CannotApply:
    name = sided(dart.name, dart.wearer)
    return CannotApply(
        "crosses-double-dart",
        part.key,
        f"the line crosses the {name}, which is pointed at both ends, away from its widest",
        "cross it where it is widest, take it into the seam, or take the dart out first",
    )


def _arcs(spans: Sequence[Span], dart: DoubleDart) -> list[float]:
    out: list[float] = []
    before = 0.0
    for span in spans:
        out += [
            before + span.curve.length_to(t) for side in dart.sides for t, _ in meetings(span.curve, side)
        ]
        before += span.length
    return out


def _with_open_dart(
    part: Piece, dart: DoubleDart, edge: Chain, mouth: tuple[float, float], tip: Point, step: str
) -> Opened:
    one, two = _legs_alike(edge, mouth, tip)
    before, _, after = parted(edge.spans, (one, two))
    p, q = before[-1].curve.end, after[0].curve.start
    label = Label(dart.name, "dart leg", dart.wearer)
    legs = born(Line(p, tip), label, step), born(Line(tip, q), label, step, abs(tip - p))
    new = with_runs(part, [(edge.spans, (*before, *legs, *after))])
    opened = replace(new, darts=(*new.darts, Dart(dart.name, dart.wearer)))
    return Opened(opened, f"the {dart.name} now opens on the line, {abs(q - p):.1f} mm wide")


def _legs_alike(edge: Chain, mouth: tuple[float, float], tip: Point) -> tuple[float, float]:
    """The mouth shifted along the edge until both its ends are equally far from the tip."""
    low, high = -(mouth[1] - mouth[0]) / 2, (mouth[1] - mouth[0]) / 2

    def more(shift: float) -> float:
        one, two = (edge.spot(s + shift).point for s in mouth)
        return abs(two - tip) - abs(one - tip)

    if more(low) > 0 or more(high) < 0:
        return mouth
    for _ in range(60):
        mid = (low + high) / 2
        low, high = (low, mid) if more(mid) > 0 else (mid, high)
    return mouth[0] + (low + high) / 2, mouth[1] + (low + high) / 2
