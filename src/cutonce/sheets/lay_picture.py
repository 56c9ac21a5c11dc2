"""The whole lay in one picture, for the screen: title, the lay to scale, the table and the words below it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutonce.geometry.motion import shifting
from cutonce.lay.plan import Plan
from cutonce.sheets.drawing import Drawing, Group, Item, Text, moved, moved_group
from cutonce.sheets.lay_drawing import LayDrawing, Strip, lay_drawing
from cutonce.sheets.lay_head import Head, LayFor, lay_head
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.lay_table import TABLE_MM, flowed, lay_table, lay_words
from cutonce.sheets.table import depth, table_items

_GAP_MM = 5.0
_HEAD_MM = 21.0


def lay_picture(plan: Plan, said: LayFor, strips: Sequence[Strip], parts: int) -> LayDrawing:
    """The whole lay in one picture: title and facts above it, the table below it, to the same scale."""
    head = lay_head(plan, said, parts)
    drawn = lay_drawing(plan, parts, said.unit, strips, head.title)
    table = lay_table(plan, drawn.rows, said.unit)
    width = max(drawn.drawing.width, TABLE_MM + 2 * _GAP_MM)
    blocks = lay_words(plan, said.notes, width - 2 * _GAP_MM, strips, said.unit)
    top = complex(_GAP_MM, -2 * _GAP_MM - depth(table))
    words = flowed(blocks, top, -math.inf)[0]
    below = _GAP_MM - top.imag + sum(b.depth for b in blocks)
    height = below + drawn.drawing.height + _HEAD_MM
    groups = [moved_group(g, shifting(1j * below)) for g in drawn.drawing.groups]
    groups.append(Group("head", "Head", tuple(_picture_head(head, complex(_GAP_MM, height - 6.0)))))
    under = [
        moved(i, shifting(1j * below)) for i in (*table_items(table, complex(_GAP_MM, -_GAP_MM)), *words)
    ]
    groups.append(Group("table", "The lay in figures", tuple(under)))
    sheet = Drawing(tuple(groups), width, height, head.title, head.facts)
    return LayDrawing(sheet, OnPaper(parts, drawn.on.origin + 1j * below), drawn.rows)


def _picture_head(head: Head, at: complex) -> list[Item]:
    items: list[Item] = [Text(at, head.title, 5.0, bold=True)]
    for n, words in enumerate(w for w in (head.stop, *head.facts) if w):
        items.append(Text(at - 1j * (4.6 + 4.0 * n), words, 2.8, bold=words == head.stop))
    return items
