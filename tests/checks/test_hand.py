from dataclasses import replace

import pytest
from checks.planted import altered, dress, found, skirt, whole

from cutonce.checks.hand import hand
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.geometry.motion import reflecting


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(hand, draft) == ()


@pytest.mark.parametrize("times, codes", [(1, ["mirrored"]), (2, []), (3, ["mirrored"])])
def test_reflections_are_counted(times: int, codes: list[str]) -> None:
    def fault(piece: Piece) -> Piece:
        for _ in range(times):
            piece = piece.moved(reflecting(0j, 1j))
        return piece

    said = found(hand, altered(whole(dress()), "left back", fault))
    assert [(f.code, f.severity, f.where) for f in said] == [(c, "stop", "left back") for c in codes]


def test_a_left_piece_cut_as_a_pair() -> None:
    draft = altered(whole(dress()), "left back", lambda piece: replace(piece, cut="pair"))
    assert [f.code for f in found(hand, draft)] == ["pair-of-one-side"]


def test_a_fold_that_is_gone() -> None:
    lost = Label("centre front", "centre front", part=2)
    draft = altered(skirt(), "skirt front", lambda piece: replace(piece, fold=lost))
    assert [f.code for f in found(hand, draft)] == ["no-fold"]


def test_a_whole_piece_on_the_fold() -> None:
    def fault(piece: Piece) -> Piece:
        return replace(piece, cut="fold", fold=piece.labels[0])

    assert [f.code for f in found(hand, altered(whole(skirt()), "skirt front", fault))] == ["fold-of-whole"]
