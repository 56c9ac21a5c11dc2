"""The files of fullness to fit: her own design is left as it is, the new one reads back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from studio.test_fullness import BODY, FREE, design, needed, recipe, run

from cutonce.errors import BadInput
from cutonce.recipe.free import free_amounts
from cutonce.studio.fullness import Fullest
from cutonce.studio.fullness_results import as_json, fullest_document, fullest_name, fullest_writer
from cutonce.studio.inputs import read_design, text_of
from cutonce.studio.make import write_together


@pytest.fixture(scope="module")
def found() -> Fullest:
    of = recipe()
    return run(of, needed(of, 0.4))[0]


def test_her_design_is_left_and_the_new_one_lies_in_the_folder(tmp_path: Path, found: Fullest) -> None:
    hers = tmp_path / "skirt.toml"
    hers.write_text(design().replace("[block]", "[block]  # her own words"), encoding="utf-8")
    before = hers.read_bytes()
    made = write_together(tmp_path, (fullest_writer(found, hers, text_of(hers)),))
    assert {f.name for f in made.files} == {"skirt-fullest.toml", "fullness.json"}
    assert hers.read_bytes() == before
    again = read_design(tmp_path / "skirt-fullest.toml")
    assert again == found.recipe and not free_amounts(again, BODY.names)
    assert "# her own words" in text_of(tmp_path / "skirt-fullest.toml")


def test_the_new_name_is_never_hers() -> None:
    for name in ("design.toml", "design", "a.b.toml", "design-fullest.toml"):
        assert fullest_name(Path(name)) != name


def test_a_folder_in_the_way_writes_nothing(tmp_path: Path, found: Fullest) -> None:
    (tmp_path / "fullness.json").mkdir()
    with pytest.raises(BadInput, match="in the way"):
        write_together(tmp_path, (fullest_writer(found, Path("skirt.toml"), design()),))
    assert not (tmp_path / "skirt-fullest.toml").exists()


def test_the_document_says_all_that_was_found(found: Fullest) -> None:
    document = json.loads(as_json(fullest_document(found)))
    assert document["schema"] == 1 and document["blocks"] == found.blocks
    assert [a["text"] for a in document["amounts"]] == [a.text for a in found.amounts]
    assert {a["least"] for a in document["amounts"]} == {"3 cm"} and "24 cm" in FREE
    assert document["changed"][0]["after_mm"] > document["changed"][0]["before_mm"]
    assert document["second"]["spare_mm"] > 0
