"""The largest position whose lay still fits: short lays first, longer ones near the border.

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

TRIES = 4
"""So often in a row may the first position beyond the border be laid in vain."""

_DENSITY = 0.84
"""Share of the cloth that pieces usually cover in a good lay of a dress: where the search begins."""

_MARGIN = 0.12
"""A guess keeps this share of the bracket away from its ends, so that each try narrows it."""


@dataclass(frozen=True, slots=True)
class Lay:
    """What laying some pieces came to: the `length` of cloth it takes in mm, and whether that is there.

    `state` is what a later lay of the same pieces in other sizes may start from; `over` names the piece that
    reaches furthest beyond the cloth where it does not fit.
    """

    length: float
    fits: bool
    state: object = None
    over: str = ""


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
    """The largest position up to `reach` found to fit within `seconds`; `least`, the lay at 0, fits."""
    ends = job.clock() + seconds
    quick, long = QUICK_SHARE * seconds, LONG_SHARE * seconds
    border = Border(Tried(0.0, least), None, 0)
    guess: float | None = _guess(job, reach)
    while _width(border, reach) > FINEST and job.clock() + quick < ends - long:
        border, guess = _narrowed(job, border, reach, guess, quick)
    return _confirmed(job, border, reach, long, ends)


def _width(border: Border, reach: float) -> float:
    return (border.beyond.position if border.beyond else reach) - border.best.position


def _guess(job: Job, reach: float) -> float:
    """Where the pieces cover as much of the cloth as they usually do."""
    low, high = job.demand(0.0), job.demand(reach)
    if high <= _DENSITY * job.room or high <= low:
        return reach
    return reach * max(0.0, _DENSITY * job.room - low) / (high - low)


def _narrowed(
    job: Job, border: Border, reach: float, guess: float | None, seconds: float
) -> tuple[Border, float | None]:
    """One short lay within the bracket, and where to try next."""
    low, high = border.best.position, border.beyond.position if border.beyond else reach
    margin = _MARGIN * (high - low)
    at = (low + high) / 2 if guess is None else min(max(guess, low + margin), high - margin)
    if border.beyond is None and guess is not None and guess >= reach:
        at = reach
    lay = job.lay(at, seconds, border.best.lay)
    tried = Tried(at, lay)
    if lay.fits:
        return Border(tried, border.beyond, border.lays + 1), None
    after = Border(border.best, tried, border.lays + 1)
    return after, _foreseen(job, tried, low)


def _foreseen(job: Job, beyond: Tried, low: float) -> float | None:
    """Where the lay that does not fit would just fit, if it took less cloth as its pieces do."""
    wasted = beyond.lay.length / max(job.demand(beyond.position), 1e-9)
    slope = wasted * (job.demand(beyond.position) - job.demand(low)) / (beyond.position - low)
    if slope <= 0:
        return None
    at = beyond.position - (beyond.lay.length - job.room) / slope
    return at if at > low else None


def _confirmed(job: Job, border: Border, reach: float, long: float, ends: float) -> Border:
    """The border tried again for longer: upwards while it still fits, until the time or the tries are
    spent."""
    step, failed = FINEST, 0
    while border.best.position < reach and failed < TRIES and (left := ends - job.clock()) > 0.2 * long:
        up = border.best.position + step
        beyond = border.beyond
        at = min(up, reach)
        if beyond is not None and abs(beyond.position - at) < FINEST:
            at = beyond.position
        known = beyond.lay if beyond is not None and beyond.position == at else border.best.lay
        lay = job.lay(at, min(long, left), known)
        tried = Tried(at, lay)
        if lay.fits:
            still = beyond if beyond is not None and beyond.position > at else None
            border = Border(tried, still, border.lays + 1)
            step, failed = 2 * step, 0
        else:
            border = Border(border.best, tried, border.lays + 1)
            step, failed = FINEST, failed + 1
    return border
