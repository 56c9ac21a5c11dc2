"""The trace: edges kept, changed, made, removed, split, moved, joined, read from material alone."""

from __future__ import annotations

from dataclasses import replace

from steps.drafts import bodice, bodice_front, whole_bodice

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.span import Label, Role, Span, born
from cutonce.draft.trace import Change, difference
from cutonce.geometry.curve import Line
from cutonce.reshape.unfold import unfolded

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
    (moved,) = difference(Draft((square(),)), after)
    assert moved == Change("front", "top", "moved", 300.0, 300.0, ("front, neck",))


def test_edges_on_a_renamed_piece_are_moved() -> None:
    found = difference(Draft((square(),)), Draft((square("panel"),)))
    assert {c.what for c in found} == {"moved"}
    assert {(c.piece, c.edge, c.sources) for c in found} == {("panel", n, (f"front, {n}",)) for n in NAMES}


def test_two_edges_under_one_name_are_joined() -> None:
    both = Label("edge", "side")
    after = Draft((relabelled(relabelled(square(), 1, both), 2, both),))
    joined = next(c for c in difference(Draft((square(),)), after) if c.edge == "edge")
    assert joined.what == "joined" and joined.sources == ("front, side", "front, neck")
    assert joined.before_mm == joined.after_mm == 700.0


def test_new_material_is_made() -> None:
    piece = square()
    fresh = born(piece.outline[2].curve, Label("neck line", "neck"), "step 3")
    after = Draft((replace(piece, outline=(*piece.outline[:2], fresh, piece.outline[3])),))
    assert whats(difference(Draft((piece,)), after))["front, neck line"] == "made"


def test_a_new_edge_under_an_old_name_is_redrawn() -> None:
    piece = square()
    neck = Label("neck", "neck")
    lower = born(Line(300 + 380j, 380j), neck, "step 3")
    cut = replace(
        piece,
        outline=(
            piece.outline[0],
            piece.outline[1].split(380.0)[0],
            lower,
            piece.outline[3].split(20.0)[1],
        ),
    )
    found = {c.edge: c for c in difference(Draft((piece,)), Draft((cut,)))}
    assert (found["neck"].what, found["neck"].before_mm, found["neck"].after_mm) == ("redrawn", 300.0, 300.0)
    assert (found["side"].what, found["side"].after_mm) == ("changed", 380.0)
    assert (found["centre front"].what, found["centre front"].after_mm) == ("changed", 380.0)
    assert set(found) == {"neck", "side", "centre front"}


def test_an_edge_whose_cloth_is_gone_is_removed() -> None:
    piece = square()
    slant = born(Line(300 + 400j, 0j), Label("slant", "style line"), "step 3")
    corner = replace(piece, outline=(*piece.outline[:2], slant))
    found = whats(difference(Draft((piece,)), Draft((corner,))))
    assert found == {"front, neck": "removed", "front, centre front": "removed", "front, slant": "made"}


def test_parts_that_come_together_again_are_joined() -> None:
    parted = relabelled(square(), 1, Label("side", "side", None, 2), 150.0)
    (joined,) = difference(Draft((parted,)), Draft((square(),)))
    assert joined == Change("front", "side", "joined", 400.0, 400.0, ("front, side", "front, side 2"))


def test_a_parted_piece_hands_its_edges_to_both_parts() -> None:
    before = square()
    line = Label("panel seam", "style line")
    cut = Line(100 + 0j, 100 + 400j)
    near_hem, far_hem = before.outline[0].split(100.0)
    far_neck, near_neck = before.outline[2].split(200.0)
    new = born(cut, line, "panel")
    middle = replace(before, outline=(near_hem, new, near_neck, before.outline[3]))
    second = Label("hem", "hem", None, 2)
    side = replace(
        before,
        name="side front",
        outline=(
            replace(far_hem, label=second),
            before.outline[1],
            far_neck,
            new.reversed(),
        ),
    )
    found = {(c.piece, c.edge): c for c in difference(Draft((before,)), Draft((middle, side)))}
    told = {key: (c.what, c.before_mm, c.after_mm, c.sources) for key, c in found.items()}
    assert told == {
        ("front", "hem"): ("changed", 300.0, 100.0, ()),
        ("front", "neck"): ("changed", 300.0, 100.0, ()),
        ("front", "panel seam"): ("made", 0.0, 400.0, ()),
        ("side front", "hem 2"): ("split", 0.0, 200.0, ("front, hem",)),
        ("side front", "side"): ("moved", 400.0, 400.0, ("front, side",)),
        ("side front", "neck"): ("split", 0.0, 200.0, ("front, neck",)),
        ("side front", "panel seam"): ("made", 0.0, 400.0, ()),
    }


