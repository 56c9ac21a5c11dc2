"""Shaped facings: as wide as asked, the same edge, the right hand, darts closed."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from finishing.pieces import block, label, polygon_piece, ring
from shapely import LineString, Polygon
from shapely.affinity import scale
from shapely.geometry import Point as ShapelyPoint
from steps.drafts import bodice, dress, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Finish, Opening
from cutonce.draft.span import Role
from cutonce.finishing.allowance import Finishes
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.facing import INNER, Facing, facings
from cutonce.finishing.finish import finished
from cutonce.geometry import path
from cutonce.geometry.meet import nearest
from cutonce.reshape.unfold import unfolded

DEFAULTS = Defaults()


def faced(draft: Draft, role: Role, width: float = 50.0, shows: str = "wrong side") -> Draft:
    finish = Finish("faced", 6.0, width, shows)  # type: ignore[arg-type]
    refs = tuple((p.key, e) for p in draft.pieces for e in p.labels if e.role == role)
    return replace(draft, finishes=draft.finishes + tuple((ref, finish) for ref in refs))


def made(draft: Draft) -> dict[str, Facing]:
    found, findings = facings(draft, Finishes(draft, DEFAULTS), DEFAULTS)
    assert findings == ()
    return {f.piece.key: f for f in found}


@pytest.mark.parametrize("role", ["neck", "armhole"])
@pytest.mark.parametrize("width", [30.0, 55.0])
def test_same_edge_and_even_width(role: Role, width: float) -> None:
    draft = faced(block("dress"), role, width)
    assert len(made(draft)) == 2
    for facing in made(draft).values():
        key, edge = facing.faced[0]
        garment = draft.piece(key)
        assert facing.piece.edge_length(edge) == pytest.approx(garment.edge_length(edge), abs=1e-9)
        sewing = [s.curve for s in facing.piece.edge(edge)]
        inner = [s.curve for s in facing.piece.edge(INNER)]
        for k in range(3, 8):
            p = path.point_at(inner, path.length(inner) * k / 10)
            assert nearest(sewing, p)[1] == pytest.approx(width, abs=0.05)
        assert not [s for s in facing.piece.outline if s.label.role == "dart leg"]


def test_a_wide_facing_runs_over_a_dart_in_the_shoulder() -> None:
    """The dart opens 50 mm from the neck: a facing 60 mm wide has it folded away at its end."""
    draft = faced(dress(), "neck", 60.0)
    front = made(draft)["front neck facing"].piece
    assert [s.label.role for s in front.outline].count("shoulder") == 2
    ends = [s.curve for s in front.edge(label("shoulder"))]
    assert path.length(ends) == pytest.approx(60, abs=3)
    assert ends[0].end == pytest.approx(ends[1].start)


@pytest.mark.parametrize("whole", [False, True])
def test_a_waist_facing_with_its_darts_closed_keeps_the_centre_on_the_grain(whole: bool) -> None:
    half = block("skirt")
    draft = faced(unfolded(half, ("skirt back",), "unfold") if whole else half, "waist")
    for facing in made(draft).values():
        garment = draft.piece(facing.faced[0][0])
        assert garment.darts and not [s for s in facing.piece.outline if s.label.role == "dart leg"]
        centre = [s for s in facing.piece.outline if s.label.role in ("centre front", "centre back")]
        for span in centre:
            along = (span.curve.end - span.curve.start) / span.length
            assert abs((along.conjugate() * facing.piece.grain.along).imag) < 1e-9
        assert centre or (whole and garment.face == "front")
        if not centre:
            assert_symmetrical(facing.piece)


def assert_symmetrical(piece: Piece) -> None:
    shape = Polygon([(z.real, z.imag) for z in path.flattened([s.curve for s in piece.outline], 0.01)])
    mirrored = scale(shape, xfact=-1, origin=(0, 0))
    assert shape.symmetric_difference(mirrored).area < 1.0


def test_ends_lie_on_the_garments_edges() -> None:
    draft = faced(dress(), "neck")
    front = made(draft)["front neck facing"].piece
    shoulder = [s.curve for s in draft.piece("front").edge(label("shoulder"))]
    ends = [s.curve for s in front.outline if s.label.role == "shoulder"]
    assert len(ends) == 1 and path.length(ends) == pytest.approx(50, abs=3)
    assert max(nearest(shoulder, p)[1] for p in (ends[0].start, ends[0].end)) < 1e-6
    assert front.cut == "fold" and front.fold == label("centre front")


def test_partner_facings_meet_like_the_garment() -> None:
    """Allowances at the shoulder end of both neck facings are those of the garment."""
    done = finished(faced(dress(), "neck"), "x")
    for name in ("front", "back"):
        edge = {e.key: e for e in done.piece(f"{name} neck facing").edges}
        assert edge["shoulder"].allowance == 10 and edge["neck"].allowance == 6
        assert edge["inner edge"].allowance == 0
    assert done.piece("back neck facing").count == 2


def test_a_zip_widens_the_facing_too() -> None:
    draft = faced(dress(), "neck")
    size = draft.side_length(next(s for s in draft.seams if s.name == "centre back").a)
    narrow = replace(
        draft, finishes=(*draft.finishes, (("back", label("centre back")), Finish("seam", 12.0)))
    )
    zipped = replace(narrow, openings=(Opening("centre back", "zip", size - 500, 500.0),))
    for with_zip, expected in ((narrow, 12.0), (zipped, 20.0)):
        edges = {e.key: e for e in finished(with_zip, "x").piece("back neck facing").edges}
        assert edges["centre back"].allowance == expected


def test_inside_facing_of_a_lopsided_piece_is_the_other_hand() -> None:
    """Cut once, sewn face to face: the paper is the garment's mirror image. Turned outside, it is not."""
    names = [label(n) for n in ("hem", "side", "neck", "armhole")]
    piece = polygon_piece((0j, 200 + 0j, 180 + 300j, 20 + 240j), names)
    inside = made(faced(Draft((piece,)), "neck"))["panel neck facing"].piece
    outside = made(faced(Draft((piece,)), "neck", shows="right side"))["panel neck facing"].piece
    shapes = [Polygon(ring(tuple(s.curve for s in p.outline))) for p in (inside, outside)]
    assert shapes[1].symmetric_difference(scale(shapes[0], -1, 1, origin=(0, 0))).area < 1e-6
    assert Polygon(ring(tuple(s.curve for s in piece.outline))).buffer(1e-6).covers(shapes[1])
    assert inside.flips == piece.flips and path.area(s.curve for s in inside.outline) > 0


