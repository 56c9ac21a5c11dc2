"""Where the arrow's ends lie: by hand on a small piece, and on example garments from the plan alone."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheets.conftest import make_front
from sheets.lays import folded_lay, open_lay, part_folded_lay, remnant_lay, turned_off

from cutonce.cloth.cloth import Cloth, Remnant
from cutonce.geometry.meet import nearest
from cutonce.geometry.motion import Motion, laying, shifting
from cutonce.lay.plan import Laid, Plan, Section
from cutonce.sheets.lay_measures import (
    TAPE_STEP_MM,
    ArrowEnd,
    Measured,
    TapeUnit,
    by_tape,
    down_by_tape,
    ground,
    measured,
    up_by_tape,
)

CLOTH = Cloth("linen", 1400.0, 1360.0)
UNITS: tuple[TapeUnit, ...] = ("cm", "in")


def read(text: str, unit: TapeUnit) -> float:
    """A length as printed, in mm: what a person reads off the table."""
    sign = -1 if text.startswith("-") else 1
    value = sum((Fraction(word) for word in text.lstrip("-").split()), Fraction(0))
    return sign * float(value) * (10.0 if unit == "cm" else 25.4)


def plan_of(laid: Laid, way: str = "open", width: float = 1400.0) -> Plan:
    section = Section("cloth", way, 0.0, 900.0, width)  # type: ignore[arg-type]
    return Plan(CLOTH, (section,), (laid,), 900.0, 0.5)


def test_ends_of_an_arrow_by_hand() -> None:
    """The front's arrow runs from 60 + 60j to 60 + 320j; a quarter turn to the right lays its top at +x."""
    laid = Laid(1, "front", make_front(), shifting(100 + 1000j).after(Motion(-1j)), 0)
    (row,) = measured(plan_of(laid))
    low, high = row.ends
    assert (low.name, high.name) == ("hem", "neck")
    assert (low.from_cut_end, high.from_cut_end) == (160.0, 420.0)
    assert low.edge.name == "far selvedge"
    assert low.from_edge == high.from_edge == pytest.approx(1400 - 940)


def test_folded_is_measured_from_the_fold_or_the_selvedges() -> None:
    laid = Laid(1, "front", make_front(), shifting(100 + 300j).after(Motion(-1j)), 0, 2, True)
    (row,) = measured(plan_of(laid, "folded lengthwise", 700.0))
    assert {end.edge.name for end in row.ends} == {"fold"}
    assert [end.from_edge for end in row.ends] == [240.0, 240.0]
    assert (row.cut, row.paper) == ("2 layers, on the fold", "face up")


@pytest.mark.parametrize(
    ("mirror", "paper", "said"),
    [
        (False, "face up", "face up"),
        (True, "face up", "face down"),
        (False, "face down", "face down"),
        (True, "face down", "face up"),
        (True, "opened out", "opened out"),
    ],
)
def test_which_way_up_the_paper_lies(mirror: bool, paper: str, said: str) -> None:
    laid = Laid(1, "front", make_front(), Motion(1 + 0j, 0j, mirror), 0, paper=paper)  # type: ignore[arg-type]
    assert measured(plan_of(laid))[0].paper == said


def test_level_arrow_between_two_like_edges_is_told_by_the_print() -> None:
    """Left and right are those of the printed paper, also where what is cut is the paper turned over."""
    front = make_front()
    edges = tuple(replace(e, key="side") for e in front.edges)
    level = replace(front.grain, start=60 + 100j, end=160 + 100j)
    level_front = replace(front, edges=edges, grain=level)
    names = []
    for paper in ("face up", "face down"):
        laid = Laid(1, "front", level_front, shifting(50 + 500j), 0, paper=paper)  # type: ignore[arg-type]
        names.append(tuple(e.name for e in measured(plan_of(laid))[0].ends))
    assert names == [("left", "right"), ("right", "left")]


def test_a_piece_off_its_grain_shows_it_in_the_figures() -> None:
    plan = open_lay("cellist", Cloth("wool", 1500, 1460))
    key = plan.laid[0].key
    before, after = measured(plan)[0], measured(turned_off(plan, key, 2.0))[0]
    assert before.ends[0].from_edge == pytest.approx(before.ends[1].from_edge, abs=1e-6)
    off = abs(after.ends[0].from_edge - after.ends[1].from_edge)
    length = abs(after.ends[1].at - after.ends[0].at)
    assert off == pytest.approx(length * 0.0348995, abs=1e-3)  # sin 2 degrees, from a table


def test_cutting_order_is_kept_and_every_piece_is_there() -> None:
    plan = open_lay("cellist", Cloth("wool", 1500, 1460))
    shuffled = replace(plan, laid=tuple(reversed(plan.laid)))
    assert [r.laid.key for r in measured(shuffled)] == [x.key for x in plan.laid]