def test_two_pieces_put_together_join_their_edges() -> None:
    whole = square("whole")
    second = Label("hem", "hem", None, 2)
    hem, far_hem = whole.outline[0].split(100.0)
    one = replace(whole, name="front", outline=(hem, *whole.outline[3:]))
    two = replace(whole, name="side front", outline=(replace(far_hem, label=second), *whole.outline[1:3]))
    found = {c.edge: c for c in difference(Draft((one, two)), Draft((whole,)))}
    assert {edge: c.what for edge, c in found.items()} == {
        "hem": "joined",
        "side": "moved",
        "neck": "moved",
        "centre front": "moved",
    }
    assert set(found["hem"].sources) == {"front, hem", "side front, hem 2"}
    assert found["side"].sources == ("side front, side",)
    assert found["centre front"].sources == ("front, centre front",)


def test_front_and_back_whose_edges_have_one_name_are_told_apart() -> None:
    front, back = square("front"), square("back")  # both sides are of the origin (block, side)
    parted = relabelled(front, 1, Label("side", "side", None, 2), 150.0)
    found = {(c.piece, c.edge): c for c in difference(Draft((front, back)), Draft((parted, replace(back))))}
    assert found[("front", "side 2")].sources == ("front, side",)
    assert all(piece == "front" for piece, _ in found)


def test_unfolding_moves_every_edge_but_the_centre() -> None:
    found = difference(bodice(), whole_bodice())
    assert {c.what for c in found if c.edge.startswith(("left", "right"))} == {"moved"}
    removed = [(c.piece, c.edge) for c in found if c.what == "removed"]
    assert removed == [("front", "centre front")]
    sides = [c for c in found if c.edge == "right side"]
    assert {c.sources for c in sides} == {("front, side",), ("back, side",)}
    assert all(abs(c.before_mm - c.after_mm) < 1e-9 for c in found if c.what == "moved")


def test_the_halves_of_an_uneven_body_are_told_each() -> None:
    left, right = bodice(), bodice(width=250)
    before = replace(left, twin=right)
    longer = replace(right, pieces=(bodice_front(width=252), right.pieces[1]))
    found = difference(before, replace(left, twin=longer))
    assert found and {c.half for c in found} == {"right"}
    assert {c.piece for c in found} == {"front"}


def test_unfolding_an_uneven_body_takes_each_side_from_its_half() -> None:
    left, right = bodice(), bodice(width=250)
    before = replace(left, twin=right)
    found = difference(before, unfolded(before, (), "whole"))
    hems = {c.edge: c.before_mm for c in found if c.piece == "front" and c.edge.endswith("waist")}
    length = {
        half: sum(d.pieces[0].edge_length(e) for e in d.pieces[0].labels if e.role == "waist")
        for half, d in (("left waist", left), ("right waist", right))
    }
    assert hems == length
    assert length["left waist"] != length["right waist"]
    assert [(c.edge, c.half) for c in found if c.what == "removed"] == [
        ("centre front", "left"),
        ("centre front", "right"),
    ]


def test_a_dart_taken_into_an_edge_changes_it_and_no_other() -> None:
    before = bodice_front()
    dart = next(d for d in before.darts if d.name == "waist dart")
    waist = next(e for e in before.labels if e.role == "waist")
    released = replace(
        before,
        darts=tuple(d for d in before.darts if d != dart),
        outline=tuple(replace(s, label=waist) if s.label == dart.label else s for s in before.outline),
    )
    (change,) = difference(Draft((before,)), Draft((released,)))
    assert (change.edge, change.what) == ("waist", "changed")
    assert change.after_mm - change.before_mm > 100
