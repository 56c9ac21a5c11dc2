"""Strips from leftovers: each lies on cloth, true to width and bias, and joined it is as long as asked."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon

from cutonce.cloth.cloth import Cloth, Repeat
from cutonce.finishing.finished import CutRow
from cutonce.lay.bands import BIAS, WARP, slots
from cutonce.lay.continuous import continuous, real, whole_rounds
from cutonce.lay.leftovers import Leftover, leftovers, within
from cutonce.lay.plan import Plan, Section
from cutonce.lay.problem import Ring
from cutonce.lay.single_strips import LEAST_PART_MM, most_from, single_strips
from cutonce.lay.strip_needs import Block, CutStrip, Need, Part, needs
from cutonce.lay.strips import Strips, Width, cut_strips, strips_from

JOIN = 6.0
CLOTH = Cloth("lawn", 1400.0, 1380.0)
NAPPED = Cloth("velvet", 1400.0, 1380.0, nap="one-way")


def rectangle(x: float, y: float, width: float, height: float) -> Ring:
    return (complex(x, y), complex(x + width, y), complex(x + width, y + height), complex(x, y + height))


def poly(ring: Ring) -> Polygon:
    return Polygon([(z.real, z.imag) for z in ring])


def binding(width: float, length: float, closed: bool = False, row: int = 0) -> Need:
    return Need(row, "bias binding", f"edge {row}", "bias", width, length, closed, int(closed))


@st.composite
def areas(draw: st.DrawFn) -> Ring:
    """Star-shaped areas, mostly hollow somewhere, somewhere on the cloth."""
    n = draw(st.integers(3, 14))
    size = draw(st.floats(80, 500))
    radii = [draw(st.floats(0.3, 1.0)) * size for _ in range(n)]
    middle = complex(draw(st.floats(0, 2000)), draw(st.floats(0, 1000)))
    turn = draw(st.floats(0, 6))
    return tuple(middle + r * cmath.exp(1j * (turn + 2 * math.pi * k / n)) for k, r in enumerate(radii))


@st.composite
def asked(draw: st.DrawFn) -> tuple[Need, ...]:
    widths = draw(st.lists(st.floats(15, 60), min_size=1, max_size=2))
    return tuple(
        binding(draw(st.sampled_from(widths)), draw(st.floats(60, 900)), draw(st.booleans()), row)
        for row in range(draw(st.integers(1, 4)))
    )


def parts_of(widths: Iterable[Width]) -> list[tuple[CutStrip, Part]]:
    return [(s, p) for w in widths for s in w.chosen.strips for p in s.parts]


def blocks_of(widths: Iterable[Width]) -> list[Block]:
    return [b for w in widths for b in w.chosen.blocks]


def check_on_cloth(rings: list[tuple[int, str, Ring]], left: tuple[Leftover, ...]) -> None:
    """Inside the area it says, and no two over each other, by an independent library."""
    outlines = {(a.number, a.layer): poly(a.rings[0]) for a in left}
    for number, layer, ring in rings:
        assert outlines[number, layer].buffer(0.01).contains(poly(ring))
    for (n, one_layer, one), (m, two_layer, two) in combinations(rings, 2):
        if (n, one_layer) == (m, two_layer):
            assert poly(one).intersection(poly(two)).area < 0.01


def check_true(need: Need, part: Part) -> None:
    """Width exact, sides at 45 degrees to the grain, ends square to the strip or on the grain."""
    a, b, c, d = part.ring
    along = (b - a) / abs(b - a)
    assert math.degrees(abs(cmath.phase(along**2))) == pytest.approx(90, abs=0.2)
    assert abs(b - a) == pytest.approx(part.length, abs=1e-6) == pytest.approx(abs(c - d), abs=1e-6)
    assert (
        LineString([(a.real, a.imag), (b.real, b.imag)]).distance(
            LineString([(c.real, c.imag), (d.real, d.imag)])
        )
        == pytest.approx(need.width, abs=0.01)
        or part.length < need.width
    )
    assert ((d - a) * along.conjugate()).imag == pytest.approx(need.width, abs=1e-6)
    assert poly(part.ring).exterior.is_ccw


def check_as_long_as_asked(strip: CutStrip, join: float) -> None:
    """Sewn together it has its length: each join takes 2 sqrt 2 allowances, ends that slant a width."""
    need = strip.need
    taken = strip.joins * 2 * math.sqrt(2) * join
    total = sum(p.length for p in strip.parts) - taken
    ends = {
        round(math.degrees(abs(cmath.phase((p.ring[3] - p.ring[0]) / (p.ring[1] - p.ring[0])))))
        for p in strip.parts
    }
    square = ends == {90}
    assert square or ends in ({45}, {135})
    assert strip.joins == len(strip.parts) - (0 if need.closed else 1)
    if square:
        assert len(strip.parts) == 1 and not need.closed
    free = 0.0 if need.closed or square else need.width
    spare = total - free - need.length
    least = max(LEAST_PART_MM, need.width)
    assert -1e-6 < spare < least
    if len(strip.parts) == 1:
        assert spare < max(1e-6, least - need.length)


@settings(max_examples=25)
@given(st.lists(areas(), min_size=1, max_size=3), asked(), st.sampled_from([CLOTH, NAPPED]))
def test_laws_of_strips(rings: list[Ring], wanted: tuple[Need, ...], cloth: Cloth) -> None:
    left = tuple(Leftover(k, (r,)) for k, r in enumerate(rings, start=1))
    done = strips_from(wanted, left, cloth, JOIN)
    cut = parts_of(done.widths)
    where = [(p.leftover, p.layer, p.ring) for _, p in cut]
    where += [(b.leftover, b.layer, b.ring) for b in blocks_of(done.widths)]
    check_on_cloth(where, left)
    for strip, part in cut:
        check_true(strip.need, part)
    for strip in {id(s): s for s, _ in cut}.values():
        check_as_long_as_asked(strip, JOIN)
        slants = {
            cmath.phase((p.ring[3] - p.ring[0]) / (p.ring[1] - p.ring[0])) > math.pi / 2 for p in strip.parts
        }
        assert len(slants) == 1
        if cloth is NAPPED:
            assert len({round(cmath.phase(p.ring[1] - p.ring[0]), 6) for p in strip.parts}) == 1
    served = [s.need for w in done.widths for s in w.chosen.strips]
    served += [n for b in blocks_of(done.widths) for n in b.serves]
    assert sorted([*served, *done.unmet], key=lambda n: n.row) == list(wanted)
    for width in done.widths:
        for way in filter(None, (width.chosen, width.other)):
            assert way.wasted_mm2 > -1e-6
            assert sum(n.length for n in served if n.width == width.width) * width.width <= sum(
                poly(r).area for r in rings
            )


@settings(max_examples=40)
@given(areas(), st.floats(15, 60))
def test_an_area_never_gives_more_than_area_over_width(ring: Ring, width: float) -> None:
    most = most_from(Leftover(1, (ring,)), width, JOIN)
    check_on_cloth([(1, "", p.ring) for p in most.parts], (Leftover(1, (ring,)),))
    for part in most.parts:
        check_true(most.need, part)
    assert most.need.length <= poly(ring).area / width


@settings(max_examples=40)
@given(areas(), st.floats(15, 60), st.sampled_from([0, 1, -1]), st.sampled_from([*BIAS, WARP]))
def test_stretches_of_a_band_are_as_long_as_can_be(
    ring: Ring, width: float, lean: int, direction: complex
) -> None:
    """Each lies inside; 0.1 mm longer it does not."""
    whole = poly(ring)
    for slot in list(slots((ring,), direction, width, lean))[:40]:
        assert whole.buffer(1e-4).contains(poly(slot.ring))
        for longer in (slot.cut(slot.length + 0.1), slot.cut(slot.length + 0.1, at_end=True)):
            assert not whole.contains(poly(longer.ring))


def test_hole_and_strips_already_cut_are_kept_clear() -> None:
    area = Leftover(1, (rectangle(0, 0, 300, 300), rectangle(100, 100, 100, 100)))
    found = list(slots(area.rings, WARP, 120, 0))
    assert {(s.low, s.start, s.end) for s in found if s.low in (60, 100)} >= {(60.0, 0.0, 100.0)}
    assert all(poly(s.ring).intersection(poly(area.rings[1])).area < 1e-6 for s in found)


def test_a_ring_over_its_own_join_and_a_strip_with_free_ends() -> None:
    """450 mm round: one part, one join, 17 mm for it. Free ends are cut square: no join, no more length."""
    left = (Leftover(1, (rectangle(0, 0, 500, 500),)),)
    done = strips_from((binding(32, 450, closed=True), binding(32, 450, row=1)), left, CLOTH, JOIN)
    (ring, free) = sorted((s for s in done.widths[0].chosen.strips), key=lambda s: s.need.row)
    assert (len(ring.parts), ring.joins) == (1, 1)
    assert ring.parts[0].length == pytest.approx(450 + 2 * math.sqrt(2) * JOIN)
    assert (len(free.parts), free.joins) == (1, 0)
    assert free.parts[0].length == pytest.approx(450)
    assert not done.unmet and done.more is None and not done.findings


def test_parts_of_a_joined_strip_are_no_stubs() -> None:
    """660 from a square whose longest strip with slanting ends is 620: not 620 and a stub of 89, but 609
    and 100."""
    side = (620 + 64) / math.sqrt(2)
    done, unmet, _ = single_strips(
        [binding(32, 660)], [Leftover(1, (rectangle(0, 0, side, side),))], JOIN, False
    )
    assert not unmet
    (strip,) = done
    assert sorted(p.length for p in strip.parts) == [
        pytest.approx(LEAST_PART_MM),
        pytest.approx(692 + 2 * math.sqrt(2) * JOIN - LEAST_PART_MM),
    ]


def test_both_bias_directions_are_used_on_plain_cloth() -> None:
    """Two slim leftovers, one along each bias: a joined strip takes a part of each, but with a nap not."""
    slim = rotate(Polygon([(0, 0), (400, 0), (400, 45), (0, 45)]), 45, origin=(0, 0))
    other = rotate(Polygon([(0, 0), (400, 0), (400, 45), (0, 45)]), -45, origin=(0, 0))
    left = tuple(
        Leftover(k, (tuple(complex(x, y) for x, y in p.exterior.coords[:-1]),))
        for k, p in enumerate((slim, other), start=1)
    )
    plain, unmet, _ = single_strips([binding(40, 500)], left, JOIN, same_way=False)
    assert not unmet and {p.leftover for p in plain[0].parts} == {1, 2}
    assert single_strips([binding(40, 500)], left, JOIN, same_way=True)[1]


def test_straight_and_cross_strips_are_rectangles_on_the_grain() -> None:
    rows = [
        CutRow("casing", "straight strip", "waist", 40.0, 480.0, 1),
        CutRow("casing", "cross strip", "wrist", 50.0, 480.0, 2),
        CutRow("cord", "cord", "waist", 0.0, 900.0, 1),
    ]
    wanted = needs(rows)
    assert [(n.grain, n.copy, n.copies) for n in wanted] == [
        ("straight", 1, 1),
        ("cross", 1, 2),
        ("cross", 2, 2),
    ]
    left = (Leftover(1, (rectangle(0, 0, 500, 160),)), Leftover(2, (rectangle(0, 200, 500, 45),)))
    done = strips_from(wanted, left, CLOTH, JOIN)
    by_grain = {w.grain: w for w in done.widths}
    (straight,) = by_grain["straight"].chosen.strips
    assert straight.parts[0].ring[1] - straight.parts[0].ring[0] == pytest.approx(480)
    for strip in by_grain["cross"].chosen.strips:  # 480 long in parts across a leftover 160 wide
        assert len(strip.parts) >= 4
        assert all((p.ring[1] - p.ring[0]).real == pytest.approx(0) for p in strip.parts)
        assert sum(p.length for p in strip.parts) == pytest.approx(
            480 + 2 * JOIN * strip.joins, abs=LEAST_PART_MM
        )
    check_on_cloth([(p.leftover, p.layer, p.ring) for _, p in parts_of(done.widths)], left)


def test_joins_of_the_list_are_taken_off_and_shrinkage_is_added() -> None:
    """500 with one join and the closing one is 466 of strip; 5 % shrinkage makes it 490.6."""
    row = CutRow("bias binding", "bias strip", "armhole", 32.0, 500.0, 2, joins=2, closed=True)
    plain = needs([row])
    assert [n.copy for n in plain] == [1, 2] and plain[0].closed
    assert plain[0].length == pytest.approx(500 - 2 * 2 * math.sqrt(2) * 6)
    shrinks = needs([row], Cloth("linen", 1400, 1380, shrink_along=0.05, shrink_across=0.03))
    assert shrinks[0].length == pytest.approx(plain[0].length / 0.95)
    assert shrinks[0].width == pytest.approx(32 / 0.95)


def test_too_little_says_how_much_more_cloth() -> None:
    wanted = (binding(32, 600, True), binding(32, 700, row=1))
    done = strips_from(wanted, (Leftover(1, (rectangle(0, 0, 60, 60),)),), CLOTH, JOIN)
    assert set(done.unmet) == set(wanted)
    assert done.more and done.few
    assert done.more.length < done.few.length and done.more.joins > done.few.joins == 1
    assert done.more.buy % CLOTH.sold_by == 0 and 0 <= done.more.buy - done.more.length < CLOTH.sold_by
    for more in (done.more, done.few):
        new = (Leftover(0, (rectangle(0, 0, more.buy, CLOTH.usable),)),)
        where = [(p.leftover, p.layer, p.ring) for _, p in parts_of(more.widths)]
        check_on_cloth(where + [(b.leftover, b.layer, b.ring) for b in blocks_of(more.widths)], new)
        assert not any(w.chosen.unmet for w in more.widths)
    (said,) = done.findings
    assert said.code == "strips-short" and "more at full width" in said.message
    shorter = (Leftover(1, (rectangle(0, 0, done.more.length - 10, CLOTH.usable),)),)
    assert strips_from(wanted, shorter, CLOTH, JOIN).unmet, "1 cm less would have done"


def test_strips_wider_than_the_cloth_are_refused_in_words() -> None:
    done = strips_from((binding(500, 900),), (), Cloth("ribbon", 100, 90), JOIN)
    assert done.more is None and done.few is None
    assert done.findings[0].code == "no-cloth-for-strips"


def test_nothing_asked_and_nothing_left() -> None:
    assert strips_from((), (), CLOTH, JOIN) == Strips(())


def test_continuous_from_a_block_counted_line_by_line() -> None:
    """The block of 3 m of 4 cm strip: rounds and lengths as drawn on the cloth."""
    left = (Leftover(1, (rectangle(0, 0, 600, 600),)),)
    (block,), unmet, rest = continuous([binding(40, 3000)], left, JOIN)
    assert not unmet and poly(rest[0].rings[1]).equals(poly(block.ring))
    assert block.gives == pytest.approx(3040)
    assert block.gives * 40 <= block.long * block.height == pytest.approx(poly(block.ring).area)
    a, b, *_ = block.ring
    assert abs(b - a) == pytest.approx(block.long) and abs((b - a).real * (b - a).imag) < 1e-6
    assert block.rounds == whole_rounds(block.long - (2 * JOIN if block.seams == 2 else 0), 40)


@settings(max_examples=40)
@given(st.floats(150, 900), st.floats(150, 900), st.floats(20, 60), st.floats(3, 10))
def test_whole_rounds_never_give_more_than_area_over_width(
    a: float, b: float, width: float, join: float
) -> None:
    assert real(a, b, width, join) <= (a - 2 * join) * (b - 2 * join) / width + 1e-6


def test_joins_in_a_continuous_strip_by_drawing_it() -> None:
    """A square's strip crosses the first seam in every round: the lines of the tube drawn and counted."""
    from cutonce.lay.continuous import joins

    width, join = 40.0, 6.0
    for long, height in ((368.0, 368.0), (520.0, 300.0), (700.0, 200.0)):
        rounds = whole_rounds(long - 2 * join, width)
        inner, high, step = long - 2 * join, height - 2 * join, width * math.sqrt(2)
        strips = [
            Polygon(
                [(k * step, 0), ((k + 1) * step, 0), ((k + 1) * step + high, high), (k * step + high, high)]
            )
            for k in range(rounds)
        ]
        seam = LineString([(inner, 0), (inner, high)])
        crossed = sum(s.intersection(seam).length > 1e-6 for s in strips)
        exact = rounds * step + 2 * join  # the block as it is cut has no half strip over
        if abs(exact - long) < 1e-6 or inner - rounds * step < 1e-6:
            assert joins(rounds, long, height, width, join, 2) == rounds - 1 + crossed
        assert joins(rounds, exact, height, width, join, 2) == rounds - 1 + sum(
            s.intersection(LineString([(rounds * step, 0), (rounds * step, high)])).length > 1e-6
            for s in strips
        )