def test_part_folded_counts_on_from_the_one_cut_end() -> None:
    plan = part_folded_lay("a_line", CLOTH)
    start = plan.sections[1].start
    for row in measured(plan):
        for end in row.ends:
            assert end.from_cut_end == pytest.approx(end.at.real)
        assert row.begins_here == (row.laid.section == 0)
    assert all(e.at.real > start for r in measured(plan) if r.laid.section == 1 for e in r.ends)


def test_a_remnant_and_the_cloth_after_it_are_measured_each_from_its_own_end() -> None:
    """The outline of the remnant is given anywhere; it lies with its lowest place at y = 0."""
    outline = tuple(p + 37 - 12j for p in (0j, 900 + 0j, 900 + 300j, 500 + 420j, 420j))
    plan = remnant_lay("cellist", replace(CLOTH, remnants=(Remnant("offcut", outline),)))
    assert (ground(plan, 0).near.y, ground(plan, 0).far.y) == (0.0, 420.0)
    assert ground(plan, 0).begins == "left end" and ground(plan, 1).begins == "cut end"
    assert ground(plan, 1).zero == plan.sections[1].start == 910.0
    for row in measured(plan):
        zero = 910.0 if row.laid.section else 0.0
        assert [e.from_cut_end for e in row.ends] == pytest.approx([e.at.real - zero for e in row.ends])


def test_folded_crosswise_is_measured_from_the_cut_end_wherever_the_section_begins() -> None:
    plan = folded_lay("stage_tunic", CLOTH, "folded crosswise")
    (section,) = plan.sections
    later = replace(plan, sections=(replace(section, start=120.0),))
    assert ground(later, 0).zero == 0.0


LAYS = {
    "open": open_lay("cellist", Cloth("wool", 1500.0, 1460.0)),
    "folded": folded_lay("a_line", CLOTH),
    "part folded": part_folded_lay("a_line", CLOTH),
    "bias": open_lay("stage_tunic", CLOTH),
}


@pytest.mark.parametrize("name", LAYS)
def test_the_figures_alone_bring_every_piece_to_its_place(name: str) -> None:
    """Lay the paper by the two ends of its arrow, as called and as far as a tape reads: the outline comes to
    lie within 1 mm of where it should, for the arrows of these lays run along the warp."""
    plan = LAYS[name]
    for row in measured(plan):
        low, high = (_placed(end) for end in row.ends)
        start, end = row.laid.piece.grain.start, row.laid.piece.grain.end
        if not _called(row, start, row.ends[0].name):
            start, end = end, start
        back = laying(start, end, low, high)
        for p in (c.start for c in row.laid.piece.cutting):
            assert abs(back(p) - row.laid.motion(p)) < 1.0, (row.title, row.paper)


def _placed(end: ArrowEnd) -> complex:
    """Where a tape finds an end: lengths read from print, on the side of the edge where the cloth is."""
    across = read(by_tape(end.from_edge, "cm"), "cm")
    inward = 1 if end.edge.name in ("near selvedge", "fold", "near edge") else -1
    return complex(read(by_tape(end.from_cut_end, "cm"), "cm"), end.edge.y + inward * across)


def _called(row: Measured, p: complex, name: str) -> bool:
    """Is this the end of the arrow with that name? By the print's own up, or by the edge it is nearer to."""
    grain, piece = row.laid.piece.grain, row.laid.piece
    other = grain.end if p == grain.start else grain.start
    match name:
        case "lower" | "upper":
            return (p.imag < other.imag) == (name == "lower")
        case "left" | "right":
            return ((p.real < other.real) == (name == "left")) != (row.laid.paper == "face down")
    edges = [e.sewing for e in piece.edges if name in e.key]
    return min(nearest(e, p)[1] for e in edges) < min(nearest(e, other)[1] for e in edges)


@given(st.floats(-50, 20_000), st.sampled_from(UNITS))
def test_printed_lengths_read_back(mm: float, unit: TapeUnit) -> None:
    """Nearest is within half a division; up is enough and down is there, each by less than one."""
    step = TAPE_STEP_MM[unit]
    assert abs(read(by_tape(mm, unit), unit) - mm) <= step / 2 + 1e-9
    assert -1e-6 <= read(up_by_tape(mm, unit), unit) - mm < step
    assert -1e-6 <= mm - read(down_by_tape(mm, unit), unit) < step
    assert re.fullmatch(r"-?\d+\.\d" if unit == "cm" else r"-?(\d+)?( ?\d/[248])?", by_tape(mm, unit))
