"""Size tables: looked up, turned into bodies, and refused by name."""

from __future__ import annotations

import pytest

from cutonce.body import TABLE_KEYS, body_from_size, plausible, size_table
from cutonce.errors import BadInput


@pytest.mark.parametrize("key", TABLE_KEYS)
def test_every_size_is_a_plausible_body_of_what_the_table_holds(key: str) -> None:
    table = size_table(key)
    for size in table.sizes:
        body = body_from_size(key, size)
        assert not [finding for finding in plausible(body) if finding.severity != "note"]
        known = {row.measure for row in table.rows if row.measure}
        assert {measure.key for measure in body.measures} - {"height"} == known


def test_the_figures_differ_in_the_waist_only() -> None:
    curvy, straight = (
        body_from_size("astm-d5585-11-curvy", "8"),
        body_from_size("astm-d5585-11-straight", "8"),
    )
    differ = [one.key for one, other in zip(curvy.measures, straight.measures, strict=True) if one != other]
    assert differ == ["waist_girth"]


def test_the_height_of_the_trade_table_is_marked_as_no_measure() -> None:
    (height,) = body_from_size("trade-misses", "12").estimated
    assert height.key == "height" and height.estimate is not None
    assert height.mm == pytest.approx(65.5 * 25.4)


def test_refusals_list_the_choices() -> None:
    with pytest.raises(BadInput, match=r"no size table 'trade-mises'; closest: trade-misses"):
        size_table("trade-mises")
    with pytest.raises(BadInput, match=r"has no size '11' \(it has: 6, 8, 10, 12, 14, 16, 18, 20\)"):
        body_from_size("trade-misses", "11")
