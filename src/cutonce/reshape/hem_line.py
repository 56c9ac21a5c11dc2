"""Drawing a hem anew: every place of the old one moves along the line in which the cloth hangs there.

At its ends that line is the seam. Along a hem that hangs level it is square to it, but for a share of what
the seams are off the square. Where the hem's own directions show that it is not level (dipped or slanted
before), the lines fan out evenly from seam to seam. On a straight skirt they are upright either way. Where a
seam bends, the end keeps to the seam, and the hem its corner with it.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from cutonce.draft.span import Span
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic, Curve, Line, as_cubic
from cutonce.geometry.motion import Point
from cutonce.geometry.path import starting_at
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.hem_law import HemLaw
from cutonce.reshape.hem_round import HemRun

_FIT_MM = 0.03
"""Cubics stray this far from the law at most: the law may be missed by 0.05 mm."""

_FINEST = 1 / 64
"""In t: the law is followed no finer, also at a corner of it."""

_STRAIGHT_MM = 1e-5
"""A cubic that leaves its chord by less is a line."""

_TURN_REACH_MM = 200.0
"""A hem that is turned at a seam is redrawn so far beside it (at most half of it): nearer, it would wave."""

_CORNER = 0.01
"""A turn below this many radians (half a degree) between two parts of a hem is no corner: it is smoothed."""

_LEVEL = math.radians(2)
"""A level hem is nowhere further than this from square to some line between those of its two seams."""

_STEEPEST = math.radians(75)
"""A seam further off the square to the hem than this runs along it, and nothing hangs from it."""


@dataclass(frozen=True, slots=True)
class SeamEnd:
    """Where a hem's end goes: along the seam, to `point`; `down` is the seam's direction at the old hem, and
    `turn` (a unit number) how the seam has turned from there to the new end."""

    point: Point
    down: complex
    turn: complex = 1 + 0j


class Hanging:
    """The lines in which cloth hangs along a run of hem: point and direction at every place.

    `flare` is by how much they turn from end to end, radians; 0 on a straight piece. `level` tells whether
    the hem's own directions are those of one that hangs level.
    """

    def __init__(self, run: HemRun, starting: complex, ending: complex) -> None:
        """`starting` and `ending`: directions of the seams beside it, downwards."""
        self.run = run
        self.arcs = [0.0]
        for span in run.spans:
            self.arcs.append(self.arcs[-1] + span.length)
        spans = run.spans
        turns = [
            cmath.phase(b.curve.tangent(0) / a.curve.tangent(1)) for a, b in pairwise(spans)
        ]  # at a corner both parts hang along its halving line
        knots = [k for k, turn in enumerate(turns, 1) if abs(turn) > 1e-9]
        first = cmath.phase(starting / (-1j * spans[0].curve.tangent(0)))
        last = cmath.phase(ending / (-1j * spans[-1].curve.tangent(1)))
        for off, joint in ((first, run.before), (last, run.after)):
            if abs(off) > _STEEPEST:
                raise CannotApply(
                    "seam-along-hem",
                    run.piece,
                    f"the {joint.edge.key} runs along the hem ({90 - abs(math.degrees(off)):.0f} degrees)",
                )
        self.start = starting / abs(starting)
        self.flare = cmath.phase(ending / starting)
        self.level = self._is_level()
        stops = [0, *knots, len(spans)]
        leaving = [first, *(-turns[k - 1] / 2 for k in knots)]
        arriving = [*(turns[k - 1] / 2 for k in knots), last]
        self.sections = list(zip(stops, stops[1:], leaving, arriving, strict=False))

    def at(self, k: int, t: float) -> tuple[Point, complex, complex, complex]:
        """On span k at t: the point, its derivative by t, the direction of hanging, and that one's."""
        curve = self.run.spans[k].curve
        v = curve.derivative(t)
        if not self.level:
            share = self.arc(k, t) / self.arcs[-1]
            down = self.start * cmath.exp(1j * share * self.flare)
            return curve.at(t), v, down, 1j * self.flare / self.arcs[-1] * abs(v) * down
        a, b, one, two = next(s for s in self.sections if s[0] <= k < s[1])
        size = self.arcs[b] - self.arcs[a]
        share = (self.arc(k, t) - self.arcs[a]) / size
        down = -1j * curve.tangent(t) * cmath.exp(1j * (one + share * (two - one)))
        bend = (curve.curvature(t) + (two - one) / size) * abs(v)
        return curve.at(t), v, down, 1j * bend * down

    def arc(self, k: int, t: float) -> float:
        return self.arcs[k] + self.run.spans[k].curve.length_to(t)

    def _is_level(self) -> bool:
        low, high = min(0.0, self.flare) - _LEVEL, max(0.0, self.flare) + _LEVEL
        squares = (-1j * s.curve.tangent(i / 8) for s in self.run.spans for i in range(9))
        return all(low <= cmath.phase(square / self.start) <= high for square in squares)


