"""Whatever stands in the files: an answer and an exit status of 0, 1 or 2, never a traceback.

Good files are mutated as text and as documents (`mutated`), read by their readers, and drafted by `check` and
`batch` in-process. CUTONCE_FULL=1 draws ten times as many.
"""

from __future__ import annotations

import contextlib
import io
import json
import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path
from random import Random

import pytest
from cli.bad_input import DRESS, DRESS_BODY, OUTLINE, PEOPLE, SKIRT, SKIRT_BODY, STASH, TYPED
from cli.mutated import document_text, mutated_document, mutated_text, varied_document
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from studio.greedy import first_only

from cutonce.blocks.outline import outline_block, read_outline
from cutonce.body import read_body, read_people
from cutonce.cli import main
from cutonce.cloth.file import read_cloth
from cutonce.documents import parse_toml
from cutonce.errors import Problem
from cutonce.recipe.file import read_recipe
from cutonce.steps import STEPS
from cutonce.studio import laying
from cutonce.studio.examples import example_cloth, example_files, example_names

EXAMPLES = [tuple(p.read_text(encoding="utf-8") for p in example_files(name)) for name in example_names()]

CLOTHS = [example_cloth(name).read_text(encoding="utf-8") for name in example_names()]

BIG_OUTLINE = Path(sys.modules["cutonce.blocks"].__file__ or "").with_name("outline-example.toml").read_text()


def _of_a_step(name: str) -> list[str]:
    """The worked examples of a step as designs."""
    found = [step for step in STEPS if step.name == name]
    return [
        document_text(
            {
                "schema": 1,
                "name": "Example",
                "block": {"draft": example.block},
                "steps": [
                    {"id": f"s{k}", **entry}
                    for k, entry in enumerate((*example.before, {"do": name, **example.params}))
                ],
            }
        )
        for step in found
        for example in step.examples
    ]


STEP_DESIGNS = [text for step in STEPS for text in _of_a_step(step.name)]


def randoms() -> st.SearchStrategy[Random]:
    return st.randoms(use_true_random=False)


def mutated(pick: Random, text: str) -> str:
    """As text or as a document."""
    way = pick.random()
    if way < 0.2:
        return mutated_text(pick, text)
    return document_text((mutated_document if way < 0.45 else varied_document)(pick, tomllib.loads(text)))


def answered(folder: Path, files: Mapping[str, str], *words: str) -> tuple[int, str]:
    """Exit status and what was said of a command on these files; fails where it is not one clear answer."""
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8", newline="")
    out, err = io.StringIO(), io.StringIO()
    argv = sys.argv
    sys.argv = ["cutonce", *(str(folder / w) if w in files or w == "out" else w for w in words)]
    try:
        with (
            contextlib.redirect_stdout(out),
            contextlib.redirect_stderr(err),
            pytest.raises(SystemExit) as end,
        ):
            main()
    finally:
        sys.argv = argv
    status, said = int(end.value.code or 0), err.getvalue()
    assert status in (0, 1, 2)
    assert said == "" if status < 2 else said.startswith("cutonce: ") and said.count("\n") == 1, said
    assert "Traceback" not in out.getvalue() + said
    return status, said


def _outcome(problem: Problem) -> None:
    line = str(problem)
    assert line.strip() and "\n" not in line and "\r" not in line and len(line) < 4000


def read_whatever(kind: str, text: str) -> None:
    """The reader of that kind of file gives a value or one Problem."""
    try:
        match kind:
            case "body":
                read_body(text)
            case "cloth":
                read_cloth(text)
            case "design":
                read_recipe(text, "design.toml", lambda _: OUTLINE)
            case "outline":
                outline_block(read_outline(parse_toml(text, "o"), {"hip_girth": 960.0}, "o"), "o")
            case _:
                for person in read_people(text).rows:
                    if person.problem is not None:
                        _outcome(person.problem)
    except Problem as problem:
        _outcome(problem)


TEXTS: dict[str, list[str]] = {
    "body": [SKIRT_BODY, DRESS_BODY, *(body for _, body in EXAMPLES)],
    "cloth": [STASH, *CLOTHS],
    "design": [SKIRT, DRESS, TYPED, *(design for design, _ in EXAMPLES), *STEP_DESIGNS],
    "outline": [OUTLINE, BIG_OUTLINE],
    "people": [PEOPLE, PEOPLE.replace(",", ";"), "id,bust_girth_in\r\n1,36 1/4\r\n2,\r\n"],
}


