"""Children that are given what breaks the libraries: each a failed task in one line, never a traceback."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from lay.problems import blank, rectangle, shape

from cutonce.geometry.motion import MIRROR, STILL, turning
from cutonce.lay.crew import Crew
from cutonce.lay.problem import Bed, Blank, Problem, Ring, Rule
from cutonce.lay.task import Message, Task
from cutonce.lay.verify import verify


def answers(crew: Crew, name: int, task: Task) -> list[Message]:
    """All that a child tells of a task, to its end."""
    crew.give(name, task)
    heard: list[Message] = []
    while not heard or heard[-1].kind == "better":
        heard += [message for _, message in crew.told(1.0) if message.number == task.number]
    return heard


def task(ring: Ring, number: int = 0, width: float = 100.0) -> Task:
    problem = Problem(Bed(width), (blank("one", ring, (0.0,)), blank("two", ring, (0.0,))))
    return Task(number, "strip", problem, None, 0.6, 1)


BROKEN = {
    "no area": (0j, 50 + 0j, 100 + 0j),
    "two points": (0j, 50 + 0j),
    "no number": (0j, complex(math.nan, 0), 50 + 50j),
    "wider than the bed": rectangle(50, 150),
    "all one point": (5 + 5j, 5 + 5j, 5 + 5j),
}


@pytest.mark.parametrize("ring", BROKEN.values(), ids=BROKEN.keys())
def test_what_the_library_cannot_take_is_a_failure_in_one_line(
    ring: Ring, capfd: pytest.CaptureFixture[str]
) -> None:
    with Crew() as crew:
        name = crew.hire()
        last = answers(crew, name, task(ring))[-1]
        assert last.kind == "failed" and last.words and "\n" not in last.words
    assert capfd.readouterr() == ("", "")


def test_a_child_goes_on_to_the_next_task_after_a_panic() -> None:
    with Crew() as crew:
        name = crew.hire()
        assert answers(crew, name, task(rectangle(50, 150)))[-1].kind == "failed"
        if not crew.here(name):
            name = crew.hire()
        good = answers(crew, name, task(rectangle(50, 40), 1))
        assert good[-1].kind == "done" and good[0].layout is not None


@pytest.mark.parametrize("spacing", [0.0, 7.0])
def test_pieces_exactly_as_wide_as_the_bed_are_laid(spacing: float) -> None:
    blanks = tuple(blank(str(k), rectangle(30, 100), (0.0,)) for k in range(3))
    problem = Problem(Bed(100.0), blanks, spacing)
    with Crew() as crew:
        heard = answers(crew, crew.hire(), Task(0, "strip", problem, None, 1.0, 1))
    layouts = [message.layout for message in heard if message.layout is not None]
    assert layouts and all(verify(problem, layout) == () for layout in layouts)
    assert min(one.length for one in layouts) == pytest.approx(90 + 2 * spacing, abs=0.5)


def test_rules_are_none_of_the_strip_packing() -> None:
    problem = Problem(Bed(100.0), (blank("one", rectangle(50, 50), (0.0,), across=Rule(0.0)),))
    with Crew() as crew:
        last = answers(crew, crew.hire(), Task(0, "strip", problem, None, 1.0, 1))[-1]
    assert last.kind == "failed" and "beyond a strip packing" in last.words


def test_a_task_for_a_child_that_is_gone_is_a_failure() -> None:
    with Crew() as crew:
        name = crew.hire()
        crew._children[name].process.kill()
        crew._children[name].process.wait()
        assert answers(crew, name, task(rectangle(50, 40)))[-1].kind == "failed"


def test_turned_over_and_turned_shapes_come_back_as_they_were_asked_for() -> None:
    """A right and a left hand, straight, on the bias and across: legal by the shapes of the problem."""
    ring = (0j, 60 + 0j, 70 + 30j, 20 + 45j)
    turns = [turning(math.radians(d)) for d in (0, 45, 90, 180, 225, 270)]
    shapes = tuple(shape(ring, turn.after(over)) for over in (STILL, MIRROR) for turn in turns)
    problem = Problem(Bed(150.0), tuple(Blank(str(k), "one", shapes) for k in range(5)))
    hands = set()
    with Crew() as crew:
        name = crew.hire()
        for seed in range(4):
            heard = answers(crew, name, Task(seed, "strip", problem, None, 0.5, seed))
            layouts = [message.layout for message in heard if message.layout is not None]
            assert layouts and all(verify(problem, layout) == () for layout in layouts)
            hands |= {shapes[spot.shape].motion.mirror for spot in layouts[-1].spots}
    assert hands == {False, True}


def test_files_in_her_folder_are_not_taken_for_modules(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "queue.py").write_text("raise SystemExit(3)")
    (tmp_path / "cutonce").mkdir()
    (tmp_path / "cutonce" / "__init__.py").write_text("raise SystemExit(3)")
    monkeypatch.chdir(tmp_path)
    with Crew() as crew:
        assert answers(crew, crew.hire(), task(rectangle(50, 40)))[-1].kind == "done"
