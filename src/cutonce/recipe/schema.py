"""The JSON Schema of design.toml, from the blocks and the steps."""

from __future__ import annotations

from typing import Any

from cutonce.blocks import BLOCKS
from cutonce.recipe.file import MIGRATIONS
from cutonce.steps import STEPS, Step

_LENGTHS = {
    "type": "object",
    "additionalProperties": {
        "type": "string",
        "description": "a length with its unit, or an expression in measures",
    },
}

_AMOUNTS = ("length", "angle", "share", "ratio")
"""The formats of parameters that may be free within limits."""

_LIMIT = {"type": ["string", "number"]}
_FREE = {
    "type": "object",
    "title": "FreeAmount",
    "description": "an amount that is free within limits; those of one group move together",
    "required": ["least", "most"],
    "additionalProperties": False,
    "properties": {
        "least": {**_LIMIT, "description": "the least it may be, written as the amount itself would be"},
        "most": {**_LIMIT, "description": "the most it may be"},
        "with": {"type": "string", "description": "the name of its group; left out: with all that have none"},
    },
    "examples": [{"least": "4 cm", "most": "25 cm"}],
}


def design_schema() -> dict[str, Any]:
    """As of JSON Schema 2020-12; each kind of step is one of the alternatives of `steps`' items."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "design.toml",
        "type": "object",
        "required": ["schema", "name", "block"],
        "additionalProperties": False,
        "properties": {
            "schema": {"const": len(MIGRATIONS) + 1},
            "name": {"type": "string"},
            "notes": {"type": "string"},
            "block": {
                "type": "object",
                "required": ["draft"],
                "additionalProperties": False,
                "properties": {
                    "draft": {"enum": [*(b.kind for b in BLOCKS), "typed"]},
                    "system": {"enum": sorted({s for b in BLOCKS for s in b.systems})},
                    "outline": {
                        "type": "string",
                        "description": "file with a typed block, beside the design",
                    },
                    "ease": _LENGTHS,
                    "lengths": _LENGTHS,
                },
            },
            "steps": {"type": "array", "items": {"anyOf": [_may_be_free(_step(s)) for s in STEPS]}},
        },
        "$defs": {
            "FreeAmount": _FREE,
            **{n: _may_be_free(d) for s in STEPS for n, d in _schema(s).get("$defs", {}).items()},
        },
    }


def _may_be_free(shape: Any) -> Any:
    """A shape in which every amount may also be a table of limits."""
    if isinstance(shape, list):
        return [_may_be_free(inner) for inner in shape]
    if not isinstance(shape, dict):
        return shape
    if shape.get("format") not in _AMOUNTS:
        return {key: _may_be_free(inner) for key, inner in shape.items()}
    plain = shape.get("anyOf", [{"type": shape.get("type")}])
    rest = {key: value for key, value in shape.items() if key not in ("type", "anyOf")}
    return {**rest, "anyOf": [*plain, {"$ref": "#/$defs/FreeAmount"}]}


def _schema(step: Step) -> dict[str, Any]:
    return step.params.model_json_schema(by_alias=True)


def _step(step: Step) -> dict[str, Any]:
    shape = _schema(step)
    own = {
        "id": {"type": "string", "pattern": "^[a-z0-9][a-z0-9-]*$"},
        "do": {"const": step.name},
        "off": {"type": "boolean"},
        "note": {"type": "string"},
    }
    return {
        "title": step.title,
        "type": "object",
        "required": ["id", "do", *shape.get("required", [])],
        "additionalProperties": False,
        "properties": {**own, **shape["properties"]},
    }
