"""Fullness to fit: the border of a known law, what bounds it, what it does to the garment and its file."""

from __future__ import annotations

import pytest
from studio.area_laying import AreaLaying

from cutonce.body import body_of
from cutonce.errors import BadInput, CannotApply
from cutonce.recipe.file import read_recipe, write_recipe
from cutonce.recipe.free import free_amounts, settled
from cutonce.recipe.recipe import Recipe
from cutonce.studio.fullness import Fullest, fullest
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven, prove

BODY = body_of(
    "someone", {"waist_girth": 720.0, "hip_girth": 980.0, "waist_to_hip": 205.0, "waist_to_knee": 580.0}
)

FLARE = """
[[steps]]
id = "{piece}-flare"
do = "spread"
piece = "skirt {piece}"
[[steps.sets]]
count = 3
starts = [
  {{ piece = "skirt {piece}", edge = "hem", from = "centre {piece}", by = "4 cm" }},
  {{ piece = "skirt {piece}", edge = "hem", from = "side", by = "4 cm" }},
]
ends = [
  {{ piece = "skirt {piece}", edge = "waist", from = "centre {piece}", by = "2 cm" }},
  {{ piece = "skirt {piece}", edge = "waist", from = "side", by = "2 cm" }},
]
opens = {{ total = {amount} }}
"""

HEAD = """schema = 1
name = "A skirt"
[block]
draft = "skirt"
lengths = { length = "60 cm" }
"""

FREE = '{ least = "3 cm", most = "24 cm" }'


def design(front: str = FREE, back: str = FREE) -> str:
    return HEAD + FLARE.format(piece="front", amount=front) + FLARE.format(piece="back", amount=back)


def recipe(front: str = FREE, back: str = FREE) -> Recipe:
    return read_recipe(design(front, back), "design.toml")


def needed(of: Recipe, position: float) -> float:
    laying = AreaLaying(room=1e9)
    return laying.waste * laying.demand(prove(settled(of, BODY.names, position), BODY))


def run(of: Recipe, room: float, seconds: float = 80.0) -> tuple[Fullest, AreaLaying]:
    laying = AreaLaying(room)
    return fullest(of, BODY, laying, seconds, clock=laying.clock), laying


@pytest.mark.parametrize("true", [0.07, 0.333, 0.618, 0.95])
def test_the_border_is_found_within_a_step(true: float) -> None:
    of = recipe()
    room = needed(of, true) + 1e-6
    found, laying = run(of, room)
    (position,) = (p for _, p in found.positions)
    assert true - 0.012 <= position <= true + 0.006  # amounts go by whole millimetres, of 210
    assert needed(of, position) <= room < needed(of, position + 0.012)
    assert laying.now <= 80.0 and found.seconds <= 80.0
    assert found.bound.startswith("the cloth") and found.blocks in ("skirt front", "skirt back")


def test_both_flares_stand_at_one_proportion_and_are_written_as_ordinary_amounts() -> None:
    of = recipe(back='{ least = "3 cm", most = "10 cm" }')
    found, _ = run(of, needed(of, 0.5))
    front, back = found.amounts
    assert float(front.text.split()[0]) - 3 == pytest.approx(3 * (float(back.text.split()[0]) - 3), abs=0.4)
    text = write_recipe(found.recipe, design(back='{ least = "3 cm", most = "10 cm" }'))
    again = read_recipe(text, "d")
    assert again == found.recipe and not free_amounts(again, BODY.names)
    assert f'opens = {{ total = "{front.text}" }}' in text


def test_groups_are_filled_one_after_another_in_the_order_of_the_design() -> None:
    of = recipe(front='{ least = "3 cm", most = "24 cm", with = "front" }')
    room = needed(read_recipe(design(front='"24 cm"', back='"3 cm"'), "d"), 0) + 15.0
    found, _ = run(of, room)
    assert dict(found.positions)["front"] == 1.0
    assert 0.0 < dict(found.positions)[""] < 1.0
    assert found.bound.startswith("the cloth")


