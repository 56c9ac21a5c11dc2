"""What the command line prints."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import click

from cutonce.errors import BadInput, Finding, closest, quoted

if TYPE_CHECKING:
    from cutonce.studio.make import Made
    from cutonce.studio.prove import Proven

_MARKS = {"stop": "STOP", "warning": "warning", "note": "note"}


def show_findings(findings: tuple[Finding, ...], as_json: bool, notes: bool = True) -> None:
    """Every finding on a line, the worst first; or as one JSON document. `notes`: the notes too."""
    if as_json:
        from cutonce.studio.findings_file import findings_file

        click.echo(json.dumps(findings_file(findings), indent=1, ensure_ascii=False))
        return
    for severity in ("stop", "warning", "note") if notes else ("stop", "warning"):
        for f in findings:
            if f.severity == severity:
                step = f" [{f.step}]" if f.step else ""
                hint = f" ({f.hint})" if f.hint else ""
                click.echo(f"{_MARKS[severity]}: {f.where}: {f.message}{hint}{step}")


def counts(proven: Proven) -> str:
    """How many of everything, on one line, and whether it may be cut."""
    draft = proven.replayed.draft
    notes = len(proven.findings) - len(proven.stops) - len(proven.warnings)
    sizes = f"{many(len(draft.pieces), 'piece')}, {many(len(draft.seams), 'seam')} walked"
    found = ", ".join(
        many(n, word)
        for n, word in ((len(proven.stops), "stop"), (len(proven.warnings), "warning"), (notes, "note"))
    )
    advice = "Look at the warnings, then cut." if proven.warnings else "Fit to cut."
    return f"{sizes}: {found}. {'Do not cut.' if proven.stops else advice}"


def many(count: int, word: str) -> str:
    """A number of things in words: "1 step", "2 steps"."""
    return f"{count} {word}{'' if count == 1 else 's'}"


def summary(proven: Proven, made: Made) -> None:
    """Counts, and where the results lie."""
    click.echo(counts(proven))
    click.echo(f"Results in {made.folder} (notes are in checks.json):")
    for file in made.files:
        click.echo(f"  {file.name}")


def show_steps(name: str, as_json: bool) -> None:
    """The reference: every step on a line, or one in full."""
    from cutonce.steps import BY_NAME, STEPS

    if not name:
        if as_json:
            schemas = {s.name: s.params.model_json_schema(by_alias=True) for s in STEPS}
            click.echo(json.dumps(schemas, indent=1))
            return
        for step in STEPS:
            click.echo(f"{step.name:16} {step.title}")
        click.echo("\n'cutonce steps NAME' says how one is written.")
        return
    if name not in BY_NAME:
        message = f"no step {quoted(name)}{closest(name, BY_NAME)}"
        raise BadInput("unknown-step", "steps", message, f"there are: {', '.join(BY_NAME)}")
    step = BY_NAME[name]
    if as_json:
        click.echo(json.dumps(step.params.model_json_schema(by_alias=True), indent=1))
    else:
        from cutonce.studio.reference import step_page

        click.echo(step_page(step))


def show_sizes(table: str, size: str) -> None:
    """The size tables with their sizes, or one size as a body file."""
    from cutonce.body import TABLE_KEYS, body_from_size, size_table, write_body

    if not table:
        for key in TABLE_KEYS:
            found = size_table(key)
            click.echo(f"{key:24} {found.title}: {', '.join(found.sizes)}")
        click.echo("\n'cutonce sizes TABLE SIZE' prints that size as a body file.")
        return
    found = size_table(table, "sizes")
    if not size:
        click.echo(f"{found.title}: {', '.join(found.sizes)}\n{found.note}")
        return
    click.echo(write_body(body_from_size(table, size, "sizes")).rstrip("\n"))
