"""What the lay must know, each measured on the laid pieces themselves."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from lay.garments import (
    arrow,
    engine,
    example,
    garment,
    laid,
    laid_polygon,
    of_block,
    panel,
    problem_of,
    sound,
)
from shapely import Polygon, box
from shapely.geometry import Point as ShapelyPoint

from cutonce.cloth.cloth import Cloth, Flaw, Nap, Remnant, RightSide
from cutonce.finishing.enlarge import enlarged
from cutonce.geometry import path
from cutonce.lay.asked import Asked, AskedWay
from cutonce.lay.lay import lay
from cutonce.lay.plan import Laid, Plan

WIDE = Cloth("wool", 1500.0, 1480.0)


def fold_ends(one: Laid) -> list[complex]:
    assert one.piece.fold is not None
    return [one.motion(z) for c in one.piece.fold.path for z in (c.start, c.end)]


def test_halves_lie_on_the_lengthwise_fold() -> None:
    done, seams = of_block("dress")
    plan = lay(done, WIDE, Asked(way="folded lengthwise"), seams, search=engine)
    sound(plan)
    front = laid(plan, "front")
    assert front.on_fold and front.layers == 2
    assert max(abs(z.imag) for z in fold_ends(front)) < 0.1
    assert laid(plan, "back").layers == 2 and not laid(plan, "back").on_fold


def test_a_half_cut_across_lies_on_the_crosswise_fold() -> None:
    across = panel("yoke", 300, 400, "fold", warp=1 + 0j, words="cross grain")
    plan = lay(garment(across), WIDE, Asked(way="folded crosswise"), search=engine)
    sound(plan)
    assert plan.laid[0].on_fold
    assert max(abs(z.real - plan.sections[0].end) for z in fold_ends(plan.laid[0])) < 0.1
    assert plan.length == pytest.approx(2 * 300, abs=0.1)


def test_a_half_whose_fold_runs_the_other_way_is_opened_out() -> None:
    straight = panel("skirt", 300, 400, "fold")
    plan = lay(garment(straight), WIDE, Asked(way="folded crosswise"), search=engine)
    assert not plan.laid[0].on_fold and plan.laid[0].paper == "opened out"
    assert path.area(plan.laid[0].piece.cutting) == pytest.approx(2 * 300 * 400)
    assert [f.code for f in plan.findings] == ["cut-twice"]


@pytest.mark.parametrize("way", ["open", "folded lengthwise", "folded crosswise", "part folded, part open"])
@pytest.mark.parametrize("margin", [0.0, 25.0])
def test_flaws_are_clear_by_their_radius(way: AskedWay, margin: float) -> None:
    flaws = tuple(
        Flaw(complex(x, y), r)
        for x, y, r in [(150, 200, 40), (420, 1300, 25), (700, 760, 60), (1500, 300, 30)]
    )
    cloth = Cloth("stained", 1500.0, 1480.0, 3000.0, flaws=flaws)
    done, seams = example("a_line")
    plan = lay(done, cloth, Asked(way=way, margin=margin), seams, search=engine)
    sound(plan)
    met = 0
    for one in plan.laid:
        section = plan.sections[one.section]
        shape = laid_polygon(one)
        for flaw in flaws:
            for spot in on_table(flaw, section.way, section.end):
                assert shape.distance(ShapelyPoint(spot.real, spot.imag)) > flaw.radius - 0.02
                met += shape.distance(ShapelyPoint(spot.real, spot.imag)) < 300
    assert met  # the flaws lie among the pieces, not beside them


def on_table(flaw: Flaw, way: str, end: float) -> list[complex]:
    """Where a flaw lies on the table, and its image through a fold that it straddles."""
    match way:
        case "folded lengthwise":
            y = abs(flaw.at.imag - 750)
            return [complex(flaw.at.real, y), complex(flaw.at.real, -y)]
        case "folded crosswise":
            return [flaw.at, complex(2 * end - flaw.at.real, flaw.at.imag)]
        case _:
            return [flaw.at]


def test_bias_lies_at_45_degrees_to_the_warp() -> None:
    done, seams = example("stage_tunic")
    plan = lay(done, Cloth("silk", 1500.0, 1480.0), None, seams, search=engine)
    sound(plan)
    for one in plan.laid:
        up = one.motion.of_vector(1j)
        angle = math.degrees(cmath.phase(up)) % 90
        assert one.piece.grain.words == "bias" and angle == pytest.approx(45.0, abs=0.1)


@pytest.mark.parametrize(
    "nap, ways", [("none", {0, 90, 180, 270}), ("two-way", {0, 180}), ("one-way", {0})], ids=lambda x: str(x)
)
def test_only_on_plain_cloth_a_bias_piece_may_lie_on_the_other_diagonal(nap: Nap, ways: set[int]) -> None:
    bias = panel("sash", 200, 700, warp=1 + 1j, words="bias")
    problem, _ = problem_of(garment(bias), Cloth("c", 1500.0, 1480.0, nap=nap))
    angles = [cmath.phase(s.motion.of_vector(1 + 1j)) for s in problem.blanks[0].shapes]
    assert {round(math.degrees(a)) % 360 for a in angles} == ways


def test_two_of_a_pair_on_the_bias_keep_to_diagonals_that_mirror_each_other() -> None:
    pair = panel("sleeve", 300, 500, "pair", warp=1 + 1j, words="bias")
    problem, _ = problem_of(garment(pair), WIDE)
    ups = {
        b.key: {round(math.degrees(cmath.phase(s.motion.of_vector(1j)))) % 180 for s in b.shapes}
        for b in problem.blanks
    }
    assert ups == {"left sleeve": {45}, "right sleeve": {135}}


def test_on_one_way_nap_every_arrow_points_the_same_way() -> None:
    done, seams = example("cellist")
    plan = lay(done, Cloth("velvet", 1500.0, 1480.0, nap="one-way"), None, seams, search=engine)
    sound(plan)
    assert max(abs(arrow(x) - 1) for x in plan.laid) < 1e-6
    up = {round(x.motion.of_vector(1j).real, 3) for x in plan.laid}
    assert up == {1.0}


@pytest.mark.parametrize("way", ["open", "folded lengthwise"])
def test_one_way_nap_holds_for_halves_on_the_fold_and_for_pairs(way: AskedWay) -> None:
    done, seams = of_block("dress")
    plan = lay(done, Cloth("velvet", 1500.0, 1480.0, nap="one-way"), Asked(way=way), seams, search=engine)
    sound(plan)
    assert {round(arrow(x).real, 6) for x in plan.laid} == {1.0}


def test_a_pair_gives_both_hands_and_nothing_is_turned_over_on_one_sided_cloth() -> None:
    sleeve = panel("sleeve", 300, 500, "pair", slope=100)
    plan = lay(garment(sleeve), WIDE, search=engine)
    left, right = laid(plan, "left sleeve"), laid(plan, "right sleeve")
    assert not left.motion.mirror and not right.motion.mirror
    assert (left.paper, right.paper) == ("face up", "face down")
    assert (left.piece.wearer, right.piece.wearer) == ("left", "right")
    for one, x in ((left, 1), (right, -1)):
        spots = [e.sewing[0].start for e in one.piece.edges if e.key == "side"]
        assert x * spots[0].real > 0  # the side lies right of the centre on one, left of it on the other
        assert path.area(one.piece.cutting) == pytest.approx(path.area(sleeve.cutting))
    assert "Right sleeve" in right.piece.label[0] and "cut 1, right side up" in right.piece.label


@pytest.mark.parametrize("side, over", [("one", {False}), ("either", {False, True})])
def test_only_cloth_alike_on_both_sides_lets_a_piece_be_turned_over(side: RightSide, over: set[bool]) -> None:
    corner = panel("collar", 300, 300, slope=250)
    problem, _ = problem_of(garment(corner), Cloth("c", 1500.0, 1480.0, right_side=side))
    assert {s.motion.mirror for s in problem.blanks[0].shapes} == over


def test_shrinkage_makes_lengths_longer_along_and_across() -> None:
    done = garment(panel("front", 300, 500), panel("belt", 100, 600, warp=1 + 0j, words="cross grain"))
    plan = lay(done, Cloth("c", 1500.0, 1480.0, shrink_along=0.05, shrink_across=0.02), search=engine)
    sound(plan)
    for key, high, wide in (("front", 500 / 0.95, 300 / 0.98), ("belt", 600 / 0.98, 100 / 0.95)):
        low_x, low_y, high_x, high_y = path.bounds(laid(plan, key).piece.cutting)
        assert (high_x - low_x, high_y - low_y) == pytest.approx((wide, high))
        assert laid(plan, key).piece == enlarged(done.piece(key), 0.05, 0.02)  # as the paper is printed


def test_pieces_keep_the_spacing_and_the_margin_at_both_cut_ends() -> None:
    done, seams = example("a_line")
    plan = lay(done, WIDE, Asked(spacing=12.0, margin=30.0), seams, search=engine)
    sound(plan, 12.0)
    bounds = [laid_polygon(x).bounds for x in plan.laid]
    assert min(b[0] for b in bounds) == pytest.approx(30.0, abs=0.2)
    assert max(b[2] for b in bounds) == pytest.approx(plan.length - 30.0, abs=0.2)


def test_selvedges_are_cut_away_and_places_are_from_the_real_selvedge() -> None:
    cloth = Cloth("c", 1500.0, 1400.0)
    plan = lay(garment(panel("a", 1000, 300), panel("b", 380, 300)), cloth, search=engine)
    bounds = [laid_polygon(x).bounds for x in plan.laid]
    assert min(b[1] for b in bounds) > 50 - 0.01 and max(b[3] for b in bounds) < 1450 + 0.01
    assert min(b[1] for b in bounds) == pytest.approx(50, abs=0.1)


REMNANTS = (
    Remnant("corner", (0j, 800 + 0j, 1000 + 500j, 700 + 900j, 100 + 800j)),
    Remnant("notched", (0j, 900 + 0j, 900 + 400j, 450 + 200j, 400j)),
)


def test_remnants_are_used_first_and_nothing_leaves_them() -> None:
    cloth = Cloth("c", 1500.0, 1480.0, 2500.0, remnants=REMNANTS)
    done, seams = example("cellist")
    plan = lay(done, cloth, None, seams, search=engine)
    sound(plan)
    assert [s.name for s in plan.sections] == ["corner", "notched", "cloth"]
    assert all(any(x.section == i for x in plan.laid) for i in range(3))
    for one in plan.laid:
        section = plan.sections[one.section]
        for remnant in REMNANTS:
            if remnant.name == section.name:
                ring = [(z.real + section.start, z.imag) for z in remnant.outline]
                assert Polygon(ring).buffer(0.02).covers(laid_polygon(one))
    assert plan.length == pytest.approx(plan.sections[2].end - plan.sections[2].start)


def test_pieces_that_find_no_room_on_remnants_alone_are_told() -> None:
    cloth = Cloth("c", 1500.0, 1480.0, 0.0, remnants=REMNANTS)
    plan = lay(garment(panel("a", 500, 600), panel("b", 700, 700)), cloth, search=engine)
    stops = [f for f in plan.findings if f.severity == "stop"]
    assert [f.code for f in stops] == ["short-by"] and "no room on the remnants" in stops[0].message


def test_part_folded_part_open_lays_pairs_folded_and_singles_after_them() -> None:
    done = garment(
        panel("front", 280, 600, "fold"), panel("sleeve", 250, 500, "pair"), panel("pocket", 200, 220)
    )
    plan = lay(done, WIDE, Asked(way="part folded, part open"), search=engine)
    sound(plan)
    folded, open_ = plan.sections
    assert (folded.way, open_.way) == ("folded lengthwise", "open")
    assert folded.start == 0 and open_.start == folded.end and plan.length == pytest.approx(open_.end)
    assert (
        laid(plan, "pocket").section == 1 and laid(plan, "front").section == laid(plan, "sleeve").section == 0
    )
    assert not [f for f in plan.findings if f.code == "cut-twice"]


def test_singles_on_folded_cloth_are_told_as_cut_twice() -> None:
    done = garment(panel("front", 280, 600, "fold"), panel("pocket", 200, 220))
    plan = lay(done, WIDE, Asked(way="folded lengthwise"), search=engine)
    assert laid(plan, "pocket").layers == 2
    assert [(f.code, "pocket" in f.message) for f in plan.findings] == [("cut-twice", True)]
    wanted = 2 * 280 * 600 + 200 * 220  # the second pocket is not
    assert plan.share == pytest.approx(wanted / (plan.length * 1480))


def test_length_at_hand_that_is_too_short_is_told_with_by_how_much() -> None:
    plan = lay(
        garment(panel("a", 800, 900), panel("b", 800, 900)), Cloth("c", 1000.0, 1000.0, 1500.0), search=engine
    )
    short = next(f for f in plan.findings if f.code == "short-by")
    assert plan.length == pytest.approx(1802, abs=0.1)
    assert (short.expected_mm, short.found_mm) == (1500.0, pytest.approx(plan.length))
    assert "short by 30.2" in short.message


def test_what_is_left_lies_on_the_cloth_clear_of_pieces_and_with_them_makes_most_of_it() -> None:
    done, seams = example("cellist")
    cloth = Cloth("c", 1500.0, 1480.0, 2600.0, flaws=(Flaw(1000 + 700j, 50),))
    plan = lay(done, cloth, None, seams, search=engine)
    left = [Polygon([(z.real, z.imag) for z in ring]) for ring in plan.left]
    assert [p.area for p in left] == sorted((p.area for p in left), reverse=True)
    usable = box(0, 10, 2600, 1490)
    pieces = [laid_polygon(x) for x in plan.laid]
    for ring, p in zip(plan.left, left, strict=True):
        assert p.is_valid and p.exterior.is_ccw and len(ring) > 2
        assert usable.buffer(0.01).covers(p) and p.distance(ShapelyPoint(1000, 700)) > 49.9
        assert all(p.buffer(-0.05).disjoint(q) for q in pieces)
    assert sum(p.area for p in left) + sum(p.area for p in pieces) > 0.93 * usable.area
    assert plan.share == pytest.approx(sum(p.area for p in pieces) / (plan.length * 1480), rel=1e-3)


def test_cutting_order_runs_along_the_cloth_from_the_cut_end() -> None:
    done, seams = example("cellist")
    plan = lay(done, WIDE, None, seams, search=engine)
    starts = [round(laid_polygon(x).bounds[0], 0) for x in plan.laid]
    assert starts == sorted(starts)


def test_better_plans_are_told_whole() -> None:
    seen: list[Plan] = []
    done = garment(panel("front", 280, 600, "fold"), panel("pocket", 200, 220))
    plan = lay(done, WIDE, Asked(way="part folded, part open"), on_better=seen.append, search=engine)
    assert seen == [replace(plan, left=())] and plan.left


@pytest.mark.parametrize("for_all", [False, True])
def test_a_grain_tolerance_is_kept_and_each_piece_off_its_grain_is_told(for_all: bool) -> None:
    """A panel with a side that slants by 3 degrees, and a plain one; only where it is allowed may they lie
    so."""
    off = math.radians(3)
    done = garment(panel("slanted", 300, 500, slope=500 * math.tan(off)), panel("plain", 300, 500))
    asked = Asked(tolerance=off) if for_all else Asked(tolerances=(("slanted", off),))
    problem, plan = problem_of(done, WIDE, asked)
    sound(plan)
    for blank in problem.blanks:
        angles = [math.degrees(cmath.phase(s.motion.of_vector(1j))) for s in blank.shapes]
        allowed = {0.0, 3.0} if for_all or blank.key == "slanted" else {0.0}
        assert {round(abs(math.remainder(a, 180)), 6) for a in angles} == allowed
    told = {f.where for f in plan.findings if f.code == "off-grain"}
    assert told == {x.key for x in plan.laid if abs(arrow(x).imag) > 1e-3}


def test_a_quarter_round_is_told() -> None:
    plan = lay(
        garment(panel("belt", 1400, 60)), Cloth("c", 500.0, 480.0), Asked(cross=("belt",)), search=engine
    )
    assert [(f.code, f.where) for f in plan.findings] == [("quarter-round", "belt")]
    assert abs(arrow(laid(plan, "belt")).real) < 1e-9
