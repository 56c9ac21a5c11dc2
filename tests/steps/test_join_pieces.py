"""Joining pieces: what a split parted grows together; edges that differ are refused with the gap."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import bodice, dress, label, skirt
from steps.proofs import done, lengths, place, refused, stated, unmatched

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Finish, Opening
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.motion import shifting, turning
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.unfold import unfolded
from cutonce.steps import BY_NAME
from cutonce.validation import validated

JOIN, SPLIT = BY_NAME["join_pieces"], BY_NAME["split_piece"]


def yoke(draft: Draft, piece: str = "back", down: float = 100.0, along: float = 90.0) -> Draft:
    return done(
        SPLIT,
        draft,
        "yoke",
        start=place(piece, f"centre {piece}", "neck", down),
        end=place(piece, "armhole", "shoulder", along),
        leave="square",
        arrive="square",
        parts={"above": f"{piece} yoke", "below": piece},
        seam=f"{piece} yoke seam",
    ).draft


def join(draft: Draft, still: dict[str, str], laid: dict[str, str], **more: Any) -> Draft:
    return done(JOIN, draft, "join", still=still, laid=laid, **more).draft


@settings(max_examples=25, deadline=None)
@given(st.floats(30, 250), st.floats(20, 90), st.floats(-3, 3), st.floats(-500, 500), st.booleans())
def test_a_part_split_off_and_joined_gives_the_piece_back(
    down: float, along: float, turn: float, off: float, lower_stays: bool
) -> None:
    """Wherever the part has been laid meanwhile: same edges, lengths, area and seams."""
    before = bodice()
    parted = yoke(before, down=down, along=along)
    moved = parted.piece("back yoke").moved(shifting(complex(off, -off)).after(turning(turn)))
    parted = parted.with_pieces([moved])
    edges = [{"piece": p, "edge": "back yoke seam"} for p in ("back", "back yoke")]
    still, laid = edges if lower_stays else edges[::-1]
    after = join(parted, still, laid, name="back")
    assert lengths(after) == {k: pytest.approx(v, abs=1e-6) for k, v in lengths(before).items()}
    assert after.piece("back").area == pytest.approx(before.piece("back").area, rel=1e-9)
    assert sorted(s.name for s in after.seams) == sorted(s.name for s in before.seams)
    assert not unmatched(after)
    assert [d.name for d in after.piece("back").darts] == [d.name for d in before.piece("back").darts]


def test_openings_and_finishes_come_back_too() -> None:
    size = dress().piece("front").edge_length(label("side"))
    before = replace(
        dress(),
        openings=(Opening("side", "zip", size - 500, 250.0), Opening("centre back", "slit", 0.0, 100.0)),
        finishes=((("back", label("neck")), Finish("faced", 6.0, 40.0)),),
    )
    parted = done(
        SPLIT,
        before,
        start=place("back", "centre back", "neck", 590),
        end={"piece": "back", "edge": "side", "at": "hip"},
        parts={"above": "back", "below": "back skirt"},
        seam="hip seam",
    ).draft
    assert len(parted.openings) == 3  # the zip is divided at the hip
    after = join(parted, {"piece": "back", "edge": "hip seam"}, {"piece": "back skirt", "edge": "hip seam"})
    kinds = sorted((o.seam, o.kind, round(o.start_mm, 6)) for o in after.openings)
    assert ("centre back", "slit", 0.0) in kinds
    zips = [(o.seam, o.start_mm, o.length_mm) for o in after.openings if o.kind == "zip"]
    assert zips == [("side", pytest.approx(size - 500, abs=1e-6), pytest.approx(250, abs=1e-6))]
    assert after.finishes == before.finishes


def test_a_shirt_yoke_over_the_shoulder() -> None:
    """Front and back yoke joined at the shoulder: neck and armhole run on, areas sum, the seam is retired."""
    draft = yoke(bodice(bust_angle=0))
    draft = done(
        SPLIT,
        draft,
        start=place("front", "neck", "shoulder", 40),
        end=place("front", "armhole", "shoulder", 40),
        parts={"above": "front yoke", "below": "front"},
        seam="front yoke seam",
    ).draft
    areas = draft.piece("back yoke").area + draft.piece("front yoke").area
    new = join(
        draft,
        {"piece": "back yoke", "edge": "shoulder"},
        {"piece": "front yoke", "edge": "shoulder"},
        name="yoke",
    )
    piece = new.piece("yoke")
    assert piece.area == pytest.approx(areas, rel=1e-9)
    assert [e.key for e in piece.labels].count("neck") == [e.key for e in piece.labels].count("armhole") == 1
    assert "shoulder" not in {s.name for s in new.seams}
    assert not unmatched(new)
    with pytest.raises(CannotApply, match="edge 'shoulder' is no more: step join joined the pieces along it"):
        resolve(new, Place("yoke", "shoulder", at="neck"))


def test_two_halves_of_a_skirt_back_become_one_piece() -> None:
    whole = unfolded(skirt(), (), "unfold")
    areas = sum(p.area for p in whole.pieces if p.name == "skirt back")
    edges = [{"piece": "skirt back", "edge": "centre back", "wearer": w} for w in ("left", "right")]
    new = join(whole, *edges)
    piece = new.piece("skirt back")
    assert piece.wearer is None
    assert piece.area == pytest.approx(areas, rel=1e-9)
    assert {d.label.key for d in piece.darts} == {"left waist dart", "right waist dart"}


def test_places_on_both_parts_are_still_found() -> None:
    """Front and back of a dress joined at the side have each a hem, a neck and marks of the same names."""
    draft = dress()
    still, laid = {"piece": "front", "edge": "shoulder"}, {"piece": "back", "edge": "shoulder"}
    front = draft.piece("front")
    draft = draft.with_pieces([replace(front, cut="pair", fold=None)])
    no_dart = done(
        BY_NAME["move_dart"],
        draft,
        piece="front",
        dart="bust dart",
        to=place("front", "armhole", "shoulder", 60),
    ).draft
    new = join(no_dart, still, laid, name="front and back", within="1 mm")
    piece = new.piece("front and back")
    sides = [e.key for e in piece.labels if e.name == "side"]
    assert sides == ["side", "side 2"]
    spots = [resolve(new, Place("front and back", e, at="waist")) for e in ("side 2",)]
    assert spots[0].label is not None and spots[0].label.part == 2
    assert len({s.origin for s in piece.outline if s.label.name == "side"}) == 2
    seam = next(s for s in new.seams if s.name == "side")
    assert {seam.a.labels[0].part, seam.b.labels[0].part} == {1, 2}
    assert not unmatched(new)


def test_edges_that_differ_are_refused_with_the_gap() -> None:
    draft = bodice(bust_angle=0)
    with pytest.raises(CannotApply) as caught:
        join(draft, {"piece": "front", "edge": "neck"}, {"piece": "back", "edge": "neck"})
    assert caught.value.code == "edges-differ"
    assert "the edges are 114.9 and 84.1 mm and lie up to" in str(caught.value)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.001, 0.9))
def test_a_small_difference_is_taken_up_and_told(more: float) -> None:
    """The laid edge is longer by so much: both ends meet half way, the outline is closed."""
    draft = yoke(bodice())
    upper = draft.piece("back yoke")
    stretched = replace(upper, outline=tuple(replace(s, curve=_longer(s.curve, more)) for s in upper.outline))
    draft = draft.with_pieces([stretched])
    edges = [{"piece": p, "edge": "back yoke seam"} for p in ("back", "back yoke")]
    result = done(JOIN, draft, "join", still=edges[0], laid=edges[1], within="1 mm")
    if more > 0.15:
        assert "mm apart" in result.findings[0].message
    with pytest.raises(CannotApply, match="mm apart"):
        done(JOIN, draft, "join", still=edges[0], laid=edges[1], within=f"{more / 4:.6f} mm")


def _longer(curve: Any, more: float) -> Any:
    """Drawn out along x by `more` mm in 200."""
    factor = 1 + more / 200
    names = [n for n in ("a", "b", "c", "d") if hasattr(curve, n)]
    return replace(
        curve, **{n: complex(getattr(curve, n).real * factor, getattr(curve, n).imag) for n in names}
    )


@pytest.mark.parametrize(
    ("still", "laid", "code", "says"),
    [
        ("front side", "front armhole", "same-piece", "cannot be joined to itself"),
        ("front shoulder", "back shoulder", "dart-on-edge", "the bust dart opens on it"),
        (
            "front neck",
            "back shoulder",
            "sewn-elsewhere",
            "the seam 'shoulder' sews back, shoulder and front",
        ),
        ("front sid", "back side", "no-edge", "no edge 'sid'"),
        ("yoke side", "back side", "no-piece", "no piece 'yoke'"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(still: str, laid: str, code: str, says: str) -> None:
    edges = [dict(zip(("piece", "edge"), text.split(), strict=True)) for text in (still, laid)]
    with refused(CannotApply, code, says):
        join(bodice(), edges[0], edges[1])


def test_two_pieces_on_folds_are_refused() -> None:
    with pytest.raises(CannotApply, match="both skirt front and skirt back lie on a fold"):
        draft = skirt()
        back = draft.piece("skirt back")
        draft = draft.with_pieces([replace(back, cut="fold", fold=label("centre back"))])
        join(draft, {"piece": "skirt front", "edge": "side"}, {"piece": "skirt back", "edge": "side"})


@pytest.mark.parametrize(
    ("values", "code"),
    [({"within": "0 mm"}, "out-of-range"), ({"still": None}, "missing-key"), ({"edge": "x"}, "unknown-key")],
)
def test_what_cannot_be_read_is_said_in_one_line(values: dict[str, Any], code: str) -> None:
    given_values = {"still": {"piece": "a", "edge": "b"}, "laid": {"piece": "c", "edge": "d"}} | values
    with refused(BadInput, code):
        validated(JOIN.params, stated(given_values), {}, "step 1")
