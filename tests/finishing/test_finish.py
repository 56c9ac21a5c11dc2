"""The whole job: labels, numbering, halves, uneven bodies, opened-out pieces, bad input, time."""

from __future__ import annotations

from dataclasses import replace

import pytest
from finishing.pieces import block, draft_of, label, polygon_piece, ring
from shapely import Polygon
from steps.drafts import dress, skirt, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain
from cutonce.draft.seam import Finish, Opening
from cutonce.errors import BadInput
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finish import finished
from cutonce.finishing.mirror import mirrored, opened_out
from cutonce.geometry import path
from cutonce.geometry.motion import reflecting


def test_label_says_everything() -> None:
    done = finished(skirt(), "A-line skirt", "Ida", "2025-03-01")
    assert done.piece("skirt front").label == (
        "Skirt front",
        "A-line skirt, piece 1 of 2",
        "cut 1 on the fold",
        "for Ida",
        "2025-03-01",
        "straight grain: arrow along the selvedge",
        "allowance included: 10 mm, hem 40 mm",
    )
    back = done.piece("skirt back")
    assert back.label[2] == "cut 2, mirrored" and back.count == 2
    assert "centre back 20 mm" in back.label[-1]


def test_wearers_side_and_single_pieces() -> None:
    done = finished(whole_dress(), "Dress", "Ida")
    assert [p.key for p in done.pieces] == ["front", "left back", "right back"]
    left = done.piece("left back")
    assert left.title == "Left back" and left.wearer == "left"
    assert "wearer's left" in left.label and "cut 1, right side up" in left.label
    assert not any(line.startswith("20") for line in left.label), "no date was given"


def test_bias_and_bound_edges_are_on_the_label() -> None:
    piece = polygon_piece(
        (0j, 200 + 0j, 200 + 300j, 300j), [label(n) for n in ("hem", "side", "neck", "waist")]
    )
    bias = replace(piece, grain=Grain(100 + 100j, (1 + 1j) / abs(1 + 1j), "bias"))
    made = finished(
        draft_of(bias, {"neck": Finish("bound", 0.0, 8.0), "hem": Finish("hem", 12.5)}), "x"
    ).pieces[0]
    assert "bias: arrow along the selvedge, single layer" in made.label
    assert made.label[-1] == "allowance included: 10 mm, hem 12.5 mm, neck none"
    assert {e.key: e.words for e in made.edges} == {
        "hem": "turn up 12.5 mm",
        "side": "10 mm allowed",
        "neck": "bind",
        "waist": "10 mm allowed",
    }


def test_same_input_same_output() -> None:
    assert finished(dress(), "x", "y", "z") == finished(dress(), "x", "y", "z")


def test_sewing_line_keeps_its_length_and_has_drawn_darts() -> None:
    draft = dress()
    for piece, made in zip(draft.pieces, finished(draft, "x").pieces, strict=True):
        for edge in made.edges:
            own = next(e for e in piece.labels if e.key == edge.key)
            assert path.length(edge.sewing) == pytest.approx(piece.edge_length(own), abs=1e-9)
        assert made.sewing[0].start == made.sewing[-1].end
        assert path.area(made.sewing) >= piece.area - 1e-6


def test_half_is_opened_out_whole() -> None:
    half = finished(dress(), "x").piece("front")
    whole = opened_out(half)
    assert whole.fold is None and whole.cut == "single" and "cut 1, right side up" in whole.label
    for one, two in ((half.sewing, whole.sewing), (half.cutting, whole.cutting)):
        assert path.area(two) == pytest.approx(2 * path.area(one), rel=1e-9)
        assert two[0].start == two[-1].end
        assert Polygon(ring(two)).is_valid
    assert len({e.key for e in whole.edges}) == len(whole.edges) == 2 * (len(half.edges) - 1)
    assert len(whole.darts) == 2 * len(half.darts)
    assert opened_out(whole) is whole


def test_mirrored_twice_is_the_same() -> None:
    piece = finished(dress(), "x").piece("back")
    over = reflecting(10 + 5j, 40 + 200j)
    back = mirrored(mirrored(piece, over), over)
    assert path.area(mirrored(piece, over).cutting) == pytest.approx(path.area(piece.cutting))
    for one, two in zip(piece.cutting, back.cutting, strict=True):
        assert abs(one.start - two.start) < 1e-9
    assert [n.name for n in back.notches] == [n.name for n in piece.notches]


def test_uneven_body_gets_both_halves() -> None:
    """Not unfolded: the left half as drafted, the right half turned over, both cut once."""
    draft = block("bodice", shoulder_length=(124.0, 118.0))
    assert draft.twin is not None
    done = finished(draft, "Bodice", "Ida")
    assert [p.key for p in done.pieces] == ["front", "back", "right front", "right back"]
    assert [p.wearer for p in done.pieces] == ["left", "left", "right", "right"]
    assert {p.count for p in done.pieces} == {1} and all(p.fold is None for p in done.pieces)
    assert min(c.bounds[0] for c in done.piece("front").cutting) == pytest.approx(0, abs=1e-9)
    assert max(c.bounds[2] for c in done.piece("right front").cutting) == pytest.approx(0, abs=1e-9)
    assert "join to the other half at the centre front" in done.piece("right front").label[2]
    shoulder = {
        k: path.length(next(e for e in done.piece(k).edges if e.key == "shoulder").sewing)
        for k in ("front", "right front")
    }
    assert shoulder["front"] - shoulder["right front"] > 4
    assert [f.code for f in done.findings if f.code == "halves-apart"] == ["halves-apart"]


def test_numbers_run_over_facings() -> None:
    draft = dress()
    neck = label("neck")
    faced = replace(draft, finishes=tuple(((k, neck), Finish("faced", 6.0, 50.0)) for k in ("front", "back")))
    done = finished(faced, "x")
    assert [p.label[1] for p in done.pieces] == [f"x, piece {n} of 4" for n in range(1, 5)]


def test_bad_input_is_one_clear_line() -> None:
    with pytest.raises(BadInput) as caught:
        finished(Draft(()), "Skirt")
    assert str(caught.value) == "Skirt: the draft has no pieces to finish"
    with pytest.raises(KeyError):
        finished(skirt(), "x").piece("sleeve")
    lost = replace(skirt(), openings=(Opening("sid", "zip", 0.0, 100.0),))
    told = [f for f in finished(lost, "x").findings if f.code == "no-seam"]
    assert len(told) == 1 and "'sid'" in told[0].message and "side" in told[0].message


def test_defaults_can_be_changed() -> None:
    wide = Defaults().with_allowance("side", 25.0, 25.0)
    side = next(
        e for e in finished(skirt(), "x", defaults=wide).piece("skirt front").edges if e.key == "side"
    )
    assert side.allowance == 25.0


@pytest.mark.parametrize("kind", ["bodice", "dress", "skirt"])
def test_blocks_finish_without_a_stop(kind: str) -> None:
    done = finished(block(kind), kind, "Ida")
    assert [f for f in done.findings if f.severity == "stop"] == []
    for piece in done.pieces:
        cut, sewn = Polygon(ring(piece.cutting)), Polygon(ring(piece.sewing))
        assert cut.is_valid and cut.buffer(0.01).covers(sewn)
