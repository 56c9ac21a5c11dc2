"""Strips cut one by one across what is left: whole where they fit, else in as few parts as may be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from cutonce.lay.bands import BIAS, WARP, WEFT, Slot
from cutonce.lay.leftovers import Leftover, bands, broad, cloth_of, polygon
from cutonce.lay.strip_needs import CutStrip, Need, Part

LEAST_PART_MM = 100.0
"""No part of a joined strip is shorter than a hand is broad (common practice), nor than the strip is wide."""

_TRIED = 3
"""Of the stretches that a strip fits into, so many of each kind are compared by what they leave."""

_BREADTHS = 3
"""Cloth counts as broad where it is a third as wide as a square of the area's size."""

_THIN_MM = 4.0
"""For that comparison outlines may be so rough."""

_ALIKE = 0.02
"""And what is left is alike where it differs by less than this share of the area."""

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
    """The whole strip from the smallest area that has room for it; nothing where none has.

    A strip with free ends is cut square (`lean` 0), or else slanting, a ring on the bias always slanting.
    """
    slanting = need.slanted(join), (1, -1)
    square = slanting[0] if need.grain != "bias" else need.length, (0,)
    asked = [square] if need.grain != "bias" else [slanting] if need.closed else [square, slanting]
    for i in _smallest_first(left):
        for size, leans in asked:
            if left[i].area < size * need.width:
                continue
            found = (s for lean in leans for s in bands(left[i], need.width, _directions(need), lean))
            fits = [slot for slot in found if slot.length >= size]
            if fits:
                return [(i, _kindest(left[i], fits, size))]
    return []


def _smallest_first(left: Sequence[Leftover]) -> list[int]:
    return sorted(range(len(left)), key=lambda i: (left[i].area, i))


def _kindest(area: Leftover, fits: Sequence[Slot], size: float) -> Slot:
    """Of stretches that are long enough the cut that leaves the most broad cloth; of those that leave alike,
    the one nearest to the cut end, so that the far end stays whole."""
    cloth, breadth = cloth_of(area, _THIN_MM), math.sqrt(area.area) / _BREADTHS
    tried = dict.fromkeys(_candidates(fits, size))
    left = {cut: broad(cloth.difference(polygon(cut.ring)), breadth) for cut in tried}
    enough = max(left.values()) - _ALIKE * area.area
    return min((cut for cut in tried if left[cut] >= enough), key=_reach)


def _reach(cut: Slot) -> float:
    """How far from the cut end of the cloth it goes."""
    return max(z.real for z in cut.ring)


def _candidates(fits: Sequence[Slot], size: float) -> Iterator[Slot]:
    """Cuts worth comparing: for each direction and slant the stretches with the least to spare and those that
    reach least far from the cut end, at either end of them."""
    kinds: dict[tuple[complex, int], list[Slot]] = {}
    for slot in fits:
        kinds.setdefault((slot.direction, slot.lean), []).append(slot)
    for of_kind in kinds.values():
        near = sorted(of_kind, key=lambda s: s.length)[:_TRIED]
        early = sorted(of_kind, key=lambda s: _reach(s.cut(size)))[:_TRIED]
        for slot in (*near, *early):
            yield slot.cut(size)
            yield slot.cut(size, at_end=True)


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
        for k in _smallest_first(rest):
            enough = [slot for i, slot in here if i == k and slot.length >= wanted]
            if enough:
                return [*out, (k, _kindest(rest[k], enough, wanted))]
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
