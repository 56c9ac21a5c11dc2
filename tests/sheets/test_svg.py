"""The SVG read back by svgelements and an XML parser."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
from pathlib import Path as FilePath

import pytest
from svgelements import SVG, Path, Text

from cutonce.geometry import path as paths
from cutonce.sheets.arrange import arrange
from cutonce.sheets.drawing import Drawing, Group, Stroke
from cutonce.sheets.drawing import Text as Words
from cutonce.sheets.paper import A4
from cutonce.sheets.svg import svg, write_svg

_NS = "{http://www.w3.org/2000/svg}"


def _read(document: str) -> SVG:
    return SVG.parse(io.StringIO(document), ppi=25.4)  # one unit a mm


def test_sizes_are_in_mm_and_edges_keep_their_length(piece) -> None:  # type: ignore[no-untyped-def]
    sheet = arrange([piece("front", 320, 700), piece("back", 300, 650)], A4, "Dress")
    document = _read(svg(sheet))
    assert (document.width, document.height) == pytest.approx((sheet.width, sheet.height), abs=0.01)
    drawn = [Path(e) for e in document.elements() if isinstance(e, Path) and e.values.get("class") == "cut"]
    outlines = [i for g in sheet.groups for i in g.items if isinstance(i, Stroke) and i.pen.name == "CUT"]
    assert len(drawn) == len(outlines) == 2
    for mine, theirs in zip(outlines, drawn, strict=True):
        assert theirs.length(error=1e-6) == pytest.approx(paths.length(mine.path), abs=0.05)
        box = theirs.bbox()
        low_x, low_y, high_x, high_y = paths.bounds(mine.path)
        expected = (low_x, sheet.height - high_y, high_x, sheet.height - low_y)
        assert box == pytest.approx(expected, abs=0.05)
        assert any(type(s).__name__ == "CubicBezier" for s in theirs)


def test_one_group_a_piece_with_id_and_title(piece) -> None:  # type: ignore[no-untyped-def]
    sheet = arrange([piece("skirt front", 300, 300), piece("skirt front", 300, 300)], A4, "Dress")
    root = ET.fromstring(svg(sheet))
    groups = root.findall(f"{_NS}g")
    assert [g.get("id") for g in groups] == ["skirt-front", "skirt-front-2", "check"]
    assert groups[0].find(f"{_NS}title").text == "Skirt Front"  # type: ignore[union-attr]


def test_text_is_text_escaped_and_unmirrored() -> None:
    words = 'Łucja & <Zoë> "fold"\x07'
    group = Group("1 <odd> key", "a < b", (Words(10 + 20j, words, 5.0, 0.5, "middle", bold=True),))
    document = svg(Drawing((group,), 100.0, 80.0, "T & T", ("for <her>",)))
    root = ET.fromstring(document)
    text = root.find(f".//{_NS}text")
    assert text is not None and text.text == 'Łucja & <Zoë> "fold" '
    assert root.find(f"{_NS}title").text == "T & T"  # type: ignore[union-attr]
    (read,) = (e for e in _read(document).elements() if isinstance(e, Text))
    spot = read.transform.point_in_matrix_space((float(read.x), float(read.y)))
    assert (spot.x, spot.y) == pytest.approx((10.0, 60.0))
    matrix = read.transform
    assert matrix.a * matrix.d - matrix.b * matrix.c > 0


def test_file_is_written_whole(tmp_path: FilePath, piece) -> None:  # type: ignore[no-untyped-def]
    sheet = arrange([piece("front", 100, 100)], A4)
    write_svg(sheet, tmp_path / "pattern.svg")
    assert (tmp_path / "pattern.svg").read_text(encoding="utf-8") == svg(sheet)
    assert [p.name for p in tmp_path.iterdir()] == ["pattern.svg"]
