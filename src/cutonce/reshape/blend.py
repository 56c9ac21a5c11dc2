"""Blending a broken edge: smooth tangent directions, the same ends, a given length.

The direction of the edge is taken as a function of arc length and averaged over a window that narrows to
nothing at both ends, twice (curvature is then continuous); two shape terms that vanish with their slope at
the ends bring the end point home; cubics are fitted that give each span its own length. Lengths, ends and
end directions are kept; what changes is the shape in between, and by how much is returned.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from cutonce.draft.span import Span
from cutonce.errors import CannotApply
from cutonce.geometry import fit, path
from cutonce.geometry.curve import Cubic, Curve
from cutonce.geometry.motion import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

_SAMPLES = 1024
"""Of the tangent angle along the run: a millimetre apart on a metre of edge."""

_LENGTH_SLACK_MM = 0.01
"""A kept length may be missed by this: what all steps promise of an edge they keep."""

_LONGEST_CUBIC_MM = 80.0
"""A run is drawn in cubics no longer than this, and with no more turn than the next, to follow its angles."""

_LARGEST_TURN = 0.5
"""Radians in one cubic."""


@dataclass(frozen=True, slots=True)
class Blended:
    """`spans` after; `deviation_mm` the most by which new and broken edge part; `reach_mm` used."""

    spans: tuple[Span, ...]
    length_mm: float
    deviation_mm: float
    reach_mm: float


def blended(
    spans: Sequence[Span],
    reach: float,
    step: str,
    length: float | None = None,
    start: complex | None = None,
    end: complex | None = None,
    jog: Span | None = None,
) -> Blended:
    """Smooth a run of spans over `reach` mm; `length` is the length wanted (default: kept as it is).

    `start` and `end` are directions to leave and arrive in, default as the run has them. A `jog` (one of the
    spans, a step in the edge where a wedge was closed) is smoothed away and gets no length of its own. Where
    the reach asked does not close, shorter ones are tried; raises CannotApply where none does.
    """
    curves = tuple(s.curve for s in spans)
    total = path.length(curves)
    goal = total if length is None else length
    tried = reach
    for _ in range(5):
        found = _try(spans, goal, tried, step, (start, end), jog)
        if found is not None:
            return found
        tried /= 2
    chord = abs(curves[-1].end - curves[0].start)
    raise CannotApply(
        "blend",
        spans[0].label.key,
        f"no smooth edge of {goal:.1f} mm joins these ends ({chord:.1f} mm apart) in these directions",
        "ask for another length or move the ends",
    )


def faired_length(spans: Sequence[Span], reach: float) -> float:
    """The length that the run takes by itself when smoothed over `reach` mm (see `faired`)."""
    curves = tuple(s.curve for s in spans)
    psi, step_mm = _smoothed(curves, path.length(curves), reach, (None, None))
    _, size = _let_run(psi, step_mm, curves[-1].end - curves[0].start)
    return path.length(curves) * size


def faired(
    spans: Sequence[Span],
    reach: float,
    step: str,
    start: complex | None = None,
    end: complex | None = None,
    jog: Span | None = None,
) -> Blended:
    """Smooth a run as `blended` does, but let it take its own length: only so much bend is added as the
    directions at its ends ask for. Raises CannotApply where the run turns back on itself."""
    curves = tuple(s.curve for s in spans)
    psi, step_mm = _smoothed(curves, path.length(curves), reach, (start, end))
    bent, size = _let_run(psi, step_mm, curves[-1].end - curves[0].start)
    kept = tuple(s for s in spans if s is not jog)
    first = cmath.phase(start or curves[0].tangent(0))
    last = cmath.phase(end or curves[-1].tangent(1))
    smooth = _Smooth(bent, step_mm * size, curves[0].start, curves[-1].end, first, last)
    new = _fitted(kept, smooth, smooth.length / path.length(s.curve for s in kept), step)
    if new is None:
        raise CannotApply("blend", spans[0].label.key, "no smooth edge joins these ends", "move the ends")
    out = tuple(s.curve for s in new)
    return Blended(new, path.length(out), _deviation(curves, out), reach)


def with_ends_moved(
    spans: Sequence[Span], start: Point, end: Point, turns: tuple[float, float], step: str
) -> tuple[Span, ...]:
    """A run redrawn between two other ends, its directions there turned by so many radians.

    The turn passes evenly from the one to the other, one even bend points the run at its new end, and all of
    it grows or shrinks alike: so the run keeps its own shape, and takes the length that this gives it. Its
    material is kept. Raises CannotApply where the ends fall together.
    """
    import numpy as np

    if start == end:
        raise CannotApply("blend", spans[0].label.key, "the ends of the edge fall together", "turn it less")
    curves = tuple(s.curve for s in spans)
    total = path.length(curves)
    psi, step_mm = _smoothed(curves, total, 0.0, (None, None))
    u = (np.arange(len(psi)) + 0.5) / len(psi)
    passed = u**3 * (10 - 15 * u + 6 * u * u)
    psi = psi + turns[0] + (turns[1] - turns[0]) * passed
    bent, size = _let_run(psi, step_mm, end - start)
    first = cmath.phase(curves[0].tangent(0)) + turns[0]
    last = cmath.phase(curves[-1].tangent(1)) + turns[1]
    new = _fitted(spans, _Smooth(bent, step_mm * size, start, end, first, last), size, step)
    if new is None:
        raise CannotApply("blend", spans[0].label.key, "no smooth edge joins these ends", "turn it less")
    return new


def _try(
    spans: Sequence[Span],
    goal: float,
    reach: float,
    step: str,
    ends: tuple[complex | None, complex | None],
    jog: Span | None,
) -> Blended | None:
    curves = tuple(s.curve for s in spans)
    total = path.length(curves)
    psi, step_mm = _smoothed(curves, total, reach, ends)
    step_mm *= goal / total
    closed = _brought_home(psi, step_mm, curves[-1].end - curves[0].start)
    if closed is None:
        return None
    kept = tuple(s for s in spans if s is not jog)
    first = cmath.phase(ends[0] or curves[0].tangent(0))
    last = cmath.phase(ends[1] or curves[-1].tangent(1))
    smooth = _Smooth(closed, step_mm, curves[0].start, curves[-1].end, first, last)
    new = _fitted(kept, smooth, goal / path.length(s.curve for s in kept), step)
    if new is None:
        return None
    out = path.length(s.curve for s in new)
    if abs(out - goal) > _LENGTH_SLACK_MM:
        return None
    return Blended(new, out, _deviation(curves, tuple(s.curve for s in new)), reach)


def _directions(curves: Sequence[Curve]) -> tuple[Array, Array]:
    """Arc lengths of cell ends and the unwrapped tangent angle in each cell."""
    import numpy as np

    cells, angles = [0.0], []
    before, last = 0.0, None
    for curve in curves:
        lengths = _lengths(curve, 32) if isinstance(curve, Cubic) else [curve.length]
        n = len(lengths)
        for i in range(n):
            angle = cmath.phase(curve.tangent((i + 0.5) / n))
            if last is not None:
                angle += 2 * math.pi * round((last - angle) / (2 * math.pi))
            last = angle
            cells.append(before + lengths[i])
            angles.append(angle)
        before += curve.length
    return np.array(cells), np.array(angles)


def _lengths(curve: Cubic, n: int) -> list[float]:
    """Arc lengths to i/n, by Simpson's rule on each cell, scaled to the exact whole."""
    speeds = [abs(curve.derivative(i / (2 * n))) for i in range(2 * n + 1)]
    out, run = [], 0.0
    for i in range(n):
        run += (speeds[2 * i] + 4 * speeds[2 * i + 1] + speeds[2 * i + 2]) / (6 * n)
        out.append(run)
    return [x * curve.length / run for x in out]


