"""What to buy: three levels by three widths, each from its own lay, rounded as the shop sells."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from decimal import Decimal

import pytest
from studio.area_laying import AreaLaying
from studio.skirts import BODY, FLARED

from cutonce.cloth.cloth import Cloth, Flaw, Price
from cutonce.errors import BadInput, CannotApply
from cutonce.lay.asked import Asked
from cutonce.recipe.file import read_recipe
from cutonce.studio.cloth_needed import WIDTHS, ClothNeeded, cloth_needed, new_cloth, table_text
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven

LIKE = Cloth(
    "crepe",
    1400.0,
    1380.0,
    length=900.0,
    flaws=(Flaw(100 + 100j, 20.0),),
    nap="one-way",
    price=Price(Decimal("20.00"), "m", "EUR"),
    sold_by=100.0,
)


@dataclass
class OfWidth(AreaLaying):
    """Pieces wider than 115 cm do not lie on the narrowest cloth."""

    narrow: bool = False

    def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
        if self.narrow and self.demand(design) * self.width > 0.9e6:
            raise CannotApply("too-wide", "skirt front", "wider than the cloth")
        return super().lay(design, seconds, start, ends_early)


def table(amount: str, narrow: bool = False, like: Cloth = LIKE) -> tuple[ClothNeeded, list[Cloth]]:
    cloths: list[Cloth] = []

    def on(cloth: Cloth, asked: Asked) -> OfWidth:
        cloths.append(cloth)
        return OfWidth(math.inf, cloth.usable, narrow=narrow and cloth.width < 1200)

    recipe = read_recipe(FLARED.replace("AMOUNT", amount), "d")
    return cloth_needed(recipe, BODY, like, Asked(), on), cloths


def test_three_levels_and_three_widths_rounded_up_to_what_the_shop_sells() -> None:
    done, cloths = table('{ least = "4 cm", most = "30 cm" }')
    assert done.widths == WIDTHS and [r.level for r in done.rows] == ["least", "middle", "most"]
    assert [r.amounts[0].text for r in done.rows] == ["4 cm", "17 cm", "30 cm"]
    for row in done.rows:
        for cell, width in zip(row.cells, WIDTHS, strict=True):
            assert cell.needed is not None and cell.buy is not None
            assert 0 <= cell.buy.length - cell.needed < 100 and cell.buy.length % 100 == 0
            assert cell.buy.cost == Decimal("20.00") * cell.buy.steps / 10
            assert cell.needed * width == pytest.approx((row.cells[0].needed or 0) * WIDTHS[0])
    lengths = [row.cells[1].needed or 0 for row in done.rows]
    assert lengths[0] < lengths[1] < lengths[2]
    assert all(c.length is None and not c.flaws and c.nap == "one-way" for c in cloths)


def test_a_design_without_free_amounts_has_one_level() -> None:
    done, _ = table('"4 cm"')
    assert [r.level for r in done.rows] == ["as it is"] and len(done.rows[0].cells) == 3


def test_a_width_that_cannot_take_a_piece_says_so_and_the_others_stand() -> None:
    done, _ = table('{ least = "4 cm", most = "30 cm" }', narrow=True)
    most = done.rows[2].cells
    assert most[0].needed is None and "wider than the cloth" in most[0].why and most[1].needed
    text = table_text(done)
    assert "most, 112 cm wide: skirt front: wider than the cloth" in text


def test_a_level_that_cannot_be_drawn_says_so() -> None:
    done, _ = table('{ least = "4 cm", most = "20 m" }')
    assert done.rows[2].cells == () and done.rows[2].why
    assert table_text(done).splitlines()[-1].startswith("most: ")


def test_the_table_reads_as_a_table() -> None:
    lines = table_text(table('{ least = "4 cm", most = "30 cm" }')[0]).splitlines()
    assert lines[0].endswith("  150 cm wide") and len(lines) == 4
    assert lines[1].startswith("least") and "m, " in lines[1] and "EUR" in lines[1]
    for width in ("112", "140", "150"):
        column = lines[0].index(f"{width} cm wide")
        assert all(line[column - 1] == " " and line[column].isdigit() for line in lines[1:])


@pytest.mark.parametrize("width", [0.0, -5.0, 30_000.0])
def test_a_width_that_no_cloth_has_is_refused(width: float) -> None:
    recipe = read_recipe(FLARED.replace("AMOUNT", '"4 cm"'), "d")
    with pytest.raises(BadInput, match="no cloth is"):
        cloth_needed(recipe, BODY, LIKE, Asked(), lambda c, a: AreaLaying(1e9), (width,))


def test_new_cloth_keeps_what_the_cloth_is_and_drops_what_is_hers() -> None:
    made = new_cloth(replace(LIKE, shrink_along=0.04), 1120.0)
    assert (made.width, made.usable, made.length, made.flaws) == (1120.0, 1120.0, None, ())
    assert (made.nap, made.shrink_along, made.price) == ("one-way", 0.04, LIKE.price)
