"""Redrawing an edge whose end is moved: the end takes a motion that fades along the edge to nothing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from cutonce.draft.span import Span
from cutonce.geometry.curve import Cubic, Curve
from cutonce.geometry.motion import Motion
from cutonce.geometry.tolerance import SAME_POINT_MM

_LONGEST_MM = 40.0
"""Redrawn curves are fitted in stretches no longer: the fit then strays by less than 0.01 mm."""


def faded(spans: Sequence[Span], motion: Motion, reach: float, at_start: bool, step: str) -> tuple[Span, ...]:
    """A run of spans with one end moved by a rigid motion that fades out over `reach` mm from there.

    A place `s` mm from the moved end goes to w M(z) + (1 - w) z, where w falls from 1 to 0 by the quintic
    1 - 10u^3 + 15u^4 - 6u^5, u = s / reach: value, direction and curvature run on at both its ends. What lies
    beyond the reach is as it was. Material is kept; lengths change.
    """
    out: list[Span] = []
    total = sum(s.length for s in spans)
    before = 0.0
    for span in spans:
        after = before + span.length
        nearest = before if at_start else total - after
        if nearest >= reach - SAME_POINT_MM:
            out.append(span)
        else:
            out += _redrawn(span, before if at_start else total - before, motion, reach, at_start, step)
        before = after
    return tuple(out)


def _redrawn(
    span: Span, from_end: float, motion: Motion, reach: float, at_start: bool, step: str
) -> list[Span]:
    """One span redrawn, in equal stretches; `from_end` is the distance of its start from the moved end."""
    n = max(1, math.ceil(span.length / _LONGEST_MM))
    out: list[Span] = []
    sign = 1.0 if at_start else -1.0
    for i in range(n):
        cuts = [span.length * k / n for k in (i, i + 1)]
        ts = [
            0.0 if i == 0 else span.curve.at_length(cuts[0]),
            1.0 if i == n - 1 else span.curve.at_length(cuts[1]),
        ]
        ends = [
            _moved(span.curve, t, from_end + sign * s, motion, reach, sign)
            for t, s in zip(ts, cuts, strict=True)
        ]
        third = (ts[1] - ts[0]) / 3
        (a, u), (d, v) = ends
        curve = Cubic(a, a + u * third, d - v * third, d)
        lo = out[-1].hi if out else span.lo
        hi = span.hi if i == n - 1 else span.lo + (span.hi - span.lo) * (i + 1) / n
        out.append(replace(span, curve=curve, lo=lo, hi=hi, made=step))
    return out


def _moved(
    curve: Curve, t: float, s: float, motion: Motion, reach: float, sign: float
) -> tuple[complex, complex]:
    """Where the place t of a curve goes, `s` mm from the moved end, and its derivative by t there."""
    z, dz = curve.at(t), curve.derivative(t)
    u = min(max(s / reach, 0.0), 1.0)
    w = 1 - u**3 * (10 - 15 * u + 6 * u * u)
    slope = -30 * (u * (1 - u)) ** 2 / reach * sign * abs(dz)
    moved = motion(z)
    return z + w * (moved - z), dz + w * (motion.of_vector(dz) - dz) + slope * (moved - z)
