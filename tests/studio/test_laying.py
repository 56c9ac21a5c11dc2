"""Laying on one cloth again and again: area, what fits, what reaches furthest, where a lay starts."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from studio.area_laying import area
from studio.greedy import first_only
from studio.test_fullness import BODY, recipe

from cutonce.cloth.cloth import Cloth, Remnant
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.motion import Motion, shifting, turning
from cutonce.lay.asked import Asked
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Shape, Spot
from cutonce.recipe.free import settled
from cutonce.studio.fullness import fullest
from cutonce.studio.laying import ClothLaying, State, at_hand, carried
from cutonce.studio.prove import Proven, prove

LINEN = Cloth("linen", 1400.0, 1380.0, length=2000.0)


def design(position: float) -> Proven:
    return prove(settled(recipe(), BODY.names, position), BODY)


@pytest.fixture(scope="module")
def skirt() -> Proven:
    return design(0.0)


def test_the_demand_is_the_area_enlarged_less_remnants_over_the_usable_width(skirt: Proven) -> None:
    whole = sum(area(p) for p in skirt.finished.pieces)
    assert ClothLaying(LINEN).demand(skirt) == pytest.approx(whole / 1380)
    washed = replace(LINEN, shrink_along=0.04, shrink_across=0.03)
    assert ClothLaying(washed).demand(skirt) == pytest.approx(whole / 1380 / 0.96 / 0.97)
    rest = replace(LINEN, remnants=(Remnant("rest", (0j, 300 + 0j, 300 + 200j, 200j)),))
    assert ClothLaying(rest).demand(skirt) == pytest.approx((whole - 60_000) / 1380)


def test_no_lay_is_shorter_than_the_demand_and_it_says_whether_it_fits(skirt: Proven) -> None:
    laying = ClothLaying(LINEN, search=first_only)
    lay = laying.lay(skirt, 1.0, None, False)
    assert lay.fits and laying.demand(skirt) < lay.length <= LINEN.length and not lay.over
    short = ClothLaying(replace(LINEN, length=lay.length - 50), search=first_only).lay(
        skirt, 1.0, None, False
    )
    assert not short.fits and short.length == pytest.approx(lay.length)
    assert short.over in {p.key for p in skirt.finished.pieces} | {"left skirt back", "right skirt back"}


def test_a_lay_starts_from_the_earlier_one_of_the_same_pieces_with_another_seed(skirt: Proven) -> None:
    told: list[tuple[Layout | None, int]] = []

    def engine(problem: Problem, **how: Any) -> Layout:
        told.append((how.pop("start"), how["seed"]))
        return first_only(problem, **how)

    laying = ClothLaying(LINEN, search=engine)
    first = laying.lay(skirt, 1.0, None, True)
    assert isinstance(first.state, State)
    laying.lay(design(0.5), 1.0, first, True)
    assert told[0][0] is None and told[1][0] is not None
    assert set(told[1][0].spots) == set(first.state.parts[0][1].spots)
    assert told[0][1] != told[1][1]
    folded = ClothLaying(LINEN, Asked(way="folded lengthwise"), search=engine)
    folded.lay(skirt, 1.0, first, True)
    assert told[2][0] is not None and {s.blank for s in told[2][0].spots} == {
        p.key for p in skirt.finished.pieces
    }


def test_what_cannot_be_laid_says_so(skirt: Proven) -> None:
    with pytest.raises(CannotApply):
        ClothLaying(replace(LINEN, width=200.0, usable=200.0), search=first_only).lay(skirt, 1.0, None, True)


def test_cloth_to_be_bought_has_no_end(skirt: Proven) -> None:
    bought = replace(LINEN, length=None)
    assert ClothLaying(bought).room == math.inf
    assert at_hand(LINEN) is LINEN
    with pytest.raises(BadInput, match="everything fits it"):
        at_hand(bought)


def test_fullness_to_fit_on_real_lays_fills_the_cloth_and_no_more() -> None:
    of = recipe()

    def taken(position: float) -> float:
        return ClothLaying(LINEN, search=first_only).lay(design(position), 1.0, None, False).length

    room = taken(0.4) + 1.0
    found = fullest(of, BODY, ClothLaying(replace(LINEN, length=room), search=first_only), seconds=20.0)
    (position,) = (at for _, at in found.positions)
    assert found.lay.fits and found.lay.length <= room
    beyond = next((k / 20 for k in range(21) if taken(k / 20) > room), 1.0)
    assert position >= beyond - 0.05
    assert found.seconds < 10.0


def test_a_layout_is_carried_over_to_more_ways_to_lie_and_to_parts_of_a_piece() -> None:
    up, down = Motion(), turning(math.pi)
    square = (0j, 10 + 0j, 10 + 10j, 10j)
    was = Problem(Bed(50.0), (Blank("front", "front", (Shape(up, square), Shape(down, square))),))
    old = Layout(40.0, (Spot("front", 1, 30 + 5j),))
    over = replace(up, mirror=True)
    more = tuple(Shape(m, square) for m in (up, over, turning(0.03), down, turning(math.pi + 0.03)))
    (spot,) = (carried(replace(was, blanks=(Blank("front", "front", more),)), was, old) or old).spots
    assert spot == Spot("front", 3, 30 + 5j)
    parts = (
        Blank("front", "front", (Shape(down.after(shifting(0j)), square),)),
        Blank("side front", "side front", (Shape(replace(down, shift=-4j), square),)),
    )
    made = carried(replace(was, blanks=parts), was, old)
    assert made is not None and made.spots[1] == Spot("side front", 0, 30 + 9j)
    assert carried(replace(was, blanks=(Blank("collar", "collar", more),)), was, old) is None
