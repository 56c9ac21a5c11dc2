"""A drafted and finished garment on paper: every line that was drafted is read back from the joined pages."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path as FilePath
from typing import Any

import pdfplumber
import pytest

from cutonce.blocks.skirt import skirt_block
from cutonce.body import body_of
from cutonce.finishing.finish import finished
from cutonce.finishing.finished import Finished
from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.meet import nearest
from cutonce.sheets import clip
from cutonce.sheets.drawing import Drawing, Group, Stroke
from cutonce.sheets.paper import INSET_MM, TILED, Grid, grid
from cutonce.sheets.pdf import write_tiled
from cutonce.sheets.pens import LOOKS, Pen
from cutonce.sheets.piece import piece_group
from cutonce.sheets.sheet import tiled
from cutonce.sheets.tiles import needed

MM = 25.4 / 72


@pytest.fixture(scope="module")
def skirt() -> Finished:
    measures = {"waist_girth": 720.0, "hip_girth": 960.0, "waist_to_hip": 205.0, "waist_to_knee": 590.0}
    draft, _ = skirt_block("two darts in back", body_of("Ana", measures), {}, 600.0)
    return finished(draft, "Straight skirt", "Ana", "3 May 2026")


def _read(path: FilePath, names: tuple[str, ...], cut: Grid, pen: Pen) -> Iterator[tuple[str, Stroke]]:
    """What was drawn with a pen on each page, as curves on the joined sheet."""
    look = LOOKS[pen]
    with pdfplumber.open(path) as pdf:
        for page, name in zip(pdf.pages[1:], names, strict=True):
            for found in page.lines + page.curves:
                same = abs(found["linewidth"] * MM - look.width) < 1e-3
                if same and tuple(found["dash"][0]) == look.dashes:
                    yield name, Stroke(tuple(_curves(found, float(page.height), cut, name)), pen)


def _curves(found: Any, height: float, cut: Grid, name: str) -> Iterator[Line | Cubic]:
    left, low, _, _ = cut.window(next(t for t in cut.tiles() if t.name == name))
    shift, at_pen = complex(left - INSET_MM, low - INSET_MM), 0j
    for verb, *places in found["path"]:
        points = [complex(x, height - y) * MM + shift for x, y in places]
        if verb == "l":
            yield Line(at_pen, points[0])
        elif verb == "c":
            yield Cubic(at_pen, *points)
        at_pen = points[-1] if points else at_pen


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_drafted_line_is_read_back(tmp_path: FilePath, skirt: Finished, paper: str) -> None:
    groups = [piece_group(p) for p in skirt.pieces]
    sheet = tiled(groups, "Straight skirt", (), paper)
    printed = write_tiled(sheet, tmp_path / "p.pdf", paper)
    cut = grid(TILED[paper], sheet.width, sheet.height)
    cells = {t.name: cut.cell(t) for t in cut.tiles()}
    for pen in (Pen.CUT, Pen.SEW, Pen.DART):
        drafted = [i for i in sheet.items if isinstance(i, Stroke) and i.pen is pen]
        read = list(_read(tmp_path / "p.pdf", printed.pages, cut, pen))
        total = sum(paths.length(r.path) for name, s in read for r in clip.stroke(s, cells[name]))
        assert total == pytest.approx(sum(paths.length(s.path) for s in drafted), abs=0.1)
        curves = [c for s in drafted for c in s.path]
        for _, stroke in read:
            for curve in stroke.path:
                assert max(nearest(curves, curve.at(i / 8))[1] for i in range(9)) < 0.1


def test_sewing_lines_keep_the_lengths_of_the_edges(skirt: Finished) -> None:
    for piece in skirt.pieces:
        drawn = [i for i in piece_group(piece).items if isinstance(i, Stroke) and i.pen is Pen.SEW]
        edges = [e for e in piece.edges if e.kind != "fold"]
        wanted = sum(paths.length(e.sewing) for e in edges)
        assert sum(paths.length(s.path) for s in drawn) == pytest.approx(wanted, abs=1e-6)


def test_pieces_are_on_the_sheet_once_each(skirt: Finished) -> None:
    sheet: Drawing = tiled([piece_group(p) for p in skirt.pieces], "Skirt", (), "a4")
    pieces: list[Group] = [g for g in sheet.groups if g.outline]
    assert [g.key for g in pieces] == [p.key for p in skirt.pieces]


def test_knee_length_skirt_takes_few_pages(skirt: Finished) -> None:
    """Each half is under two A4 pages wide and three high: no more than twelve, whatever is tried."""
    sheet = tiled([piece_group(p) for p in skirt.pieces], "Skirt", (), "a4")
    assert len(needed(sheet, grid(TILED["a4"], sheet.width, sheet.height))) <= 12
