"""The point that makes two measures come out right."""

from __future__ import annotations

from collections.abc import Callable

from cutonce.geometry.motion import Point

_NUDGE_MM = 1e-3
"""Slopes are taken over this: large beside rounding, small beside any bend."""

_CLOSE_MM = 1e-9
"""Settled: a million times finer than paper."""

_LONGEST_STEP_MM = 30.0
"""Longer steps could leap from one side of a garment piece to the other."""


def point_where(guess: Point, misses: Callable[[Point], tuple[float, float]]) -> Point | None:
    """The point near `guess` at which both misses (mm) are nothing: Newton's method, slopes by differences.

    Settles to 1e-9 mm; None where it does not within 60 steps.

    >>> found = point_where(1 + 1j, lambda p: (abs(p) - 5, abs(p - 6) - 5))
    >>> round(found.real, 9), round(found.imag, 9)
    (3.0, 4.0)
    """
    p = guess
    best: tuple[float, Point] | None = None
    for _ in range(60):
        f, g = misses(p)
        size = max(abs(f), abs(g))
        if best is None or size < best[0]:
            best = size, p
        if size < _CLOSE_MM:
            return p
        fx, gx = misses(p + _NUDGE_MM)
        fy, gy = misses(p + _NUDGE_MM * 1j)
        a, b, c, d = ((v - w) / _NUDGE_MM for v, w in ((fx, f), (fy, f), (gx, g), (gy, g)))
        det = a * d - b * c
        if abs(det) < 1e-9:
            return None
        step = complex((d * f - b * g) / det, (a * g - c * f) / det)
        p -= step * min(1.0, _LONGEST_STEP_MM / abs(step))
    return best[1] if best is not None and best[0] < 1e3 * _CLOSE_MM else None
