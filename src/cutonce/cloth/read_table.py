"""One `[[cloth]]` of a cloth file: a plain table in, a `Cloth` out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, get_args

from cutonce.cloth.amounts import SOLD_BY, read_price, read_weight
from cutonce.cloth.cloth import Cloth, Flaw, Nap, Remnant, Repeat, RightSide
from cutonce.cloth.kinds import BY_KIND
from cutonce.cloth.read_remnants import read_remnants
from cutonce.documents import refuse_unknown, table, words
from cutonce.errors import BadInput, closest, quoted
from cutonce.units import length, share, show

SELVEDGE: Final = 10.0
"""mm at each selvedge that is not cut from, where a file does not say what is usable (common practice)."""

WIDEST: Final = 12_000.0
"""mm: gauze for the stage is woven so wide, nothing wider (from memory); more is a slip."""

MOST_SHRINKAGE: Final = 0.3
"""Wool that is fulled on purpose loses as much (from memory); more is a slip, 30 written for 3."""

KEYS: Final = (
    "name", "kind", "width", "usable", "length", "nap", "right_side", "repeat_across", "repeat_along",
    "shrinkage", "bias_drop", "flaws", "remnants", "weight", "price", "sold_by", "note",
)  # fmt: skip
"""What a cloth may have, in the order in which it is written."""


def read_one(value: object, number: int, where: str) -> Cloth:
    """The cloth in one table, the `number`th of its file. Raises BadInput that names the cloth."""
    entry = table(value, f"{where}, cloth {number}")
    name = _name(entry, f"{where}, cloth {number}")
    at = f"{where}, cloth {quoted(name)}"
    refuse_unknown(entry, KEYS, at)
    width, usable = _widths(entry, at)
    remnants = read_remnants(entry.get("remnants", []), width, f"{at}, remnants")
    long = _length(entry, remnants, at)
    shrink = _shrinkage(entry.get("shrinkage", {}), f"{at}, shrinkage")
    price = read_price(entry["price"], f"{at}, price") if "price" in entry else None
    return Cloth(
        name,
        width,
        usable,
        long,
        remnants,
        nap=_choice(entry, "nap", get_args(Nap), at),
        right_side=_choice(entry, "right_side", get_args(RightSide), at),
        stripe_across=_repeat(entry, "repeat_across", at),
        stripe_along=_repeat(entry, "repeat_along", at),
        shrink_along=shrink["along"],
        shrink_across=shrink["across"],
        bias_drop=_share(entry.get("bias_drop", 0.0), f"{at}, bias_drop"),
        flaws=_flaws(entry.get("flaws", []), width, long, f"{at}, flaws"),
        price=price,
        weight=read_weight(entry["weight"], f"{at}, weight") if "weight" in entry else None,
        kind=_kind(entry, at),
        sold_by=_above_nothing(entry["sold_by"], f"{at}, sold_by")
        if "sold_by" in entry
        else SOLD_BY[price.per if price else "m"],
        note=words(entry.get("note", ""), f"{at}, note"),
    )


def _name(entry: Mapping[str, Any], where: str) -> str:
    name = words(entry.get("name", ""), f"{where}, name").strip()
    if not name:
        raise BadInput("no-name", where, "no name", 'write name = "..." below [[cloth]]')
    return name


def _above_nothing(value: object, where: str) -> float:
    found = length(value, where)
    if found <= 0:
        raise BadInput("out-of-range", where, f"{quoted(value)} must be more than 0")
    return found


def _widths(entry: Mapping[str, Any], at: str) -> tuple[float, float]:
    """Width from selvedge to selvedge, and what of it is usable."""
    if "width" not in entry:
        raise BadInput("missing-key", at, "no 'width'", 'write for example width = "150 cm"')
    width = _above_nothing(entry["width"], f"{at}, width")
    if width > WIDEST:
        message = f"{quoted(entry['width'])} is wider than any cloth"
        raise BadInput("out-of-range", f"{at}, width", message, "check the unit")
    if "usable" not in entry:
        if width <= 4 * SELVEDGE:
            message = f"{quoted(entry['width'])} leaves little between two selvedges of {show(SELVEDGE)}"
            raise BadInput("too-narrow", f"{at}, width", message, "say what is usable: usable = ...")
        return width, width - 2 * SELVEDGE
    usable = _above_nothing(entry["usable"], f"{at}, usable")
    if usable > width:
        message = f"{quoted(entry['usable'])} is more than the width, {show(width)}"
        raise BadInput("out-of-range", f"{at}, usable", message)
    return width, usable


def _length(entry: Mapping[str, Any], remnants: tuple[Remnant, ...], at: str) -> float | None:
    """What is at hand; None where it is to be bought. Nothing but remnants may be left."""
    if "length" not in entry:
        return None
    found = length(entry["length"], f"{at}, length")
    if found < 0 or (found == 0 and not remnants):
        hint = "leave it out where the cloth is still to be bought"
        message = f"{quoted(entry['length'])} must be more than 0"
        raise BadInput("out-of-range", f"{at}, length", message, hint)
    return found


def _choice(entry: Mapping[str, Any], key: str, choices: tuple[Any, ...], at: str) -> Any:
    """One of the choices; the first where the key is left out."""
    found = entry.get(key, choices[0])
    if found not in choices:
        near = closest(found, choices) if isinstance(found, str) else ""
        hint = f"it may be: {', '.join(choices)}"
        raise BadInput("not-a-choice", f"{at}, {key}", f"'{key}' is {quoted(found)}{near}", hint)
    return found


def _kind(entry: Mapping[str, Any], at: str) -> str:
    kind = words(entry.get("kind", ""), f"{at}, kind")
    if kind and kind not in BY_KIND:
        message = f"no kind of cloth {quoted(kind)}{closest(kind, BY_KIND)}"
        raise BadInput("unknown-kind", f"{at}, kind", message, f"there are: {', '.join(BY_KIND)}")
    return kind


def _repeat(entry: Mapping[str, Any], key: str, at: str) -> Repeat | None:
    if key not in entry:
        return None
    spot = f"{at}, {key}"
    value = table(entry[key], spot)
    refuse_unknown(value, ("every", "offset"), spot)
    if "every" not in value:
        raise BadInput("missing-key", spot, "no 'every'", 'write { every = "4 cm", offset = "1 cm" }')
    return Repeat(
        _above_nothing(value["every"], f"{spot}, every"),
        length(value.get("offset", "0 mm"), f"{spot}, offset"),
    )


def _shrinkage(value: object, at: str) -> dict[str, float]:
    """Shares along and across: one value for both, or a table."""
    entry = value if isinstance(value, Mapping) else {"along": value, "across": value}
    refuse_unknown(entry, ("along", "across"), at)
    shares: dict[str, float] = {}
    for way in ("along", "across"):
        spot = f"{at}, {way}" if entry is value else at
        shares[way] = _share(entry.get(way, 0.0), spot)
        if shares[way] > MOST_SHRINKAGE:
            message = f"cloth that shrinks by {quoted(entry[way])} is no cloth to sew with"
            raise BadInput("out-of-range", spot, message, f"at most {MOST_SHRINKAGE:.0%}: 3 % is 0.03")
    return shares


def _share(value: object, where: str) -> float:
    """A share such that "0.7 %" is 0.007, not the number next to it."""
    return round(share(value, where), 12)


def _flaws(value: object, width: float, long: float | None, at: str) -> tuple[Flaw, ...]:
    if not isinstance(value, list):
        hint = 'write [{ along = "1.2 m", across = "30 cm", radius = "2 cm" }]'
        raise BadInput("not-flaws", at, f"{quoted(value)} is not a list of flaws", hint)
    return tuple(_flaw(entry, width, long, f"{at}, flaw {n}") for n, entry in enumerate(value, start=1))


def _flaw(value: object, width: float, long: float | None, at: str) -> Flaw:
    entry = table(value, at)
    refuse_unknown(entry, ("along", "across", "radius", "note"), at)
    for key in ("along", "across", "radius"):
        if key not in entry:
            hint = "along from the cut end, across from the selvedge nearest to you"
            raise BadInput("missing-key", at, f"no '{key}'", hint)
    along, across = (length(entry[key], f"{at}, {key}") for key in ("along", "across"))
    for key, found, most, whole in (("along", along, long, "long"), ("across", across, width, "wide")):
        if found < 0 or (most is not None and found > most):
            size = "" if most is None else f": the cloth is {show(most)} {whole}"
            raise BadInput(
                "beyond-the-cloth", f"{at}, {key}", f"{quoted(entry[key])} is beyond the cloth{size}"
            )
    radius = _above_nothing(entry["radius"], f"{at}, radius")
    return Flaw(complex(along, across), radius, words(entry.get("note", ""), f"{at}, note"))
