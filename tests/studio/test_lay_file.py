"""lay.json: what it says is so, it reads back, and what is held lies where the file says."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from cli.bad_input import SKIRT, SKIRT_BODY
from shapely.geometry import Polygon
from studio.greedy import greedy

from cutonce.body import read_body
from cutonce.cloth.cloth import Cloth, Repeat
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry import path
from cutonce.lay.asked import Asked, AskedWay
from cutonce.recipe.file import read_recipe
from cutonce.studio.keep import cloth_of, with_held
from cutonce.studio.lay import Outcome, Watch, as_cut, lay_on
from cutonce.studio.lay_file import LayFile, held_in, lay_file, read_lay
from cutonce.studio.lay_results import lay_document
from cutonce.studio.prove import Proven, prove

LINEN = Cloth("linen", 1400.0, 1380.0, 2500.0, right_side="either", shrink_along=0.04, shrink_across=0.02)
WAYS: tuple[AskedWay, ...] = ("open", "folded lengthwise", "folded crosswise", "part folded, part open")


@pytest.fixture(scope="module")
def skirt() -> Proven:
    return prove(read_recipe(SKIRT, "skirt.toml"), read_body(SKIRT_BODY), "2026-11-25")


def laid(skirt: Proven, asked: Asked | None = None, cloth: Cloth = LINEN) -> Outcome:
    return lay_on(skirt, cloth, asked or Asked(), 1.0, greedy, Watch())


def changed(text: str, **at_first: Any) -> LayFile:
    document = json.loads(text)
    document["pieces"][0] |= at_first
    return read_lay(json.dumps(document))


@pytest.mark.parametrize("way", WAYS)
def test_it_reads_back_the_same_and_is_the_same_for_the_same_lay(skirt: Proven, way: AskedWay) -> None:
    outcome = laid(skirt, Asked(way=way))
    text = lay_document(skirt, outcome)
    assert read_lay(text) == lay_file(skirt.finished, outcome)
    assert lay_document(skirt, laid(skirt, Asked(way=way))) == text


def test_figures_are_those_of_the_lay(skirt: Proven) -> None:
    outcome = laid(skirt, cloth=replace(LINEN, stripe_along=Repeat(60.0)))
    found = lay_file(skirt.finished, outcome)
    assert found.fits and found.needed_mm + (found.spare_mm or 0) == pytest.approx(2500)
    outlines = [Polygon(piece.outline) for piece in found.pieces]
    for polygon, piece in zip(outlines, found.pieces, strict=True):
        own = skirt.finished.piece(piece.name.removeprefix("left ").removeprefix("right "))
        whole = abs(path.area(own.cutting)) * (2 if own.cut == "fold" else 1)
        assert polygon.area == pytest.approx(whole / (0.96 * 0.98), rel=1e-3)
        assert polygon.bounds[0] >= -0.01 and polygon.bounds[2] <= found.needed_mm + 0.01
        assert polygon.bounds[1] >= 10 - 0.2 and polygon.bounds[3] <= 1390 + 0.2
    assert sum(p.area for p in outlines) / (found.needed_mm * 1400) == pytest.approx(found.share, rel=0.02)
    assert [p.number for p in found.pieces] == list(range(1, len(found.pieces) + 1))
    assert [m.seam for m in found.matched] == [m.seam for m in outcome.plan.matched] != []


@pytest.mark.parametrize("way", WAYS)
def test_all_held_lie_just_where_they_lay(skirt: Proven, way: AskedWay) -> None:
    before = laid(skirt, Asked(way=way))
    text = lay_document(skirt, before).replace('"held": false', '"held": true')
    asked = with_held(Asked(), read_lay(text), "", skirt.finished, LINEN, "lay.json")
    assert asked.way == way and len(asked.held) == len(before.plan.laid)
    after = laid(skirt, asked)
    there = {one.key: one.motion for one in after.plan.laid}
    for one in before.plan.laid:
        for curve in one.piece.cutting:
            assert abs(there[one.key](curve.start) - one.motion(curve.start)) < 0.01
    assert all(piece.held for piece in lay_file(skirt.finished, after).pieces)


def test_a_piece_is_moved_and_the_rest_settles_around_it(skirt: Proven) -> None:
    before = laid(skirt)
    document = json.loads(lay_document(skirt, before))
    first = document["pieces"][0]
    moved = changed(json.dumps(document), along_mm=first["along_mm"] + 300, held=True)
    asked = with_held(Asked(), moved, "", skirt.finished, LINEN, "lay.json")
    after = lay_file(skirt.finished, laid(skirt, asked))
    found = next(piece for piece in after.pieces if piece.name == first["name"])
    assert found.held and found.along_mm == pytest.approx(first["along_mm"] + 300, abs=0.01)
    assert found.across_mm == pytest.approx(first["across_mm"], abs=0.01)
    assert sum(piece.held for piece in after.pieces) == 1


def test_a_piece_is_turned_about_where_its_arrow_starts(skirt: Proven) -> None:
    document = json.loads(lay_document(skirt, laid(skirt)))
    first = document["pieces"][0]
    turned = changed(
        json.dumps(document), turn_deg=first["turn_deg"] + 180, along_mm=1200.0, across_mm=700.0, held=True
    )
    held = held_in(turned, as_cut(skirt.finished, LINEN, "open").items())[0]
    arrow = as_cut(skirt.finished, LINEN, "open")[first["name"]].grain
    assert abs(held.motion(arrow.start) - (1200 + 700j)) < 1e-9
    angle = math.degrees(held.motion.of_vector(arrow.end - arrow.start).real)
    assert math.copysign(1, angle) == (-1 if abs(first["turn_deg"]) < 90 else 1)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"along_mm": 5000.0}, "over the edge of the cloth"),
        ({"turn_deg": 40.0}, "degrees off its grain"),
    ],
)
def test_where_it_may_not_lie(skirt: Proven, change: dict[str, Any], says: str) -> None:
    kept = changed(lay_document(skirt, laid(skirt)), held=True, **change)
    asked = with_held(Asked(), kept, "", skirt.finished, LINEN, "lay.json")
    with pytest.raises(CannotApply, match=says):
        laid(skirt, asked)


@pytest.mark.parametrize(
    ("change", "code", "says"),
    [
        ({"name": "skirt frunt"}, "unknown-piece", "closest: skirt front"),
        ({"section": 4}, "no-section", "there is no section 4"),
        ({"along_mm": float("nan")}, "not-a-number", "along_mm: 'nan' is no place"),
        ({"turn_deg": float("inf")}, "not-a-number", "turn_deg"),
    ],
)
def test_held_pieces_that_cannot_be(skirt: Proven, change: dict[str, Any], code: str, says: str) -> None:
    kept = changed(lay_document(skirt, laid(skirt)), held=True, **change)
    with pytest.raises(BadInput) as caught:
        with_held(Asked(), kept, "", skirt.finished, LINEN, "lay.json")
    assert caught.value.code == code and says in str(caught.value)
    assert str(caught.value).startswith("lay.json, pieces, ")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("{", "[", "not valid JSON"),
        ('"schema": 1', '"schema": 7', "schema 7 is newer"),
        ('"schema": 1,', "", "no schema version"),
        ('"section": 1,', '"section": 0,', "'section' is '0'"),
        ('"layers": 1', '"layers": "one"', "piece 1: 'layers' is 'one'"),
        ('"name": "cloth"', '"nam": "cloth"', "section 1: no 'name'"),
        ('"garment": "Skirt"', '"garment": 3', "'garment' is '3'"),
        ('"way": "open"', '"way": "flat"', "'way' is 'flat'"),
    ],
)
def test_refused_files(skirt: Proven, old: str, new: str, says: str) -> None:
    text = lay_document(skirt, laid(skirt))
    assert old in text
    with pytest.raises(BadInput) as caught:
        read_lay(text.replace(old, new, 1), "my.json")
    assert says in str(caught.value) and str(caught.value).startswith("my.json")
    assert "\n" not in str(caught.value)


def test_something_else_than_a_lay() -> None:
    for text in ("[]", "3", "null", '"lay"'):
        with pytest.raises(BadInput, match="this is not a lay"):
            read_lay(text)
    with pytest.raises(BadInput, match="not valid JSON"):
        read_lay("[" * 100_000)


def test_the_lay_is_kept_on_its_own_cloth(skirt: Proven) -> None:
    kept = read_lay(lay_document(skirt, laid(skirt)))
    other = replace(LINEN, name="other")
    assert cloth_of(kept, (other, LINEN), "", "c.toml") == (LINEN,)
    assert cloth_of(kept, (other, LINEN), "other", "c.toml") == (other,)
    with pytest.raises(BadInput, match="no cloth 'linen'"):
        cloth_of(kept, (other,), "", "c.toml")
