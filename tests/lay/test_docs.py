"""The page on the lay has every finding that it can have."""

from __future__ import annotations

import re
from pathlib import Path

from cutonce.lay import said

PAGE = Path(__file__).parents[2] / "docs" / "lay.md"


def test_every_finding_is_on_the_page_and_no_other() -> None:
    found = re.findall(r'Finding\(\s*"\w+",\s*"([a-z-]+)"', Path(said.__file__).read_text(encoding="utf-8"))
    listed = re.findall(r"^\| `([a-z-]+)` \|", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(set(found)) == sorted(listed)
