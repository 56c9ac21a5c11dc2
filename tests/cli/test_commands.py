"""The command line as a person uses it: exit status, what is printed, what is written."""

from __future__ import annotations

import csv
import json
import subprocess
import sys
from pathlib import Path

import pytest

from cutonce.body import read_body
from cutonce.cli import main
from cutonce.studio.examples import example_files

DESIGN, BODY = (str(p) for p in example_files("a_line"))


def run(monkeypatch: pytest.MonkeyPatch, *words: str) -> int:
    monkeypatch.setattr(sys, "argv", ["cutonce", *words])
    with pytest.raises(SystemExit) as end:
        main()
    return int(end.value.code or 0)


def test_make_writes_everything_and_says_where(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert run(monkeypatch, "make", DESIGN, "--body", BODY, "--out", str(tmp_path / "new" / "out")) == 0
    names = {p.name for p in (tmp_path / "new" / "out").iterdir()}
    wanted = {"draft.json", "checks.json", "cutlist.csv", "pattern.svg"}
    assert names == wanted | {f"pattern-{p}.pdf" for p in ("a4", "letter", "a0")}
    assert str(tmp_path) in capsys.readouterr().out


def test_check_gives_json_a_program_can_read(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "check", DESIGN, "--body", BODY, "--json") == 0
    document = json.loads(capsys.readouterr().out)
    assert document["stops"] == 0
    assert len(document["findings"]) == sum(document[k] for k in ("stops", "warnings", "notes"))


def test_steps_lists_all_and_shows_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "steps") == 0
    assert "move_dart" in capsys.readouterr().out
    assert run(monkeypatch, "steps", "move_dart") == 0
    assert 'do = "move_dart"' in capsys.readouterr().out


def test_batch_writes_a_row_a_body_and_a_bad_row_stops_nothing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    people = tmp_path / "people.csv"
    people.write_text(
        "id,waist_girth_cm,hip_girth_cm,waist_to_hip_cm,waist_to_knee_cm\n"
        "ana,72,98,20,58\nbea,tall,98,20,58\ncleo,30,28.5,7.9,22\ndora,80,104,21,\n"
    )
    assert run(monkeypatch, "batch", DESIGN, str(people), "--out", str(tmp_path), "--cores", "1") == 1
    rows = list(csv.DictReader((tmp_path / "results.csv").read_text().splitlines()))
    assert [r["id"] for r in rows] == ["ana", "bea", "cleo", "dora"]
    assert rows[0]["ok"] == "yes" and float(rows[0]["largest_girth_error_mm"]) < 0.5
    assert rows[1]["ok"] == "no" and "'tall' is not a number" in rows[1]["message"]
    assert rows[3]["ok"] == "no" and "waist_to_knee" in rows[3]["message"]


def test_a_stop_gives_exit_status_one_and_bad_input_two(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert run(monkeypatch, "check", str(tmp_path / "none.toml"), "--body", BODY) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "no such file" in said


def test_help_is_quick_to_load() -> None:
    """What would make it slow is not imported for it; the time itself is measured by the benchmarks."""
    heavy = "('numpy', 'shapely', 'reportlab', 'pydantic')"
    code = f"import sys, cutonce.cli.commands; print([m for m in {heavy} if m in sys.modules])"
    out = subprocess.check_output([sys.executable, "-c", code], text=True)
    assert out.strip() == "[]"


def test_paper_is_written_for_the_papers_asked_for(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    words = ("make", DESIGN, "--body", BODY, "--out", str(tmp_path), "--paper", "a3", "--paper", "a4-half")
    assert run(monkeypatch, *words) == 0
    assert {p.name for p in tmp_path.glob("*.pdf")} == {"pattern-a3.pdf", "pattern-a4-half.pdf"}


def test_an_unknown_paper_writes_nothing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    words = ("make", DESIGN, "--body", BODY, "--out", str(tmp_path), "--paper", "a9")
    assert run(monkeypatch, *words) == 2
    assert "no paper 'a9' (there are: a4" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_sizes_lists_tables_and_prints_a_body_that_can_be_read(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "sizes") == 0
    assert "trade-misses" in capsys.readouterr().out
    assert run(monkeypatch, "sizes", "trade-misses", "12") == 0
    assert read_body(capsys.readouterr().out).mm("hip_girth") == pytest.approx(914.4)
    assert run(monkeypatch, "sizes", "trade-misses", "13") == 2
    assert "it has: 6, 8, 10" in capsys.readouterr().err
