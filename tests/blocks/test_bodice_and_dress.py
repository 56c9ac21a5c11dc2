"""Laws of the bodice and dress blocks on one size: every system, measures over proportions, ease, lengths."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from blocks.block_soundness import EVERY, NAMES, changed, faults, mark_at, turn

from cutonce.blocks import draft_and_findings, draft_block
from cutonce.blocks.bodice_piece import ARMHOLE, CENTRE_BACK, CENTRE_FRONT, HEM, NECK, SHOULDER, SIDE, WAIST
from cutonce.blocks.bodice_systems import bodice_ease
from cutonce.body import Body
from cutonce.checks.wear import wear_findings
from cutonce.draft.piece import Piece
from cutonce.errors import CannotApply
from cutonce.geometry.motion import laying

# --- one size, every system ---------------------------------------------------------------------------


@pytest.mark.parametrize("kind, system", EVERY)
def test_sound(kind: str, system: str, size: Body) -> None:
    assert faults(draft_block(kind, system, size), size, bodice_ease(system, {})) == []


@pytest.mark.parametrize("kind, system", EVERY)
def test_wearable(kind: str, system: str, size: Body) -> None:
    """On a usual size there is nothing to warn of; the proportional armhole is a hair longer than usual."""
    draft = draft_block(kind, system, size)
    said = [(f.severity, f.code) for f in wear_findings(draft, size, bodice_ease(system, {}))]
    assert said == ([("note", "armhole-length")] if system == "proportional" else [])


@pytest.mark.parametrize("kind, system", EVERY)
def test_conventions(kind: str, system: str, size: Body) -> None:
    draft = draft_block(kind, system, size)
    front, back = draft.pieces
    assert (front.key, front.cut, front.fold, front.face) == ("front", "fold", CENTRE_FRONT, "front")
    assert (back.key, back.cut, back.fold, back.face, back.flips) == ("back", "pair", None, "back", 0)
    assert min(s.curve.bounds[0] for s in front.outline) == 0
    assert max(s.curve.bounds[2] for s in back.outline) == 0
    foot = WAIST if kind == "bodice" else HEM
    assert list(front.labels) == [CENTRE_FRONT, foot, SIDE, ARMHOLE, SHOULDER, NECK]
    assert list(back.labels) == [NECK, SHOULDER, ARMHOLE, SIDE, foot, CENTRE_BACK]
    assert [s.name for s in draft.seams] == ["shoulder", "side", "centre back"]
    assert [p.name for p in front.points] == ["bust point"]
    assert front.darts[0].name == "bust dart"
    assert front.pivot(front.darts[0]) == front.points[0].at
    assert back.darts[0].name == "shoulder dart"
    for piece in draft.pieces:  # material of an edge runs on from 0 to its length
        for label in piece.labels:
            spans = piece.edge(label)
            assert spans[0].lo == 0
            assert spans[-1].hi == pytest.approx(piece.edge_length(label), abs=1e-9)
            for one, two in pairwise(spans):
                assert one.hi == two.lo


@pytest.mark.parametrize("kind, system", EVERY)
def test_marks_lie_on_the_landmark_lines(kind: str, system: str, size: Body) -> None:
    for piece in draft_block(kind, system, size).pieces:
        centre = CENTRE_FRONT if piece.face == "front" else CENTRE_BACK
        for line in piece.lines:
            ends = (line.curves[0].start, line.curves[-1].end)
            for label in (centre, SIDE):
                at = mark_at(piece, line.name, label.name)
                assert min(abs(at - end) for end in ends) < 1e-6, (piece.key, line.name, label.key)
        assert abs(mark_at(piece, centre.name, "neck") - _end(piece, centre, top=True)) < 1e-6
        foot = "waist" if kind == "bodice" else "hem"
        assert abs(mark_at(piece, centre.name, foot) - _end(piece, centre, top=False)) < 1e-6


def _end(piece: Piece, label: object, top: bool) -> complex:
    ends = [z for s in piece.outline if s.label == label for z in (s.curve.start, s.curve.end)]
    return max(ends, key=lambda z: z.imag if top else -z.imag)


@pytest.mark.parametrize("kind, system", EVERY)
def test_square_at_centres_and_hem(kind: str, system: str, size: Body) -> None:
    for piece in draft_block(kind, system, size, **({"flare": 40.0} if kind == "dress" else {})).pieces:
        for one, two in zip(piece.outline, piece.outline[1:] + piece.outline[:1], strict=True):
            roles = {one.label.role, two.label.role}
            if roles & {"centre front", "centre back"} or roles in ({"hem", "side"}, {"waist", "side"}):
                corner = turn(one.curve.tangent(1), two.curve.tangent(0))
                assert corner == pytest.approx(90, abs=1e-6), (piece.key, roles)


@pytest.mark.parametrize("kind, system", EVERY)
def test_joined_seams_have_no_corner(kind: str, system: str, size: Body) -> None:
    """Neck and armhole meet the shoulder, and the armhole the side, squarely on both pieces."""
    for piece in draft_block(kind, system, size).pieces:
        for one, two in zip(piece.outline, piece.outline[1:] + piece.outline[:1], strict=True):
            roles = {one.label.role, two.label.role}
            if roles in ({"shoulder", "neck"}, {"shoulder", "armhole"}, {"side", "armhole"}):
                assert turn(one.curve.tangent(1), two.curve.tangent(0)) == pytest.approx(90, abs=1e-6)


@pytest.mark.parametrize("kind, system", EVERY)
def test_edges_are_smooth_across_closed_darts(kind: str, system: str, size: Body) -> None:
    """Waist, shoulder and armhole have no corner where a dart is folded."""
    for piece in draft_block(kind, system, size).pieces:
        for dart in piece.darts:
            first, second = piece.legs(dart)
            before = next(s for s in piece.outline if s.curve.end == first.curve.start)
            after = next(s for s in piece.outline if s.curve.start == second.curve.end)
            close = laying(second.curve.start, second.curve.end, first.curve.end, first.curve.start)
            corner = turn(before.curve.tangent(1), close.of_vector(after.curve.tangent(0)))
            assert corner == pytest.approx(0, abs=1e-5), (piece.key, dart.name)


@pytest.mark.parametrize("kind, system", EVERY)
def test_side_is_smooth(kind: str, system: str, size: Body) -> None:
    for piece in draft_block(kind, system, size).pieces:
        for one, two in pairwise(piece.edge(SIDE)):
            assert turn(one.curve.tangent(1), two.curve.tangent(0)) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("system", NAMES)
def test_front_and_back_side_seams_have_one_shape(system: str, size: Body) -> None:
    front, back = draft_block("dress", system, size, flare=25.0).pieces
    ahead = [s.curve.at(t) - front.edge(SIDE)[0].curve.start for s in front.edge(SIDE) for t in (0.3, 1)]
    behind = [
        s.curve.at(1 - t) - back.edge(SIDE)[-1].curve.end for s in reversed(back.edge(SIDE)) for t in (0.3, 1)
    ]
    for one, two in zip(ahead, behind, strict=True):
        assert abs(one - complex(-two.real, two.imag)) < 1e-9


# --- measures override proportions --------------------------------------------------------------------


@pytest.mark.parametrize("kind, system", EVERY)
def test_measured_bust_point_front_length_and_slope(kind: str, system: str, size: Body) -> None:
    body = changed(
        size,
        bust_span=190.0,
        neck_to_bust_point=262.0,
        front_waist_length=438.0,
        shoulder_drop=44.0,
        across_front_width=326.0,
    )
    draft, findings = draft_and_findings(kind, system, body)
    front, _ = draft.pieces
    assert faults(draft, body, bodice_ease(system, {})) == []
    assert front.points[0].at.real == pytest.approx(95)
    neck_point = front.edge(NECK)[0].curve.start
    assert abs(neck_point - front.points[0].at) == pytest.approx(262, abs=1e-6)
    down = _closed_to_waist(front)
    assert 262 + down == pytest.approx(438, abs=3.5)
    slope = math.degrees(math.asin(44 / 122.5))
    ends = [p.edge(SHOULDER) for p in draft.pieces]
    inner = -turn(-1 + 0j, ends[0][-1].curve.tangent(1))
    chord = ends[1][0].curve.start - ends[1][-1].curve.end
    assert inner + turn(1 + 0j, chord) == pytest.approx(2 * slope, abs=0.01)
    assert {"half bust span", "bust point above the waist"} <= {
        f.message.split(" 1")[0].split(" 9")[0] for f in findings if f.code == "trued"
    }


def _closed_to_waist(front: Piece) -> float:
    """From the bust point down to the waist along the closed waist dart."""
    point = front.points[0].at
    for dart in front.darts:
        if dart.name == "waist dart":
            return point.imag - front.pivot(dart).imag + front.legs(dart)[0].length
    dd = front.double_darts[0]
    return point.imag - dd.upper.imag + abs(dd.left - dd.upper)


def test_a_longer_front_opens_the_bust_dart(size: Body) -> None:
    angles = []
    for length in (425.0, 440.0, 455.0):
        body = changed(size, front_waist_length=length)
        front = draft_block("dress", "proportional", body).piece("front")
        angles.append(front.dart_angle(front.darts[0]))
    assert angles[0] < angles[1] < angles[2]


def test_estimates_do_not_override_a_proportion(size: Body) -> None:
    from cutonce.body.estimate import estimate

    plain = draft_block("dress", "proportional", size)
    with_estimates = draft_block("dress", "proportional", estimate(size, everything=True), length=600.0)
    assert with_estimates == plain


def test_what_truing_altered_is_told(size: Body) -> None:
    _, findings = draft_and_findings("bodice", "proportional", size)
    told = [f for f in findings if f.code == "trued"]
    assert all(f.severity == "note" and f.step == "block" for f in told)
    assert "shoulder 12.7 cm by the system, 12.2 cm as measured" in [f.message for f in told]
    assert {f.where for f in told} == {"block", "front", "back"}


# --- ease ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind, system", EVERY)
def test_stated_ease_is_kept(kind: str, system: str, size: Body) -> None:
    stated = {"bust": 62.0, "waist": 18.0, "hip": 41.0, "neck": 20.0}
    draft = draft_block(kind, system, size, stated)
    assert faults(draft, size, bodice_ease(system, stated)) == []
    neck = 2 * sum(p.edge_length(NECK) for p in draft.pieces)
    assert neck == pytest.approx(370 + 20, abs=1e-4)


@pytest.mark.parametrize("system", NAMES)
def test_negative_ease_is_drafted_and_noted(system: str, size: Body) -> None:
    stated = {"bust": -20.0, "waist": -30.0, "hip": -10.0}
    draft, findings = draft_and_findings("dress", system, size, stated)
    assert faults(draft, size, bodice_ease(system, stated)) == []
    assert [f.code for f in findings].count("negative-ease") == 3


# --- dress --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "length, nape", [({"length": 640.0}, 1045.0), ({"length_from_nape": 1100.0}, 1100.0)]
)
def test_length(length: dict[str, float], nape: float, size: Body) -> None:
    back = draft_block("dress", "proportional", size, **length).piece("back")
    assert back.edge_length(CENTRE_BACK) == pytest.approx(nape)


def test_flare_widens_the_hem_and_keeps_the_hip(size: Body) -> None:
    straight, flared = (draft_block("dress", "direct", size, length=650.0, flare=f) for f in (0.0, 60.0))
    for name in ("front", "back"):
        one, two = straight.piece(name), flared.piece(name)
        assert [x for x in one.lines if x.name == "hip"] == [x for x in two.lines if x.name == "hip"]
        assert 57 < two.edge_length(HEM) - one.edge_length(HEM) < 60
        bottom = min(s.curve.bounds[1] for s in two.outline)
        assert bottom == pytest.approx(-650)  # nothing dips below the centre
    assert faults(flared, size, bodice_ease("direct", {})) == []


def test_too_short(size: Body) -> None:
    with pytest.raises(CannotApply, match=r"23\.0 cm long from the waist ends less than 3 cm below the hip"):
        draft_block("dress", "proportional", size, length=230.0)
