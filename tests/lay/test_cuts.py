"""What is cut of finished pieces: hands, halves opened out, layers, counts."""

from __future__ import annotations

from dataclasses import replace

import pytest
from lay.garments import example, garment, panel

from cutonce.geometry import path
from cutonce.lay.cuts import cuts, lies_on_fold, parted
from cutonce.lay.plan import Way

DONE = garment(
    panel("front", 280, 600, "fold"),
    panel("sleeve", 250, 500, "pair"),
    replace(panel("pocket", 200, 220), count=3),
    panel("collar", 200, 100, "fold", warp=1 + 1j, words="bias"),
)


def told(way: Way) -> list[tuple[str, int, bool, bool, str]]:
    return [(c.key, c.layers, c.on_fold, c.spare, c.paper) for c in cuts(DONE, way)]


def test_open_cloth_has_each_piece_once_in_a_single_layer() -> None:
    assert told("open") == [
        ("front", 1, False, False, "opened out"),
        ("left sleeve", 1, False, False, "face up"),
        ("right sleeve", 1, False, False, "face down"),
        ("pocket 1", 1, False, False, "face up"),
        ("pocket 2", 1, False, False, "face up"),
        ("pocket 3", 1, False, False, "face up"),
        ("collar", 1, False, False, "opened out"),
    ]


def test_folded_cloth_gives_pairs_at_once_and_singles_twice() -> None:
    assert told("folded lengthwise") == [
        ("front", 2, True, False, "face up"),
        ("sleeve", 2, False, False, "face up"),
        ("pocket 1", 2, False, True, "face up"),
        ("pocket 2", 2, False, True, "face up"),
        ("pocket 3", 2, False, True, "face up"),
        ("collar", 2, False, True, "opened out"),
    ]


def test_parted_puts_each_piece_where_nothing_is_wasted() -> None:
    folded, single = parted(DONE)
    assert [c.key for c in folded] == ["front", "sleeve"]
    assert [c.key for c in single] == ["pocket 1", "pocket 2", "pocket 3", "collar"]
    assert all(c.layers == 2 for c in folded) and all(c.layers == 1 for c in single)


@pytest.mark.parametrize("name", ["a_line", "cellist", "stage_tunic"])
@pytest.mark.parametrize("way", ["open", "folded lengthwise", "folded crosswise"])
def test_as_much_cloth_is_cut_as_the_pieces_have(name: str, way: Way) -> None:
    done = example(name)[0]
    wanted = sum(path.area(p.cutting) * (2 if p.cut == "fold" else p.count) for p in done.pieces)
    made = sum(path.area(c.piece.cutting) * (1 if c.spare else c.layers) for c in cuts(done, way))
    assert made == pytest.approx(wanted)
    assert len({c.key for c in cuts(done, way)}) == len(cuts(done, way))


def test_a_half_lies_on_the_fold_that_runs_as_its_own() -> None:
    straight, across = panel("a", 200, 300, "fold"), panel("b", 200, 300, "fold", warp=1 + 0j)
    slanted = panel("c", 200, 300, "fold", warp=1 + 1j)
    beyond = panel("d", 200, 300, "fold", slope=250)
    fits = [
        [lies_on_fold(p, way) for way in ("open", "folded lengthwise", "folded crosswise")]
        for p in (straight, across, slanted, beyond)
    ]
    assert fits == [[False, True, False], [False, False, True], [False] * 3, [False] * 3]


def test_words_of_one_of_a_pair_say_which_it_is() -> None:
    right = next(c.piece for c in cuts(DONE, "open") if c.key == "right sleeve")
    assert right.title == "Right sleeve" and right.count == 1 and right.cut == "single"
    assert right.label == (
        "Right sleeve",
        "a test, piece 1 of 1",
        "cut 1, right side up",
        "wearer's right",
        "straight grain",
    )
