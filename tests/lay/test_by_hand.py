"""Pieces held where she put them stay, the rest settles around; what may not be is refused in one line."""

from __future__ import annotations

import cmath
import math
import re

import pytest
from lay.garments import arrow, engine, example, garment, laid, of_block, panel, sound

from cutonce.cloth.cloth import Cloth, Flaw
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.motion import Motion, shifting
from cutonce.lay.asked import Asked, AskedWay, Held
from cutonce.lay.by_hand import held_where
from cutonce.lay.lay import lay

WOOL = Cloth("wool", 1500.0, 1480.0)
TWO = garment(panel("front", 300, 500), panel("back", 320, 500))


def test_a_held_piece_stays_exactly_where_she_put_it() -> None:
    put = Motion(-1j, 700 + 900j)
    plan = lay(TWO, WOOL, Asked(held=(Held("front", put),)), search=engine)
    sound(plan)
    assert laid(plan, "front").motion(0j) == pytest.approx(put(0j), abs=1e-6)
    assert laid(plan, "front").motion(300 + 500j) == pytest.approx(put(300 + 500j), abs=1e-6)


@pytest.mark.parametrize("way", ["open", "folded lengthwise", "folded crosswise", "part folded, part open"])
def test_every_piece_held_as_it_lies_gives_the_same_lay_again(way: AskedWay) -> None:
    done, seams = example("a_line")
    first = lay(done, WOOL, Asked(way=way), seams, search=engine)
    held = tuple(held_where(first, x.key) for x in first.laid)
    again = lay(done, WOOL, Asked(way=way, held=held), seams, search=engine)
    sound(again)
    assert again.length == pytest.approx(first.length, abs=0.01)
    for one in first.laid:
        z = one.piece.grain.start
        assert laid(again, one.key).motion(z) == pytest.approx(one.motion(z), abs=0.01)


def test_one_piece_dragged_and_the_rest_settles_around() -> None:
    done, seams = example("cellist")
    first = lay(done, WOOL, None, seams, search=engine)
    front = held_where(first, "front")
    moved = Held("front", shifting(250).after(front.motion))
    plan = lay(done, WOOL, Asked(held=(moved,)), seams, search=engine)
    sound(plan)
    z = laid(first, "front").piece.grain.start
    assert laid(plan, "front").motion(z) == pytest.approx(laid(first, "front").motion(z) + 250, abs=1e-6)


def test_a_turn_by_hand_is_made_true_to_the_grain() -> None:
    put = Motion(cmath.exp(-1j * math.radians(91.2)), 700 + 900j)
    plan = lay(TWO, WOOL, Asked(held=(Held("front", put),)), search=engine)
    assert abs(arrow(laid(plan, "front")) - 1) < 1e-6


def test_a_piece_on_the_fold_is_laid_on_it_exactly() -> None:
    done, seams = of_block("dress")
    first = lay(done, WOOL, Asked(way="folded lengthwise"), seams, search=engine)
    front = held_where(first, "front")
    put = Held("front", shifting(100 + 2j).after(front.motion))
    plan = lay(done, WOOL, Asked(way="folded lengthwise", held=(put,)), seams, search=engine)
    fold = laid(plan, "front").piece.fold
    assert fold is not None
    assert max(abs(laid(plan, "front").motion(c.start).imag) for c in fold.path) < 1e-6


def turned(degrees: float) -> Motion:
    return Motion(cmath.exp(-1j * math.radians(90 + degrees)), 700 + 900j)


@pytest.mark.parametrize(
    "held, says",
    [
        (
            (Held("front", turned(30)),),
            "front: it is turned 30 degrees off its grain (its arrow may lie at 0, 180",
        ),
        ((Held("front", Motion(-1j, 700 + 900j, True)),), "front: it may not be turned over on this cloth"),
        ((Held("front", Motion(-1j, -50 + 900j)),), "front: it lies 50 mm over the edge of the cloth"),
        ((Held("front", Motion(-1j, 700 + 1600j)),), "front: it lies 110 mm over the edge of the cloth"),
        (
            (Held("front", Motion(-1j, 700 + 900j)), Held("back", Motion(-1j, 900 + 900j))),
            "front: it lies over back; move one of them",
        ),
        (
            (Held("front", Motion(-1j, 100 + 900j)), Held("back", Motion(-1j, 601 + 900j))),
            "front: it lies 1.0 mm from back, and 2 mm are to be free",
        ),
        ((Held("front", Motion(-1j, 100 + 600j)),), "front: it lies on a flaw"),
        ((Held("frnt", Motion(-1j, 100 + 600j)),), "no piece 'frnt' in the lay; closest: front (there are: "),
        ((Held("front", Motion(-1j, 700 + 900j)),) * 2, "front is held in two places"),
    ],
)
def test_what_may_not_be_held_is_refused_in_one_line(held: tuple[Held, ...], says: str) -> None:
    cloth = Cloth("wool", 1500.0, 1480.0, flaws=(Flaw(300 + 400j, 30),))
    with pytest.raises((BadInput, CannotApply), match=re.escape(says)) as refused:
        lay(TWO, cloth, Asked(held=held), search=engine)
    assert "\n" not in str(refused.value)


def test_off_the_fold_is_refused() -> None:
    done, seams = of_block("dress")
    first = lay(done, WOOL, Asked(way="folded lengthwise"), seams, search=engine)
    put = Held("front", shifting(40j).after(held_where(first, "front").motion))
    with pytest.raises(CannotApply, match="front: it belongs on the fold, and can only be moved along it"):
        lay(done, WOOL, Asked(way="folded lengthwise", held=(put,)), seams, search=engine)
