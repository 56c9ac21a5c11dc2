"""From what a design file says of a step to the step's parameters, for one body."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from cutonce.errors import BadInput, closest, quoted
from cutonce.steps.parameters import Params


def validated(
    model: type[Params], values: Mapping[str, Any], measures: Mapping[str, float], where: str
) -> Params:
    """The parameters with expressions worked out in mm. Raises BadInput: what, where, choices."""
    try:
        return model.model_validate(dict(values), context={"measures": measures, "where": where})
    except ValidationError as problem:
        raise _one_line(model, problem, where) from None


def _one_line(model: type[Params], problem: ValidationError, where: str) -> BadInput:
    """The first thing that pydantic found wrong, in plain words."""
    error = problem.errors(include_url=False)[0]
    path = ".".join(str(part) for part in error["loc"])
    given = quoted(error.get("input"))
    match error["type"]:
        case "missing":
            return BadInput("missing-key", where, f"no '{path}'", _described(model, str(error["loc"][-1])))
        case "extra_forbidden":
            choices = tuple(f.alias or name for name, f in model.model_fields.items())
            near = closest(str(error["loc"][-1]), choices)
            hint = f"it may have: {', '.join(choices)}" if len(error["loc"]) == 1 else ""
            return BadInput("unknown-key", where, f"unknown key '{path}'{near}", hint)
        case "literal_error":
            allowed = str(error.get("ctx", {}).get("expected", "")).replace(" or ", ", ")
            return BadInput("not-a-choice", where, f"'{path}' is {given}", f"it may be: {allowed}")
        case _:
            message = str(error["msg"])
            return BadInput("bad-value", where, f"'{path}' is {given}: {message[:1].lower()}{message[1:]}")


def _described(model: type[Params], name: str) -> str:
    field = model.model_fields.get(name)
    return field.description or "" if field else ""
