"""The reference of steps, from the steps themselves: printed by `cutonce steps`, kept as docs/steps.md."""

from __future__ import annotations

import re
from typing import Any

from cutonce.recipe.file import step_text
from cutonce.steps import STEPS, Step
from cutonce.steps.parameters import PlaceParams

_PLACE = "PlaceParams"
_SAID_BY = {_PLACE: "a place", "EdgeParams": "an edge: `piece`, `edge`, `wearer`"}
"""Shapes that stand in many steps: what is said of them where one is asked for."""


def step_page(step: Step, places: bool = True) -> str:
    """One step as Markdown: what it does, what holds afterwards, its parameters and the tables in them, its
    worked examples. `places`: a step that asks for places says how one is written."""
    lines = [
        f"## {step.title}",
        "",
        f'`do = "{step.name}"`',
        "",
        step.purpose,
        "",
        f"Afterwards: {step.holds}",
        "",
    ]
    schema = step.params.model_json_schema(by_alias=True)
    shapes = schema.get("$defs", {})
    lines += _parameters(schema)
    for shape, names in _tables(schema, shapes).items():
        lines += ["", f"{' and '.join(names)}: a table with", "", *_parameters(shapes[shape])]
    if places and _PLACE in shapes:
        lines += ["", "A place is a table:", "", *_parameters(shapes[_PLACE])]
    for example in step.examples:
        lines += ["", f"Example: {example.title}.", "", "```toml"]
        lines += [step_text(step.name, example.params).strip(), "```"]
        if example.because:
            lines += ["", example.because]
    return "\n".join(lines)


def steps_page() -> str:
    """docs/steps.md."""
    head = [
        "# Steps",
        "",
        "In the order in which a dressmaker meets them. Made from the steps themselves by `make docs`.",
        "",
        *(f"- [{s.title}](#{s.title.lower().replace(' ', '-')}): `{s.name}`" for s in STEPS),
        "",
        "## Places",
        "",
        "Many steps ask for places. Each is a table, by name and tape, never by coordinates:",
        "",
        *_parameters(PlaceParams.model_json_schema(by_alias=True)),
        "",
        "An edge has two ends, each named after the edge next to it. `docs/first-design.md` lists the",
        "names that blocks have; a message about an unknown name lists those that are there.",
    ]
    return "\n\n".join(["\n".join(head), *(step_page(s, places=False) for s in STEPS)]) + "\n"


def _parameters(schema: dict[str, Any]) -> list[str]:
    """The parameters of a step, or of a table in it, as the rows of a table."""
    required = schema.get("required", [])
    rows = [
        f"| `{name}` | {_described(shown)} | {_default(name, shown, required)} |"
        for name, shown in schema["properties"].items()
    ]
    return ["| parameter | what | left out |", "|---|---|---|", *rows]


def _tables(schema: dict[str, Any], shapes: dict[str, Any], within: str = "") -> dict[str, list[str]]:
    """The shapes of parameters that are tables of their own, outermost first, with what these are called."""
    found: dict[str, list[str]] = {}
    for name, shown in schema["properties"].items():
        for shape in _shapes(shown):
            if shape not in _SAID_BY:
                found.setdefault(shape, []).append(f"`{name}`{within}")
    for shape, names in list(found.items()):
        inner = _tables(shapes[shape], shapes, f" in {names[0]}")
        for key, more in inner.items():
            found.setdefault(key, []).extend(more)
    return found


def _shapes(shown: Any) -> list[str]:
    """The shapes a parameter's schema refers to, without repeats."""
    found = re.findall(r"'\$ref': '#/\$defs/(\w+)'", str(shown))
    return list(dict.fromkeys(found))


def _described(shown: dict[str, Any]) -> str:
    text = str(shown.get("description", "")).replace("|", "\\|")
    known = [_SAID_BY[s] for s in _shapes(shown) if s in _SAID_BY]
    said = [*known, *_choices(shown)]
    return f"{text} ({', '.join(said)})" if said else text


def _choices(shown: dict[str, Any]) -> list[str]:
    for one in (shown, *shown.get("anyOf", ())):
        if "enum" in one:
            return [f"`{c}`" for c in one["enum"] if c]
    return []


def _default(name: str, shown: dict[str, Any], required: list[str]) -> str:
    if name in required:
        return "needed"
    value = shown.get("default")
    if value is None or value in ("", []):
        return ""
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, float) and "2 cm" in shown.get("examples", ()):
        return f"{value:g} mm"
    return f"`{value:g}`" if isinstance(value, float) else f"`{value}`"
