"""The reference of steps, from the steps themselves: printed by `cutonce steps`, kept as docs/steps.md."""

from __future__ import annotations

from typing import Any

from cutonce.recipe.file import step_text
from cutonce.steps import STEPS, Step


def step_page(step: Step) -> str:
    """One step as Markdown: what it does, what holds afterwards, its parameters, its worked examples."""
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
    lines += ["| parameter | what | left out |", "|---|---|---|"]
    required = schema.get("required", [])
    for name, shown in schema["properties"].items():
        lines.append(f"| `{name}` | {_described(shown)} | {_default(name, shown, required)} |")
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
    ]
    return "\n\n".join(["\n".join(head), *(step_page(s) for s in STEPS)]) + "\n"


def _described(shown: dict[str, Any]) -> str:
    text = str(shown.get("description", "")).replace("|", "\\|")
    choices = _choices(shown)
    return f"{text} ({', '.join(choices)})" if choices else text


def _choices(shown: dict[str, Any]) -> list[str]:
    for one in (shown, *shown.get("anyOf", ())):
        if "enum" in one:
            return [f"`{c}`" for c in one["enum"]]
    return []


def _default(name: str, shown: dict[str, Any], required: list[str]) -> str:
    if name in required:
        return "needed"
    value = shown.get("default")
    if value is None or value == "":
        return ""
    if isinstance(value, float) and "a length" in str(shown):
        return f"{value:g} mm"
    return f"`{value}`"
