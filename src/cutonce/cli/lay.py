"""The command `lay` and its options."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date as calendar_date
from pathlib import Path
from typing import Any, TypeVar

import click

from cutonce.cli.lay_jobs import Job, fullest_job, lay_job, table_job
from cutonce.cli.on_cloth import OnCloth, ready
from cutonce.cli.show import many

_FILE = click.Path(path_type=Path)

Command = TypeVar("Command", bound=Callable[..., Any])


def cloth_options(command: Command) -> Command:
    """The options that every command has that lays."""
    options = (
        click.option("--name", default="", help="Which cloth, where the file holds a stash."),
        click.option("--time", default="", help="How long to search: 30s, 2 min (default: 10s)."),
        click.option(
            "--way", default="", help="How the cloth lies: open (default), lengthwise, crosswise, part."
        ),
    )
    for option in reversed(options):
        command = option(command)
    return command


def _wishes(command: Command) -> Command:
    """What may be asked of a lay beyond that."""
    options = (
        click.option("--spacing", default="", help="Room between pieces (default: 2 mm)."),
        click.option("--margin", default="", help="Cloth kept free at both cut ends (default: none)."),
        click.option("--grain-tolerance", "tolerance", default="", help="How far off its grain: 2 deg."),
        click.option("--cross", multiple=True, help="A piece that may be turned a quarter; again for each."),
        click.option(
            "--match",
            multiple=True,
            help="Where stripes run on: 'side at hip', 'front on centre front', none; again for each.",
        ),
    )
    for option in reversed(options):
        command = option(command)
    return command


@click.command(short_help="Lay the pieces on her cloth: does it fit, what is left, what to buy.")
@click.argument("design", type=_FILE)
@click.option("--body", required=True, type=_FILE, help="The body's measures (body.toml).")
@click.option("--cloth", required=True, type=_FILE, help="The cloth, or a stash of them (cloth.toml).")
@cloth_options
@_wishes
@click.option("--keep", type=_FILE, help="A lay.json with pieces held: they stay, the rest settles around.")
@click.option("--fullest", is_flag=True, help="Settle free amounts at the most that fits (default: 80s).")
@click.option("--remedies", is_flag=True, help="Say what saves cloth, though the pieces fit.")
@click.option("--table", is_flag=True, help="Only say what to buy, for 3 fullness levels and 3 widths.")
@click.option("--width", "widths", multiple=True, help="A width for --table; again for each.")
@click.option("--out", type=_FILE, help="Folder for lay.json, lay.pdf, lay.svg and the buying list.")
@click.option("--estimate", is_flag=True, help="Estimate measures that are missing, and say which.")
@click.option("--date", default="", help="Date printed on the sheets (default: today).")
@click.option("--json", "as_json", is_flag=True, help="The lay (lay.json) on standard output.")
def lay(
    design: Path,
    body: Path,
    cloth: Path,
    out: Path | None,
    estimate: bool,
    date: str,
    as_json: bool,
    fullest: bool,
    remedies: bool,
    table: bool,
    widths: tuple[str, ...],
    **how: Any,
) -> None:
    """Draft DESIGN for a body and lay its pieces on a cloth, as short as can be found.

    Says how much cloth it takes, what is spare or lacking, the yield, the cost, whether stripes meet, and,
    where the cloth does not suffice, what to change first. From a stash, the cloth that fits and wastes least
    is taken; --name asks for one. Ctrl-C ends the search and keeps the best so far. Exit status 1 when the
    pieces do not fit, or a finding says stop.
    """
    from cutonce.studio.inputs import read_design, read_one_body
    from cutonce.studio.make import folder_can_be

    if out is not None:
        folder_can_be(out)
    usual = 80.0 if fullest else 60.0 if table else 10.0
    on = ready(OnCloth(cloth, how.pop("name"), how.pop("time"), usual, how.pop("keep"), how))
    recipe, person = read_design(design), read_one_body(body, estimate)
    when = date or calendar_date.today().isoformat()
    if not as_json:
        click.echo(f"Drafting '{recipe.name}' for {person.name}: {many(len(recipe.steps), 'step')}")
    job = Job(recipe, person, on, when, out, as_json)
    if table:
        status = table_job(job, widths)
    else:
        status = fullest_job(job, design) if fullest else lay_job(job, remedies)
    raise SystemExit(status)