class NewHem:
    """A run of hem moved by a law between two ends on the seams: place and derivative."""

    def __init__(self, hanging: Hanging, law: HemLaw, ends: tuple[SeamEnd, SeamEnd]) -> None:
        self.hanging = hanging
        self.law = law
        self.size = hanging.arcs[-1]
        self.off = (0j, 0j)
        self.swing = (0j, 0j)
        self.extra = (0j, 0j)
        last = len(hanging.run.spans) - 1
        misses, swings = [], []
        for end, (k, t) in zip(ends, ((0, 0.0), (last, 1.0)), strict=True):
            point, v = self.at(k, t)
            misses.append(end.point - point)
            swings.append((end.turn - 1) * v / abs(hanging.at(k, t)[1]))
        self.off = misses[0], misses[1]
        self.swing = swings[0], swings[1]
        self.ends = ends

    @property
    def corners(self) -> tuple[float, float]:
        """The angles between the hem and the seams at its start and end, radians."""
        (_, first), (_, last) = self.at(0, 0.0), self.at(len(self.hanging.run.spans) - 1, 1.0)
        start, end = (e.down * e.turn for e in self.ends)
        return cmath.phase(-start / first), cmath.phase(-last / -end)

    def turn_ends(self, start: float, end: float) -> None:
        """Turn the hem's direction at its ends by these angles; that fades along it."""
        out = []
        last = len(self.hanging.run.spans) - 1
        for (k, t), angle in (((0, 0.0), start), ((last, 1.0), end)):
            _, v = self.at(k, t)
            out.append((cmath.exp(1j * angle) - 1) * v / abs(self.hanging.at(k, t)[1]))
        self.extra = out[0], out[1]

    def at(self, k: int, t: float) -> tuple[Point, complex]:
        """Where the place t of span k goes, and the derivative by t there.

        What the ends are off (seams that bend) fades over the whole run by a cubic.
        """
        p, v, down, turning = self.hanging.at(k, t)
        s = self.hanging.arc(k, t)
        x = self.hanging.run.start + s
        after = s < self.size / 2
        drop, slope = self.law.drop(x), self.law.slope(x, after)
        point = p + drop * down
        speed = v + slope * abs(v) * down + drop * turning
        if any(self.off) or any(self.swing):
            u = s / self.size
            (a, b), (m, n) = self.off, (self.swing[0] * self.size, self.swing[1] * self.size)
            w = 1 - u
            point += w * w * (1 + 2 * u) * a + u * u * (3 - 2 * u) * b + u * w * (w * m - u * n)
            rate = 6 * u * w * (b - a) + w * (1 - 3 * u) * m + u * (3 * u - 2) * n
            speed += rate * abs(v) / self.size
        reach = min(_TURN_REACH_MM, self.size / 2)
        for near, extra, sign in ((s, self.extra[0], 1), (self.size - s, self.extra[1], -1)):
            if extra and near < reach:
                u = near / reach
                point += sign * extra * near * (1 - u) ** 2
                speed += extra * (1 - u) * (1 - 3 * u) * abs(v)
        return point, speed

    def spans(self, start: Point, end: Point, step: str) -> tuple[Span, ...]:
        """The new hem between exact ends, smooth where the old one is; each span keeps its cloth."""
        out: list[Span] = []
        for k, span in enumerate(self.hanging.run.spans):
            for t0, t1, curve in self._fitted(k):
                lo, hi = (span.material_at(span.curve.length_to(t)) for t in (t0, t1))
                out.append(replace(span, curve=curve, lo=lo, hi=hi, made=step))
        out = _smoothed(out)
        out[0] = replace(out[0], curve=replace(out[0].curve, a=start))
        out[-1] = replace(out[-1], curve=replace(out[-1].curve, d=end))
        return tuple(out)

    def _fitted(self, k: int) -> list[tuple[float, float, Curve]]:
        out: list[tuple[float, float, Curve]] = []
        stack = [(0.0, 1.0)]
        while stack:
            t0, t1 = stack.pop()
            (a, u), (d, v) = self.at(k, t0), self.at(k, t1)
            h = (t1 - t0) / 3
            curve = Cubic(a, a + u * h, d - v * h, d)
            probes = [(curve.at(w), self.at(k, t0 + w * (t1 - t0))[0]) for w in (0.25, 0.5, 0.75)]
            if t1 - t0 > _FINEST and any(abs(p - q) > _FIT_MM for p, q in probes):
                mid = (t0 + t1) / 2
                stack += [(mid, t1), (t0, mid)]
                continue
            out.append((t0, t1, _plain(curve)))
        return out


def _plain(curve: Cubic) -> Curve:
    """A line where the cubic is one."""
    along = curve.d - curve.a
    unit = along.conjugate() / abs(along)
    off = max(abs((unit * (z - curve.a)).imag) for z in (curve.b, curve.c))
    return Line(curve.a, curve.d) if off < _STRAIGHT_MM else curve


def _smoothed(spans: Sequence[Span]) -> list[Span]:
    """Joints made exact, and turns too small for a corner shared by both sides."""
    out = list(spans)
    for i in range(1, len(out)):
        one, two = out[i - 1].curve, starting_at(out[i].curve, out[i - 1].curve.end)
        turn = cmath.phase(two.tangent(0) / one.tangent(1))
        if SAME_POINT_MM < abs(turn) < _CORNER:
            half = cmath.exp(0.5j * turn)
            f, g = as_cubic(one), as_cubic(two)
            one = replace(f, c=f.d + (f.c - f.d) * half)
            two = replace(g, b=g.a + (g.b - g.a) / half)
        out[i - 1], out[i] = replace(out[i - 1], curve=one), replace(out[i], curve=two)
    return out
