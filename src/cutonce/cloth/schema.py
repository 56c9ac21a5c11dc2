"""The JSON Schema of `cloth.toml` (as the same data in JSON)."""

from __future__ import annotations

from typing import Any, get_args

from cutonce.cloth.cloth import Nap, RightSide
from cutonce.cloth.file import SCHEMA
from cutonce.cloth.kinds import BY_KIND

_LENGTH: dict[str, Any] = {"type": "string", "examples": ["150 cm", "45 in", "1/8 yd"]}
_SHARE: dict[str, Any] = {
    "anyOf": [{"type": "number", "minimum": 0, "maximum": 1}, {"type": "string"}],
    "examples": ["3 %", 0.03],
}


def cloth_schema() -> dict[str, Any]:
    """What a cloth file may say, one entry for each key."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"cloth.toml, schema {SCHEMA}",
        **_table(
            {
                "schema": {"const": SCHEMA},
                "notes": {"type": "string"},
                "cloth": {"type": "array", "minItems": 1, "items": _table(_keys(), "name", "width")},
            },
            "schema",
            "cloth",
        ),
    }


def _keys() -> dict[str, Any]:
    text = {"type": "string"}
    return {
        "name": {**text, "minLength": 1, "description": "unique within the file"},
        "kind": {"enum": list(BY_KIND), "description": "class of cloth: what needle and shrinkage to expect"},
        "width": {**_LENGTH, "description": "from selvedge to selvedge"},
        "usable": {**_LENGTH, "description": "what of it may be cut: width less 1 cm at each selvedge"},
        "length": {**_LENGTH, "description": "at hand; left out where it is to be bought"},
        "nap": {"enum": list(get_args(Nap)), "description": "which way up pieces may lie"},
        "right_side": {
            "enum": list(get_args(RightSide)),
            "description": "'either' where both sides are alike: pieces may be turned over",
        },
        "repeat_across": {**_repeat(), "description": "repeats across the width: stripes along the warp"},
        "repeat_along": {**_repeat(), "description": "repeats along the length: stripes across"},
        "shrinkage": {"anyOf": [_SHARE, _table({"along": _SHARE, "across": _SHARE})]},
        "bias_drop": {**_SHARE, "description": "the share by which a bias hang grows in length"},
        "flaws": {"type": "array", "items": _flaw()},
        "remnants": {"type": "array", "items": _remnant()},
        "weight": {**text, "examples": ["180 g/m2", "16 momme", "5 oz/yd2"]},
        "price": {**text, "examples": ["18.50 EUR per m", "12 GBP per yd"]},
        "sold_by": {**_LENGTH, "description": "the shop's smallest step: 10 cm, or 1/8 yd"},
        "note": text,
    }


def _repeat() -> dict[str, Any]:
    offset = {**_LENGTH, "description": "where the middle of a stripe lies"}
    return _table({"every": _LENGTH, "offset": offset}, "every")


def _flaw() -> dict[str, Any]:
    along = {**_LENGTH, "description": "from the cut end"}
    across = {**_LENGTH, "description": "from the selvedge nearest to her"}
    keys = {"along": along, "across": across, "radius": _LENGTH, "note": {"type": "string"}}
    return _table(keys, "along", "across", "radius")


def _remnant() -> dict[str, Any]:
    corner = {"type": "array", "minItems": 2, "maxItems": 2, "items": _LENGTH}
    outline = {"type": "array", "minItems": 3, "items": corner, "description": "corners, [along, across]"}
    return _table({"name": {"type": "string"}, "outline": outline}, "outline")


def _table(properties: dict[str, Any], *required: str) -> dict[str, Any]:
    found = {"type": "object", "additionalProperties": False, "properties": properties}
    return {**found, "required": list(required)} if required else found
