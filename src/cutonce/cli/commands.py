"""The commands. Heavy parts of the program are imported only by the command that needs them."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date as calendar_date
from pathlib import Path

import click

from cutonce.cli.lay import cloth_options, lay
from cutonce.cli.lay_jobs import laid
from cutonce.cli.on_cloth import OnCloth, ready
from cutonce.cli.show import counts, many, show_findings, show_sizes, show_steps, summary
from cutonce.cli.show_lay import show_laid

_FILE = click.Path(path_type=Path)

_PAPERS = ("a4", "letter", "a0")


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    invoke_without_command=True,
)
@click.version_option(package_name="cutonce")
@click.pass_context
def cli(context: click.Context) -> None:
    """From a wanted design and one body's measures to a proven sewing pattern on full-size paper.

    A design (design.toml) is a block and a list of steps; a body (body.toml) is a list of measures. The same
    design can be drafted for any body. Try it on the shipped example:

    \b
      cutonce demo --out results        draft, check and print the example
      cutonce steps                     what steps there are
      cutonce steps move_dart           how one is written, with an example
      cutonce make design.toml --body body.toml --out results
      cutonce lay design.toml --body body.toml --cloth cloth.toml
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


@cli.command(short_help="Draft DESIGN for a body, check it, write full-size paper.")
@click.argument("design", type=_FILE)
@click.option("--body", required=True, type=_FILE, help="The body's measures (body.toml).")
@click.option("--out", required=True, type=_FILE, help="Folder for the results; made where it is not there.")
@click.option("--estimate", is_flag=True, help="Estimate measures that are missing, and say which.")
@click.option("--date", default="", help="Date printed on the pieces (default: today).")
@click.option(
    "--paper",
    "papers",
    multiple=True,
    help="Paper for a PDF, again for each: a4, letter, a3 in pages to join; a4-half, letter-half, a3-half "
    "for a trial at half scale; a0, roll for a plotter (default: a4, letter, a0).",
)
@click.option("--cloth", type=_FILE, help="The cloth (cloth.toml): the pieces are laid on it too.")
@cloth_options
@click.option("--json", "as_json", is_flag=True, help="Findings as JSON on standard output.")
def make(
    design: Path,
    body: Path,
    out: Path,
    estimate: bool,
    date: str,
    papers: tuple[str, ...],
    cloth: Path | None,
    as_json: bool,
    **how: str,
) -> None:
    """Draft DESIGN for a body, check it, and write full-size paper.

    Writes draft.json, checks.json, cutlist.csv, pattern.svg and a PDF for each paper, and with --cloth the
    files of the lay ('cutonce lay --help'): all of them or none. Prints what is wrong (stops, warnings);
    notes are in checks.json, and 'cutonce check' prints them. Exit status 1 when a finding says stop, do not
    cut before it is mended, or when the pieces do not fit the cloth at hand.
    """
    when = date or calendar_date.today().isoformat()
    on_cloth = None if cloth is None else OnCloth(cloth, how["name"], how["time"], wishes={"way": how["way"]})
    _make(design, body, out, Making(estimate, when, as_json, papers or _PAPERS, on_cloth))


@dataclass(frozen=True, slots=True)
class Making:
    """What `make` was asked for beside its files."""

    estimate: bool
    date: str
    as_json: bool = False
    papers: tuple[str, ...] = _PAPERS
    on_cloth: OnCloth | None = None


def _make(design: Path, body: Path, out: Path, how: Making) -> None:
    from cutonce.sheets.sheet import refuse_unknown_papers
    from cutonce.studio.inputs import read_design, read_one_body
    from cutonce.studio.lay_results import lay_writer
    from cutonce.studio.make import folder_can_be, write_results
    from cutonce.studio.prove import prove

    refuse_unknown_papers(how.papers)
    folder_can_be(out)
    on = None if how.on_cloth is None else ready(how.on_cloth)
    said = (lambda _: None) if how.as_json else click.echo
    said(f"Reading {design} and {body}")
    recipe, person = read_design(design), read_one_body(body, how.estimate)
    said(f"Drafting '{recipe.name}' for {person.name}: {many(len(recipe.steps), 'step')}")
    proven = prove(recipe, person, how.date)
    chosen = None if on is None else laid(proven, on, said)
    more = () if chosen is None else (lay_writer(proven, chosen.outcome),)
    cloth = None if chosen is None else chosen.outcome.cloth
    made = write_results(proven, out, said, how.papers, more, cloth)
    show_findings(proven.findings, how.as_json, notes=False)
    if not how.as_json:
        if chosen is not None:
            show_laid(chosen)
        summary(proven, made)
    raise SystemExit(1 if proven.stops or (chosen is not None and not chosen.outcome.fits) else 0)


