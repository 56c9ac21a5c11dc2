"""A hem turned up lies on the garment: its ends are the mirror image of what is above the fold."""

from __future__ import annotations

import math

import pytest
from finishing.pieces import cut_of, draft_of, flared, label, piece_of, ring, slanted
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Finish, Opening
from cutonce.finishing.cutting import Cutting
from cutonce.finishing.finish import finished
from cutonce.finishing.folded_hem import turn_up_ease
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, flattened


def folded_up(p: Point, fold: LineString) -> Point:
    """Where a point of the hem lies when turned up: as far on the other side of the fold, square to it.

    Found on a dense polyline by Shapely, apart from the code under test.
    """
    s = fold.project(ShapelyPoint(p.real, p.imag))
    foot = fold.interpolate(s)
    return 2 * complex(foot.x, foot.y) - p


def fold_line(hem: Path) -> LineString:
    """The fold, carried on straight beyond both ends."""
    points = flattened(hem, 1e-5)
    first, last = hem[0].tangent(0), hem[-1].tangent(1)
    points = (points[0] - 200 * first, *points, points[-1] + 200 * last)
    return LineString([(p.real, p.imag) for p in points])


def hem_ends(cutting: Cutting, fold: LineString, depth: float) -> list[Point]:
    """Points of the cutting line below the fold and above the hem's lower edge: the two ends of the hem."""
    out: list[Point] = []
    for curve in cutting.line:
        for k in range(41):
            p = curve.at(k / 40)
            s = fold.project(ShapelyPoint(p.real, p.imag))
            ahead = fold.interpolate(s + 1e-3), fold.interpolate(s - 1e-3)
            along = complex(ahead[0].x - ahead[1].x, ahead[0].y - ahead[1].y)
            foot = fold.interpolate(s)
            out_by = ((p - complex(foot.x, foot.y)) * along.conjugate()).imag / abs(along)
            if 1e-3 < -out_by < depth - 1e-2:
                out.append(p)
    return out


def worst(piece: Piece, cutting: Cutting, depth: float) -> float:
    """How far the ends of the hem, turned up, miss the garment's own cutting line."""
    hem = tuple(s.curve for s in piece.outline if s.label.name == "hem")
    fold = fold_line(hem)
    line = LineString(ring(cutting.line, 1e-4))
    ends = hem_ends(cutting, fold, depth)
    assert len(ends) > 40, "the hem has no ends to look at"
    turned = [folded_up(p, fold) for p in ends]
    return max(line.distance(ShapelyPoint(p.real, p.imag)) for p in turned)


@pytest.mark.parametrize("degrees", [60, 75, 90, 105, 125])
@pytest.mark.parametrize("bow", [0.0, 15.0, 40.0])
@pytest.mark.parametrize("depth", [15.0, 40.0])
def test_turned_up_it_matches(degrees: float, bow: float, depth: float) -> None:
    piece = slanted(math.radians(degrees), bow)
    draft = draft_of(piece, {"hem": Finish("hem", depth), "right": Finish("seam", 10)}, ("right",))
    assert worst(piece, cut_of(draft), depth) < 0.1


@settings(max_examples=25, deadline=None)
@given(st.floats(0.3, 1.6), st.floats(120, 900), st.floats(8, 45), st.sampled_from([0.0, 10.0, 20.0]))
def test_flared_panels_match(angle: float, radius: float, depth: float, side: float) -> None:
    piece = flared(angle, radius)
    sides = Finish("seam", side)
    draft = draft_of(piece, {"hem": Finish("hem", depth), "right": sides, "left": sides}, ("right", "left"))
    cutting = cut_of(draft)
    assert cutting.findings == ()
    assert worst(piece, cutting, depth) < 0.1


@settings(max_examples=25, deadline=None)
@given(st.floats(-30, 30), st.floats(-25, 25), st.floats(55, 125), st.floats(10, 45))
def test_any_bowed_hem_and_side(bow: float, bulge: float, degrees: float, depth: float) -> None:
    """Hem and side seam curved, hem not square to the side."""
    a, b = 0j, 300 + 0j
    lean = complex(-math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
    top = b + 400 * lean
    hem = Cubic(a, 100 - 1j * bow, 200 - 1j * bow, b)
    side = Cubic(b, b + 130 * lean + bulge, top - 130 * lean + bulge, top)
    piece = piece_of(
        [
            (label("hem"), [hem]),
            (label("right", "side"), [side]),
            (label("waist"), [Line(top, 400j)]),
            (label("left", "side"), [Line(400j, a)]),
        ]
    )
    draft = draft_of(piece, {"hem": Finish("hem", depth), "right": Finish("seam", 12)}, ("right",))
    cutting = cut_of(draft)
    if not cutting.findings:
        assert worst(piece, cutting, depth) < 0.1


def test_a_slit_is_mirrored_too() -> None:
    """A slit widens the side above the fold and below it alike."""
    piece = slanted(math.radians(80))
    draft = draft_of(piece, {"hem": Finish("hem", 30), "right": Finish("seam", 10)}, ("right",))
    opened = Draft(draft.pieces, draft.seams, draft.finishes, (Opening("right", "slit", 0.0, 150.0),))
    assert worst(piece, cut_of(opened), 30) < 0.1


def test_short_side_is_carried_on() -> None:
    """A side of 20 mm beside a hem of 40 mm: the image goes on straight."""
    piece = piece_of(
        [
            (label("hem"), [Line(0j, 300 + 0j)]),
            (label("right", "side"), [Line(300 + 0j, 295 + 20j)]),
            (label("waist"), [Line(295 + 20j, 150 + 200j)]),
            (label("left", "side"), [Line(150 + 200j, 0j)]),
        ]
    )
    cutting = cut_of(draft_of(piece, {"hem": Finish("hem", 40)}))
    assert cutting.findings == ()
    outer = Polygon(ring(cutting.line))
    assert outer.bounds[1] == pytest.approx(-40, abs=1e-6)


def test_two_hems_meet_in_a_plain_corner() -> None:
    """The corner of a slit: both edges turned up, neither mirrors the other."""
    piece = slanted(math.radians(90))
    cutting = cut_of(draft_of(piece, {"hem": Finish("hem", 40), "right": Finish("hem", 20)}))
    assert any(abs(c.start - (320 - 40j)) < 1e-6 for c in cutting.line)


@pytest.mark.parametrize(("radius", "depth"), [(900.0, 20.0), (500.0, 40.0)])
def test_ease_of_a_round_hem_is_arithmetic(radius: float, depth: float) -> None:
    """Circumferences: (r + d) / (r - d) - 1."""
    hem = tuple(s.curve for s in flared(1.0, radius - 400).outline if s.label.name == "hem")
    assert turn_up_ease(hem, depth) == pytest.approx((radius + depth) / (radius - depth) - 1, rel=1e-6)


def test_deep_hem_on_a_flare_is_said() -> None:
    piece = flared(1.2, 100)
    told = finished(draft_of(piece, {"hem": Finish("hem", 40)}), "skirt").findings
    assert [(f.code, f.severity) for f in told] == [("hem-ease", "warning")]
    narrow = finished(draft_of(piece, {"hem": Finish("hem", 8)}), "skirt").findings
    assert narrow == ()
