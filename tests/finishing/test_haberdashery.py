"""Cord, elastic, tape and zips gathered for the shop."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.finishing.finished import CutRow
from cutonce.finishing.haberdashery import BY_LENGTH, haberdashery

ROWS = [
    CutRow("stay tape", "tape", "neck of front", 6.0, 322.6, 1),
    CutRow("bias binding", "bias strip", "neck", 32.0, 700.0, 1),
    CutRow("stay tape", "tape", "armhole of front", 6.0, 233.1, 2),
    CutRow("elastic", "elastic", "waist: skirt", 8.0, 640.0, 1),
    CutRow("elastic", "elastic", "wrist: sleeve", 6.0, 180.0, 2),
    CutRow("cord", "cord", "side cord: skirt", 0.0, 1000.0, 1),
    CutRow("zip", "zip", "side", 0.0, 400.0, 1),
    CutRow("zip", "zip", "pocket", 0.0, 150.0, 2),
]


def test_alike_together_and_rounded_up_to_the_shops_step() -> None:
    found = {(w.kind, w.width or w.buy): w for w in haberdashery(ROWS)}
    tape = found["stay tape", 6.0]
    assert tape.length == pytest.approx(788.8) and tape.buy == 1000
    assert (tape.pieces, tape.used_for) == (3, ("neck of front", "armhole of front"))
    assert tape.lengths == (322.6, 233.1, 233.1)
    assert found["elastic", 8.0].buy == 1000 and found["elastic", 6.0].buy == 500
    assert found["cord", 1000].buy == 1000, "a whole number of steps stays"


def test_zips_are_bought_as_they_are() -> None:
    zips = [w for w in haberdashery(ROWS) if w.kind == "zip"]
    assert [(z.buy, z.pieces) for z in zips] == [(400, 1), (150, 2)]


def test_strips_of_cloth_are_not_bought() -> None:
    assert not [w for w in haberdashery(ROWS) if "bias" in w.kind]
    assert haberdashery([]) == ()


@given(
    st.lists(st.tuples(st.sampled_from(sorted(BY_LENGTH)), st.floats(1, 5000), st.integers(1, 4)), min_size=1)
)
def test_enough_and_less_than_a_step_too_much(asked: list[tuple[str, float, int]]) -> None:
    rows = [CutRow(kind, kind, "edge", 6.0, size, count) for kind, size, count in asked]
    for ware in haberdashery(rows):
        wanted = sum(r.length_mm * r.count for r in rows if r.kind == ware.kind)
        assert wanted - 1e-6 <= ware.buy < wanted + BY_LENGTH[ware.kind]
        assert ware.buy % BY_LENGTH[ware.kind] == 0
