"""The trace: edges kept, changed, made, removed, split, moved, joined, read from material alone."""

from __future__ import annotations

from dataclasses import replace

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.span import Label, Role, Span, born
from cutonce.draft.trace import Change, difference
from cutonce.geometry.curve import Line

CORNERS = (0j, 300 + 0j, 300 + 400j, 400j)
NAMES: tuple[Role, ...] = ("hem", "side", "neck", "centre front")


def square(name: str = "front") -> Piece:
    spans = tuple(
        born(Line(p, q), Label(role, role), "block")
        for p, q, role in zip(CORNERS, (*CORNERS[1:], CORNERS[0]), NAMES, strict=True)
    )
    return Piece(name, spans, Grain(100 + 100j))


def whats(changes: tuple[Change, ...]) -> dict[str, str]:
    return {f"{c.piece}, {c.edge}": c.what for c in changes}


def relabelled(piece: Piece, index: int, label: Label, at: float | None = None) -> Piece:
    """The piece with one span, or its stretch beyond `at`, under another label."""
    spans: list[Span] = list(piece.outline)
    if at is None:
        spans[index] = replace(spans[index], label=label)
    else:
        near, far = spans[index].split(at)
        spans[index : index + 1] = [near, replace(far, label=label)]
    return replace(piece, outline=tuple(spans))


def test_the_same_draft_has_no_trace_even_as_another_value() -> None:
    draft = Draft((square(),))
    assert difference(draft, draft) == ()
    assert difference(draft, Draft((square(),))) == ()


def test_a_part_of_an_edge_under_a_new_name_is_split_from_it() -> None:
    before = Draft((square(),))
    after = Draft((relabelled(square(), 1, Label("side", "side", None, 2), 150.0),))
    found = {c.edge: c for c in difference(before, after)}
    assert found["side"].what == "changed" and found["side"].after_mm == 150.0
    assert found["side 2"].what == "split" and found["side 2"].sources == ("front, side",)
    assert found["side 2"].after_mm == 250.0


def test_an_edge_that_goes_by_another_name_is_moved() -> None:
    after = Draft((relabelled(square(), 2, Label("top", "neck")),))
    assert whats(difference(Draft((square(),)), after)) == {"front, neck": "removed", "front, top": "moved"}


def test_edges_on_a_renamed_piece_are_moved() -> None:
    found = difference(Draft((square(),)), Draft((square("panel"),)))
    assert {c.what for c in found if c.piece == "panel"} == {"moved"}
    assert {c.what for c in found if c.piece == "front"} == {"removed"}


def test_two_edges_under_one_name_are_joined() -> None:
    both = Label("edge", "side")
    after = Draft((relabelled(relabelled(square(), 1, both), 2, both),))
    joined = next(c for c in difference(Draft((square(),)), after) if c.edge == "edge")
    assert joined.what == "joined" and joined.sources == ("front, side", "front, neck")
    assert joined.after_mm == 700.0


def test_new_material_is_made() -> None:
    piece = square()
    fresh = born(piece.outline[2].curve, Label("neck line", "neck"), "step 3")
    after = Draft((replace(piece, outline=(*piece.outline[:2], fresh, piece.outline[3])),))
    assert whats(difference(Draft((piece,)), after))["front, neck line"] == "made"
