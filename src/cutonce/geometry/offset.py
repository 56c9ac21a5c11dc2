"""Parallel curves: each kept point moves along its normal, tangent directions are shared."""

from __future__ import annotations

from collections.abc import Sequence

from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import OFFSET_MM, STANDSTILL_MM

_DEPTH = 12
"""Halvings of a curve at most; a cusp would ask for more without end."""

_PROBES = (0.25, 0.5, 0.75)
"""Where in t the distance of a parallel is looked at."""


def to_right(path: Sequence[Curve], distance: float) -> Path:
    """The path moved by `distance` mm to its right (outward for a counter-clockwise outline).

    Within OFFSET_MM of the true parallel, with its directions at the ends; its length is L + distance x turn,
    the turn to the left in radians. Curves of no length are left out. Each curve alone: ends of neighbours
    meet only where the path has no corner. Where the distance exceeds the radius of an inside turn the
    result folds back; the caller trims it.
    """
    out: list[Curve] = []
    for curve in path:
        if curve.length <= STANDSTILL_MM:
            continue
        match curve:
            case Line():
                shift = -1j * curve.tangent(0) * distance
                out.append(Line(curve.a + shift, curve.d + shift))
            case Cubic():
                out.extend(_offset(curve, distance, 0))
    return tuple(out)


def _offset(curve: Cubic, distance: float, depth: int) -> Path:
    """One cubic with the parallel's ends and derivatives there, or two of half the curve each."""
    u, v = curve.tangent(0), curve.tangent(1)
    a, d = curve.a - 1j * u * distance, curve.d - 1j * v * distance
    new = Cubic(a, a + u * _speed(curve, 0.0, distance) / 3, d - v * _speed(curve, 1.0, distance) / 3, d)
    if depth == _DEPTH or _off(curve, new, distance) < OFFSET_MM:
        return (new,)
    near, far = curve.part(0, 0.5), curve.part(0.5, 1)
    return _offset(near, distance, depth + 1) + _offset(far, distance, depth + 1)


def _speed(curve: Cubic, t: float, distance: float) -> float:
    """The parallel's derivative by t along the tangent: speed + distance x turn per t.

    Where the curve stands still at an end, its speed is nothing and its turn per t has a limit.
    """
    v = curve.derivative(t)
    speed = abs(v)
    if speed > STANDSTILL_MM:
        return speed + distance * curve.curvature(t) * speed
    b, c, d = (curve.b, curve.c, curve.d) if t < 0.5 else (curve.c, curve.b, curve.a)
    w, slope = 2 * (c - b), d - 3 * c + 2 * b  # r' = 3 h (w + h slope) at h from the end, where b is
    if abs(w) <= STANDSTILL_MM:
        return 0.0
    turn = (w.conjugate() * slope).imag / abs(w) ** 2
    return distance * turn if t < 0.5 else -distance * turn


def _off(curve: Cubic, new: Cubic, distance: float) -> float:
    """How far the new curve is from the right distance, at a few places, measured across the old curve."""
    worst = 0.0
    for t in _PROBES:
        v = curve.derivative(t)
        if abs(v) <= STANDSTILL_MM:
            return OFFSET_MM
        n = -1j * v / abs(v)
        gap = ((new.at(t) - curve.at(t)) * n.conjugate()).real - distance
        worst = max(worst, abs(gap))
    return worst
