"""docs/checks.md names every code that a check can give, and no other."""

import ast
import re
from pathlib import Path

import cutonce.checks

PAGE = Path(__file__).resolve().parents[2] / "docs" / "checks.md"
FOLDER = Path(cutonce.checks.__file__).parent


def codes_in_source() -> set[str]:
    """Second arguments of `Finding(...)` and first of the makers of findings, where they are plain texts."""
    found: set[str] = set()
    for path in FOLDER.glob("*.py"):
        if path.stem.startswith("wear"):
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                place = {"Finding": 1, "_finding": 1 if path.stem == "way_in" else 0}.get(node.func.id)
                if place is not None and len(node.args) > place:
                    code = node.args[place]
                    if isinstance(code, ast.Constant) and isinstance(code.value, str):
                        found.add(code.value)
    return found


def test_page_and_source_agree() -> None:
    rows = [line for line in PAGE.read_text("utf-8").splitlines() if line.startswith("| ")]
    on_page = {code for row in rows for code in re.findall(r"`([a-z-]+)`", row.rsplit("|", 2)[1])}
    in_source = codes_in_source()
    assert len(in_source) > 30
    assert on_page == in_source


def test_every_check_has_a_row() -> None:
    text = PAGE.read_text("utf-8")
    for check in cutonce.checks.CHECKS:
        assert f"| {check.__name__.replace('_', ' ')} |" in text
