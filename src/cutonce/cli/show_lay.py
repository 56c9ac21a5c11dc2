"""What the command line prints of a lay: the search while it runs, then the answers."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from typing import TYPE_CHECKING, TextIO

import click

from cutonce.cli.show import show_findings

if TYPE_CHECKING:
    from cutonce.studio.lay import Chosen, Outcome, Tried

_EVERY = 0.1
"""Seconds between two writings of the line: as often as it can be read."""


class BestSoFar:
    """One line on a terminal with the shortest lay so far, written over itself; nothing elsewhere."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream or sys.stderr
        self._live = self._stream.isatty()
        self._began = self._written = time.monotonic()
        self._wide = 0

    def __call__(self, length: float) -> None:
        now = time.monotonic()
        if self._live and (not self._wide or now - self._written >= _EVERY):
            text = f"Best so far: {length / 10:.1f} cm after {now - self._began:.0f} s (Ctrl-C keeps it)"
            self._stream.write(f"\r{text.ljust(self._wide)}")
            self._stream.flush()
            self._written, self._wide = now, max(self._wide, len(text))

    def done(self) -> None:
        """Clears the line."""
        if self._wide:
            self._stream.write(f"\r{' ' * self._wide}\r")
            self._stream.flush()
            self._wide = 0


def show_laid(chosen: Chosen) -> None:
    """What is worth a look, every cloth that was tried, then the answers of the lay to cut by."""
    told = (f for f in chosen.outcome.findings if f.code != "short-by")
    show_findings(tuple(told), False, notes=False)
    for tried in chosen.tried if len(chosen.tried) > 1 else ():
        click.echo(f"  {tried_words(tried)}")
    for line in outcome_words(chosen.outcome):
        click.echo(line)


def tried_words(tried: Tried) -> str:
    """A cloth of the stash on one line: "lawn: fits, 23 cm to spare"."""
    outcome = tried.outcome
    if outcome is None:
        return f"{tried.cloth.name}: cannot be laid: {tried.why}"
    if outcome.fits:
        return f"{tried.cloth.name}: fits, {_cm(outcome.spare or 0.0)} to spare"
    if outcome.lacking is None:
        return f"{tried.cloth.name}: does not fit: {why_not(outcome)}"
    return f"{tried.cloth.name}: does not fit, {_cm(-(outcome.spare or 0.0), up=True)} short"


def why_not(outcome: Outcome) -> str:
    """What stops a lay that no length of cloth would mend."""
    return next((f.message for f in outcome.findings if f.severity == "stop"), "")


def outcome_words(outcome: Outcome) -> Iterator[str]:
    """The answers: does it fit, what is left or lacking, the yield, the strips, and where the pattern of the
    cloth runs on; where it does not is a finding."""
    yield length_words(outcome)
    yield f"Yield {100 * outcome.plan.share:.0f} %: that much of the cloth taken is pieces."
    for matched in outcome.plan.matched:
        if matched.matched:
            yield f"{matched.seam} at {matched.notch}: the pattern runs on."
    for width in outcome.strips.widths:
        what = f"{width.grain.capitalize()} strips {_cm(width.width, up=True)} wide"
        yield f"{what} from what is left: {width.chosen.words}."


def length_words(outcome: Outcome) -> str:
    """The first answer, on one line.

    Rounded so that it is safe: what is needed or lacking up, what is spare down.
    """
    from cutonce.cloth.shop import whole_steps

    name = f"'{outcome.cloth.name}'"
    cost = f", {outcome.buy.cost_words}" if outcome.buy.cost_words else ""
    if outcome.spare is None or outcome.cloth.length is None:
        return f"Buy {outcome.buy.words} of {name}{cost}: {_cm(outcome.needed, up=True)} are needed."
    taken = f"{_cm(outcome.needed, up=True)} of {_cm(outcome.cloth.length)}"
    if outcome.fits:
        steps = whole_steps(outcome.cloth, outcome.spare)
        more = f" ({steps} in the shop's steps)" if steps else ""
        return f"The pieces fit on {name}: {taken}, {_cm(outcome.spare)} to spare{more}."
    if outcome.lacking is None:
        return f"The pieces do not fit on {name}: {why_not(outcome)}."
    price = f", {outcome.lacking.cost_words}" if outcome.lacking.cost_words else ""
    short = f"{_cm(-outcome.spare, up=True)} short ({outcome.lacking.words} more from the shop{price})"
    return f"The pieces do not fit on {name}: {taken}, {short}."


def _cm(mm: float, up: bool = False) -> str:
    """Centimetres to a tenth, rounded up or down.

    >>> _cm(1523.4, up=True), _cm(1523.4)
    ('152.4 cm', '152.3 cm')
    """
    import math

    tenths = math.ceil(mm - 1e-6) if up else math.floor(mm + 1e-6)
    return f"{tenths / 10:g} cm"
