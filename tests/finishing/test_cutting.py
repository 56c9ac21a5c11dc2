"""The cutting line against Shapely: distance, closed, simple, holds the piece; corners by construction."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from finishing.pieces import arc, cut_of, draft_of, flared, label, panels, piece_of, polygon_piece, ring
from hypothesis import given, settings
from shapely import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Finish, Opening, Seam, Side
from cutonce.errors import BadInput
from cutonce.finishing.cutting import Cutting
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finish import finished
from cutonce.geometry import path
from cutonce.geometry.curve import Line

SIDE, NECK, WAIST, CENTRE = label("side"), label("neck"), label("waist"), label("centre front")
SQUARE = (0j, 200 + 0j, 200 + 300j, 300j)
NAMES = (label("hem"), SIDE, NECK, CENTRE)


def polygon(cutting: Cutting) -> Polygon:
    return Polygon(ring(cutting.line))


def sewing(piece: Piece) -> Polygon:
    return Polygon(ring(tuple(s.curve for s in piece.outline)))


def at(cutting: Cutting, p: complex) -> bool:
    """Is there a corner of the cutting line at this point?"""
    return any(abs(c.start - p) < 1e-6 for c in cutting.line)


@settings(max_examples=60, deadline=None)
@given(panels())
def test_distance_to_the_sewing_line_is_the_allowance(made: tuple[Piece, dict[str, float]]) -> None:
    piece, widths = made
    cutting = cut_of(draft_of(piece, {k: Finish("seam", w) for k, w in widths.items()}))
    line = LineString(ring(cutting.line))
    for run in cutting.runs:
        edge = LineString([(p.real, p.imag) for p in path.flattened(run.sewing, 0.002)])
        for share in (0.35, 0.5, 0.65):
            p = path.point_at(run.sewing, share * path.length(run.sewing))
            u = path.tangent_at(run.sewing, share * path.length(run.sewing))
            out = p - 1j * u * run.allowance
            assert line.distance(ShapelyPoint(out.real, out.imag)) < 0.05
            assert edge.distance(ShapelyPoint(out.real, out.imag)) == pytest.approx(run.allowance, abs=0.05)


@settings(max_examples=60, deadline=None)
@given(panels())
def test_cutting_line_is_closed_simple_and_holds_the_sewing_line(
    made: tuple[Piece, dict[str, float]],
) -> None:
    piece, widths = made
    cutting = cut_of(draft_of(piece, {k: Finish("seam", w) for k, w in widths.items()}))
    assert cutting.findings == ()
    for one, two in pairwise((*cutting.line, cutting.line[0])):
        assert one.end == two.start
    outer = polygon(cutting)
    assert outer.is_valid and path.area(cutting.line) > 0
    assert outer.buffer(0.01).covers(sewing(piece))


@settings(max_examples=40, deadline=None)
@given(panels())
def test_equal_allowances_are_shapelys_mitred_buffer(made: tuple[Piece, dict[str, float]]) -> None:
    piece, _ = made
    cutting = cut_of(draft_of(piece, {e.name: Finish("raw", 10.0) for e in piece.labels}))
    buffered = sewing(piece).buffer(10.0, join_style="mitre", mitre_limit=10)
    # what differs is where a curve is carried on straight in one and bevelled in steps in the other
    assert buffered.symmetric_difference(polygon(cutting)).area < 0.02 * 10 * path.length(cutting.line)
    middles = [path.point_at(r.sewing, path.length(r.sewing) / 2) for r in cutting.runs]
    for p in middles:
        assert buffered.exterior.distance(ShapelyPoint(p.real, p.imag)) == pytest.approx(10.0, abs=0.05)


def test_square_corners_meet_at_the_crossing_of_both_lines() -> None:
    piece = polygon_piece(SQUARE, NAMES)
    cutting = cut_of(
        draft_of(piece, {"hem": Finish("raw", 30), "side": Finish("raw", 10), "neck": Finish("raw", 0)})
    )
    assert at(cutting, 210 - 30j) and at(cutting, 210 + 300j) and at(cutting, -20 - 30j)
    assert path.area(cutting.line) == pytest.approx(230 * 330, abs=1e-6)


def test_straight_continuation_at_a_slant() -> None:
    """Interior angle 120 degrees, both allowances 10: the lines meet 10 tan 30 beyond both ends."""
    corner = 200 + 0j
    top = corner + 150 * cmath.exp(1j * math.radians(60))
    piece = polygon_piece((0j, corner, top, 300j), NAMES)
    cutting = cut_of(draft_of(piece, {e.name: Finish("raw", 10) for e in NAMES}))
    assert at(cutting, corner - 10j + 10 * math.tan(math.radians(30)))


def test_a_sharp_point_is_cut_off() -> None:
    """A point of 20 degrees would run out 57 mm at 10 mm allowance; it ends three allowances beyond."""
    tip, back = 300 + 0j, cmath.exp(1j * math.radians(160))
    piece = polygon_piece((0j, tip, tip + 200 * back, -40 + 60j), NAMES)
    cutting = cut_of(draft_of(piece, {e.name: Finish("raw", 10) for e in NAMES}))
    assert at(cutting, tip - 10j + 30) and at(cutting, tip - 10j * back - 30 * back)
    assert cutting.findings == ()


def test_inward_corner_is_cut_where_the_lines_cross() -> None:
    names = (*NAMES, label("armhole"), label("shoulder"))
    piece = polygon_piece((0j, 200 + 0j, 200 + 100j, 100 + 100j, 100 + 200j, 200j), names)
    cutting = cut_of(draft_of(piece, {"neck": Finish("raw", 6), "centre front": Finish("raw", 12)}))
    assert at(cutting, 112 + 106j)
    assert cutting.findings == ()


def test_unlike_allowances_on_one_line_make_a_step() -> None:
    piece = polygon_piece((0j, 100 + 0j, 200 + 0j, 200 + 300j, 300j), (NAMES[0], NECK, SIDE, WAIST, CENTRE))
    cutting = cut_of(draft_of(piece, {"hem": Finish("raw", 20), "neck": Finish("raw", 10)}))
    assert at(cutting, 100 - 20j) and at(cutting, 100 - 10j)


def test_too_wide_an_allowance_is_found_not_hidden() -> None:
    """20 mm outside a half-circle of radius 15 bitten out of the neck folds back on itself."""
    piece = piece_of(
        [
            (label("hem"), [Line(0j, 200 + 0j)]),
            (SIDE, [Line(200 + 0j, 200 + 100j)]),
            (NECK, [Line(200 + 100j, 115 + 100j)]),
            (label("cut-out"), arc(100 + 100j, 115 + 100j, -math.pi)),
            (label("armhole"), [Line(85 + 100j, 100j)]),
            (CENTRE, [Line(100j, 0j)]),
        ]
    )
    found = cut_of(draft_of(piece, {"cut-out": Finish("raw", 20)})).findings
    assert [f.code for f in found] == ["cutting-crosses"]
    assert found[0].severity == "stop" and found[0].spot is not None
    assert cut_of(draft_of(piece, {"cut-out": Finish("raw", 5)})).findings == ()


def test_curves_stay_curves() -> None:
    cutting = cut_of(draft_of(flared(0.8, 200), {"hem": Finish("raw", 20), "waist": Finish("raw", 10)}))
    for name, radius in (("hem", 620.0), ("waist", 190.0)):
        cut = next(c for r, c in zip(cutting.runs, cutting.cuts, strict=True) if r.label.name == name)
        assert not all(isinstance(c, Line) for c in cut)
        for curve in cut:
            if not isinstance(curve, Line):
                assert all(abs(abs(curve.at(k / 9)) - radius) < 0.005 for k in range(10))


def test_a_ring_without_corners_is_offset_all_round() -> None:
    piece = piece_of([(label("neck"), arc(0j, 100 + 0j, 2 * math.pi))])
    cutting = cut_of(draft_of(piece, {"neck": Finish("raw", 10)}))
    assert path.area(cutting.line) == pytest.approx(math.pi * 110**2, rel=1e-5)


def two_sewn(angle: float, allowance: float = 10.0, cross: float = 6.0) -> Draft:
    """Two panels sewn along a side of 200 mm; at its upper end the first has the interior `angle`, the second
    what is left to 180 degrees, so that the edge that crosses the seam runs on straight."""
    a = polygon_piece(
        (0j, 100 + 0j, 100 + 200j, 100 + 200j + 150 * cmath.exp(1j * (1.5 * math.pi - angle)), 80j),
        (label("hem"), SIDE, NECK, WAIST, CENTRE),
        "a",
    )
    b_end = 100 + 200j + 150 * cmath.exp(1j * (0.5 * math.pi - angle))
    b = polygon_piece(
        (100 + 0j, 250 + 0j, 250 + 80j, b_end, 100 + 200j), (label("hem"), WAIST, CENTRE, NECK, SIDE), "b"
    )
    finishes = tuple(
        ((p.key, e), Finish("faced" if e == NECK else "seam", cross if e == NECK else allowance))
        for p in (a, b)
        for e in p.labels
    )
    return Draft((a, b), (Seam("side", Side("a", (SIDE,)), Side("b", (SIDE,))),), finishes)


@pytest.mark.parametrize("degrees", [55, 70, 90, 110, 125])
@pytest.mark.parametrize("cross", [0.0, 6.0, 12.0])
def test_partners_corners_agree_when_sewn(degrees: float, cross: float) -> None:
    """Laid face to face, seam on seam, the ends of both allowances are one line."""
    draft = two_sewn(math.radians(degrees), cross=cross)
    a, b = cut_of(draft, "a"), cut_of(draft, "b")
    ends = [next(e for e in c.ends if e.tip == 100 + 200j) for c in (a, b)]
    assert ends[0].beyond == pytest.approx(ends[1].beyond, abs=1e-9)
    corner = 110 + 200j + 1j * ends[0].beyond
    assert at(a, corner)
    # b is turned over along the seam to lie on a: its corner is mirrored in x = 100
    assert at(b, 200 - corner.conjugate())


def test_partners_that_do_not_run_on_are_told() -> None:
    draft = two_sewn(math.radians(70))
    assert not [f for f in finished(draft, "x").findings if f.code == "corners-differ"]
    wide = tuple((ref, Finish("faced", 15) if ref == ("b", NECK) else f) for ref, f in draft.finishes)
    told = [
        f
        for f in finished(Draft(draft.pieces, draft.seams, wide), "x").findings
        if f.code == "corners-differ"
    ]
    assert len(told) == 1 and told[0].expected_mm is not None and told[0].found_mm is not None
    assert abs(told[0].expected_mm - told[0].found_mm) == pytest.approx(9 / math.sin(math.radians(70)))


@pytest.mark.parametrize("start", [0.0, 60.0])
def test_zip_steps_the_allowance(start: float) -> None:
    """10 mm, 20 mm along the zip and 15 mm past its ends, steps square to the seam."""
    draft = two_sewn(math.radians(90))
    opened = Draft(draft.pieces, draft.seams, draft.finishes, (Opening("side", "zip", start, 100.0),))
    a, b = cut_of(opened, "a"), cut_of(opened, "b")
    for y in {max(start - 15, 0), start + 115}:
        if y:
            assert at(a, complex(120, y)) and at(a, complex(110, y))
            assert at(b, complex(80, y)) and at(b, complex(90, y))
    assert not a.findings and not b.findings
    line = LineString(ring(a.line))
    assert line.distance(ShapelyPoint(120, start + 50)) < 1e-6
    assert line.distance(ShapelyPoint(110, start + 130)) < 1e-6


def test_zip_never_narrows_a_wide_seam() -> None:
    draft = two_sewn(math.radians(90), allowance=30)
    opened = Draft(draft.pieces, draft.seams, draft.finishes, (Opening("side", "zip", 20.0, 100.0),))
    wide, plain = (path.area(cut_of(d, "a").line) for d in (opened, draft))
    assert wide == pytest.approx(plain, abs=1e-6)


def test_fold_has_no_allowance_and_the_lines_beside_it_end_on_it() -> None:
    base = polygon_piece(SQUARE, NAMES)
    folded = Piece(base.name, base.outline, base.grain, cut="fold", fold=CENTRE)
    cutting = cut_of(draft_of(folded, {"hem": Finish("hem", 40), "side": Finish("seam", 10)}))
    assert at(cutting, -40j) and at(cutting, 306j)
    assert min(c.bounds[0] for c in cutting.line) == 0.0


def test_defaults_are_checked() -> None:
    for bad in ({"zip": -1.0}, {"facing": 400.0}, {"bias_run": 0.0}, {"turning": math.nan}):
        with pytest.raises(BadInput) as caught:
            Defaults(**bad)  # type: ignore[arg-type]
        assert str(caught.value).count("\n") == 0
    assert Defaults().with_allowance("side", 25, 25).allowance("side", sewn=True) == 25
