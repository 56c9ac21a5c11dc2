"""Whether seams match, measured where the pieces lie: independent of the rules by which they came there."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cutonce.cloth.cloth import Cloth, Repeat
from cutonce.geometry import path
from cutonce.geometry.motion import Point
from cutonce.lay.cuts import Cut
from cutonce.lay.places import Join, SeamPlace
from cutonce.lay.plan import Laid, Matched, Section

MATCHED_MM = 1.0
"""A pattern that runs on within this does so for the eye."""

_SAME_WAY_RAD = math.radians(1)


@dataclass(frozen=True, slots=True)
class _OnCloth:
    """A place on the cloth itself, unfolded: from the cut end and from the near selvedge; and the way the
    piece's arrow runs there along the cloth, 1 or -1, 0 where it runs slantwise."""

    at: Point
    sense: int


@dataclass(frozen=True, slots=True)
class _Lay:
    """What lies where."""

    cloth: Cloth
    sections: Sequence[Section]
    laid: Mapping[str, Laid]
    cuts: Mapping[str, Cut]


def matched(
    joins: Sequence[Join],
    cloth: Cloth,
    sections: Sequence[Section],
    laid: Sequence[Laid],
    cuts: Sequence[Cut],
) -> tuple[Matched, ...]:
    """Every join, measured on the cloth, on folded cloth in both layers; where it does not match, why."""
    lay = _Lay(cloth, sections, {x.key: x for x in laid}, {c.key: c for c in cuts})
    return tuple(_measured(join, lay) for join in joins)


def _measured(join: Join, lay: _Lay) -> Matched:
    one = _on_cloth(join.one, lay)
    if join.two is None:
        off = _off(lay.cloth.stripe_across, one.at.imag, None, True)
        return _told(join, 0.0, off, lay, _why_centre(join, lay))
    two = _on_cloth(join.two, lay)
    along = _off(lay.cloth.stripe_along, one.at.real, two.at.real, one.sense != two.sense)
    across = _off(lay.cloth.stripe_across, one.at.imag, two.at.imag, True)
    return _told(join, along, across, lay, _why_seam(join, one, two, lay))


def _told(join: Join, along: float, across: float, lay: _Lay, why: str) -> Matched:
    spots = tuple(lay.laid[p.cut].motion(p.at) for p in (join.one, join.two) if p is not None)
    fine = max(along, across) <= MATCHED_MM and not why.startswith("cut on")
    return Matched(join.seam, join.at, along, across, fine, "" if fine else why, spots)


def _off(repeat: Repeat | None, one: float, two: float | None, mirrored: bool) -> float:
    """How far the pattern is from running on; with no second place, from the middle of a stripe."""
    if repeat is None:
        return 0.0
    a = one - repeat.offset
    if two is None:
        return abs(math.remainder(a, repeat.every))
    b = two - repeat.offset
    straight = abs(math.remainder(a - b, repeat.every))
    return min(straight, abs(math.remainder(a + b, repeat.every))) if mirrored else straight


def _on_cloth(place: SeamPlace, lay: _Lay) -> _OnCloth:
    laid = lay.laid[place.cut]
    over = laid.motion.mirror
    section = lay.sections[laid.section]
    z = laid.motion(place.at)
    arrow = laid.motion.of_vector(laid.piece.grain.end - laid.piece.grain.start)
    slant = abs(arrow.imag) > abs(arrow) * math.sin(_SAME_WAY_RAD)
    sense = 0 if slant else (1 if arrow.real > 0 else -1)
    upper = section.way != "open" and laid.layers == 2 and (place.hand == "right") != over
    match section.way:
        case "open":
            return _OnCloth(z, sense)
        case "folded lengthwise":
            fold = lay.cloth.width / 2 if section.fold is None else section.fold
            y = fold + (-z.imag if upper else z.imag)
            return _OnCloth(complex(z.real, y), sense)
        case "folded crosswise":
            return (
                _OnCloth(complex(2 * section.end - z.real, z.imag), -sense) if upper else _OnCloth(z, sense)
            )


def _why_centre(join: Join, lay: _Lay) -> str:
    laid = lay.laid[join.one.cut]
    words = laid.piece.grain.words
    if words != "straight grain":
        return f"cut on the {words}, so no stripe runs along the centre"
    if not _in_reach(join.one, laid, lay.cloth):
        return "no stripe lies where the piece fits on the width of the cloth"
    return "it is held elsewhere, or matched to what is"


def _in_reach(place: SeamPlace, laid: Laid, cloth: Cloth) -> bool:
    """Can a place of a piece come to lie on the middle of a stripe anywhere on the width of open cloth?"""
    repeat = cloth.stripe_across
    _, low, _, high = path.bounds(path.moved(laid.piece.cutting, laid.motion))
    at, side = laid.motion(place.at).imag, (cloth.width - cloth.usable) / 2
    first, last = side + at - low, side + cloth.usable - (high - at)
    return repeat is None or (repeat.offset - first) % repeat.every <= last - first


def _why_seam(join: Join, one: _OnCloth, two: _OnCloth, lay: _Lay) -> str:
    if join.two is None:
        return ""
    a, b = lay.cuts[join.one.cut].piece.grain.words, lay.cuts[join.two.cut].piece.grain.words
    if a != b:
        return f"cut on different grains: {a} and {b}"
    folded = [lay.sections[lay.laid[p.cut].section].way for p in (join.one, join.two)]
    if any(way != "open" for way in folded) and layers_differ(lay.cloth, folded, lay.sections) > MATCHED_MM:
        return (
            "the pattern of the two layers does not lie one on the other: fold it on the middle of a stripe"
        )
    if one.sense != two.sense and lay.cloth.stripe_along is not None:
        return "the two pieces lie opposite ways up"
    if any(not _in_reach(p, lay.laid[p.cut], lay.cloth) for p in (join.one, join.two)):
        return "the repeat is too wide for the room that the pieces have on the width of the cloth"
    return "the pieces are matched at other places first, and the two seam lines differ in shape or length"


def layers_differ(cloth: Cloth, ways: Sequence[str], sections: Sequence[Section]) -> float:
    """By how much the pattern of the upper layer of folded cloth lies beside that of the lower one, mm."""
    off = 0.0
    across = cloth.stripe_across
    folds = [s.fold for s in sections if s.fold is not None]
    if "folded lengthwise" in ways and across is not None and folds:
        off = max(abs(math.remainder(2 * (y - across.offset), across.every)) for y in folds)
    if "folded crosswise" in ways and cloth.stripe_along is not None:
        ends = [s.end for s in sections if s.way == "folded crosswise"]
        off = max(
            off,
            *(
                abs(math.remainder(2 * (e - cloth.stripe_along.offset), cloth.stripe_along.every))
                for e in ends
            ),
        )
    return off
