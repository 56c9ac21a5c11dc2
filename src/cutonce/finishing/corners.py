"""Corners of the cutting line: how the lines beside two neighbouring edges come together.

Everywhere `one` arrives at the corner and `two` leaves it, both counter-clockwise round the piece, and each
function returns the two paths, lengthened or shortened, with what lies between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.tolerance import SAME_POINT_MM

MITRE = 3.0
"""A corner runs out at most this many allowances beyond the end of its edge (a point of 37 degrees between
equal allowances); a sharper one is cut off square, as a long point of allowance only frays."""

_PARALLEL = 1e-6
"""Sine of an angle below which two lines never meet."""

_SNAP_MM = 0.02
"""Ends this near are one corner already: a fifth of a pen line."""


@dataclass(frozen=True, slots=True)
class Joined:
    """A corner made: `one` up to it, `between` (often nothing), `two` from it on."""

    one: Path
    between: Path
    two: Path

    def backwards(self) -> Joined:
        """The same corner walked the other way."""
        return Joined(reversed_path(self.two), reversed_path(self.between), reversed_path(self.one))


def straight_on(one: Path, two: Path, reach: float, back: float | None = None) -> Joined:
    """Each cutting line goes on straight until they meet; where they cross earlier they are cut there.

    Beyond `reach` mm the point is cut off square. Neither line is cut more than `back` mm (default: `reach`)
    before its end: so lines that run almost side by side are joined by a step.
    """
    p, q = one[-1].end, two[0].start
    if abs(p - q) < _SNAP_MM:
        return Joined(one, (), (_starting(two[0], p), *two[1:]))
    u, v = one[-1].tangent(1), two[0].tangent(0)
    turn = _cross(u, v)
    if abs(turn) > _PARALLEL:
        s, t = _cross(q - p, v) / turn, _cross(u, q - p) / turn
        if 0 <= s <= reach and 0 <= t <= reach:
            x = p + s * u
            return Joined(extended(one, x), (), lengthened_start(two, x))
    found = crossing(one, two, reach, reach if back is None else back)
    if found is not None:
        return Joined(found[0], (), found[1])
    if abs(turn) > _PARALLEL and turn > 0 and _cross(q - p, v) > 0 and _cross(u, q - p) > 0 and _sharp(u, v):
        e = reach
        a, b = p + e * u, q - e * v
        return Joined(extended(one, a), (Line(a, b),), lengthened_start(two, b))
    return Joined(one, (Line(p, q),), two)


def _sharp(u: complex, v: complex) -> bool:
    """Is the turn from u to v more than 60 degrees? Less is a step between unlike allowances."""
    return (u.conjugate() * v).real < 0.5


def crossing(one: Path, two: Path, reach: float, back: float) -> tuple[Path, Path] | None:
    """Both paths cut where they cross next to the corner, their straight extensions of `reach` mm taken in;
    None where they do not cross there, or only more than `back` mm before an end."""
    ahead = (*one, Line(one[-1].end, one[-1].end + reach * one[-1].tangent(1)))[::-1]
    behind = (Line(two[0].start - reach * two[0].tangent(0), two[0].start), *two)
    best: tuple[float, int, float, int, float] | None = None
    for i, before in _near(ahead, reach + back):
        for j, after in _near(behind, reach + back):
            for t, w in meetings(ahead[i], behind[j]):
                if (t == 0 and i == 0) and (w == 1 and j == 0):
                    continue
                s = before + ahead[i].length * (1 - t) - reach
                u = after + behind[j].length * w - reach
                if max(s, u) < back + SAME_POINT_MM and (best is None or abs(s) + abs(u) < best[0]):
                    best = (abs(s) + abs(u), i, t, j, w)
    if best is None:
        return None
    _, i, t, j, w = best
    first = _cut_end(ahead[i:][::-1], t)
    return first, _cut_start(behind[j:], w, first[-1].end)


def _near(path: Sequence[Curve], size: float) -> list[tuple[int, float]]:
    """Indices of the curves that begin within `size` mm, with the arc before each."""
    out: list[tuple[int, float]] = []
    before = 0.0
    for i, curve in enumerate(path):
        if before > size + SAME_POINT_MM:
            break
        out.append((i, before))
        before += curve.length
    return out


def _cut_end(path: Path, t: float) -> Path:
    last = path[-1].part(0, t)
    if last.length < SAME_POINT_MM and len(path) > 1:
        return path[:-1]
    if isinstance(last, Line) and len(path) > 1 and isinstance(path[-2], Line) and _in_line(path[-2], last):
        return (*path[:-2], Line(path[-2].a, last.d))
    return (*path[:-1], last)


def _cut_start(path: Path, t: float, x: Point) -> Path:
    first = path[0].part(t, 1)
    if first.length < SAME_POINT_MM and len(path) > 1:
        return (_starting(path[1], x), *path[2:])
    if isinstance(first, Line) and len(path) > 1 and isinstance(path[1], Line) and _in_line(first, path[1]):
        return (Line(x, path[1].d), *path[2:])
    return (_starting(first, x), *path[1:])


def _in_line(one: Line, two: Line) -> bool:
    return abs(_cross(one.d - one.a, two.d - two.a)) < 1e-9 * one.length * two.length


def squared(one: Path, two: Path, tip: Point, out: complex, allowance: float, reach: float) -> Joined | None:
    """The end of a seam's allowance cut square to its sewing line, where that line meets the other edge's
    cutting line: both partners then end alike, whatever their angles.

    `one` is the cutting line beside the seam, which arrives at its end `tip` in the direction `out`; `two`
    belongs to the edge that crosses it. None where the two do not meet ahead of the tip.
    """
    side = one[-1].end - tip
    side = side / abs(side)
    hit = _on_ray(two, tip, out, reach)
    if hit is None:
        return None
    rest, far = hit
    if far <= reach:
        x0 = tip + far * out
        c = x0 + allowance * side
        return Joined(extended(one, c), (Line(c, x0),), rest)
    return _blunt(one, two, tip + reach * out, side, allowance)


def _on_ray(two: Path, tip: Point, out: complex, reach: float) -> tuple[Path, float] | None:
    """The path from where it meets the ray, lengthened backwards if need be, and how far along the ray."""
    q, v = two[0].start, two[0].tangent(0)
    if abs(q - tip) < SAME_POINT_MM:
        return (_starting(two[0], tip), *two[1:]), 0.0
    turn = _cross(out, v)
    if abs(turn) > _PARALLEL:
        far, back = _cross(q - tip, v) / turn, _cross(out, q - tip) / turn
        if back >= 0 and far >= -SAME_POINT_MM:
            x = tip + max(far, 0.0) * out
            return lengthened_start(two, x), max(far, 0.0)
    ray = Line(tip, tip + 2 * reach * out)
    for j, _ in _near(two, 2 * reach):
        hits = meetings(ray, two[j])
        if hits:
            t, w = hits[0]
            x = ray.at(t)
            return _cut_start(two[j:], w, x), t * ray.length
    return None


def _blunt(one: Path, two: Path, stop: Point, side: complex, allowance: float) -> Joined | None:
    """Cut off square at `stop`, where the true corner would run out too far."""
    q, v = two[0].start, two[0].tangent(0)
    turn = _cross(side, v)
    if abs(turn) < _PARALLEL:
        return None
    height, back = _cross(q - stop, v) / turn, _cross(side, q - stop) / turn
    if back < 0 or height > allowance:
        return None
    c, y = stop + allowance * side, stop + height * side
    return Joined(extended(one, c), (Line(c, y),), lengthened_start(two, y))


def extended(path: Path, x: Point) -> Path:
    """The path, straight on from its end to x; a straight end is drawn longer."""
    last = path[-1]
    if abs(last.end - x) < SAME_POINT_MM:
        return (*path[:-1], replace(last, d=x))
    if isinstance(last, Line):
        return (*path[:-1], Line(last.a, x))
    return (*path, Line(last.end, x))


def lengthened_start(path: Path, x: Point) -> Path:
    """The path, straight back from its start to x."""
    first = path[0]
    if abs(first.start - x) < SAME_POINT_MM:
        return (_starting(first, x), *path[1:])
    if isinstance(first, Line):
        return (Line(x, first.d), *path[1:])
    return (Line(x, first.start), *path)


def _starting(curve: Curve, p: Point) -> Curve:
    return replace(curve, a=p) if curve.a != p else curve


def _cross(u: complex, v: complex) -> float:
    return (u.conjugate() * v).imag
