from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from lay.problems import disc, rings
from shapely import Polygon

from cutonce.lay.problem import Ring
from cutonce.lay.thin import thinned


def polygon(ring: Ring) -> Polygon:
    return Polygon([(p.real, p.imag) for p in ring])


@given(rings(), st.sampled_from([0.001, 0.01, 0.1, 0.5]))
def test_a_thinned_ring_holds_the_ring_within_its_bounds_and_share(ring: Ring, share: float) -> None:
    thin, whole = polygon(thinned(ring, share)), polygon(ring)
    assert thin.is_valid
    assert whole.difference(thin.buffer(1e-5)).is_empty
    assert thin.area <= whole.area * (1 + share) * (1 + 1e-9)
    assert all(abs(a - b) < 1e-5 for a, b in zip(thin.bounds, whole.bounds, strict=True))


def test_a_disc_of_many_corners_becomes_one_of_few() -> None:
    assert 8 <= len(thinned(disc(0j, 100.0, 200), 0.03)) <= 24


def test_it_stops_at_the_corners_asked_for() -> None:
    assert len(thinned(disc(0j, 100.0, 60), 0.5, corners=20)) == 20


def test_repeated_and_straight_points_go_and_nothing_else() -> None:
    ring = (0j, 0j, 5 + 0j, 10 + 0j, 10 + 10j, 10j, 5j)
    assert thinned(ring, 0.0) == (0j, 10 + 0j, 10 + 10j, 10j)