def folded(cloth: Cloth, ring: Ring) -> Plan:
    return Plan(cloth, (Section("fold", "folded lengthwise", 0, 1500, 700),), (), 1500, 0.7, (ring,))


def test_folded_cloth_gives_from_both_layers() -> None:
    """A leftover on folded cloth is there twice; on open cloth once."""
    ring = rectangle(100, 100, 300, 60)
    upper, lower = leftovers(folded(CLOTH, ring))
    assert (upper.layer, lower.layer) == ("upper", "lower")
    assert (upper.face, lower.face) == (-1, 1)
    opened = Plan(CLOTH, (Section("open", "open", 0, 1500, 1400),), (), 1500, 0.7, (ring,))
    assert [a.layer for a in leftovers(opened)] == [""]


@pytest.mark.parametrize("cloth", [CLOTH, NAPPED])
def test_parts_of_two_layers_fit_each_other_right_side_up(cloth: Cloth) -> None:
    """A strip of one part from each layer: what is drawn on the upper one is mirrored, so that, turned right
    side up, both slant alike, and with a nap run along the same bias."""
    ring = rectangle(100, 100, 170, 170)
    done = cut_strips(folded(cloth, ring), [CutRow("bias binding", "bias strip", "neck", 30.0, 300.0, 1)])
    (strip,) = done.widths[0].chosen.strips
    assert sorted(p.layer for p in strip.parts) == ["lower", "upper"]
    seen = [p.ring if p.layer == "lower" else tuple(z.conjugate() for z in p.ring) for p in strip.parts]
    slants = {
        round(((r[3] - r[0]) / (r[1] - r[0])).imag * ((r[3] - r[0]) / (r[1] - r[0])).real, 6) > 0
        for r in seen
    }
    assert len(slants) == 1
    if cloth is NAPPED:
        assert len({round(cmath.phase((r[1] - r[0]) ** 2), 6) for r in seen}) == 1


