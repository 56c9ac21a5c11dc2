"""Stripes and checks at chosen places: measured on the cloth, in both layers where it is folded."""

from __future__ import annotations

import math
import re

import pytest
from lay.garments import arrow, engine, garment, laid, laid_polygon, of_block, panel, sound
from shapely import Point

from cutonce.cloth.cloth import Cloth, Flaw, Repeat
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.finishing.mirror import mirrored
from cutonce.geometry.motion import MIRROR, Motion
from cutonce.lay.asked import Asked, CentreAt, Held, SeamAt
from cutonce.lay.by_hand import held_where
from cutonce.lay.lay import lay
from cutonce.lay.plan import Plan

CHECK = Cloth("check", 1500.0, 1480.0, stripe_across=Repeat(48.0, 7.0), stripe_along=Repeat(70.0, 20.0))
BARS = Cloth("bars", 1500.0, 1480.0, stripe_along=Repeat(70.0, 20.0))
STRIPES = Cloth("stripes", 1500.0, 1480.0, stripe_across=Repeat(48.0, 7.0))
SIDE = Seam("side", Side("front", (Label("side", "side"),)), Side("back", (Label("side", "side"),)))


def phase(x: float, repeat: Repeat | None) -> float:
    assert repeat is not None
    return math.remainder(x - repeat.offset, repeat.every)


def hem_of_side(plan: Plan, key: str, edge: str) -> complex:
    """Where a side's sewing line ends at the hem, on the cloth: its end that lies lowest on the body."""
    one = laid(plan, key)
    lines = next(e.sewing for e in one.piece.edges if e.key == edge)
    return one.motion(min((lines[0].start, lines[-1].end), key=lambda z: z.imag))


@pytest.mark.parametrize("name", ["dress", "skirt"])
def test_bars_meet_at_the_side_seams_and_every_piece_of_them_lies_the_same_way(name: str) -> None:
    done, seams = of_block(name)
    plan = lay(done, BARS, None, seams, search=engine)
    sound(plan)
    front, back = ("front", "back") if name == "dress" else ("skirt front", "skirt back")
    for hand in ("left", "right"):
        one = hem_of_side(plan, front, f"{hand} side")
        two = hem_of_side(plan, f"{hand} {back}", "side")
        assert abs(math.remainder(one.real - two.real, 70.0)) < 1.0
    assert len(plan.matched) == 2 and all(m.matched and not m.why for m in plan.matched)
    ways = {round(arrow(laid(plan, k)).real, 6) for k in (front, f"left {back}", f"right {back}")}
    assert ways == {1.0}


def test_a_centre_front_lies_on_the_middle_of_a_stripe_and_side_seams_mirror() -> None:
    done, seams = of_block("skirt")
    plan = lay(done, CHECK, None, seams, search=engine)
    sound(plan)
    front = laid(plan, "skirt front")
    spots = [front.motion(n.sewing) for n in front.piece.notches if n.kind == "centre"]
    assert spots and max(abs(phase(z.imag, CHECK.stripe_across)) for z in spots) < 1.0
    for hand in ("left", "right"):
        a = phase(hem_of_side(plan, "skirt front", f"{hand} side").imag, CHECK.stripe_across)
        b = phase(hem_of_side(plan, f"{hand} skirt back", "side").imag, CHECK.stripe_across)
        assert min(abs(math.remainder(a - b, 48.0)), abs(math.remainder(a + b, 48.0))) < 1.0
    assert {(m.seam, m.notch) for m in plan.matched} >= {
        ("skirt front", "centre front"),
        ("left side", "hem"),
    }
    assert all(m.matched for m in plan.matched)


def test_a_whole_front_and_a_whole_back_mirror_each_other_at_both_sides() -> None:
    """Both 630 mm wide: the wearer's left lies right on the front, left on the back, so that both seams
    meet only if they mirror each other."""
    back = mirrored(panel("back", 315, 520, "fold"), MIRROR)
    done = garment(panel("front", 315, 500, "fold"), back)
    plan = lay(done, STRIPES, Asked(match=(SeamAt("side", "hem"),)), (SIDE,), search=engine)
    sound(plan)
    assert [(m.seam, m.matched) for m in plan.matched] == [("left side", True), ("right side", True)]