def test_where_everything_fits_the_designs_own_limit_is_what_bounds_it() -> None:
    of = recipe()
    found, laying = run(of, needed(of, 1.0) * 1.3)
    assert found.positions == (("", 1.0),) and found.bound == "the limit that the design sets"
    assert found.blocks == "" and [a.text for a in found.amounts] == ["24 cm", "24 cm"]
    assert laying.now < 80.0


def test_a_step_that_cannot_open_further_bounds_it_and_says_so() -> None:
    of = recipe(front='{ least = "3 cm", most = "9 m" }')
    found, _ = run(of, 1e6)
    (position,) = (p for _, p in found.positions)
    assert 0.0 < position < 1.0 and found.bound.startswith("more ")
    assert "front-flare" in found.bound or "skirt front" in found.bound


def test_the_hem_and_the_seams_that_change_are_told() -> None:
    of = recipe()
    found, _ = run(of, needed(of, 0.5))
    hem = found.changed[0]
    (position,) = (p for _, p in found.positions)
    assert hem.what == "hem, in all"
    assert hem.after - hem.before == pytest.approx(4 * 210 * position, rel=0.05)


def test_the_second_choice_is_a_little_less_with_the_cloth_that_then_remains() -> None:
    of = recipe()
    room = needed(of, 0.6)
    found, _ = run(of, room)
    assert found.second is not None
    (position,) = (p for _, p in found.positions)
    assert found.second.spare == pytest.approx(room - needed(of, position - 0.1), abs=0.5)
    assert found.second.amounts[0].text < found.amounts[0].text


def test_the_most_by_area_is_ruled_out_without_a_lay() -> None:
    of = recipe()
    room = needed(of, 0.3)
    _, laying = run(of, room)
    assert max(laying.lengths) <= room * laying.waste * 1.001


def test_where_not_even_the_least_fits_it_says_by_how_much() -> None:
    of = recipe()
    with pytest.raises(CannotApply, match=r"at its least the pieces do not fit: [0-9]+ cm short"):
        run(of, needed(of, 0.0) - 100)


def test_a_design_without_free_amounts_is_refused_with_how_one_is_written() -> None:
    with pytest.raises(BadInput, match="no amount of the design is free") as problem:
        run(recipe('"3 cm"', '"3 cm"'), 1000)
    assert "least" in problem.value.hint


@pytest.mark.parametrize("seconds", [2.0, 20.0])
def test_a_shorter_time_is_kept_too(seconds: float) -> None:
    of = recipe()
    found, laying = run(of, needed(of, 0.4), seconds)
    assert laying.now <= seconds + 1e-6 and found.lay.fits


def test_stopped_it_gives_the_most_so_far_at_once() -> None:
    of = recipe()
    laying = AreaLaying(needed(of, 0.5))
    found = fullest(of, BODY, laying, stopped=lambda: len(laying.lengths) >= 5, clock=laying.clock)
    assert len(laying.lengths) <= 6 and found.lay.fits and found.second is None
    assert 0.0 < found.positions[0][1] <= 0.5
    at_once = fullest(of, BODY, laying, stopped=lambda: True, clock=laying.clock)
    assert at_once.positions == (("", 0.0),)


def test_a_piece_that_grows_wider_than_the_cloth_bounds_it_and_is_named() -> None:
    of = recipe()
    limit = needed(of, 0.35)

    class Narrow(AreaLaying):
        def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
            if self.waste * self.demand(design) > limit:
                raise CannotApply("too-wide", "skirt front", "takes 141 cm across, the cloth has 138 cm")
            return super().lay(design, seconds, start, ends_early)

    laying = Narrow(1e6)
    found = fullest(of, BODY, laying, clock=laying.clock)
    (position,) = (p for _, p in found.positions)
    assert 0.34 <= position <= 0.355 and found.lay.fits
    assert "more cannot be laid: skirt front: takes 141 cm across" in found.bound
