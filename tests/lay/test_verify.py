from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lay.problems import blank, disc, rectangle, rings
from shapely import Point, Polygon

from cutonce.errors import Finding
from cutonce.geometry.motion import turning
from cutonce.lay.clearance import depth, polygon_of
from cutonce.lay.problem import Bed, Layout, Problem, Ring, Rule, Spot
from cutonce.lay.verify import Fine, Placed, verify, verify_placed

TWO = Problem(
    Bed(100.0), (blank("left", rectangle(60, 100), (0.0,)), blank("right", rectangle(40, 50), (0.0,)))
)


def laid(left: complex, right: complex, length: float = 100.0) -> Layout:
    return Layout(length, (Spot("left", 0, left), Spot("right", 0, right)))


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return sorted(f.code for f in findings)


def test_pieces_that_touch_are_fine() -> None:
    assert verify(TWO, laid(0j, 60 + 0j)) == ()


def test_an_overlap_of_two_hundredths_is_found_and_measured() -> None:
    (finding,) = verify(TWO, laid(0j, 59.98 + 10j, 99.98))
    assert finding.code == "overlap" and finding.found_mm == pytest.approx(0.02, abs=1e-3)
    assert verify(TWO, laid(0j, 59.995 + 10j, 99.995)) == ()


def test_a_point_that_pokes_in_is_found_however_small_its_area() -> None:
    spike = (0j, 50 + 1j, 50 - 1j)
    problem = Problem(Bed(100.0), (blank("left", rectangle(60, 100), (0.0,)), blank("right", spike, (0.0,))))
    tip = Layout(109.98, (Spot("left", 0, 0j), Spot("right", 0, 59.98 + 40j)))
    (finding,) = verify(problem, tip)
    assert finding.code == "overlap" and finding.found_mm == pytest.approx(0.02, abs=1e-3)


@pytest.mark.parametrize("at", [0j, 5 + 5j])
def test_a_piece_within_or_just_upon_another_is_found(at: complex) -> None:
    problem = Problem(
        Bed(100.0), (blank("left", rectangle(60, 90), (0.0,)), blank("right", rectangle(60, 90), (0.0,)))
    )
    layout = Layout(60.0 + at.real, (Spot("left", 0, 0j), Spot("right", 0, at)))
    assert codes(verify(problem, layout)) == ["overlap"]


@pytest.mark.parametrize(
    ("left", "right", "length"),
    [(-0.02 + 0j, 60 + 0j, 100.0), (-0.02j, 60 + 0j, 100.0), (0.02j, 60 + 0j, 100.0)],
)
def test_two_hundredths_off_the_bed_are_found(left: complex, right: complex, length: float) -> None:
    assert codes(verify(TWO, laid(left, right, length))) == ["off-the-bed"]


def test_past_the_length_is_off_the_bed() -> None:
    short = replace(TWO, bed=Bed(100.0, 99.98))
    assert codes(verify(short, laid(0j, 60 + 0j))) == ["off-the-bed"]


def test_spacing_is_measured() -> None:
    spaced = replace(TWO, spacing=5.0)
    assert verify(spaced, laid(0j, 65 + 0j, 105.0)) == ()
    (finding,) = verify(spaced, laid(0j, 64.98 + 0j, 104.98))
    assert finding.code == "too-near" and finding.found_mm == pytest.approx(4.98)


def test_a_flaw_is_kept_clear() -> None:
    flawed = replace(TWO, bed=Bed(100.0, avoid=(disc(80 + 80j, 20.0),)))
    assert verify(flawed, laid(0j, 60 + 0j)) == ()
    assert codes(verify(flawed, laid(0j, 60 + 20j))) == ["on-a-flaw"]


def test_a_broken_rule_is_found() -> None:
    ruled = Problem(Bed(100.0), (blank("left", rectangle(60, 40), (0.0,), Rule(3.0, 20.0), Rule(0.0)),))
    good = Layout(103.0, (Spot("left", 0, 43 + 0j),))
    assert verify(ruled, good) == ()
    assert codes(verify(ruled, Layout(103.02, (Spot("left", 0, 43.02 + 0j),)))) == ["rule-broken"]
    assert codes(verify(ruled, Layout(103.0, (Spot("left", 0, 43 + 0.02j),)))) == ["rule-broken"]


