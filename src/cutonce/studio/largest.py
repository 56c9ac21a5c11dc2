"""The largest position whose lay still fits: a climb by short lays, and longer ones near the border.

Pure search: it knows positions from 0 to 1, how much cloth each would take if nothing were wasted, and how to
lay one for some seconds. A lay that fits ends early; one that does not is never proven impossible, only not
found, so the first position beyond the border is tried again for longer.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

QUICK_SHARE, LONG_SHARE = 1 / 24, 1 / 7
"""Parts of the whole time for which one lay is tried: far from the border, and next to it."""

FINEST = 0.005
"""A finer step of the position than this changes no dress: half a millimetre in ten centimetres."""

WIDEST = 0.08
"""A wider step up is too much for the last lay to grow into."""

NEAR = 0.04
"""Steps narrower than this are given more than a quick lay, in proportion."""

TRIES = 4
"""So often in a row may the first position beyond the border be laid in vain."""

_DENSITY = 0.7
"""Share of the cloth that pieces cover in any lay of a dress that is worth its time: where it begins."""


@dataclass(frozen=True, slots=True)
class Lay:
    """What laying some pieces came to: the `length` of cloth it takes in mm, and whether that is there.

    `state` is what a later lay of the same pieces in other sizes may start from; `over` names the piece that
    reaches furthest beyond the cloth where it does not fit, `why` says what makes every lay impossible.
    """

    length: float
    fits: bool
    state: object = None
    over: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """A position and its lay."""

    position: float
    lay: Lay


@dataclass(frozen=True, slots=True)
class Border:
    """`best` is the last that fits, `beyond` the first found not to; None where the limit was reached."""

    best: Tried
    beyond: Tried | None
    lays: int


@dataclass(slots=True)
class Job:
    """What the search asks for.

    `lay(position, seconds, start)` lays the pieces at a position; `demand(position)` is the cloth in mm that
    they would take without waste; `room` is how much there is; `clock` counts seconds.
    """

    lay: Callable[[float, float, Lay | None], Lay]
    demand: Callable[[float], float]
    room: float
    clock: Callable[[], float]


def largest(job: Job, least: Lay, reach: float, seconds: float) -> Border:
    """The largest position up to `reach` found to fit within `seconds`; `least`, the lay at 0, fits.

    It climbs: while a position fits, the next is further up, by wider steps; where one does not, the step is
    a third. A position that did not fit in a short time is tried again when the climb comes near it.
    """
    ends = job.clock() + seconds
    quick, long = QUICK_SHARE * seconds, LONG_SHARE * seconds
    border = Border(Tried(0.0, least), None, 0)
    step, failed = max(_guess(job, reach), FINEST), 0
    while border.best.position < reach and failed < TRIES and (left := ends - job.clock()) > 0.5 * quick:
        low = border.best.position
        at = _next(border, step, reach)
        given = min(left, long, quick * max(1.0, NEAR / (at - low)))
        tried = Tried(at, job.lay(at, given, _start(border, at, failed)))
        border = _after(border, tried)
        if tried.lay.fits:
            step, failed = min(1.5 * max(step, FINEST), WIDEST), 0
        else:
            failed = failed + 1 if at - low <= 1.25 * FINEST else 0
            step = (at - low) / 3
    return border


def _guess(job: Job, reach: float) -> float:
    """Where the pieces cover as much of the cloth as they do in any lay."""
    low, high = job.demand(0.0), job.demand(reach)
    if high <= _DENSITY * job.room or high <= low:
        return reach
    return reach * max(0.0, _DENSITY * job.room - low) / (high - low)


def _next(border: Border, step: float, reach: float) -> float:
    """A step up; onto the position that did not fit, or to the end, rather than close before it."""
    low, end = border.best.position, border.beyond.position if border.beyond else reach
    at = low + max(step, FINEST)
    return end if at > end - FINEST / 4 else at


def _start(border: Border, at: float, failed: int) -> Lay | None:
    """The last lay that fits; where that failed before, by turns the lay found there, none, and the last."""
    beyond = border.beyond
    if beyond is None or beyond.position != at:
        return border.best.lay
    return (border.best.lay, beyond.lay, None)[failed % 3]


def _after(border: Border, tried: Tried) -> Border:
    if not tried.lay.fits:
        return Border(border.best, tried, border.lays + 1)
    beyond = border.beyond
    still = beyond if beyond is not None and beyond.position > tried.position else None
    return Border(tried, still, border.lays + 1)
