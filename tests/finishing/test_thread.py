"""Thread of a garment: each line of stitching counted once, whether the draft is half or whole."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from finishing.pieces import draft_of, rectangle
from steps.drafts import dress, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import DoubleDart
from cutonce.draft.seam import Drawn, Finish, Opening, Relation
from cutonce.finishing.cutlist import cut_list
from cutonce.finishing.finished import CutRow
from cutonce.finishing.thread import LEAST_WASTE, MOST_WASTE, Thread, ThreadNeed, thread


def lines(found: Thread) -> dict[str, float]:
    return {s.what: s.stitched for s in found.stitchings}


def need(found: Thread, stitch: str) -> ThreadNeed:
    return next(n for n in found.needs if n.stitch == stitch)


def seam_sum(draft: Draft) -> float:
    """Both sides of every seam of a whole draft."""
    return sum(draft.side_length(s.a) + draft.side_length(s.b) for s in draft.seams)


def test_a_half_draft_counts_for_the_whole_garment() -> None:
    half, whole = thread(dress(), cut_list(dress())), thread(whole_dress(), cut_list(whole_dress()))
    assert lines(half).keys() == lines(whole).keys()
    for what, size in lines(whole).items():
        assert lines(half)[what] == pytest.approx(size, rel=1e-6), what


def test_seams_once_and_their_allowances_twice() -> None:
    draft = whole_dress()
    found = lines(thread(draft, ()))
    assert found["seams"] == pytest.approx(seam_sum(draft) / 2, rel=1e-6)
    assert found["neatening by zigzag"] == pytest.approx(seam_sum(draft), rel=1e-6)


def test_uneven_halves_are_counted_each_by_its_own_length() -> None:
    narrow, wide = dress(flare=20), dress(flare=60)
    found = lines(thread(replace(narrow, twin=wide), ()))
    one, two = lines(thread(narrow, ())), lines(thread(wide, ()))
    assert one["seams"] != pytest.approx(two["seams"], abs=1)
    assert found["seams"] == pytest.approx((one["seams"] + two["seams"]) / 2)


def test_what_is_open_is_not_sewn() -> None:
    draft = whole_dress()
    name = next(s.name for s in draft.seams if "side" in s.name)
    plain = lines(thread(draft, ()))
    zipped = lines(thread(replace(draft, openings=(Opening(name, "zip", 0, 200),)), ()))
    assert zipped["seams"] == pytest.approx(plain["seams"] - 200)
    assert zipped["zips"] == pytest.approx(400)
    slit = lines(thread(replace(draft, openings=(Opening(name, "slit", 0, 120),)), ()))
    assert slit["slits and vents"] == pytest.approx(240)
    exit_ = lines(thread(replace(draft, openings=(Opening(name, "cord exit", 0, 20),)), ()))
    assert exit_["seams"] == pytest.approx(plain["seams"] - 20)
    assert "slits and vents" not in exit_


def test_a_gathered_seam_is_sewn_at_its_partners_length() -> None:
    """Two gathering threads in the long side, one row at the short one's length."""
    draft = whole_dress()
    seam = draft.seams[0]
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    gathered = replace(seam, relation=Relation("gather", ratio=a / b * 1.5))
    rest = tuple(s for s in draft.seams if s is not seam)
    plain = lines(thread(draft, ()))
    found = lines(thread(replace(draft, seams=(gathered, *rest)), ()))
    assert found["seams"] == pytest.approx(plain["seams"] - a + b)
    assert found["gathering threads"] == pytest.approx(2 * max(a, b))


def test_an_edge_drawn_up_by_threads_alone() -> None:
    piece = rectangle(300, 200)
    neck = next(e for e in piece.labels if e.name == "neck")
    drawn = Drawn("neck", ((piece.key, neck),), 180, "gathering")
    found = lines(thread(replace(draft_of(piece, {}), drawn=(drawn,)), ()))
    assert found["gathering threads"] == pytest.approx(600)
    corded = replace(drawn, by="cord")
    assert "gathering threads" not in lines(thread(replace(draft_of(piece, {}), drawn=(corded,)), ()))


def test_hem_facing_and_darts() -> None:
    piece = replace(
        rectangle(300, 200),
        double_darts=(DoubleDart("waist dart", 150 + 180j, 150 + 20j, 140 + 100j, 160 + 100j),),
    )
    finishes = {
        "hem": Finish("hem", 40),
        "neck": Finish("faced", 6, 50),
        "side": Finish("raw", 0),
        "waist": Finish("raw", 0),
    }
    found = lines(thread(draft_of(piece, finishes), ()))
    assert found["hems"] == pytest.approx(300)
    assert found["facings, sewn and stitched down"] == pytest.approx(600)
    assert found["darts"] == pytest.approx(2 * math.hypot(10, 80))


def test_rows_of_the_cut_list() -> None:
    """Binding and casing twice along, tape once, a join across at 45 degrees; cord, zips not so."""
    rows = [
        CutRow("bias binding", "bias strip", "neck", 32, 600, 2, joins=1, closed=True),
        CutRow("casing", "bias strip", "side", 28, 500, 1),
        CutRow("stay tape", "tape", "arm", 6, 250, 2),
        CutRow("cord", "cord", "side", 0, 900, 1),
        CutRow("zip", "zip", "side", 0, 400, 1),
    ]
    found = lines(thread(Draft(()), rows))
    assert found == {
        "bindings": 2400,
        "joins of strips": pytest.approx(2 * 32 * math.sqrt(2)),
        "casings": 1000,
        "stay tape": 500,
    }


def test_thread_by_class_with_waste_and_the_conflict_said() -> None:
    draft = whole_dress()
    found = thread(draft, cut_list(draft))
    lock, zigzag, overedge = need(found, "301"), need(found, "304"), need(found, "504")
    total = sum(s.stitched for s in found.stitchings if s.stitch == "301")
    assert lock.least == pytest.approx(total * 2.5 * (1 + LEAST_WASTE))
    assert lock.most == pytest.approx(total * 2.5 * (1 + MOST_WASTE))
    assert not lock.note and not lock.instead and lock.reels == math.ceil(lock.most / 1e5)
    assert zigzag.stitched == overedge.stitched and overedge.instead and not zigzag.instead
    assert overedge.note and overedge.most / overedge.least == pytest.approx(2 * 1.15 / 1.10)


def test_chain_stitched_seams_and_a_measured_overedge() -> None:
    draft = whole_dress()
    found = thread(draft, (), seams="401", ratios={"504": 12.0})
    assert need(found, "401").stitched == pytest.approx(lines(found)["seams"])
    overedge = need(found, "504")
    assert not overedge.note
    assert overedge.least == pytest.approx(12 * overedge.stitched * 1.1)
