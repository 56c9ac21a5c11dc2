"""Runs of spans: parted, walked the other way, found between darts, put into an outline."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reshape.shapes import pieces
from steps.drafts import bodice, dress

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.reshape.runs import parted, runs_of, turned, with_runs

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
