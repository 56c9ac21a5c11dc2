"""Cut, turn, recombine: closed outlines, rigid parts, crossing slits refused, whatever the order."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reshape.shapes import slashed

from cutonce.draft.piece import Piece
from cutonce.errors import CannotApply
from cutonce.geometry.meet import nearest
from cutonce.reshape.darts import still_span
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.places import Spot
from cutonce.reshape.recombine import End, Recombined, Slit, recombine
from cutonce.reshape.slash_line import refuse_outside
from cutonce.reshape.slash_motions import trapezoid
from cutonce.reshape.spread import Slash


def opened(piece: Piece, slashes: tuple[Slash, ...], still: int | None = None) -> Recombined:
    """The slashes opened by the kernel alone, without the checks that `spread` adds."""
    spots = [s for x in slashes for s in (x.start, x.end) if isinstance(s, Spot)]
    outline = split_outline(piece.outline, [s.on_cloth for s in spots])
    slits = []
    for x in slashes:
        assert isinstance(x.end, Spot) and x.start.label and x.end.label
        p, q = node_at(outline, x.start.on_cloth), node_at(outline, x.end.on_cloth)
        motion = trapezoid(x.name, outline[p].curve.start, outline[q].curve.start, x.a or 0.0, x.b)
        slits.append(Slit(x.name, End(p, p, x.start.label), End(q, q, x.end.label), motion))
    return recombine(outline, slits, still_span(outline, slits) if still is None else still, "step")


def runs_inside(piece: Piece, slash: Slash) -> bool:
    """False where the slash cuts across a hollow edge."""
    assert isinstance(slash.end, Spot)
    try:
        refuse_outside(piece, piece.outline, slash.name, slash.start.point, slash.end.point)
    except CannotApply:
        return False
    return True


@given(slashed())
@settings(max_examples=60)
def test_the_outline_stays_closed_and_every_span_of_cloth_comes_back_rigid(
    case: tuple[Piece, tuple[Slash, ...]],
) -> None:
    piece, slashes = case
    done = opened(piece, slashes)
    spans = done.outline
    assert all(a.curve.end == b.curve.start for a, b in zip(spans, spans[1:] + spans[:1], strict=True))
    before = {(s.origin, s.lo, s.hi): s for s in split_outline(piece.outline, _cuts(slashes))}
    cloth = [s for s in spans if s.origin.step != "step"]
    assert {(s.origin, s.lo, s.hi) for s in cloth} == set(before)
    for s in cloth:
        assert s.length == pytest.approx(before[s.origin, s.lo, s.hi].length, abs=1e-6)
        assert s.made == before[s.origin, s.lo, s.hi].made


def _cuts(slashes: tuple[Slash, ...]) -> list[tuple]:  # type: ignore[type-arg]
    return [s.on_cloth for x in slashes for s in (x.start, x.end) if isinstance(s, Spot)]


@given(slashed())
@settings(max_examples=60)
def test_one_part_more_than_slits_and_each_part_moves_as_one(
    case: tuple[Piece, tuple[Slash, ...]],
) -> None:
    piece, slashes = case
    assume(all(runs_inside(piece, s) for s in slashes))
    done = opened(piece, slashes)
    assert len(done.parts) == len(slashes) + 1
    assert [part.beside[0] for part in done.parts[1:]] == list(
        dict.fromkeys(part.beside[0] for part in done.parts[1:])
    )
    for s in slashes:
        assert sum(s.name in part.beside for part in done.parts) == 2, "a slit lies between two parts"
    assert len(done.cuts) == len(slashes)
    moved = {(s.origin, s.lo, s.hi): s for s in done.outline}
    for s in split_outline(piece.outline, _cuts(slashes)):
        middle = s.curve.at(0.5)
        inward = middle + 0.3j * s.curve.tangent(0.5)  # 0.3 mm inside: within the part the span bounds
        there = done.motion_at(inward)(middle)
        if nearest(done.cuts, middle)[1] > 3:
            assert abs(there - moved[s.origin, s.lo, s.hi].curve.at(0.5)) < 1e-6


@given(slashed(), st.randoms(use_true_random=False))
@settings(max_examples=40)
def test_the_order_in_which_slashes_are_given_does_not_matter(case: tuple, random: object) -> None:  # type: ignore[type-arg]
    piece, slashes = case
    mixed = list(slashes)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    one, two = opened(piece, slashes).outline, opened(piece, tuple(mixed)).outline
    assert len(one) == len(two)
    for a, b in zip(one, two, strict=True):
        assert abs(a.curve.start - b.curve.start) < 1e-9 and a.label == b.label and a.origin == b.origin


@given(slashed(), st.integers(0, 30))
@settings(max_examples=40)
def test_another_still_part_moves_the_whole_only(case: tuple[Piece, tuple[Slash, ...]], still: int) -> None:
    piece, slashes = case
    one = opened(piece, slashes).outline
    two = opened(piece, slashes, still % (len(piece.outline) + 2 * len(slashes))).outline
    shapes = [{(s.origin, round(s.lo, 6)): s.curve.start for s in outline} for outline in (one, two)]
    keys = list(shapes[0])
    assert set(keys) == set(shapes[1])
    for a, b in itertools.combinations(keys[:12], 2):
        there, here = (abs(shape[a] - shape[b]) for shape in shapes)
        assert there == pytest.approx(here, abs=1e-6)
