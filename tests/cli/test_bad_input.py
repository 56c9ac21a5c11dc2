"""Bad input: one clear line that names the thing and the choices, exit status 2, nothing written.

The cases are tables (`bad_files`, `bad_cloth`, `bad_steps`, `bad_darts`, `bad_lines`), each a good design,
body, outline, cloth or list of people with one thing changed. What is bad in one row of a list of people is
told in that row. What can be drawn but not be cut is a finding that says stop.
"""

from __future__ import annotations

import csv
import json
import sys
from pathlib import Path

import pytest
from cli.bad_cloth import CLOTH_CASES, LAY_SKIRT
from cli.bad_darts import DART_CASES
from cli.bad_files import FILE_CASES, MAKES
from cli.bad_input import (
    BATCH_SKIRT,
    DRESS,
    FILES,
    MAKE_DRESS,
    MAKE_SKIRT,
    Case,
    at,
    do,
    people,
    step,
    steps_of,
)
from cli.bad_lines import LINE_CASES
from cli.bad_steps import STEP_CASES

from cutonce.cli import main

CASES = (*FILE_CASES, *CLOTH_CASES, *STEP_CASES, *DART_CASES, *LINE_CASES)

GOOD = Case("good", (), ())


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]) -> int:
    monkeypatch.setattr(sys, "argv", ["cutonce", *words])
    with pytest.raises(SystemExit) as end:
        main()
    return int(end.value.code or 0)


def _ids(cases: tuple[Case, ...]) -> list[str]:
    return [case.id for case in cases]


@pytest.mark.parametrize("case", CASES, ids=_ids(CASES))
def test_one_clear_line_and_nothing_written(
    case: Case, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    case.write(folder)
    before = sorted(folder.rglob("*"))
    assert run(monkeypatch, case.words) == 2
    said = capsys.readouterr()
    assert said.err.startswith("cutonce: ") and said.err.count("\n") == 1, said.err
    assert [part for part in case.says if part not in said.err] == [], said.err
    assert "Traceback" not in said.out + said.err
    assert sorted(folder.rglob("*")) == before


def test_there_are_enough_cases_and_no_two_alike() -> None:
    assert len(CASES) >= 200
    assert len(set(_ids(CASES))) == len(CASES)
    assert all(case.says and all(case.says) for case in CASES)


@pytest.mark.parametrize("words", (*MAKES, LAY_SKIRT), ids=lambda words: words[1])
def test_all_is_well_where_nothing_is_changed(
    words: tuple[str, ...],
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    GOOD.write(folder)
    assert run(monkeypatch, words) == 0
    assert capsys.readouterr().err == ""
    assert any((folder / "out" / "new").iterdir())


ROWS = (
    people("not-a-number", "ana,72", "ana,tall", "line 2, waist_girth_cm: 'tall' is not a number"),
    people("with-a-unit", "ana,72", "ana,72 cm", "'72 cm' is not a number", "write the number alone"),
    people("not-finite", "ana,72", "ana,inf", "'inf' is not a number"),
    people(
        "ragged-short",
        "ana,72,98,20,58",
        "ana,72,98",
        "line 2: 3 cells where the first line has 5",
    ),
    people("ragged-long", "ana,72,98,20,58", "ana,72,98,20,58,1", "6 cells where the first line has 5"),
    people("empty-id", "ana,72", ",72", "line 2", "the id is empty"),
    people("id-twice", "bea,76", "ana,76", "line 3", "id 'ana' stands in an earlier line too"),
    people("missing", "ana,72,98,20,58", "ana,72,98,20,", "waist_to_knee (", "is missing", "--estimate"),
    people("impossible", "ana,72", "ana,720", "waist_girth 720 cm is impossible"),
    people("below-nothing", "ana,72", "ana,-72", "waist_girth -72 cm is impossible"),
)


@pytest.mark.parametrize("case", ROWS, ids=_ids(ROWS))
def test_a_bad_row_says_why_and_the_others_go_on(
    case: Case, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    case.write(folder)
    assert run(monkeypatch, case.words) == 1
    rows = list(csv.DictReader((folder / "out/new/results.csv").read_text("utf-8").splitlines()))
    bad = [row for row in rows if row["ok"] == "no"]
    assert len(rows) == 2 and len(bad) == 1
    assert [part for part in case.says if part not in bad[0]["message"]] == [], bad[0]["message"]
    assert "Traceback" not in capsys.readouterr().err


BUST = {"piece": "front", "dart": "bust dart"}

STOPS = (
    Case(
        "dart-point-on-a-seam",
        MAKE_DRESS,
        ("the sewing line crosses or touches itself",),
        "dress.toml",
        DRESS[DRESS.index("[block]") :],
        steps_of(
            '[block]\ndraft = "bodice"\nsystem = "direct"',
            do("move_dart", **BUST, share="50 %", to=at("front side", from_="armhole", by="6 cm")),
            do("move_dart", **BUST, name="bust dart", to=at("front shoulder", from_="neck", by="5 cm")),
            do(
                "split_piece",
                start=at("front shoulder", at="bust dart"),
                end=at("front waist", at="waist dart"),
                darts=["bust dart", "waist dart"],
                parts={"centre": "front", "side": "side front"},
            ),
        ),
    ),
    step(
        "allowance-too-wide",
        do("set_finish", edges=[at("front armhole")], finish="seam", allowance="20 cm"),
        "the cutting line crosses itself",
    ),
    step(
        "gathered-too-little",
        do("relate_seam", fuller=at("front side"), relation="gather", ratio=2),
        "too long for front after gather 2",
    ),
)


@pytest.mark.parametrize("case", STOPS, ids=_ids(STOPS))
def test_what_can_be_drawn_but_not_cut_is_a_stop(
    case: Case, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    case.write(folder)
    assert run(monkeypatch, ("check", *MAKE_DRESS[1:4], "--json")) == 1
    said = capsys.readouterr()
    stops = [f for f in json.loads(said.out)["findings"] if f["severity"] == "stop"]
    assert any(case.says[0] in f["message"] and f["step"] for f in stops), stops
    assert said.err == ""


def test_negative_ease_is_allowed_and_noted(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    GOOD.write(folder)
    (folder / "skirt.toml").write_text(FILES["skirt.toml"].replace('hip = "4 cm"', 'hip = "-2 cm"'))
    assert run(monkeypatch, ("check", *MAKE_SKIRT[1:4])) == 0
    assert "less than the body" in capsys.readouterr().out


def test_a_folder_in_the_place_of_the_results_is_told(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    GOOD.write(folder)
    (folder / "out/new/results.csv").mkdir(parents=True)
    (folder / "out/new/draft.json").mkdir()
    for words in (BATCH_SKIRT, MAKE_SKIRT):
        assert run(monkeypatch, words) == 2
        assert "a folder of that name is in the way" in capsys.readouterr().err
    assert sorted(p.name for p in (folder / "out/new").iterdir()) == ["draft.json", "results.csv"]
