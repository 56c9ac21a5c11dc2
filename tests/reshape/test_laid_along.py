"""Cloth laid along a new line: lengths, material and joints."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import dress

from cutonce.draft.span import Label
from cutonce.geometry import path
from cutonce.geometry.fit import between
from cutonce.reshape.laid_along import relaid
from cutonce.reshape.runs import curves_of

SIDE = Label("side", "side")


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
