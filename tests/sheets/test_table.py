"""A ruled table: every word once, rows within their depth, pages filled."""

from __future__ import annotations

import pytest

from cutonce.sheets.drawing import Text, bounds
from cutonce.sheets.table import Column, Table, TableRow, broken, depth, row_depth, table_items

COLUMNS = (Column("No.", 12.0), Column("Piece", 40.0), Column("Length", 20.0, "end"))


def rows(count: int) -> tuple[TableRow, ...]:
    return tuple(
        TableRow((str(n), f"a piece with a long name {n}\nand more", f"{n}.5")) for n in range(count)
    )


def test_words_stay_in_their_column_and_row() -> None:
    table = Table(COLUMNS, rows(3))
    items = table_items(table, 10 + 200j)
    left, low, right, high = bounds(items)
    assert (left, right, high) == (10.0, 10.0 + table.width, pytest.approx(200.0, abs=2.0))
    assert low == pytest.approx(200.0 - depth(table))
    lengths = [i for i in items if isinstance(i, Text) and i.words.endswith(".5")]
    assert len({round(t.start.real + t.width, 6) for t in lengths}) == 1  # they end in line
    names = [i for i in items if isinstance(i, Text) and i.start.real == 22.0]
    assert all(t.start.real + t.width <= 22.0 + 40.0 for t in names)


@pytest.mark.parametrize(("first", "others"), [(60.0, 60.0), (5.0, 80.0), (500.0, 30.0)])
def test_pages_hold_every_row_in_order(first: float, others: float) -> None:
    table = Table(COLUMNS, rows(9))
    parts = broken(table, first, others)
    assert [r for p in parts for r in p.rows] == list(table.rows)
    for n, part in enumerate(parts):
        room = first if n == 0 else others
        assert depth(part) <= room + 1e-9 or len(part.rows) <= 1


def test_a_row_taller_than_a_page_stands_alone() -> None:
    tall = TableRow(("1", "\n".join("word" for _ in range(40)), ""))
    table = Table(COLUMNS, (*rows(1), tall, *rows(1)))
    parts = broken(table, 60.0, 60.0)
    assert [len(p.rows) for p in parts] == [1, 1, 1]
    assert row_depth(table, tall) > 60.0