def _smoothed(
    curves: Sequence[Curve], total: float, reach: float, ends: tuple[complex | None, complex | None]
) -> tuple[Array, float]:
    """Tangent angle at the middles of equal cells after two passes, and the cell's length."""
    import numpy as np

    cells, angles = _directions(curves)
    for which, (wanted, at) in enumerate(zip(ends, (0, -1), strict=True)):
        if wanted is not None:
            turn = cmath.phase(wanted / cmath.exp(1j * angles[at]))
            share = cells[1:] / total if which else 1 - cells[:-1] / total
            angles = angles + turn * np.clip(1 - (1 - share) * total / max(reach, 1.0), 0, 1)
    step_mm = total / _SAMPLES
    middles = (np.arange(_SAMPLES) + 0.5) * step_mm
    half = np.maximum(np.minimum(reach / 2, np.minimum(middles, total - middles)), step_mm / 2)
    edges = cells
    integral = np.concatenate([[0.0], np.cumsum(angles * np.diff(cells))])
    for _ in range(2):
        upper = np.interp(middles + half, edges, integral)
        psi = (upper - np.interp(middles - half, edges, integral)) / (2 * half)
        edges = np.linspace(0, total, _SAMPLES + 1)
        integral = np.concatenate([[0.0], np.cumsum(psi * step_mm)])
    return psi, step_mm


def _let_run(psi: Array, step_mm: float, target: complex) -> tuple[Array, float]:
    """The directions with an even shape term that points the run's chord at the target, and the factor by
    which the run's length then changes."""
    import numpy as np

    u = (np.arange(len(psi)) + 0.5) / len(psi)
    even = 16 * (u * (1 - u)) ** 2
    c = 0.0
    for _ in range(40):
        z = np.exp(1j * (psi + c * even)) * step_mm
        chord = complex(z.sum())
        off = cmath.phase(target / chord)
        if abs(off) < 1e-13:
            break
        slope = (complex((1j * z * even).sum()) / chord).imag
        c += off / slope if abs(slope) > 1e-3 else off
    return psi + c * even, abs(target) / abs(chord)