def test_every_blank_once() -> None:
    assert codes(verify(TWO, Layout(60.0, (Spot("left", 0, 0j),)))) == ["not-once"]
    twice = (Spot("left", 0, 0j), Spot("right", 0, 60 + 0j), Spot("right", 0, 60 + 50j))
    assert codes(verify(TWO, Layout(100.0, twice))) == ["not-once"]
    other = (Spot("left", 0, 0j), Spot("right", 0, 60 + 0j), Spot("other", 0, 0j))
    assert codes(verify(TWO, Layout(100.0, other))) == ["unknown-blank"]
    assert codes(verify(TWO, Layout(60.0, (Spot("left", 0, 0j), Spot("right", 1, 60 + 0j))))) == [
        "unknown-shape"
    ]
    nowhere = (Spot("left", 0, 0j), Spot("right", 0, complex(math.nan, 0)))
    assert codes(verify(TWO, Layout(60.0, nowhere))) == ["no-place"]


def test_a_length_that_is_not_true_is_found() -> None:
    assert codes(verify(TWO, laid(0j, 60 + 0j, 99.0))) == ["length-untrue"]


def test_an_outline_that_crosses_itself_is_found() -> None:
    bow = Problem(Bed(100.0), (blank("bow", (0j, 50 + 50j, 50 + 0j, 50j), (0.0,)),))
    assert codes(verify(bow, Layout(50.0, (Spot("bow", 0, 0j),)))) == ["bad-outline"]


def test_a_turned_grain_is_found_on_the_finer_ring() -> None:
    ring = rectangle(60, 40)
    plain = Problem(Bed(100.0), (blank("left", ring, (0.0, 180.0)),))
    layout = Layout(60.0, (Spot("left", 1, 0j),))
    assert verify(plain, layout, {"left": Fine(ring)}) == ()
    assert codes(verify(plain, layout, {"left": Fine(ring, ways=(0.0,))})) == ["grain-off"]
    shape = plain.blanks[0].shapes[1]
    askew = replace(shape, motion=turning(math.radians(0.12)).after(shape.motion))
    turned = replace(plain, blanks=(replace(plain.blanks[0], shapes=(askew, askew)),))
    assert "grain-off" in codes(verify(turned, layout, {"left": Fine(ring)}))


def test_finer_rings_show_what_thin_ones_hide() -> None:
    fine = Fine((0j, 60 + 0j, 60.05 + 50j, 60 + 100j, 100j))
    assert codes(verify(TWO, laid(0j, 60 + 0j), {"left": fine})) == ["overlap"]


@given(rings(), rings(), st.floats(0, math.tau))
def test_depth_is_how_far_the_deepest_point_lies_within(a: Ring, b: Ring, way: float) -> None:
    """Against the corners of the common part: each is no deeper than the depth, and none is missed."""
    one, other = polygon_of(a), polygon_of(tuple(p + 60 * turning(way).turn for p in b))
    assert one is not None and other is not None
    common = one.intersection(other)
    found = depth(one, other)
    corners = [p for part in getattr(common, "geoms", [common]) for p in part.exterior.coords]
    deepest = max(max(one.boundary.distance(Point(p)), other.boundary.distance(Point(p))) for p in corners)
    assert found >= deepest * (1 - 0.01) - 1e-6


@given(rings(), rings(), st.integers(0, 20))
def test_a_piece_pushed_two_hundredths_into_another_is_found(a: Ring, b: Ring, side: int) -> None:
    """A corner pushed straight onto a side: legal until it touches, told when it is in by 0.02 mm."""
    corners = [complex(*p) for p in Polygon([(p.real, p.imag) for p in a]).convex_hull.exterior.coords[:-1]]
    if Polygon([(p.real, p.imag) for p in corners]).exterior.is_ccw:
        corners.reverse()
    p, q = corners[side % len(corners) - 1], corners[side % len(corners)]
    out = 1j * (q - p) / abs(q - p)
    tip = min(b, key=lambda p: (out.conjugate() * p).real)
    for further, told in ((-0.001, []), (0.005, []), (0.02, ["overlap"])):
        moved = tuple(z - tip + (p + q) / 2 - further * out for z in b)
        placed = [Placed("hull", tuple(500 + 500j + z for z in corners))]
        placed.append(Placed("other", tuple(500 + 500j + z for z in moved)))
        assert codes(tuple(verify_placed(placed, Bed(1000.0)))) == told
