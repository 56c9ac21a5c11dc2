"""Rows of a buying list from the cloth, the cut list and the thread, rounded up to what shops sell."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from cutonce.cloth.cloth import Cloth
from cutonce.cloth.shop import Purchase, shop_words, to_buy
from cutonce.finishing.finished import CutRow
from cutonce.finishing.haberdashery import BY_LENGTH, BY_PIECE, Ware, haberdashery
from cutonce.finishing.thread import REEL_MM, Thread, ThreadNeed
from cutonce.lay.strips import Strips
from cutonce.sheets.buying_list import ToBuy
from cutonce.sheets.lay_measures import TapeUnit, down_by_tape, up_by_tape

SHOP_STEP_MM: dict[TapeUnit, float] = {"cm": 100.0, "in": 914.4 / 8}
"""Interfacing is sold by 10 cm, or by an eighth of a yard (common practice)."""

REEL_STEP_MM: dict[TapeUnit, float] = {"cm": BY_LENGTH["cord"], "in": 914.4 / 2}
"""Cord, elastic and tape are sold by half a metre, or by half a yard (common practice)."""

INTERFACING_MM = 900.0
"""Usual width of fusible interfacing (from memory)."""

_SPARE_MM = 20.0
"""Kept between pieces of interfacing that are cut roughly."""


def notion_rows(rows: Iterable[CutRow], unit: TapeUnit = "cm") -> tuple[ToBuy, ...]:
    """Everything of a cut list that is bought, not cut from the main cloth: cord, elastic, tape, zips,
    interfacing. What is alike is one row; lengths are added and rounded up."""
    listed = tuple(rows)
    return (*(_ware(w, unit) for w in haberdashery(listed)), *_interfacing(listed, unit))


def _ware(ware: Ware, unit: TapeUnit) -> ToBuy:
    uses = ", ".join(ware.used_for)
    if ware.kind in BY_PIECE:
        size = f"{up_by_tape(ware.buy, unit).removesuffix('.0')} {unit}"
        return ToBuy(ware.kind, ware.kind, size, f"{ware.pieces} × {size}", f"for {uses}")
    what = f"{ware.kind}, {ware.width:g} mm wide" if ware.width else ware.kind
    step = REEL_STEP_MM[unit]
    note = f"for {uses}" if ware.pieces == 1 else f"{ware.pieces} lengths, see the cut list"
    return ToBuy(ware.kind, what, _needed(ware.length, unit), bought(ware.length, unit, step), note)


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


def bought(mm: float, unit: TapeUnit, step: float = 0.0) -> str:
    """A length rounded up to what the shop sells: to `step` mm, or that of cloth.

    >>> bought(1094.5, "cm"), bought(1094.5, "in"), bought(1094.5, "cm", 500.0), bought(1000.0, "cm")
    ('1.1 m', '1 1/4 yd', '1.5 m', '1 m')
    """
    by = step or SHOP_STEP_MM[unit]
    return shop_words(math.ceil(mm / by - 1e-9) * by, "m" if unit == "cm" else "yd")


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
