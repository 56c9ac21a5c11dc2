"""bench/lay.py on broken strip-packing instances: a line with the reason each, and the next is read."""

from __future__ import annotations

import copy
import importlib.util
import json
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
GOOD: dict[str, Any] = {
    "name": "good",
    "strip_height": 10.0,
    "items": [
        {
            "id": 7,
            "demand": 3,
            "allowed_orientations": [0.0, 180.0],
            "shape": {"type": "simple_polygon", "data": [[0, 0], [6, 0], [6, 4], [0, 5], [0, 0]]},
        }
    ],
}


def bench() -> ModuleType:
    spec = importlib.util.spec_from_file_location("bench_lay_broken", ROOT / "bench" / "lay.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def altered(path: tuple[str | int, ...], value: object) -> dict[str, Any]:
    """GOOD with one value exchanged, or taken out where `value` is None."""
    made = copy.deepcopy(GOOD)
    at: Any = made
    for key in path[:-1]:
        at = at[key]
    if value is None:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return made


BROKEN = [
    (altered(("strip_height",), None), "strip_height"),
    (altered(("strip_height",), 0), "strip_height"),
    (altered(("strip_height",), "10"), "strip_height"),
    (altered(("items",), []), "items"),
    (altered(("items",), None), "items"),
    (altered(("items", 0), 3), "item 0: no demand"),
    (altered(("items", 0, "demand"), 0), "demand must be"),
    (altered(("items", 0, "demand"), True), "demand must be"),
    (altered(("items", 0, "allowed_orientations"), None), "turn freely"),
    (altered(("items", 0, "allowed_orientations"), []), "list of degrees"),
    (altered(("items", 0, "allowed_orientations"), ["up"]), "list of degrees"),
    (altered(("items", 0, "shape", "type"), "polygon"), "must be a simple_polygon"),
    (altered(("items", 0, "shape", "data"), [[0, 0], [1, 0]]), "no area"),
    (altered(("items", 0, "shape", "data"), [[0, 0], [1, 0], [2]]), "two numbers"),
    (altered(("items", 0, "shape", "data"), [[0, 0], [6, 6], [6, 0], [0, 4]]), "crosses itself"),
    (altered(("items", 0, "shape", "data"), [[0, 0], [9, 0], [9, 99], [0, 99]]), "across"),
    ([], "items"),
]


@pytest.mark.parametrize(("data", "words"), BROKEN)
def test_a_broken_instance_says_why(data: object, words: str, tmp_path: Path) -> None:
    path = tmp_path / "broken.json"
    path.write_text(json.dumps(data))
    told = bench().line(path, "own", 0.0, 1, 1)
    assert set(told) == {"name", "error"} and words in told["error"] and "\n" not in told["error"]


def test_after_a_broken_one_the_next_is_laid(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text("{")
    (tmp_path / "b.json").write_text(json.dumps(GOOD))
    command = [sys.executable, str(ROOT / "bench" / "lay.py"), str(tmp_path), "--time", "0.3", "--cores", "1"]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    broken, good = map(json.loads, ran.stdout.splitlines())
    assert broken["name"] == "a" and "cannot be read" in broken["error"]
    assert good["name"] == "good" and good["legal"] is True
    assert good["density"] == pytest.approx(100 * 81 / (10 * good["length"]), abs=1e-2)


def test_a_folder_without_instances_is_said(tmp_path: Path) -> None:
    command = [sys.executable, str(ROOT / "bench" / "lay.py"), str(tmp_path)]
    ran = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ran.returncode == 2 and "no JSON files" in ran.stderr
