"""Clipping is exact: what is kept lies in the box, what is left out does not, and lengths add up."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.sheets import clip
from cutonce.sheets.drawing import Fill, Stroke, Text, circle
from cutonce.sheets.pens import Pen

BOX = (0.0, 0.0, 100.0, 80.0)
_coordinate = st.floats(-150, 250, allow_nan=False).map(lambda v: round(v, 3))
_point = st.builds(complex, _coordinate, _coordinate)
_curve: st.SearchStrategy[Curve] = st.one_of(
    st.builds(Cubic, _point, _point, _point, _point), st.builds(Line, _point, _point)
)


def _in_box(p: complex, slack: float = 0.0) -> bool:
    return BOX[0] - slack <= p.real <= BOX[2] + slack and BOX[1] - slack <= p.imag <= BOX[3] + slack


@settings(max_examples=150, deadline=None)
@given(_curve)
def test_kept_lies_inside_and_left_out_outside(curve: Curve) -> None:
    kept = clip.inside(curve, BOX)
    for i in range(201):
        t, p = i / 200, curve.at(i / 200)
        covered = any(t0 - 1e-9 <= t <= t1 + 1e-9 for t0, t1 in kept)
        if _in_box(p, -1e-6):
            assert covered, (t, p)
        if covered:
            assert _in_box(p, 1e-6), (t, p)


@settings(max_examples=80, deadline=None)
@given(st.lists(_point, min_size=2, max_size=6))
def test_runs_inside_two_halves_add_up(points: list[complex]) -> None:
    path = tuple(line for line in paths.polyline(points) if line.length > 1e-3)
    if not path:
        return
    stroke = Stroke(path, Pen.CUT)
    left, right = (-1e4, -1e4, 40.0, 1e4), (40.0, -1e4, 1e4, 1e4)
    halves = [paths.length(run.path) for box in (left, right) for run in clip.stroke(stroke, box)]
    on_the_cut = sum(c.length for c in path if c.a.real == 40.0 == c.d.real)
    assert sum(halves) == pytest.approx(paths.length(path) + on_the_cut, abs=1e-5)


def test_runs_know_where_they_begin() -> None:
    stroke = Stroke(
        (Line(-50 + 10j, 150 + 10j), Line(150 + 10j, 150 + 30j), Line(150 + 30j, -50 + 30j)), Pen.FOLD
    )
    first, second = clip.stroke(stroke, BOX)
    assert first.begins == pytest.approx(50.0) and second.begins == pytest.approx(270.0)
    assert paths.length(first.path) == pytest.approx(100.0)


def test_closed_stroke_inside_stays_closed_and_one_through_its_start_is_one_run() -> None:
    whole = circle(50 + 40j, 20.0, Pen.CUT)
    assert [r.closed for r in clip.stroke(whole, BOX)] == [True]
    right_half = clip.stroke(whole, (50.0, 0.0, 100.0, 80.0))
    assert len(right_half) == 1 and not right_half[0].closed
    assert paths.length(right_half[0].path) == pytest.approx(math.pi * 20, rel=1e-3)


def test_closing_line_counts() -> None:
    open_ended = Stroke(paths.polyline((10 + 10j, 90 + 10j, 90 + 70j)), Pen.CUT, closed=True)
    (run,) = clip.stroke(open_ended, BOX)
    assert paths.length(run.path) == pytest.approx(80 + 60 + 100)


def test_touching_a_side_at_one_point_shows_nothing() -> None:
    assert clip.stroke(Stroke((Line(-10 + 40j, 0 + 40j),), Pen.CUT), (0.0, 50.0, 100.0, 80.0)) == ()
    assert clip.inside(Line(0 - 50j, 0 + 0j), BOX) == ()


def test_fill_is_cut_at_the_box() -> None:
    part = clip.fill(Fill((-20 + 20j, 20 + 20j, 20 + 60j, -20 + 60j)), BOX)
    assert part is not None
    area = paths.area(paths.polyline((*part.points, part.points[0])))
    assert abs(area) == pytest.approx(20 * 40)
    assert clip.fill(Fill((-5 + 0j, -1 + 0j, -1 + 5j)), BOX) is None
    over_corner = clip.fill(Fill((-10 - 10j, 30 - 10j, -10 + 30j)), BOX)
    assert over_corner is not None
    assert abs(paths.area(paths.polyline((*over_corner.points, over_corner.points[0])))) == pytest.approx(200)


def test_letters_of_two_boxes_make_the_whole_text() -> None:
    text = Text(60 + 40j, "Skirt front, cut 2", 8.0)
    here = clip.text(text, BOX)
    there = clip.text(text, (100.0, 0.0, 200.0, 80.0))
    assert here is not None and there is not None
    assert here.words and there.words
    assert text.words.startswith(here.words) and text.words.endswith(there.words)
    assert len(here.words) + len(there.words) in (len(text.words), len(text.words) + 1)
    assert clip.text(text, (0.0, 60.0, 200.0, 80.0)) is None


def test_letters_keep_their_place_and_the_font_of_the_whole() -> None:
    text = Text(90 + 40j, "Łucja", 20.0)
    there = clip.text(text, (110.0, 0.0, 200.0, 80.0))
    assert there is not None and there.face == "Noto Sans" and "Ł" not in there.words
    whole = Text(90 + 40j, text.words[: text.words.index(there.words)], 20.0)
    assert there.at == pytest.approx(90 + 40j + whole.width)
