"""The command `lay`, and a cloth for `make` and `demo`: what is said, what is written, how it is stopped."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path

import pytest
from cli.bad_cloth import LAY_SKIRT
from cli.bad_input import OUT, STASH, Case
from studio.greedy import first_only

from cutonce.cli import lay_jobs, main
from cutonce.cli.show_lay import BestSoFar
from cutonce.recipe.file import read_recipe
from cutonce.studio import laying
from cutonce.studio.examples import example_cloth, example_files
from cutonce.studio.lay_file import read_lay

Run = Callable[..., tuple[int, str, str]]

FILES = {"lay.json", "lay.svg", "lay.pdf"}
SHORT = STASH.replace('length = "4 m"', 'length = "0.6 m"').replace('along = "3.9 m"', 'along = "0.5 m"')


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command among good files, with a search that takes no time."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(laying, "_engine", lambda: first_only)
    monkeypatch.setattr(lay_jobs, "FOR_REMEDIES", 0.1)
    Case("good", (), ()).write(tmp_path)

    def ran(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["cutonce", *words])
        with pytest.raises(SystemExit) as end:
            main()
        said = capsys.readouterr()
        return int(end.value.code or 0), said.out, said.err

    return ran


def names() -> set[str]:
    return {p.name for p in Path("out/new").iterdir()}


def test_a_lay_that_fits(run: Run) -> None:
    status, out, err = run(*LAY_SKIRT)
    assert (status, err) == (0, "")
    assert "The pieces fit on 'lawn': " in out and " of 400 cm, " in out and "to spare" in out
    assert "Yield " in out and "remedies" not in out
    assert names() >= FILES
    found = read_lay(Path("out/new/lay.json").read_text("utf-8"))
    assert found.cloth == "lawn" and found.fits and found.garment == "Skirt"


def test_remedies_are_said_where_she_asks(run: Run) -> None:
    status, out, _ = run(*LAY_SKIRT, "--remedies")
    assert status == 0 and "What helps?" in out and "remedies.json" in names()


def test_a_search_that_she_ended_is_not_followed_by_another(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("cloth.toml").write_text(SHORT, encoding="utf-8")
    monkeypatch.setattr(lay_jobs, "asked_to_stop", lambda: nullcontext(lambda: True))
    status, out, _ = run(*LAY_SKIRT)
    assert status == 1 and "What helps?" not in out
    assert "Stopped: this is the best lay so far." in out and "--remedies says what saves cloth" in out


def test_nothing_is_written_where_no_folder_is_named(run: Run, tmp_path: Path) -> None:
    before = sorted(tmp_path.rglob("*"))
    status, out, _ = run(*LAY_SKIRT[:8])
    assert status == 0 and "Results" not in out
    assert sorted(tmp_path.rglob("*")) == before


def test_a_lay_that_does_not_fit_says_how_much_and_what_helps(run: Run) -> None:
    Path("cloth.toml").write_text(SHORT, encoding="utf-8")
    status, out, _ = run(*LAY_SKIRT)
    assert status == 1
    assert "The pieces do not fit on 'lawn': " in out and " cm short (0." in out
    assert "m more from the shop, " in out and " EUR)." in out
    assert out.count("short") == 1, "said once"
    assert "What helps?" in out and "1. " in out
    assert names() >= {*FILES, "remedies.json"}
    saved = json.loads(Path("out/new/remedies.json").read_text("utf-8"))
    assert saved["helps"] or saved["no_better"]
    assert not json.loads(Path("out/new/lay.json").read_text("utf-8"))["fits"]


SCRAPS = """
[[cloth]]
name = "scraps"
width = "150 cm"
length = "0 cm"
[[cloth.remnants]]
outline = [["0 cm", "0 cm"], ["60 cm", "0 cm"], ["60 cm", "60 cm"], ["0 cm", "60 cm"]]
"""


def test_every_cloth_of_a_stash_is_told(run: Run) -> None:
    narrow = '[[cloth]]\nname = "ribbon"\nwidth = "12 cm"\nlength = "9 m"\n'
    Path("cloth.toml").write_text(f"{SHORT}\n{SCRAPS}\n{narrow}", encoding="utf-8")
    status, out, _ = run(*LAY_SKIRT)
    assert status == 1
    assert "on each of 3 cloths at hand" in out
    assert "  lawn: does not fit, " in out and "  scraps: does not fit: no room on the remnants for " in out
    assert "  ribbon: cannot be laid: " in out
    assert "The pieces do not fit on 'lawn'" in out
    status, out, _ = run(*LAY_SKIRT, "--name", "scraps")
    assert status == 1 and "The pieces do not fit on 'scraps': no room on the remnants for " in out


def test_cloth_to_be_bought_is_said_in_the_shops_steps(run: Run) -> None:
    status, out, _ = run(*LAY_SKIRT, "--name", "CHECK")
    found = read_lay(Path("out/new/lay.json").read_text("utf-8"))
    assert status == 0
    assert f"Buy {found.buy.words} of 'check': " in out and " are needed." in out


def test_where_the_pattern_of_the_cloth_runs_on(run: Run) -> None:
    _, out, _ = run(*LAY_SKIRT, "--name", "check")
    assert "left side at hem: the pattern runs on." in out
    repeat = 'repeat_along = { every = "6 cm" }\n'
    Path("cloth.toml").write_text(STASH.replace('width = "150 cm"\n', f'width = "150 cm"\n{repeat}'))
    both = ("side at hem", "side at waist")
    _, out, _ = run(*LAY_SKIRT, "--name", "check", *(w for m in both for w in ("--match", m)))
    lay = read_lay(Path("out/new/lay.json").read_text("utf-8"))
    assert {m.matched for m in lay.matched} == {True, False}
    for m in lay.matched:
        assert (f"{m.seam} at {m.notch}: the pattern runs on." in out) == m.matched
        assert (f"warning: {m.seam}: " in out and f" at the {m.notch} (" in out) or m.matched


def test_as_json_it_is_the_file(run: Run) -> None:
    status, out, err = run(*LAY_SKIRT, "--json")
    assert (status, err) == (0, "")
    assert out == Path("out/new/lay.json").read_text("utf-8")
    Path("cloth.toml").write_text(SHORT, encoding="utf-8")
    status, out, _ = run(*LAY_SKIRT, "--json")
    assert status == 1 and not json.loads(out)["fits"]


def test_a_piece_held_by_hand_stays(run: Run) -> None:
    run(*LAY_SKIRT)
    lay = Path("out/new/lay.json")
    document = json.loads(lay.read_text("utf-8"))
    first = document["pieces"][0]
    first["held"] = True
    first["along_mm"] += 1000
    Path("mine.json").write_text(json.dumps(document), encoding="utf-8")
    status, _, err = run(*LAY_SKIRT, "--keep", "mine.json")
    assert (status, err) == (0, "")
    found = read_lay(lay.read_text("utf-8"))
    same = next(piece for piece in found.pieces if piece.name == first["name"])
    assert same.held and same.along_mm == pytest.approx(first["along_mm"], abs=0.01)
    assert sum(piece.held for piece in found.pieces) == 1


def test_where_nothing_is_held_there_is_nothing_to_keep(run: Run) -> None:
    run(*LAY_SKIRT)
    status, _, err = run(*LAY_SKIRT, "--keep", "out/new/lay.json")
    assert status == 2 and "no piece is held" in err and err.count("\n") == 1


@pytest.mark.parametrize("way", ["open", "lengthwise", "crosswise", "part"])
def test_each_way_to_lie(run: Run, way: str) -> None:
    assert run(*LAY_SKIRT, "--way", way)[0] == 0
    sections = json.loads(Path("out/new/lay.json").read_text("utf-8"))["sections"]
    assert way[:4] in {s["way"].removeprefix("folded ")[:4] for s in sections} | {"part"}


def test_a_design_that_must_not_be_cut_is_laid_and_says_so(run: Run) -> None:
    design = Path("skirt.toml")
    design.write_text(design.read_text().replace('length = "20 cm"', 'length = "2 cm"'))
    status, out, _ = run(*LAY_SKIRT)
    assert status == 1 and "STOP: " in out and "The pieces fit" in out
    assert "DO NOT CUT" in Path("out/new/lay.svg").read_text("utf-8")


FULL = """
[[steps]]
id = "full"
do = "spread"
piece = "skirt back"
[[steps.sets]]
count = 2
starts = [
  { piece = "skirt back", edge = "hem", from = "centre back", by = "8 cm" },
  { piece = "skirt back", edge = "hem", from = "side", by = "8 cm" },
]
ends = [
  { piece = "skirt back", edge = "waist", from = "centre back", by = "2 cm" },
  { piece = "skirt back", edge = "waist", from = "side", by = "2 cm" },
]
opens = { total = { least = "1 cm", most = "12 cm" } }
"""


def test_as_much_fullness_as_fits(run: Run) -> None:
    design = Path("skirt.toml")
    text = "# mine\n" + design.read_text() + FULL
    design.write_text(text)
    status, out, err = run(*LAY_SKIRT, "--name", "lawn", "--fullest")
    assert status == 0, err
    assert "free from 1 cm to 12 cm" in out and "What stops it: " in out
    assert names() >= {*FILES, "skirt-fullest.toml", "fullness.json"}
    settled = Path("out/new/skirt-fullest.toml").read_text("utf-8")
    assert settled.startswith("# mine\n") and "least" not in settled
    assert read_recipe(settled, "d").steps[-1].params["sets"][0]["opens"]["total"] == "12 cm"
    assert design.read_text() == text


def test_the_table_of_what_to_buy(run: Run) -> None:
    status, out, _ = run(*LAY_SKIRT, "--name", "lawn", "--table", "--width", "1 m", "--width", "1.5 m")
    assert status == 0 and "100 cm wide" in out and "150 cm wide" in out and "EUR" in out
    assert names() == {"cloth-to-buy.json"}


def test_make_with_a_cloth_writes_all_or_none(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    words = ("make", *LAY_SKIRT[1:])
    status, out, _ = run(*words)
    assert status == 0 and "The pieces fit on 'lawn'" in out
    assert names() >= {*FILES, "draft.json", "pattern-a4.pdf"}
    before = {p.name: p.read_bytes() for p in Path("out/new").iterdir()}

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("cutonce.studio.lay_results.write_lay", full)
    status, _, err = run(*words, "--date", "2020-02-02")
    assert status == 2 and "No space left" in err
    assert {p.name: p.read_bytes() for p in Path("out/new").iterdir()} == before


def test_make_tells_by_its_status_that_the_pieces_do_not_fit(run: Run) -> None:
    Path("cloth.toml").write_text(SHORT, encoding="utf-8")
    status, out, _ = run("make", *LAY_SKIRT[1:])
    assert status == 1 and "do not fit" in out and names() >= {*FILES, "draft.json"}


def test_the_demo_lays_its_example(run: Run) -> None:
    status, out, _ = run("demo", "--out", "out/new", "--example", "a_line")
    assert status == 0 and "The pieces fit on 'washed linen'" in out
    assert names() >= {*FILES, "pattern.svg"}


def test_the_demo_without_the_libraries_of_the_lay(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cutonce.lay.search.find_spec", lambda _: None)
    status, out, _ = run("demo", "--out", "out/new", "--example", "a_line")
    assert status == 0 and "pip install 'cutonce[lay]'" in out
    assert not names() & FILES and "pattern.svg" in names()


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_the_best_so_far_is_one_line_on_a_terminal_and_nothing_elsewhere(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    now = iter(range(100))
    monkeypatch.setattr("cutonce.cli.show_lay.time.monotonic", lambda: next(now))
    screen, file = Terminal(), io.StringIO()
    for stream in (screen, file):
        best = BestSoFar(stream)
        best(1523.0)
        best(1400.0)
        best.done()
    assert "\n" not in screen.getvalue() and file.getvalue() == ""
    assert [part.strip() for part in screen.getvalue().split("\r")] == [
        "",
        "Best so far: 152.3 cm after 1 s (Ctrl-C keeps it)",
        "Best so far: 140.0 cm after 2 s (Ctrl-C keeps it)",
        "",
        "",
    ]


def test_ctrl_c_keeps_the_best_so_far_and_leaves_no_process(tmp_path: Path) -> None:
    """The real search, stopped from the keyboard: all of the group is sent the signal."""
    design, body = map(str, example_files("cellist"))
    words = ("lay", design, "--body", body, "--cloth", str(example_cloth("cellist")), "--time", "5 min")
    with subprocess.Popen(
        [sys.executable, "-m", "cutonce", *words, *OUT],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as process:
        assert process.stdout is not None
        try:
            said = ""
            while "Laying " not in said:
                said += process.stdout.readline()
            time.sleep(3)
            os.killpg(process.pid, signal.SIGINT)
            rest, err = process.communicate(timeout=60)  # the search alone would go on for five minutes
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            raise
    said += rest
    assert err == ""
    assert process.returncode == (0 if "The pieces fit" in said else 1)
    assert "Stopped: this is the best lay so far." in said and "What helps?" not in said
    assert {p.name for p in (tmp_path / "out/new").iterdir()} >= FILES
    with pytest.raises(ProcessLookupError):
        os.killpg(process.pid, 0)
