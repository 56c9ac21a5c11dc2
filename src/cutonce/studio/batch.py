"""One design for many bodies, on all cores. A bad row never stops the others."""

from __future__ import annotations

import csv
import io
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

from cutonce.body import Body, Person, estimate
from cutonce.checks.girths import MEASURES
from cutonce.checks.levels import level
from cutonce.errors import Problem
from cutonce.recipe.block import block_ease
from cutonce.recipe.recipe import Recipe
from cutonce.studio.prove import Proven, prove

_CHUNK = 8

COLUMNS = (
    "id",
    "ok",
    "stops",
    "warnings",
    "seconds",
    "largest_seam_difference_mm",
    "largest_girth_error_mm",
    "message",
)


@dataclass(frozen=True, slots=True)
class Row:
    """What came of one body. `message` is the problem, or the first stop, or nothing."""

    id: str
    ok: bool
    stops: int = 0
    warnings: int = 0
    seconds: float = 0.0
    largest_seam_difference_mm: float | None = None
    largest_girth_error_mm: float | None = None
    message: str = ""


def batch(recipe: Recipe, people: Sequence[Person], estimated: bool, cores: int) -> Iterator[Row]:
    """A row for each person, in order, as they are done."""
    work = partial(_one, recipe, estimated)
    if cores == 1 or len(people) <= 1:
        yield from map(work, people)
        return
    with ProcessPoolExecutor(cores) as pool:
        yield from pool.map(work, people, chunksize=min(_CHUNK, max(1, len(people) // (2 * cores))))


def _one(recipe: Recipe, estimated: bool, person: Person) -> Row:
    began = time.perf_counter()
    if person.body is None:
        return Row(person.id, False, message=str(person.problem))
    try:
        body = estimate(person.body, everything=True) if estimated else person.body
        proven = prove(recipe, body)
    except Problem as problem:
        return Row(person.id, False, seconds=time.perf_counter() - began, message=str(problem))
    return _row(person.id, proven, body, time.perf_counter() - began)


def _row(name: str, proven: Proven, body: Body, seconds: float) -> Row:
    draft = proven.replayed.draft
    seams = [abs(s.relation.left_over(draft.side_length(s.a), draft.side_length(s.b))) for s in draft.seams]
    girths = [abs(e) for e in _girth_errors(proven, body)]
    stops = proven.stops
    return Row(
        name,
        not stops,
        len(stops),
        len(proven.warnings),
        seconds,
        max(seams, default=0.0),
        max(girths, default=0.0),
        f"{stops[0].where}: {stops[0].message}" if stops else "",
    )


def _girth_errors(proven: Proven, body: Body) -> Iterator[float]:
    """By how much the block's girths miss body + ease at bust, waist and hip: what the drafting owes."""
    replayed = proven.replayed
    ease = block_ease(replayed.recipe.block, body)
    for name, key in MEASURES.items():
        found = level(replayed.block, name)
        if name in ease and found is not None and body.has(key):
            yield found.girth - (body.mm(key) + ease[name])


def rows_csv(rows: Sequence[Row]) -> str:
    """The rows as CSV text, numbers to 0.0001."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        values = [getattr(row, name) for name in COLUMNS]
        writer.writerow([_cell(v) for v in values])
    return stream.getvalue()


def _cell(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.4f}"
    return "" if value is None else str(value)
