"""Fullness to fit against a scan of every per cent: what each finds on a shipped example, and in how long.

Run: .venv/bin/python bench/fullness.py [--example cellist] [--seconds 80] [--length "2.2 m"]. It prints one
JSON line. The scan lays every position from 0 to 1 in steps of 0.01, each from nothing and for as long as the
search gives its longest lay, so that their budgets are equal; positions whose area alone is more than the
cloth are left out, those that fit end early. `share` is the amount found over the largest that the scan laid.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from dataclasses import replace
from pathlib import Path

from cutonce import read_design
from cutonce.body import Body
from cutonce.cloth.cloth import Cloth
from cutonce.recipe.free import FreeAmount, free_amounts, settled
from cutonce.recipe.recipe import Recipe
from cutonce.studio.examples import FOLDER, example_files
from cutonce.studio.fullness import SECONDS, Fullest, fullest
from cutonce.studio.inputs import read_cloth, read_one_body
from cutonce.studio.largest import LONG_SHARE
from cutonce.studio.laying import ClothLaying
from cutonce.studio.prove import Proven, prove
from cutonce.units import length


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--example", default="cellist")
    parser.add_argument("--seconds", type=float, default=SECONDS)
    parser.add_argument("--lay", type=float, default=0.0, help="seconds for each lay of the scan")
    parser.add_argument("--length", default="", help="another length of the cloth")
    parser.add_argument("--from", dest="first", type=int, default=0, help="the scan's first per cent")
    asked = parser.parse_args()
    design, who = example_files(asked.example)
    recipe, body = read_design(design), read_one_body(who)
    (cloth,) = read_cloth(FOLDER / asked.example / Path("cloth.toml"))
    if asked.length:
        cloth = replace(cloth, length=length(asked.length))
    amount = free_amounts(recipe, body.names)[0]
    found = fullest(
        recipe, body, ClothLaying(cloth), asked.seconds, lambda line: print(line, file=sys.stderr)
    )
    began = time.monotonic()
    fits = scan(recipe, body, cloth, asked.first, asked.lay or LONG_SHARE * asked.seconds)
    print(json.dumps(figures(asked.example, amount, found, fits, time.monotonic() - began)))


def scan(recipe: Recipe, body: Body, cloth: Cloth, first: int, seconds: float) -> list[int]:
    """The per cents that fit, each laid from nothing."""
    laying = ClothLaying(cloth)
    fits: list[int] = []
    old: Proven | None = None
    for per_cent in range(first, 101):
        old = prove(settled(recipe, body.names, per_cent / 100), body, old=old)
        if laying.demand(old) > laying.room:
            break
        lay = laying.lay(old, seconds, None, True)
        print(f"scan {per_cent} %: {lay.length:.0f} mm, {'fits' if lay.fits else 'no'}", file=sys.stderr)
        if lay.fits:
            fits.append(per_cent)
    return fits


def figures(
    name: str, amount: FreeAmount, found: Fullest, fits: list[int], seconds: float
) -> dict[str, object]:
    position = found.positions[0][1]
    best = max(fits, default=0) / 100
    return {
        "example": name,
        "position": round(position, 4),
        "found": amount.written(position),
        "seconds": round(found.seconds, 1),
        "lays": found.lays,
        "bound": found.bound,
        "scan_position": best,
        "scan_found": amount.written(best),
        "scan_seconds": round(seconds, 1),
        "share": round(amount.value(position) / amount.value(best), 4),
    }


if __name__ == "__main__":
    main()
