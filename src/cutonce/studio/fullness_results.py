"""What came of fitting fullness, of remedies and of the buying table: as files, and as plain documents."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from cutonce.recipe.file import write_recipe
from cutonce.sheets.files import write_beside
from cutonce.studio.cloth_needed import Cell, ClothNeeded
from cutonce.studio.fullness import Fullest, Settled
from cutonce.studio.make import Writer
from cutonce.studio.remedies import Remedies, Remedy

SCHEMA = 1

SUFFIX = "-fullest"
"""What is added to the name of her design for the one with the amounts found: hers is never written over."""


def fullest_name(design: Path) -> str:
    """The name of the design with the amounts found: "design.toml" becomes "design-fullest.toml"."""
    return f"{design.stem}{SUFFIX}{design.suffix or '.toml'}"


def fullest_writer(done: Fullest, design: Path, text: str) -> Writer:
    """Writes the design with ordinary amounts (`text` is hers: her comments stay), the outline that it names,
    and fullness.json."""

    def write(folder: Path) -> Iterable[Path]:
        files = {
            fullest_name(design): write_recipe(done.recipe, text),
            "fullness.json": as_json(fullest_document(done)),
        }
        if done.recipe.block.outline:
            files[done.recipe.block.outline] = done.recipe.block.outline_text
        for name, words in files.items():
            write_beside(folder / name, (words.rstrip("\n") + "\n").encode("utf-8"))
        return [folder / name for name in files]

    return write


def as_json(document: dict[str, Any]) -> str:
    return json.dumps(document, indent=1, ensure_ascii=False)


def fullest_document(done: Fullest) -> dict[str, Any]:
    """Amounts as written, edges and cloth in mm."""
    return {
        "schema": SCHEMA,
        "amounts": [_amount(a) for a in done.amounts],
        "positions": dict(done.positions),
        "bound": done.bound,
        "blocks": done.blocks,
        "cloth_mm": round(done.lay.length, 1),
        "changed": [
            {
                "what": c.what,
                "before_mm": round(c.before, 1),
                "after_mm": round(c.after, 1),
                "relation": c.note,
            }
            for c in done.changed
        ],
        "second": None
        if done.second is None
        else {
            "amounts": [_amount(a) for a in done.second.amounts],
            "spare_mm": round(done.second.spare, 1),
        },
        "seconds": round(done.seconds, 1),
        "lays": done.lays,
    }


def remedies_document(done: Remedies) -> dict[str, Any]:
    """Lengths in mm; `helps` the most first, `no_better` what saved nothing in the time tried."""
    return {
        "schema": SCHEMA,
        "length_mm": None if done.length is None else round(done.length, 1),
        "why": done.why,
        "helps": [_remedy(r) for r in done.helps],
        "no_better": [_remedy(r) for r in done.no_better],
    }


def needed_document(table: ClothNeeded) -> dict[str, Any]:
    """The table, a row a level; lengths in mm, `buy_mm` rounded to what the shop sells."""
    return {
        "schema": SCHEMA,
        "rows": [
            {
                "level": row.level,
                "amounts": [_amount(a) for a in row.amounts],
                "why": row.why,
                "widths": [_cell(c) for c in row.cells],
            }
            for row in table.rows
        ],
    }


def _amount(amount: Settled) -> dict[str, str]:
    return {name: getattr(amount, name) for name in ("step", "words", "text", "least", "most", "group")}


def _remedy(remedy: Remedy) -> dict[str, Any]:
    return {
        "what": remedy.what,
        "work": remedy.work,
        "question": remedy.question,
        "saves_mm": None if remedy.saves is None else round(remedy.saves, 1),
        "length_mm": round(remedy.length, 1),
        "fits": remedy.fits,
    }


def _cell(cell: Cell) -> dict[str, Any]:
    cost = cell.buy.cost if cell.buy is not None else None
    return {
        "width_mm": cell.width,
        "needed_mm": None if cell.needed is None else round(cell.needed, 1),
        "buy_mm": None if cell.buy is None else round(cell.buy.length, 1),
        "cost": None if cost is None else str(cost),
        "currency": cell.buy.currency if cell.buy is not None and cost is not None else "",
        "why": cell.why,
    }