def test_both_halves_of_a_neck_are_one_facing() -> None:
    found = made(faced(whole_dress(), "neck"))
    assert sorted(found) == ["front neck facing", "left back neck facing", "right back neck facing"]
    assert len(found["front neck facing"].faced) == 2
    whole = unfolded(block("dress"), ("back",), "unfold")
    assert sorted(made(faced(whole, "armhole"))) == [
        "front left armhole facing",
        "front right armhole facing",
        "left back armhole facing",
        "right back armhole facing",
    ]


def test_dart_on_the_edge_is_closed_in_the_facing() -> None:
    """A waist facing of the bodice: shorter by no cloth, its dart folded away."""
    draft = faced(bodice(), "waist", 40.0)
    front = made(draft)["front waist facing"].piece
    waist = label("waist")
    assert front.darts == () and not [s for s in front.outline if s.label.role == "dart leg"]
    assert front.edge_length(waist) == pytest.approx(draft.piece("front").edge_length(waist), abs=1e-9)
    spans = front.edge(waist)
    assert all(abs(a.curve.end - b.curve.start) < 1e-6 for a, b in pairwise(spans))


def test_what_cannot_be_drawn_is_told() -> None:
    """60 mm inside a strap 40 mm long there is no facing; the cut list has a strip instead."""
    names = [label(n) for n in ("hem", "side", "neck", "armhole")]
    piece = polygon_piece((0j, 200 + 0j, 200 + 40j, 40j), names)
    draft = faced(Draft((piece,)), "neck", 60.0)
    told = [f for f in finished(draft, "x").findings if f.code == "no-facing"]
    assert len(told) == 1 and told[0].severity == "warning"
    assert len(finished(draft, "x").pieces) == 1


def test_drawn_edges_take_a_strip() -> None:
    names = [label(n) for n in ("hem", "side", "neck", "armhole")]
    piece = polygon_piece((0j, 200 + 0j, 200 + 300j, 300j), names)
    draft = faced(Draft((piece,)), "neck")
    drawn = replace(draft, drawn=(Drawn("fan", (("panel", label("neck")),), 120.0, "gathering"),))
    assert facings(drawn, Finishes(drawn, DEFAULTS), DEFAULTS) == ((), ())


def test_cutting_line_of_a_facing_holds_it() -> None:
    for made_piece in finished(faced(faced(block("dress"), "neck"), "armhole"), "x").pieces[2:]:
        outer = Polygon(ring(made_piece.cutting))
        assert outer.is_valid and outer.buffer(0.01).covers(Polygon(ring(made_piece.sewing)))
        line = LineString(ring(made_piece.cutting))
        for edge in made_piece.edges:
            p = path.point_at(edge.sewing, path.length(edge.sewing) / 2)
            assert line.distance(ShapelyPoint(p.real, p.imag)) == pytest.approx(edge.allowance, abs=0.05)