def test_a_fine_outline_is_thinned_to_the_inside() -> None:
    circle = tuple(200 * cmath.exp(2j * math.pi * k / 400) for k in range(400))
    (thin,) = within(circle)
    assert len(thin) < 140
    assert poly(circle).contains(poly(thin))
    assert poly(thin).area > 0.99 * poly(circle).area


def test_stripes_keep_parts_one_way() -> None:
    striped = Cloth("stripe", 1400, 1380, stripe_across=Repeat(40))
    slim = tuple(
        400 * cmath.exp(0.25j * math.pi) * x + 45j * cmath.exp(0.25j * math.pi) * y
        for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))
    )
    left = (Leftover(1, (slim,)), Leftover(2, (tuple(z.conjugate() for z in reversed(slim)),)))
    assert strips_from((binding(40, 500),), left, striped, JOIN).unmet
    assert not strips_from((binding(40, 500),), left, CLOTH, JOIN).unmet


def test_the_smallest_leftover_with_room_is_used_first() -> None:
    left = (Leftover(1, (rectangle(0, 0, 900, 900),)), Leftover(2, (rectangle(1000, 0, 400, 400),)))
    done, _, _ = single_strips([binding(32, 450), binding(32, 900, row=1)], left, JOIN, False)
    assert {s.need.length: [p.leftover for p in s.parts] for s in done} == {450: [2], 900: [1]}


