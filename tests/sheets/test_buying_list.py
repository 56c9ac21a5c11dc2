"""The buying list: figures by hand, one page, read back by pdfplumber and the csv module."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from decimal import Decimal
from pathlib import Path as FilePath

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.cloth.cloth import Cloth, Price
from cutonce.cloth.shop import to_buy
from cutonce.errors import BadInput
from cutonce.finishing.finished import CutRow
from cutonce.finishing.thread import Stitching, Thread, ThreadNeed
from cutonce.lay.leftovers import Leftover
from cutonce.lay.problem import Ring
from cutonce.lay.strip_needs import Need
from cutonce.lay.strips import strips_from
from cutonce.sheets.buying_list import (
    BuyingList,
    ToBuy,
    buying_list_csv,
    buying_list_text,
    write_buying_list,
)
from cutonce.sheets.buying_rows import bought, cloth_row, notion_rows, shelved, strip_rows, thread_row

WOOL = Cloth("Wool crepe", 1500.0, 1460.0, price=Price(Decimal("24.50"), "m", "EUR"), sold_by=100.0)
ROWS = (
    ToBuy(
        "cloth", "Wool crepe, 150 cm wide", "145.3 cm", "1.5 m", "4.7 cm to spare", Decimal("36.75"), "EUR"
    ),
    ToBuy("zip", "zip for centre back", "40 cm", "1 × 40 cm", "opening 379 mm"),
    ToBuy("lining", "Łódź viscose", "120 cm", "1.2 m", "", Decimal("9.60"), "EUR"),
    ToBuy("braid", "gold braid", "30 in", "1 yd", "", Decimal("2.50"), "GBP"),
)
LIST = BuyingList("Concert dress", ROWS, "Ida", "25 November 2026", ("Ask before you buy.",))


def test_everything_is_on_one_page(tmp_path: FilePath) -> None:
    sheets = write_buying_list(LIST, tmp_path)
    assert [f.name for f in sheets.files] == ["buying-list.pdf", "buying-list.csv"]
    with pdfplumber.open(tmp_path / "buying-list.pdf") as pdf:
        assert len(pdf.pages) == 1
        page = pdf.pages[0]
        words = " ".join(page.extract_text().split())
        boxes = [r for r in page.rects + page.curves if 2 < (r["x1"] - r["x0"]) * 25.4 / 72 < 5]
    for said in (
        "Concert dress: to buy",
        "for Ida",
        "1.5 m",
        "36.75 EUR",
        "zip for centre back",
        "Łódź",
        "GBP",
    ):
        assert said in words, said
    assert words.count("46.35 EUR") == 1 and words.count("Together") == 1
    assert len(boxes) == len(ROWS)  # one to tick a row, none for the sum


def test_a_long_list_is_set_smaller_before_it_takes_a_second_page(tmp_path: FilePath) -> None:
    sizes = {}
    for count in (10, 40, 120):
        long = replace(LIST, rows=tuple(ToBuy("tape", f"tape {n}", "1 m", "1 m") for n in range(count)))
        write_buying_list(long, tmp_path, "letter")
        with pdfplumber.open(tmp_path / "buying-list.pdf") as pdf:
            text = " ".join(p.extract_text() for p in pdf.pages)
            sizes[count] = len(pdf.pages), min(c["size"] for c in pdf.pages[0].chars if c["text"] == "t")
        assert all(f"tape {n}" in text for n in range(count))
    assert sizes[10][0] == sizes[40][0] == 1 and sizes[120][0] > 1
    assert sizes[10][1] > sizes[40][1] >= sizes[120][1] >= 2.4 / (25.4 / 72) - 0.01


def test_totals_are_exact_and_say_what_has_no_price() -> None:
    assert LIST.totals == ((Decimal("46.35"), "EUR"), (Decimal("2.50"), "GBP"))
    assert LIST.total_words == "46.35 EUR and 2.50 GBP without what has no price"
    assert replace(LIST, rows=ROWS[:1]).total_words == "36.75 EUR"
    assert replace(LIST, rows=ROWS[1:2]).total_words == ""


def test_csv_reads_back() -> None:
    rows = list(csv.DictReader(io.StringIO(buying_list_csv(LIST))))
    assert [(r["kind"], r["buy"], r["cost"]) for r in rows] == [
        ("cloth", "1.5 m", "36.75"),
        ("zip", "1 × 40 cm", ""),
        ("lining", "1.2 m", "9.60"),
        ("braid", "1 yd", "2.50"),
    ]
    assert "- zip: zip for centre back: 1 × 40 cm; needed 40 cm (opening 379 mm)" in buying_list_text(LIST)


def test_bad_asks_write_nothing(tmp_path: FilePath) -> None:
    with pytest.raises(BadInput, match="no paper 'a5'"):
        write_buying_list(LIST, tmp_path, "a5")
    with pytest.raises(BadInput, match="nothing to buy"):
        write_buying_list(replace(LIST, rows=()), tmp_path)
    assert not list(tmp_path.iterdir())


def test_cloth_by_hand() -> None:
    """1452 mm of cloth sold by 10 cm at 24.50 a metre: 1.5 m, 36.75."""
    new = to_buy(WOOL, 1452.0)
    row = cloth_row(WOOL, 1452.0, new, None, "cm")
    assert (row.needed, row.buy, row.cost_words, row.note) == (
        "145.2 cm",
        "1.5 m",
        "36.75 EUR",
        "4.8 cm to spare",
    )
    has = replace(WOOL, length=1400.0)
    short = cloth_row(has, 1452.0, new, to_buy(has, 52.0), "cm")
    assert (short.buy, short.note) == ("0.1 m", "140.0 cm at hand: 5.2 cm short")
    enough = cloth_row(replace(WOOL, length=2000.0), 1452.0, new, None, "in")
    assert (enough.buy, enough.cost) == ("none", None)
    assert enough.note == "78 5/8 in at hand: 21 1/2 in to spare"
    shrinks = replace(WOOL, shrink_along=0.05)
    washed = cloth_row(shrinks, 1452.0, to_buy(shrinks, 1452.0), None, "cm")
    assert washed.note.endswith("wash it first: 1.43 m is left")  # 1.5 x 0.95 = 1.425


def test_notions_by_hand() -> None:
    rows = (
        CutRow("piece", "Front", "main cloth", 500, 700, 1),
        CutRow("bias binding", "bias strip", "neck", 32, 641.5, 1),
        CutRow("stay tape", "tape", "neck of front", 6.0, 322.6, 1),
        CutRow("stay tape", "tape", "waist of back", 6.0, 199.8, 2),
        CutRow("cord", "cord", "side cord", 0.0, 1094.5, 1),
        CutRow("elastic", "elastic", "cuff", 6.0, 210.0, 2),
        CutRow("zip", "zip", "centre back", 0.0, 400.0, 1, 0, "opening 379 mm"),
        CutRow("interfacing", "light fusible", "waist facing", 210.0, 70.0, 1, 0, "cut on the fold by it"),
        CutRow("interfacing", "light fusible", "back facing", 220.0, 75.0, 2, 0, "cut by it"),
    )
    found = {r.kind: r for r in notion_rows(rows)}
    assert list(found) == ["stay tape", "cord", "elastic", "zip", "interfacing"]
    assert (found["stay tape"].needed, found["stay tape"].buy) == ("72.3 cm", "1 m")  # 322.6 + 2 x 199.8
    assert found["stay tape"].note == "3 lengths, see the cut list"
    assert (found["cord"].buy, found["cord"].note) == ("1.5 m", "for side cord")
    assert found["elastic"].needed == "42.0 cm"
    assert (found["zip"].needed, found["zip"].buy) == ("40 cm", "1 × 40 cm")
    # 220 + 20 + 220 + 20 + 420 = 900 across in one row of 75, and 20 to spare
    assert (found["interfacing"].needed, found["interfacing"].buy) == ("9.5 cm", "0.1 m")


@given(st.lists(st.tuples(st.floats(10, 1500), st.floats(10, 1500)), min_size=1, max_size=12))
def test_interfacing_is_never_less_than_its_area(parts: list[tuple[float, float]]) -> None:
    assert shelved(parts, 900.0) >= sum(a * b for a, b in parts) / 900.0 - 1e-6


@given(st.floats(1, 50_000))
def test_what_is_bought_is_enough_and_less_than_a_step_more(mm: float) -> None:
    metres = float(bought(mm, "cm").removesuffix(" m"))
    assert -1e-6 <= metres * 1000 - mm < 100


def test_thread_by_hand() -> None:
    need = ThreadNeed("301", "lockstitch", 20_000, 55_000, 57_500)
    zigzag = ThreadNeed("304", "zigzag lockstitch", 8_000, 48_400, 50_600)
    over = ThreadNeed("504", "overedge, three threads", 8_000, 61_600, 128_800, "they differ", True)
    row = thread_row(Thread((Stitching("seams", "301", 20_000),), (need, zigzag, over)))
    assert row is not None
    assert (row.needed, row.buy) == ("104 to 109 m", "2 reels")  # 55 + 48.4; 57.5 + 50.6 = 108.1
    assert "overedge, three threads, in place of zigzag: 62 to 129 m, published figures conflict" in row.note
    assert thread_row(Thread((), ())) is None


def test_strips_from_what_is_left_and_cloth_for_the_rest() -> None:
    need = Need(0, "bias binding", "neck", "bias", 32.0, 400.0)
    ring: Ring = (0j, 600 + 0j, 600 + 600j, 600j)
    (row,) = strip_rows(strips_from((need,), (Leftover(1, (ring,)),), WOOL, 6.0), WOOL, "cm")
    assert (row.what, row.needed, row.buy) == ("bias strips 3.2 cm wide", "40.0 cm", "none")
    lacking = strip_rows(strips_from((need,), (), WOOL, 6.0), WOOL, "cm")
    assert lacking[-1].what == "more Wool crepe for strips"
    assert lacking[-1].buy.endswith(" m") and lacking[-1].cost is not None
