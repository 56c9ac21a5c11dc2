"""Every PDF is read back by pdfplumber and measured, and rendered by PDFium to see where there is ink."""

from __future__ import annotations

import hashlib
import math
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path as FilePath
from typing import Any

import numpy as np
import pdfplumber
import pypdfium2
import pytest

from cutonce.errors import BadInput
from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.meet import nearest
from cutonce.sheets import clip
from cutonce.sheets.arrange import arrange
from cutonce.sheets.drawing import Drawing, Group, Stroke, Text
from cutonce.sheets.paper import A0, INSET_MM, TILED, Grid, Tile, grid
from cutonce.sheets.pdf import write_single, write_tiled
from cutonce.sheets.pens import Pen
from cutonce.sheets.tiles import HALF_STAMP

MM = 25.4 / 72
PAPERS = tuple(TILED)


@pytest.fixture
def sheet(piece) -> Drawing:  # type: ignore[no-untyped-def]
    """A sheet of more than a metre each way, with pages that are empty."""
    groups = [piece("front", 420, 1150), piece("back", 400, 900), piece("strap", 40, 300)]
    groups += [piece("side", 260, 500), piece("hem band", 1080, 120)]
    return arrange(groups, TILED["a4"], "Concert dress for Łucja", ("bust 92 cm", "3 May 2026"), columns=7)


def _lines(page: Any) -> Iterator[tuple[complex, complex]]:
    """Straight lines of a page in mm from the lower left corner."""
    height = float(page.height)
    for found in page.lines:
        (x0, y0), (x1, y1) = found["pts"]
        yield complex(x0, height - y0) * MM, complex(x1, height - y1) * MM


def _points(page: Any) -> Iterator[complex]:
    """All points of all paths of a page."""
    height = float(page.height)
    for kind in ("lines", "curves", "rects"):
        for found in getattr(page, kind):
            for x, y in found["pts"]:
                yield complex(x, height - y) * MM


def _marks(page: Any, length: float) -> tuple[int, int]:
    """How many lines of a length lie across and upright, within 0.1 mm."""
    across = [d - a for a, d in _lines(page) if abs((d - a).imag) < 1e-3]
    upright = [d - a for a, d in _lines(page) if abs((d - a).real) < 1e-3]
    return sum(abs(abs(v) - length) < 0.1 for v in across), sum(abs(abs(v) - length) < 0.1 for v in upright)


def _sheet_point(p: complex, cut: Grid, name: str) -> complex:
    """Where a point of a page lies on the joined sheet, by the documented offset."""
    tile = next(t for t in cut.tiles() if t.name == name)
    left, low, _, _ = cut.window(tile)
    return p + complex(left - INSET_MM, low - INSET_MM)


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_are_those_said_and_named(tmp_path: FilePath, sheet: Drawing, paper: str) -> None:
    printed = write_tiled(sheet, tmp_path / "p.pdf", paper)
    assert printed.left_out and not set(printed.left_out) & set(printed.pages)
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        assert len(pdf.pages) == len(printed.pages) + 1
        total = len(pdf.pages)
        for number, (page, name) in enumerate(zip(pdf.pages[1:], printed.pages, strict=True), start=2):
            size = TILED[paper]
            assert float(page.width) * MM == pytest.approx(size.width, abs=0.01)
            assert float(page.height) * MM == pytest.approx(size.height, abs=0.01)
            words = page.extract_text()
            assert f"page {number} of {total} · {name}" in words.replace("  ", " ")
            assert "Concert dress for Łucja" in words


@pytest.mark.parametrize("paper", PAPERS)
def test_page_map_shows_just_the_pages(tmp_path: FilePath, sheet: Drawing, paper: str) -> None:
    printed = write_tiled(sheet, tmp_path / "p.pdf", paper)
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        words = [w["text"] for w in pdf.pages[0].extract_words()]
    names = {t.name for t in grid(TILED[paper], sheet.width, sheet.height).tiles()}
    assert sorted(w for w in words if w in names) == sorted(printed.pages)
    numbers = [int(n) for w, n in pairwise(words) if w == "p."]
    assert sorted(numbers) == list(range(2, len(printed.pages) + 2))
    assert "pages" in words and any("100" in w for w in words)


