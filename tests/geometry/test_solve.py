"""The point that makes two measures come out right."""

from __future__ import annotations

from cutonce.geometry.solve import point_where


def test_no_point_where_two_measures_cannot_both_come_right() -> None:
    assert point_where(1 + 1j, lambda p: (abs(p) + 1, abs(p) + 2)) is None
    found = point_where(3 + 1j, lambda p: (abs(p) - 13, abs(p - 14) - 15))
    assert found is not None and abs(found - (5 + 12j)) < 1e-8
