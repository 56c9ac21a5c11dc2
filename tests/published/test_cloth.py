"""Weights, shrinkage and shop lengths of cloth; the source beside each value."""

from __future__ import annotations

import pytest

from cutonce.cloth.amounts import read_weight
from cutonce.cloth.cloth import Cloth
from cutonce.cloth.kinds import BY_KIND
from cutonce.cloth.shop import to_buy
from cutonce.units import length


@pytest.mark.parametrize(
    ("momme", "grams"), [(5, 21.7), (8, 34.7), (12, 52.1), (16, 69.4), (19, 82.5), (22, 95.5), (25, 108.5)]
)
def test_momme(momme: int, grams: float) -> None:
    """Several silk sellers' notes, to a tenth of a gram."""
    assert read_weight(f"{momme} momme") == pytest.approx(grams, abs=0.05)


@pytest.mark.parametrize(("ounces", "grams"), [(8, 271), (11, 373)])
def test_ounces_a_square_yard(ounces: int, grams: float) -> None:
    """Arithmetic: an ounce is 28.3495 g, a square yard 0.836127 m2."""
    assert read_weight(f"{ounces} oz/yd2") == pytest.approx(grams, abs=0.5)
    assert read_weight("1 oz/yd2") == pytest.approx(28.349523125 / 0.9144**2, abs=0.001)


@pytest.mark.parametrize(
    "row",
    [
        "1 3/4, 1 1/2, 1 1/2, 1 3/8, 1 1/4, 1 1/8, 1, 7/8",
        "2 7/8, 2 1/2, 2 1/2, 2 1/4, 2, 1 7/8, 1 3/4, 1 5/8",
        "5, 4 1/4, 4 1/8, 3 7/8, 3 3/8, 3 1/8, 2 7/8, 2 3/4",
    ],
)
def test_shop_lengths_in_yards(row: str) -> None:
    """Lengths that shops sell, from the table of widths at sewwithsarah.com (and greenspun.com): each is
    bought as it is printed, and a little more is the next eighth."""
    lawn = Cloth("lawn", 1143.0, 1120.0, sold_by=914.4 / 8)
    for printed in row.split(", "):
        needed = length(f"{printed} yd")
        assert to_buy(lawn, needed).words == f"{printed} yd"
        assert to_buy(lawn, needed + 5).length == pytest.approx(needed + 114.3)


@pytest.mark.parametrize(
    ("kind", "along", "across"),
    [
        ("cotton", 0.06, 0.025),
        ("cotton twill", 0.04, 0.03),
        ("wool", 0.04, 0.035),
        ("silk crepe", 0.10, 0.03),
    ],
)
def test_shrinkage_by_class(kind: str, along: float, across: float) -> None:
    """modacrylic-xf.com: cotton plain cloth 6 and 2.5 %, twill 4 and 3, worsted 4 and 3.5,
    silk crepe 10 and 3."""
    assert (BY_KIND[kind].shrink_along, BY_KIND[kind].shrink_across) == (along, across)


@pytest.mark.parametrize(
    ("kind", "needle"), [("sheer", "60/8"), ("silk", "60/8"), ("cotton", "80/12"), ("denim", "100/16")]
)
def test_needles(kind: str, needle: str) -> None:
    """sweetbriarstudio.blogspot.com, February 2010: 60/8 sheers and silk, 80/12 general, 100/16 denim."""
    assert BY_KIND[kind].needle == needle