@cli.command(short_help="Say all that the checks find; writes nothing.")
@click.argument("design", type=_FILE)
@click.option("--body", required=True, type=_FILE, help="The body's measures (body.toml).")
@click.option("--estimate", is_flag=True, help="Estimate measures that are missing, and say which.")
@click.option("--json", "as_json", is_flag=True, help="Findings as JSON on standard output.")
def check(design: Path, body: Path, estimate: bool, as_json: bool) -> None:
    """Draft DESIGN for a body and say all that the checks find, notes too. Writes nothing."""
    from cutonce.studio.inputs import read_design, read_one_body
    from cutonce.studio.prove import prove

    proven = prove(read_design(design), read_one_body(body, estimate))
    show_findings(proven.findings, as_json)
    if not as_json:
        click.echo(counts(proven))
    raise SystemExit(1 if proven.stops else 0)


@cli.command(short_help="What steps there are, and how each is written.")
@click.argument("name", default="")
@click.option("--json", "as_json", is_flag=True, help="The parameters' JSON Schema.")
def steps(name: str, as_json: bool) -> None:
    """What steps there are; with NAME, how that one is written in a design file."""
    show_steps(name, as_json)


@cli.command(short_help="Table sizes as bodies.")
@click.argument("table", default="")
@click.argument("size", default="")
def sizes(table: str, size: str) -> None:
    """What size tables there are; with TABLE and SIZE, that size as a body file.

    \b
      cutonce sizes trade-misses 12 > body.toml
    """
    show_sizes(table, size)


@cli.command(short_help="The main job on a shipped example.")
@click.option(
    "--out", default=Path("out/demo"), type=_FILE, show_default=True, help="Folder for the results."
)
@click.option("--example", default="cellist", show_default=True, help="Which shipped example.")
@click.option("--time", default="5s", show_default=True, help="How long to search for a lay.")
def demo(out: Path, example: str, time: str) -> None:
    """The main job on a shipped example, cloth and all: a concert dress for a cellist of uneven shoulders."""
    from cutonce.lay.search import missing_libraries
    from cutonce.studio.examples import example_cloth, example_files

    design, body = example_files(example)
    on_cloth = None if missing_libraries() else OnCloth(example_cloth(example), time=time)
    if on_cloth is None:
        click.echo("No lay without its libraries: pip install 'cutonce[lay]'")
    _make(design, body, out, Making(False, calendar_date.today().isoformat(), on_cloth=on_cloth))


@cli.command(short_help="Does DESIGN hold for many bodies? Writes results.csv, no paper.")
@click.argument("design", type=_FILE)
@click.argument("people", type=_FILE)
@click.option("--out", required=True, type=_FILE, help="Folder for results.csv.")
@click.option("--estimate", is_flag=True, help="Estimate measures that the table lacks.")
@click.option("--cores", type=click.IntRange(1), default=None, help="How many to use (default: all).")
def batch(design: Path, people: Path, out: Path, estimate: bool, cores: int | None) -> None:
    """Draft DESIGN for every row of PEOPLE (a CSV file) and write results.csv.

    Columns are `id` and measures with their unit, such as bust_girth_mm or waist_girth_in. A row that cannot
    be drafted says why in its message and never stops the others. No paper is written: 'cutonce make' does
    that for one body.
    """
    from cutonce.studio.batch import batch as run_batch
    from cutonce.studio.batch import rows_csv
    from cutonce.studio.inputs import read_design, read_many
    from cutonce.studio.make import folder_at, write_table

    recipe, table = read_design(design), read_many(people)
    folder = folder_at(out)
    show_findings(table.findings, False)
    work = run_batch(recipe, table.rows, estimate, cores or len(os.sched_getaffinity(0)))
    with click.progressbar(work, length=len(table.rows), label=f"Drafting '{recipe.name}'") as bar:
        rows = list(bar)
    results = write_table(folder / "results.csv", rows_csv(rows))
    fine = sum(r.ok for r in rows)
    click.echo(f"{fine} of {len(rows)} fit to cut; why the others are not: {results}")
    raise SystemExit(0 if fine == len(rows) else 1)


cli.add_command(lay)
