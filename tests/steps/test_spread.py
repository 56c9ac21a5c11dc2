"""Slash and spread, the step: worked numbers, kept edges, the part that stays, what is refused and how."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from steps.drafts import bodice, skirt, whole_dress

from cutonce.draft.draft import Draft
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.reshape.places import chain
from cutonce.reshape.soundness import crossing, gap
from cutonce.steps.spread import STEP, Spread
from cutonce.steps.step import Result

FRONT = "skirt front"


def params(**values: Any) -> Spread:
    return Spread.model_validate(values, context={"measures": {}, "where": "step 1"})


def run(draft: Draft, **values: Any) -> Result:
    return STEP.apply(draft, params(**values), "step")


def at(edge: str, start: str, piece: str = FRONT, **more: Any) -> dict[str, Any]:
    return {"piece": piece, "edge": edge, "from": start, **more}


def flare(count: int, opens: dict[str, Any], **more: Any) -> dict[str, Any]:
    """Slashes from hem to waist, spaced evenly over both."""
    return {
        "count": count,
        "starts": [at("hem", "centre front", by="3 cm"), at("hem", "side", by="3 cm")],
        "ends": [at("waist", "centre front", by="2 cm"), at("waist", "side", by="2 cm")],
        "opens": opens,
        **more,
    }


def length(draft: Draft, edge: str, piece: str = FRONT, wearer: Any = None) -> float:
    return chain(draft, piece, edge, wearer).length


def test_flared_skirt_from_slashes_hinged_at_the_waist() -> None:
    """hem + n e with n slashes opened e (fact sheet 4.3, arithmetic); each turns 2 asin(e / 2L); the sum of
    the turns is what the side leans."""
    before = skirt()
    after = run(before, piece=FRONT, sets=[flare(4, {"each": "4 cm"})], blend=False).draft
    assert length(after, "hem") - length(before, "hem") == pytest.approx(160, abs=1e-6)
    for edge in ("waist", "side", "centre front"):
        assert length(after, edge) == pytest.approx(length(before, edge), abs=1e-6)
    side_was = chain(before, FRONT, "side").spans[0].curve.tangent(0)
    side_is = chain(after, FRONT, "side").spans[0].curve.tangent(0)
    slashes = []
    for i in range(4):
        hem = 30 + (length(before, "hem") - 60) * i / 3
        waist = chain(before, FRONT, "waist")
        end = waist.spot(waist.length - (20 + (waist.length - 40) * i / 3)).point
        slashes.append(abs(end - (hem - 600j)))
    lean = sum(2 * math.asin(40 / (2 * d)) for d in slashes)
    assert math.acos((side_is * side_was.conjugate()).real) == pytest.approx(lean, abs=1e-6)


@given(
    st.integers(1, 8),
    st.floats(0.5, 6),
    st.sampled_from(["hinged", "through equal", "through unequal"]),
    st.booleans(),
)
@settings(max_examples=30)
def test_kept_edges_keep_their_length_and_the_others_grow_by_what_is_said(
    count: int, each: float, kind: str, blend: bool
) -> None:
    before = skirt()
    more: dict[str, Any] = {"kind": kind}
    if kind == "through unequal":
        more["end_opens"] = {"each": "4 mm"}
    try:
        one = flare(count, {"each": f"{each:.3f} cm"}, **more)
        if count == 1:
            one |= {"starts": one["starts"][:1], "ends": one["ends"][:1]}
        result = run(before, piece=FRONT, sets=[one], blend=blend)
    except CannotApply as problem:
        assume(problem.code not in ("dart-in-the-way", "blend"))
        raise
    after = result.draft
    wide = float(f"{each:.3f}") * 10 * count
    at_end = {"hinged": 0.0, "through equal": wide, "through unequal": 4.0 * count}[kind]
    assert length(after, "side") == pytest.approx(length(before, "side"), abs=0.01)
    assert length(after, "centre front") == pytest.approx(600, abs=0.01)
    if kind == "hinged" or not blend:
        assert length(after, "waist") == pytest.approx(length(before, "waist") + at_end, abs=0.01)
    if not blend:
        assert length(after, "hem") == pytest.approx(length(before, "hem") + wide, abs=0.01)
    told = next((f.message for f in result.findings if f.code == "spread-lengths"), "")
    assert f"to {length(after, 'hem'):.1f} mm" in told
    piece = after.piece(FRONT)
    assert gap(piece) < 1e-9 and crossing(piece) is None
    assert piece.fold is not None and all(abs(s.curve.start.real) < 1e-9 for s in piece.edge(piece.fold))


@pytest.mark.parametrize("opens", [{"to": "50 cm"}, {"ratio": 2}])
def test_to_a_length_or_ratio_measured_after_smoothing(opens: dict[str, Any]) -> None:
    before = skirt()
    after = run(before, piece=FRONT, sets=[flare(5, opens)]).draft
    wanted = 500 if "to" in opens else 2 * length(before, "hem")
    assert length(after, "hem") == pytest.approx(wanted, abs=0.05)
    assert length(after, "waist") == pytest.approx(length(before, "waist"), abs=0.01)


def fan(dress: Draft, **more: Any) -> Result:
    """Eight slashes from the left side below the hip to one place on the right side, across the centre."""
    left = {"wearer": "left"}
    return run(
        dress,
        piece="front",
        sets=[
            {
                "count": 8,
                "starts": [
                    at("side", "hem", "front", by="10 cm", **left),
                    at("side", "hem", "front", by="42 cm", **left),
                ],
                "ends": [at("side", "hem", "front", wearer="right", by="36 cm")],
                "opens": {"total": "20 cm"},
            }
        ],
        **more,
    )


def test_a_fan_across_the_centre_opens_one_side_and_keeps_the_other() -> None:
    before = whole_dress()
    result = fan(before)
    after = result.draft
    right = Label("side", "side", "right")
    assert after.piece("front").edge_length(right) == pytest.approx(
        before.piece("front").edge_length(right), abs=0.01
    )
    grown = length(after, "side", "front", "left") - length(before, "side", "front", "left")
    assert 194 < grown < 200.01  # faired: a little less than the openings
    codes = {f.code for f in result.findings}
    assert {"spread-turns", "spread-lengths", "edge-blended", "edge-bend"} <= codes
    bend = next(f.message for f in result.findings if f.code == "edge-bend")
    assert "right side now turns" in bend and "its partner (right back, right side)" in bend
    for edge in ("neck", "armhole", "shoulder"):
        for wearer in ("left", "right"):
            assert length(after, edge, "front", wearer) == pytest.approx(
                length(before, edge, "front", wearer), abs=0.01
            )


def test_left_broken_where_no_blending_is_asked() -> None:
    before = whole_dress()
    result = fan(before, blend=False)
    grown = length(result.draft, "side", "front", "left") - length(before, "side", "front", "left")
    assert grown == pytest.approx(200, abs=1e-6)
    assert "edges-broken" in {f.code for f in result.findings}


def test_the_part_that_stays_and_the_part_that_keeps_the_grain() -> None:
    """The bust point's part stays, the hem's part keeps the grain: the arrow turns with the hem."""
    before = whole_dress()
    bust = {"piece": "front", "point": "bust point", "wearer": "left"}
    hem = at("hem", "side", "front", wearer="right", by="5 cm")
    above = fan(before, still=bust, grain=bust)
    points = {p.name + str(p.wearer): p.at for p in before.piece("front").points}
    for p in above.draft.piece("front").points:
        assert abs(p.at - points[p.name + str(p.wearer)]) < 1e-9
    assert abs(above.draft.piece("front").grain.along - 1j) < 1e-9
    below = fan(before, still=bust, grain=hem).draft.piece("front")
    turn = math.degrees(math.atan2(-below.grain.along.real, below.grain.along.imag))
    assert 15 < abs(turn) < 60
    told = next(f.message for f in fan(before, still=bust, grain=hem).findings if f.code == "spread-turns")
    assert f"{-turn:+.1f}" in told or f"{turn:+.1f}" in told
    hem = below.edge(Label("hem", "hem", "right"))[0].curve.tangent(0)
    assert abs(below.grain.along - 1j * hem) < 1e-9


def test_a_dart_closed_into_gathers_at_the_shoulder() -> None:
    """The waist dart closed into four slashes at the shoulder keeps the waist; angles sum to zero."""
    before = bodice(bust_angle=0.0)
    piece = before.piece("front")
    angle = piece.dart_angle(piece.dart("waist dart"))
    sets = [
        {
            "count": 4,
            "starts": [
                at("shoulder", "neck", "front", by="3 cm"),
                at("shoulder", "armhole", "front", by="3 cm"),
            ],
            "dart": "waist dart",
        }
    ]
    result = run(before, piece="front", sets=sets, blend=False)
    after = result.draft.piece("front")
    assert after.darts == ()
    assert length(result.draft, "waist", "front") == pytest.approx(length(before, "waist", "front"), abs=1e-6)
    pivot, shoulder = piece.pivot(piece.dart("waist dart")), chain(before, "front", "shoulder")
    opened = {s.origin.name: s for s in after.outline if s.origin.step == "step"}
    assert {s.label.name for s in opened.values()} == {"shoulder"}
    total = 0.0
    for i in range(4):
        start = shoulder.spot(shoulder.length - (30 + (shoulder.length - 60) * i / 3)).point
        total += 2 * math.asin(opened[f"slash {i + 1} start"].length / (2 * abs(start - pivot)))
    assert total == pytest.approx(angle, abs=1e-9)
    with pytest.raises(CannotApply, match=r"front: no dart 'waist dart'"):
        result.draft.piece("front").dart("waist dart")


def test_one_slash_that_closes_a_dart_and_opens_further() -> None:
    before = skirt()
    slash = {"start": at("hem", "centre front", by="10 cm"), "dart": "waist dart", "opens": "20 cm"}
    after = run(before, piece=FRONT, sets=[{"slashes": [slash]}]).draft
    assert after.piece(FRONT).darts == ()
    assert length(after, "waist") == pytest.approx(length(before, "waist"), abs=0.01)
    assert 195 < length(after, "hem") - length(before, "hem") < 200.01


def test_several_sets_in_one_go() -> None:
    """Flare at the hem, and width straight through beside it: each edge has the sum of what opens in it."""
    before = skirt()
    through = {
        "kind": "through equal",
        "slashes": [
            {"start": at("hem", "centre front", by="1 cm"), "end": at("waist", "centre front", by="1 cm")}
        ],
        "opens": {"each": "2 cm"},
    }
    sets = [flare(3, {"total": "9 cm"}), through]
    after = run(before, piece=FRONT, sets=sets, blend=False).draft
    assert length(after, "hem") - length(before, "hem") == pytest.approx(110, abs=1e-6)
    assert length(after, "waist") - length(before, "waist") == pytest.approx(20, abs=1e-6)


def test_slashes_one_by_one_with_their_own_amounts() -> None:
    before = skirt()
    slashes = [
        {
            "start": at("hem", "centre front", by=f"{x} cm"),
            "end": at("waist", "centre front", by=f"{y} cm"),
            **own,
        }
        for x, y, own in ((3, 2, {}), (9, 4, {"opens": "5 cm", "end_opens": "1 cm"}), (14, 6, {}))
    ]
    sets = [
        {
            "kind": "through unequal",
            "slashes": slashes,
            "opens": {"total": "6 cm"},
            "end_opens": {"each": "2 mm"},
        }
    ]
    after = run(before, piece=FRONT, sets=sets, blend=False).draft
    assert length(after, "hem") - length(before, "hem") == pytest.approx(60 + 50, abs=1e-6)
    assert length(after, "waist") - length(before, "waist") == pytest.approx(2 * 2 + 10, abs=1e-6)


def test_hinged_at_its_start_instead() -> None:
    before = skirt()
    one = flare(3, {"each": "1 cm"})
    one["end_opens"] = one.pop("opens")
    after = run(before, piece=FRONT, sets=[one], blend=False).draft
    assert length(after, "hem") == pytest.approx(length(before, "hem"), abs=1e-6)
    assert length(after, "waist") - length(before, "waist") == pytest.approx(30, abs=1e-6)


def test_marks_keep_to_their_cloth() -> None:
    before = skirt()
    after = run(before, piece=FRONT, sets=[flare(4, {"each": "5 cm"})]).draft
    for draft in (before, after):
        side = chain(draft, FRONT, "side")
        mark = next(m for m in draft.piece(FRONT).marks if m.name == "hip")
        arc = side.arc_of(mark.origin, mark.at)
        assert arc == pytest.approx(400, abs=0.01)


def test_seams_finishes_and_other_pieces_are_left_as_they_were() -> None:
    before = skirt()
    after = run(before, piece=FRONT, sets=[flare(4, {"each": "5 cm"})]).draft
    assert after.seams == before.seams
    assert after.piece("skirt back") is before.piece("skirt back")


def test_the_sentence_says_it_all() -> None:
    said = STEP.sentence(params(piece=FRONT, sets=[flare(4, {"total": "16 cm"})]))
    assert said == (
        "Slash the skirt front 4 times, evenly, from the hem (30 mm from the centre front - 30 mm from the "
        "side) to the waist (20 mm from the centre front - 20 mm from the side), hinged, opened by 160 mm in "
        "all."
    )


def test_through_and_equal_to_the_fold_lengthens_a_half_piece() -> None:
    """A level slash from side to fold, 3 cm wide at both ends: centre and side grow by 3 cm, the fold stays
    straight."""
    before = skirt()
    slash = {"start": at("side", "hem", by="20 cm"), "end": at("centre front", "hem", by="20 cm")}
    sets = [{"kind": "through equal", "slashes": [slash], "opens": {"each": "3 cm"}}]
    after = run(before, piece=FRONT, sets=sets).draft
    for edge in ("side", "centre front"):
        assert length(after, edge) - length(before, edge) == pytest.approx(30, abs=0.01)
    for edge in ("hem", "waist"):
        assert length(after, edge) == pytest.approx(length(before, edge), abs=0.01)
    fold = after.piece(FRONT).edge(Label("centre front", "centre front"))
    assert all(abs(s.curve.start.real) < 1e-9 for s in fold)
