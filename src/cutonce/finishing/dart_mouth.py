"""The cutting line across a dart's mouth.

The cap of `reshape.cap` is the same for the sewing line: a dart is sewn, folded to one side and the edge cut
straight across. Here the edge's cutting line is reflected in the dart's leg, then in its middle line, so that
the folded allowance lies on the allowance beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.piece import Dart, Piece
from cutonce.finishing import corners
from cutonce.geometry import path
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import Point, reflecting
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.cap import fold_direction, folding


@dataclass(frozen=True, slots=True)
class Mouth:
    """Drawn legs of a dart: from `one` to the drawn point `tip`, on to `two`, counter-clockwise. The fold of
    the sewn dart lies towards `one` where `to_one` is set, else towards `two`; `press` says so in words."""

    one: Point
    tip: Point
    two: Point
    to_one: bool
    press: str

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
    words = f"press {fold_direction(piece, dart).replace('toward', 'towards the')}"
    return Mouth(one, piece.dart_tip(dart), two, abs(near(one) - one) < abs(near(two) - two), words)


@dataclass(frozen=True, slots=True)
class Bridged:
    """The two cutting lines cut or lengthened to the dart's legs, and what lies between them.

    `jog_mm` is the step left at the far leg where the edge does not run on straight across the closed dart;
    `capped` is False where the mouth is bridged straight; `short_mm` is then how far the straight line lies
    from the cap that the folded dart would need (0 where none can be drawn).
    """

    joined: corners.Joined
    jog_mm: float
    capped: bool
    short_mm: float


def bridged(one: Path, two: Path, mouth: Mouth, capped: bool, reach: float) -> Bridged:
    """The cutting line across a mouth: its cap, or straight where none is asked or none can be drawn."""
    first = _to_leg(one, mouth.tip, mouth.one, reach)
    second = reversed_path(_to_leg(reversed_path(two), mouth.tip, mouth.two, reach))
    q1, q2 = first[-1].end, second[0].start
    near = first if mouth.to_one else reversed_path(second)
    cap = _cap(near, mouth, abs(mouth.one - mouth.two))
    if cap is None or not capped:
        short = _farthest(cap, q1, q2) if cap else 0.0
        return Bridged(corners.Joined(first, _step(q1, q2), second), 0.0, False, short)
    cap = cap if mouth.to_one else reversed_path(cap)
    before, after = _step(q1, cap[0].start), _step(cap[-1].end, q2)
    jog = path.length((*before, *after))
    return Bridged(corners.Joined(first, (*before, *cap, *after), second), jog, True, 0.0)


def _farthest(cap: Path, p: Point, q: Point) -> float:
    """The most by which the ends of a cap's curves lie off the line from p to q."""
    along = (q - p) / abs(q - p)
    return max(abs(((c.end - p) * along.conjugate()).imag) for c in cap)


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