@pytest.mark.parametrize("kind", TEXTS)
@given(data=st.data())
@settings(max_examples=120)
def test_readers_never_fail_but_by_a_problem(kind: str, data: st.DataObject) -> None:
    text = data.draw(st.sampled_from(TEXTS[kind]))
    pick = data.draw(randoms())
    read_whatever(kind, mutated_text(pick, text) if kind == "people" else mutated(pick, text))


@pytest.mark.parametrize("kind", TEXTS)
@given(text=st.text(max_size=60))
@settings(max_examples=60)
def test_readers_take_any_text(kind: str, text: str) -> None:
    read_whatever(kind, text)


def mutated_pair(pick: Random, design: str, body: str) -> tuple[str, str]:
    """The design mutated, mostly, or the body, or both."""
    which = pick.random()
    return mutated(pick, design) if which < 0.85 else design, mutated(pick, body) if which > 0.75 else body


@given(data=st.data())
@settings(max_examples=40)
def test_check_answers(data: st.DataObject, tmp_path_factory: pytest.TempPathFactory) -> None:
    pairs = [
        (SKIRT, SKIRT_BODY),
        (DRESS, DRESS_BODY),
        *EXAMPLES,
        *((d, EXAMPLES[1][1]) for d in STEP_DESIGNS),
    ]
    design, body = mutated_pair(data.draw(randoms()), *data.draw(st.sampled_from(pairs)))
    files = {"design.toml": design, "body.toml": body}
    answered(tmp_path_factory.getbasetemp(), files, "check", "design.toml", "--body", "body.toml")


@given(data=st.data())
@settings(max_examples=40)
def test_check_answers_for_an_outline(data: st.DataObject, tmp_path_factory: pytest.TempPathFactory) -> None:
    outline = mutated(data.draw(randoms()), data.draw(st.sampled_from(TEXTS["outline"])))
    files = {"design.toml": TYPED, "body.toml": SKIRT_BODY, "outline.toml": outline}
    answered(tmp_path_factory.getbasetemp(), files, "check", "design.toml", "--body", "body.toml")


@given(data=st.data())
@settings(max_examples=25)
def test_batch_answers(data: st.DataObject, tmp_path_factory: pytest.TempPathFactory) -> None:
    people = mutated_text(data.draw(randoms()), data.draw(st.sampled_from(TEXTS["people"])))
    words = ("batch", "design.toml", "people.csv", "--out", "out", "--cores", "1")
    files = {"design.toml": SKIRT, "people.csv": people}
    folder = tmp_path_factory.getbasetemp()
    status, said = answered(folder, files, *words)
    if status < 2:
        results = (folder / "out" / "results.csv").read_text(encoding="utf-8")
        assert results.startswith("id,ok,") and said == ""


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """A lay takes the first legal one."""
    monkeypatch.setattr(laying, "_engine", lambda: first_only)


LAY = ("lay", "design.toml", "--body", "body.toml", "--cloth", "cloth.toml", "--out", "out", "--json")


@given(data=st.data())
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_lay_answers(data: st.DataObject, quick: None, tmp_path_factory: pytest.TempPathFactory) -> None:
    cloth = mutated(data.draw(randoms()), data.draw(st.sampled_from(TEXTS["cloth"])))
    way = data.draw(st.sampled_from(["open", "lengthwise", "crosswise", "part"]))
    files = {"design.toml": SKIRT, "body.toml": SKIRT_BODY, "cloth.toml": cloth}
    answered(tmp_path_factory.getbasetemp(), files, *LAY, "--way", way)


@given(data=st.data())
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_keep_answers(data: st.DataObject, quick: None, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.getbasetemp()
    files = {"design.toml": SKIRT, "body.toml": SKIRT_BODY, "cloth.toml": STASH}
    if not (folder / "kept" / "lay.json").exists():
        answered(folder, files, *LAY[:-3], "--out", str(folder / "kept"), "--name", "lawn")
    lay = json.loads((folder / "kept" / "lay.json").read_text(encoding="utf-8"))
    for piece in lay["pieces"]:
        piece["held"], piece["outline"] = True, []
    pick = data.draw(randoms())
    changed = varied_document(pick, lay) if pick.random() < 0.5 else mutated_document(pick, lay)
    text = json.dumps(changed, default=str) if pick.random() < 0.8 else mutated_text(pick, json.dumps(lay))
    answered(folder, {**files, "lay.toml": text}, *LAY, "--name", "lawn", "--keep", "lay.toml")
