"""The lay sheet read back by independent libraries: pieces, scale, figures, pages, what must be said."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

import numpy as np
import pdfplumber
import pytest
import svgelements
from shapely import LineString, MultiLineString, distance, prepare
from shapely import points as shapely_points
from sheets.lays import folded_lay, open_lay, part_folded_lay, remnant_lay
from sheets.test_lay_measures import read

from cutonce.cloth.cloth import Cloth, Flaw, Remnant, Repeat
from cutonce.errors import BadInput, Finding
from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.motion import Motion
from cutonce.geometry.path import Path
from cutonce.lay.plan import Laid, Matched, Plan
from cutonce.sheets.drawing import Fill, Stroke, Text
from cutonce.sheets.lay_cloth import nap_arrow
from cutonce.sheets.lay_drawing import Strip
from cutonce.sheets.lay_measures import TAPE_STEP_MM, TapeUnit, ground, measured
from cutonce.sheets.lay_page import HEAD_MM, LAP_MM, layout
from cutonce.sheets.lay_picture import lay_picture
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.lay_sheet import LayFor, LayPages, lay_pages, write_lay
from cutonce.sheets.paper import A4, LETTER, SAFE_MM
from cutonce.sheets.pens import LOOKS, Pen

MM = 25.4 / 72
PAPER_MM = 0.1
"""What is drawn lies within this of where it should, in mm of paper."""

WOOL = Cloth("Wool crepe", 1500.0, 1460.0, length=2600.0)
REMNANT = Remnant("offcut", (0j, 900 + 0j, 900 + 300j, 500 + 420j, 420j))
LAYS = {
    "open": open_lay("cellist", WOOL),
    "folded": folded_lay("a_line", Cloth("Linen", 1400.0, 1360.0)),
    "crosswise": folded_lay("stage_tunic", Cloth("Silk", 1400.0, 1400.0), "folded crosswise"),
    "part folded": part_folded_lay("a_line", Cloth("Linen", 1400.0, 1360.0)),
    "remnant": remnant_lay("cellist", Cloth("Wool", 1400.0, 1400.0, remnants=(REMNANT,), length=2000.0)),
    "long": open_lay("cellist", Cloth("Narrow silk", 1150.0, 1120.0)),
}
SAID = LayFor("Concert dress", "Ida", "25 November 2026")


def outline(laid: Laid, shown: LayPages) -> Path:
    """A piece's cutting line where the documented place formula puts it in the drawing, worked out here."""
    origin, parts = shown.drawn.on.origin, shown.drawn.on.parts
    moved = paths.moved(laid.piece.cutting, laid.motion)
    return tuple(type(c)(*(origin + p / parts for p in points(c))) for c in moved)


def points(curve: Line | Cubic) -> tuple[complex, ...]:
    return (curve.a, curve.d) if isinstance(curve, Line) else (curve.a, curve.b, curve.c, curve.d)


def drawn(page: Any, pen: Pen) -> Iterator[Line | Cubic]:
    """Each curve drawn with a pen on a page, in mm from its lower left corner."""
    look, height = LOOKS[pen], float(page.height)
    for found in page.lines + page.curves + page.rects:
        if (
            not found["stroke"]
            or abs(found["linewidth"] * MM - look.width) > 1e-3
            or tuple(found["dash"][0]) != look.dashes
        ):
            continue
        at = start = 0j
        for verb, *places in found["path"]:
            stops = [complex(x, height - y) * MM for x, y in places]
            if verb == "m":
                start = stops[0]
            elif verb == "h":
                stops = [start]
                yield Line(at, start)
            else:
                yield Line(at, *stops) if verb == "l" else Cubic(at, *stops)
            at = stops[-1]


