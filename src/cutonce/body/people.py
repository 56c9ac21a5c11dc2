"""Many bodies from one table of comma-separated values: a column `id`, and columns such as `bust_girth_mm`.

The unit is the last word of the column: _mm, _cm or _in; a side may stand before it:
`shoulder_length_left_cm`. Fractions such as `38 1/2` are read. An empty cell is a measure not taken. A bad
row never stops the others.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from typing import Final

from cutonce.body.measures import Body, Measure
from cutonce.body.plausible import refuse_impossible
from cutonce.body.terms import BY_KEY, SIDES, Wearer
from cutonce.errors import BadInput, Finding, Problem, closest, quoted
from cutonce.units import MM_PER_UNIT, Unit, length, plain_spelling

_UNITS: Final[tuple[Unit, ...]] = ("mm", "cm", "in")
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?[0-9]{1,2})?")


_FRACTION = re.compile(r"(?:[0-9]+ +)?[0-9]+/[0-9]+")
_SUCH_AS: Final[dict[Unit, str]] = {"mm": "920", "cm": "92.5", "in": "36 1/4"}


@dataclass(frozen=True, slots=True)
class Person:
    """One row: its id and line in the file, and either a body or what is wrong with the row."""

    id: str
    line: int
    body: Body | None
    problem: Problem | None = None


@dataclass(frozen=True, slots=True)
class People:
    """All rows in order; `findings` says once what holds for the whole table, such as unknown columns."""

    rows: tuple[Person, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Column:
    at: int
    head: str
    key: str
    wearer: Wearer | None
    unit: Unit


@dataclass(frozen=True, slots=True)
class _Head:
    where: str
    id_at: int
    width: int
    columns: tuple[_Column, ...]
    decimal: str


def read_people(text: str, where: str = "people.csv") -> People:
    """The people in a file's text. Where its first line has semicolons, decimal commas are read too.

    Raises BadInput where the table as a whole cannot be read: broken-csv, no-id, no-rows, given-twice.

    >>> people = read_people("id,bust_girth_cm,shoe\\n7,92,39\\n8,tall,38\\n")
    >>> people.rows[0].body.mm("bust_girth"), people.rows[1].problem.where, people.rows[1].problem.message
    (920.0, 'people.csv, line 3, bust_girth_cm', "'tall' is not a number")
    >>> people.findings[0].message
    "columns not used: 'shoe'"
    """
    text = text.removeprefix("\ufeff")
    delimiter = ";" if ";" in text.partition("\n")[0] else ","
    lines = _lines(text, delimiter, where)
    if not lines:
        hint = "its first line names the columns: id, bust_girth_mm"
        raise BadInput("no-id", where, "the table is empty", hint)
    names = [name.strip() for name in lines[0][1]]
    if len(lines) == 1:
        raise BadInput("no-rows", where, "nobody stands below the first line", "write a line for each body")
    if names.count("id") != 1:
        message = f"the first line has {names.count('id')} columns named id"
        raise BadInput("no-id", where, message, "name one column id")
    columns, unused = _columns(names, where)
    head = _Head(where, names.index("id"), len(names), tuple(columns), "," if delimiter == ";" else ".")
    seen: set[str] = set()
    rows = tuple(_person([cell.strip() for cell in cells], head, line, seen) for line, cells in lines[1:])
    return People(rows, tuple(_unused(unused, where)))


def _lines(text: str, delimiter: str, where: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    lines: list[tuple[int, list[str]]] = []
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                lines.append((reader.line_num, cells))
    except csv.Error as problem:
        spot = f"{where}, line {reader.line_num}"
        raise BadInput("broken-csv", spot, f"cannot be read: {problem}") from None
    return lines


def _columns(head: list[str], where: str) -> tuple[list[_Column], list[str]]:
    columns: list[_Column] = []
    unused: list[str] = []
    for at, name in enumerate(head):
        column = _column(at, name)
        if column is None:
            unused += [name] if name != "id" else []
        elif any(_clash(column, other) for other in columns):
            raise BadInput("given-twice", where, f"{column.key} has more than one column", "keep one of them")
        else:
            columns.append(column)
    return columns, unused


def _clash(one: _Column, other: _Column) -> bool:
    return one.key == other.key and (one.wearer == other.wearer or None in (one.wearer, other.wearer))


def _column(at: int, head: str) -> _Column | None:
    name, _, unit = head.rpartition("_")
    for known in _UNITS:
        if unit == known and name in BY_KEY:
            return _Column(at, head, name, None, known)
        for side in SIDES:
            key = name.removesuffix(f"_{side}")
            if unit == known and key != name and key in BY_KEY and BY_KEY[key].sided:
                return _Column(at, head, key, side, known)
    return None


def _unused(unused: list[str], where: str) -> list[Finding]:
    if not unused:
        return []
    near = next((words for name in unused if (words := _near(name))), "")
    message = f"columns not used: {', '.join(quoted(name) for name in unused)}{near}"
    hint = "a column is a measure's name and its unit, such as bust_girth_mm (all measures: docs/measures.md)"
    return [Finding("note", "unknown-column", where, message, hint=hint)]


def _near(name: str) -> str:
    return closest(name, [f"{key}_{unit}" for key in BY_KEY for unit in _UNITS])


def _person(cells: list[str], head: _Head, line: int, seen: set[str]) -> Person:
    """The row as a body, or with what is wrong with it; its id joins those `seen`."""
    spot = f"{head.where}, line {line}"
    name = cells[head.id_at] if head.id_at < len(cells) else ""
    try:
        if not name:
            raise BadInput("no-id", spot, "the id is empty")
        if name in seen:
            raise BadInput("given-twice", spot, f"id {quoted(name)} stands in an earlier line too")
        seen.add(name)
        if len(cells) != head.width:
            message = f"{len(cells)} cells where the first line has {head.width}"
            raise BadInput("wrong-number-of-cells", spot, message)
        taken = [column for column in head.columns if cells[column.at]]
        body = Body(name, tuple(_measure(column, cells[column.at], head.decimal, spot) for column in taken))
        refuse_impossible(body, f"{spot}, id {name}")
    except Problem as problem:
        located = problem.where.startswith(spot)
        where = problem.where if located else f"{spot}, id {name}"
        return Person(name, line, None, BadInput(problem.code, where, problem.message, problem.hint))
    return Person(name, line, body)


def _measure(column: _Column, cell: str, decimal: str, spot: str) -> Measure:
    at = f"{spot}, {column.head}"
    number = cell.replace(decimal, ".")
    if _NUMBER.fullmatch(number):
        mm = float(number) * MM_PER_UNIT[column.unit]
    elif _FRACTION.fullmatch(plain_spelling(cell).strip()):
        mm = length(f"{cell} {column.unit}", at)
    else:
        hint = f"the column's name says the unit: write the number alone, such as {_SUCH_AS[column.unit]}"
        raise BadInput("not-a-number", at, f"{quoted(cell)} is not a number", hint)
    return Measure(column.key, mm, column.wearer, text=f"{cell} {column.unit}")