@pytest.mark.parametrize("scale", [1.0, 0.5])
@pytest.mark.parametrize("paper", PAPERS)
def test_each_page_has_both_100_mm_marks(
    tmp_path: FilePath, sheet: Drawing, paper: str, scale: float
) -> None:
    write_tiled(sheet, tmp_path / "p.pdf", paper, scale)
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page in pdf.pages:
            across, upright = _marks(page, 100.0)
            assert across >= 1 and upright >= 1, page.page_number
            letters = "".join(c["text"] for c in page.chars)
            assert letters.count("100 mm on paper") >= 1


@pytest.mark.parametrize("paper", PAPERS)
def test_edges_and_the_metre_come_together_again(tmp_path: FilePath, sheet: Drawing, paper: str) -> None:
    """Lay the pages where the offsets say: every point drawn with the cutting pen is on a cutting line, every
    point of every cutting line is drawn, and the check lines measure a metre."""
    printed = write_tiled(sheet, tmp_path / "p.pdf", paper)
    cut = grid(TILED[paper], sheet.width, sheet.height)
    edges = [c for i in sheet.items if isinstance(i, Stroke) and i.pen is Pen.CUT for c in i.path]
    drawn, heavy = [], 0.7 / MM
    checks: dict[str, list[complex]] = {"across": [], "down": []}
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page, name in zip(pdf.pages[1:], printed.pages, strict=True):
            for found in page.lines + page.curves:
                if abs(found["linewidth"] - heavy) > 1e-3:
                    continue
                drawn += [
                    c.at(i / 20) for c in _as_curves(found, page, cut, name) for i in range(21) if c.length
                ]
            for a, d in ((_sheet_point(a, cut, name), _sheet_point(d, cut, name)) for a, d in _lines(page)):
                if abs(d - a) < 3.1:
                    continue  # a tick
                if abs(a.imag - (sheet.height - 5)) < 0.1 and abs(d.imag - a.imag) < 0.1:
                    checks["across"] += [a, d]
                if abs(a.real - 5) < 0.1 and abs(d.real - a.real) < 0.1:
                    checks["down"] += [a, d]
    assert max(nearest(edges, p)[1] for p in drawn) < 0.1
    seen = np.array(drawn)
    for edge in edges:
        steps = max(2, int(edge.length / 25))
        for i in range(steps + 1):
            assert np.abs(seen - edge.at(i / steps)).min() < 14.0  # half the step between samples drawn
    xs, ys = [p.real for p in checks["across"]], [p.imag for p in checks["down"]]
    assert max(xs) - min(xs) == pytest.approx(1000.0, abs=0.5)
    assert max(ys) - min(ys) == pytest.approx(1000.0, abs=0.5)


def _as_curves(found: Any, page: Any, cut: Grid, name: str) -> Iterator[Line | Cubic]:
    """A path of a page as curves on the joined sheet."""
    height, pen = float(page.height), 0j

    def at(p: tuple[float, float]) -> complex:
        return _sheet_point(complex(p[0], height - p[1]) * MM, cut, name)

    for verb, *places in found["path"]:
        if verb == "c":
            yield Cubic(pen, *(at(p) for p in places))
        elif verb == "l":
            yield Line(pen, at(places[0]))
        pen = at(places[-1]) if places else pen


