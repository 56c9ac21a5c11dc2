"""Lay strip-packing instances and print one JSON line each: name, density, length, seconds, legal.

Run by `make bench-lay INSTANCES=DIR TIME=60 [SEED=1] [CORES=2] [ENGINE=plain]`. An instance is a JSON file:
`strip_height`, and `items` with `demand`, `allowed_orientations` (degrees, a list) and `shape` (`type`
simple_polygon, `data` a list of points). It is scaled to a strip of 1000 mm, so that the product's check
(0.01 mm of overlap) is a hundred-thousandth of the width whatever unit it has; `length` is in its own unit.
`density` is the share of the strip, up to that length, that is used, in per cent. A file that is no such
instance gives a line with `error`, and the next is read.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cutonce.errors import CannotApply
from cutonce.geometry.motion import shifting, turning
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Ring, Shape, Spot
from cutonce.lay.search import search
from cutonce.lay.verify import verify

STRIP_MM = 1000.0


class NoInstance(Exception):
    """What is wrong with a file, in one line."""


@dataclass(frozen=True)
class Instance:
    """An instance as a problem in mm; `scale` is mm to its unit."""

    name: str
    problem: Problem
    scale: float


def read_instance(path: Path) -> Instance:
    """A file as an instance; NoInstance says what is missing or wrong."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, json.JSONDecodeError) as why:
        raise NoInstance(f"cannot be read: {why}") from why
    items = _of(data, "items", list, path.name)
    height = _number(data, "strip_height", path.name)
    if height <= 0 or not items:
        raise NoInstance("strip_height must be above 0 and items must not be empty")
    scale = STRIP_MM / height
    blanks = tuple(blank for k, item in enumerate(items) for blank in _blanks(k, item, scale))
    return Instance(str(data.get("name", path.stem)), Problem(Bed(STRIP_MM), blanks), scale)


def _blanks(number: int, item: Any, scale: float) -> Iterator[Blank]:
    where = f"item {number}"
    demand = _of(item, "demand", int, where)
    if isinstance(demand, bool) or demand < 1:
        raise NoInstance(f"{where}: demand must be a whole number above 0")
    if "allowed_orientations" not in item:
        raise NoInstance(f"{where}: no allowed_orientations; items that may turn freely are not laid")
    degrees = _of(item, "allowed_orientations", list, where)
    if not degrees or not all(_is_number(d) for d in degrees):
        raise NoInstance(f"{where}: allowed_orientations must be a list of degrees")
    shape = _of(item, "shape", dict, where)
    if shape.get("type") != "simple_polygon":
        raise NoInstance(f"{where}: shape must be a simple_polygon, not {shape.get('type')!r}")
    ring = _ring(_of(shape, "data", list, where), where, scale)
    shapes = tuple(_turned(ring, d) for d in degrees)
    for copy in range(demand):
        yield Blank(f"{item.get('id', number)}.{copy}", str(item.get("id", number)), shapes)


def _ring(data: list[Any], where: str, scale: float) -> Ring:
    for point in data:
        if not (isinstance(point, list) and len(point) == 2 and all(_is_number(x) for x in point)):
            raise NoInstance(f"{where}: a point must be two numbers, not {point!r:.40}")
    points = [complex(x, y) * scale for x, y in data]
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    area = sum((p.conjugate() * q).imag for p, q in zip(points, points[1:] + points[:1], strict=True))
    if len(points) < 3 or area == 0:
        raise NoInstance(f"{where}: its polygon has no area")
    return tuple(points if area > 0 else reversed(points))


def _turned(ring: Ring, degrees: float) -> Shape:
    motion = turning(math.radians(degrees))
    turned = [motion(p) for p in ring]
    low = complex(min(p.real for p in turned), min(p.imag for p in turned))
    placed = shifting(-low).after(motion)
    return Shape(placed, tuple(placed(p) for p in ring))


def _of(data: Any, key: str, kind: type, where: str) -> Any:
    if not isinstance(data, dict) or not isinstance(data.get(key), kind):
        raise NoInstance(f"{where}: no {key}, or not of the kind {kind.__name__}")
    return data[key]


