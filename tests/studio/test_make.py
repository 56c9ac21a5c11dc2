"""Results in a folder: all new or all old, and paper that says what the checks say."""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest

from cutonce.body import Body, read_body
from cutonce.cloth.cloth import Cloth
from cutonce.errors import BadInput
from cutonce.recipe.file import read_recipe
from cutonce.recipe.recipe import Recipe
from cutonce.studio import make
from cutonce.studio.make import write_results
from cutonce.studio.prove import Proven, prove

BODY = """schema = 1
name = "test body"
[measures]
waist_girth = "76 cm"
hip_girth = "102 cm"
waist_to_hip = "20.5 cm"
waist_to_knee = "58 cm"
"""
SKIRT = """schema = 1
name = "skirt"
[block]
draft = "skirt"
"""
TOO_SHORT_A_ZIP = """
[[steps]]
id = "zip"
do = "set_opening"
edge = { piece = "skirt back", edge = "centre back" }
kind = "zip"
from = "waist"
length = "2 cm"
"""


def body() -> Body:
    return read_body(BODY)


def recipe(more: str = "") -> Recipe:
    return read_recipe(SKIRT + more, "design.toml")


@pytest.fixture(scope="module")
def proven() -> Proven:
    return prove(recipe(), body())


def contents(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir()}


def test_paper_is_enlarged_for_cloth_that_shrinks_as_the_lay_is(proven: Proven, tmp_path: Path) -> None:
    cloth = Cloth("linen", 1400.0, 1380.0, shrink_along=0.05, shrink_across=0.02)
    write_results(proven, tmp_path, papers=("a0",), cloth=cloth)
    with pdfplumber.open(tmp_path / "pattern-a0.pdf") as pdf:
        text = " ".join((page.extract_text() or "") for page in pdf.pages)
    assert "enlarged for shrinkage: 5 % along the warp, 2 % across" in " ".join(text.split())


def test_what_she_keeps_beside_the_results_stays(proven: Proven, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    made = write_results(proven, tmp_path)
    assert {p.name for p in tmp_path.iterdir()} == {"notes.txt", *(f.name for f in made.files)}
    assert len(made.files) == 7 and all(f.parent == tmp_path for f in made.files)


@pytest.mark.parametrize("ends_by", [KeyboardInterrupt, OSError(28, "No space left on device")])
def test_a_run_that_is_broken_off_leaves_the_folder_as_it_was(
    proven: Proven, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ends_by: BaseException
) -> None:
    write_results(prove(recipe(), body(), date="earlier"), tmp_path)
    before = contents(tmp_path)

    def broken_off(*_: object, **__: object) -> None:
        raise ends_by

    monkeypatch.setattr(make, "write_paper", broken_off)
    with pytest.raises((KeyboardInterrupt, BadInput)):
        write_results(proven, tmp_path)
    assert contents(tmp_path) == before


def test_a_folder_in_the_way_is_told_before_anything_is_moved(proven: Proven, tmp_path: Path) -> None:
    (tmp_path / "pattern-a0.pdf").mkdir()
    with pytest.raises(BadInput, match=r"pattern-a0\.pdf: a folder of that name is in the way"):
        write_results(proven, tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == ["pattern-a0.pdf"]


def test_a_file_where_the_folder_should_be(proven: Proven, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    with pytest.raises(BadInput, match="this is a file"):
        write_results(proven, tmp_path / "out")
    assert (tmp_path / "out").read_text() == "mine"


@pytest.mark.parametrize("steps, says", [("", False), (TOO_SHORT_A_ZIP, True)])
def test_paper_that_must_not_be_cut_says_so(steps: str, says: bool, tmp_path: Path) -> None:
    proven = prove(recipe(steps), body())
    assert bool(proven.stops) == says
    write_results(proven, tmp_path)
    for name in ("pattern-a4.pdf", "pattern-a0.pdf"):
        with pdfplumber.open(tmp_path / name) as pdf:
            text = " ".join((page.extract_text() or "") for page in pdf.pages[:1])
        assert ("DO NOT CUT" in text) == says
    assert ("DO NOT CUT" in (tmp_path / "pattern.svg").read_text()) == says
