"""Backwards: the cloth to buy for each fullness and each width, as a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.body import Body
from cutonce.cloth.cloth import Cloth
from cutonce.cloth.shop import Purchase, to_buy
from cutonce.errors import BadInput, Problem
from cutonce.lay.asked import Asked
from cutonce.recipe.free import free_amounts, settled
from cutonce.recipe.recipe import Recipe
from cutonce.studio.fullness import Said, Settled, settled_amounts
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven, prove
from cutonce.studio.remedies import LayingOn
from cutonce.units import show

WIDTHS = (1120.0, 1400.0, 1500.0)
"""mm between the selvedges: of the usual widths (90, 112-115, 140, 150 cm: sewwithsarah.com's conversion
table) the three that dress cloth is mostly sold in."""

LEVELS = (("least", 0.0), ("middle", 0.5), ("most", 1.0))
"""Names of the three fullness levels, and how far from least to most each is."""

SECONDS = 60.0
"""For the whole table, unless she says otherwise."""

NARROWEST_MM, WIDEST_MM = 200.0, 4000.0
"""Cloth is not woven narrower or wider than this."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What one fullness takes on one width: mm of cloth, and what to ask for; or `why` there is no lay."""

    width: float
    needed: float | None
    buy: Purchase | None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A fullness level, the amounts it means, and its cell for every width; `why` it cannot be drawn."""

    level: str
    amounts: tuple[Settled, ...]
    cells: tuple[Cell, ...]
    why: str = ""


@dataclass(frozen=True, slots=True)
class ClothNeeded:
    """The table, widths from narrow to wide, levels from least to most. A design without free amounts has
    one level, "as it is"."""

    widths: tuple[float, ...]
    rows: tuple[Row, ...]


def cloth_needed(
    recipe: Recipe,
    body: Body,
    like: Cloth,
    asked: Asked,
    laying_on: LayingOn,
    widths: Sequence[float] = WIDTHS,
    seconds: float = SECONDS,
    said: Said = lambda _: None,
) -> ClothNeeded:
    """Lay the design at each level on new cloth of each width, every lay for the same share of the time.

    `like` gives nap, shrinkage, repeat, price and the shop's step; its own width, length, flaws and remnants
    are left out. `widths` lie between the selvedges. Raises BadInput for a width that no cloth has.
    """
    across = tuple(sorted(dict.fromkeys(_width(w) for w in widths)))
    amounts = free_amounts(recipe, body.names)
    levels = LEVELS if amounts else (("as it is", 0.0),)
    share = seconds / (len(levels) * len(across))
    before: dict[float, Lay] = {}
    rows: list[Row] = []
    for name, position in levels:
        at = dict.fromkeys((a.group for a in amounts), position)
        try:
            design = prove(settled(recipe, body.names, at), body)
        except Problem as problem:
            rows.append(Row(name, settled_amounts(amounts, at), (), str(problem)))
            continue
        cells: list[Cell] = []
        for width in across:
            said(f"{name}, {show(width)} wide")
            cell, lay = _cell(design, new_cloth(like, width), asked, laying_on, share, before.get(width))
            if lay is not None:
                before[width] = lay
            cells.append(cell)
        rows.append(Row(name, settled_amounts(amounts, at), tuple(cells)))
    return ClothNeeded(across, tuple(rows))


def new_cloth(like: Cloth, width: float) -> Cloth:
    """The same cloth, new from the shop and of another width, with no end and no flaw."""
    name = f"{like.name}, {show(width)} wide"
    return replace(like, name=name, width=width, usable=width, length=None, remnants=(), flaws=())


def _width(width: float) -> float:
    if not NARROWEST_MM <= width <= WIDEST_MM:
        message = f"no cloth is {show(width)} wide"
        raise BadInput("out-of-range", "--width", message, f"{show(NARROWEST_MM)} to {show(WIDEST_MM)}")
    return width


def _cell(
    design: Proven, cloth: Cloth, asked: Asked, laying_on: LayingOn, seconds: float, start: Lay | None
) -> tuple[Cell, Lay | None]:
    try:
        lay = laying_on(cloth, asked).lay(design, seconds, start, False)
    except Problem as problem:
        return Cell(cloth.width, None, None, str(problem)), None
    return Cell(cloth.width, lay.length, to_buy(cloth, lay.length)), lay


def table_text(table: ClothNeeded) -> str:
    """The table as lines of text: a row a level, a column a width; the cost under each length where known."""
    head = ["", *(f"{show(w)} wide" for w in table.widths)]
    rows = [head]
    notes: list[str] = []
    for row in table.rows:
        if row.why:
            notes.append(f"{row.level}: {row.why}")
        cells = [_words(c) for c in row.cells] or ["-"] * len(table.widths)
        rows.append([row.level, *cells])
        notes += [f"{row.level}, {show(c.width)} wide: {c.why}" for c in row.cells if c.why]
    sizes = [max(len(r[k]) for r in rows) for k in range(len(head))]
    lines = ["  ".join(cell.ljust(size) for cell, size in zip(r, sizes, strict=True)).rstrip() for r in rows]
    return "\n".join([*lines, *notes])


def _words(cell: Cell) -> str:
    if cell.buy is None:
        return "-"
    cost = f", {cell.buy.cost_words}" if cell.buy.cost_words else ""
    return f"{cell.buy.words}{cost}"
