"""Prove a design on a body: replay, finish, check. No files."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.body import Body, plausible
from cutonce.checks import Context, all_checks
from cutonce.checks.wear import wear_findings
from cutonce.errors import Finding
from cutonce.finishing.finish import finished
from cutonce.finishing.finished import Finished
from cutonce.recipe.block import block_ease, drafted_block
from cutonce.recipe.recipe import Recipe
from cutonce.recipe.replay import Replayed, replay
from cutonce.studio.blame import attributed

WORN_BLOCKS = ("bodice", "dress")
"""Blocks whose neck, shoulders, armholes and bust point are judged against the body as drafted."""


@dataclass(frozen=True, slots=True)
class Proven:
    """A design on a body: how it was replayed, its finished pieces, and every finding."""

    replayed: Replayed
    finished: Finished
    findings: tuple[Finding, ...]

    @property
    def stops(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.severity == "stop")

    @property
    def warnings(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.severity == "warning")


def prove(recipe: Recipe, body: Body, date: str = "", old: Proven | None = None) -> Proven:
    """Draft the design for the body, finish its pieces and check them.

    Raises Problem where the block or a step cannot be done. `date` is printed on the pieces. With `old`,
    steps that an edit has not touched are not done again.
    """
    replayed = replay(recipe, body, drafted_block, old.replayed if old else None).raise_first()
    pieces = finished(replayed.draft, recipe.name, body.name, date)
    order = tuple(done.id for done in replayed.steps)
    ease = block_ease(recipe.block, body)
    worn = wear_findings(replayed.block, body, ease) if recipe.block.draft in WORN_BLOCKS else ()
    context = Context(body, pieces, ease, order)
    checked = all_checks(replayed.draft, context)
    said = (*plausible(body), *replayed.findings, *worn, *pieces.findings, *checked)
    return Proven(replayed, pieces, attributed(said, replayed.draft, context))
