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
from cutonce.draft.seam import Drawn, Finish, Opening, Relation, Seam, Side
from cutonce.draft.span import Label, Role
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
    for key, halves in (("front", 2), ("back", 1)):  # the front lies on the fold: one tape for both halves
        size = draft.piece(key).edge_length(label("neck"))
        assert tape[f"neck of {key}"].length_mm == pytest.approx(halves * size)
        assert tape[f"neck of {key}"].count == 2 / halves
        assert f"shoulder of {key}" in tape
    assert not [k for k in tape if k.startswith(("hem", "side", "centre"))]


def test_stay_tape_of_a_whole_neck_is_one() -> None:
    """Unfolded or on the fold, the front neck has one tape of one length; uneven halves are added up."""
    half = {r.used_for: r for r in rows(dress(), "stay tape")}["neck of front"]
    whole = {r.used_for: r for r in rows(whole_dress(), "stay tape")}["neck of front"]
    assert (half.count, whole.count) == (1, 1)
    assert half.length_mm == pytest.approx(whole.length_mm)
    uneven = block("bodice", shoulder_length=(124.0, 112.0))
    assert uneven.twin is not None
    halves = (d.piece("front").edge_length(label("neck")) for d in (uneven, uneven.twin))
    row = {r.used_for: r for r in rows(uneven, "stay tape")}["neck of front"]
    assert row.count == 1 and row.length_mm == pytest.approx(sum(halves))


@pytest.mark.parametrize("relation", [Relation("gather", ratio=1.5), Relation("ease", 50.0)])
def test_stay_tape_of_a_fuller_edge_is_as_long_as_its_partner(relation: Relation) -> None:
    """A front shoulder of 150 mm on a back one of 100: both tapes are 100 mm, and the front's says so."""
    names = [label("hem"), label("side"), label("shoulder"), label("centre front")]
    front = polygon_piece((0j, 120 + 0j, 120 + 300j, 390j), names, "front")
    back = polygon_piece((0j, 80 + 0j, 80 + 300j, 360j), names, "back")
    sides = [Side(key, (label("shoulder"),)) for key in FRONT_BACK]
    draft = Draft((front, back), (Seam("shoulder", sides[0], sides[1], relation),))
    tape = {r.used_for: r for r in rows(draft, "stay tape")}
    assert front.edge_length(label("shoulder")) == pytest.approx(150)
    assert [tape[f"shoulder of {k}"].length_mm for k in FRONT_BACK] == [pytest.approx(100)] * 2
    note = tape["shoulder of front"].note
    assert "not the paper's" in note and f"{relation.kind} the edge of 150 mm" in note
    assert "the paper's length" in tape["shoulder of back"].note


def test_no_stay_tape_where_an_edge_is_drawn_up() -> None:
    draft = replace(dress(), drawn=(Drawn("cord", (("front", label("shoulder")),), 60.0, "cord"),))
    names = {r.used_for for r in rows(draft, "stay tape")}
    assert not {n for n in names if n.startswith("shoulder")}  # the back one is drawn up with it
    assert "neck of front" in names


def test_a_zip_over_two_seams_is_one() -> None:
    """The side opens 150 mm above the waist seam and 180 mm below it: one zip of 330 mm, 350 in the shops."""
    names = [label("hem"), label("side"), label("waist"), label("centre front")]
    low = [polygon_piece(corners(s, 0, 600), turned(names, s), f"skirt {s}") for s in (1, -1)]
    lower = [label("waist"), label("side"), label("neck"), label("centre front")]
    high = [polygon_piece(corners(s, 600, 1000), turned(lower, s), f"top {s}") for s in (1, -1)]
    side, waist = (label("side"),), (label("waist"),)
    seams = [
        Seam("skirt side", Side("skirt 1", side), Side("skirt -1", side)),
        Seam("top side", Side("top 1", side), Side("top -1", side)),
        *(Seam(f"waist {s}", Side(f"skirt {s}", waist), Side(f"top {s}", waist)) for s in (1, -1)),
    ]
    draft = Draft((*low, *high), seams=tuple(seams))
    meeting = (Opening("skirt side", "zip", 420.0, 180.0), Opening("top side", "zip", 0.0, 150.0))
    (row,) = rows(replace(draft, openings=meeting), "zip")
    assert row.length_mm == 350.0 and row.used_for == "skirt side, top side" and "330 mm" in row.note
    apart = (meeting[0], Opening("top side", "zip", 50.0, 150.0))
    assert [r.length_mm for r in rows(replace(draft, openings=apart), "zip")] == [180.0, 150.0]


def corners(side: int, low: float, high: float) -> list[complex]:
    """A rectangle 200 wide, on the right or left of x = 0, counter-clockwise."""
    x = (0.0, 200.0) if side > 0 else (-200.0, 0.0)
    return [complex(x[0], low), complex(x[1], low), complex(x[1], high), complex(x[0], high)]


def turned(names: list[Label], side: int) -> list[Label]:
    """Edges of such a rectangle from the bottom: the side seam is on the outside."""
    return names if side > 0 else [names[0], names[3], names[2], names[1]]


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