@pytest.mark.parametrize("name", LAYS)
def test_every_piece_is_drawn_where_it_lies_in_the_pdf(tmp_path: FilePath, name: str) -> None:
    """Every point drawn with the pieces' pen is on a cutting line, and every cutting line is drawn; what of
    it lies on the fold is drawn with the cloth."""
    plan = LAYS[name]
    shown = lay_pages(plan, SAID)
    write_lay(plan, tmp_path, SAID)
    paper, height = shown.layout.paper, shown.drawn.drawing.height
    outlines = [outline(laid, shown) for laid in plan.laid]
    lines = [LineString([(p.real, p.imag) for p in paths.flattened(o, 0.002)]) for o in outlines]
    seen: list[complex] = []
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        for page, (start, _) in zip(pdf.pages, shown.layout.windows, strict=False):
            assert float(page.width) * MM == pytest.approx(paper.width, abs=0.01)
            corner = complex(SAFE_MM - start, paper.height - SAFE_MM - HEAD_MM - height)
            for curve in drawn(page, Pen.PIECE):
                if curve.start.imag > corner.imag:  # the key of lines stands below the lay
                    seen += [curve.at(i / 8) - corner for i in range(9)]
    marks = np.array(seen)
    edges = MultiLineString(lines)
    prepare(edges)
    assert distance(edges, shapely_points(marks.real, marks.imag)).max() < PAPER_MM
    fold = shown.drawn.on.origin.imag
    for laid, line in zip(plan.laid, outlines, strict=True):
        for curve in line:
            if laid.on_fold and abs(curve.start.imag - fold) < 1e-6 and abs(curve.end.imag - fold) < 1e-6:
                continue
            for p in (curve.start, curve.end):
                assert np.abs(marks - p).min() < PAPER_MM, laid.key


@pytest.mark.parametrize("name", LAYS)
def test_every_piece_is_drawn_where_it_lies_in_the_svg(tmp_path: FilePath, name: str) -> None:
    plan = LAYS[name]
    parts = layout(plan, A4).parts
    write_lay(plan, tmp_path, SAID)
    text = (tmp_path / "lay.svg").read_text()
    size = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"', text)
    assert size and size[1] == size[3] and size[2] == size[4]
    drawn = _svg_boxes(tmp_path / "lay.svg", "piece")
    cloth = _svg_boxes(tmp_path / "lay.svg", "cloth")["cloth"]
    top = max(ground(plan, i).far.y for i in range(len(plan.sections)))
    for laid in plan.laid:  # from the cut end and from the far edge of the cloth; y is down in SVG
        left, low, right, high = paths.bounds(paths.moved(laid.piece.cutting, laid.motion))
        expected = (left / parts, (top - high) / parts, right / parts, (top - low) / parts)
        x0, y0, x1, y1 = drawn[laid.key]
        from_cloth = (x0 - cloth[0], y0 - cloth[1], x1 - cloth[0], y1 - cloth[1])
        assert from_cloth == pytest.approx(expected, abs=PAPER_MM)


def _svg_boxes(file: FilePath, pen: str) -> dict[str, tuple[float, float, float, float]]:
    """The box of what is drawn with a pen, without the width of its line, by the key of the group."""
    svg = svgelements.SVG.parse(file, ppi=25.4)
    found = {}
    for group in svg.select(lambda e: isinstance(e, svgelements.Group) and e.id):
        lines = [e for e in group if isinstance(e, svgelements.Path) and e.values.get("class") == pen]
        boxes = [e.bbox(with_stroke=False) for e in lines]
        if boxes:
            lows, highs = (
                [min(b[k] for b in boxes) for k in (0, 1)],
                [max(b[k] for b in boxes) for k in (2, 3)],
            )
            found[group.id.replace("-", " ")] = (lows[0], lows[1], highs[0], highs[1])
    return found


@pytest.mark.parametrize("unit", ["cm", "in"])
@pytest.mark.parametrize("name", LAYS)
def test_the_table_alone_lays_every_piece(tmp_path: FilePath, name: str, unit: TapeUnit) -> None:
    """Every row of the printed table: title, and both ends' distances, as far as a tape can be read."""
    plan = LAYS[name]
    write_lay(plan, tmp_path, replace(SAID, unit=unit))
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        words = " ".join(page.extract_text(x_tolerance=1) for page in pdf.pages)
    number = r"\d+(?:\.\d)?" if unit == "cm" else r"\d+(?: \d/\d)?|\d/\d"
    edges = r"near selvedge|far selvedge|selvedges|fold|near edge|far edge"
    rows = re.findall(rf"({number}) ({number}) from ({edges})(?=\s)", words)
    wanted = [end for row in measured(plan) for end in row.ends]
    assert len(rows) == len(wanted)
    for (along, across, edge), end in zip(rows, wanted, strict=True):
        assert abs(read(along, unit) - end.from_cut_end) <= TAPE_STEP_MM[unit] / 2 + 1e-6
        assert abs(read(across, unit) - end.from_edge) <= TAPE_STEP_MM[unit] / 2 + 1e-6
        assert edge == end.edge.name
    for laid in plan.laid:
        assert all(word in words for word in laid.piece.title.split())