def test_she_may_choose_another_notch() -> None:
    done, seams = of_block("skirt")
    plan = lay(done, BARS, Asked(match=(SeamAt("side", "hip"),)), seams, search=engine)
    places = {}
    for key in ("skirt front", "left skirt back", "right skirt back"):
        one = laid(plan, key)
        places[key] = [
            one.motion(n.sewing).real for n in one.piece.notches if n.name == "hip" and "side" in n.edge
        ]
    for x in places["skirt front"]:
        for y in (*places["left skirt back"], *places["right skirt back"]):
            assert abs(math.remainder(x - y, 70.0)) < 1.0
    assert [(m.notch, m.matched) for m in plan.matched] == [("hip", True), ("hip", True)]


def test_a_centre_seam_is_matched_between_the_two_hands() -> None:
    done, seams = of_block("skirt")
    plan = lay(done, CHECK, Asked(match=(SeamAt("centre back", "hem"),)), seams, search=engine)
    assert [(m.seam, m.matched) for m in plan.matched] == [("centre back", True)]
    left, right = (hem_of_side(plan, f"{h} skirt back", "centre back") for h in ("left", "right"))
    assert abs(math.remainder(left.real - right.real, 70.0)) < 1.0


def test_what_is_told_is_measured_where_the_pieces_lie() -> None:
    done = garment(panel("front", 300, 500), panel("back", 320, 500))
    plan = lay(done, CHECK, Asked(match=()), (SIDE,), search=engine)
    assert plan.matched == () and not plan.findings
    away = Motion(-1j, 200 + 900j)
    asked = Asked(
        match=(SeamAt("side", "hem"),), held=(Held("back", away), Held("front", Motion(-1j, 13 + 400j)))
    )
    plan = lay(done, CHECK, asked, (SIDE,), search=engine)
    (told,) = plan.matched
    one, two = hem_of_side(plan, "front", "side"), hem_of_side(plan, "back", "side")
    assert told.off_along == pytest.approx(abs(math.remainder(one.real - two.real, 70.0)), abs=1e-6)
    a, b = phase(one.imag, CHECK.stripe_across), phase(two.imag, CHECK.stripe_across)
    across = min(abs(math.remainder(a - b, 48.0)), abs(math.remainder(a + b, 48.0)))
    assert told.off_across == pytest.approx(across, abs=1e-6)
    assert not told.matched and told.why and [f.code for f in plan.findings] == ["not-matched"]


def test_a_held_piece_stays_and_the_others_are_matched_to_it() -> None:
    done, seams = of_block("skirt")
    free = lay(done, BARS, None, seams, search=engine)
    where = held_where(free, "skirt front")
    moved = Held("skirt front", Motion(where.motion.turn, where.motion.shift + 333.0), 0)
    plan = lay(done, BARS, Asked(held=(moved,)), seams, search=engine)
    sound(plan)
    assert all(m.matched for m in plan.matched)


def test_pieces_held_opposite_ways_are_told_as_such() -> None:
    done = garment(panel("front", 300, 500), panel("back", 320, 500))
    held = (Held("front", Motion(-1j, 0 + 400j)), Held("back", Motion(1j, 1100 + 500j)))
    plan = lay(done, BARS, Asked(held=held), (SIDE,), search=engine)
    (told,) = plan.matched
    assert not told.matched and "opposite ways" in told.why


def test_seams_whose_places_differ_in_height_match_where_most_agree() -> None:
    """Front and back meet at the side and at the centre; the centre of the back is 5 mm higher at its hem."""
    both = Seam(
        "centre",
        Side("front", (Label("centre front", "centre front"),)),
        Side("back", (Label("centre front", "centre front"),)),
    )
    done = garment(panel("front", 300, 500), panel("back", 320, 500))
    asked = Asked(match=(SeamAt("side", "hem"), SeamAt("centre", "waist"), SeamAt("centre", "hem")))
    plan = lay(done, BARS, asked, (SIDE, both), search=engine)
    assert [m.matched for m in plan.matched] == [True, True, True]
    taller = garment(panel("front", 300, 500), panel("back", 320, 505))
    plan = lay(taller, BARS, asked, (SIDE, both), search=engine)
    told = {(m.seam, m.notch): m for m in plan.matched}
    off = told["centre", "waist"]
    assert not off.matched and off.off_along == pytest.approx(5.0, abs=0.01) and "differ" in off.why
    assert told["centre", "hem"].matched


