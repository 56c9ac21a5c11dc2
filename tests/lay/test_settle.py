"""The compiled search: its arithmetic against Shapely, its layouts against the independent check."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon

from cutonce.geometry.motion import STILL, shifting, turning
from cutonce.lay.field import field_of
from cutonce.lay.first import first_layout
from cutonce.lay.nofit import no_fit
from cutonce.lay.overlap import depth, way_out
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Ring, Rule, Shape, Spot
from cutonce.lay.relax import relax
from cutonce.lay.settle import settle
from cutonce.lay.sweep import NOWHERE, allowed
from cutonce.lay.verify import verify


def shape_of(
    ring: Ring, along: Rule | None = None, across: Rule | None = None, turned: bool = False
) -> Shape:
    motion = turning(math.pi) if turned else STILL
    points = [motion(p) for p in ring]
    low = complex(min(p.real for p in points), min(p.imag for p in points))
    motion = shifting(-low).after(motion)
    return Shape(motion, tuple(motion(p) for p in ring), along, across)


def star(seed: int, corners: int = 9, size: float = 100.0) -> Ring:
    """A polygon with bays, round about the middle of its box."""
    chance = np.random.default_rng(seed)
    angles = np.linspace(0, math.tau, corners, endpoint=False)
    reach = size * (0.35 + 0.65 * chance.random(corners))
    return tuple(complex(cmath.rect(r, a)) for r, a in zip(reach, angles, strict=True))


def polygon(ring: Ring, at: complex = 0j) -> Polygon:
    return Polygon([((p + at).real, (p + at).imag) for p in ring])


def square(side: float) -> Ring:
    return (0j, complex(side), complex(side, side), side * 1j)


seeds = st.integers(0, 10_000)


@given(seeds, seeds, st.floats(-200, 200), st.floats(-200, 200))
def test_depth_is_the_shortest_way_out(one: int, two: int, x: float, y: float) -> None:
    a, b = shape_of(star(one)), shape_of(star(two, 7))
    problem = Problem(Bed(1000.0), (Blank("a", "a", (a,)), Blank("b", "b", (b,))))
    field, _, _ = field_of(problem)
    pair = field.shape[0] * len(field.width) + field.shape[1]
    found, out = depth(field, pair, x, y), np.zeros(2)
    assert way_out(field, pair, x, y, out) == found
    area = polygon(a.outline).intersection(polygon(b.outline, complex(x, y))).area
    assert (found > 1e-4) == (area > 0) or found < 1e-2 or area < 1e-2
    region = [polygon(ring) for ring in no_fit(a.outline, b.outline)]
    if found > 0:
        assert found == pytest.approx(min(r.exterior.distance(Point(x, y)) for r in region), abs=1e-5)
        just_out = complex(x, y) + (found + 1e-3) * complex(out[0], out[1])
        assert depth(field, pair, just_out.real, just_out.imag) < found + 1e-9


@given(st.floats(-50, 50), st.sampled_from([-1.0, 0.0, 7.0]), st.floats(-100, 100), st.floats(-5, 90))
def test_a_coordinate_keeps_its_rule(at: float, every: float, wanted: float, most: float) -> None:
    found = allowed(at, every, wanted, most)
    choices = [at + k * every for k in range(-30, 30)] if every > 0 else [at]
    fit = [c for c in choices if 0 <= c <= most]
    if found == NOWHERE:
        assert most < 0 or (every >= 0 and not fit)
    elif every < 0:
        assert found == min(max(wanted, 0.0), most)
    else:
        near = min(choices, key=lambda c: abs(c - found))
        assert abs(near - found) < 1e-6
        assert all(abs(found - wanted) <= abs(c - wanted) + 1e-6 for c in fit)


def test_two_squares_are_pushed_apart_on_the_shorter_way() -> None:
    blanks = tuple(Blank(k, k, (shape_of(square(10.0)),)) for k in "ab")
    field, _, _ = field_of(Problem(Bed(10.0), blanks))
    xs, ys, ways = np.array([20.0, 28.0]), np.zeros(2), np.array([0, 1])
    assert relax(field, 100.0, 10.0, 1e-4, 50, xs, ys, ways) == 0.0
    assert xs == pytest.approx([19.0, 29.0], abs=1e-3)
    assert ys == pytest.approx([0.0, 0.0])


def test_what_is_held_along_takes_the_push_across() -> None:
    held = Rule(20.0)
    blanks = tuple(Blank(k, k, (shape_of(square(10.0), along=held),)) for k in "ab")
    field, _, _ = field_of(Problem(Bed(50.0), blanks))
    xs, ys, ways = np.array([20.0, 20.0]), np.array([10.0, 19.0]), np.array([0, 1])
    assert relax(field, 100.0, 10.0, 1e-4, 50, xs, ys, ways) == 0.0
    assert list(xs) == [20.0, 20.0]
    assert ys[1] - ys[0] >= 10.0


def _settled(problem: Problem, start: Layout | None, seed: int, seconds: float = 0.4) -> list[Layout]:
    told: list[Layout] = []
    settle(problem, start, seconds, seed, told.append)
    return told


@pytest.mark.parametrize("seed", range(4))
def test_every_layout_told_is_legal_and_shorter_than_the_last(seed: int) -> None:
    """Rules, cloth to avoid, spacing and turned shapes all at once."""
    chance = np.random.default_rng(seed)
    avoid = tuple(tuple(p + complex(300 * k + 150, 200) for p in star(seed + k, 8, 30.0)) for k in range(2))
    blanks = []
    for k in range(8):
        ring = star(10 * seed + k, 6 + k % 4, 60 + 60 * chance.random())
        along = Rule(5.0, 40.0) if k == 1 else None
        across = Rule(0.0) if k in (2, 3) else Rule(3.0, 25.0) if k == 1 else None
        shapes = tuple(shape_of(ring, along, across, turned) for turned in (False, True))
        blanks.append(Blank(str(k), str(k), shapes if k % 3 else shapes[:1]))
    problem = Problem(Bed(400.0, None, avoid), tuple(blanks), spacing=4.0)
    told = _settled(problem, first_layout(problem), seed, 1.0)
    assert told
    assert all(not verify(problem, layout) for layout in told)
    assert all(b.length < a.length for a, b in pairwise(told))


def test_squares_that_fill_the_cloth_are_found() -> None:
    blanks = tuple(Blank(str(k), "square", (shape_of(square(100.0)),)) for k in range(6))
    problem = Problem(Bed(200.0), blanks)
    told = _settled(problem, None, 1, 2.0)
    assert not verify(problem, told[-1])
    assert told[-1].length == pytest.approx(300.0, abs=0.5)


def test_it_goes_on_from_a_start_that_overlaps() -> None:
    blanks = tuple(Blank(str(k), "square", (shape_of(square(100.0)),)) for k in range(4))
    problem = Problem(Bed(250.0), blanks)
    start = Layout(210.0, tuple(Spot(str(k), 0, complex(95 * (k // 2), 95 * (k % 2))) for k in range(4)))
    told = _settled(problem, start, 1)
    assert not verify(problem, told[-1])
    assert told[-1].length == pytest.approx(200.0, abs=0.1)


def test_a_blank_that_is_held_stays() -> None:
    held = shape_of(square(100.0), Rule(130.0), Rule(40.0))
    free = tuple(Blank(str(k), "star", (shape_of(star(k)), shape_of(star(k), turned=True))) for k in range(4))
    problem = Problem(Bed(300.0), (Blank("held", "square", (held,)), *free))
    told = _settled(problem, first_layout(problem), 2, 1.0)
    assert told
    for layout in told:
        assert {s.blank: s.at for s in layout.spots}["held"] == 130 + 40j
        assert not verify(problem, layout)


def test_an_outline_with_a_bay_holds_a_small_one() -> None:
    """A ring with a narrow mouth: the place in its bay is found, nothing overlaps."""
    frame = (0j, 100 + 0j, 100 + 100j, 52 + 100j, 52 + 80j, 80 + 80j, 80 + 20j, 20 + 20j, 20 + 80j, 48 + 80j)
    frame = (*frame, 48 + 100j, 100j)
    blanks = (Blank("frame", "f", (shape_of(frame),)), Blank("inner", "i", (shape_of(square(50.0)),)))
    problem = Problem(Bed(100.0), blanks)
    told = _settled(problem, None, 3, 1.0)
    assert not verify(problem, told[-1])
    assert told[-1].length == pytest.approx(100.0, abs=0.1)