def test_measure_lines_end_at_the_edges_they_name() -> None:
    """Every caption of a measure line in a piece's group is the length of a line from an arrow's end."""
    shown = lay_pages(LAYS["open"], SAID)
    said = 0
    for row in shown.drawn.rows:
        group = next(g for g in shown.drawn.drawing.groups if g.key == row.laid.key)
        figures = [i.words for i in group.items if isinstance(i, Text) and re.fullmatch(r"\d+\.\d", i.words)]
        figures = [f for f in figures if f != str(row.laid.number)]
        right = {f"{end.from_edge / 10:.1f}" for end in row.ends} | {f"{row.ends[0].from_cut_end / 10:.1f}"}
        assert set(figures) <= right
        said += len(figures)
    assert said >= 8  # this lay has room for some


def test_scale_and_its_mark(tmp_path: FilePath) -> None:
    shown = lay_pages(LAYS["open"], SAID)
    write_lay(LAYS["open"], tmp_path, SAID)
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        page = pdf.pages[0]
        assert f"scale 1:{shown.layout.parts}" in page.extract_text()
        long = [x for x in page.lines if abs((x["x1"] - x["x0"]) * MM - 100) < 0.01 and x["y0"] == x["y1"]]
        assert long


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_long_lay_goes_over_pages_that_overlap_and_miss_nothing(tmp_path: FilePath, paper: str) -> None:
    plan = LAYS["long"]
    long = open_lay("cellist", Cloth("Narrow", 700.0, 700.0))
    for one in (plan, long):
        fit = lay_pages(one, replace(SAID, paper=paper)).layout
        assert {fit.paper.width, fit.paper.height} == {
            A4.width if paper == "a4" else LETTER.width,
            A4.height if paper == "a4" else LETTER.height,
        }
        for (_, stop), (start, _) in zip(fit.windows, fit.windows[1:], strict=False):
            assert stop - start == pytest.approx(LAP_MM)
    sheets = write_lay(long, tmp_path, replace(SAID, paper=paper))
    assert len(fit.windows) > 1
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        assert len(pdf.pages) == len(sheets.printed["lay.pdf"].pages)
        text = pdf.pages[0].extract_text()
        assert "page 2 begins here" in text and f"page 1 of {len(pdf.pages)}" in text
        assert "page 1 ends here" in pdf.pages[1].extract_text()


def test_text_is_never_mirrored_or_upside_down() -> None:
    """Words read from the left or from below, also on pieces that lie turned half round."""
    tops = [laid.motion.of_vector(1j).real for laid in LAYS["open"].laid]
    assert min(tops) < -0.9 and max(tops) > 0.9
    for plan in LAYS.values():
        shown = lay_pages(plan, SAID)
        for text in (i for i in shown.drawn.drawing.items if isinstance(i, Text)):
            assert -1.6 < text.angle < 1.6
        titles = {i.words for g in shown.drawn.drawing.groups for i in g.items if isinstance(i, Text)}
        numbers = {str(laid.number) for laid in plan.laid}
        said = {w.split("  ")[0] for w in titles}
        assert numbers <= said  # every piece has its number on it or beside it


def test_labels_keep_off_other_pieces() -> None:
    from shapely import Polygon

    for name, plan in LAYS.items():
        shown = lay_pages(plan, SAID)
        areas = {
            laid.key: Polygon([(p.real, p.imag) for p in paths.flattened(outline(laid, shown), 0.05)])
            for laid in plan.laid
        }
        for group in shown.drawn.drawing.groups:
            if group.key not in areas:
                continue
            title = next(x for x in plan.laid if x.key == group.key).piece.title
            for text in (i for i in group.items if isinstance(i, Text) and (i.bold or i.words == title)):
                box = Polygon([(p.real, p.imag) for p in text.corners])
                for key, area in areas.items():
                    assert key == group.key or area.intersection(box).area < 0.01, (name, text.words, key)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", LAYS)
