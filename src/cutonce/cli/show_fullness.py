"""What the command line prints of fullness to fit, of remedies and of the buying table."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutonce.studio.fullness import Fullest, Settled
    from cutonce.studio.remedies import Remedies, Remedy

_EDGES_TOLD = 6
"""More edges than these are in fullness.json."""


def fullest_words(done: Fullest) -> Iterator[str]:
    """The amounts found, what bounds them, what they do, and the second choice."""
    for amount in done.amounts:
        yield f"{amount.step}: {amount.words} = {amount.text} (free from {amount.least} to {amount.most})"
    yield f"What stops it: {done.bound}."
    for edge in done.changed[:_EDGES_TOLD]:
        note = f" ({edge.note})" if edge.note else ""
        yield f"  {edge.what}: {edge.before / 10:.1f} cm at the least, now {edge.after / 10:.1f} cm{note}"
    if len(done.changed) > _EDGES_TOLD:
        yield f"  and {len(done.changed) - _EDGES_TOLD} more edges by less"
    if done.second is not None:
        yield f"Second choice: {_short(done.second.amounts)} leaves {_down(done.second.spare)} of cloth."


def remedies_words(done: Remedies) -> Iterator[str]:
    """The lay as it is, then what helps, then what was tried in vain."""
    if done.length is None:
        yield f"It cannot be laid as it is: {done.why}."
    else:
        yield f"As it is, {_up(done.length)} of cloth."
    if not done.helps:
        yield "Nothing that was tried saves cloth."
    for number, remedy in enumerate(done.helps, start=1):
        yield f"{number}. {remedy.what}: {_saving(remedy)}{' and then fits' if remedy.fits else ''}."
        yield f"   Work: {remedy.work}."
        if remedy.question:
            yield f"   {remedy.question}"
    if done.no_better:
        yield f"Saved nothing in the time tried: {'; '.join(r.what for r in done.no_better)}."


def _saving(remedy: Remedy) -> str:
    if remedy.saves is None:
        return f"makes a lay possible, {_up(remedy.length)}"
    return f"saves {_down(remedy.saves)}"


def _short(amounts: tuple[Settled, ...]) -> str:
    return ", ".join(f"{a.step} {a.words.rpartition(', ')[2]} {a.text}" for a in amounts)


def _down(mm: float) -> str:
    """Centimetres to the half, rounded down: what is saved or spare is not promised too large."""
    return f"{math.floor(mm / 5) / 2:g} cm"


def _up(mm: float) -> str:
    return f"{math.ceil(mm) / 10:g} cm"
