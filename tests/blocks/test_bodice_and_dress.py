"""Laws of the bodice and dress blocks: one size, any plausible body, every woman of two data sets."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

import pytest
from blocks.block_soundness import faults, turn
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from cutonce.blocks import draft_and_findings, draft_block
from cutonce.blocks.bodice_piece import ARMHOLE, CENTRE_BACK, CENTRE_FRONT, HEM, NECK, SHOULDER, SIDE, WAIST
from cutonce.blocks.bodice_systems import SYSTEMS, bodice_ease
from cutonce.blocks.bodice_waist import WIDEST_DART
from cutonce.body import Body, body_of
from cutonce.checks.wear import wear_findings
from cutonce.draft.piece import Piece
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.motion import laying
from cutonce.reshape.unfold import unfolded

NAMES = [s.name for s in SYSTEMS]
KINDS = ("bodice", "dress")
EVERY = [(kind, system) for kind in KINDS for system in NAMES]


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
                at = _mark(piece, line.name, label.name)
                assert min(abs(at - end) for end in ends) < 1e-6, (piece.key, line.name, label.key)
        assert abs(_mark(piece, centre.name, "neck") - _end(piece, centre, top=True)) < 1e-6
        foot = "waist" if kind == "bodice" else "hem"
        assert abs(_mark(piece, centre.name, foot) - _end(piece, centre, top=False)) < 1e-6


def _mark(piece: Piece, name: str, edge: str) -> complex:
    mark = next(m for m in piece.marks if m.name == name and m.origin.name == edge)
    span = next(s for s in piece.outline if s.origin == mark.origin and s.holds(mark.at))
    return span.curve.at(span.curve.at_length(span.arc_at(mark.at)))


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
    measures = {m.key: m.mm for m in size.measures} | {
        "bust_span": 190.0,
        "neck_to_bust_point": 262.0,
        "front_waist_length": 438.0,
        "shoulder_drop": 44.0,
        "across_front_width": 326.0,
    }
    body = body_of("measured", measures)
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
        body = body_of("", {m.key: m.mm for m in size.measures} | {"front_waist_length": length})
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


# --- uneven bodies ------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind, system", EVERY)
def test_uneven_halves_meet_at_the_centre(kind: str, system: str, uneven: Body) -> None:
    draft = draft_block(kind, system, uneven)
    assert draft.twin is not None
    assert faults(draft, uneven, bodice_ease(system, {})) == []
    assert [p.labels for p in draft.pieces] == [p.labels for p in draft.twin.pieces]
    for name, label in (("front", CENTRE_FRONT), ("back", CENTRE_BACK)):
        left, right = draft.piece(name), draft.twin.piece(name)
        assert left.edge_length(label) == pytest.approx(right.edge_length(label), abs=1e-6)
        for mark in ("bust", "waist"):
            assert _mark(left, mark, label.name) == pytest.approx(_mark(right, mark, label.name), abs=1e-6)
    for half, drop, length in ((draft, 38, 126), (draft.twin, 50, 120)):
        assert half.piece("front").edge_length(SHOULDER) == pytest.approx(length)
        slopes = 2 * math.asin(drop / length)
        front, back = (p.edge(SHOULDER) for p in half.pieces)
        inner = -turn(-1 + 0j, front[-1].curve.tangent(1))
        chord = back[0].curve.start - back[-1].curve.end
        assert inner + turn(1 + 0j, chord) == pytest.approx(math.degrees(slopes), abs=0.01)
    joined = unfolded(draft, (), "halves")
    assert joined.unfolded


def test_each_armhole_goes_with_its_shoulder(uneven: Body) -> None:
    draft = draft_block("dress", "proportional", uneven)
    assert draft.twin is not None
    left, right = (h.piece("front").edge(ARMHOLE)[0].curve.start.imag for h in (draft, draft.twin))
    assert left - right == pytest.approx(50 - 38)


def test_uneven_hip_levels_are_told(size: Body) -> None:
    body = body_of("", {m.key: m.mm for m in size.measures} | {"waist_to_hip": (210.0, 200.0)})
    draft, findings = draft_and_findings("dress", "proportional", body)
    assert "hip-line-level" in [f.code for f in findings]
    assert draft.twin is None
    assert [x.curves[0].start.imag for x in draft.piece("front").lines if x.name == "hip"] == [-205]
    apart = body_of(
        "",
        {m.key: m.mm for m in body.measures if m.key != "waist_to_hip"}
        | {"waist_to_hip": (210.0, 200.0), "shoulder_length": (125.0, 120.0)},
    )
    draft, findings = draft_and_findings("dress", "proportional", apart)
    assert "hip-line-level" in [f.code for f in findings]
    assert draft.twin is not None
    lines = [x for d in (draft, draft.twin) for x in d.piece("front").lines if x.name == "hip"]
    assert [x.curves[0].start.imag for x in lines] == [-205, -205]


def test_arms_that_differ_need_no_two_halves(size: Body) -> None:
    body = body_of("", {m.key: m.mm for m in size.measures} | {"upper_arm_girth": (280.0, 290.0)})
    assert draft_block("dress", "proportional", body).twin is None


# --- any plausible body -------------------------------------------------------------------------------


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    """Bodies round common proportions, each measure off on its own; the optional ones there or not, some of
    them different on the two sides."""
    bust = draw(st.floats(740, 1350))

    def about(mm: float, share: float) -> float:
        return mm * (1 + draw(st.floats(-share, share)))

    back = about(340 + 0.075 * bust, 0.06)
    shoulder = about(130, 0.1)
    found: dict[str, float | tuple[float, float]] = {
        "bust_girth": bust,
        "waist_girth": bust * draw(st.floats(0.62, 1.05)),
        "hip_girth": bust * draw(st.floats(0.86, 1.25)),
        "back_waist_length": back,
        "waist_to_hip": about(215, 0.15),
        "neck_base_girth": about(255 + 0.12 * bust, 0.06),
        "shoulder_length": shoulder,
        "across_back_width": about(344 + 0.25 * (bust - 880), 0.05),
        "scye_depth": about(210 + 0.1 * (bust - 880), 0.06),
    }
    optional = {
        "bust_span": 0.205 * bust,
        "neck_to_bust_point": bust / 5 + 83,
        "front_waist_length": back + 7 / 60 * bust - 54,
        "across_front_width": 324 + 0.3 * (bust - 880),
        "shoulder_drop": 0.35 * shoulder,
    }
    for key, mm in optional.items():
        if draw(st.booleans()):
            found[key] = about(mm, 0.05)
    for key in ("shoulder_length", "shoulder_drop", "neck_to_bust_point", "front_waist_length", "scye_depth"):
        value = found.get(key)
        if isinstance(value, float) and draw(st.integers(0, 4)) == 0:
            found[key] = (value, value * (1 + draw(st.floats(-0.04, 0.04))))
    return body_of("any", found)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(bodies(), st.sampled_from(EVERY), st.floats(-40, 160), st.floats(-30, 90), st.floats(-20, 120))
def test_sound_on_any_plausible_body(
    body: Body, what: tuple[str, str], bust: float, waist: float, hip: float
) -> None:
    """Sound, or refused in one clear line; never anything in between."""
    kind, system = what
    stated = {"bust": bust, "waist": waist, "hip": hip}
    try:
        draft = draft_block(kind, system, body, stated)
    except CannotApply as problem:
        assert problem.code in {"no-armhole", "too-low", "bust-point-off", "impossible-measure"}
        assume(False)
    assert faults(draft, body, bodice_ease(system, stated)) == []
    halves = [d for d in (draft, draft.twin) if d is not None]
    for half in halves:
        for piece in half.pieces:
            for dart in piece.double_darts:
                assert 0 < dart.intake <= WIDEST_DART + 1e-9
    codes = {f.code for f in wear_findings(draft, body, bodice_ease(system, stated))}
    assert not codes & {
        "girth",
        "neckline",
        "shoulder",
        "scye-depth",
        "neck-not-square",
        "neck-corner",
        "armhole-corner",
        "underarm-corner",
        "armhole-kink",
        "armhole-bends",
        "back-waist-length",
        "front-waist-length",
        "bust-span",
        "bust-point",
        "wide-dart",
    }


# --- every woman of two open data sets ----------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("system, every", [("proportional", 1), ("direct", 1), ("older proportional", 6)])
@pytest.mark.parametrize("people, least", [("ansur", 1588), ("bdims", 260)])
def test_every_woman(
    kind: str, system: str, every: int, people: str, least: int, request: pytest.FixtureRequest
) -> None:
    """No exception, closed, simple, seams within 0.1 mm and girths within 0.5 mm: all of them, not 99 %."""
    women: tuple[Body, ...] = request.getfixturevalue(people)
    assert len(women) == least
    ease = bodice_ease(system, {})
    wrong = {}
    for body in women[::every]:
        said = faults(draft_block(kind, system, body), body, ease)
        if said:
            wrong[body.name] = said
    assert wrong == {}


SHAPE = {
    "girth",
    "neckline",
    "shoulder",
    "shoulder-slope",
    "neck-not-square",
    "neck-corner",
    "armhole-corner",
    "underarm-corner",
    "armhole-kink",
    "armhole-bends",
    "back-waist-length",
    "balance",
    "wide-dart",
}
"""What a block must never be told on account of its drafting, whatever the body."""


@pytest.mark.parametrize("system", ["proportional", "direct"])
def test_wear_on_every_woman(system: str, ansur: tuple[Body, ...]) -> None:
    """Nothing of how the block is drawn is out of range. Of body against block: an armhole gives way to a
    short shoulder for fewer than one in six, its length or width is out of range for fewer than a third."""
    counts: dict[str, int] = {}
    for body in ansur[::2]:
        draft = draft_block("dress", system, body)
        for code in {f.code for f in wear_findings(draft, body, bodice_ease(system, {}))}:
            counts[code] = counts.get(code, 0) + 1
    assert not set(counts) & SHAPE
    assert set(counts) <= {
        "across-back",
        "armhole-length",
        "armhole-width",
        "armhole-corner-depth",
        "scye-depth-not-measured",
    }
    assert counts.get("across-back", 0) < len(ansur[::2]) / 6
    assert max(counts["armhole-length"], counts["armhole-width"]) < len(ansur[::2]) / 3


# --- bad input ----------------------------------------------------------------------------------------

Kind = Literal["bodice", "dress"]


def _with(size: Body, **changes: float) -> Body:
    return body_of("Ida", {m.key: m.mm for m in size.measures} | changes)


@pytest.mark.parametrize(
    "changes, code",
    [
        ({"across_back_width": 600.0}, "no-armhole"),
        ({"across_front_width": 560.0}, "no-armhole"),
        ({"bust_span": 400.0}, "bust-point-off"),
        ({"bust_span": 95.0, "neck_to_bust_point": 350.0, "front_waist_length": 390.0}, "too-low"),
        ({"scye_depth": 380.0}, "too-low"),
        ({"front_waist_length": 200.0}, "impossible-measure"),
        ({"bust_span": 300.0, "neck_to_bust_point": 70.0}, "impossible-measure"),
        ({"shoulder_drop": 130.0}, "impossible-measure"),
    ],
)
@pytest.mark.parametrize("kind", KINDS)
def test_measures_that_cannot_be_drafted(kind: str, changes: dict[str, float], code: str, size: Body) -> None:
    with pytest.raises(CannotApply) as caught:
        draft_block(kind, "proportional", _with(size, **changes))
    assert caught.value.code == code
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("missing", ["bust_girth", "waist_girth", "back_waist_length"])
def test_missing_measure(missing: str, size: Body) -> None:
    body = body_of("Ida", {m.key: m.mm for m in size.measures if m.key != missing})
    with pytest.raises(CannotApply, match=missing):
        draft_block("bodice", "proportional", body)


@pytest.mark.parametrize("missing", ["neck_base_girth", "shoulder_length", "across_back_width", "scye_depth"])
def test_direct_wants_the_measures_it_is_named_for(missing: str, size: Body) -> None:
    body = body_of("Ida", {m.key: m.mm for m in size.measures if m.key != missing})
    with pytest.raises(CannotApply, match=missing):
        draft_block("bodice", "direct", body)
    draft_block("bodice", "proportional", body)


def test_unknown_system_lists_the_choices(size: Body) -> None:
    with pytest.raises(BadInput, match="no bodice system 'french'; there are: 'proportional', 'direct'"):
        draft_block("bodice", "french", size)


def test_unknown_ease_lists_the_choices(size: Body) -> None:
    with pytest.raises(BadInput, match="no ease at 'elbow'; it has: bust, waist, hip, neck"):
        draft_block("dress", "", size, {"elbow": 10.0})


def test_unknown_length_lists_the_choices(size: Body) -> None:
    with pytest.raises(BadInput, match="a dress has no 'train'; it has: length, length_from_nape, flare"):
        draft_block("dress", "", size, train=10.0)
    with pytest.raises(BadInput, match="a bodice has no 'length'; it has: none"):
        draft_block("bodice", "", size, length=10.0)
    with pytest.raises(BadInput, match="both 'length' and 'length_from_nape'"):
        draft_block("dress", "", size, length=600.0, length_from_nape=1000.0)


# --- bodies that ask much -----------------------------------------------------------------------------


def test_waist_over_bust_has_no_darts(size: Body) -> None:
    body = _with(size, waist_girth=990.0, hip_girth=1000.0)
    for kind in KINDS:
        draft, findings = draft_and_findings(kind, "proportional", body)
        assert faults(draft, body, bodice_ease("proportional", {})) == []
        assert all(not p.double_darts for p in draft.pieces)
        assert not {"waist dart", "side waist dart"} & {d.name for p in draft.pieces for d in p.darts}
        assert "waist-over-bust" in {f.code for f in findings}


def test_a_very_small_waist_is_told(size: Body) -> None:
    _, findings = draft_and_findings("dress", "proportional", _with(size, waist_girth=480.0))
    assert "side-takes-much" in {f.code for f in findings}


def test_short_front_keeps_a_dart_and_is_told(size: Body) -> None:
    draft, findings = draft_and_findings("dress", "proportional", _with(size, front_waist_length=385.0))
    front = draft.piece("front")
    assert math.degrees(front.dart_angle(front.darts[0])) == pytest.approx(2)
    assert "bust-dart-limit" in {f.code for f in findings}


def test_a_shoulder_too_short_for_the_back_moves_the_armhole_in(size: Body) -> None:
    body = _with(size, shoulder_length=105.0, across_back_width=380.0)
    draft, findings = draft_and_findings("bodice", "proportional", body)
    assert "so that the shoulder reaches beyond it" in " ".join(f.message for f in findings)
    codes = [f.code for f in wear_findings(draft, body, bodice_ease("proportional", {}))]
    assert "across-back" in codes and "armhole-bends" not in codes
