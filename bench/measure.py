"""Measure typical times and record them in docs/benchmarks.md: medians of several runs, with the machine.

Run by `make bench`. Bars from the design stand beside each figure; nothing here asserts.
"""

from __future__ import annotations

import csv
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from cutonce import read_body, read_design
from cutonce.body import Body, body_from_size
from cutonce.recipe.recipe import Recipe
from cutonce.studio.examples import example_files
from cutonce.studio.prove import prove

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "benchmarks.md"
RUNS = 7


@dataclass(frozen=True)
class Figure:
    what: str
    value: str
    bar: str


def median_seconds(work: Callable[[], object], runs: int = RUNS) -> float:
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def cold_demo() -> float:
    """A new process each time; timed inside it, once everything is imported but nothing has run."""
    code = (
        "import time\n"
        "from cutonce import prove, read_body, read_design\n"
        "from cutonce.studio.examples import example_files\n"
        "design, body = example_files('cellist')\n"
        "recipe, who = read_design(design), read_body(body)\n"
        "import numpy, shapely, cutonce.studio.prove\n"
        "t = time.perf_counter(); prove(recipe, who); print(time.perf_counter() - t)\n"
    )
    runs = [float(subprocess.check_output([sys.executable, "-c", code], text=True)) for _ in range(RUNS)]
    return statistics.median(runs)


def late_edit(recipe: Recipe, who: Body) -> float:
    """Prove again after the last step that takes a note has been switched off and on."""
    first = prove(recipe, who)
    last = replace(recipe.steps[-1], off=True)
    edited = replace(recipe, steps=(*recipe.steps[:-1], last))
    return median_seconds(lambda: prove(edited, who, old=first))


def bodies_per_second(design: Path, count: int) -> float:
    """`cutonce batch` over sizes and in-between bodies, imports and process start included."""
    with tempfile.TemporaryDirectory() as folder:
        table = Path(folder) / "people.csv"
        write_people(table, count)
        command = [sys.executable, "-m", "cutonce", "batch", str(design), str(table), "--out", folder]
        began = time.perf_counter()
        ran = subprocess.run([*command, "--estimate"], check=False, capture_output=True, text=True)
        seconds = time.perf_counter() - began
        if ran.returncode > 1:  # 1: some body has a finding that stops it, which is no failure of the run
            raise RuntimeError(f"batch did not run: {ran.stderr.strip()}")
        with (Path(folder) / "results.csv").open(newline="") as stream:
            rows = list(csv.DictReader(stream))
        if len(rows) != count:
            raise RuntimeError(f"batch gave {len(rows)} rows for {count} people")
        return count / seconds


def write_people(path: Path, count: int) -> None:
    """Women between sizes 8 and 18 of the trade table, evenly spaced."""
    small, large = body_from_size("trade-misses", "8"), body_from_size("trade-misses", "18")
    names = [m.key for m in small.measures]
    with path.open("w", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(["id", *(f"{n}_mm" for n in names)])
        for i in range(count):
            share = i / max(1, count - 1)
            values = [small.mm(n) + share * (large.mm(n) - small.mm(n)) for n in names]
            writer.writerow([i, *(f"{v:.1f}" for v in values)])


def help_seconds() -> float:
    command = [str(Path(sys.executable).parent / "cutonce"), "--help"]
    return median_seconds(lambda: subprocess.run(command, check=True, capture_output=True))


def figures() -> list[Figure]:
    design, body = example_files("cellist")
    skirt, _ = example_files("a_line")
    recipe, who = read_design(design), read_body(body)
    plain = ROOT / "bench" / "plain_dress.toml"
    return [
        Figure(f"demo, {len(recipe.steps)} steps and checks, cold", f"{cold_demo() * 1e3:.0f} ms", "500 ms"),
        Figure("after an edit to its last step", f"{late_edit(recipe, who) * 1e3:.1f} ms", "50 ms"),
        Figure("cutonce --help", f"{help_seconds() * 1e3:.0f} ms", "300 ms"),
        Figure("batch, plain dress block", f"{bodies_per_second(plain, 400):.0f} a second", "20"),
        Figure("batch, A-line skirt", f"{bodies_per_second(skirt, 400):.0f} a second", "20"),
        Figure("batch, demo dress", f"{bodies_per_second(design, 100):.1f} a second", "5"),
    ]


def machine() -> str:
    cpu = next(
        (
            line.split(":")[1].strip()
            for line in Path("/proc/cpuinfo").read_text().splitlines()
            if line.startswith("model name")
        ),
        platform.machine(),
    )
    return f"{os.cpu_count()} cores ({cpu}), Python {platform.python_version()}"


def main() -> None:
    found = figures()
    lines = [f"\n## {date.today().isoformat()}, {machine()}\n", "| what | measured | bar |", "|---|---|---|"]
    lines += [f"| {f.what} | {f.value} | {f.bar} |" for f in found]
    text = PAGE.read_text() if PAGE.exists() else "# Benchmarks\n\n`make bench` adds a table. Medians.\n"
    PAGE.write_text(text.rstrip("\n") + "\n" + "\n".join(lines) + "\n")
    print("\n".join(lines))


if __name__ == "__main__":
    main()
