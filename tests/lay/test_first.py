from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lay.problems import blank, disc, problems, rectangle

from cutonce.errors import CannotApply
from cutonce.lay.first import first_layout, laid_like
from cutonce.lay.problem import Bed, Layout, Problem, Rule, Spot
from cutonce.lay.verify import verify


@given(problems())
def test_the_first_layout_is_legal_whatever_the_rules_flaws_and_spacing(problem: Problem) -> None:
    assert verify(problem, first_layout(problem)) == ()


@given(problems(plain=True))
def test_more_tries_are_never_longer_and_the_same_each_time(problem: Problem) -> None:
    one, four = first_layout(problem), first_layout(problem, 4)
    assert four.length <= one.length and verify(problem, four) == ()
    assert first_layout(problem, 4) == four


def test_pieces_that_fill_the_cloth_exactly_are_laid_side_by_side() -> None:
    problem = Problem(Bed(150.0), tuple(blank(str(k), rectangle(100, 75), (0.0,)) for k in range(4)))
    layout = first_layout(problem)
    assert layout.length == pytest.approx(200.0, abs=0.02) and verify(problem, layout) == ()


def test_a_piece_as_wide_as_the_cloth_is_laid() -> None:
    problem = Problem(
        Bed(150.0), (blank("a", rectangle(30, 150), (0.0,)), blank("b", rectangle(50, 150), (0.0,)))
    )
    layout = first_layout(problem)
    assert layout.length == pytest.approx(80.0, abs=0.02) and verify(problem, layout) == ()


def test_sharp_tips_do_not_overlap_more_than_the_check_lets_pass() -> None:
    needle = (0j, 80 + 0.5j, 80 - 0.5j)
    problem = Problem(Bed(60.0), tuple(blank(str(k), needle) for k in range(12)))
    assert verify(problem, first_layout(problem)) == ()


def test_a_piece_goes_into_the_bay_of_another() -> None:
    bay = (0j, 300 + 0j, 300 + 100j, 200 + 100j, 200 + 30j, 100 + 30j, 100 + 100j, 100j)
    problem = Problem(Bed(100.0), (blank("bay", bay, (0.0,)), blank("in it", rectangle(100, 70), (0.0,))))
    assert first_layout(problem).length == pytest.approx(300.0, abs=0.02)


def test_a_fold_piece_lies_on_the_fold_and_stripes_on_their_repeat() -> None:
    fold = blank("fold", rectangle(120, 60), (0.0,), across=Rule(0.0))
    stripe = blank("stripe", rectangle(50, 40), (0.0,), along=Rule(7.0, 30.0), across=Rule(3.0, 25.0))
    problem = Problem(Bed(100.0), (fold, stripe))
    layout = first_layout(problem)
    assert verify(problem, layout) == ()
    assert {spot.blank: spot.at for spot in layout.spots} == {"fold": 0j, "stripe": 127 + 3j}


def test_what_has_one_place_only_is_laid_there_whatever_its_size() -> None:
    pinned = blank("pinned", rectangle(20, 20), (0.0,), Rule(90.0), Rule(40.0))
    layout = first_layout(Problem(Bed(100.0), (blank("large", rectangle(100, 100), (0.0,)), pinned)))
    assert {spot.blank: spot.at for spot in layout.spots} == {
        "pinned": 90 + 40j,
        "large": pytest.approx(110, abs=0.01),
    }


def test_flaws_are_gone_round() -> None:
    problem = Problem(Bed(100.0, avoid=(disc(50 + 50j, 10.0),)), (blank("a", rectangle(50, 80), (0.0,)),))
    layout = first_layout(problem)
    assert verify(problem, layout) == () and layout.length == pytest.approx(110.0, abs=0.5)


@given(problems(), st.floats(0.9, 1.15))
def test_a_layout_is_laid_anew_for_blanks_of_other_sizes(problem: Problem, size: float) -> None:
    old = first_layout(problem)
    other = resized(problem, size)
    made = laid_like(other, old)
    assert made is not None and verify(other, made) == ()
    assert {spot.blank: spot.shape for spot in made.spots} == {spot.blank: spot.shape for spot in old.spots}


@pytest.mark.parametrize("seed", range(8))
def test_blanks_stay_where_they_lay_across_the_cloth(seed: int) -> None:
    chance = random.Random(seed)
    sizes = [(chance.randint(20, 80), chance.randint(20, 60)) for _ in range(10)]
    problem = Problem(
        Bed(101.0), tuple(blank(str(k), rectangle(*size), (0.0,)) for k, size in enumerate(sizes))
    )
    lowest = first_layout(problem, 40)
    spots = (
        Spot(s.blank, 0, complex(s.at.real, round(101 - s.at.imag) - sizes[int(s.blank)][1]))
        for s in lowest.spots
    )
    upside_down = replace(lowest, spots=tuple(spots))
    made = laid_like(problem, upside_down)
    assert made is not None and verify(problem, made) == ()
    assert made.length <= lowest.length + 0.02


def resized(problem: Problem, size: float) -> Problem:
    """With each outline larger by that factor."""
    blanks = tuple(
        replace(b, shapes=tuple(replace(s, outline=tuple(size * p for p in s.outline)) for s in b.shapes))
        for b in problem.blanks
    )
    return replace(problem, blanks=blanks)


def test_a_layout_of_other_blanks_is_no_pattern() -> None:
    one, two = (Problem(Bed(100.0), (blank(key, rectangle(50, 50)),)) for key in ("one", "two"))
    assert laid_like(two, first_layout(one)) is None
    assert laid_like(one, Layout(50.0, (Spot("one", 7, 0j),))) is None
    assert laid_like(one, Layout(0.0, ())) is None


@pytest.mark.parametrize(
    ("problem", "code", "words"),
    [
        (Problem(Bed(0.0), ()), "no-cloth", "no width"),
        (Problem(Bed(100.0, 0.0), ()), "no-cloth", "no length"),
        (
            Problem(Bed(100.0), (blank("wide", rectangle(50, 101), (0.0, 180.0)),)),
            "too-wide",
            "takes 10.1 cm across",
        ),
        (Problem(Bed(100.0), (blank("bow", (0j, 50 + 50j, 50 + 0j, 50j)),)), "bad-outline", "crosses itself"),
        (Problem(Bed(100.0), (blank("none", rectangle(50, 50), ()),)), "no-way-to-lie", "no way"),
        (
            Problem(
                Bed(100.0, avoid=(disc(50 + 50j, 10.0),)),
                (blank("pinned", rectangle(50, 50), (0.0,), Rule(20.0), Rule(20.0)),),
            ),
            "no-place",
            "no place",
        ),
    ],
)
def test_what_cannot_be_laid_is_said_in_one_line(problem: Problem, code: str, words: str) -> None:
    with pytest.raises(CannotApply, match=words) as caught:
        first_layout(problem)
    assert caught.value.code == code and "\n" not in str(caught.value)


def test_nothing_to_lay_takes_nothing() -> None:
    assert first_layout(Problem(Bed(100.0), ())).length == 0.0