def test_strips_lie_side_by_side_near_the_cut_end() -> None:
    """Four strips from 2 m of cloth leave its far half whole."""
    left = (Leftover(1, (rectangle(0, 0, 2000, 1380),)),)
    done = strips_from(tuple(binding(32, 600 + 20 * k, row=k) for k in range(4)), left, CLOTH, JOIN)
    assert max(z.real for _, p in parts_of(done.widths) for z in p.ring) < 1000


def test_whole_strips_are_preferred_to_a_tube_unless_cloth_is_short() -> None:
    """One leftover; the odd corner that a whole strip spoils is wanted for the second width only when that
    would find no cloth otherwise."""
    left = (Leftover(1, (rectangle(0, 0, 400, 400),)),)
    (width,) = strips_from((binding(32, 480),), left, CLOTH, JOIN).widths
    assert width.chosen.method == "single strips" and width.other is not None
    assert width.other.method == "continuous" and width.other.blocks
    assert width.chosen.words.startswith("single strips: 0 joins, wastes ")


def test_joined_strips_give_way_to_a_tube_that_wastes_less() -> None:
    """6 m in parts from a square of 60 cm: round and round wastes less, and that is chosen."""
    left = (Leftover(1, (rectangle(0, 0, 600, 600),)),)
    (width,) = strips_from((binding(40, 6000),), left, CLOTH, JOIN).widths
    assert width.other is not None and not width.chosen.unmet
    if not width.other.unmet:
        assert width.chosen.wasted_mm2 <= width.other.wasted_mm2 + 1
    assert width.chosen.method == "continuous"


def test_no_tube_for_a_short_length_unless_another_strip_would_find_no_cloth() -> None:
    """60 cm in parts from a square of 26 cm: a tube would waste less, yet it is cut in parts; with a second
    width that then has no room, the tube is sewn."""
    left = (Leftover(1, (rectangle(0, 0, 260, 260),)),)
    first = binding(32, 600)
    (alone,) = strips_from((first,), left, CLOTH, JOIN).widths
    assert alone.other is not None and alone.other.blocks
    assert alone.chosen.method == "single strips"
    assert alone.chosen.wasted_mm2 > alone.other.wasted_mm2
    second = binding(40, 560, row=1)
    both = strips_from((first, second), left, CLOTH, JOIN)
    assert not both.unmet
    assert "continuous" in {w.chosen.method for w in both.widths}
