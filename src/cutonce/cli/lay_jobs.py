"""What `lay` does: lay a design, or settle its fullness on the cloth first, or say what cloth to buy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutonce.cli.interrupt import asked_to_stop
from cutonce.cli.show import many, show_findings
from cutonce.cli.show_fullness import fullest_words, remedies_words
from cutonce.cli.show_lay import BestSoFar, show_laid
from cutonce.errors import BadInput

if TYPE_CHECKING:
    from cutonce.body import Body
    from cutonce.cli.on_cloth import Ready
    from cutonce.cloth.cloth import Cloth
    from cutonce.recipe.recipe import Recipe
    from cutonce.studio.lay import Chosen, Outcome
    from cutonce.studio.make import Writer
    from cutonce.studio.prove import Proven
    from cutonce.studio.remedies import Remedies

Said = Callable[[str], None]

FOR_REMEDIES = 60.0
"""Seconds for all remedies: a dozen lays of two to five seconds tell what saves a few centimetres."""


@dataclass(frozen=True, slots=True)
class Job:
    """What `lay` was given, its files read; `out` is None where nothing is written."""

    recipe: Recipe
    person: Body
    on: Ready
    date: str
    out: Path | None
    as_json: bool

    def said(self, line: str) -> None:
        """Said to a person, not to a program."""
        if not self.as_json:
            click.echo(line)


def lay_job(job: Job, ask_remedies: bool) -> int:
    """Lay the design. Where it does not fit, or she asks, say what saves cloth. The exit status."""
    from cutonce.studio.fullness_results import as_json, remedies_document
    from cutonce.studio.lay_results import text_writer
    from cutonce.studio.prove import prove

    proven = prove(job.recipe, job.person, job.date)
    chosen = laid(proven, job.on, job.said)
    more: list[Writer] = []
    _answer(job, proven, chosen)
    short = not (chosen.outcome.fits or job.as_json)
    if short and chosen.stopped:
        job.said("More time may find a lay that fits; --remedies says what saves cloth.")
    elif ask_remedies or short:
        found = _remedies(job, proven, chosen.outcome)
        more.append(text_writer("remedies.json", as_json(remedies_document(found))))
    return _written(job, proven, chosen.outcome, more)


def laid(proven: Proven, on: Ready, said: Said) -> Chosen:
    """The lay that the options ask for. Ctrl-C once ends the search with the best so far."""
    from cutonce.studio.lay import Watch, by_search, lay_design

    asked = on.asked(proven)
    said(f"Laying {many(len(proven.finished.pieces), 'piece')} on {_which(on.cloths)}, for {on.seconds:g} s")
    best = BestSoFar()
    with asked_to_stop() as stop:
        try:
            chosen = lay_design(proven, on.cloths, asked, on.seconds, by_search, Watch(best, stop))
        finally:
            best.done()
        if stop():
            said("Stopped: this is the best lay so far.")
    return chosen


def _which(cloths: Sequence[Cloth]) -> str:
    """What they are laid on; of several, those still to be bought are left out."""
    at_hand = [cloth for cloth in cloths if cloth.length is not None] if len(cloths) > 1 else list(cloths)
    if len(at_hand) == 1:
        others = ", ".join(f"'{cloth.name}'" for cloth in cloths if cloth not in at_hand)
        return f"'{at_hand[0].name}'{f' ({others} still to be bought)' if others else ''}"
    return f"each of {len(at_hand)} cloths at hand"


def fullest_job(job: Job, design: Path) -> int:
    """Settle the free amounts at the most that the cloth holds, and give that lay. The exit status."""
    from cutonce.studio.fullness import fullest
    from cutonce.studio.fullness_results import fullest_writer
    from cutonce.studio.inputs import text_of
    from cutonce.studio.lay import Chosen, outcome_of
    from cutonce.studio.laying import ClothLaying, at_hand
    from cutonce.studio.prove import prove

    cloth = at_hand(_one(job.on, "--fullest"))
    asked = job.on.asked(prove(job.recipe, job.person))
    job.said(f"Looking for the most that '{cloth.name}' holds, for {job.on.seconds:g} s")
    with asked_to_stop() as stop:
        laying = ClothLaying(cloth, asked, stopped=stop)
        found = fullest(job.recipe, job.person, laying, job.on.seconds, job.said, stop)
        if stop():
            job.said("Stopped: this is the most so far.")
    for line in fullest_words(found):
        job.said(line)
    proven = prove(found.recipe, job.person, job.date)
    chosen = Chosen(outcome_of(proven, found.lay, asked))
    _answer(job, proven, chosen)
    return _written(job, proven, chosen.outcome, [fullest_writer(found, design, text_of(design))])


def table_job(job: Job, widths: tuple[str, ...]) -> int:
    """Say what to buy for each fullness and width. The exit status."""
    from cutonce.studio.cloth_needed import WIDTHS, cloth_needed, table_text
    from cutonce.studio.fullness_results import as_json, needed_document
    from cutonce.studio.lay_results import text_writer
    from cutonce.studio.laying import ClothLaying
    from cutonce.studio.make import write_together
    from cutonce.studio.prove import prove
    from cutonce.units import length

    across = tuple(length(text, "--width") for text in widths) or WIDTHS
    like = _one(job.on, "--table")
    asked = job.on.asked(prove(job.recipe, job.person))
    with asked_to_stop() as stop:
        table = cloth_needed(
            job.recipe,
            job.person,
            like,
            asked,
            lambda cloth, wishes: ClothLaying(cloth, wishes, stopped=stop),
            across,
            job.on.seconds,
            job.said,
        )
    document = as_json(needed_document(table))
    click.echo(document if job.as_json else table_text(table))
    if job.out is not None:
        write_together(job.out, (text_writer("cloth-to-buy.json", document),))
        job.said(f"Results in {job.out}: cloth-to-buy.json")
    return 0


def _remedies(job: Job, proven: Proven, outcome: Outcome) -> Remedies:
    from cutonce.studio.laying import ClothLaying
    from cutonce.studio.remedies import remedies

    job.said(f"What helps? Each remedy is laid, for {FOR_REMEDIES:g} s in all")
    with asked_to_stop() as stop:
        found = remedies(
            proven,
            job.person,
            outcome.cloth,
            outcome.asked,
            lambda cloth, asked: ClothLaying(cloth, asked, stopped=stop),
            FOR_REMEDIES,
            stopped=stop,
            start=outcome.lay,
        )
    for line in remedies_words(found):
        job.said(line)
    return found


def _answer(job: Job, proven: Proven, chosen: Chosen) -> None:
    from cutonce.studio.lay_results import lay_document

    if job.as_json:
        click.echo(lay_document(proven, chosen.outcome).rstrip("\n"))
        return
    show_findings(proven.stops, False)
    show_laid(chosen)


def _written(job: Job, proven: Proven, outcome: Outcome, more: Sequence[Writer]) -> int:
    """The files, where they are asked for; 1 where the pieces do not fit or must not be cut."""
    from cutonce.studio.lay_results import lay_writer
    from cutonce.studio.make import write_together

    if job.out is not None:
        made = write_together(job.out, (lay_writer(proven, outcome), *more))
        job.said(f"Results in {made.folder}:")
        for file in made.files:
            job.said(f"  {file.name}")
    return 0 if outcome.fits and not proven.stops else 1


def _one(on: Ready, option: str) -> Cloth:
    if len(on.cloths) != 1:
        names = ", ".join(cloth.name for cloth in on.cloths)
        raise BadInput("which-cloth", option, "this is asked of one cloth", f"--name says which: {names}")
    return on.cloths[0]
