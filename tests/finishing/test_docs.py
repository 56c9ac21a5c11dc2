"""The page on finishing has every default allowance and every finding."""

from __future__ import annotations

import re
from pathlib import Path

from cutonce.finishing import defaults

PAGE = Path(__file__).parents[2] / "docs" / "finishing.md"
SOURCE = Path(defaults.__file__).parent


def test_every_allowance_is_on_the_page() -> None:
    page = PAGE.read_text(encoding="utf-8")
    for row in defaults.BY_ROLE:
        assert f"| {row.role} | {row.sewn:g} | {row.free:g} | {row.because} |" in page


def test_every_finding_is_on_the_page_and_no_other() -> None:
    text = "".join(p.read_text(encoding="utf-8") for p in sorted(SOURCE.glob("*.py")))
    found = re.findall(r'(?:Finding|_say)\(\s*(?:"\w+"(?: if [^\n]*)?,|severity,)\s*"([a-z-]+)"', text)
    listed = re.findall(r"^\| `([a-z-]+)` \|", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(set(found)) == sorted(listed)