def test_known_curve_is_where_it_was_drawn(tmp_path: FilePath) -> None:
    curve = Cubic(20 + 30j, 60 + 200j, 110 + 10j, 150 + 180j)
    group = Group("curve", "Curve", (Stroke((curve,), Pen.SEW),))
    write_tiled(Drawing((group,), 180.0, 250.0, "A curve"), tmp_path / "p.pdf", "a4")
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        (found,) = [c for c in pdf.pages[1].curves if any(step[0] == "c" for step in c["path"])]
        cut = grid(TILED["a4"], 180.0, 250.0)
        (read,) = _as_curves(found, pdf.pages[1], cut, "A1")
    assert max(abs(read.at(i / 50) - curve.at(i / 50)) for i in range(51)) < 0.001


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_printed_outside_the_printable_area(
    tmp_path: FilePath, sheet: Drawing, paper: str
) -> None:
    """By the paths as read, and by the ink of the rendered pages (which counts clipped letters rightly)."""
    write_tiled(sheet, tmp_path / "p.pdf", paper, 0.5 if paper == "a3" else 1.0)
    size = TILED[paper]
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page in pdf.pages:
            for p in _points(page):
                assert 7 <= p.real <= size.width - 7 and 7 <= p.imag <= size.height - 7
    for ink, step in _rendered(tmp_path / "p.pdf"):
        ys, xs = np.nonzero(ink)
        assert xs.min() * step >= 6.8 and ys.min() * step >= 6.8
        assert (ink.shape[1] - xs.max() - 1) * step >= 6.8 and (ink.shape[0] - ys.max() - 1) * step >= 6.8


def _rendered(path: FilePath, dpi: float = 100.0) -> Iterator[tuple[Any, float]]:
    """The pages as arrays of ink, and the size of a pixel in mm."""
    document = pypdfium2.PdfDocument(path)
    for page in document:
        bitmap = page.render(scale=dpi / 72, grayscale=True)
        yield bitmap.to_numpy().reshape(bitmap.height, bitmap.stride)[:, : bitmap.width] < 250, 25.4 / dpi
    document.close()


def test_captions_do_not_run_into_each_other(tmp_path: FilePath, sheet: Drawing) -> None:
    """On each page the letters outside the window are set apart from one another."""
    long = Drawing(sheet.groups, sheet.width, sheet.height, "A concert dress with a very long name " * 4)
    for paper in PAPERS:
        for scale in (1.0, 0.5):
            write_tiled(long, tmp_path / "p.pdf", paper, scale)
            with pdfplumber.open(tmp_path / "p.pdf") as pdf:
                for page in pdf.pages[1:]:
                    band = INSET_MM / MM
                    low, high = band, float(page.height) - band
                    chars = [c for c in page.chars if not low < (c["top"] + c["bottom"]) / 2 < high]
                    chars.sort(key=lambda c: (round(c["top"]), c["x0"]))
                    for one, two in pairwise(chars):
                        if abs(one["top"] - two["top"]) < 1:
                            assert two["x0"] >= one["x1"] - 0.01, (one["text"], two["text"])


def test_half_scale_says_so_on_every_page_and_halves_the_lines(tmp_path: FilePath, sheet: Drawing) -> None:
    printed = write_tiled(sheet, tmp_path / "p.pdf", "a4", 0.5)
    cut = grid(TILED["a4"], sheet.width / 2, sheet.height / 2)
    xs = []
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page in pdf.pages:
            assert HALF_STAMP in page.extract_text()
        assert "500 mm" in pdf.pages[0].extract_text()
        for page, name in zip(pdf.pages[1:], printed.pages, strict=True):
            for a, d in ((_sheet_point(a, cut, name), _sheet_point(d, cut, name)) for a, d in _lines(page)):
                level = abs(a.imag - (sheet.height - 5) / 2) < 0.1 and abs(d.imag - a.imag) < 0.1
                if level and abs(d - a) > 3.1:
                    xs += [a.real, d.real]
    assert max(xs) - min(xs) == pytest.approx(500.0, abs=0.1)


def test_neighbours_are_named_and_join_marks_meet(tmp_path: FilePath, sheet: Drawing) -> None:
    printed = write_tiled(sheet, tmp_path / "p.pdf", "a4")
    cut = grid(TILED["a4"], sheet.width, sheet.height)
    spots: dict[str, set[tuple[int, int]]] = {}
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page, name in zip(pdf.pages[1:], printed.pages, strict=True):
            letters = "".join(c["text"] for c in page.chars)
            row, column = _place(cut, name)
            for r, c, words in (
                (0, -1, "lay this edge on {}"),
                (-1, 0, "lay this edge on {}"),
                (0, 1, "lay the cut edge of {}"),
                (1, 0, "lay the cut edge of {}"),
            ):
                other = Tile(row + r, column + c)
                assert (words.format(other.name) in letters) == (other.name in printed.pages)
            spots[name] = {
                (round(p.real * 10), round(p.imag * 10))
                for c in page.curves
                if len(c["pts"]) in (4, 5) and abs(c["linewidth"] * MM - 0.2) < 1e-3
                for p in _corners(c, page, cut, name)
            }
    for name in printed.pages:
        row, column = _place(cut, name)
        for other in (Tile(row, column + 1).name, Tile(row + 1, column).name):
            if other in spots:
                assert len(spots[name] & spots[other]) >= 6, (name, other)


