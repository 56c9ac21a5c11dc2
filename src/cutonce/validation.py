"""From plain values to a frozen model: what pydantic finds wrong, said in one line of plain words."""

from __future__ import annotations

from collections.abc import Mapping
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from cutonce.errors import BadInput, closest, quoted

Model = TypeVar("Model", bound=BaseModel)

_KINDS = ("tuple[", "dict[", "function-")
"""Parts of pydantic's paths that name a kind of value, not a place in the file."""

_NEEDED = {
    "string_type": "a text in quotes",
    "string_too_short": "a text",
    "model_type": "a table of names and values",
    "dict_type": "a table of names and values",
    "tuple_type": "a list in [ ]",
    "too_short": "a list of at least {min_length}",
    "too_long": "a list of at most {max_length}",
    "int_type": "a whole number",
    "int_parsing": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "greater_than_equal": "a number of at least {ge}",
    "less_than_equal": "a number of at most {le}",
}
"""What pydantic asks for, in plain words."""


def validated(model: type[Model], values: object, measures: Mapping[str, float], where: str) -> Model:
    """The model with its expressions worked out in mm by `measures`.

    Raises BadInput (missing-key, unknown-key, not-a-choice, bad-value, and what the lengths raise) that says
    where in the file: "piece 2, edge 1, role".
    """
    context = {"measures": measures, "where": where}
    try:
        return model.model_validate(values, context=context)
    except ValidationError as problem:
        raise _one_line(model, problem, where) from None
    except BadInput as problem:  # what a shape or a length says of itself does not know where it stands
        own = problem.where.removeprefix(where).removeprefix(", ")
        path = _path_to(problem, model, values, context)
        if path and own.split(", ")[0] == path[-1]:
            path = path[:-1]
        at = ", ".join(part for part in (where, _words(path), own) if part)
        raise BadInput(problem.code, at, problem.message, problem.hint) from None


def _path_to(
    problem: BadInput, model: type[BaseModel], values: object, context: dict[str, Any]
) -> list[int | str]:
    """The names and indices that lead to the innermost model in which just this goes wrong."""
    if not isinstance(values, Mapping):
        return []
    for name, field in model.model_fields.items():
        key = field.alias or name
        for path, value in _parts(values.get(key)):
            inner = _model_at(model, [key, *path])
            if inner is None or not isinstance(value, Mapping):
                continue
            try:
                inner.model_validate(value, context=context)
            except BadInput as again:
                if str(again) == str(problem):
                    return [key, *path, *_path_to(problem, inner, value, context)]
            except ValidationError:
                continue
    return []


def _parts(value: object) -> list[tuple[list[int | str], object]]:
    """A value itself, and what stands in it where it is a list or a table, each with the way to it."""
    inner: list[tuple[list[int | str], object]] = []
    if isinstance(value, list | tuple):
        inner = [([i], one) for i, one in enumerate(value)]
    elif isinstance(value, Mapping):
        inner = [([str(key)], one) for key, one in value.items()]
    return [([], value), *inner]


def _one_line(model: type[BaseModel], problem: ValidationError, where: str) -> BadInput:
    """The first thing that was wrong."""
    errors = problem.errors(include_url=False)
    tables = [e for e in errors if not (e["type"] == "string_type" and isinstance(e["input"], Mapping))]
    error = (tables or errors)[0]  # of a name or a table, where a table stands: what the table lacks
    path = [part for part in error["loc"] if not str(part).startswith(_KINDS) and part != "str"]
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
        case kind:
            needed = _NEEDED[kind].format(**error.get("ctx", {})) if kind in _NEEDED else str(error["msg"])
            said = f"'{last}' is {given}" if last else given
            return BadInput("bad-value", place, f"{said}, where {needed} is needed")


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
        found = _without_none(found)
        if isinstance(found, type) and issubclass(found, BaseModel) and isinstance(part, str):
            fields = {f.alias or name: f for name, f in found.model_fields.items()}
            found = fields[part].annotation if part in fields else None
        else:  # an index into a tuple or a key of a dict: what they hold comes last but for the dots
            found = next((a for a in reversed(get_args(found)) if a is not ...), None)
    found = _without_none(found)
    return found if isinstance(found, type) and issubclass(found, BaseModel) else None


def _without_none(found: Any) -> Any:
    """Of several kinds of value, the model; or the kind itself."""
    several = get_args(found) if get_origin(found) in (Union, UnionType) else ()
    models = (a for a in several if isinstance(a, type) and issubclass(a, BaseModel))
    return next(models, found)


def _described(model: type[BaseModel] | None, name: str) -> str:
    fields = {f.alias or key: f for key, f in model.model_fields.items()} if model else {}
    return fields[name].description or "" if name in fields else ""