def _number(data: Any, key: str, where: str) -> float:
    if not isinstance(data, dict) or not _is_number(data.get(key)):
        raise NoInstance(f"{where}: no {key}, or it is no number")
    return float(data[key])


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)


def own(problem: Problem, seconds: float, seed: int, cores: int) -> Layout:
    """The product's own search."""
    return search(problem, seconds, seed, cores)


def plain(problem: Problem, seconds: float, seed: int, cores: int) -> Layout:
    """The strip packing library by itself, as its documentation shows it, on the outlines as they are."""
    import spyrrow

    by_piece: dict[str, list[Blank]] = {}
    for blank in problem.blanks:
        by_piece.setdefault(blank.piece, []).append(blank)
    items = []
    for piece, blanks in by_piece.items():
        first = blanks[0].shapes[0].motion
        turns = [math.degrees(s.motion.after(first.inverse()).angle) for s in blanks[0].shapes]
        points = [(p.real, p.imag) for p in blanks[0].shapes[0].outline]
        items.append(spyrrow.Item(piece, points, len(blanks), turns))
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=round(seconds), num_workers=cores, seed=seed
    )
    instance = spyrrow.StripPackingInstance("", problem.bed.width, items)
    results: list[Any] = []
    solving = threading.Thread(target=lambda: results.append(instance.solve(config)))
    solving.start()
    solving.join()
    if not results:
        raise NoInstance("the library gave up on it")
    spots = []
    for placed in results[0].placed_items:
        blank = by_piece[placed.id].pop()
        back = blank.shapes[0].motion.inverse()
        turns = [s.motion.after(back) for s in blank.shapes]
        off = [abs(math.remainder(math.degrees(t.angle) - placed.rotation, 360.0)) for t in turns]
        k = off.index(min(off))
        spots.append(Spot(blank.key, k, complex(*placed.translation) - turns[k].shift))
    return Layout(reach(problem, spots), tuple(spots))


def reach(problem: Problem, spots: list[Spot]) -> float:
    shapes = {blank.key: blank.shapes for blank in problem.blanks}
    return max(s.at.real + max(p.real for p in shapes[s.blank][s.shape].outline) for s in spots)


ENGINES: dict[str, Callable[[Problem, float, int, int], Layout]] = {"own": own, "plain": plain}


def line(path: Path, engine: str, seconds: float, seed: int, cores: int) -> dict[str, object]:
    """What is printed of one file."""
    try:
        instance = read_instance(path)
        began = time.monotonic()
        layout = ENGINES[engine](instance.problem, seconds, seed, cores)
        took = time.monotonic() - began
    except (NoInstance, CannotApply) as why:
        return {"name": path.stem, "error": str(why)}
    area = sum(_area(blank.shapes[0].outline) for blank in instance.problem.blanks)
    return {
        "name": instance.name,
        "density": round(100 * area / (STRIP_MM * layout.length), 3),
        "length": round(layout.length / instance.scale, 4),
        "seconds": round(took, 2),
        "legal": not verify(instance.problem, layout),
    }


def _area(ring: Ring) -> float:
    return abs(sum((p.conjugate() * q).imag for p, q in zip(ring, ring[1:] + ring[:1], strict=True))) / 2


def main() -> int:
    asked = argparse.ArgumentParser(description="Lay strip-packing instances, one JSON line each.")
    asked.add_argument("instances", type=Path, help="a folder of JSON files, or one of them")
    asked.add_argument("--time", type=float, default=60.0, help="seconds for each")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--cores", type=int, default=2)
    asked.add_argument("--engine", choices=sorted(ENGINES), default="own")
    given = asked.parse_args()
    folder: Path = given.instances
    paths = sorted(folder.glob("*.json")) if folder.is_dir() else [folder]
    if not paths:
        print(f"{folder}: no JSON files there", file=sys.stderr)
        return 2
    for path in paths:
        print(json.dumps(line(path, given.engine, given.time, given.seed, given.cores)), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
