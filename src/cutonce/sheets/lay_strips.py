"""Strips and facings placed on what a lay leaves over: drawn with a letter each, and listed by it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.geometry.path import polyline
from cutonce.lay.problem import Ring
from cutonce.sheets.captions import Room, along
from cutonce.sheets.drawing import Item, Text, polygon
from cutonce.sheets.labels import Row, label_inside
from cutonce.sheets.lay_measures import TapeUnit, by_tape
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.paper import Tile
from cutonce.sheets.pens import Pen

_LETTER_MM, _LEAST_LETTER_MM, _CLEAR_MM = 2.8, 1.8, 0.15


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip or facing to be cut from what is left over: its name, and its corners in places of the lay.

    Several of one name are parts to be joined.
    """

    name: str
    corners: Ring


def letters(strips: Sequence[Strip]) -> dict[str, str]:
    """A letter for each name, in the order given: A to Z, then AA.

    >>> letters((Strip("neck", ()), Strip("armhole", ()), Strip("neck", ())))
    {'neck': 'A', 'armhole': 'B'}
    """
    names = dict.fromkeys(s.name for s in strips)
    return {name: Tile(row, 0).name.rstrip("1") for row, name in enumerate(names)}


def strip_words(strips: Sequence[Strip], unit: TapeUnit) -> tuple[str, ...]:
    """A line for each letter: what it is for, and the sizes of its parts along their sides."""
    out = []
    for name, letter in letters(strips).items():
        sizes = ", ".join(_size(s.corners, unit) for s in strips if s.name == name)
        out.append(f"{letter}  {name}: {sizes} {unit}")
    return tuple(out)


def _size(corners: Ring, unit: TapeUnit) -> str:
    """Width across, and the longest side."""
    sides = [q - p for p, q in pairwise((*corners, corners[0]))]
    long = max(sides, key=abs)
    across = [(p * long.conjugate() / abs(long)).imag for p in corners]
    return f"{by_tape(max(across) - min(across), unit)} × {by_tape(abs(long), unit)}"


def strip_items(strips: Sequence[Strip], on: OnPaper, room: Room) -> Iterator[Item]:
    """Each strip's outline and its letter, in it or beside it."""
    called = letters(strips)
    for strip in strips:
        corners = [on(p) for p in strip.corners]
        outline = polygon(corners, Pen.STRIP)
        room.take((outline,))
        yield outline
        row = Row(called[strip.name], _LETTER_MM, bold=True)
        texts: tuple[Text, ...] = label_inside(
            polyline((*corners, corners[0])), (row,), (), _LEAST_LETTER_MM, _CLEAR_MM
        )
        room.take(texts)
        yield from texts or along(outline.path, (row.words,), _LETTER_MM, room)
