from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
import threading
from dataclasses import replace
from itertools import pairwise

import pytest
from lay.problems import blank, disc, rectangle
from lay.processes import children, gone, needs_proc

from cutonce.errors import CannotApply
from cutonce.lay import search as module
from cutonce.lay.first import first_layout, laid_like
from cutonce.lay.problem import Bed, Layout, Problem, Rule, Spot
from cutonce.lay.search import least_length, search, searched
from cutonce.lay.verify import verify

ELL = (0j, 90 + 0j, 90 + 30j, 30 + 30j, 30 + 70j, 70j)
WEDGE = (0j, 120 + 0j, 80 + 50j, 20 + 50j)
PLAIN = Problem(
    Bed(200.0),
    tuple(blank(f"{name} {k}", ring) for name, ring in (("ell", ELL), ("wedge", WEDGE)) for k in range(6)),
)
RULED = Problem(
    Bed(200.0, avoid=(disc(100 + 100j, 20.0),)),
    (
        blank("fold", rectangle(150, 60), (0.0,), across=Rule(0.0)),
        blank("stripe", ELL, (0.0, 180.0), along=Rule(5.0, 40.0), across=Rule(10.0, 40.0)),
        *PLAIN.blanks[6:],
    ),
    spacing=2.0,
)


@pytest.mark.parametrize("problem", [PLAIN, RULED], ids=["plain", "ruled"])
def test_what_is_told_and_returned_is_legal_and_ever_shorter(problem: Problem) -> None:
    told: list[Layout] = []
    layout = search(problem, 2.0, on_better=told.append)
    assert told[0] == first_layout(problem) and told[-1] == layout
    assert all(verify(problem, one) == () for one in told)
    assert all(a.length > b.length for a, b in pairwise(told))
    assert least_length(problem) <= layout.length
    assert len(told) > 1 or problem is RULED


@needs_proc
def test_stopped_it_gives_the_best_so_far_and_leaves_no_process() -> None:
    before, during, told = children(), set[int](), []
    stop = threading.Event()

    def on_better(layout: Layout) -> None:
        told.append(layout)
        during.update(children() - before)
        if len(told) == 2:
            stop.set()

    layout = search(PLAIN, 60.0, cores=2, on_better=on_better, stopped=stop.is_set)
    assert layout == told[-1] and verify(PLAIN, layout) == ()
    assert len(during) == 2 and children() == before


@needs_proc
def test_a_caller_that_fails_leaves_no_process() -> None:
    before = children()

    def on_better(layout: Layout) -> None:
        if children() - before:
            raise RuntimeError("the window is gone")

    with pytest.raises(RuntimeError, match="window"):
        search(PLAIN, 60.0, cores=2, on_better=on_better)
    assert children() == before


SCRIPT = """
    import sys
    from pathlib import Path
    sys.path.insert(0, sys.argv[1])
    from lay.processes import children
    from lay.test_search import PLAIN
    from cutonce.lay.search import search
    from cutonce.lay.verify import verify

    def on_better(layout):
        if len(children()) == 2:
            print(*children(), flush=True)

    layout = search(PLAIN, 120.0, cores=2, on_better=on_better)
    print("legal" if not verify(PLAIN, layout) else "not legal", flush=True)
"""


def searching() -> tuple[subprocess.Popen[str], set[int]]:
    """A program in the middle of a search, and its two children."""
    tests = os.path.dirname(os.path.dirname(__file__))
    command = [sys.executable, "-c", textwrap.dedent(SCRIPT), tests]
    program = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert program.stdout is not None
    return program, {int(pid) for pid in program.stdout.readline().split()}


@needs_proc
def test_at_ctrl_c_it_gives_the_best_so_far_and_leaves_no_process() -> None:
    program, pids = searching()
    program.send_signal(signal.SIGINT)
    out, err = program.communicate(timeout=60)
    assert len(pids) == 2 and out.splitlines()[-1] == "legal" and err == ""
    assert gone(pids)


@needs_proc
def test_killed_it_takes_its_children_with_it() -> None:
    program, pids = searching()
    program.kill()
    program.communicate(timeout=60)
    assert len(pids) == 2 and gone(pids)


@needs_proc
def test_a_child_that_is_killed_is_a_failure_and_the_search_goes_on() -> None:
    before, killed = children(), set[int]()

    def on_better(layout: Layout) -> None:
        if not killed and (now := children() - before):
            killed.add(min(now))
            os.kill(min(now), signal.SIGKILL)

    found = searched(PLAIN, 3.0, cores=2, on_better=on_better)
    assert killed and "a search ended before its time" in found.failures
    assert verify(PLAIN, found.layout) == () and children() == before


def test_a_legal_start_is_taken_and_an_illegal_one_laid_anew() -> None:
    best = first_layout(PLAIN, 12)
    assert searched(PLAIN, 0.0, start=best).layout == best
    assert searched(PLAIN, 0.0, start=replace(best, length=1.0)).layout == best
    closer = tuple(replace(spot, at=0.98 * spot.at) for spot in best.spots)
    found = searched(PLAIN, 0.0, start=Layout(best.length, closer))
    assert found.layout == laid_like(PLAIN, best) and found.thrown_away == 1
    strange = Layout(120.0, (Spot("strange", 0, 0j),))
    assert searched(PLAIN, 0.0, start=strange).layout == first_layout(PLAIN)


def test_it_ends_as_soon_as_a_layout_is_short_enough() -> None:
    told: list[Layout] = []
    enough = first_layout(PLAIN).length + 1.0
    layout = search(PLAIN, 600.0, on_better=told.append, enough=enough)
    assert told == [layout] and layout.length <= enough


def test_it_ends_as_soon_as_nothing_shorter_can_be() -> None:
    one = Problem(Bed(200.0), (blank("one", rectangle(90, 40), (0.0,)),))
    assert search(one, 600.0).length == pytest.approx(90.0)


def test_a_bed_too_short_is_no_wall() -> None:
    short = replace(PLAIN, bed=Bed(200.0, 100.0))
    layout = search(short, 0.5)
    assert layout.length > 100.0 and verify(PLAIN, layout) == ()
    assert {finding.code for finding in verify(short, layout)} == {"off-the-bed"}


def test_an_outline_that_is_none_is_refused_in_one_line() -> None:
    flat = Problem(Bed(200.0), (*PLAIN.blanks, blank("flat", (0j, 50 + 0j, 100 + 0j), (0.0,))))
    with pytest.raises(CannotApply, match="flat") as caught:
        search(flat, 1.0)
    assert "\n" not in str(caught.value)


def test_missing_libraries_are_named_with_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "find_spec", lambda name: None if name == "numba" else object())
    with pytest.raises(CannotApply) as caught:
        search(PLAIN, 1.0)
    assert str(caught.value).endswith("not installed: numba (pip install 'cutonce[lay]')")


def test_nothing_to_lay_takes_nothing() -> None:
    assert search(Problem(Bed(200.0), ()), 5.0) == Layout(0.0, ())
