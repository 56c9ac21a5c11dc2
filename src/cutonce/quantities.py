"""The kinds of value a step's parameters are made of: `Length`, `Angle`, `Share`, `Ratio`.

A parameter is declared `amount: Length`; text becomes a float in mm (radians, share, ratio) when the model is
validated. Measures for expressions come in the validation context: `{"measures": {...}, "where": "step 3"}`.
A float is taken as it stands only under `{"trusted": True}`, where the program itself rebuilds a model.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from cutonce.errors import BadInput, quoted
from cutonce.expressions import evaluate, evaluate_number
from cutonce.units import angle, length, share


def read_length(value: object, info: ValidationInfo) -> float:
    """A length or an expression in mm, of either sign."""
    if isinstance(value, float) and _trusted(info):
        return value
    where = _where(info)
    if not isinstance(value, str):
        return length(value, where)  # refuses it, with the hint that belongs to it
    return evaluate(value, _measures(info), where)


def read_positive_length(value: object, info: ValidationInfo) -> float:
    """A length or an expression that must come out above nothing."""
    found = read_length(value, info)
    if found <= 0:
        raise BadInput("out-of-range", _where(info), f"{quoted(value)} must be more than 0")
    return found


def read_angle(value: object, info: ValidationInfo) -> float:
    """An angle in radians."""
    if isinstance(value, float) and _trusted(info):
        return value
    return angle(value, _where(info))


def read_share(value: object, info: ValidationInfo) -> float:
    """A part of a whole, 0 to 1."""
    return share(value, _where(info))


def read_ratio(value: object, info: ValidationInfo) -> float:
    """A plain number above 0, or an expression that gives one."""
    where = _where(info)
    if isinstance(value, str):
        found = evaluate_number(value, _measures(info), where)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        found = float(value)
    else:
        raise BadInput("not-a-ratio", where, f"{quoted(value)} is not a ratio", "write a number such as 1.5")
    if not (found > 0 and math.isfinite(found)):
        raise BadInput(
            "out-of-range", where, f"{quoted(value)} must be more than 0", "write a number such as 1.5"
        )
    return found


def _trusted(info: ValidationInfo) -> bool:
    return bool((info.context or {}).get("trusted"))


def _measures(info: ValidationInfo) -> Mapping[str, float]:
    measures: Mapping[str, float] = (info.context or {}).get("measures", {})
    return measures


def _where(info: ValidationInfo) -> str:
    context: Mapping[str, Any] = info.context or {}
    return ", ".join(part for part in (str(context.get("where", "")), info.field_name or "") if part)


Length = Annotated[
    float,
    BeforeValidator(read_length),
    WithJsonSchema(
        {
            "type": "string",
            "format": "length",
            "description": "a length with its unit (mm, cm, m, in, ft, yd), or an expression in measures",
            "examples": ["2 cm", "4 3/4 in", "hip_girth / 4 + 1 cm"],
        }
    ),
]
PositiveLength = Annotated[
    float,
    BeforeValidator(read_positive_length),
    WithJsonSchema(
        {
            "type": "string",
            "format": "length",
            "description": "a length above 0 with its unit (mm, cm, m, in, ft, yd), or such an expression",
            "examples": ["2 cm", "4 3/4 in", "hip_girth / 4"],
        }
    ),
]
Angle = Annotated[
    float,
    BeforeValidator(read_angle),
    WithJsonSchema(
        {
            "type": "string",
            "format": "angle",
            "description": "an angle with its unit (deg, rad)",
            "examples": ["15 deg", "0.2 rad"],
        }
    ),
]
Share = Annotated[
    float,
    BeforeValidator(read_share),
    WithJsonSchema(
        {
            "anyOf": [{"type": "number", "minimum": 0, "maximum": 1}, {"type": "string"}],
            "format": "share",
            "description": "a part of a whole: 0 to 1, a fraction, or per cent",
            "examples": [0.4, "1/3", "40 %"],
        }
    ),
]
Ratio = Annotated[
    float,
    BeforeValidator(read_ratio),
    WithJsonSchema(
        {
            "anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string"}],
            "format": "ratio",
            "description": "a plain number above 0, or an expression that gives one",
            "examples": [1.5, "hip_girth / waist_girth"],
        }
    ),
]
