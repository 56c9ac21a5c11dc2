"""Stripes and checks: where matched pieces may lie, as rules with the cloth's repeat.

Everything that is matched lies the same way up. Along the cloth the two places of a seam lie at one place of
the repeat. Across it, a pattern is taken to be alike on both sides of the middle of its stripe, so a place
may also mirror its partner: that is how stripes meet in a chevron at a shaped seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cutonce.cloth.cloth import Cloth, Repeat
from cutonce.lay.beds import Stage
from cutonce.lay.places import Join, SeamPlace
from cutonce.lay.problem import Rule, Shape

_HOLDS_MM = 0.25
"""Places that differ by less are counted as matched while choosing; the bar for telling is 1 mm."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """Where the middles of stripes lie on a bed; None where the cloth has no pattern that way."""

    along: Rule | None
    across: Rule | None


def pattern(cloth: Cloth, stage: Stage) -> Pattern:
    """The cloth's pattern in places of a bed (its length of cloth: where remnants lie in their pattern is
    unknown).

    On folded cloth that of the layer whose right side is up. Folded crosswise without flaws, the fold is yet
    to be chosen and is then laid along the middle of a stripe.
    """
    part = stage.parts[-1]
    along, across = cloth.stripe_along, cloth.stripe_across
    match stage.way:
        case "open":
            x = part.start - part.margin - stage.before
            return Pattern(_rule(along, x), _rule(across, -part.low))
        case "folded lengthwise":
            return Pattern(_rule(along, -part.margin), _rule(across, -(stage.fold or 0.0)))
        case "folded crosswise":
            top = part.low + cloth.usable
            here = Rule(0.0, along.every) if along else None
            if along and stage.fold is not None:
                here = Rule((stage.fold - along.offset) % along.every, along.every)
            return Pattern(here, Rule((top - across.offset) % across.every, across.every) if across else None)


def _rule(repeat: Repeat | None, shift: float) -> Rule | None:
    return None if repeat is None else Rule((repeat.offset + shift) % repeat.every, repeat.every)


@dataclass(frozen=True, slots=True)
class Matchable:
    """A cut that is matched: its one shape, and the pattern of the bed it lies on."""

    shape: Shape
    pattern: Pattern


def rules(joins: Sequence[Join], cuts: Mapping[str, Matchable]) -> dict[str, Shape]:
    """The shapes of all matched cuts with their rules. Cuts that already have a rule with one place only (on
    the fold, held) keep it, and the others are matched to them.

    What cannot hold everywhere holds where the most joins agree; `matched` measures and tells the rest.
    """
    out = {key: cut.shape for key, cut in cuts.items()}
    for axis in (0, 1):
        for key, phase in _phases(joins, cuts, axis).items():
            middle = _middle(cuts[key], axis)
            old = (out[key].along, out[key].across)[axis]
            if middle is None or (old is not None and old.every == 0):
                continue
            rule = Rule((middle.at + phase) % middle.every, middle.every)
            out[key] = replace(out[key], along=rule) if axis == 0 else replace(out[key], across=rule)
    return out


def _middle(cut: Matchable, axis: int) -> Rule | None:
    return (cut.pattern.along, cut.pattern.across)[axis]


def _phases(joins: Sequence[Join], cuts: Mapping[str, Matchable], axis: int) -> dict[str, float]:
    """For each cut how far its shape's origin lies from the middle of a stripe, along (0) or across (1)."""
    here = [j for j in joins if _counts(j, cuts, axis)]
    phases: dict[str, float] = {}
    for key in _keys(here):
        fixed = _fixed(cuts[key], axis)
        if fixed is not None:
            phases[key] = fixed
    for join in here:
        if join.two is None and join.one.cut not in phases:
            phases[join.one.cut] = -_offset(join.one, cuts, axis)
    waiting = [key for key in _keys(here) if key not in phases]
    while waiting:
        tied = [k for k in waiting if any(_linked(k, here, phases))]
        key = tied[0] if tied else waiting[0]
        if tied:
            phases[key] = _best(key, here, cuts, phases, axis)
        else:  # a group tied to nothing: its first lies flush with the end or edge of the bed
            middle = _middle(cuts[key], axis)
            phases[key] = -middle.at if middle else 0.0
        waiting.remove(key)
    return phases


def _counts(join: Join, cuts: Mapping[str, Matchable], axis: int) -> bool:
    """Does a join say anything about this axis? A centre line lies on a stripe along the warp, nothing
    else."""
    ends = [p.cut for p in (join.one, join.two) if p is not None]
    return (
        (join.two is not None or axis == 1)
        and all(k in cuts for k in ends)
        and all(_middle(cuts[k], axis) for k in ends)
    )


def _keys(joins: Sequence[Join]) -> list[str]:
    return list(dict.fromkeys(p.cut for j in joins for p in (j.one, j.two) if p is not None))


def _fixed(cut: Matchable, axis: int) -> float | None:
    rule, middle = ((cut.shape.along, cut.shape.across)[axis], _middle(cut, axis))
    return rule.at - middle.at if rule is not None and rule.every == 0 and middle is not None else None


def _offset(place: SeamPlace, cuts: Mapping[str, Matchable], axis: int) -> float:
    """Of a place from its shape's origin."""
    z = cuts[place.cut].shape.motion(place.at)
    return z.real if axis == 0 else z.imag


def _linked(
    key: str, joins: Sequence[Join], phases: Mapping[str, float]
) -> Iterator[tuple[SeamPlace, SeamPlace]]:
    """The joins of a cut to those that have their place: its own place first."""
    for join in joins:
        if join.two is None or join.one.cut == join.two.cut:
            continue
        for mine, other in ((join.one, join.two), (join.two, join.one)):
            if mine.cut == key and other.cut in phases:
                yield mine, other


def _best(
    key: str, joins: Sequence[Join], cuts: Mapping[str, Matchable], phases: Mapping[str, float], axis: int
) -> float:
    """Of the places that one of a cut's joins asks for, that which suits the most of them; the first of
    equals."""
    middle = _middle(cuts[key], axis)
    every = middle.every if middle else 1.0
    wanted: list[tuple[float, float]] = []
    for mine, other in _linked(key, joins, phases):
        there = phases[other.cut] + _offset(other, cuts, axis)
        wanted.append((_offset(mine, cuts, axis), there))
    options = [sign * there - own for own, there in wanted for sign in ((1,) if axis == 0 else (-1, 1))]

    def suited(phase: float) -> int:
        return sum(apart(phase + own, there, every, axis == 1) < _HOLDS_MM for own, there in wanted)

    return max(options, key=suited)


def apart(one: float, two: float, every: float, mirrored: bool) -> float:
    """How far two places, counted from the middle of a stripe, are from showing the same of the pattern; with
    `mirrored`, on either side of the middle.

    >>> apart(3.0, 43.0, 20.0, False), apart(3.0, 17.0, 20.0, False), apart(3.0, 17.0, 20.0, True)
    (0.0, 6.0, 0.0)
    """
    straight = abs(math.remainder(one - two, every))
    return min(straight, abs(math.remainder(one + two, every))) if mirrored else straight
