"""Measure what she waits for in a lay and record it in docs/benchmarks.md: first lay, stop, 10 s against 60.

Run by `make bench-lay-times`. The pieces are those of the three shipped examples together, 17 on one cloth of
150 cm, with the outlines that the product searches with. Nothing here asserts; the bars stand beside.
"""

from __future__ import annotations

import argparse
import os
import pickle
import random
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from measure import PAGE, Figure, machine

from cutonce import prove, read_body, read_design
from cutonce.cloth.cloth import Cloth
from cutonce.lay.first import first_layout
from cutonce.lay.lay import lay
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Rule
from cutonce.lay.search import search
from cutonce.studio.examples import example_files

EXAMPLES = ("cellist", "a_line", "stage_tunic")
WIDTH_MM = 1500.0
STOPS = 20


def dress_problem(ruled: bool = False) -> Problem:
    """The pieces of all examples on one cloth; ruled: a stripe every 30 mm across and two flaws as well."""
    blanks: list[Blank] = []
    for name in EXAMPLES:
        design, body = example_files(name)
        done = prove(read_design(design), read_body(body)).finished
        blanks += [replace(b, key=f"{name} {b.key}") for b in _problem_of(done).blanks]
    if not ruled:
        return Problem(Bed(WIDTH_MM), tuple(blanks))
    rule = Rule(0.0, 30.0)
    striped = [replace(b, shapes=tuple(replace(s, across=rule) for s in b.shapes)) for b in blanks]
    flaws = tuple(
        tuple(c + d for d in (-20 - 20j, 20 - 20j, 20 + 20j, -20 + 20j)) for c in (300 + 400j, 900 + 1000j)
    )
    return Problem(Bed(WIDTH_MM, avoid=flaws), tuple(striped))


def _problem_of(done: Any) -> Problem:
    """What the lay of a garment would be searched for: the search is caught on its way."""
    caught: list[Problem] = []

    def catch(problem: Problem, **_: Any) -> Layout:
        caught.append(problem)
        return first_layout(problem)

    lay(done, Cloth("bench", WIDTH_MM + 40.0, WIDTH_MM), search=catch)
    return caught[0]


FIRST = """
import pickle, sys
problem = pickle.load(open(sys.argv[1], "rb"))
from cutonce.lay.search import search
def told(layout):
    print(layout.length, flush=True)
    sys.stdin.readline()
    sys.exit()
search(problem, 10.0, on_better=told)
"""


def first_seconds(problem: Problem, runs: int = 5) -> tuple[float, float]:
    """Median and worst, from starting Python to the first checked layout, each in a new process."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "problem"
        path.write_bytes(pickle.dumps(problem))
        times = []
        for _ in range(runs):
            began = time.perf_counter()
            command = [sys.executable, "-c", FIRST, str(path)]
            with subprocess.Popen(
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
            ) as process:
                assert process.stdout is not None
                process.stdout.readline()
                times.append(time.perf_counter() - began)
                process.communicate("\n")
        return statistics.median(times), max(times)


def stop_seconds(problem: Problem, stops: int, seconds: float) -> tuple[float, float]:
    """Median and worst, from asking a search to stop to its return, at chance moments of its time."""
    chance = random.Random(1)
    late = []
    for _ in range(stops):
        stop = threading.Event()
        asked: list[float] = []

        def ask(stop: threading.Event = stop, asked: list[float] = asked) -> None:
            asked.append(time.perf_counter())
            stop.set()

        timer = threading.Timer(chance.uniform(1.0, 0.8 * seconds), ask)
        timer.start()
        search(problem, seconds, cores=2, stopped=stop.is_set)
        late.append(time.perf_counter() - asked[0])
        timer.join()
    return statistics.median(late), max(late)


def figures(stops: int, long: float) -> list[Figure]:
    problems = {"plain": dress_problem(), "stripes and flaws": dress_problem(ruled=True)}
    found = []
    for name, problem in problems.items():
        usual, worst = first_seconds(problem)
        pieces = len(problem.blanks)
        found.append(
            Figure(f"first lay, {pieces} pieces, {name}, cold", f"{usual:.2f} s (worst {worst:.2f})", "1 s")
        )
    for name, problem in problems.items():
        usual, worst = stop_seconds(problem, stops, 6.0)
        found.append(Figure(f"stop, {name}, {stops} moments", f"{usual:.3f} s (worst {worst:.3f})", "0.2 s"))
    for name, problem in problems.items() if long else ():
        short, full = (search(problem, seconds, cores=2).length for seconds in (10.0, long))
        value = f"{short:.0f} mm, {100 * (short / full - 1):.1f} % above {long:.0f} s"
        found.append(Figure(f"after 10 s, {name}", value, "2 %"))
    return found


def main() -> None:
    asked = argparse.ArgumentParser(description="Times of the lay.")
    asked.add_argument("--stops", type=int, default=STOPS)
    asked.add_argument("--long", type=float, default=60.0, help="seconds of the long search; 0: none")
    given = asked.parse_args()
    found = figures(given.stops, given.long)
    load = os.getloadavg()[0]
    lines = [f"\n## Lay, {date.today().isoformat()}, {machine()}, load {load:.1f}\n"]
    lines += ["| what | measured | bar |", "|---|---|---|"]
    lines += [f"| {f.what} | {f.value} | {f.bar} |" for f in found]
    PAGE.write_text(PAGE.read_text().rstrip("\n") + "\n" + "\n".join(lines) + "\n")
    print("\n".join(lines))


if __name__ == "__main__":
    main()
