"""Blocks from typed points: the worked example and laws."""

import cmath
import copy
import math
import tomllib
from typing import Any

import pytest
from blocks.outline_documents import EXAMPLE, changed, drawn
from hypothesis import given
from hypothesis import strategies as st

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Side
from cutonce.draft.span import Label
from cutonce.geometry.path import flattened, point_at

# --- the worked example -------------------------------------------------------------------------------


def test_the_example_draws_without_a_word() -> None:
    draft, findings = drawn(tomllib.loads(EXAMPLE))
    assert findings == ()
    front, back = draft.pieces
    assert [e.key for e in front.labels] == ["hem", "side", "armhole", "shoulder", "neck", "centre front"]
    assert (front.cut, front.fold and front.fold.key, back.fold and back.fold.key) == (
        "fold",
        "centre front",
        "centre back",
    )
    lengths = {(p.name, e.key): p.edge_length(e) for p in draft.pieces for e in p.labels}
    assert lengths["front", "side"] == pytest.approx(155 + 40)  # the dart's mouth of 30 is no cloth
    assert lengths["front", "shoulder"] == pytest.approx(math.hypot(105, 35))
    assert lengths["back", "shoulder"] == pytest.approx(math.hypot(110, 35.7))
    for seam in draft.seams:
        a, b = draft.side_length(seam.a), draft.side_length(seam.b)
        assert abs(seam.relation.left_over(a, b)) < 0.05


def test_the_example_lies_as_half_pieces_lie() -> None:
    front, back = drawn(tomllib.loads(EXAMPLE))[0].pieces
    assert min(s.curve.bounds[0] for s in front.outline) == 0
    assert max(s.curve.bounds[2] for s in back.outline) == 0


def test_curves_of_the_example_are_square_where_asked_and_as_deep_as_asked() -> None:
    front = drawn(tomllib.loads(EXAMPLE))[0].piece("front")
    armhole, shoulder = (front.edge(Label(n, n)) for n in ("armhole", "shoulder"))  # type: ignore[arg-type]
    assert abs(armhole[0].curve.tangent(0) - -1) < 1e-9
    assert abs((armhole[-1].curve.tangent(1).conjugate() * shoulder[0].curve.tangent(0)).real) < 1e-9
    p, q = armhole[0].curve.start, armhole[-1].curve.end
    depths = [((z - p) * ((q - p) / abs(q - p)).conjugate()).imag for z in flattened([armhole[0].curve])]
    assert max(abs(d) for d in depths) == pytest.approx(45, abs=0.1)


def test_dart_of_the_example() -> None:
    front = drawn(tomllib.loads(EXAMPLE))[0].piece("front")
    dart = front.dart("bust dart")
    one, two = front.legs(dart)
    assert one.length == pytest.approx(math.hypot(145, 15)) == two.length
    assert front.pivot(dart) == 100 + 170j
    assert front.dart_angle(dart) == pytest.approx(2 * math.atan2(15, 145))
    assert abs(front.dart_tip(dart) - (120 + 170j)) < 1e-9
    assert [(p.name, p.at) for p in front.points] == [("bust point", 100 + 170j)]


def test_grain_and_marks_of_the_example() -> None:
    front, back = drawn(tomllib.loads(EXAMPLE))[0].pieces
    assert (front.grain.at, front.grain.along) == (80 + 110j, 1j)
    assert back.grain.along == 1j
    at = {
        (m.name, m.origin.name): point_at([s.curve], s.arc_at(m.at))
        for m in front.marks
        for s in front.outline
        if s.origin == m.origin and s.holds(m.at)
    }
    assert at["bust", "centre front"] == 170j
    assert abs(at["centre front", "neck"] - 315j) < 1e-9
    assert at["centre front", "hem"] == 0j


# --- laws ---------------------------------------------------------------------------------------------


def lengths_of(draft: Draft) -> dict[tuple[str, str], float]:
    return {(p.key, e.key): p.edge_length(e) for p in draft.pieces for e in p.labels}


def test_clockwise_is_turned() -> None:
    document = tomllib.loads(EXAMPLE)
    backwards = copy.deepcopy(document)
    for piece in backwards["pieces"]:
        piece["edges"] = [
            {
                **e,
                "points": e["points"][::-1],
                **({"start": turned(e["end"])} if "end" in e else {}),
                **({"end": turned(e["start"])} if "start" in e else {}),
            }
            for e in piece["edges"][::-1]
        ]
    one, two = drawn(document)[0], drawn(backwards)[0]
    assert lengths_of(one) == pytest.approx(lengths_of(two))
    for p, q in zip(one.pieces, two.pieces, strict=True):
        assert q.area == pytest.approx(p.area)
        assert q.area > 0
        assert {(m.name, m.origin.name): m.at for m in p.marks} == pytest.approx(
            {(m.name, m.origin.name): m.at for m in q.marks}
        )


def turned(heading: str) -> str:
    return {"left": "right", "right": "left", "up": "down", "down": "up"}.get(heading, heading)


def test_a_right_half_is_turned_over_and_said_so() -> None:
    document = changed(
        lambda piece: piece["points"].update({"2": {"left": "30 cm"}, "4": {"right": "30 cm"}})
    )
    draft, findings = drawn(document)
    (piece,) = draft.pieces
    assert [f.code for f in findings] == ["turned-over"]
    assert min(s.curve.bounds[0] for s in piece.outline) == 0
    assert piece.area == pytest.approx(300 * 400)
    assert piece.flips == 0
    for label in piece.labels:
        assert piece.edge(label)[0].lo == 0


