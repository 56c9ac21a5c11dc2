"""A `Cloth` as the plain table that stands in a cloth file; what is as usual is left out."""

from __future__ import annotations

from typing import Any

from cutonce.cloth.amounts import SOLD_BY, price_text, weight_text
from cutonce.cloth.cloth import Cloth, Flaw, Remnant, Repeat


def cloth_table(cloth: Cloth) -> dict[str, Any]:
    """The cloth as a plain table, as `read_table.read_one` reads it.

    >>> cloth_table(Cloth("lawn", 1400.0, 1380.0, shrink_along=0.03, shrink_across=0.01))["shrinkage"]
    {'along': '3 %', 'across': '1 %'}
    """
    usual = SOLD_BY[cloth.price.per if cloth.price else "m"]
    entries: dict[str, Any] = {
        "name": cloth.name,
        "kind": cloth.kind,
        "width": mm_text(cloth.width),
        "usable": mm_text(cloth.usable),
        "length": None if cloth.length is None else mm_text(cloth.length),
        "nap": "" if cloth.nap == "none" else cloth.nap,
        "right_side": "" if cloth.right_side == "one" else cloth.right_side,
        "repeat_across": _repeat_table(cloth.stripe_across),
        "repeat_along": _repeat_table(cloth.stripe_along),
        "shrinkage": _shares_table(cloth),
        "bias_drop": share_text(cloth.bias_drop) if cloth.bias_drop else "",
        "flaws": [_flaw_table(flaw) for flaw in cloth.flaws],
        "remnants": [_remnant_table(remnant) for remnant in cloth.remnants],
        "weight": "" if cloth.weight is None else weight_text(cloth.weight),
        "price": price_text(cloth.price) if cloth.price else "",
        "sold_by": "" if cloth.sold_by == usual else mm_text(cloth.sold_by),
        "note": cloth.note,
    }
    return {key: value for key, value in entries.items() if value not in ("", None, [], {})}


def _repeat_table(repeat: Repeat | None) -> dict[str, str]:
    if repeat is None:
        return {}
    offset = {"offset": mm_text(repeat.offset)} if repeat.offset else {}
    return {"every": mm_text(repeat.every), **offset}


def _shares_table(cloth: Cloth) -> dict[str, str]:
    shares = {"along": cloth.shrink_along, "across": cloth.shrink_across}
    return {way: share_text(found) for way, found in shares.items() if found}


def _flaw_table(flaw: Flaw) -> dict[str, str]:
    at = {"along": mm_text(flaw.at.real), "across": mm_text(flaw.at.imag), "radius": mm_text(flaw.radius)}
    return {**at, "note": flaw.note} if flaw.note else at


def _remnant_table(remnant: Remnant) -> dict[str, Any]:
    return {"name": remnant.name, "outline": [[mm_text(p.real), mm_text(p.imag)] for p in remnant.outline]}


def mm_text(mm: float) -> str:
    """A length in mm to a thousandth, as `units.length` reads it.

    >>> mm_text(114.3), mm_text(-0.0)
    ('114.3 mm', '0 mm')
    """
    number = f"{mm:.3f}".rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number} mm"


def share_text(share: float) -> str:
    """A share as per cent, as `units.share` reads it.

    >>> share_text(0.035)
    '3.5 %'
    """
    return f"{100 * share:.8f}".rstrip("0").rstrip(".") + " %"
