"""The parts of a bodice: shoulder, neck, armhole, waist's shares, waist line."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from itertools import pairwise

import pytest
from blocks.block_soundness import turn
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.blocks.armhole import Armhole, back_armhole, dart_mouth, front_armhole
from cutonce.blocks.bodice_direct import direct
from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_neck import NeckEnds, back_neckline, front_neckline, half_neckline
from cutonce.blocks.bodice_proportional import proportional
from cutonce.blocks.bodice_shoulder import back_shoulder, front_shoulder
from cutonce.blocks.bodice_waist import LEAST_DART, WIDEST_DART, WaistPlan, waist_plan
from cutonce.blocks.bodice_waistline import darts_from, deep_enough, even_side, waist_line
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import turning

SIZE = {
    "bust_girth": 880.0,
    "waist_girth": 680.0,
    "back_waist_length": 410.0,
    "neck_base_girth": 370.0,
    "shoulder_length": 122.5,
    "across_back_width": 344.0,
    "scye_depth": 210.0,
}
ARMHOLE_DART = proportional(SIZE.__getitem__).frame
SHOULDER_DART = direct(SIZE.__getitem__, SIZE.__contains__).frame
FRAMES = st.sampled_from([ARMHOLE_DART, SHOULDER_DART])


# --- shoulder -----------------------------------------------------------------------------------------


@given(FRAMES, st.floats(90, 170), st.floats(0.1, 0.55), st.floats(5, 25))
def test_back_shoulder_closes_to_the_front_s_length(
    frame: Frame, length: float, slope: float, dart: float
) -> None:
    frame = replace(frame, shoulder=replace(frame.shoulder, length=length, back_slope=slope, dart=dart))
    line = back_shoulder(frame)
    assert line.length == pytest.approx(length, abs=1e-9)
    assert -cmath.phase(line.tip - line.neck) == pytest.approx(slope, abs=1e-9)  # end to end, dart open
    assert line.dart is not None
    inner, pivot, outer = line.dart
    assert abs(inner - outer) == pytest.approx(dart, abs=1e-9)
    assert abs(inner - pivot) == pytest.approx(abs(outer - pivot), abs=1e-9)
    shut = turning(cmath.phase((inner - pivot) / (outer - pivot)), pivot)
    assert abs(shut(line.tip) - line.neck) == pytest.approx(length, abs=1e-9)  # straight once closed


def test_back_shoulder_without_a_dart() -> None:
    frame = replace(ARMHOLE_DART, shoulder=replace(ARMHOLE_DART.shoulder, dart=0.0))
    line = back_shoulder(frame)
    assert line.dart is None
    assert line.length == pytest.approx(frame.shoulder.length)


def test_front_shoulder_with_the_bust_dart_in_it() -> None:
    line = front_shoulder(SHOULDER_DART)
    assert line.dart is not None
    assert line.dart[1] == SHOULDER_DART.bust.point
    assert line.length == pytest.approx(122.5)
    assert abs(line.dart[0] - line.neck) == pytest.approx(122.5 / 2)
    assert abs(line.dart[0] - line.dart[2]) == pytest.approx(70, abs=0.5)  # as the system states it


# --- neck ---------------------------------------------------------------------------------------------


@given(st.floats(55, 100), st.floats(50, 120), st.floats(0.05, 0.6), st.floats(10, 40))
def test_necklines_are_square_at_both_ends_and_bend_one_way(
    width: float, depth: float, slope: float, rise: float
) -> None:
    front = front_neckline(NeckEnds(complex(width, 400), complex(0, 400 - depth), slope))
    back = back_neckline(NeckEnds(complex(width, 400 + rise), 400j, slope))
    shoulder = complex(math.cos(slope), -math.sin(slope))
    assert turn(shoulder, front.tangent(0)) == pytest.approx(-90, abs=1e-6)
    assert front.tangent(1) == pytest.approx(-1)
    assert back.tangent(0) == pytest.approx(1)
    assert turn(shoulder, back.tangent(1)) == pytest.approx(90, abs=1e-6)
    assert all(back.curvature(i / 20) > -1e-9 for i in range(21))
    if width > depth * math.tan(slope) + 1:
        assert all(front.curvature(i / 20) < 1e-9 for i in range(21))


@given(FRAMES, st.floats(0.85, 1.2))
def test_a_wider_neck_is_longer(frame: Frame, k: float) -> None:
    def scaled(by: float) -> Frame:
        n = frame.neck
        return replace(frame, neck=replace(n, front_width=by * n.front_width, back_width=by * n.back_width))

    assert half_neckline(scaled(k + 0.02)) > half_neckline(scaled(k))


# --- armhole ------------------------------------------------------------------------------------------


def bends(armhole: Armhole) -> int:
    """Inflections."""
    signs = [
        c > 0
        for curve in (armhole.upper, armhole.lower)
        for c in (curve.curvature((i + 0.5) / 40) for i in range(40))
        if abs(c) > 1e-7
    ]
    return sum(a != b for a, b in pairwise(signs))


def corner_distance(lower: Cubic) -> float:
    corner = complex(lower.start.real, lower.end.imag)
    diagonal = cmath.exp(0.25j * math.pi)
    return max(((lower.at(t) - corner) / diagonal).real for t in on_line(lower, corner, diagonal))


@settings(max_examples=80)
@given(
    FRAMES,
    st.floats(110, 160),
    st.floats(-12, 12),
    st.floats(-10, 25),
    st.floats(0.15, 0.5),
    st.floats(0, 0.2),
)
def test_armholes_are_what_a_cutter_draws(
    frame: Frame, shoulder: float, wider: float, deeper: float, angle: float, lean: float
) -> None:
    """Square to the shoulder, upright at the width line, square to the side; at most one inflection; front
    1.75 to 2.5 cm from its corner and the back 3 to 5 mm more, in proportion to the width (from memory)."""
    frame = replace(
        frame,
        half_width=frame.half_width + wider,
        underarm=frame.underarm - deeper,
        shoulder=replace(frame.shoulder, length=shoulder),
        bust=replace(frame.bust, angle=angle if frame.bust.opens_on == "armhole" else frame.bust.angle),
    )
    lines = front_shoulder(frame), back_shoulder(frame)
    down = -1j * cmath.exp(-1j * lean)
    front, back = front_armhole(frame, lines[0], down), back_armhole(frame, lines[1], down)
    if lines[0].tip.real < frame.chest_width + 3 or lines[1].tip.real < frame.back_width + 3:
        return  # truing moves the width line in before an armhole is drawn
    for armhole, line in ((front, lines[0]), (back, lines[1])):
        seam = complex(math.cos(line.outer_slope), -math.sin(line.outer_slope))
        assert turn(seam, armhole.upper.tangent(0)) == pytest.approx(-90, abs=1e-6)
        assert armhole.upper.tangent(1) == pytest.approx(-1j)
        assert armhole.lower.tangent(1) == pytest.approx(1j * down)
        assert bends(armhole) <= 1
    assert min(back.upper.bounds[0], back.lower.bounds[0]) == pytest.approx(frame.back_width)
    gaps = corner_distance(front.lower), corner_distance(back.lower)
    start = front.lower.start.real
    wide = (frame.side - start) + (frame.half_width - frame.side - frame.back_width)
    assert 17.4 < gaps[0] < 25.1 * max(1.0, wide / 120)
    assert 2.4 < gaps[1] - gaps[0] < 6.1


def test_the_dart_in_the_armhole_closes_smoothly() -> None:
    armhole = front_armhole(ARMHOLE_DART, front_shoulder(ARMHOLE_DART), -1j)
    above, below = dart_mouth(ARMHOLE_DART)
    bust = ARMHOLE_DART.bust
    assert (armhole.upper.end, armhole.lower.start) == (above, below)
    shut = turning(bust.angle, bust.point)
    assert abs(shut(below) - above) < 1e-9
    assert turn(armhole.upper.tangent(1), shut.of_vector(armhole.lower.tangent(0))) == pytest.approx(0)
    assert above.real == pytest.approx(ARMHOLE_DART.chest_width)
    assert below.imag == pytest.approx(ARMHOLE_DART.underarm + bust.place)


def test_truing_the_dart_moves_its_published_end_by_less_than_3_mm() -> None:
    """Published (from memory): B/32 beyond the chest width line. Trued, the closed armhole touches it."""
    _, below = dart_mouth(ARMHOLE_DART)
    assert abs(below.real - (ARMHOLE_DART.chest_width + 880 / 32)) < 3


# --- waist --------------------------------------------------------------------------------------------


@given(FRAMES, st.floats(250, 560), st.floats(-40, 40))
def test_waist_shares_add_up_and_keep_the_rules(frame: Frame, waist: float, at_side: float) -> None:
    plan = waist_plan(frame, waist, at_side)
    assert plan.darts + 2 * plan.side == pytest.approx(frame.half_width - waist)
    for darts in (plan.front, plan.back):
        assert all(LEAST_DART <= i <= WIDEST_DART for i in darts)
        assert len(darts) <= 2
        assert len(darts) < 2 or sum(darts) > WIDEST_DART
    if waist >= frame.half_width:
        assert plan.darts == 0
    elif plan.darts > 0:
        assert plan.side >= min(at_side, (frame.half_width - waist) / 2) - 1e-9


@given(st.floats(-5, 5))
def test_taking_in_more(more: float) -> None:
    plan = WaistPlan((38.0,), (39.0, 39.0), 10.0)
    taken = plan.taking(more)
    assert taken.darts + 2 * taken.side == pytest.approx(plan.darts + 2 * plan.side + more)
    assert max(*taken.front, *taken.back) <= WIDEST_DART


@given(st.floats(10, 40), st.floats(8, 40), st.floats(-0.1, 0.25))
def test_waist_line_is_square_to_legs_and_side(one: float, two: float, lean: float) -> None:
    centre = deep_enough(90 + 170j, one)
    darts = darts_from(centre, [90 + 170j, 175 + 170j], [one, two])
    up = 1j * cmath.exp(-1j * lean)
    side = complex(235, even_side(centre, darts, 235 + 0j, up))
    line = waist_line(centre, darts, side, up)
    assert abs(darts[0].inner - darts[0].pivot) == pytest.approx(170)  # as deep as the waist, closed
    assert line.runs[0].tangent(0) == pytest.approx(1)
    for run, dart, after in zip(line.runs, line.darts, line.runs[1:], strict=False):
        assert turn(dart.pivot - dart.inner, run.tangent(1)) == pytest.approx(-90, abs=1e-6)
        assert turn(dart.pivot - dart.outer, after.tangent(0)) == pytest.approx(-90, abs=1e-6)
        assert abs(dart.inner - dart.pivot) == pytest.approx(abs(dart.outer - dart.pivot))
    assert [abs(d.inner - d.outer) for d in line.darts] == pytest.approx([one, two])
    assert turn(up, line.runs[-1].tangent(1)) == pytest.approx(-90, abs=1e-6)
    for run in line.runs:  # even curves: no wave in any of them
        curvatures = [run.curvature(i / 10) for i in range(11)]
        assert all(c <= 1e-9 for c in curvatures) or all(c >= -1e-9 for c in curvatures)


def test_darts_that_overlap_are_refused() -> None:
    darts = darts_from(0.0, [90 + 170j, 110 + 170j], [38.0, 38.0])
    with pytest.raises(CannotApply) as caught:
        waist_line(0.0, darts, 235 + 0j, 1j)
    assert caught.value.code == "no-waist"
