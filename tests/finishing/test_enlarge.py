"""Pieces enlarged for shrinkage: washed, they are the pieces drafted."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lay.garments import example, of_block, panel

from cutonce.errors import BadInput
from cutonce.finishing.enlarge import MOST_SHARE, Stretch, all_enlarged, enlarged
from cutonce.finishing.finished import FinishedPiece, GrainArrow
from cutonce.finishing.mirror import mirrored, opened_out
from cutonce.geometry import path
from cutonce.geometry.motion import MIRROR
from cutonce.geometry.path import Path

SHARES = st.floats(-0.05, MOST_SHARE)


def washed(piece: FinishedPiece, along: float, across: float) -> Path:
    """The cutting line of a piece after the cloth has shrunk."""
    arrow = piece.grain.end - piece.grain.start
    return Stretch(arrow / abs(arrow), 1 - along, 1 - across).of_path(piece.cutting)


def gaps(one: Path, two: Path) -> float:
    return max(
        abs(p - q) for a, b in zip(one, two, strict=True) for p, q in zip(a.points, b.points, strict=True)
    )


@given(st.integers(0, 6), st.floats(0, math.pi), SHARES, SHARES)
def test_washed_it_is_the_piece_drafted(which: int, slant: float, along: float, across: float) -> None:
    piece = example("cellist")[0].pieces[which]
    turned = replace(piece, grain=GrainArrow(10j, 10j + 200 * cmath.exp(1j * slant), "straight grain"))
    assert gaps(washed(enlarged(turned, along, across), along, across), piece.cutting) < 1e-9


@given(SHARES, SHARES)
def test_area_grows_by_both_shares(along: float, across: float) -> None:
    piece = of_block("dress")[0].pieces[0]
    more = path.area(enlarged(piece, along, across).cutting) / path.area(piece.cutting)
    assert more == pytest.approx(1 / ((1 - along) * (1 - across)))


def test_100_at_5_percent_is_cut_105_26() -> None:
    """Fact sheet 5.2, computed there: cut = finished / (1 - s)."""
    made = enlarged(panel("belt", 40, 100), 0.05, 0.0)
    low_x, low_y, high_x, high_y = path.bounds(made.cutting)
    assert (high_x - low_x, round(high_y - low_y, 2)) == (40, 105.26)


def test_everything_on_the_piece_goes_along() -> None:
    for piece in example("stage_tunic")[0].pieces:
        arrow = piece.grain.end - piece.grain.start
        by = Stretch(arrow / abs(arrow), 1 / 0.94, 1 / 0.99)
        made = enlarged(piece, 0.06, 0.01)
        assert [n.at for n in made.notches] == [by(n.at) for n in piece.notches]
        assert [d.at for d in made.drills] == [by(d.at) for d in piece.drills]
        assert [p.at for p in made.points] == [by(p.at) for p in piece.points]
        assert [x.path[0].start for x in made.lines] == [by(x.path[0].start) for x in piece.lines]
        for old, new in zip(piece.darts, made.darts, strict=True):
            ends = (
                [leg[0].start for leg in new.legs]
                if len(new.legs) == 2
                else [new.legs[0][-1].end, new.legs[1][-1].end]
            )
            assert new.intake == pytest.approx(abs(ends[0] - ends[1]), rel=1e-6)
            assert new.tips == tuple(by(t) for t in old.tips)
        assert abs(made.grain.end - made.grain.start) == pytest.approx(abs(arrow) / 0.94)
        assert made.label[-1].startswith("enlarged for shrinkage: 6 % along the warp, 1 % across")


@given(SHARES, SHARES)
def test_the_other_hand_enlarged_is_the_enlarged_other_hand(along: float, across: float) -> None:
    piece = panel("sleeve", 300, 500, "pair", warp=1 + 2j, slope=80)
    one, two = (
        enlarged(mirrored(piece, MIRROR), along, across),
        mirrored(enlarged(piece, along, across), MIRROR),
    )
    assert gaps(one.cutting, two.cutting) < 1e-9


def test_a_half_on_the_straight_stays_half_with_its_fold_straight() -> None:
    piece = of_block("dress")[0].piece("front")
    made = enlarged(piece, 0.05, 0.02)
    assert made.fold is not None and max(abs(c.start.real) for c in made.fold.path) < 1e-9
    assert gaps(opened_out(made).cutting, enlarged(opened_out(piece), 0.05, 0.02).cutting) < 1e-6


def test_a_half_on_the_bias_is_opened_out_first() -> None:
    piece = panel("front", 300, 500, "fold", warp=1 + 1j, words="bias")
    made = enlarged(piece, 0.05, 0.0)
    assert made.fold is None and made.cut == "single"
    assert gaps(washed(made, 0.05, 0.0), opened_out(piece).cutting) < 1e-9
    assert enlarged(piece, 0.05, 0.05).fold is not None  # the same both ways is no matter of the grain


def test_cloth_that_does_not_shrink_leaves_pieces_as_they_are() -> None:
    done = example("a_line")[0]
    assert all_enlarged(done, 0.0, 0.0) == done


@pytest.mark.parametrize("along, across", [(0.31, 0.0), (0.0, 3.0), (-0.5, 0.0), (float("nan"), 0.0)])
def test_shares_that_are_none_are_refused(along: float, across: float) -> None:
    with pytest.raises(BadInput, match="the warp; it must be within 30%"):
        enlarged(panel("belt", 40, 100), along, across)
