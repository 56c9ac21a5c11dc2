"""How a skirt's waist shaping is shared between the darts and the side, once a body is not an average one.

A system states darts of a fixed size; on real bodies hip and waist differ by anything from nothing to half a
metre. These rules are ours, made so that the systems' own worked examples stay as published.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutonce.blocks.skirt_systems import Quarter, WaistDart

SIDE_SLOPE = 0.28
"""The side takes in at most this share of the waist-to-hip length (5.6 cm on 20 cm): steeper and it stands
off the body in a bump above the hip. What is above goes into the darts."""

DART_SHARE = 0.6
"""The darts take at most this share of a quarter's shaping: the side keeps some curve."""

WIDEST_DART_MM = 40.0
"""A wider dart pokes at its point; it becomes two."""

LEAST_DART_MM = 5.0
"""A narrower dart is not worth sewing; the side takes it."""

LONGEST_SHARE = 0.75
"""A dart ends at the latest at this share of the way from waist to hip."""

SLENDER = 3.5
"""A dart that grew is at least this many times as long as wide, where there is room above the hip."""


def fitted_darts(quarter: Quarter) -> Quarter:
    """The quarter with darts that suit the body: as stated by the system wherever that is possible.

    Darts shrink with the shaping and vanish where waist and hip are equal; they grow where the side would
    slope too much; one wider than 4 cm is split into two.

    >>> thin = Quarter(170, 190, 180, 200, 600, 10, (WaistDart(20, 100, 0.5),))
    >>> fitted_darts(thin).darts
    (WaistDart(intake=6.0, length=100, share=0.5),)
    """
    shaping = quarter.hip_width - quarter.waist
    stated = sum(d.intake for d in quarter.darts)
    wanted = min(stated, DART_SHARE * max(0.0, shaping))
    wanted = max(wanted, shaping - SIDE_SLOPE * quarter.hip_depth)
    darts = _resized(quarter.darts, wanted / stated) if stated else ()
    darts = tuple(_slender(d, quarter.hip_depth) for d in _split(darts))
    return replace(quarter, darts=darts, waist_width=quarter.waist + sum(d.intake for d in darts))


def _resized(darts: Sequence[WaistDart], factor: float) -> tuple[WaistDart, ...]:
    """All darts by one factor; where that makes any too narrow to sew, one takes all, or none does."""
    resized = tuple(replace(d, intake=d.intake * factor) if factor != 1 else d for d in darts)
    if all(d.intake >= LEAST_DART_MM for d in resized):
        return resized
    total = sum(d.intake for d in resized)
    if total < LEAST_DART_MM:
        return ()
    return (replace(darts[0], intake=total, share=sum(d.share for d in darts) / len(darts)),)


def _split(darts: tuple[WaistDart, ...]) -> tuple[WaistDart, ...]:
    """Two darts where the widest is too wide: half the intake each, at one and two thirds of the waist."""
    if not darts or max(d.intake for d in darts) <= WIDEST_DART_MM:
        return darts
    half, longest = sum(d.intake for d in darts) / 2, max(d.length for d in darts)
    return WaistDart(half, longest, 1 / 3), WaistDart(half, 0.9 * longest, 2 / 3)


def _slender(dart: WaistDart, hip_depth: float) -> WaistDart:
    room = LONGEST_SHARE * hip_depth
    return replace(dart, length=min(room, max(dart.length, SLENDER * dart.intake)))
