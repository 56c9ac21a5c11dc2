"""Strips cut one by one across what is left: whole where they fit, else in as few parts as may be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cutonce.lay.bands import BIAS, WARP, WEFT, Slot
from cutonce.lay.leftovers import Leftover, bands, roomy
from cutonce.lay.strip_needs import CutStrip, Need, Part

LEAST_PART_MM = 100.0
"""No part of a joined strip is shorter than a hand is broad (common practice), nor than the strip is wide."""

_TRIED = 24
"""Of the stretches that a strip fits into, so many with the least to spare are compared by what they
spoil."""

_BROAD = 4
"""Spoilt is cloth that was so many strips wide and is so no longer: strips side by side, or along an edge,
spoil least."""

_MOST_PARTS = 40
"""A strip in more parts is not worth sewing."""

_Found = tuple[int, Slot]
"""The place of an area among those that are left, and the stretch in it."""


def single_strips(
    needs: Iterable[Need], left: Sequence[Leftover], join: float, same_way: bool
) -> tuple[tuple[CutStrip, ...], tuple[Need, ...], tuple[Leftover, ...]]:
    """Strips for all needs, longest first; the needs that found no cloth; and what is left then.

    `join` is the allowance of a join. `same_way`: all parts of a strip lie in one bias direction, as cloth
    with a nap or stripe asks. Parts of one strip always slant alike, so that their ends fit.
    """
    rest = tuple(left)
    done: list[CutStrip] = []
    unmet: list[Need] = []
    for need in sorted(needs, key=lambda n: (-n.length, n.row, n.copy)):
        found = _in_one(need, rest, join) or _joined(need, rest, join, same_way)
        if not found:
            unmet.append(need)
            continue
        parts = tuple(Part(s.ring, s.length, rest[i].number, rest[i].layer) for i, s in found)
        done.append(CutStrip(need, parts, len(parts) if need.closed else len(parts) - 1))
        rest = _cut(rest, found)
    return tuple(done), tuple(unmet), rest


def least_part(width: float) -> float:
    """Length of the shortest part of a joined strip of that width."""
    return max(LEAST_PART_MM, width)


def _directions(need: Need) -> tuple[complex, ...]:
    return {"bias": BIAS, "straight": (WARP,), "cross": (WEFT,)}[need.grain]


def _in_one(need: Need, left: Sequence[Leftover], join: float) -> list[_Found]:
    """The stretch that takes the whole strip with the least to spare; nothing where none does.

    A strip with free ends may be cut square (`lean` 0) or slanting, a ring on the bias only slanting.
    """
    square = 0 if need.grain != "bias" or not need.closed else None
    asked = {} if square is None else {0: need.length + (need.loss(join) if need.closed else 0.0)}
    if need.grain == "bias":
        asked |= dict.fromkeys((1, -1), need.slanted(join))
    fits = [
        (size, i, slot)
        for lean, size in asked.items()
        for i, area in enumerate(left)
        for slot in bands(area, need.width, _directions(need), lean)
        if slot.length >= size
    ]
    return [_kindest(fits, left)] if fits else []


def _kindest(fits: Iterable[tuple[float, int, Slot]], left: Sequence[Leftover]) -> _Found:
    """Of stretches that are long enough (each with the length asked of it), where cutting at one end leaves
    the most cloth that is as wide as the strip."""
    near = sorted(fits, key=lambda f: (f[2].length - f[0], f[1]))[:_TRIED]
    cuts = [(i, slot.cut(size, at_end)) for size, i, slot in near for at_end in (False, True)]
    return min(cuts, key=lambda cut: _spoilt(left[cut[0]], cut[1]))


def _spoilt(area: Leftover, slot: Slot) -> int:
    """In mm2."""
    broad = _BROAD * slot.width
    return round(roomy(area, broad) - roomy(area.without(slot.ring), broad))


def most_from(area: Leftover, width: float, join: float) -> CutStrip:
    """All the strip that an area gives, cut along lines one width apart on the bias: the direction, slant and
    place of the lines that give the longest, its joins taken off."""
    loss = Need(0, "", "", "bias", width, 0.0).loss(join)
    least = least_part(width)
    best: list[Slot] = []
    for direction in BIAS:
        for lean in (1, -1):
            found = bands(area, width, (direction,), lean)
            for first in dict.fromkeys(s.low for s in found):
                here = [s for s in found if _is_whole((s.low - first) / width) and s.length >= least]
                best = max(best, here, key=lambda slots: sum(s.length - loss for s in slots))
    parts = tuple(Part(s.ring, s.length, area.number, area.layer) for s in best)
    joins = max(len(parts) - 1, 0)
    length = sum(p.length for p in parts) - joins * loss
    return CutStrip(Need(0, "", "", "bias", width, length), parts, joins)


def _is_whole(number: float) -> bool:
    return abs(number - round(number)) < 1e-6


def _joined(need: Need, left: Sequence[Leftover], join: float, same_way: bool) -> list[_Found]:
    """The strip in parts, of the slant (and direction) that needs the fewest; nothing where none will do."""
    ways = [(d,) for d in _directions(need)] if same_way else [_directions(need)]
    leans = (1, -1) if need.grain == "bias" else (0,)
    tried = [_parts(need, left, join, way, lean) for way in ways for lean in leans]
    return min((t for t in tried if t), key=lambda t: (len(t), sum(s.length for _, s in t)), default=[])


def _parts(
    need: Need, left: Sequence[Leftover], join: float, directions: tuple[complex, ...], lean: int
) -> list[_Found]:
    """Longest stretches first, until the rest fits into one: that one is taken with the least to spare."""
    rest, wanted, least = list(left), need.slanted(join), least_part(need.width)
    out: list[_Found] = []
    while len(out) < _MOST_PARTS:
        wanted = max(wanted, least)
        here = [
            (i, slot)
            for i, area in enumerate(rest)
            for slot in bands(area, need.width, directions, lean)
            if slot.length >= least
        ]
        enough = [f for f in here if f[1].length >= wanted]
        if enough:
            return [*out, _kindest(((wanted, i, slot) for i, slot in enough), rest)]
        if not here:
            return []
        i, slot = max(here, key=lambda f: (f[1].length, -f[0]))
        slot = slot.cut(max(min(slot.length, wanted + need.loss(join) - least), least))
        wanted += need.loss(join) - slot.length
        out.append((i, slot))
        rest[i] = rest[i].without(slot.ring)
    return []


def _cut(left: Sequence[Leftover], found: Sequence[_Found]) -> tuple[Leftover, ...]:
    """What is left with these stretches cut out."""
    out = list(left)
    for i, slot in found:
        out[i] = out[i].without(slot.ring)
    return tuple(out)