def test_on_folded_cloth_both_layers_must_show_the_same() -> None:
    done, seams = of_block("skirt")
    on_stripe = Cloth("s", 1500.0, 1480.0, stripe_across=Repeat(50.0, 0.0))
    plan = lay(done, on_stripe, Asked(way="folded lengthwise"), seams, search=engine)
    sound(plan)
    assert all(m.matched for m in plan.matched) and len(plan.matched) == 3
    assert plan.sections[0].fold == 750.0
    beside = Cloth("s", 1500.0, 1480.0, stripe_across=Repeat(50.0, 11.0))
    plan = lay(done, beside, Asked(way="folded lengthwise"), seams, search=engine)
    sound(plan)
    assert plan.sections[0].fold == 761.0 and plan.sections[0].width == 739.0
    assert all(m.matched for m in plan.matched) and len(plan.matched) == 3
    plan = lay(done, beside, Asked(way="folded lengthwise", match=()), seams, search=engine)
    assert plan.sections[0].fold == 750.0 and plan.matched == ()


def test_flaws_lie_as_the_cloth_is_folded_beside_its_middle() -> None:
    done, seams = of_block("skirt")
    cloth = Cloth("s", 1500.0, 1480.0, stripe_across=Repeat(50.0, 11.0), flaws=(Flaw(300 + 861j, 40),))
    plan = lay(done, cloth, Asked(way="folded lengthwise"), seams, search=engine)
    sound(plan)
    assert min(laid_polygon(x).distance(Point(300, 100)) for x in plan.laid) > 39.98


def test_no_stripe_to_fold_on_is_refused() -> None:
    done, seams = of_block("skirt")
    cloth = Cloth("s", 700.0, 680.0, stripe_across=Repeat(1400.0, 0.0))
    with pytest.raises(CannotApply, match="no stripe lies near its middle to be folded on"):
        lay(done, cloth, Asked(way="folded lengthwise"), seams, search=engine)


def test_folded_crosswise_where_flaws_settle_the_fold_the_layers_may_differ() -> None:
    done, seams = of_block("skirt")
    cloth = Cloth("s", 1500.0, 1480.0, 4000.0, stripe_along=Repeat(70.0, 20.0), flaws=(Flaw(10 + 10j, 5),))
    plan = lay(done, cloth, Asked(way="folded crosswise"), seams, search=engine)
    assert all(m.matched for m in plan.matched)  # each side seam in its own layer
    asked = Asked(way="folded crosswise", match=(SeamAt("centre back", "hem"),))
    plan = lay(done, cloth, asked, seams, search=engine)
    assert "two layers" in plan.matched[0].why and plan.matched[0].off_along > 1


def test_folded_crosswise_the_fold_is_laid_on_the_middle_of_a_stripe() -> None:
    done, seams = of_block("skirt")
    plan = lay(done, BARS, Asked(way="folded crosswise"), seams, search=engine)
    sound(plan)
    assert abs(phase(plan.sections[0].end, BARS.stripe_along)) < 1e-6
    assert all(m.matched for m in plan.matched)


def test_part_folded_part_open_matches_over_both_parts() -> None:
    done = garment(panel("front", 280, 600, "fold"), panel("back", 300, 620))
    asked = Asked(way="part folded, part open")
    plan = lay(done, BARS, asked, (SIDE,), search=engine)
    sound(plan)
    assert {x.section for x in plan.laid} == {0, 1}
    assert plan.matched and all(m.matched for m in plan.matched)


def test_different_grains_are_told() -> None:
    done = garment(panel("front", 300, 500), panel("back", 320, 500, warp=1 + 1j, words="bias"))
    held = (Held("front", Motion(-1j, 13 + 400j)),)
    plan = lay(done, BARS, Asked(held=held), (SIDE,), search=engine)
    (told,) = plan.matched
    assert not told.matched and told.why == "cut on different grains: straight grain and bias"


@pytest.mark.parametrize(
    "match, says",
    [
        (SeamAt("sid", "hem"), "no seam 'sid'; closest: side (there are: "),
        (SeamAt("side", "knee"), "the seam 'side' has no place 'knee' on both its sides (it has: "),
        (CentreAt("frnt", "centre front"), "no piece 'frnt'"),
        (CentreAt("skirt front", "centre back"), "skirt front has no 'centre back' to lay on a stripe"),
    ],
)
def test_what_cannot_be_matched_is_refused_with_the_choices(match: SeamAt | CentreAt, says: str) -> None:
    done, seams = of_block("skirt")
    with pytest.raises(BadInput, match=re.escape(says)):
        lay(done, CHECK, Asked(match=(match,)), seams, search=engine)
