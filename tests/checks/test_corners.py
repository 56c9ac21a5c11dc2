import math
from dataclasses import replace

import pytest
from checks.planted import altered, dress, edge_end, edge_start, found, label, node_moved, skirt, whole

from cutonce.checks.corners import corners
from cutonce.draft.piece import Piece
from cutonce.geometry.curve import Cubic, Line
from cutonce.reshape.unfold import unfolded
from cutonce.steps import cut_out, split_piece
from cutonce.validation import validated


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(corners, draft) == ()


@pytest.mark.parametrize(
    "angle_deg, severity", [(4.5, None), (6.5, "note"), (12.0, "warning"), (-12.0, "warning")]
)
def test_hem_at_the_side(angle_deg: float, severity: str | None) -> None:
    """The front's hem tilted at the side by an angle: the sum with the back is off by as much."""

    def fault(piece: Piece) -> Piece:
        foot = edge_end(piece, label(piece, "hem"))
        lift = foot.real * math.tan(math.radians(angle_deg))
        return node_moved(piece, foot, 1j * lift, "fault")

    said = [
        f for f in found(corners, altered(skirt(), "skirt front", fault)) if f.where.startswith("seam side")
    ]
    assert [f.severity for f in said] == ([severity] if severity else [])
    for finding in said:
        assert finding.where == "seam side, at the hem"
        assert f"of {abs(angle_deg):.0f} degrees" in finding.message
        assert ("a point outward" in finding.message) == (angle_deg < 0) or angle_deg > 0
        assert finding.step == "fault"


def test_fold_that_is_not_square_at_the_hem() -> None:
    def fault(piece: Piece) -> Piece:
        return node_moved(piece, edge_start(piece, label(piece, "hem")), -30j, "fault")

    said = [f for f in found(corners, altered(skirt(), "skirt front", fault)) if f.where.startswith("fold")]
    (finding,) = said
    assert finding.where == "fold at the centre front, at the hem"
    expected = 2 * math.degrees(math.atan2(30, 250))
    assert f"of {expected:.0f} degrees" in finding.message


def test_centre_seam_counts_its_mirror_image() -> None:
    def fault(piece: Piece) -> Piece:
        return node_moved(piece, edge_end(piece, label(piece, "hem")), -30j, "fault")

    said = found(corners, altered(skirt(), "skirt back", fault), ["corner"])
    assert "seam centre back, at the hem" in {f.where for f in said}


def test_a_dart_whose_mouth_has_a_kink_when_folded() -> None:
    def fault(piece: Piece) -> Piece:  # straight runs to mouth ends drawn down: legs alike, the waist dips
        straight = tuple(
            replace(s, curve=Line(s.curve.start, s.curve.end)) if s.label.key == "waist" else s
            for s in piece.outline
        )
        piece = replace(piece, outline=straight)
        one, two = piece.legs(piece.darts[0])
        for node, pivot in ((one.curve.start, one.curve.end), (two.curve.end, two.curve.start)):
            piece = node_moved(piece, node, 12 * (pivot - node) / abs(pivot - node), "fault")
        return piece

    said = found(corners, altered(skirt(), "skirt front", fault), ["kink"])
    assert [(f.where, f.step) for f in said] == [("skirt front, waist, at the waist dart", "fault")]
    assert "with the waist dart folded" in said[0].message


def test_a_kink_within_an_edge() -> None:
    def fault(piece: Piece) -> Piece:  # the hip curve leaves the straight side at 15 degrees
        def bend(span):  # type: ignore[no-untyped-def]
            c = span.curve
            if span.label.key != "side" or not isinstance(c, Cubic):
                return span
            turn = complex(math.cos(math.radians(15)), math.sin(math.radians(15)))
            return replace(span, curve=Cubic(c.a, c.a + (c.b - c.a) * turn, c.c, c.d), made="fault")

        return replace(piece, outline=tuple(bend(s) for s in piece.outline))

    said = found(corners, altered(skirt(), "skirt front", fault), ["kink"])
    assert [(f.where, f.severity, f.step) for f in said] == [("skirt front, side", "warning", "fault")]
    assert "corner of 15 degrees" in said[0].message


def test_a_pointed_neck_at_the_centre_is_only_noted() -> None:
    def fault(piece: Piece) -> Piece:  # a V: the neck's end handle turned towards the shoulder
        def pointed(span):  # type: ignore[no-untyped-def]
            if span.label.key != "neck" or abs(span.curve.end.real) > 1e-6:
                return span
            c = span.curve
            return replace(span, curve=Cubic(c.a, c.b, c.d + 0.3 * (c.a - c.d), c.d), made="fault")

        return replace(piece, outline=tuple(pointed(s) for s in piece.outline))

    said = found(corners, altered(dress(), "front", fault), ["corner"])
    assert [(f.severity, f.where) for f in said] == [("note", "fold at the centre front, at the neck")]


@pytest.mark.parametrize(("shape", "severities"), [("circle", []), ("teardrop", ["note"])])
def test_a_teardrops_point_is_meant(shape: str, severities: list[str]) -> None:
    """A round cut-out runs on smoothly across its seam; a teardrop has one point, which is only noted."""
    values = {
        "at": {"piece": "front", "edge": "side", "from": "hem", "by": "30 cm"},
        "shape": shape,
        "width": "6 cm",
        **({"height": "10 cm"} if shape == "teardrop" else {}),
    }
    holed = cut_out.STEP.apply(dress(), validated(cut_out.CutOut, values, {}, "step 1"), "hole").draft
    said = [f for f in found(corners, holed) if f.where.endswith("at the cut-out")]
    assert [f.severity for f in said] == severities


def test_a_waist_seam_that_runs_on_across_the_centre_has_no_corner_there() -> None:
    """A dress with a waist seam, front and front skirt whole: the left half's seam goes on in the right's."""
    values = {"guide": {"piece": "front", "line": "waist"}, "role": "waist", "seam": "waist seam"}
    values["parts"] = {"above": "front", "below": "front skirt"}
    params = validated(split_piece.STEP.params, values, {}, "")
    draft = unfolded(split_piece.STEP.apply(dress(), params, "waist").draft, ("back",), "unfold")
    assert {s.name for s in draft.seams} >= {"left waist seam", "right waist seam"}
    assert draft.piece("front skirt").wearer is None
    assert [f.where for f in found(corners, draft, ["corner"])] == []