def _place(cut: Grid, name: str) -> tuple[int, int]:
    tile = next(t for t in cut.tiles() if t.name == name)
    return tile.row, tile.column


def _corners(found: Any, page: Any, cut: Grid, name: str) -> Iterator[complex]:
    for x, y in found["pts"]:
        yield _sheet_point(complex(x, float(page.height) - y) * MM, cut, name)


def test_dashes_go_on_across_pages(tmp_path: FilePath) -> None:
    group = Group("fold", "Fold", (Stroke((Line(3 + 100j, 500 + 100j),), Pen.FOLD),))
    printed = write_tiled(Drawing((group,), 510.0, 200.0, "Fold"), tmp_path / "p.pdf", "a4")
    assert printed.pages == ("A1", "A2", "A3")
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page, left in zip(pdf.pages[1:], (0.0, 181.0, 362.0), strict=True):
            (fold,) = [x for x in page.lines if x["dash"] and x["dash"][0]]
            start = fold["x0"] * MM - INSET_MM + left
            cycle = sum(fold["dash"][0])
            assert math.isclose(fold["dash"][1], math.fmod(start - 3, cycle), abs_tol=1e-3)


def test_text_is_text_with_any_accent_and_substitutes_are_named(tmp_path: FilePath) -> None:
    words = ("Zoë Müller", "Łucja Wójcik", "Екатерина", "裁 Ana")
    items = tuple(Text(complex(20, 200 - 15 * i), w, 5.0) for i, w in enumerate(words))
    sheet = Drawing((Group("a", "A", items),), 180.0, 250.0, "Names")
    printed = write_tiled(sheet, tmp_path / "p.pdf", "a4")
    assert printed.unprintable == ("裁",)
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        found = pdf.pages[1].extract_text()
        assert all(w in found for w in words[:3]) and "裁" not in found and " Ana" in found
        assert "U+88C1" in pdf.pages[0].extract_text()


def test_a0_in_one_and_in_several(tmp_path: FilePath, piece) -> None:  # type: ignore[no-untyped-def]
    small = arrange([piece("front", 400, 900)], A0, "Dress", columns=1)
    assert write_single(small, tmp_path / "one.pdf", "a0").pages == ("A1",)
    tall = arrange([piece("front", 700, 1500), piece("back", 700, 1000)], A0, "Dress", columns=1)
    printed = write_single(tall, tmp_path / "more.pdf", "a0")
    assert printed.pages == ("A1", "B1", "C1")
    with pdfplumber.open(tmp_path / "more.pdf") as pdf:
        for page in pdf.pages:
            assert float(page.width) * MM == pytest.approx(841.0, abs=0.01)
            assert float(page.height) * MM == pytest.approx(1189.0, abs=0.01)
            assert min(_marks(page, 100.0)) >= 1


def test_roll_is_one_page_and_longer_ones_are_joined(tmp_path: FilePath) -> None:
    for length, pages in ((3000.0, 1), (6000.0, 2)):
        edge = Stroke((Line(400 + 10j, complex(400, length - 10)),), Pen.CUT)
        sheet = Drawing((Group("a", "A", (edge,)),), 800.0, length, "Roll")
        printed = write_single(sheet, tmp_path / "roll.pdf", "roll")
        assert len(printed.pages) == pages
        with pdfplumber.open(tmp_path / "roll.pdf") as pdf:
            assert all(float(p.height) <= 14400 + 1e-6 for p in pdf.pages)
            lengths = [abs(d - a) for p in pdf.pages for a, d in _lines(p) if abs(d - a) > 300]
        shared = 6 * (pages - 1)
        rest = [x for x in lengths if abs(x - 818) > 1]  # less the join lines across the roll
        assert sum(rest) == pytest.approx(length - 20 + shared, abs=1.0)


