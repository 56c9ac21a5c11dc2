"""docs/cloth.md and the cloths of the examples: what they say can be read, and nothing is left out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutonce import read_cloth
from cutonce.cloth.file import read_cloth as cloths_in
from cutonce.cloth.kinds import kinds_table, remarks
from cutonce.cloth.read_table import KEYS
from cutonce.studio.examples import example_cloth, example_names

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "cloth.md").read_text(encoding="utf-8")
FENCES = re.findall(r"^```toml\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)


def test_the_files_on_the_page_can_be_read() -> None:
    short, stash = FENCES
    assert [cloth.name for cloth in cloths_in(short)] == ["wool crepe"]
    assert len(cloths_in(stash)) == 3


def test_the_page_names_every_key_and_has_the_table_of_kinds() -> None:
    assert [key for key in KEYS if not re.search(rf"(?m)^`?{key} =|`{key}`", PAGE)] == []
    assert PAGE.endswith(kinds_table())


@pytest.mark.parametrize("name", example_names())
def test_every_example_has_a_cloth_with_nothing_odd(name: str) -> None:
    (cloth,) = read_cloth(example_cloth(name))
    assert cloth.length is not None and cloth.price is not None
    assert [f for f in remarks(cloth) if f.severity != "note"] == []
