"""Rows of a buying list from the cloth, the cut list and the thread, rounded up to what shops sell."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from cutonce.cloth.cloth import Cloth
from cutonce.cloth.shop import Purchase, shop_words, to_buy
from cutonce.finishing.finished import CutRow
from cutonce.finishing.thread import REEL_MM, Thread, ThreadNeed
from cutonce.lay.strips import Strips
from cutonce.sheets.buying_list import ToBuy
from cutonce.sheets.lay_measures import TapeUnit, down_by_tape, up_by_tape

SHOP_STEP_MM: dict[TapeUnit, float] = {"cm": 100.0, "in": 914.4 / 8}
"""Cord, elastic, tape and interfacing are sold by 10 cm, or by an eighth of a yard (from memory)."""

INTERFACING_MM = 900.0
"""Usual width of fusible interfacing (from memory)."""

_BY_LENGTH = {"cord": "cord", "elastic": "elastic", "stay tape": "stay tape"}
_SPARE_MM = 20.0
"""Kept between pieces of interfacing that are cut roughly."""


def notion_rows(rows: Iterable[CutRow], unit: TapeUnit = "cm") -> tuple[ToBuy, ...]:
    """Everything of a cut list that is bought, not cut from the main cloth: cord, elastic, tape, zips,
    interfacing. What is alike is one row; lengths are added and rounded up."""
    listed = tuple(rows)
    return (*_lengths(listed, unit), *_zips(listed, unit), *_interfacing(listed, unit))


def _lengths(rows: Sequence[CutRow], unit: TapeUnit) -> Iterator[ToBuy]:
    groups: dict[tuple[str, float], list[CutRow]] = {}
    for row in rows:
        if row.kind in _BY_LENGTH:
            groups.setdefault((row.kind, round(row.width_mm, 3)), []).append(row)
    for (kind, width), alike in groups.items():
        total = sum(r.length_mm * r.count for r in alike)
        wide = f", {width:g} mm wide" if width else ""
        yield ToBuy(kind, f"{kind}{wide}", _needed(total, unit), bought(total, unit), _uses(alike))


def _uses(rows: Sequence[CutRow]) -> str:
    """What the lengths are for: named where there are few, else counted."""
    count = sum(r.count for r in rows)
    return rows[0].used_for if len(rows) == 1 and count == 1 else f"{count} lengths, see the cut list"


def _zips(rows: Sequence[CutRow], unit: TapeUnit) -> Iterator[ToBuy]:
    for row in rows:
        if row.kind == "zip":
            size = f"{up_by_tape(row.length_mm, unit).removesuffix('.0')} {unit}"
            yield ToBuy("zip", f"zip for {row.used_for}", size, f"{row.count} × {size}", row.note)


def _interfacing(rows: Sequence[CutRow], unit: TapeUnit) -> Iterator[ToBuy]:
    groups: dict[str, list[CutRow]] = {}
    for row in rows:
        if row.kind == "interfacing":
            groups.setdefault(row.what, []).append(row)
    for what, alike in groups.items():
        parts = [size for r in alike for size in [_part(r)] * r.count]
        total = shelved(parts, INTERFACING_MM)
        note = f"at {INTERFACING_MM / 10:.0f} cm wide, {len(parts)} parts; wider takes less"
        yield ToBuy("interfacing", what, _needed(total, unit), bought(total, unit), note)


def _part(row: CutRow) -> tuple[float, float]:
    """Across and along; a half cut on the fold takes both halves."""
    return row.width_mm * (2 if "on the fold" in row.note else 1), row.length_mm


def shelved(parts: Sequence[tuple[float, float]], width: float) -> float:
    """The length that rectangles (across, along) take in rows across a cloth, tallest first: enough, perhaps
    not the least.

    A part wider than the cloth is turned a quarter; one that is wider both ways counts as pieced, by area.

    >>> shelved(((400.0, 100.0), (400.0, 80.0), (400.0, 50.0)), 900.0)
    190.0
    """
    turned = (p if p[0] <= width or p[1] > width else (p[1], p[0]) for p in parts)
    length, room, row = 0.0, 0.0, 0.0
    for across, along in sorted(turned, key=lambda p: -p[1]):
        if across > width:
            length += across * along / width + _SPARE_MM
            continue
        if across > room:
            length += row + _SPARE_MM
            room, row = width, along
        room -= across + _SPARE_MM
    return length + row


def _needed(mm: float, unit: TapeUnit) -> str:
    return f"{up_by_tape(mm, unit)} {unit}"


def bought(mm: float, unit: TapeUnit) -> str:
    """A length rounded up to what the shop sells.

    >>> bought(1094.5, "cm"), bought(1094.5, "in"), bought(1000.0, "cm")
    ('1.1 m', '1 1/4 yd', '1 m')
    """
    steps = math.ceil(mm / SHOP_STEP_MM[unit] - 1e-9)
    if unit == "cm":
        return f"{steps / 10:g} m"
    whole, part = divmod(steps, 8)
    common = math.gcd(part, 8)
    fraction = f"{part // common}/{8 // common}" if part else ""
    return " ".join(w for w in (str(whole) if whole or not part else "", fraction, "yd") if w)


def thread_row(thread: Thread) -> ToBuy | None:
    """All thread together in household reels; where overedge may take the place of zigzag, the note says what
    it takes. None where nothing is sewn."""
    taken = [n for n in thread.needs if not n.instead]
    if not taken:
        return None
    least, most = sum(n.least for n in taken), sum(n.most for n in taken)
    reels = math.ceil(most / REEL_MM - 1e-9)
    told = [_instead(n) for n in thread.needs if n.instead]
    notes = (f"reels of {REEL_MM / 1000:.0f} m, waste counted", *told, *(n.note for n in taken if n.note))
    amount = f"{reels} reels" if reels != 1 else "1 reel"
    return ToBuy("thread", "sewing thread to match", _metres(least, most), amount, "; ".join(notes))


def _instead(need: ThreadNeed) -> str:
    conflict = ", published figures conflict" if need.note else ""
    return f"{need.words}, in place of zigzag: {_metres(need.least, need.most)}{conflict}"


def _metres(least: float, most: float) -> str:
    low, high = math.ceil(least / 1000), math.ceil(most / 1000)
    return f"{low} to {high} m" if low < high else f"{high} m"


def cloth_row(cloth: Cloth, needed: float, new: Purchase, lacking: Purchase | None, unit: TapeUnit) -> ToBuy:
    """The main cloth: `needed` mm of it; `new` is what to ask for where none is at hand, `lacking` what to
    buy beside what is at hand (None: that is enough)."""
    what = f"{cloth.name}, {down_by_tape(cloth.width, unit).removesuffix('.0')} {unit} wide"
    needed_words = _needed(needed, unit)
    if cloth.length is None:
        return _of_cloth(cloth, what, needed_words, new, f"{_needed(new.length - needed, unit)} to spare")
    at_hand = f"{down_by_tape(cloth.length, unit)} {unit} at hand"
    if lacking is None:
        spare = f"{down_by_tape(cloth.length - needed, unit)} {unit} to spare"
        return ToBuy("cloth", what, needed_words, "none", f"{at_hand}: {spare}")
    short = f"{at_hand}: {_needed(needed - cloth.length, unit)} short"
    return _of_cloth(cloth, what, needed_words, lacking, short)


def _of_cloth(cloth: Cloth, what: str, needed: str, bought: Purchase, note: str) -> ToBuy:
    if cloth.shrink_along:
        note += f"; wash it first: {shop_words(bought.washed, bought.unit)} is left"
    return ToBuy("cloth", what, needed, bought.words, note, bought.cost, bought.currency)


def strip_rows(strips: Strips, cloth: Cloth, unit: TapeUnit) -> tuple[ToBuy, ...]:
    """The strips of each width, from what the lay leaves over; the cloth to buy for those without room."""
    out = []
    for width in strips.widths:
        cut = [s.need for s in width.chosen.strips]
        if cut or width.chosen.blocks:
            size = f"{width.grain} strips {up_by_tape(width.width, unit)} {unit} wide"
            total = _needed(sum(n.length for n in cut), unit)
            joins = "1 join" if width.chosen.joins == 1 else f"{width.chosen.joins} joins"
            note = f"from what is left over, {width.chosen.method}, {joins}"
            out.append(ToBuy("strips", size, total, "none", note))
    if strips.unmet:
        total = _needed(sum(n.length for n in strips.unmet), unit)
        out.append(_more_cloth(strips, cloth, total))
    return tuple(out)


def _more_cloth(strips: Strips, cloth: Cloth, needed: str) -> ToBuy:
    """What finds no room on what is left over: the least new cloth that gives it, as the shop sells it."""
    what = f"more {cloth.name} for strips"
    if strips.more is None:
        return ToBuy("strips", what, needed, "", "no length of this cloth gives them: take another")
    more = to_buy(cloth, strips.more.length)
    joins = "1 join" if strips.more.joins == 1 else f"{strips.more.joins} joins"
    return ToBuy("strips", what, needed, more.words, f"with {joins}", more.cost, more.currency)