def test_bytes_depend_on_the_drawing_alone(tmp_path: FilePath) -> None:
    """Two processes, with different hash seeds and an embedded font."""
    script = (
        "import sys\n"
        "from cutonce.sheets.drawing import Drawing, Group, Text, circle\n"
        "from cutonce.sheets.pdf import write_tiled\n"
        "from cutonce.sheets.pens import Pen\n"
        "items = (circle(100 + 100j, 60.0, Pen.CUT), Text(50 + 50j, 'Łucja', 6.0))\n"
        "write_tiled(Drawing((Group('a', 'A', items),), 300.0, 300.0, 'T'), sys.argv[1], 'letter')\n"
    )
    sums = []
    for seed in ("1", "2"):
        target = tmp_path / f"{seed}.pdf"
        env = {"PYTHONHASHSEED": seed, "PATH": ""}
        subprocess.run([sys.executable, "-c", script, str(target)], check=True, env=env)
        sums.append(hashlib.sha256(target.read_bytes()).hexdigest())
    assert sums[0] == sums[1]


def test_reader_is_asked_not_to_scale(tmp_path: FilePath, sheet: Drawing) -> None:
    write_tiled(sheet, tmp_path / "p.pdf", "a4")
    assert b"/PrintScaling /None" in (tmp_path / "p.pdf").read_bytes()


def test_wrong_paper_and_scale_are_refused_and_nothing_is_written(tmp_path: FilePath, sheet: Drawing) -> None:
    for call, word in (
        (lambda: write_tiled(sheet, tmp_path / "p.pdf", "a5"), "a4, letter, a3"),
        (lambda: write_tiled(sheet, tmp_path / "p.pdf", "a4", 0.7), "1, 0.5"),
        (lambda: write_single(sheet, tmp_path / "p.pdf", "a1"), "a0, roll"),
    ):
        with pytest.raises(BadInput, match=word):
            call()
    assert list(tmp_path.iterdir()) == []


def test_items_outside_the_sheet_are_a_fault_not_lost(tmp_path: FilePath) -> None:
    edge = Stroke((Line(10 + 10j, 400 + 10j),), Pen.CUT)
    with pytest.raises(ValueError, match="outside a sheet"):
        write_tiled(Drawing((Group("a", "A", (edge,)),), 300.0, 300.0), tmp_path / "p.pdf", "a4")
    assert list(tmp_path.iterdir()) == []


def test_old_file_stays_where_the_new_one_cannot_be_written(tmp_path: FilePath, sheet: Drawing) -> None:
    target = tmp_path / "p.pdf"
    target.mkdir()
    with pytest.raises(OSError):
        write_tiled(sheet, target, "a4")
    assert [p.name for p in tmp_path.iterdir()] == ["p.pdf"]


def test_length_of_what_is_drawn_is_the_length_of_the_stroke(tmp_path: FilePath, sheet: Drawing) -> None:
    """The heavy lines within each page's own cell add up: nothing is drawn twice or left out."""
    printed = write_tiled(sheet, tmp_path / "p.pdf", "a4")
    cut = grid(TILED["a4"], sheet.width, sheet.height)
    total = 0.0
    with pdfplumber.open(tmp_path / "p.pdf") as pdf:
        for page, name in zip(pdf.pages[1:], printed.pages, strict=True):
            cell = cut.cell(next(t for t in cut.tiles() if t.name == name))
            for found in page.lines + page.curves:
                if abs(found["linewidth"] * MM - 0.7) < 1e-3:
                    stroke = Stroke(tuple(_as_curves(found, page, cut, name)), Pen.CUT)
                    total += sum(paths.length(run.path) for run in clip.stroke(stroke, cell))
    edges = [i for i in sheet.items if isinstance(i, Stroke) and i.pen is Pen.CUT]
    assert total == pytest.approx(sum(paths.length(e.path) for e in edges), abs=0.1)
