"""docs/first-design.md, done as it says: its files written, its commands run, its answers compared."""

from __future__ import annotations

import re
import shlex
import sys
from pathlib import Path

import pytest

from cutonce.cli import main
from cutonce.recipe.block import drafted_block
from cutonce.recipe.recipe import BlockEntry
from cutonce.studio.inputs import read_one_body

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "first-design.md").read_text(encoding="utf-8")
FENCE = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def write(kind: str, text: str, tomls: int) -> None:
    """The first TOML is the body, one with [[cloth]] the cloth, the others together the design. Beside the
    cloth lies the same without a length, as if it were still to be bought."""
    name = "people.csv" if kind == "csv" else "body.toml" if tomls == 1 else "design.toml"
    if "[[cloth]]" in text:
        name = "cloth.toml"
        bought = "".join(line for line in text.splitlines(keepends=True) if not line.startswith("length"))
        Path("shop.toml").write_text(bought, encoding="utf-8")
    with Path(name).open("a", encoding="utf-8") as file:
        file.write(text + "\n" if kind == "toml" else text)


def answers(command: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> str:
    program, *words = shlex.split(command)
    if program == "cat":
        return Path(words[0]).read_text(encoding="utf-8")
    assert program == "cutonce"
    Path("slip.toml").write_text(
        Path("design.toml").read_text(encoding="utf-8").replace('"side"', '"sied"', 1)
    )
    monkeypatch.setattr(sys, "argv", [program, *words])
    with pytest.raises(SystemExit):
        main()
    said = capsys.readouterr()
    return said.out + said.err


def matches(shown: str, said: str) -> bool:
    """Dots alone on a line stand for any lines, within a line for anything in it."""
    lines = [
        r"(?:.*\n)*" if line == "..." else ".*".join(map(re.escape, line.split("..."))) + r"\n"
        for line in shown.splitlines()
    ]
    return re.fullmatch("".join(lines), said) is not None


def test_every_command_gives_what_the_page_says(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = tomls = 0
    for kind, text in FENCE.findall(PAGE):
        tomls += kind == "toml"
        if kind != "console":
            write(kind, text, tomls)
            continue
        for part in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
            command, _, shown = part.partition("\n")
            said = answers(command, monkeypatch, capsys)
            assert matches(shown, said), f"$ {command}\n{said}"
            ran += 1
    assert ran == 9


def test_the_names_in_the_table_are_those_of_the_blocks(tmp_path: Path) -> None:
    (tmp_path / "body.toml").write_text(FENCE.findall(PAGE)[0][1], encoding="utf-8")
    body = read_one_body(tmp_path / "body.toml")
    rows = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in PAGE.partition("## What can be named")[2].splitlines()
        if line.startswith("| ")
    ]
    block = ""
    seen = 0
    for row in rows[1:]:
        if len(row) != 6:
            break
        block = row[0] or block
        piece = drafted_block(BlockEntry(block), body)[0].piece(row[1])
        darts = {d.name for d in piece.darts} | {d.name for d in piece.double_darts}
        assert darts <= set(row[3].split(", ")), row
        edges = {e.name for e in piece.labels if e.role != "dart leg"}
        assert edges == set(row[2].split(", ")), row
        for line in piece.lines:
            assert line.name in row[5]
        for point in piece.points:
            assert point.name in row[5]
        seen += 1
    assert seen == 6
