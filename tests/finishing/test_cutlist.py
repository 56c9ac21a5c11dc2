"""The cut list: lengths from the sewing line, chains over seams, joins, whole-garment counts."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace

import pytest
from finishing.pieces import block, draft_of, flared, label, polygon_piece, rectangle
from hypothesis import given
from hypothesis import strategies as st
from steps.drafts import dress, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn, Finish, Opening
from cutonce.draft.span import Role
from cutonce.finishing.chains import chains, flat_length
from cutonce.finishing.cutlist import cut_list, cut_list_csv
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finish import finished
from cutonce.finishing.finished import CutRow
from cutonce.finishing.strips import strip

FRONT_BACK = ("front", "back")


def with_finish(draft: Draft, role: Role, finish: Finish) -> Draft:
    refs = tuple((p.key, e) for p in draft.pieces for e in p.labels if e.role == role)
    return replace(draft, finishes=draft.finishes + tuple((ref, finish) for ref in refs))


def rows(draft: Draft, kind: str) -> list[CutRow]:
    return [r for r in cut_list(draft) if r.kind == kind]


def edge_length(draft: Draft, role: Role) -> float:
    return sum(p.edge_length(e) for p in draft.pieces for e in p.labels if e.role == role)


def test_armhole_binding_is_a_ring_on_each_side() -> None:
    """Front and back armhole over shoulder and side: length + one slanting join, twice."""
    half = with_finish(dress(), "armhole", Finish("bound", 0.0, 8.0))
    (row,) = rows(half, "bias binding")
    assert row.count == 2 and row.joins == 1 and row.width_mm == 32.0
    assert row.length_mm == pytest.approx(edge_length(half, "armhole") + 2 * math.sqrt(2) * 6, abs=0.01)
    whole = with_finish(whole_dress(), "armhole", Finish("bound", 0.0, 8.0))
    both = rows(whole, "bias binding")
    assert [r.count for r in both] == [1, 1]
    assert [r.length_mm for r in both] == [pytest.approx(row.length_mm, abs=0.01)] * 2


def test_neck_binding_is_open_at_a_zip_and_closed_without() -> None:
    half = with_finish(dress(), "neck", Finish("bound", 0.0, 10.0, layers="double"))
    around = 2 * edge_length(half, "neck")
    (closed,) = rows(half, "bias binding")
    assert closed.count == 1 and closed.width_mm == 60.0
    assert closed.length_mm == pytest.approx(around + 2 * math.sqrt(2) * 6, abs=0.01)
    size = half.side_length(next(s for s in half.seams if s.name == "centre back").a)
    zipped = replace(half, openings=(Opening("centre back", "zip", size - 400, 400.0),))
    (open_,) = rows(zipped, "bias binding")
    assert open_.joins == 0 and open_.length_mm == pytest.approx(around + 20, abs=0.01)
    whole = with_finish(whole_dress(), "neck", Finish("bound", 0.0, 10.0, layers="double"))
    (same,) = rows(whole, "bias binding")
    assert same.length_mm == pytest.approx(closed.length_mm, abs=0.01)


def test_uneven_halves_are_each_measured() -> None:
    draft = with_finish(block("bodice", shoulder_length=(124.0, 112.0)), "neck", Finish("bound", 0.0, 8.0))
    assert draft.twin is not None
    refs = [((p.key), e) for p in draft.pieces for e in p.labels if e.role == "neck"]
    (chain,) = chains(draft, refs)
    expected = edge_length(draft, "neck") + edge_length(draft.twin, "neck")
    assert flat_length(draft, chain) == pytest.approx(expected)


@given(st.floats(50, 9000), st.booleans(), st.floats(10, 80), st.floats(300, 2000), st.floats(0, 10))
def test_strips_reach_and_no_part_is_too_long(
    size: float, closed: bool, width: float, run: float, join: float
) -> None:
    made = strip(size, closed, width, run, join, 10.0)
    usable = made.length - made.joins * 2 * math.sqrt(2) * join
    assert usable == pytest.approx(size if closed else size + 20)
    assert made.length <= made.parts * (run - width) + 1e-9
    assert made.joins == made.parts - (0 if closed else 1)
    if made.parts > 1:  # one part fewer would not do
        fewer = made.parts - 1
        joins = fewer if closed else fewer - 1
        assert (size if closed else size + 20) + joins * 2 * math.sqrt(2) * join > fewer * (run - width)


def test_a_long_binding_is_joined() -> None:
    piece = rectangle(3000, 100)
    (row,) = rows(draft_of(piece, {"hem": Finish("bound", 0.0, 8.0)}), "bias binding")
    assert row.joins == 2 and row.length_mm == pytest.approx(3000 + 20 + 2 * 2 * math.sqrt(2) * 6)


def test_gathered_edge_is_bound_at_its_drawn_length() -> None:
    piece = rectangle(300, 200)
    draft = draft_of(piece, {"neck": Finish("bound", 0.0, 8.0)})
    drawn = replace(draft, drawn=(Drawn("fan", (("panel", label("neck")),), 120.0, "gathering"),))
    (row,) = rows(drawn, "bias binding")
    assert row.length_mm == pytest.approx(140) and "120 mm" in row.note


def test_cord_runs_the_flat_edge_and_both_tails() -> None:
    piece = rectangle(300, 500)
    drawn = Drawn("side cord", (("panel", label("side")),), 200.0, "cord", 12.0, 150.0)
    draft = replace(draft_of(piece, {}), drawn=(drawn,))
    (cord,) = rows(draft, "cord")
    assert cord.length_mm == pytest.approx(800)
    assert "6 mm thick" in cord.note and "child" in cord.note
    (casing,) = rows(draft, "casing")
    assert casing.width_mm == 28.0 and casing.length_mm == pytest.approx(520)


def test_elastic_and_casing_finish() -> None:
    piece = rectangle(300, 500)
    draft = draft_of(piece, {"waist": Finish("casing", 10.0, 20.0)})
    drawn = replace(draft, drawn=(Drawn("waist", (("panel", label("waist")),), 250.0, "elastic", 20.0),))
    (elastic,) = rows(drawn, "elastic")
    assert elastic.length_mm == 270.0 and elastic.width_mm == 16.0
    (casing,) = rows(drawn, "casing")
    assert casing.width_mm == 20 + 10 + 8 and casing.length_mm == pytest.approx(520)


def test_round_casing_asks_for_a_shaped_facing() -> None:
    """Channel 25 mm along a hem of radius 200: edges differ by 12.5 %."""
    for radius, told in ((200.0, True), (400.0, False)):
        piece = flared(1.0, radius - 100, 100)
        (row,) = rows(draft_of(piece, {"hem": Finish("casing", 10.0, 25.0)}), "casing")
        assert ("shaped facing" in row.note) is told


def test_stay_tape_to_the_papers_length() -> None:
    draft = dress()
    tape = {r.used_for: r for r in rows(draft, "stay tape")}
    for key in FRONT_BACK:
        assert tape[f"neck of {key}"].length_mm == pytest.approx(draft.piece(key).edge_length(label("neck")))
        assert tape[f"neck of {key}"].count == 2
        assert f"shoulder of {key}" in tape
    assert not [k for k in tape if k.startswith(("hem", "side", "centre"))]


@pytest.mark.parametrize(
    ("opening", "bought"), [(180.0, 180.0), (185.0, 200.0), (559.0, 600.0), (905.0, 905.0)]
)
def test_zip_is_the_next_shop_length(opening: float, bought: float) -> None:
    size = dress().side_length(dress().seams[0].a)
    assert opening < size or opening > 800
    draft = replace(dress(), openings=(Opening("side", "zip", 0.0, opening),))
    (row,) = rows(draft, "zip")
    assert row.length_mm == bought and f"opening {opening:g} mm" in row.note


def test_facings_bring_interfacing_and_no_strip() -> None:
    draft = with_finish(dress(), "neck", Finish("faced", 6.0, 50.0))
    assert [r.used_for for r in rows(draft, "interfacing")] == ["front neck facing", "back neck facing"]
    assert rows(draft, "facing strip") == []
    low = rectangle(200, 40)
    (row,) = rows(draft_of(low, {"neck": Finish("faced", 6.0, 60.0)}), "facing strip")
    assert row.width_mm == 60 + 6 + 8 and row.length_mm == pytest.approx(220)


def test_pieces_come_first_when_given() -> None:
    draft = dress()
    listed = cut_list(draft, None, finished(draft, "x"))
    assert [(r.kind, r.what, r.count) for r in listed[:2]] == [("piece", "Front", 1), ("piece", "Back", 2)]
    wide = max(c.bounds[2] for c in finished(draft, "x").piece("front").cutting)
    assert listed[0].width_mm == pytest.approx(wide, abs=0.01)


def test_csv_is_read_back() -> None:
    draft = with_finish(dress(), "armhole", Finish("bound", 0.0, 8.0))
    listed = cut_list(draft)
    back = list(csv.DictReader(io.StringIO(cut_list_csv(listed))))
    assert len(back) == len(listed)
    assert list(back[0]) == ["kind", "what", "for", "width_mm", "length_mm", "count", "joins", "note"]
    assert [float(r["length_mm"]) for r in back] == [pytest.approx(r.length_mm, abs=0.05) for r in listed]


def test_nothing_to_list_is_a_header() -> None:
    names = [label("hem"), label("side"), label("side b", "side"), label("side c", "side")]
    plain = polygon_piece((0j, 100 + 0j, 100 + 100j, 100j), names)
    assert cut_list_csv(cut_list(Draft((plain,)), Defaults())).count("\n") == 1
