"""Remedies: only those that apply, each measured by its own lay, ranked; what saves nothing is said so."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from studio.area_laying import AreaLaying
from studio.skirts import BODY, FLARED

from cutonce.cloth.cloth import Cloth, Repeat
from cutonce.errors import CannotApply
from cutonce.lay.asked import Asked
from cutonce.recipe.file import read_recipe
from cutonce.studio.examples import example_files
from cutonce.studio.inputs import read_design, read_one_body
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven, prove
from cutonce.studio.recipe_changes import recipe_changes
from cutonce.studio.remedies import OFF_GRAIN, Remedies, remedies

SKIRT = (
    FLARED.replace("AMOUNT", '"20 cm"')
    + """\
[[steps]]
id = "faced"
do = "set_finish"
role = "waist"
finish = "faced"
width = "5 cm"
[[steps]]
id = "hem"
do = "set_finish"
role = "hem"
finish = "hem"
allowance = "5 cm"
"""
)

USUAL = Asked()
PLAIN = Cloth("linen", 1400.0, 1380.0, length=1000.0)


@dataclass
class WishfulLaying(AreaLaying):
    """What is allowed lowers the waste: two-way nap by a tenth; folded cloth takes a fifth more."""

    cloth: Cloth = PLAIN
    asked: Asked = USUAL

    def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
        self.waste = 1.2 if self.cloth.nap != "one-way" else 1.32
        self.waste *= 1.2 if self.asked.way != "open" else 1.0
        if any("side skirt back" in p.key for p in design.finished.pieces):
            raise CannotApply("no-lay", "x", "wider than the cloth")
        return super().lay(design, seconds, start, ends_early)


def proven(text: str = SKIRT) -> Proven:
    return prove(read_recipe(text, "d"), BODY)


def found(of: Proven, cloth: Cloth = PLAIN, asked: Asked | None = None, seconds: float = 60.0) -> Remedies:
    lays: list[WishfulLaying] = []

    def on(cloth: Cloth, asked: Asked) -> WishfulLaying:
        lays.append(WishfulLaying(cloth.length or 1e9, cloth=cloth, asked=asked))
        return lays[-1]

    done = remedies(of, BODY, cloth, asked or Asked(), on, seconds)
    assert sum(x.now for x in lays) <= seconds + 1e-6
    return done


def test_they_are_ranked_by_what_they_save_and_that_is_their_lays_difference() -> None:
    of = proven()
    done = found(of)
    assert done.length is not None
    savings = [r.saves for r in done.helps if r.saves is not None]
    assert savings == sorted(savings, reverse=True) and len(savings) == len(done.helps) >= 4
    laying = AreaLaying(1e9)
    for remedy in done.helps:
        again = prove(remedy.recipe, BODY)
        assert remedy.length == pytest.approx(1.2 * laying.demand(again))
        assert remedy.saves == pytest.approx(done.length - remedy.length)


def test_what_applies_is_offered_and_what_saves_nothing_is_said_so() -> None:
    done = found(proven())
    helps = {r.what for r in done.helps}
    assert helps >= {
        "Bind the waist instead of facing it",
        "Turn the hem up 2 cm only",
        "Spread 90% as far as now (flare)",
        "Spread 80% as far as now (flare)",
    }
    rest = {r.what for r in done.no_better}
    assert rest >= {"Let pieces lie up to 2 degrees off their grain", "Lay the cloth folded lengthwise"}
    assert not any("nap" in w or "either way up" in w for w in helps | rest)
    assert all(r.work for r in (*done.helps, *done.no_better))


def test_less_fullness_saves_the_more_the_less_it_is() -> None:
    savings = {r.what[:10]: r.saves or 0.0 for r in found(proven()).helps}
    assert savings["Spread 80%"] == pytest.approx(2 * savings["Spread 90%"], rel=0.1)


def test_the_nap_is_only_asked_about_and_only_where_it_is_one_way() -> None:
    done = found(proven(), replace(PLAIN, nap="one-way"))
    nap = next(r for r in done.helps if r.what == "Let pieces lie either way up")
    assert nap.question and nap.cloth.nap == "two-way"
    assert nap.saves == pytest.approx((done.length or 0) * (1 - 1.2 / 1.32))
    assert not any("cross grain" in r.what for r in (*done.helps, *done.no_better))


def test_stripes_left_unmatched_and_grain_already_free_are_known() -> None:
    striped = replace(PLAIN, nap="two-way", stripe_along=Repeat(80.0))
    done = found(proven(), striped, Asked(tolerance=OFF_GRAIN))
    tried = {r.what: r for r in (*done.helps, *done.no_better)}
    assert tried["Leave the pattern unmatched at the seams"].asked.match == ()
    assert not any("off their grain" in what for what in tried)


def test_where_it_cannot_be_laid_at_all_what_makes_it_possible_comes_first() -> None:
    class Wide(AreaLaying):
        def lay(self, design: Proven, seconds: float, start: Lay | None, ends_early: bool) -> Lay:
            if any(p.key == "skirt front" and p.cut == "fold" for p in design.finished.pieces):
                raise CannotApply("too-wide", "skirt front", "wider than the cloth")
            return super().lay(design, seconds, start, ends_early)

    done = remedies(proven(), BODY, PLAIN, Asked(), lambda cloth, asked: Wide(1e9), 60.0)
    assert done.length is None and "wider than the cloth" in done.why
    assert {r.what for r in done.helps} == {"Cut the skirt front with a seam down its centre"}
    assert done.helps[0].saves is None


def test_a_remedy_that_cannot_be_laid_is_left_out() -> None:
    done = found(proven())
    assert not any("skirt back in two panels" in r.what for r in (*done.helps, *done.no_better))


@pytest.mark.parametrize("name", ["cellist", "a_line", "stage_tunic"])
def test_changes_of_the_examples_can_be_cut_and_bring_no_stop(name: str) -> None:
    design, body = example_files(name)
    recipe, who = read_design(design), read_one_body(body)
    of = prove(recipe, who)
    changes = recipe_changes(recipe, who, of)
    assert len({c.what for c in changes}) == len(changes) >= 4
    for change in changes:
        again = prove(change.design.replayed.recipe, who)
        assert not again.stops and again.finished.pieces == change.design.finished.pieces
        if change.what.startswith("Cut "):
            assert len(change.design.finished.pieces) > len(of.finished.pieces)


def test_a_piece_in_two_has_an_allowance_on_both_sides_of_the_new_seam() -> None:
    of = proven()
    change = next(c for c in recipe_changes(of.replayed.recipe, BODY, of) if "at the hip" in c.what)
    allowances = [e.allowance for p in change.design.finished.pieces for e in p.edges if "hip seam" in e.key]
    assert allowances == [10.0, 10.0]


def test_a_hem_that_no_step_sets_is_narrowed_by_a_step_of_its_own() -> None:
    text = SKIRT[: SKIRT.rindex("[[steps]]")]
    of = proven(text)
    change = next(c for c in recipe_changes(of.replayed.recipe, BODY, of) if "hem" in c.what)
    assert change.design.replayed.recipe.steps[-1].params["allowance"] == "2 cm"
    bound = proven(SKIRT.replace('finish = "hem"\nallowance = "5 cm"', 'finish = "bound"'))
    assert not any("Turn the hem" in c.what for c in recipe_changes(bound.replayed.recipe, BODY, bound))
