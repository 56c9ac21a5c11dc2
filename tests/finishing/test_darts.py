"""Darts on finished pieces: the cap folds onto the cutting line, marks stand inside the dart."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from finishing.pieces import cut_of, draft_of, label, piece_of, ring
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from cutonce.blocks import BLOCKS, draft_block
from cutonce.body import body_of
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Folds, Piece
from cutonce.draft.seam import Finish
from cutonce.finishing.cutting import Cutting
from cutonce.finishing.finish import finished
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Motion, Point, reflecting, turning
from cutonce.steps.move_dart import STEP, MoveDart
from cutonce.validation import validated

MEASURES = {
    "height": 1680.0,
    "bust_girth": 940.0,
    "waist_girth": 740.0,
    "hip_girth": 1010.0,
    "neck_base_girth": 370.0,
    "shoulder_length": 124.0,
    "shoulder_drop": 44.0,
    "back_waist_length": 410.0,
    "front_waist_length": 450.0,
    "across_back_width": 355.0,
    "across_front_width": 335.0,
    "scye_depth": 208.0,
    "bust_span": 190.0,
    "neck_to_bust_point": 275.0,
    "waist_to_hip": 200.0,
    "waist_to_knee": 590.0,
    "back_hip_arc": 520.0,
}
"""The body of docs/first-design.md, her height and hip arc added."""


def skirt_top(
    width: float = 30.0,
    slope: float = 0.0,
    capped: bool = True,
    folds: Folds | None = None,
    bow: float = 0.0,
) -> Draft:
    """A panel whose waist (edge along the top, right to left) has a dart 100 mm deep with its legs alike.

    The waist falls by `slope` radians to both sides of the dart, and is bowed by `bow` mm beside it.
    """
    tip = 150 + 200j
    one = tip + 100 * cmath.exp(1j * (math.pi / 2 - math.asin(width / 200)))
    two = 300 - one.conjugate()
    right, left = one + 120 * cmath.exp(-1j * slope), two - 120 * cmath.exp(1j * slope)
    edge = label("waist")

    def line(a: Point, b: Point) -> Curve:
        n = (b - a) * -1j / abs(b - a) * bow
        return Cubic(a, a + (b - a) / 3 + n, b - (b - a) / 3 + n, b) if bow else Line(a, b)

    piece = piece_of(
        [
            (label("hem"), [Line(0j, 300 + 0j)]),
            (label("side"), [Line(300 + 0j, right)]),
            (edge, [line(right, one)]),
            (label("waist dart", "dart leg"), [Line(one, tip), Line(tip, two)]),
            (edge, [line(two, left)]),
            (label("centre front"), [Line(left, 0j)]),
        ]
    )
    dart = Dart("waist dart", capped=capped, folds=folds)
    piece = replace(piece, darts=(dart,), cut="single")
    return draft_of(piece, {"waist": Finish("seam", 12), "hem": Finish("raw", 0)}, ("waist",))


def folded(
    cutting: Cutting, tip: Point, one: Point, two: Point, to_one: bool
) -> tuple[LineString, LineString]:
    """Paper folded as sewn: the dart's cap laid down, and the cutting line beside the leg it lies on.

    Independent of the code: cap points are found by their angle about the tip, then reflected in the leg, and
    those beyond the middle line reflected in the middle line first. A step along the far leg, which has its
    own note, is left out.
    """
    onto = one if to_one else two
    middle = tip + ((one - tip) / abs(one - tip) + (two - tip) / abs(two - tip))
    over, half = reflecting(tip, onto), reflecting(tip, middle)
    cap: list[Point] = []
    for z in (curve.at(k / 50) for curve in cutting.line for k in range(51)):
        share = cmath.phase((z - tip) / (onto - tip)) / cmath.phase((middle - tip) / (onto - tip))
        if abs(z - tip) < 2 * abs(onto - tip) and 0 <= share <= 2 - 1e-6:
            cap.append(over(z if share <= 1 else half(z)))
    line = LineString(ring(cutting.line, 0.001))
    return LineString([(p.real, p.imag) for p in cap]), line


@settings(max_examples=30, deadline=None)
@given(
    st.floats(8, 60),
    st.floats(-0.25, 0.25),
    st.floats(-6, 6),
    st.sampled_from(["toward centre", "toward side"]),
)
def test_cap_folds_onto_the_cutting_line(width: float, slope: float, bow: float, way: Folds) -> None:
    draft = skirt_top(width, slope, folds=way, bow=bow)
    piece = draft.pieces[0]
    cutting = cut_of(draft)
    one, two = (leg for leg in piece.legs(piece.darts[0]))
    cap, line = folded(
        cutting, piece.pivot(piece.darts[0]), one.curve.start, two.curve.end, way == "toward side"
    )
    assert len(cap.coords) > 20
    assert max(line.distance(ShapelyPoint(p)) for p in cap.coords) < 0.05
    assert [f for f in cutting.findings if f.severity != "note"] == []


def test_closed_dart_has_one_cutting_line() -> None:
    """A waist that runs on straight when the dart is closed: no step at the far leg."""
    draft = skirt_top(30.0, slope=math.asin(30 / 200))
    cutting = cut_of(draft)
    assert cutting.findings == ()
    mouth = cutting.mouths[0]
    turn: Motion = turning(2 * math.asin(30 / 200), mouth.mouth.tip)
    assert abs(turn(mouth.first) - mouth.second) < 1e-9


def test_a_dart_that_nobody_capped_is_capped_the_way_the_paper_says() -> None:
    """Pressed toward the centre, as printed: folded so, the default cap lies on the cutting line."""
    draft = skirt_top(40.0, slope=0.1, capped=False, bow=4.0)
    piece = draft.pieces[0]
    cutting = cut_of(draft)
    one, two = piece.legs(piece.darts[0])
    cap, line = folded(cutting, piece.pivot(piece.darts[0]), one.curve.start, two.curve.end, to_one=False)
    assert len(cap.coords) > 20
    assert max(line.distance(ShapelyPoint(p)) for p in cap.coords) < 0.05
    assert [f.code for f in cutting.findings if f.severity != "note"] == []
    (drawn,) = finished(draft, "skirt").pieces[0].darts
    assert drawn.press == "press towards the centre" and drawn.cap
    stated = cut_of(skirt_top(40.0, slope=0.1, folds="toward centre", bow=4.0))
    assert stated.line == cutting.line


def armhole_dart(by: str) -> Draft:
    to = {"piece": "front", "edge": "armhole", "from": "shoulder", "by": by}
    asked = validated(MoveDart, {"piece": "front", "dart": "bust dart", "to": to}, {}, "s")
    return STEP.apply(draft_block("bodice", "direct", body_of("Ida", MEASURES)), asked, "s").draft


def test_a_cap_that_would_run_into_the_edge_is_not_drawn() -> None:
    """Higher still the armhole folded over it runs into the armhole beyond: nothing is cut off unsaid."""
    found = [f.code for f in cut_of(armhole_dart("4 cm"), "front").findings]
    assert found == ["no-cap"]


def test_the_other_way_is_taken_where_only_that_closes_and_printed() -> None:
    """High in the armhole the mouth lies level, but the armhole closes over it from the side only."""
    draft = armhole_dart("8 cm")
    cutting = cut_of(draft, "front")
    assert [f.code for f in cutting.findings if f.severity == "warning"] == []
    mouth = next(m.mouth for m in cutting.mouths if m.name == "armhole dart")
    cap, line = folded(cutting, mouth.tip, mouth.one, mouth.two, mouth.to_one)
    assert len(cap.coords) > 20
    assert max(line.distance(ShapelyPoint(p)) for p in cap.coords) < 0.05
    drawn = next(d for d in finished(draft, "x").piece("front").darts if d.name == "armhole dart")
    assert drawn.press == "press towards the side" and drawn.cap
    piece = draft.piece("front")
    centre = tuple(replace(d, folds="toward centre") for d in piece.darts if d.name == "armhole dart")
    stated = cut_of(draft.with_pieces([replace(piece, darts=centre)]), "front")
    assert "no-cap" in [f.code for f in stated.findings]


@pytest.mark.parametrize("capped", [True, False])
def test_where_no_cap_can_be_drawn_it_is_told(capped: bool) -> None:
    """A waist that rises beside the dart more steeply than its legs: reflected in a leg, it never closes."""
    cutting = cut_of(skirt_top(40.0, slope=-1.3, capped=capped))
    assert [f.code for f in cutting.findings if f.severity != "note"] == ["no-cap"]


@pytest.mark.parametrize(("kind", "system"), [(b.kind, s) for b in BLOCKS for s in b.systems])
def test_darts_of_plain_blocks_are_capped_on_the_cutting_line(kind: str, system: str) -> None:
    """Nothing is said of caps, and each cap, folded as printed, lies on the cutting line beside its leg."""
    draft = draft_block(kind, system, body_of("Ida", MEASURES))
    done = finished(draft, "x")
    assert not [f for f in done.findings if f.code in ("no-cap", "dart-fold") or f.severity == "stop"]
    for piece in draft.pieces:
        cutting = cut_of(draft, piece.key)
        for mouth in (m.mouth for m in cutting.mouths):
            cap, line = folded(cutting, mouth.tip, mouth.one, mouth.two, mouth.to_one)
            assert len(cap.coords) > 20
            assert max(line.distance(ShapelyPoint(p)) for p in cap.coords) < 0.05


def test_impossible_fold_is_told_and_folded_the_usual_way() -> None:
    cutting = cut_of(skirt_top(folds="up"))
    assert [f.code for f in cutting.findings if f.severity == "warning"] == ["dart-fold"]


def test_drawn_dart_and_drill_marks() -> None:
    draft = skirt_top(30.0)
    short = replace(draft.pieces[0], darts=(replace(draft.pieces[0].darts[0], short=20.0),))
    made = finished(replace(draft, pieces=(short,)), "skirt").pieces[0]
    (dart,) = made.darts
    assert dart.tips == (pytest.approx(150 + 220j),)
    assert dart.intake == pytest.approx(30.0)
    assert dart.press == "press towards the centre"
    assert dart.legs[0][0].start.imag == pytest.approx(dart.legs[1][0].start.imag)
    assert all(leg[-1].end == dart.tips[0] for leg in dart.legs)
    assert dart.cap[0].start == pytest.approx(dart.legs[0][0].start)
    assert dart.cap[-1].end == pytest.approx(dart.legs[1][0].start)
    assert [d.at for d in made.drills] == [pytest.approx(150 + 230j)]


def test_double_dart_marks() -> None:
    base = draft_of(skirt_top().pieces[0], {})
    dart = DoubleDart("back dart", 80 + 180j, 80 + 40j, 70 + 110j, 90 + 110j)
    piece: Piece = replace(base.pieces[0], double_darts=(dart,))
    made = finished(Draft((piece,)), "skirt").pieces[0]
    found = {d.at for d in made.drills if d.mark_of == "back dart"}
    assert found == {80 + 170j, 80 + 50j, 73 + 110j, 87 + 110j}
    drawn = next(d for d in made.darts if d.name == "back dart")
    assert drawn.intake == 20 and len(drawn.legs) == 4 and drawn.tips == (80 + 180j, 80 + 40j)


def test_dart_notches_lie_on_the_drawn_on_legs() -> None:
    draft = skirt_top(30.0)
    made = finished(draft, "skirt").pieces[0]
    notches = [n for n in made.notches if n.kind == "dart"]
    line = LineString(ring(made.cutting))
    assert len(notches) == 2
    for n in notches:
        assert line.distance(ShapelyPoint(n.at.real, n.at.imag)) < 0.01
        assert abs(cmath.phase((n.at - n.sewing) / (n.sewing - (150 + 200j)))) < 1e-6


def test_touching_darts_are_told() -> None:
    """Two darts with no cloth between their mouths: nothing is left out in silence."""
    edge = label("waist")
    piece = piece_of(
        [
            (label("hem"), [Line(0j, 300 + 0j)]),
            (label("side"), [Line(300 + 0j, 300 + 300j)]),
            (edge, [Line(300 + 300j, 180 + 300j)]),
            (label("one", "dart leg"), [Line(180 + 300j, 165 + 200j), Line(165 + 200j, 150 + 300j)]),
            (label("two", "dart leg"), [Line(150 + 300j, 135 + 200j), Line(135 + 200j, 120 + 300j)]),
            (edge, [Line(120 + 300j, 300j)]),
            (label("centre front"), [Line(300j, 0j)]),
        ]
    )
    piece = replace(piece, darts=(Dart("one", capped=True), Dart("two", capped=True)))
    found = cut_of(draft_of(piece, {})).findings
    assert [(f.code, f.severity) for f in found] == [("darts-touch", "stop")]
    assert "the one" in found[0].message


def test_dart_in_a_corner_is_bridged_with_its_step_told() -> None:
    """A dart between shoulder and bound armhole: the allowances differ by 10 mm, which shows as a step."""
    one, two = 190 + 300j, 165 + 311.3j
    piece = piece_of(
        [
            (label("hem"), [Line(0j, 200 + 0j)]),
            (label("side"), [Line(200 + 0j, 210 + 200j)]),
            (label("armhole"), [Line(210 + 200j, one)]),
            (label("tip dart", "dart leg"), [Line(one, 120 + 180j), Line(120 + 180j, two)]),
            (label("shoulder"), [Line(two, 60 + 340j)]),
            (label("centre front"), [Line(60 + 340j, 0j)]),
        ]
    )
    piece = replace(piece, darts=(Dart("tip dart", capped=True),))
    finishes = {"armhole": Finish("bound", 0.0), "shoulder": Finish("seam", 10.0)}
    cutting = cut_of(draft_of(piece, finishes, ("shoulder",)))
    assert [f.code for f in cutting.findings] == ["dart-jog"]
    assert Polygon(ring(cutting.line)).is_valid
