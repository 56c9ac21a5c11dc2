"""Strips for bindings, casings and facings from what a lay leaves: where each is cut, how many joins it has,
which of two ways wastes less, and how much more cloth is needed where what is left does not suffice."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from cutonce.cloth.cloth import Cloth
from cutonce.errors import Finding
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finished import CutRow
from cutonce.lay.continuous import continuous
from cutonce.lay.leftovers import Leftover, broad, cloth_of, full_width, leftovers
from cutonce.lay.plan import Plan
from cutonce.lay.single_strips import single_strips
from cutonce.lay.strip_needs import Block, CutStrip, Grain, Need, needs
from cutonce.units import show

Method = Literal["single strips", "continuous"]

_TUBE_FROM_MM = 1500.0
"""For less strip than this a tube is not worth its seams (common practice)."""

_STEP_MM = 10.0
"""How finely more cloth is worked out; the shop's step is coarser."""

_MOST_MORE_MM = 12_800.0
"""More cloth for strips than this is not looked for."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way of cutting all strips of one width: the strips, the blocks where it is the continuous way, and
    the needs that found no cloth.

    `taken_mm2` is the cloth that is gone: strips or blocks, and the slivers beside them that are narrower
    than the strip. `wasted_mm2` is what of it is in no strip as sewn: joins, trimmed ends, slivers.
    """

    method: Method
    strips: tuple[CutStrip, ...]
    blocks: tuple[Block, ...]
    unmet: tuple[Need, ...]
    taken_mm2: float
    wasted_mm2: float
    joins: int

    @property
    def words(self) -> str:
        """As said on paper: "single strips: 3 joins, wastes 120 cm2"."""
        if not self.strips and not self.blocks:
            return f"{self.method}: no room"
        short = f", {len(self.unmet)} without cloth" if self.unmet else ""
        return f"{self.method}: {_joins(self.joins)}, wastes {self.wasted_mm2 / 100:.0f} cm2{short}"


@dataclass(frozen=True, slots=True)
class Width:
    """All strips of one width and grain: the way chosen, and the other one for comparison (None for strips
    on the straight grain, which have no other)."""

    width: float
    grain: Grain
    chosen: Way
    other: Way | None


@dataclass(frozen=True, slots=True)
class More:
    """New cloth for strips: `length` at full width, the least by steps of 1 cm; `buy` in the shop's steps;
    and where the strips lie on what is bought: parts of leftover 0, places from its own cut end."""

    length: float
    buy: float
    widths: tuple[Width, ...]

    @property
    def joins(self) -> int:
        return sum(w.chosen.joins for w in self.widths)


@dataclass(frozen=True, slots=True)
class Strips:
    """Every strip of a cut list, by width, that of the longest strip first.

    Where what is left does not suffice, `unmet` lists the needs, `more` is the least new cloth that gives
    them, with many joins, and `few` what gives them with no more joins than the cut list counts. None where
    no length of that cloth does.
    """

    widths: tuple[Width, ...]
    unmet: tuple[Need, ...] = ()
    more: More | None = None
    few: More | None = None
    findings: tuple[Finding, ...] = ()


def cut_strips(plan: Plan, rows: Sequence[CutRow], defaults: Defaults | None = None) -> Strips:
    """The strips of a cut list from what a lay leaves."""
    join = (defaults or Defaults()).join
    return strips_from(needs(rows, plan.cloth, join), leftovers(plan), plan.cloth, join)


def strips_from(wanted: Sequence[Need], left: Sequence[Leftover], cloth: Cloth, join: float) -> Strips:
    """These strips from these areas of a cloth, `join` mm allowed at each join."""
    widths = _by_width(wanted, tuple(left), join, _same_way(cloth), thrifty=False)
    if any(w.chosen.unmet for w in widths):
        widths = _by_width(wanted, tuple(left), join, _same_way(cloth), thrifty=True)
    unmet = tuple(n for w in widths for n in w.chosen.unmet)
    if not unmet:
        return Strips(widths)
    more, few = (_more(unmet, cloth, join, enough) for enough in (_all_met, _few_joins))
    return Strips(widths, unmet, more, few, (_short(unmet, cloth, more, few),))


def _same_way(cloth: Cloth) -> bool:
    """Must all parts of a strip run in one bias direction? A nap or a stripe shows where they do not."""
    return cloth.nap != "none" or bool(cloth.stripe_across or cloth.stripe_along)


def _by_width(
    wanted: Sequence[Need], left: tuple[Leftover, ...], join: float, same_way: bool, thrifty: bool
) -> tuple[Width, ...]:
    """The width with the longest strip first, each from what the ones before leave.

    The way that wastes less is chosen; but nobody sews a tube where single strips come whole, or for a short
    length, to spare an odd corner, unless `thrifty`.
    """
    groups: dict[tuple[Grain, float], list[Need]] = {}
    for need in wanted:
        groups.setdefault((need.grain, round(need.width, 3)), []).append(need)
    out: list[Width] = []
    for (grain, _), alike in sorted(groups.items(), key=lambda g: -max(n.length for n in g[1])):
        ways = [_single(alike, left, join, same_way)]
        if grain == "bias":
            ways.append(_continuous(alike, left, join))
        ways.sort(key=lambda w: _rank(w[0], thrifty))
        (chosen, left), others = ways[0], ways[1:]
        out.append(Width(alike[0].width, grain, chosen, others[0][0] if others else None))
    return tuple(out)


