"""What to buy: whole steps of the shop, exact money, the wash. Figures from the fact sheet beside each."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.cloth.amounts import read_price, read_weight
from cutonce.cloth.cloth import Cloth
from cutonce.cloth.kinds import KINDS, kinds_table, remarks
from cutonce.cloth.shop import after_wash, before_wash, to_buy


def lawn(price: str = "", sold_by: float = 100.0, **more: object) -> Cloth:
    paid = read_price(price) if price else None
    return Cloth("lawn", 1400.0, 1380.0, price=paid, sold_by=sold_by, **more)  # type: ignore[arg-type]


def test_metres_in_steps_of_ten_centimetres() -> None:
    found = to_buy(lawn("18.50 EUR per m"), 2610.0)
    assert (found.steps, found.length, found.words) == (27, 2700.0, "2.7 m")
    assert found.cost == Decimal("49.95") and found.cost_words == "49.95 EUR"


def test_yards_in_eighths() -> None:
    found = to_buy(lawn("12 GBP per yd", 114.3), 2.5 * 914.4 + 1)
    assert (found.words, found.cost_words) == ("2 5/8 yd", "31.50 GBP")


def test_a_length_that_is_just_a_step_is_not_rounded_up() -> None:
    assert to_buy(lawn(), 2600.0).length == 2600.0
    assert to_buy(lawn(sold_by=914.4 / 8), 914.4 * 3).words == "3 yd"
    assert to_buy(lawn(), 0.0).length == 0.0


def test_no_price_no_cost() -> None:
    found = to_buy(lawn(), 1234.0)
    assert found.cost is None and found.cost_words == "" and found.unit == "m"


@given(
    st.floats(0, 50_000),
    st.sampled_from(["100", "50", "114.3", "250", "10"]),
    st.decimals(0, 500, places=2),
    st.sampled_from(["m", "yd"]),
)
def test_enough_is_bought_and_no_step_too_many_and_money_is_exact(
    needed: float, step: str, amount: Decimal, per: str
) -> None:
    found = to_buy(lawn(f"{amount} EUR per {per}", float(step)), needed)
    assert found.length >= needed - 1e-3
    assert found.length - float(step) < needed
    exact = amount * found.steps * Decimal(step) / Decimal("1000" if per == "m" else "914.4")
    assert found.cost is not None and abs(found.cost - exact) <= Decimal("0.005")
    assert found.cost.as_tuple().exponent == -2


def test_shrinkage() -> None:
    """100 at 5 % = 105.26 (arithmetic)."""
    assert before_wash(100, 0.05) == pytest.approx(105.26, abs=0.005)
    assert to_buy(lawn(shrink_along=0.05), 1000.0).washed == pytest.approx(950.0)


@given(st.floats(0, 1e5), st.floats(0, 0.9))
def test_the_wash_undoes_what_is_bought_for_it(mm: float, share: float) -> None:
    assert after_wash(before_wash(mm, share), share) == pytest.approx(mm)


def test_remarks_by_class() -> None:
    velvet = Cloth("v", 1400.0, 1380.0, kind="velvet")
    assert remarks(velvet)[0].code == "nap-of-kind"
    linen = Cloth("l", 1400.0, 1380.0, kind="linen")
    assert [(f.code, f.severity) for f in remarks(linen)] == [("shrinkage-of-kind", "note")] * 2
    assert remarks(Cloth("l", 1400.0, 1380.0, kind="linen", shrink_along=0.04, shrink_across=0.03)) == ()
    assert remarks(Cloth("x", 1400.0, 1380.0)) == ()


def test_the_table_of_kinds_has_them_all_and_their_figures_are_possible() -> None:
    rows = kinds_table().splitlines()[2:]
    assert [row.split("|")[1].strip(" `") for row in rows] == [kind.name for kind in KINDS]
    for kind in KINDS:
        assert 1 <= kind.gathers[0] <= kind.gathers[1] <= 3 and 1.5 <= kind.stitch <= 3
        assert 0 <= kind.shrink_across <= 0.1 and 0 <= kind.shrink_along <= 0.1
        assert kind.shrinkage_source


def test_weights_have_their_units() -> None:
    assert read_weight("19 momme") == read_weight("19 Momme") > read_weight("2 oz/yd²")
    assert read_weight("180 gsm") == read_weight("180 g/m²") == 180.0
