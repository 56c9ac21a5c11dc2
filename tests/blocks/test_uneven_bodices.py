"""Bodice and dress blocks of bodies that differ left and right."""

from __future__ import annotations

import math

import pytest
from blocks.block_soundness import EVERY, changed, faults, mark_at, turn

from cutonce.blocks import draft_and_findings, draft_block
from cutonce.blocks.bodice_piece import ARMHOLE, CENTRE_BACK, CENTRE_FRONT, SHOULDER
from cutonce.blocks.bodice_systems import bodice_ease
from cutonce.body import Body
from cutonce.reshape.unfold import unfolded


@pytest.mark.parametrize("kind, system", EVERY)
def test_uneven_halves_meet_at_the_centre(kind: str, system: str, uneven: Body) -> None:
    draft = draft_block(kind, system, uneven)
    assert draft.twin is not None
    assert faults(draft, uneven, bodice_ease(system, {})) == []
    assert [p.labels for p in draft.pieces] == [p.labels for p in draft.twin.pieces]
    for name, label in (("front", CENTRE_FRONT), ("back", CENTRE_BACK)):
        left, right = draft.piece(name), draft.twin.piece(name)
        assert left.edge_length(label) == pytest.approx(right.edge_length(label), abs=1e-6)
        for mark in ("bust", "waist"):
            apart = mark_at(left, mark, label.name) - mark_at(right, mark, label.name)
            assert abs(apart) < 1e-6
    for half, drop, length in ((draft, 38, 126), (draft.twin, 50, 120)):
        assert half.piece("front").edge_length(SHOULDER) == pytest.approx(length)
        slopes = 2 * math.asin(drop / length)
        front, back = (p.edge(SHOULDER) for p in half.pieces)
        inner = -turn(-1 + 0j, front[-1].curve.tangent(1))
        chord = back[0].curve.start - back[-1].curve.end
        assert inner + turn(1 + 0j, chord) == pytest.approx(math.degrees(slopes), abs=0.01)
    joined = unfolded(draft, (), "halves")
    assert joined.unfolded


def test_each_armhole_goes_with_its_shoulder(uneven: Body) -> None:
    draft = draft_block("dress", "proportional", uneven)
    assert draft.twin is not None
    left, right = (h.piece("front").edge(ARMHOLE)[0].curve.start.imag for h in (draft, draft.twin))
    assert left - right == pytest.approx(50 - 38)


def test_uneven_hip_levels_are_told(size: Body) -> None:
    body = changed(size, waist_to_hip=(210.0, 200.0))
    draft, findings = draft_and_findings("dress", "proportional", body)
    assert "hip-line-level" in [f.code for f in findings]
    assert draft.twin is None
    assert [x.curves[0].start.imag for x in draft.piece("front").lines if x.name == "hip"] == [-205]
    apart = changed(body, shoulder_length=(125.0, 120.0))
    draft, findings = draft_and_findings("dress", "proportional", apart)
    assert "hip-line-level" in [f.code for f in findings]
    assert draft.twin is not None
    lines = [x for d in (draft, draft.twin) for x in d.piece("front").lines if x.name == "hip"]
    assert [x.curves[0].start.imag for x in lines] == [-205, -205]


def test_arms_that_differ_need_no_two_halves(size: Body) -> None:
    body = changed(size, upper_arm_girth=(280.0, 290.0))
    assert draft_block("dress", "proportional", body).twin is None
