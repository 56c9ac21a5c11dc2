"""The command `lay`, and what `make` and `demo` do with a cloth."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date as calendar_date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from cutonce.cli.interrupt import asked_to_stop
from cutonce.cli.show import many, show_findings
from cutonce.cli.show_lay import BestSoFar, show_chosen

if TYPE_CHECKING:
    from cutonce.studio.lay import Chosen
    from cutonce.studio.prove import Proven

_FILE = click.Path(path_type=Path)

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class OnCloth:
    """The options that say what cloth to lay on, and how: as they were typed."""

    cloth: Path
    name: str = ""
    time: str = "10s"
    keep: Path | None = None
    wishes: dict[str, Any] | None = None


def cloth_options(command: Command) -> Command:
    """--name, --time and the wishes: the same on every command that lays."""
    for option in reversed(
        (
            click.option("--name", default="", help="Which cloth, where the file holds a stash."),
            click.option("--time", default="10s", show_default=True, help="How long to search: 10s, 2 min."),
            click.option(
                "--way", default="", help="How the cloth lies: open (default), lengthwise, crosswise, part."
            ),
        )
    ):
        command = option(command)
    return command


@click.command(short_help="Lay the pieces on her cloth: does it fit, what is left, what to buy.")
@click.argument("design", type=_FILE)
@click.option("--body", required=True, type=_FILE, help="The body's measures (body.toml).")
@click.option("--cloth", required=True, type=_FILE, help="The cloth, or a stash of them (cloth.toml).")
@cloth_options
@click.option("--out", type=_FILE, help="Folder for lay.json, the drawings and the buying list.")
@click.option("--estimate", is_flag=True, help="Estimate measures that are missing, and say which.")
@click.option("--date", default="", help="Date printed on the pieces (default: today).")
@click.option("--spacing", default="", help="Room between pieces (default: 2 mm).")
@click.option("--margin", default="", help="Cloth kept free at both cut ends (default: none).")
@click.option(
    "--grain-tolerance", "tolerance", default="", help="How far off its grain a piece may lie: 2 deg."
)
@click.option("--cross", multiple=True, help="A piece that may be turned a quarter; again for each.")
@click.option(
    "--match",
    multiple=True,
    help="Where stripes are to run on: 'side at hip', 'front on centre front', none; again for each.",
)
@click.option("--keep", type=_FILE, help="A lay.json with pieces held: they stay, the rest settles around.")
@click.option("--json", "as_json", is_flag=True, help="The lay (lay.json) on standard output.")
def lay(
    design: Path,
    body: Path,
    cloth: Path,
    out: Path | None,
    estimate: bool,
    date: str,
    as_json: bool,
    **how: Any,
) -> None:
    """Draft DESIGN for a body and lay its pieces on a cloth, as short as can be found.

    Says how much cloth it takes, what is spare or lacking, the yield, the cost, and whether stripes meet.
    From a stash, the cloth that fits and wastes least is taken; --name asks for one. Ctrl-C ends the search
    and keeps the best so far. Exit status 1 when the pieces do not fit, or a finding says stop.
    """
    from cutonce.studio.inputs import read_design, read_one_body
    from cutonce.studio.lay_results import lay_document, lay_writer
    from cutonce.studio.make import folder_can_be, write_together
    from cutonce.studio.prove import prove

    if out is not None:
        folder_can_be(out)
    name, time, keep = how.pop("name"), how.pop("time"), how.pop("keep")
    on_cloth = OnCloth(cloth, name, time, keep, how)
    said = (lambda _: None) if as_json else click.echo
    recipe, person = read_design(design), read_one_body(body, estimate)
    said(f"Drafting '{recipe.name}' for {person.name}: {many(len(recipe.steps), 'step')}")
    proven = prove(recipe, person, date or calendar_date.today().isoformat())
    chosen = laid(proven, on_cloth, said)
    if as_json:
        click.echo(lay_document(proven, chosen.outcome))
    else:
        show_findings(proven.stops, False)
        show_laid(chosen)
    if out is not None:
        made = write_together(out, (lay_writer(proven, chosen.outcome),))
        said(f"Results in {made.folder}:")
        for file in made.files:
            said(f"  {file.name}")
    raise SystemExit(0 if chosen.outcome.fits and not proven.stops else 1)


def laid(proven: Proven, on_cloth: OnCloth, said: Callable[[str], None]) -> Chosen:
    """The lay that the options ask for. Ctrl-C once ends the search with the best so far."""
    from cutonce.studio.inputs import read_cloth
    from cutonce.studio.keep import cloth_of, read_kept, with_held
    from cutonce.studio.lay import Watch, by_search, lay_design, named
    from cutonce.studio.wishes import Wishes, asked_for
    from cutonce.units import seconds

    time = seconds(on_cloth.time, "--time")
    cloths = read_cloth(on_cloth.cloth)
    asked = asked_for(Wishes(**(on_cloth.wishes or {})), [p.key for p in proven.finished.pieces])
    if on_cloth.keep is None:
        cloths = named(cloths, on_cloth.name, str(on_cloth.cloth))
    else:
        kept = read_kept(on_cloth.keep)
        cloths = cloth_of(kept, cloths, on_cloth.name, str(on_cloth.cloth))
        way = (on_cloth.wishes or {}).get("way", "")
        asked = with_held(asked, kept, way, proven.finished, cloths[0], str(on_cloth.keep))
    which = f"'{cloths[0].name}'" if len(cloths) == 1 else f"each of {len(cloths)} cloths"
    said(f"Laying {many(len(proven.finished.pieces), 'piece')} on {which}, for {time:g} s")
    best = BestSoFar()
    with asked_to_stop() as stop:
        try:
            chosen = lay_design(proven, cloths, asked, time, by_search, Watch(best, stop))
        finally:
            best.done()
        if stop():
            said("Stopped: this is the best lay so far.")
    return chosen


def show_laid(chosen: Chosen) -> None:
    """The answers, with what is worth a look."""
    show_findings(chosen.outcome.findings, False, notes=False)
    show_chosen(chosen)
