"""From plain values to a frozen model: what pydantic finds wrong, said in one line of plain words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from cutonce.errors import BadInput, closest, quoted

Model = TypeVar("Model", bound=BaseModel)


def validated(model: type[Model], values: object, measures: Mapping[str, float], where: str) -> Model:
    """The model with its expressions worked out in mm by `measures`.

    Raises BadInput (missing-key, unknown-key, not-a-choice, bad-value, and what the lengths raise) that says
    where in the file: "piece 2, edge 1, role".
    """
    try:
        return model.model_validate(values, context={"measures": measures, "where": where})
    except ValidationError as problem:
        raise _one_line(model, problem, where) from None
    except BadInput as problem:  # what a shape says of itself does not know in which step it stands
        if problem.where.startswith(where):
            raise
        at = f"{where}, {problem.where}" if problem.where else where
        raise BadInput(problem.code, at, problem.message, problem.hint) from None


def _one_line(model: type[BaseModel], problem: ValidationError, where: str) -> BadInput:
    """The first thing that was wrong."""
    error = problem.errors(include_url=False)[0]
    path = [part for part in error["loc"] if not str(part).startswith(("tuple[", "dict["))]
    inner, last = _model_at(model, path[:-1]), str(path[-1]) if path else ""
    place = ", ".join(part for part in (where, _words(path[:-1])) if part)
    given = quoted(error.get("input"))
    match error["type"]:
        case "missing":
            return BadInput("missing-key", place, f"no '{last}'", _described(inner, last))
        case "extra_forbidden":
            choices = tuple(f.alias or name for name, f in inner.model_fields.items()) if inner else ()
            hint = f"it may have: {', '.join(choices)}" if choices else ""
            return BadInput("unknown-key", place, f"unknown key '{last}'{closest(last, choices)}", hint)
        case "literal_error":
            allowed = str(error.get("ctx", {}).get("expected", "")).replace(" or ", ", ")
            return BadInput("not-a-choice", place, f"'{last}' is {given}", f"it may be: {allowed}")
        case _:
            message = str(error["msg"])
            said = f"'{last}' is {given}: {message[:1].lower()}{message[1:]}" if last else message
            return BadInput("bad-value", place, said)


def _words(path: list[int | str]) -> str:
    """("pieces", 1, "edges", 0) as "piece 2, edge 1"."""
    out: list[str] = []
    for part in path:
        if isinstance(part, int) and out:
            out[-1] = f"{out[-1].removesuffix('s')} {part + 1}"
        else:
            out.append(str(part))
    return ", ".join(out)


def _model_at(model: type[BaseModel], path: list[int | str]) -> type[BaseModel] | None:
    """The model that holds the last part of a path of names and indices; None where it is not a model."""
    found: Any = model
    for part in path:
        if isinstance(found, type) and issubclass(found, BaseModel) and isinstance(part, str):
            fields = {f.alias or name: f for name, f in found.model_fields.items()}
            found = fields[part].annotation if part in fields else None
        else:  # an index into a tuple or a key of a dict: what they hold comes last but for the dots
            found = next((a for a in reversed(get_args(found)) if a is not ...), None)
    inner = [a for a in (found, *get_args(found)) if isinstance(a, type) and issubclass(a, BaseModel)]
    return inner[0] if inner else None


def _described(model: type[BaseModel] | None, name: str) -> str:
    fields = {f.alias or key: f for key, f in model.model_fields.items()} if model else {}
    return fields[name].description or "" if name in fields else ""
