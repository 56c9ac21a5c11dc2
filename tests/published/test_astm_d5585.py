"""ASTM D5585-11e1, adult female misses, Table 1, first rows, as shown at astm.org/Standards/D5585.htm.

Beside it the older US trade table for misses, sewingscholar.blogspot.com, February 2011. The values below
were read there.
"""

from __future__ import annotations

import numpy as np
import pytest

from cutonce.body import TABLE_KEYS, body_from_size, estimate, size_table
from cutonce.body.tables import Row

CURVY = {row.name: row for row in size_table("astm-d5585-11-curvy").rows}
STRAIGHT = {row.name: row for row in size_table("astm-d5585-11-straight").rows}
TRADE = {row.name: row for row in size_table("trade-misses").rows}


def _inches(row: Row) -> list[float]:
    return [mm / 25.4 for mm in row.mm]


def test_sizes() -> None:
    assert size_table("astm-d5585-11-curvy").sizes == ("00", "0", *(str(size) for size in range(2, 21, 2)))
    assert size_table("trade-misses").sizes == tuple(str(size) for size in range(6, 21, 2))


@pytest.mark.parametrize(
    ("name", "smallest", "size_8", "largest"),
    [
        ("Head girth", 21.25, 21.75, 22.5),
        ("Neck base girth", 13.25, 14.625, 16.375),
        ("Mid-neck girth", 12.375, 13.625, 16.0),
        ("Shoulder girth", 37.125, 40.5, 46.875),
        ("Chest/bust girth", 31.125, 36.25, 46.0),
        ("Under-bust girth", 25.75, 30.0, 39.625),
        ("Upper-chest girth", 31.75, 35.875, 43.875),
        ("Waist girth (curvy)", 23.875, 28.0, 39.0),
    ],
)
def test_values_in_inches(name: str, smallest: float, size_8: float, largest: float) -> None:
    inches = _inches(CURVY[name])
    assert (inches[0], inches[5], inches[-1]) == pytest.approx((smallest, size_8, largest))


def test_the_straight_waist_is_an_inch_and_a_half_more() -> None:
    curvy, straight = _inches(CURVY["Waist girth (curvy)"]), _inches(STRAIGHT["Waist girth (straight)"])
    assert straight == pytest.approx([value + 1.5 for value in curvy])


def test_bust_steps() -> None:
    steps = np.diff(_inches(CURVY["Chest/bust girth"]))
    assert steps == pytest.approx([0.625, 1.25, 1.125, 1.125, 1, 1, 1.5, 1.625, 1.75, 1.875, 2])


def test_neck_base_against_bust_falls() -> None:
    ratio = [
        neck / bust
        for neck, bust in zip(CURVY["Neck base girth"].mm, CURVY["Chest/bust girth"].mm, strict=True)
    ]
    assert (ratio[0], ratio[5], ratio[-1]) == pytest.approx((0.426, 0.403, 0.356), abs=0.0005)


def test_centimetres() -> None:
    """The fact sheet's own conversion (x 2.54, to 0.1 cm)."""
    bust = [79.1, 80.6, 83.8, 86.7, 89.5, 92.1, 94.6, 98.4, 102.6, 107.0, 111.8, 116.8]
    waist = [60.6, 62.5, 64.5, 66.4, 68.6, 71.1, 73.7, 78.1, 82.5, 87.6, 93.3, 99.1]
    assert [mm / 10 for mm in CURVY["Chest/bust girth"].mm] == pytest.approx(bust, abs=0.0501)
    assert [mm / 10 for mm in CURVY["Waist girth (curvy)"].mm] == pytest.approx(waist, abs=0.0501)


@pytest.mark.parametrize("key", TABLE_KEYS)
def test_rows_never_fall(key: str) -> None:
    for row in size_table(key).rows:
        assert all(low <= high for low, high in zip(row.mm, row.mm[1:], strict=False)), row.name


def test_trade_table_and_its_grades() -> None:
    """Sizes 10, 12, 14 are repeated in a sewing class handout (docslib 1996617)."""
    assert _inches(TRADE["bust"])[2:5] == pytest.approx([32.5, 34, 36])
    assert _inches(TRADE["waist"])[2:5] == pytest.approx([25, 26.5, 28])
    assert _inches(TRADE["hip"])[2:5] == pytest.approx([34.5, 36, 38])
    assert np.diff(_inches(TRADE["bust"])) == pytest.approx([1, 1, 1.5, 2, 2, 2, 2])
    assert np.diff(_inches(TRADE["back waist length"])) == pytest.approx([0.25] * 7)


def test_under_and_upper_bust_estimates_are_the_straight_lines_through_the_rows() -> None:
    bust = np.array(CURVY["Chest/bust girth"].mm)
    for row, measure in (("Under-bust girth", "under_bust_girth"), ("Upper-chest girth", "upper_bust_girth")):
        slope, const = np.polyfit(bust, np.array(CURVY[row].mm), 1)
        for size in ("00", "8", "20"):
            body = body_from_size("astm-d5585-11-curvy", size)
            bare = body.__class__(body.name, tuple(m for m in body.measures if m.key == "bust_girth"))
            found = estimate(bare, asked=[measure]).mm(measure)
            assert found == pytest.approx(const + slope * body.mm("bust_girth"), abs=0.2)


def test_back_waist_length_estimate_meets_the_trade_table() -> None:
    """The constant gap is the mean over these eight sizes: the errors centre on zero and stay small."""
    errors = []
    for size in size_table("trade-misses").sizes:
        body = body_from_size("trade-misses", size)
        bare = body.__class__(body.name, tuple(m for m in body.measures if m.key != "back_waist_length"))
        errors.append(
            estimate(bare, asked=["back_waist_length"]).mm("back_waist_length") - body.mm("back_waist_length")
        )
    assert np.mean(errors) == pytest.approx(0.0, abs=0.1)
    assert np.std(errors, ddof=1) == pytest.approx(3.7, abs=0.1)
    assert max(abs(error) for error in errors) < 8
