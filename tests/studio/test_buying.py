"""The buying list of an example that has been laid: all kinds of things it takes, its cloth and price."""

from __future__ import annotations

import csv
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pdfplumber

from cutonce.cloth.cloth import Cloth, Price
from cutonce.lay.asked import Asked
from cutonce.studio.buying import buying_list
from cutonce.studio.examples import example_files
from cutonce.studio.inputs import read_design, read_one_body
from cutonce.studio.lay import Outcome, Watch, by_search, lay_on
from cutonce.studio.lay_results import lay_writer
from cutonce.studio.prove import Proven, prove

WOOL = Cloth("Wool crepe", 1500.0, 1460.0, price=Price(Decimal("20.00"), "m", "EUR"))


def laid(cloth: Cloth) -> tuple[Proven, Outcome]:
    design, body = example_files("cellist")
    proven = prove(read_design(design), read_one_body(body), "3 May 2026")
    return proven, lay_on(proven, cloth, Asked(), 0.5, by_search, Watch())


def test_the_dress_with_its_cloth_strips_and_notions(tmp_path: Path) -> None:
    proven, outcome = laid(WOOL)
    listed = buying_list(proven, outcome)
    kinds = [r.kind for r in listed.rows]
    assert kinds[:2] == ["cloth", "strips"]
    assert {"cord", "stay tape", "zip", "interfacing", "thread"} <= set(kinds)
    cloth = listed.rows[0]
    bought = Decimal(cloth.buy.removesuffix(" m"))
    assert bought * 1000 >= Decimal(str(outcome.needed)) > bought * 1000 - 100
    assert cloth.cost == bought * 20
    files = {f.name for f in lay_writer(proven, outcome)(tmp_path)}
    assert files == {"lay.json", "lay.svg", "lay.pdf", "buying-list.pdf", "buying-list.csv"}
    with (tmp_path / "buying-list.csv").open(newline="", encoding="utf-8") as file:
        assert [r["kind"] for r in csv.DictReader(file)] == kinds
    with pdfplumber.open(tmp_path / "buying-list.pdf") as pdf:
        assert len(pdf.pages) == 1 and cloth.buy in pdf.pages[0].extract_text()


def test_cloth_at_hand_is_not_bought_and_what_is_lacking_is() -> None:
    proven, outcome = laid(replace(WOOL, length=4000.0))
    assert buying_list(proven, outcome).rows[0].buy == "none"
    proven, short = laid(replace(WOOL, length=1000.0))
    row = buying_list(proven, short).rows[0]
    assert row.buy not in ("none", "") and "short" in row.note
