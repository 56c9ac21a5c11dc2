"""Size tables as published: exact inches in `data/`, millimetres out. A row that is not known is absent.

`astm-d5585-11-curvy`, `astm-d5585-11-straight`: ASTM D5585-11e1, adult female misses, sizes 00 to 20, the
table's first rows (girths from head to waist). Hip, lengths and arm were not to be seen and are not here.
`trade-misses`: the older US pattern-trade table for misses, sizes 6 to 20, bust, waist, hip, back waist
length; for figures of 5'5" to 5'6". Read at sewingscholar.blogspot.com, February 2011.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Final

from cutonce.body.measures import Body, Estimate, Measure
from cutonce.errors import BadInput, closest, quoted
from cutonce.units import length


@dataclass(frozen=True, slots=True)
class Row:
    """One row as printed: its name there, our measure ("" where we have none), inches and mm by size."""

    name: str
    measure: str
    inches: tuple[str, ...]
    mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class SizeTable:
    """A published table of body measures by size. `note` says what is and is not known of it."""

    key: str
    title: str
    note: str
    sizes: tuple[str, ...]
    rows: tuple[Row, ...]
    height: Measure | None = None


_ASTM_NOTE = "the first rows of the inch table; hip, lengths and arm are not known here"
_TRADE_HEIGHT = Measure(
    "height",
    1663.7,
    text="5 ft 5 1/2 in",
    estimate=Estimate("middle of the table's own 'for figures 5 ft 5 in to 5 ft 6 in'", None),
)
# key: (file, figure, title, note, height)
_TABLES: Final[dict[str, tuple[str, str, str, str, Measure | None]]] = {
    "astm-d5585-11-curvy": (
        "astm_d5585_11.csv",
        "curvy",
        "ASTM D5585-11e1, misses, curvy",
        _ASTM_NOTE,
        None,
    ),
    "astm-d5585-11-straight": (
        "astm_d5585_11.csv",
        "straight",
        "ASTM D5585-11e1, misses, straight",
        _ASTM_NOTE,
        None,
    ),
    "trade-misses": (
        "trade_misses.csv",
        "",
        "US pattern trade, misses (older)",
        "four measures; height is the middle of what the table says it is for",
        _TRADE_HEIGHT,
    ),
}

TABLE_KEYS: Final = tuple(_TABLES)


@lru_cache(maxsize=len(_TABLES))
def size_table(key: str, where: str = "") -> SizeTable:
    """The table of that key; BadInput "unknown-table" with the choices."""
    if key not in _TABLES:
        message = f"no size table {quoted(key)}{closest(key, _TABLES)}"
        raise BadInput("unknown-table", where, message, f"there are: {', '.join(_TABLES)}")
    file, figure, title, note, height = _TABLES[key]
    text = resources.files("cutonce.body").joinpath("data", file).read_text(encoding="utf-8")
    head, *lines = csv.reader(text.splitlines())
    rows = tuple(
        Row(name, measure, tuple(cells), tuple(length(f"{cell} in") for cell in cells))
        for name, measure, shape, *cells in lines
        if shape in ("", figure)
    )
    return SizeTable(key, title, note, tuple(head[3:]), rows, height)


def body_from_size(key: str, size: str, where: str = "") -> Body:
    """A body of that size, with only what the table holds; BadInput "unknown-size" with the choices.

    >>> body_from_size("trade-misses", "12").mm("hip_girth")
    914.4
    """
    table = size_table(key, where)
    if size not in table.sizes:
        message = f"{table.title} has no size {quoted(size)}"
        raise BadInput("unknown-size", where, message, f"it has: {', '.join(table.sizes)}")
    at = table.sizes.index(size)
    measures = tuple(
        Measure(row.measure, row.mm[at], text=f"{row.inches[at]} in") for row in table.rows if row.measure
    )
    height = (table.height,) if table.height else ()
    return Body(f"{table.title}, size {size}", (*height, *measures), notes=table.note)