def _rank(way: Way, thrifty: bool) -> tuple[float, int, float, int]:
    """Least without cloth first, then what a maker would rather do, then least waste, then fewest joins."""
    missing = round(sum(n.length for n in way.unmet), 3)
    whole = bool(way.strips) and all(len(s.parts) == 1 for s in way.strips)
    short = bool(way.blocks) and sum(b.gives for b in way.blocks) < _TUBE_FROM_MM
    trouble = 0 if thrifty else 0 if whole else 2 if short else 1
    return missing, trouble, round(way.wasted_mm2), way.joins


def _single(
    alike: Sequence[Need], left: tuple[Leftover, ...], join: float, same_way: bool
) -> tuple[Way, tuple[Leftover, ...]]:
    done, unmet, rest = single_strips(alike, left, join, same_way)
    own = sum(p.length * s.need.width for s in done for p in s.parts)
    taken = _taken(left, rest, alike[0].width, own)
    used = sum(s.need.length * s.need.width for s in done)
    joined = sum(s.joins for s in done)
    return Way("single strips", done, (), unmet, taken, taken - used, joined), rest


def _continuous(
    alike: Sequence[Need], left: tuple[Leftover, ...], join: float
) -> tuple[Way, tuple[Leftover, ...]]:
    blocks, unmet, rest = continuous(alike, left, join)
    taken = _taken(left, rest, alike[0].width, sum(b.long * b.height for b in blocks))
    used = sum(n.length * n.width for b in blocks for n in b.serves)
    joined = sum(b.joins + sum(n.closed for n in b.serves) for b in blocks)
    return Way("continuous", (), blocks, unmet, taken, taken - used, joined), rest


def _taken(before: Sequence[Leftover], after: Sequence[Leftover], width: float, own: float) -> float:
    """Cloth that is no longer there for another such strip; at least the strips themselves."""
    changed = [(b, a) for b, a in zip(before, after, strict=True) if b is not a]
    return max(own, sum(broad(cloth_of(b), width) - broad(cloth_of(a), width) for b, a in changed))


def _all_met(widths: Sequence[Width]) -> bool:
    return not any(w.chosen.unmet for w in widths)


def _few_joins(widths: Sequence[Width]) -> bool:
    """Does every strip have no more joins than the cut list counts?"""
    strips = [s for w in widths for s in w.chosen.strips]
    return all(w.chosen.strips for w in widths) and all(s.joins <= s.need.joins for s in strips)


def _more(
    unmet: Sequence[Need], cloth: Cloth, join: float, enough: Callable[[Sequence[Width]], bool]
) -> More | None:
    """The least new cloth that is enough for these strips."""

    def cut_from(length: float) -> tuple[Width, ...] | None:
        new = (full_width(cloth.usable, length),)
        widths = _by_width(unmet, new, join, _same_way(cloth), thrifty=False)
        return widths if _all_met(widths) and enough(widths) else None

    area = sum(n.length * n.width for n in unmet)
    least, most = 0, max(math.ceil(max(area / cloth.usable, cloth.sold_by) / _STEP_MM), 1)
    while cut_from(most * _STEP_MM) is None:
        least, most = most, 2 * most
        if most * _STEP_MM > _MOST_MORE_MM:
            return None
    while most - least > 1:
        middle = (most + least) // 2
        if cut_from(middle * _STEP_MM) is None:
            least = middle
        else:
            most = middle
    length = most * _STEP_MM
    buy = math.ceil(length / cloth.sold_by - 1e-9) * cloth.sold_by
    widths = cut_from(buy) or cut_from(length)
    return More(length, buy, widths) if widths else None


def _short(unmet: Sequence[Need], cloth: Cloth, more: More | None, few: More | None) -> Finding:
    what = ", ".join(dict.fromkeys(f"{n.kind} for {n.used_for}" for n in unmet))
    if more is None:
        message = f"no cloth for {what}: no length of {show(cloth.usable)} wide cloth gives it"
        return Finding("warning", "no-cloth-for-strips", "strips", message, hint="take narrower strips")
    message = f"what is left has no room for {what}: {show(more.length)} more at full width"
    hint = f"buy {show(more.buy)} for {_joins(more.joins)}"
    if few and few.joins < more.joins:
        hint += f" or {show(few.buy)} for {_joins(few.joins)}"
    return Finding("warning", "strips-short", "strips", message, hint=f"{hint}; or bought binding")


def _joins(count: int) -> str:
    return f"{count} join{'' if count == 1 else 's'}"
