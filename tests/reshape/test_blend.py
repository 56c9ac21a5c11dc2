"""Blends keep ends, end directions and length, and leave no corner; fair ones take their own length."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.draft.span import Label, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.fit import between
from cutonce.geometry.motion import Motion, shifting, turning
from cutonce.reshape.blend import blended, corners, faired, faired_length
from cutonce.reshape.fading_end import faded
from cutonce.reshape.smooth_corners import corners_smoothed

EDGE = Label("hem", "hem")


def run(*curves: Line | Cubic) -> tuple[Span, ...]:
    out: list[Span] = []
    for curve in curves:
        out.append(born(curve, EDGE, "block", out[-1].hi if out else 0.0))
    return tuple(out)


def size(spans: tuple[Span, ...]) -> float:
    return sum(s.length for s in spans)


@st.composite
def broken(draw: st.DrawFn) -> tuple[Span, ...]:
    """A run of two to six straight or gently curved stretches with corners of up to 0.25 rad, all one way."""
    at, way = 0j, cmath.exp(1j * draw(st.floats(0, 6)))
    curves: list[Line | Cubic] = []
    for _ in range(draw(st.integers(2, 6))):
        length, bend = draw(st.floats(40, 160)), draw(st.floats(0, 0.15))
        end = at + length * way * cmath.exp(0.5j * bend)
        leaving = way * cmath.exp(1j * bend)
        curves.append(between(at, way, end, leaving) if bend > 0.01 else Line(at, at + length * way))
        at = curves[-1].end
        way = curves[-1].tangent(1) * cmath.exp(1j * draw(st.floats(0.02, 0.25)))
    return run(*curves)


@settings(max_examples=60, deadline=None)
@given(broken(), st.floats(20, 200))
def test_a_blend_keeps_length_ends_and_directions(spans: tuple[Span, ...], reach: float) -> None:
    done = blended(spans, reach, "step")
    first, last = done.spans[0].curve, done.spans[-1].curve
    assert done.length_mm == pytest.approx(size(spans), abs=0.01)
    assert done.length_mm == pytest.approx(size(done.spans), abs=1e-9)
    assert first.start == spans[0].curve.start and abs(last.end - spans[-1].curve.end) < 1e-9
    assert abs(cmath.phase(first.tangent(0) / spans[0].curve.tangent(0))) < 1e-6
    assert abs(cmath.phase(last.tangent(1) / spans[-1].curve.tangent(1))) < 1e-6
    assert corners([s.curve for s in done.spans]) < 1e-6
    assert all(abs(a.curve.end - b.curve.start) < 1e-9 for a, b in pairwise(done.spans))


@settings(max_examples=40, deadline=None)
@given(broken(), st.floats(20, 200))
def test_each_span_keeps_its_material_and_length(spans: tuple[Span, ...], reach: float) -> None:
    done = blended(spans, reach, "step")
    for old in spans:
        parts = [s for s in done.spans if old.lo - 1e-9 <= s.lo and s.hi <= old.hi + 1e-9]
        assert sum(s.length for s in parts) == pytest.approx(old.length, abs=0.01)
        assert parts[0].lo == pytest.approx(old.lo) and parts[-1].hi == pytest.approx(old.hi)
        assert all(s.made == "step" and s.label == EDGE for s in parts)


@settings(max_examples=40, deadline=None)
@given(broken(), st.floats(20, 200), st.floats(1.002, 1.03))
def test_a_longer_edge_is_as_long_as_asked(spans: tuple[Span, ...], reach: float, more: float) -> None:
    done = blended(spans, reach, "step", size(spans) * more)
    assert size(done.spans) == pytest.approx(size(spans) * more, abs=0.01)
    assert corners([s.curve for s in done.spans]) < 1e-6


@settings(max_examples=60, deadline=None)
@given(broken(), st.floats(20, 200))
def test_a_fair_edge_has_no_corner_and_takes_its_own_length(spans: tuple[Span, ...], reach: float) -> None:
    """Rounding corners that all turn one way shortens it, but for what the end directions ask."""
    done = faired(spans, reach, "step")
    assert corners([s.curve for s in done.spans]) < 1e-6
    assert done.spans[0].curve.start == spans[0].curve.start
    assert abs(done.spans[-1].curve.end - spans[-1].curve.end) < 1e-9
    assert 0.96 < done.length_mm / size(spans) < 1.01
    assert done.length_mm == pytest.approx(faired_length(spans, reach), abs=0.02)
    assert done.deviation_mm <= 0.15 * reach + 1


@pytest.mark.parametrize(("turn", "reach"), [(0.2, 40.0), (0.5, 60.0), (0.9, 30.0)])
def test_how_much_a_rounded_corner_is_shorter(turn: float, reach: float) -> None:
    """Two averages over a window w make a corner of t radians an S of curvature over w to either side; by
    small-angle arithmetic the run shortens by t^2/2 (integral of |x| mirrored) = 7 t^2 w / 60 (w = reach)."""
    way = cmath.exp(1j * turn)
    spans = run(Line(-150 + 0j, 0j), Line(0j, 150 * way))
    short = 300 - faired_length(spans, reach)
    assert short == pytest.approx(7 * turn**2 * reach / 60, rel=0.1)


def test_a_straight_run_stays_as_it_is() -> None:
    spans = run(Line(0j, 100 + 0j), Line(100 + 0j, 250 + 0j))
    for done in (faired(spans, 60, "step"), blended(spans, 60, "step")):
        assert done.length_mm == pytest.approx(250, abs=1e-6)
        assert done.deviation_mm < 0.01


def test_a_length_that_cannot_be_had_is_refused_with_what_there_is() -> None:
    spans = run(Line(0j, 100 + 0j), Line(100 + 0j, 200 + 20j))
    chord = abs(200 + 20j)
    with pytest.raises(CannotApply, match=rf"no smooth edge of 190.0 mm joins these ends \({chord:.1f} mm"):
        blended(spans, 60, "step", 190.0)


def test_a_jog_is_smoothed_away() -> None:
    """A step of 2 mm in a straight edge of 200 mm, as a closed wedge leaves it."""
    spans = run(Line(0j, 100 + 0j), Line(100 + 0j, 100 + 2j), Line(100 + 2j, 200 + 2j))
    for done in (blended(spans, 80, "step", 200.03, jog=spans[1]), faired(spans, 80, "step", jog=spans[1])):
        assert size(done.spans) == pytest.approx(200.03, abs=0.02)
        assert corners([s.curve for s in done.spans]) < 1e-6
        assert done.deviation_mm < 2.0
        assert not any(100 < s.hi < 102 or 100 < s.lo < 102 for s in done.spans)  # no cloth of the jog's


@settings(max_examples=40, deadline=None)
@given(broken(), st.floats(10, 35), st.floats(0, 2))
def test_only_the_corners_are_smoothed(spans: tuple[Span, ...], reach: float, longer: float) -> None:
    plain = corners_smoothed(spans, reach, "step")
    done = corners_smoothed(spans, reach, "step", longer)
    assert corners([s.curve for s in done.spans]) < 0.0101
    assert done.length_mm == pytest.approx(plain.length_mm + longer, abs=0.01)
    assert done.spans[0].curve.start == spans[0].curve.start
    assert abs(done.spans[-1].curve.end - spans[-1].curve.end) < 1e-9
    assert plain.deviation_mm <= reach * 0.25


motions = st.builds(
    lambda x, y, turn: shifting(complex(x, y)).after(turning(turn)),
    st.floats(-30, 30),
    st.floats(-30, 30),
    st.floats(-0.2, 0.2),
)


@settings(max_examples=60, deadline=None)
@given(broken(), motions, st.floats(60, 400), st.booleans())
def test_a_fading_motion_moves_one_end_and_leaves_the_rest(
    spans: tuple[Span, ...], motion: Motion, reach: float, at_start: bool
) -> None:
    total = size(spans)
    new = faded(spans, motion, min(reach, total), at_start, "step")
    ends = (spans[0].curve.start, spans[-1].curve.end)
    now = (new[0].curve.start, new[-1].curve.end)
    moved, still = (0, 1) if at_start else (1, 0)
    assert abs(now[moved] - motion(ends[moved])) < 1e-9
    assert abs(now[still] - ends[still]) < 1e-9
    for side in (0, 1):
        was = spans[-side].curve.tangent(side)
        wanted = motion.of_vector(was) if side == moved else was
        assert abs(cmath.phase(new[-side].curve.tangent(side) / wanted)) < 1e-6
    assert all(abs(a.curve.end - b.curve.start) < 1e-9 for a, b in pairwise(new))
    assert (new[0].lo, new[-1].hi) == (spans[0].lo, spans[-1].hi)


def test_a_faded_straight_edge_runs_as_the_formula_says() -> None:
    """A level edge of 200 mm with its end raised by 10 mm: half way the quintic 1 - 10u^3 + 15u^4 - 6u^5 is a
    half, so 5 mm; at a quarter 0.896484375."""
    spans = run(Line(0j, 200 + 0j))
    new = faded(spans, shifting(10j), 200.0, True, "step")
    at = {round(s.curve.start.real): s.curve.start.imag for s in new}
    assert at[0] == pytest.approx(10)
    assert at[80] == pytest.approx(10 * (1 - 10 * 0.4**3 + 15 * 0.4**4 - 6 * 0.4**5))
    assert math.isclose(new[-1].curve.end.imag, 0, abs_tol=1e-12)
