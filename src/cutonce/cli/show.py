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


def show_findings(findings: tuple[Finding, ...], as_json: bool) -> None:
    """Every finding on a line, the worst first; or as one JSON document."""
    if as_json:
        from cutonce.studio.findings_file import findings_file

        click.echo(json.dumps(findings_file(findings), indent=1, ensure_ascii=False))
        return
    for severity in ("stop", "warning", "note"):
        for f in findings:
            if f.severity == severity:
                step = f" [{f.step}]" if f.step else ""
                hint = f" ({f.hint})" if f.hint else ""
                click.echo(f"{_MARKS[severity]}: {f.where}: {f.message}{hint}{step}")


def summary(proven: Proven, made: Made) -> None:
    """Counts, and where the results lie."""
    draft = proven.replayed.draft
    counts = f"{len(proven.stops)} stops, {len(proven.warnings)} warnings"
    click.echo(f"{len(draft.pieces)} pieces, {len(draft.seams)} seams walked: {counts}")
    click.echo(f"Results in {made.folder}:")
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