def test_no_words_lie_over_others(name: str, paper: str) -> None:
    """On every page, and also in the picture; what a page's window cuts off is left out."""
    from shapely import STRtree
    from shapely.geometry import Polygon

    plan = LAYS[name]
    said = replace(SAID, paper=paper, notes=("DO NOT CUT: the hem crosses itself",))
    pages = [[i for i in (*p.marks, *p.shown) if isinstance(i, Text)] for p in lay_pages(plan, said).pages]
    picture = lay_picture(plan, said, (), 10).drawing
    for texts in (*pages, [i for i in picture.items if isinstance(i, Text)]):
        boxes = [Polygon([(p.real, p.imag) for p in t.corners]).buffer(-0.3) for t in texts]
        for i, j in STRtree(boxes).query(boxes, predicate="intersects").T:
            assert i >= j, (texts[i].words, texts[j].words)


def test_a_stop_or_a_note_says_do_not_cut_on_every_page(tmp_path: FilePath) -> None:
    stop = Finding("stop", "short-by", "Wool", "short by 12 cm")
    plan = replace(LAYS["open"], findings=(stop,))
    write_lay(plan, tmp_path, SAID)
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        assert all("DO NOT CUT: Wool: short by 12 cm" in p.extract_text() for p in pdf.pages)
    write_lay(LAYS["open"], tmp_path, replace(SAID, notes=("DO NOT CUT: front: the hem crosses itself",)))
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        assert all("DO NOT CUT: front: the hem crosses itself" in p.extract_text() for p in pdf.pages)
    assert "DO NOT CUT: front" in (tmp_path / "lay.svg").read_text()
    write_lay(LAYS["open"], tmp_path, SAID)
    with pdfplumber.open(tmp_path / "lay.pdf") as pdf:
        assert not any("DO NOT CUT" in p.extract_text() for p in pdf.pages)


def test_what_is_said_of_the_cloth() -> None:
    plan = LAYS["open"]
    marked = replace(
        plan,
        cloth=replace(
            plan.cloth,
            nap="one-way",
            stripe_across=Repeat(50.0, 10.0),
            flaws=(Flaw(2500 + 700j, 30.0, "oil stain"),),
        ),
        left=((2460 + 100j, 2600 + 100j, 2600 + 600j, 2460 + 600j),),
        matched=(
            Matched("side seam", "hem", 0.0, 0.2, True, "", (300 + 300j, 900 + 300j)),
            Matched("back seam", "hip", 4.0, 0.0, False, "the piece lies on the fold"),
        ),
    )
    pages = lay_pages(marked, SAID).pages
    items = [i for page in pages for i in (*page.shown, *page.marks)]
    words = " ".join(" ".join(i.words for i in items if isinstance(i, Text)).split())
    for said in (
        "single layer, right side up",
        "near selvedge",
        "far selvedge",
        "cut end",
        "the cloth ends here: 260.0 cm",
        "tops of all pieces point along the arrow",
        "oil stain",
        "Pattern matched: side seam at hem.",
        "NOT matched: back seam at hip, off by 4 mm along: the piece lies on the fold.",
        "14 × 50 cm",
        "for Ida",
        "your local rules",
        "15.4 cm to spare",
    ):
        assert said in words, said
    shown = lay_pages(marked, SAID).drawn
    stripes = [
        i for g in shown.drawing.groups if g.key == "cloth-pattern" for i in g.items
        if isinstance(i, Stroke) and i.pen is Pen.STRIPE
    ]  # fmt: skip
    ys = sorted((s.path[0].start - shown.on.origin).imag * shown.on.parts for s in stripes)
    assert ys == pytest.approx([10.0 + 50 * k for k in range(30)])


def test_stripes_on_folded_cloth_are_those_of_the_upper_layer() -> None:
    """Fold at 700 mm: the stripe at 10 + 6 x 110 = 670 lies 30 mm from the fold on the upper layer."""
    plan = folded_lay("a_line", Cloth("Linen", 1400.0, 1400.0, stripe_across=Repeat(110.0, 10.0)))
    shown = lay_pages(plan, SAID).drawn
    items = next(g for g in shown.drawing.groups if g.key == "cloth-pattern").items
    ys = sorted(
        (i.path[0].start - shown.on.origin).imag * shown.on.parts for i in items if isinstance(i, Stroke)
    )
    assert ys == pytest.approx([30.0 + 110 * k for k in range(7)])


