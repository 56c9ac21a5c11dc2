"""What there is to say of a lay: short of cloth, cut twice, remnants left, seams that do not match, grain
off."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cutonce.cloth.cloth import Cloth
from cutonce.errors import Finding
from cutonce.lay.assemble import Assembled
from cutonce.lay.beds import MAIN
from cutonce.lay.cuts import Cut
from cutonce.lay.plan import Matched
from cutonce.lay.turns import angle_of
from cutonce.units import show

_TOLD_DEG = 0.1
"""Grain that is off by less is true."""

_SHORT_MM = 0.05
"""A length at hand that is shorter by less is enough: lengths are told to a tenth of a millimetre."""


def findings(
    whole: Assembled,
    cloth: Cloth,
    cuts: Sequence[Cut],
    told: Sequence[Matched],
    matching: bool,
    with_remnants: bool,
) -> tuple[Finding, ...]:
    """Everything, what stops her first."""
    return (
        *_short(whole, cloth),
        *_over_remnants(whole),
        *_not_matched(told),
        *_cut_twice(cuts),
        *_remnants_left(cloth, matching, with_remnants),
        *_turned(whole),
    )


def _short(whole: Assembled, cloth: Cloth) -> Iterator[Finding]:
    main = any(p.section.name == MAIN for p in whole.parts)
    if cloth.length is None or not main or whole.taken <= cloth.length + _SHORT_MM:
        return
    by = whole.taken - cloth.length
    message = (
        f"short by {show(by, 'cm')}: it takes {show(whole.taken, 'cm')} and has {show(cloth.length, 'cm')}"
    )
    yield Finding("stop", "short-by", cloth.name, message, expected_mm=cloth.length, found_mm=whole.taken)


def _over_remnants(whole: Assembled) -> Iterator[Finding]:
    """Pieces past the end of the last remnant, where there is no length of cloth to take them."""
    for here in whole.parts:
        room = here.whole.stage.parts[here.part].room
        if here.section.name == MAIN or room is None or here.reach <= room + _SHORT_MM:
            continue
        end = here.whole.stage.parts[here.part].start + room + _SHORT_MM
        over = [s.blank for s in here.spots if max(p.real for p in here.whole.fine(s)) > end]
        message = f"no room on the remnants for {', '.join(over)}"
        yield Finding("stop", "short-by", here.section.name, message, expected_mm=room, found_mm=here.reach)


def _not_matched(told: Sequence[Matched]) -> Iterator[Finding]:
    for one in told:
        if not one.matched:
            off = f"{one.off_along:.1f} mm off along the cloth, {one.off_across:.1f} mm across"
            message = f"the pattern does not run on at the {one.notch} ({off}): {one.why}"
            yield Finding("warning", "not-matched", one.seam, message)


def _cut_twice(cuts: Sequence[Cut]) -> Iterator[Finding]:
    spare = [c.key for c in cuts if c.spare]
    if spare:
        message = f"wanted once but cut through both layers: {', '.join(spare)}"
        yield Finding(
            "note", "cut-twice", "lay", message, hint="lay the cloth open, or part folded, part open"
        )


def _remnants_left(cloth: Cloth, matching: bool, with_remnants: bool) -> Iterator[Finding]:
    if cloth.remnants and not with_remnants:
        why = (
            "where they lie in the pattern is not known" if matching else "they are laid single and open only"
        )
        yield Finding("note", "remnants-left", cloth.name, f"the remnants are not used: {why}")


def _turned(whole: Assembled) -> Iterator[Finding]:
    for laid in whole.laid:
        angle = angle_of(laid.piece, laid.motion)
        if abs(math.sin(angle)) > math.sin(math.pi / 4):
            message = "its grain arrow lies across the cloth, a quarter round"
            yield Finding("note", "quarter-round", laid.key, message)
        off = abs(math.degrees(math.remainder(angle, math.pi / 2)))
        if off > _TOLD_DEG:
            yield Finding("note", "off-grain", laid.key, f"lies {off:.1f} degrees off its grain, as allowed")
