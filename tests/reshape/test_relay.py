"""Cloth laid along a new line: lengths, material and joints."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reshape.shapes import pieces
from steps.drafts import bodice, dress

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.geometry import path
from cutonce.geometry.fit import between
from cutonce.geometry.solve import point_where
from cutonce.reshape.relay import curves_of, parted, relaid, runs_of, turned, with_runs

SIDE = Label("side", "side")


@settings(max_examples=40, deadline=None)
@given(piece=pieces(), cuts=st.lists(st.floats(-20, 900), max_size=4))
def test_parts_of_a_run_add_up(piece: Piece, cuts: list[float]) -> None:
    run = tuple(s for e in piece.labels[:3] for s in piece.edge(e))
    size = sum(s.length for s in run)
    parts = parted(run, sorted(cuts))
    assert len(parts) == len(cuts) + 1
    assert sum(s.length for part in parts for s in part) == pytest.approx(size, abs=1e-6)
    ends = [sum(s.length for part in parts[: k + 1] for s in part) for k in range(len(cuts))]
    for cut, end in zip(sorted(cuts), ends, strict=True):
        assert end == pytest.approx(min(max(cut, 0), size), abs=1e-5)


@settings(max_examples=40, deadline=None)
@given(
    bend=st.complex_numbers(min_magnitude=0.1, max_magnitude=1, allow_nan=False),
    share=st.floats(0.05, 0.95),
)
def test_material_is_laid_in_proportion_and_ends_meet(bend: complex, share: float) -> None:
    run = dress().piece("front").edge(SIDE)
    a, d = run[0].curve.start, run[-1].curve.end
    line = (between(a, d - a + 300 * bend, d, d - a - 200 * bend),)
    new = relaid(run, line, "s")
    total, goal = sum(s.length for s in run), path.length(line)
    assert sum(s.length for s in new) == pytest.approx(goal, rel=1e-9)
    assert new[0].curve.start == a and new[-1].curve.end == d
    assert all(x.curve.end == y.curve.start for x, y in pairwise(new))
    # a place at a share of the cloth lies at that share of the line
    before, after = _material(run, total * share), _material(new, goal * share)
    assert before[0] == after[0] and before[1] == pytest.approx(after[1], abs=1e-5)


def _material(run: tuple, arc: float) -> tuple:  # type: ignore[type-arg]
    for span in run:
        if arc <= span.length or span is run[-1]:
            return span.origin, span.material_at(min(arc, span.length))
        arc -= span.length
    raise AssertionError


def test_a_run_laid_along_itself_is_the_run() -> None:
    run = dress().piece("front").edge(SIDE)
    assert relaid(run, curves_of(run), "s") == run


def test_a_run_turned_twice_is_the_run() -> None:
    run = dress().piece("front").edge(SIDE)
    assert turned(turned(run)) == run
    assert turned(run)[0].curve.start == run[-1].curve.end


def test_runs_between_darts() -> None:
    front = bodice().piece("front")
    assert [len(r) for r in runs_of(front, Label("waist", "waist"))] == [1, 1]
    assert [len(r) for r in runs_of(front, SIDE)] == [1]
    assert [len(r) for r in runs_of(dress().piece("front"), SIDE)] == [3]


def test_an_outline_left_open_is_a_bug() -> None:
    front = bodice().piece("front")
    run = front.edge(SIDE)
    with pytest.raises(ValueError, match="the outline is broken at the"):
        with_runs(front, [(run, ())])
    assert with_runs(front, [(run, run)]).outline == front.outline


def test_no_point_where_two_measures_cannot_both_come_right() -> None:
    assert point_where(1 + 1j, lambda p: (abs(p) + 1, abs(p) + 2)) is None
    found = point_where(3 + 1j, lambda p: (abs(p) - 13, abs(p - 14) - 15))
    assert found is not None and abs(found - (5 + 12j)) < 1e-8
