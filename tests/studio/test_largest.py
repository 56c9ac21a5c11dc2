"""The largest position that fits, on lays whose law is known: the border is found, in time, and named."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutonce.studio.largest import FINEST, Border, Job, Lay, largest


@dataclass
class Table:
    """A stand-in for the lay: it takes `waste` times the area, a little more when it has less time.

    A lay that fits with time to spare ends early; one that does not takes all its time.
    """

    room: float = 2000.0
    at_none: float = 1200.0
    at_all: float = 2400.0
    waste: float = 1.15
    hasty: float = 0.02
    noise: float = 0.0
    now: float = 0.0
    asked: list[tuple[float, float]] = field(default_factory=list)
    random: random.Random = field(default_factory=lambda: random.Random(7))

    def demand(self, position: float) -> float:
        return self.at_none + position * (self.at_all - self.at_none)

    def lay(self, position: float, seconds: float, start: Lay | None) -> Lay:
        self.asked.append((position, seconds))
        best = self.waste * self.demand(position) * (1 + self.noise * self.random.random())
        after = best * (1 + self.hasty / max(seconds, 0.01))
        if after <= self.room:
            self.now += min(seconds, seconds * best / self.room * 0.5)
            return Lay(self.room, True, ("fits", position))
        self.now += seconds
        return Lay(after, False, ("over", position), "the back skirt")

    def true_border(self) -> float:
        return (self.room / self.waste - self.at_none) / (self.at_all - self.at_none)

    def run(self, seconds: float = 90.0, reach: float = 1.0) -> Border:
        job = Job(self.lay, self.demand, self.room, lambda: self.now)
        return largest(job, Lay(self.room, True), reach, seconds)


@given(st.floats(1250, 2700), st.floats(1.05, 1.4))
def test_the_border_of_a_known_law_is_found(room: float, waste: float) -> None:
    table = Table(room=room, waste=waste)
    true = table.true_border()
    if true < 0.02:
        return
    border = table.run()
    want = min(true, 1.0)
    assert border.best.position <= want + 1e-9
    assert border.best.position >= want - FINEST - 0.006
    assert table.now <= 90.0 + 1e-6


@given(st.floats(1500, 2500), st.integers(0, 10_000))
def test_with_lays_that_vary_it_finds_98_per_cent_of_what_a_scan_finds(room: float, seed: int) -> None:
    noisy = Table(room=room, noise=0.01, random=random.Random(seed))
    found = noisy.run().best.position
    scan = Table(room=room, noise=0.01, random=random.Random(seed + 1))
    fits = [k / 100 for k in range(101) if scan.lay(k / 100, 90 / 7, None).fits]
    amount = 40 + 160 * found
    assert amount >= 0.98 * (40 + 160 * max(fits))


def test_where_all_fits_the_limit_is_what_bounds_it() -> None:
    border = Table(room=4000).run()
    assert border.best.position == 1.0 and border.beyond is None


def test_what_cannot_be_drawn_is_never_laid() -> None:
    table = Table(room=4000)
    border = table.run(reach=0.4)
    assert border.best.position == 0.4 and border.beyond is None
    assert max(p for p, _ in table.asked) <= 0.4


def test_the_first_that_does_not_fit_is_kept_with_the_piece_that_reaches_furthest() -> None:
    border = Table().run()
    assert border.beyond is not None and border.beyond.lay.over == "the back skirt"
    assert 0 < border.beyond.position - border.best.position <= 1.25 * FINEST + 1e-9


def test_near_the_border_it_tries_longer_than_far_from_it() -> None:
    table = Table()
    table.run()
    first, last = table.asked[0][1], table.asked[-2][1]
    assert last > 2 * first


def test_each_try_starts_from_what_is_known() -> None:
    starts: list[object] = []
    table = Table()

    def lay(position: float, seconds: float, start: Lay | None) -> Lay:
        starts.append(start.state if start else None)
        return table.lay(position, seconds, start)

    job = Job(lay, table.demand, table.room, lambda: table.now)
    largest(job, Lay(table.room, True, "least"), 1.0, 90.0)
    assert starts[0] == "least" and starts.count(None) == 1, "one fresh begin of the four tries at the border"


@pytest.mark.parametrize("seconds", [1.0, 10.0, 90.0, 600.0])
def test_it_keeps_to_its_time(seconds: float) -> None:
    table = Table()
    border = table.run(seconds)
    assert table.now <= seconds + 1e-6 and border.best.lay.fits
