"""draft.json read back by libraries that share no code with the program: svgelements and Shapely."""

from __future__ import annotations

import json
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from shapely import Polygon
from svgelements import Path as SvgPath

from cutonce import prove, read_body, read_design, write_results
from cutonce.studio.examples import example_files, example_names
from cutonce.studio.pages import pages

EXAMPLES = example_names()


@cache
def written(name: str, folder: Path) -> dict[str, Any]:
    design, body = example_files(name)
    write_results(prove(read_design(design), read_body(body), "2026-11-02"), folder)
    document: dict[str, Any] = json.loads((folder / "draft.json").read_text())
    return document


@pytest.fixture(scope="session", params=EXAMPLES)
def draft(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return written(request.param, tmp_path_factory.mktemp(request.param))


def drawn_length(data: str) -> float:
    """Length of the drawn segments, moves between subpaths left out."""
    segments = [s for s in SvgPath(data) if type(s).__name__ not in ("Move", "Close")]
    return float(sum(s.length(error=1e-7) for s in segments))


def test_every_edge_has_the_length_it_says(draft: dict[str, Any]) -> None:
    for piece in draft["pieces"]:
        names = [e["name"] for e in piece["edges"]]
        assert len(names) == len(set(names)), piece["name"]
        for edge in piece["edges"]:
            assert drawn_length(edge["path"]) == pytest.approx(edge["length_mm"], abs=0.05), edge["name"]


def test_every_seam_is_the_sum_of_its_edges_and_walks(draft: dict[str, Any]) -> None:
    lengths = {(p["name"], e["name"]): e["length_mm"] for p in draft["pieces"] for e in p["edges"]}
    assert draft["seams"]
    for seam in draft["seams"]:
        for side, told in (("a", "a_mm"), ("b", "b_mm")):
            edges = seam[side]["edges"]
            assert sum(lengths[seam[side]["piece"], e] for e in edges) == pytest.approx(seam[told], abs=1e-9)
        assert abs(seam["difference_mm"]) < 0.1, seam["name"]
        if seam["relation"] == "equal":
            assert seam["difference_mm"] == pytest.approx(seam["a_mm"] - seam["b_mm"], abs=1e-9)


def test_no_stop_and_each_finding_names_a_step_of_the_design(draft: dict[str, Any]) -> None:
    ids = {s["id"] for s in draft["steps"]}
    for finding in draft["findings"]:
        assert finding["severity"] != "stop", finding
        assert finding["step"] in ids, finding


def test_each_cutting_line_is_closed_simple_and_holds_the_sewing_line(draft: dict[str, Any]) -> None:
    for piece in draft["pieces"]:
        cutting = SvgPath(piece["cutting_path"])
        segments = [s for s in cutting if type(s).__name__ not in ("Move", "Close")]
        outside = Polygon([xy(s.point(k / 20)) for s in segments for k in range(20)])
        assert outside.is_valid, piece["name"]
        for one, two in pairwise(segments):
            assert abs(complex(*xy(one.end)) - complex(*xy(two.start))) < 1e-6
        grown = outside.buffer(0.05)
        for edge in piece["edges"]:
            points = [xy(s.point(k / 10)) for s in SvgPath(edge["path"]) if s.start for k in range(11)]
            from shapely import MultiPoint

            assert grown.covers(MultiPoint(points)), (piece["name"], edge["name"])


def xy(point: Any) -> tuple[float, float]:
    return float(point.x), float(point.y)


def test_the_pages_made_from_the_program_are_up_to_date() -> None:
    docs = Path(__file__).resolve().parents[2] / "docs"
    for name, text in pages().items():
        assert (docs / name).read_text(encoding="utf-8") == text, f"{name} is stale: run make docs"


def test_the_same_input_gives_the_same_files(tmp_path: Path) -> None:
    design, body = example_files("a_line")
    for name in ("one", "two"):
        write_results(prove(read_design(design), read_body(body), "2026-11-02"), tmp_path / name)
    for file in (tmp_path / "one").iterdir():
        one, two = file.read_bytes(), (tmp_path / "two" / file.name).read_bytes()
        if file.name == "draft.json":
            assert _timeless(one) == _timeless(two)
        else:
            assert one == two, file.name


def _timeless(data: bytes) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(data)
    for step in document["steps"]:
        step.pop("seconds")
    return document