def test_a_flaw_on_folded_cloth_is_drawn_where_it_comes_to_lie() -> None:
    flaw = Flaw(400 + 200j, 25.0, "slub")
    plan = folded_lay("a_line", Cloth("Linen", 1400.0, 1400.0, flaws=(flaw,)))
    shown = lay_pages(plan, SAID).drawn
    items = next(g for g in shown.drawing.groups if g.key == "flaws").items
    left, low, right, high = paths.bounds(items[0].path)  # type: ignore[union-attr]
    middle = (complex(left + right, low + high) / 2 - shown.on.origin) * shown.on.parts
    assert middle == pytest.approx(400 + 500j)
    assert (right - left) / 2 * shown.on.parts == pytest.approx(25.0, rel=1e-3)
    assert any(isinstance(i, Text) and i.words == "slub, in the upper layer" for i in items)


@pytest.mark.parametrize("turn", [1, -1])
def test_the_arrow_of_a_one_way_cloth_points_where_the_tops_do(turn: int) -> None:
    laid = tuple(
        replace(x, motion=Motion(-1j * turn, x.motion.shift)) for x in LAYS["open"].laid
    )  # no lay, but all tops point one way
    plan = replace(LAYS["open"], laid=laid, cloth=replace(WOOL, nap="one-way"))
    arrow, width = nap_arrow(plan, OnPaper(10, 0j), 50 + 90j)
    tip = next(i for i in arrow if isinstance(i, Fill)).points[0]
    assert (tip.real > 57.0) == (turn > 0) and width > 0


def test_strips_placed_on_what_is_left_are_drawn_lettered_and_listed() -> None:
    left = (1000 + 400j, 1400 + 400j, 1400 + 1400j, 1000 + 1400j)
    one = Strip("neck binding", (1010 + 450j, 1350 + 450j, 1350 + 490j, 1010 + 490j))
    two = Strip("armhole", (1010 + 500j, 1200 + 500j, 1240 + 540j, 1050 + 540j))
    part = Strip("neck binding", (1010 + 600j, 1110 + 600j, 1110 + 640j, 1010 + 640j))
    plan: Plan = replace(LAYS["open"], left=(left,))
    pages = lay_pages(plan, SAID, (one, two, part))
    items = next(g for g in pages.drawn.drawing.groups if g.key == "left-over").items
    assert [i.words for i in items if isinstance(i, Text)] == ["A", "B", "A"]
    drawn = next(i for i in items if isinstance(i, Stroke) and i.pen is Pen.STRIP)
    box = [(v - o) * 10 for v, o in zip(paths.bounds(drawn.path), (9.0, 8.0, 9.0, 8.0), strict=True)]
    assert box == pytest.approx([1010.0, 450.0, 1350.0, 490.0])
    said = [i.words for page in pages.pages for i in page.marks if isinstance(i, Text)]
    assert "A neck binding: 4.0 × 34.0, 4.0 × 10.0 cm" in said
    assert "B armhole: 4.0 × 19.0 cm" in said


def test_cloth_is_drawn_on_as_far_as_strips_lie() -> None:
    strip = Strip("binding", (3500 + 100j, 3800 + 100j, 3800 + 140j, 3500 + 140j))
    plan = replace(LAYS["open"], cloth=replace(WOOL, length=9000.0))
    plan = replace(plan, sections=(replace(plan.sections[0], room=9000.0),))
    shown = lay_pages(plan, SAID, (strip,))
    assert shown.drawn.drawing.width > 9.0 + 380.0
    assert shown.layout.windows[-1][1] == pytest.approx(shown.drawn.drawing.width)


def test_bad_asks_are_one_line_and_write_nothing(tmp_path: FilePath) -> None:
    plan = LAYS["open"]
    with pytest.raises(BadInput, match="no paper 'a5' for a lay"):
        write_lay(plan, tmp_path, replace(SAID, paper="a5"))
    with pytest.raises(BadInput, match="there are no pieces"):
        write_lay(replace(plan, laid=()), tmp_path, SAID)
    wide = replace(plan, sections=(replace(plan.sections[0], width=60_000.0),))
    with pytest.raises(BadInput, match="wide"):
        write_lay(wide, tmp_path, SAID)
    assert not list(tmp_path.iterdir())


def test_same_lay_same_bytes(tmp_path: FilePath) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    for folder in (one, two):
        folder.mkdir()
        write_lay(LAYS["folded"], folder, SAID)
    for name in ("lay.pdf", "lay.svg"):
        assert (one / name).read_bytes() == (two / name).read_bytes()
