"""Openings by total, ratio and length: shared out, met on the mended edge, refused where they cannot be."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reshape.shapes import strip
from steps.drafts import skirt

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.reshape.places import chain
from cutonce.reshape.slash_amounts import Amount, Group, opened
from cutonce.reshape.spread import Slash

HEM, WAIST = Label("hem", "hem"), Label("waist", "waist")


def group(piece: Piece, count: int, start: Amount, end: Amount | None = None, **more: object) -> Group:
    """Slashes from hem to waist, spaced evenly."""
    draft = Draft((piece,))
    hem, waist = (chain(draft, piece.key, e) for e in ("hem", "waist"))
    slashes = tuple(
        Slash(
            f"slash {i}",
            hem.spot(hem.length * i / (count + 1)),
            waist.spot(waist.length * (1 - i / (count + 1))),
        )
        for i in range(1, count + 1)
    )
    return Group(slashes, start, end, **more)  # type: ignore[arg-type]


@given(st.integers(1, 8), st.floats(1.05, 1.9), st.booleans())
@settings(max_examples=25)
def test_an_edge_is_opened_to_a_length_measured_when_mended(count: int, ratio: float, blend: bool) -> None:
    """Within 0.05 mm, and the waist keeps its 300 mm within 0.01."""
    piece = strip()
    done = opened(piece, [group(piece, count, Amount("length", 300 * ratio))], "step", blend=blend)
    assert done.piece.edge_length(HEM) == pytest.approx(300 * ratio, abs=0.05)
    assert done.piece.edge_length(WAIST) == pytest.approx(300, abs=0.01)
    wide = {round(s.a or 0.0, 9) for s in done.slashes}
    assert len(wide) == 1, "the opening is shared out equally"


def test_fairing_cuts_corners_so_slashes_open_a_little_more_than_the_difference() -> None:
    piece = strip()
    done = opened(piece, [group(piece, 5, Amount("length", 500))], "step")
    assert 200 < sum(s.a or 0.0 for s in done.slashes) < 204
    flat = opened(piece, [group(piece, 5, Amount("length", 500))], "step", blend=False)
    assert sum(s.a or 0.0 for s in flat.slashes) == pytest.approx(200, abs=0.02)


def test_a_ratio_is_a_length() -> None:
    piece = strip()
    done = opened(piece, [group(piece, 4, Amount("ratio", 1.5))], "step")
    assert done.piece.edge_length(HEM) == pytest.approx(450, abs=0.05)


def test_a_total_is_shared_out_by_weight() -> None:
    piece = strip()
    done = opened(piece, [group(piece, 3, Amount("total", 100), weights=(1, 2, 1))], "step", blend=False)
    assert [s.a for s in done.slashes] == pytest.approx([25, 50, 25])
    assert done.piece.edge_length(HEM) == pytest.approx(400, abs=1e-6)


def test_alike_and_unlike_ends() -> None:
    piece = strip()
    done = opened(piece, [group(piece, 3, Amount("each", 10), alike=True)], "step", blend=False)
    assert done.piece.edge_length(WAIST) == pytest.approx(330, abs=1e-6)
    done = opened(piece, [group(piece, 3, Amount("each", 10), Amount("total", 60))], "step", blend=False)
    assert [s.b for s in done.slashes] == pytest.approx([20, 20, 20])
    done = opened(piece, [group(piece, 3, Amount("ratio", 1.4), Amount("length", 340))], "step")
    assert done.piece.edge_length(HEM) == pytest.approx(420, abs=0.05)
    assert done.piece.edge_length(WAIST) == pytest.approx(340, abs=0.05)


def test_a_dart_closed_into_slashes_needs_no_amount() -> None:
    piece = skirt().piece("skirt front")
    hem = chain(Draft((piece,)), piece.key, "hem")
    slashes = tuple(Slash(f"slash {i}", hem.spot(60.0 * i), piece.darts[0]) for i in (1, 2))
    done = opened(piece, [Group(slashes, None)], "step")
    assert done.piece.darts == ()
    assert done.piece.edge_length(WAIST) == pytest.approx(piece.edge_length(WAIST), abs=0.01)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (
            lambda p: [group(p, 3, Amount("length", 290))],
            r"the hem is 300\.0 mm.*cannot bring it to 290\.0 mm",
        ),
        (
            lambda p: [group(p, 3, Amount("ratio", 1.0))],
            r"the hem is 300\.0 mm.*cannot bring it to 300\.0 mm",
        ),
        (
            lambda p: [group(p, 1, Amount("length", 400)), group(p, 2, Amount("length", 410))],
            r"two sets give the hem a length",
        ),
        (lambda p: [group(p, 2, Amount("length", 99999))], r"slash \d is 400\.0 mm long and cannot open"),
        (lambda p: [group(p, 8, Amount("each", 350))], r"would lie over itself near its \w+"),
    ],
)
def test_what_cannot_be_had_is_said(make: object, says: str) -> None:
    piece = strip()
    with pytest.raises(CannotApply, match=says):
        opened(piece, make(piece), "step")  # type: ignore[operator]


def test_a_length_is_that_of_one_edge() -> None:
    piece = strip()
    draft = Draft((piece,))
    hem, side, waist = (chain(draft, piece.key, e) for e in ("hem", "side", "waist"))
    slashes = (
        Slash("slash 1", hem.spot(100), waist.spot(200)),
        Slash("slash 2", side.spot(100), waist.spot(100)),
    )
    with pytest.raises(CannotApply, match="is that of one edge; these slashes lie on: hem, side"):
        opened(piece, [Group(slashes, Amount("length", 400))], "step")
