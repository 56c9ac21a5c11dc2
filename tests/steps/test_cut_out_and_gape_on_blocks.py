"""Shapes cut out and gapes closed anywhere on the blocks of several sizes: done right, or refused."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.blocks import BLOCKS, SIZES, block, place_on
from steps.proofs import sound

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.steps import close_gape, cut_out
from cutonce.validation import validated

DRAFTS = st.builds(block, st.sampled_from(BLOCKS), st.sampled_from(SIZES), st.booleans())


@st.composite
def places(draw: st.DrawFn) -> tuple[Draft, Piece, Label, float]:
    draft = draw(DRAFTS)
    piece = draw(st.sampled_from(draft.pieces))
    return draft, piece, draw(st.sampled_from(piece.labels)), draw(st.floats(0, 1))


@settings(max_examples=120, deadline=None)
@given(
    where=places(),
    shape=st.sampled_from(["circle", "ellipse", "teardrop"]),
    width=st.floats(10, 150),
    tall=st.floats(0.5, 2.5),
)
def test_a_shape_cut_out_anywhere(
    where: tuple[Draft, Piece, Label, float], shape: str, width: float, tall: float
) -> None:
    draft, piece, label, share = where
    values: dict[str, object] = {
        "at": place_on(piece, label, share),
        "shape": shape,
        "width": f"{width!r} mm",
    }
    if shape != "circle":
        values["height"] = f"{width * tall!r} mm"
    try:
        params = validated(cut_out.CutOut, values, {}, "step")
        done = cut_out.STEP.apply(draft, params, "hole")
    except (CannotApply, BadInput) as problem:
        assert "\n" not in str(problem)
        return
    sound(done.draft)
    before = {s.name: draft.side_length(s.a) - draft.side_length(s.b) for s in draft.seams}
    for seam in done.draft.seams:
        left = done.draft.side_length(seam.a) - done.draft.side_length(seam.b)
        was = before.get(seam.name, before.get(seam.name.removesuffix(" 2"), 0.0))
        assert abs(left) <= abs(was) + 1e-6, seam.name
    for old in draft.pieces:
        new = done.draft.piece(old.key)
        if new is old:
            continue
        assert new.area < old.area
        lost = sum(old.edge_length(e) for e in old.labels) - sum(
            new.edge_length(e) for e in new.labels if e.role != "cut-out"
        )
        assert lost == pytest.approx(params.along, rel=0.02)  # partners of unequal length: by share


@settings(max_examples=120, deadline=None)
@given(
    draft=st.builds(block, st.sampled_from(("bodice", "dress")), st.sampled_from(SIZES), st.booleans()),
    edge=st.sampled_from(["neck", "armhole", "shoulder", "side"]),
    share=st.floats(0, 1),
    amount=st.floats(1, 20),
    at_circle=st.booleans(),
    outlet=st.sampled_from(["bust dart", "waist", "hem", "side", "armhole", "centre front"]),
    there=st.floats(0, 1),
)
def test_a_gape_closed_anywhere_on_a_front(
    draft: Draft, edge: str, share: float, amount: float, at_circle: bool, outlet: str, there: float
) -> None:
    front = draft.piece("front")
    wearer = "left" if draft.unfolded else None
    label = next(e for e in front.labels if e.name == edge and e.wearer == wearer)
    values: dict[str, object] = {"at": place_on(front, label, share), "amount": f"{amount!r} mm"}
    if at_circle:
        values["at_distance"] = "7.5 cm"
    target = next((e for e in front.labels if e.name == outlet and e.wearer == wearer), None)
    if outlet == "bust dart":
        values["into"] = outlet
    elif target is not None:
        values["to"] = place_on(front, target, there)
    params = validated(close_gape.CloseGape, values, {}, "step")
    try:
        done = close_gape.STEP.apply(draft, params, "gape")
    except CannotApply as problem:
        assert "\n" not in str(problem)
        return
    sound(done.draft)
    after = done.draft.piece("front")
    for e in front.labels:
        change = after.edge_length(e) - front.edge_length(e)
        if e == label and not at_circle:
            assert change == pytest.approx(-amount, abs=0.01)
        elif e != label and (target is None or (e.name, e.role) != (target.name, target.role)):
            assert change == pytest.approx(0, abs=0.01), e.key
    grown = [after.dart_angle(d) - front.dart_angle(d) for d in front.darts if d.name != outlet]
    assert all(abs(g) < 1e-9 for g in grown)
