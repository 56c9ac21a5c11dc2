"""The cutting line across a dart's mouth.

The cap of `reshape.cap` is the same for the sewing line: a dart is sewn, folded to one side and the edge cut
straight across. Here the edge's cutting line is reflected in the dart's leg, then in its middle line, so that
the folded allowance lies on the allowance beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.piece import Dart, Folds, Piece
from cutonce.finishing import corners
from cutonce.geometry import path
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import Point, reflecting
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.cap import fold_direction, folding

_APART_MM = 0.05


@dataclass(frozen=True, slots=True)
class Mouth:
    """Drawn legs of a dart: from `one` to the drawn point `tip`, on to `two`, counter-clockwise. The fold of
    the sewn dart lies towards `one` where `to_one` is set, else towards `two`; `folds` says so in words."""

    one: Point
    tip: Point
    two: Point
    to_one: bool
    folds: Folds

    @property
    def press(self) -> str:
        """As printed: "press towards the centre"."""
        return f"press {self.folds.replace('toward', 'towards the')}"

    @property
    def middle(self) -> complex:
        """Unit direction from the tip to the mouth's middle."""
        u, v = self.one - self.tip, self.two - self.tip
        w = u / abs(u) + v / abs(v)
        return w / abs(w)


def mouth_of(piece: Piece, dart: Dart) -> Mouth:
    """Where a dart opens and which way it is pressed. Raises CannotApply where it cannot be pressed so."""
    first, second = piece.legs(dart)
    one, two = first.curve.start, second.curve.end
    near, _ = folding(piece, dart)
    to_one = abs(near(one) - one) < abs(near(two) - two)
    return Mouth(one, piece.dart_tip(dart), two, to_one, fold_direction(piece, dart))


OTHER_WAY: dict[Folds, Folds] = {
    "toward centre": "toward side",
    "toward side": "toward centre",
    "up": "down",
    "down": "up",
}


@dataclass(frozen=True, slots=True)
class Bridged:
    """The two cutting lines cut or lengthened to the dart's legs, and what lies between them.

    `jog_mm` is the step left at the far leg where the edge does not run on straight across the closed dart;
    `capped` is False where no cap can be drawn and the mouth is bridged straight.
    """

    joined: corners.Joined
    jog_mm: float
    capped: bool


def bridged(one: Path, two: Path, mouth: Mouth, reach: float) -> Bridged:
    """The cutting line across a mouth: its cap, or straight where none can be drawn."""
    first = _to_leg(one, mouth.tip, mouth.one, reach)
    second = reversed_path(_to_leg(reversed_path(two), mouth.tip, mouth.two, reach))
    q1, q2 = first[-1].end, second[0].start
    near = first if mouth.to_one else reversed_path(second)
    cap = _cap(near, mouth, abs(mouth.one - mouth.two))
    straight = Bridged(corners.Joined(first, _step(q1, q2), second), 0.0, False)
    if cap is None:
        return straight
    cap = cap if mouth.to_one else reversed_path(cap)
    before, after = _step(q1, cap[0].start), _step(cap[-1].end, q2)
    over = (*before, *cap, *after)
    if _runs_into(over, first, q1) or _runs_into(over, second, q2):
        return straight
    return Bridged(corners.Joined(first, over, second), path.length((*before, *after)), True)


def _runs_into(cap: Path, beside: Path, shared: Point) -> bool:
    """Does a cap meet the line beside it elsewhere than where the two join?"""
    return any(
        abs(one.at(t) - shared) > _APART_MM for one in cap for two in beside for t, _ in meetings(one, two)
    )


def _to_leg(line: Path, tip: Point, mouth: Point, reach: float) -> Path:
    """A cutting line that arrives at a leg, ended on the leg as drawn on through the mouth."""
    out = (mouth - tip) / abs(mouth - tip)
    p, u = line[-1].end, line[-1].tangent(1)
    if abs(p - mouth) < SAME_POINT_MM:
        return corners.extended(line, mouth)
    turn = (u.conjugate() * out).imag
    if abs(turn) > 1e-6:
        s = ((mouth - p).conjugate() * out).imag / turn
        if 0 <= s <= reach:
            return corners.extended(line, p + s * u)
    beyond = (Line(mouth, mouth + 3 * reach * out),)
    found = corners.crossing(line, beyond, reach, reach)
    return found[0] if found else line


def _cap(near: Path, mouth: Mouth, width: float) -> Path | None:
    """The cap from the end of `near` (on the leg that the fold lies towards) to the other leg."""
    leg = mouth.one if mouth.to_one else mouth.two
    over = reflecting(mouth.tip, leg)
    middle = reflecting(mouth.tip, mouth.tip + mouth.middle)
    back = _backwards(near, width)
    folded = path.moved(back, over)
    far = mouth.tip + mouth.middle * (abs(leg - mouth.tip) + width + abs(near[-1].end - leg)) * 2
    half = _until(folded, Line(mouth.tip, far))
    if half is None:
        return None
    return (*half, *reversed_path(path.moved(half, middle)))


def _backwards(line: Path, width: float) -> Path:
    """The line walked back from its end, lengthened straight where it is shorter than a mouth's width."""
    back = reversed_path(line)
    last = back[-1]
    return (*back, Line(last.end, last.end + 2 * width * last.tangent(1)))


def _until(line: Path, stop: Line) -> Path | None:
    """The line up to where it first meets `stop`; None where it does not."""
    for i, curve in enumerate(line):
        hits = meetings(curve, stop)
        if hits:
            return (*line[:i], curve.part(0, hits[0][0]))
    return None


def _step(p: Point, q: Point) -> Path:
    return (Line(p, q),) if abs(p - q) > SAME_POINT_MM else ()