def _brought_home(psi: Array, step_mm: float, target: complex) -> Array | None:
    """The directions with the least of two shape terms added that makes the run end at `target`."""
    import numpy as np

    u = (np.arange(len(psi)) + 0.5) / len(psi)
    even = 16 * (u * (1 - u)) ** 2
    odd = even * (u - 0.5) * 4
    c1 = c2 = 0.0
    for _ in range(40):
        z = np.exp(1j * (psi + c1 * even + c2 * odd)) * step_mm
        miss = complex(z.sum()) - target
        if abs(miss) < 1e-9:
            return psi + c1 * even + c2 * odd
        j1, j2 = complex((1j * z * even).sum()), complex((1j * z * odd).sum())
        det = (j1.conjugate() * j2).imag
        if abs(det) < 1e-9:
            c1, c2 = c1 + 0.05, c2 + 0.05  # a straight run: step off the saddle
            continue
        d1, d2 = (miss.conjugate() * j2).imag / det, (j1.conjugate() * miss).imag / det
        scale = min(1.0, 1.0 / max(abs(d1), abs(d2), 1e-12))
        c1, c2 = c1 - d1 * scale, c2 - d2 * scale
        if abs(c1) > 3 or abs(c2) > 3:
            return None
    return None


class _Smooth:
    """The smooth run as a function of arc length: point and direction, exact at both ends."""

    def __init__(
        self, psi: Array, step_mm: float, start: Point, end: Point, first: float, last: float
    ) -> None:
        import numpy as np

        nodes = np.concatenate([[0j], np.cumsum(np.exp(1j * psi) * step_mm)]) + start
        self.x, self.y = nodes.real, nodes.imag
        self.grid = np.arange(len(psi) + 1) * step_mm
        self.angle_at = np.concatenate([[0.0], (self.grid[1:] + self.grid[:-1]) / 2, self.grid[-1:]])
        self.angles = np.concatenate([[_near(first, psi[0])], psi, [_near(last, psi[-1])]])
        self.end = end
        self.length = float(self.grid[-1])

    def angle(self, s: float) -> float:
        import numpy as np

        return float(np.interp(s, self.angle_at, self.angles))

    def place(self, s: float) -> tuple[Point, complex]:
        import numpy as np

        if s > self.length - 1e-6:
            return self.end, cmath.exp(1j * float(self.angles[-1]))
        point = complex(np.interp(s, self.grid, self.x), np.interp(s, self.grid, self.y))
        return point, cmath.exp(1j * self.angle(s))


def _fitted(spans: Sequence[Span], smooth: _Smooth, scale: float, step: str) -> tuple[Span, ...] | None:
    """Cubics along the smooth run, at least one to a span, each with its own share of the length."""
    out: list[Span] = []
    before = 0.0
    place = smooth.place(0.0)
    for span in spans:
        size = span.length * scale
        turn = abs(smooth.angle(before + size) - smooth.angle(before))
        n = max(1, math.ceil(size / _LONGEST_CUBIC_MM), math.ceil(turn / _LARGEST_TURN))
        birth = (span.hi - span.lo) / n
        for i in range(n):
            after = smooth.place(before + size * (i + 1) / n)
            curve = fit.of_length(*place, *after, size / n) or fit.between(*place, *after)
            hi = span.hi if i == n - 1 else span.lo + birth * (i + 1)
            out.append(replace(span, curve=curve, lo=span.lo + birth * i, hi=hi, made=step))
            place = after
        before += size
    return tuple(out)


def _near(angle: float, to: float) -> float:
    """The same direction, as the angle nearest to another."""
    return angle + 2 * math.pi * round((float(to) - angle) / (2 * math.pi))


def _deviation(old: Sequence[Curve], new: Sequence[Curve]) -> float:
    """The farthest that either path lies from the other, at points every few millimetres."""
    return max(_one_way(old, new), _one_way(new, old))


def _one_way(one: Sequence[Curve], two: Sequence[Curve]) -> float:
    import numpy as np

    points = np.array([curve.at(i / 8) for curve in one for i in range(8)])[:, None]
    flat = np.array(path.flattened(two, 0.05))
    along = np.diff(flat)
    kept = np.abs(along) > 0
    start, along = flat[:-1][kept], along[kept]
    t = np.clip(((points - start) * along.conjugate()).real / np.abs(along) ** 2, 0, 1)
    return float(np.abs(points - start - t * along).min(axis=1).max())


def corners(curves: Sequence[Curve]) -> float:
    """The largest turn in radians where one curve passes into the next."""
    return max((abs(cmath.phase(b.tangent(0) / a.tangent(1))) for a, b in pairwise(curves)), default=0.0)
