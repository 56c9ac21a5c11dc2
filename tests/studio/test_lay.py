"""The lay as a use case: which cloth of a stash, what is spare or lacking, what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

import pytest
from cli.bad_input import SKIRT, SKIRT_BODY
from studio.greedy import greedy

from cutonce.body import read_body
from cutonce.cloth.cloth import Cloth, Price, Remnant
from cutonce.errors import BadInput, CannotApply
from cutonce.finishing.finished import Finished
from cutonce.lay.asked import Asked
from cutonce.recipe.file import read_recipe
from cutonce.studio.largest import Lay
from cutonce.studio.lay import Outcome, Watch, as_cut, lay_design, lay_on, named, wasted
from cutonce.studio.prove import Proven, prove

WIDE = Cloth("wide", 1500.0, 1480.0, 2000.0, price=Price(Decimal("20"), "m", "EUR"))
SHORT = replace(WIDE, name="short", length=500.0)
STRIP = Cloth("strip", 200.0, 180.0, 5000.0)
SHOP = replace(WIDE, name="shop", length=None)


@pytest.fixture(scope="module")
def skirt() -> Proven:
    return prove(read_recipe(SKIRT, "skirt.toml"), read_body(SKIRT_BODY))


def laid(skirt: Proven, *cloths: Cloth, seconds: float = 4.0, watch: Watch | None = None) -> Outcome:
    return lay_design(skirt, cloths, Asked(), seconds, greedy, watch).outcome


def test_a_cloth_that_suffices(skirt: Proven) -> None:
    told: list[float] = []
    found = laid(skirt, WIDE, watch=Watch(best=told.append))
    assert found.fits and found.spare is not None and found.lacking is None
    assert found.needed + found.spare == pytest.approx(2000.0)
    assert told == [found.needed]
    assert found.buy.length - 100 < found.needed <= found.buy.length
    assert found.buy.cost == Decimal(20) * Decimal(found.buy.steps) / 10


def test_a_cloth_that_does_not(skirt: Proven) -> None:
    found = laid(skirt, SHORT)
    assert not found.fits and found.spare is not None and found.lacking is not None
    assert found.spare == pytest.approx(500 - found.needed)
    assert found.lacking.length >= -found.spare > found.lacking.length - 100
    assert any(f.severity == "stop" for f in found.findings)


def test_a_cloth_to_be_bought_always_fits(skirt: Proven) -> None:
    found = laid(skirt, SHOP)
    assert found.fits and found.spare is None and found.needed == laid(skirt, WIDE).needed


def test_of_a_stash_the_one_that_wastes_least_of_those_that_fit(skirt: Proven) -> None:
    narrow = replace(WIDE, name="narrow", width=1140.0, usable=1120.0, length=3000.0)
    chosen = lay_design(skirt, (SHORT, WIDE, narrow, STRIP, SHOP), Asked(), 4.0, greedy)
    assert [one.cloth.name for one in chosen.tried] == ["short", "wide", "narrow", "strip"]
    outcomes = {one.cloth.name: one.outcome for one in chosen.tried}
    assert outcomes["strip"] is None and "width" in chosen.tried[3].why
    fitting = [o for o in outcomes.values() if o is not None and o.fits]
    assert len(fitting) == 2
    assert chosen.outcome.cloth.name == min(fitting, key=wasted).cloth.name


def test_where_none_suffices_the_one_that_lacks_least(skirt: Proven) -> None:
    shorter = replace(SHORT, name="shorter", length=400.0)
    chosen = lay_design(skirt, (shorter, SHORT), Asked(), 4.0, greedy)
    assert chosen.outcome.cloth.name == "short" and not chosen.outcome.fits


def test_remnants_without_room_are_no_choice_while_there_is_cloth(skirt: Proven) -> None:
    patch = (0j, 600 + 0j, 600 + 600j, 600j)
    scraps = replace(WIDE, name="scraps", length=0.0, remnants=(Remnant("a", patch),))
    found = laid(skirt, scraps)
    assert not found.fits and found.lacking is None
    assert [f.code for f in found.findings if f.severity == "stop"] == ["short-by"]
    assert laid(skirt, scraps, SHORT).cloth.name == "short"


def test_where_all_are_still_to_be_bought_she_must_say_which(skirt: Proven) -> None:
    with pytest.raises(BadInput, match=r"none of the 2 cloths has a length at hand .*shop, other"):
        laid(skirt, SHOP, replace(SHOP, name="other"))


def test_where_none_can_be_laid_at_all_each_says_why(skirt: Proven) -> None:
    with pytest.raises(CannotApply, match=r"laid on none of them: strip: .*; tape: "):
        laid(skirt, STRIP, replace(STRIP, name="tape", usable=100.0))
    with pytest.raises(CannotApply):
        laid(skirt, STRIP)


def test_the_time_is_shared_out(skirt: Proven) -> None:
    given: list[tuple[str, float]] = []

    def layer(
        proven: Proven, cloth: Cloth, asked: Asked, seconds: float, watch: Watch, start: Lay | None
    ) -> Lay:
        given.append((cloth.name, seconds))
        assert (start is None) == (seconds < 6 or len(given) == 1)
        return greedy(proven, cloth, asked, seconds, watch, start)

    other = replace(SHORT, name="other")
    lay_design(skirt, (SHORT, WIDE, other), Asked(), 12.0, layer)
    assert given == [("short", 2.0), ("wide", 2.0), ("other", 2.0), ("wide", 6.0)]
    given.clear()
    lay_design(skirt, (SHOP, WIDE), Asked(), 12.0, layer)
    assert given == [("wide", 12.0)]
    given.clear()
    stopped = Watch(stop=lambda: True)
    lay_design(skirt, (SHORT, WIDE), Asked(), 12.0, layer, stopped)
    assert [name for name, _ in given] == ["short", "wide"]


def test_a_name_is_looked_up_without_its_capitals() -> None:
    assert named((WIDE, SHORT), " Short ", "c.toml") == (SHORT,)
    assert named((WIDE, SHORT), "", "c.toml") == (WIDE, SHORT)
    with pytest.raises(BadInput, match=r"c.toml: no cloth 'shrt'; closest: short .*wide, short"):
        named((WIDE, SHORT), "shrt", "c.toml")


def test_remnants_are_no_length_of_cloth(skirt: Proven) -> None:
    square = (0j, 1200 + 0j, 1200 + 1200j, 1200j)
    found = laid(skirt, replace(WIDE, length=0.0, remnants=(Remnant("a", square), Remnant("b", square))))
    assert found.fits and found.needed == 0.0
    assert {s.name for s in found.plan.sections} <= {"a", "b"}


@pytest.mark.parametrize("way", ["open", "folded lengthwise", "folded crosswise", "part folded, part open"])
def test_what_is_cut_is_known_before_it_is_laid(skirt: Proven, way: str) -> None:
    cloth = replace(WIDE, shrink_along=0.05)
    asked = Asked(way=way)  # type: ignore[arg-type]
    plan = lay_on(skirt, cloth, asked, 1.0, greedy, Watch()).plan
    pieces = as_cut(skirt.finished, cloth, asked.way)
    assert {one.key: one.piece for one in plan.laid} == pieces


def test_the_strips_that_do_not_come_out_are_added_to_what_is_bought(
    skirt: Proven, monkeypatch: pytest.MonkeyPatch
) -> None:
    from cutonce.finishing.finished import CutRow
    from cutonce.studio import lay as studio_lay

    def rows(*_: object, **__: object) -> Sequence[CutRow]:
        return [CutRow("binding", "bias strip", "all of it", 200.0, 9000.0, 1)]

    plain = laid(skirt, SHOP)
    monkeypatch.setattr(studio_lay, "cut_list", rows)
    found = laid(skirt, SHOP)
    assert found.strips.more is not None
    assert found.needed == pytest.approx(plain.needed + found.strips.more.length)


def test_pieces_of_nothing(skirt: Proven) -> None:
    nothing = replace(skirt, finished=Finished("g", "b", "", ()))
    with pytest.raises(BadInput, match="nothing to lay"):
        laid(nothing, WIDE)
