"""Places spaced evenly along an outline."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reshape.shapes import pieces, spot, strip
from steps.drafts import skirt

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.reshape.places import chain
from cutonce.reshape.spacing import spaced


@given(pieces(), st.integers(2, 9), st.floats(0.05, 0.4), st.floats(0.6, 0.95))
@settings(max_examples=25)
def test_along_one_edge_they_lie_at_equal_distances(piece: Piece, count: int, a: float, b: float) -> None:
    one, two = spot(piece, 1, a), spot(piece, 1, b)
    found = spaced(piece, one, two, count)
    assert len(found) == count and found[0] == one and found[-1] == two
    run = chain(Draft((piece,)), "piece", piece.labels[1].key)
    arcs = [run.arc_of(*s.on_cloth) or 0.0 for s in found]
    gaps = [y - x for x, y in pairwise(arcs)]
    assert gaps == pytest.approx([gaps[0]] * len(gaps), abs=1e-6)


def test_over_a_corner_the_tape_goes_on() -> None:
    """From 100 mm before a corner to 200 mm behind it, four places: 100 mm apart."""
    piece = strip()
    draft = Draft((piece,))
    hem, side = chain(draft, "strip", "hem"), chain(draft, "strip", "side")
    found = spaced(piece, hem.spot(200), side.spot(200), 4)
    assert [s.point for s in found] == pytest.approx([200, 300, 300 + 100j, 300 + 200j])


def test_the_other_way_round_where_the_short_way_passes_a_start() -> None:
    piece = strip()
    draft = Draft((piece,))
    hem, side, left = (chain(draft, "strip", e) for e in ("hem", "side", "centre front"))
    start = hem.spot(150)
    found = spaced(piece, side.spot(100), left.spot(300), 3, (start,))
    assert found[1].point == pytest.approx(150 + 400j)  # over the waist, not across the start
    assert spaced(piece, side.spot(100), left.spot(300), 3)[1].point == pytest.approx(150)


def test_a_dart_between_takes_no_length() -> None:
    piece = skirt().piece("skirt front")
    waist = chain(Draft((piece,)), piece.key, "waist")
    found = spaced(piece, waist.spot(0), waist.spot(waist.length), 5)
    arcs = [waist.arc_of(*s.on_cloth) or 0.0 for s in found[1:]]
    assert arcs == pytest.approx([waist.length * i / 4 for i in range(1, 5)], abs=1e-6)


def test_one_place() -> None:
    piece = strip()
    hem = chain(Draft((piece,)), "strip", "hem")
    assert spaced(piece, hem.spot(10), hem.spot(90), 1) == (hem.spot(10),)