def test_a_leaning_fold_is_turned_upright() -> None:
    def lean(piece: dict[str, Any]) -> None:
        turn = cmath.exp(1j * math.radians(3))
        for name, z in zip("1234", (0j, 300, 300 + 400j, 400j), strict=True):
            w = z * turn
            piece["points"][name] = {"x": f"{w.real} mm", "y": f"{w.imag} mm"}

    draft, findings = drawn(changed(lean))
    assert [f.code for f in findings] == ["turned-upright"]
    corners = [s.curve.start - draft.pieces[0].outline[0].curve.start for s in draft.pieces[0].outline]
    assert max(abs(a - b) for a, b in zip(corners, [0j, 300, 300 + 400j, 400j], strict=True)) < 1e-6


@given(
    st.lists(st.floats(60, 500), min_size=3, max_size=9),
    st.complex_numbers(max_magnitude=2000),
    st.booleans(),
)
def test_polygons_keep_their_sides_and_area(radii: list[float], at: complex, backwards: bool) -> None:
    """Any polygon star-shaped about a point, typed either way round, anywhere on the paper."""
    n = len(radii)
    corners = [at + r * cmath.exp(2j * math.pi * k / n) for k, r in enumerate(radii)]
    order = list(range(n))[:: -1 if backwards else 1]
    names = [str(k) for k in range(n)]
    document = {
        "schema": 1,
        "pieces": [
            {
                "name": "yoke",
                "points": {
                    k: {"x": f"{c.real:.9f} mm", "y": f"{c.imag:.9f} mm"}
                    for k, c in zip(names, corners, strict=True)
                },
                "edges": [
                    {"name": f"e{i}", "role": "style line", "points": [names[i], names[j]]}
                    for i, j in zip(order, [*order[1:], order[0]], strict=True)
                ],
            }
        ],
    }
    (piece,) = drawn(document)[0].pieces
    cross = (
        sum((p.conjugate() * q).imag for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)) / 2
    )
    assert piece.area == pytest.approx(abs(cross), rel=1e-6)
    sides = sorted(abs(p - q) for p, q in zip(corners, [*corners[1:], corners[0]], strict=True))
    assert sorted(piece.edge_length(e) for e in piece.labels) == pytest.approx(sides, abs=1e-6)


@given(st.floats(5, 140), st.booleans())
def test_arc_has_the_depth_asked_for(depth: float, inward: bool) -> None:
    way = "inward" if inward else "outward"
    draft, _ = drawn(changed(lambda piece: piece["edges"][1].update({way: f"{depth} mm"})))
    (curve,) = (s.curve for s in draft.pieces[0].edge(Label("side", "side")))
    assert curve.at(0.5) == pytest.approx(300 + (-depth if inward else depth) + 200j)


def test_lengths_may_be_worked_out_from_measures() -> None:
    document = changed(lambda piece: piece["points"].update({"2": {"right": "hip_girth / 4 + 1 cm"}}))
    document["pieces"][0]["points"]["4"] = {"left": "hip_girth / 4 + 1 cm"}
    assert drawn(document)[0].pieces[0].edge_length(Label("hem", "hem")) == pytest.approx(250)


def test_a_pair_gets_its_centre_seam() -> None:
    draft, _ = drawn(changed(lambda piece: piece.update(cut="pair")))
    side = Side("front", (Label("centre front", "centre front"),))
    assert [(s.name, s.a, s.b) for s in draft.seams] == [("centre front", side, side)]


def test_a_whole_garment_keeps_where_it_was_typed() -> None:
    document = changed(lambda piece: piece.update(cut="single"))
    document["whole"] = True
    for edge, wearer in zip(document["pieces"][0]["edges"], ("left", "left", "right", "right"), strict=True):
        edge["wearer"] = wearer
    document["pieces"][0]["points"]["1"] = {"x": "9 cm", "y": "2 cm"}
    draft, findings = drawn(document)
    assert (draft.unfolded, findings) == (True, ())
    assert draft.pieces[0].outline[0].curve.start == 90 + 20j
    assert [e.key for e in draft.pieces[0].labels] == [
        "left hem",
        "left side",
        "right waist",
        "right centre front",
    ]


def test_smooth_and_square_follow_their_neighbours() -> None:
    def bend(piece: dict[str, Any]) -> None:
        piece["edges"][1].update(end="square", outward="2 cm")  # waits for the waist
        piece["edges"][2].update(start="200 deg", fullness=1)

    piece = drawn(changed(bend))[0].pieces[0]
    side, waist = piece.edge(Label("side", "side"))[-1], piece.edge(Label("waist", "waist"))[0]
    assert abs((side.curve.tangent(1).conjugate() * waist.curve.tangent(0)).real) < 1e-9
    assert waist.curve.tangent(0) == pytest.approx(cmath.exp(1j * math.radians(200)))


def test_unused_points_are_told() -> None:
    _, findings = drawn(changed(lambda piece: piece["points"].update({"9": {"up": "1 cm"}})))
    assert [(f.severity, f.code, f.message) for f in findings] == [
        ("note", "unused-point", "point 9 is not used")
    ]


def test_a_mark_at_a_corner_marks_both_edges() -> None:
    document = changed(lambda piece: piece.update(marks=[{"name": "waist", "at": 3}]))
    marks = drawn(document)[0].pieces[0].marks
    assert {(m.origin.name, m.at) for m in marks if m.name == "waist"} == {("side", 400.0), ("waist", 0.0)}
