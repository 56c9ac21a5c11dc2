"""Smoothing a run of spans about its corners only; nothing changes elsewhere."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.draft.span import Span
from cutonce.reshape.blend import blended, faired
from cutonce.reshape.runs import parted

_CORNER = 0.01
"""Turns below this many radians (half a degree) are no corner: no scissors follow them."""

_LENGTH_MM = 1e-6
"""No blend can make an edge longer by less than this."""

_LEAST_WINDOW_MM = 2.0
"""Windows nearer than this are smoothed as one: between them there is no edge left to speak of."""


@dataclass(frozen=True, slots=True)
class Smoothed:
    """`spans` after, between the same ends; `deviation_mm` the most by which new and old part."""

    spans: tuple[Span, ...]
    length_mm: float
    deviation_mm: float


@dataclass(frozen=True, slots=True)
class _Window:
    start: float
    end: float
    turn: float


def corners_smoothed(spans: Sequence[Span], reach: float, step: str, longer: float = 0.0) -> Smoothed:
    """A run with each inner corner smoothed over `reach` mm to either side; nothing changes elsewhere.

    The run takes the length that smoothing gives it, plus `longer` mm (not less than 0), shared by the
    smoothed stretches as the squares of their turns, which is also how much smoothing takes from each.
    Corners that lie nearer than their reaches are smoothed as one. Raises CannotApply (see `blend.blended`).
    """
    windows = _windows(spans, reach)
    turns = sum(w.turn**2 for w in windows)
    out: list[Span] = []
    rest = tuple(spans)
    done, off = 0.0, 0.0
    for w in windows:
        before, inside, rest = parted(rest, (w.start - done, w.end - done))
        more = longer * w.turn**2 / turns
        part = faired(inside, reach, step)
        if more > _LENGTH_MM:
            part = blended(inside, reach, step, part.length_mm + more)
        out += [*before, *part.spans]
        off = max(off, part.deviation_mm)
        done = w.end
    out += rest
    return Smoothed(tuple(out), sum(s.length for s in out), off)


def _windows(spans: Sequence[Span], reach: float) -> list[_Window]:
    total = sum(s.length for s in spans)
    out: list[_Window] = []
    at = 0.0
    for one, two in pairwise(spans):
        at += one.length
        turn = abs(cmath.phase(two.curve.tangent(0) / one.curve.tangent(1)))
        if turn < _CORNER:
            continue
        w = _Window(max(0.0, at - reach), min(total, at + reach), turn)
        if out and w.start < out[-1].end + _LEAST_WINDOW_MM:
            last = out.pop()
            w = _Window(last.start, w.end, last.turn + turn)
        out.append(w)
    return out
