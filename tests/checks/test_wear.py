"""Wear: silent on sound blocks, and each finding provoked by a fault planted in one."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from checks.planted import IDA

from cutonce.blocks import draft_block
from cutonce.blocks.bodice_systems import SYSTEMS, bodice_ease
from cutonce.body import Body, body_of
from cutonce.body.measures import Estimate, Measure
from cutonce.checks import wear
from cutonce.checks.wear import wear_findings
from cutonce.checks.wear_lines import bust_point, front_waist_length, girth_at, halves_of
from cutonce.draft.draft import Draft
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.curve import Cubic, Curve, Line, as_cubic
from cutonce.geometry.motion import shifting

MEASURES = {m.key: m.mm for m in IDA.measures} | {
    "upper_arm_girth": 284.0,
    "neck_to_bust_point": 258.0,
    "front_waist_length": 434.0,
}
BODY = body_of("Ida", MEASURES)
KINDS = ("bodice", "dress")


ROOT = Path(__file__).resolve().parents[2]
WEAR_TABLE = (ROOT / "docs" / "blocks.md").read_text("utf-8").partition("### Wear")[2].partition("## ")[0]
ON_PAGE = {c for r in WEAR_TABLE.splitlines() if r.startswith("| ") for c in re.findall(r"`([a-z-]+)`", r)}
"""Codes in the table under Wear in docs/blocks.md."""


def said(draft: Draft, body: Body = BODY, ease: Mapping[str, float] | None = None) -> dict[str, Finding]:
    found = wear_findings(draft, body, bodice_ease("proportional", ease or {}))
    assert {f.code for f in found} <= ON_PAGE
    return {f.code: f for f in found}


def block(kind: str = "dress", body: Body = BODY, ease: Mapping[str, float] | None = None) -> Draft:
    return draft_block(kind, "proportional", body, ease or {})


def other(**changes: float) -> Body:
    return body_of("other", MEASURES | changes)


def reshaped(draft: Draft, name: str, edge: str, change: Callable[[Curve], Curve]) -> Draft:
    """One piece with every curve of an edge changed (ends may come apart: the checks look at shapes)."""
    piece = draft.piece(name)
    outline = tuple(replace(s, curve=change(s.curve)) if s.label.name == edge else s for s in piece.outline)
    return draft.with_pieces([replace(piece, outline=outline)])


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("system", [s.name for s in SYSTEMS])
def test_nothing_to_warn_of_on_a_sound_block(kind: str, system: str) -> None:
    draft = draft_block(kind, system, BODY)
    found = wear_findings(draft, BODY, bodice_ease(system, {}))
    assert [f for f in found if f.severity != "note"] == []


# --- the same block on a body that it was not drafted for ---------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "changes, code",
    [
        ({"bust_girth": 884.0}, "girth"),
        ({"waist_girth": 704.0}, "girth"),
        ({"neck_base_girth": 390.0}, "neckline"),
        ({"neck_base_girth": 340.0}, "neckline"),
        ({"shoulder_length": 126.0}, "shoulder"),
        ({"shoulder_drop": 60.0}, "shoulder-slope"),
        ({"scye_depth": 212.0}, "scye-depth"),
        ({"back_waist_length": 410.0}, "back-waist-length"),
        ({"front_waist_length": 444.0}, "front-waist-length"),
        ({"bust_span": 186.0}, "bust-span"),
        ({"neck_to_bust_point": 264.0}, "bust-point"),
        ({"across_back_width": 352.0}, "across-back"),
        ({"across_front_width": 310.0}, "across-front"),
        ({"upper_arm_girth": 220.0}, "armhole-width"),
        ({"upper_arm_girth": 400.0}, "armhole-width"),
        ({"bust_girth": 760.0}, "armhole-length"),
    ],
)
def test_another_body(kind: str, changes: dict[str, float], code: str) -> None:
    found = said(block(kind), other(**changes))
    assert code in found
    assert found[code].step == "block"


def test_hip_of_a_dress() -> None:
    found = said(block(), other(hip_girth=953.0))
    assert (found["girth"].severity, found["girth"].where) == ("stop", "hip line")
    assert found["girth"].expected_mm == pytest.approx(1013)
    assert found["girth"].found_mm == pytest.approx(1010, abs=1e-6)
    assert said(block("bodice"), other(hip_girth=953.0)).keys() == said(block("bodice")).keys()


@pytest.mark.parametrize("girth, heard", [(0.0, False), (0.4, False), (0.6, True)])
def test_girths_to_half_a_millimetre(girth: float, heard: bool) -> None:
    assert ("girth" in said(block(), other(waist_girth=700 + girth))) is heard


def test_other_ease_than_stated_is_a_wrong_girth() -> None:
    draft = block(ease={"bust": 80.0})
    assert "girth" in said(draft)
    assert "girth" not in said(draft, ease={"bust": 80.0})


def test_neckline_within_its_range_is_silent() -> None:
    for ease, heard in ((-5.0, True), (1.0, False), (24.0, False), (30.0, True)):
        assert ("neckline" in said(block(ease={"neck": ease}), ease={"neck": ease})) is heard


def test_estimates_are_not_held_against_a_block() -> None:
    guess = Estimate("a guess", None)
    guessed = (Measure("bust_span", 230.0, estimate=guess), Measure("neck_base_girth", 300.0, estimate=guess))
    assert said(block(), BODY.with_measures(guessed)).keys() == said(block()).keys()


@pytest.mark.parametrize("bust, heard", [(780.0, True), (820.0, False), (990.0, False), (1040.0, True)])
def test_depth_to_be_measured_beyond_the_sure_busts(bust: float, heard: bool) -> None:
    plain = {"bust_girth": bust, "waist_girth": 0.78 * bust, "hip_girth": 1.06 * bust, "waist_to_hip": 205.0}
    body = body_of("plain", plain | {"back_waist_length": 405.0})
    found = said(block("dress", body), body)
    assert ("scye-depth-not-measured" in found) is heard


def test_balance_where_the_front_was_not_measured() -> None:
    unmeasured = {k: v for k, v in MEASURES.items() if k != "front_waist_length"}
    body = body_of("unmeasured", unmeasured)
    draft = block("dress", body)
    assert "balance" not in said(draft, body)
    piece = draft.piece("front")
    raised = piece.moved(shifting(14j))
    assert "balance" in said(draft.with_pieces([raised]), body)


def test_a_bust_point_high_above_the_armhole() -> None:
    body = other(scye_depth=235.0, neck_to_bust_point=245.0, front_waist_length=440.0)
    assert "bust-point-high" in said(block(body=body), body)


# --- faults of shape ----------------------------------------------------------------------------------


def bent_end(curve: Curve) -> Cubic:
    """Its end turned up by moving the last handle."""
    c = as_cubic(curve)
    return Cubic(c.a, c.b, c.c + 8j, c.d)


def bent_start(curve: Curve) -> Cubic:
    c = as_cubic(curve)
    return Cubic(c.a, c.b + 6, c.c, c.d)


@pytest.mark.parametrize("name", ["front", "back"])
def test_neck_not_square(name: str) -> None:
    change = bent_end if name == "front" else (lambda c: bent_end(c.reversed()).reversed())
    found = said(reshaped(block(), name, "neck", change))
    assert found["neck-not-square"].where.startswith(name)


def test_corner_in_the_joined_neck() -> None:
    assert "neck-corner" in said(reshaped(block(), "front", "neck", bent_start))


def test_corner_in_the_joined_armhole() -> None:
    draft = block("dress")

    def change(c: Curve) -> Curve:
        return Cubic(c.a, c.b, c.c + 9, c.d) if isinstance(c, Cubic) and c.d.imag > 380 else c

    found = said(reshaped(draft, "front", "armhole", change))
    assert "armhole-corner" in found


def test_armhole_that_is_not_square_to_the_side() -> None:
    def change(c: Curve) -> Curve:
        return Cubic(c.a, c.b + 9j, c.c, c.d) if isinstance(c, Cubic) and c.a.imag < 200 else c

    assert "underarm-corner" in said(reshaped(block(), "front", "armhole", change))


def test_kink_and_waves_in_an_armhole() -> None:
    def kinked(c: Curve) -> Curve:
        return Cubic(c.a, c.b + 8, c.c, c.d) if isinstance(c, Cubic) and c.d.imag > 350 else c

    assert "armhole-kink" in said(reshaped(block(), "front", "armhole", kinked))

    def waved(c: Curve) -> Curve:
        high = isinstance(c, Cubic) and c.d.imag > 350
        return Cubic(c.a, c.a + 60j + 40, c.d - 60j - 60, c.d) if high else c

    assert "armhole-bends" in said(reshaped(block(), "front", "armhole", waved))


def test_armhole_too_near_its_corner() -> None:
    def boxy(c: Curve) -> Curve:
        if not (isinstance(c, Cubic) and c.a.imag < 200):
            return c
        return Cubic(c.a, c.a + 1.35 * (c.b - c.a), c.d + 1.35 * (c.c - c.d), c.d)

    assert "armhole-corner-depth" in said(reshaped(block(), "front", "armhole", boxy))


def test_shoulders_that_differ() -> None:
    draft = block()
    grown = reshaped(
        draft, "back", "shoulder", lambda c: Line(c.a - 6 * c.tangent(0), c.d + 6 * c.tangent(0))
    )
    assert "shoulder" in said(grown)


def test_shoulder_within_its_width_line() -> None:
    draft = block("dress")
    narrowed = reshaped(draft, "front", "shoulder", lambda c: Line(c.a - 25, c.d))
    assert "shoulder-within-width" in said(narrowed)


def test_a_wide_waist_dart() -> None:
    piece = block().piece("back")
    one = piece.double_darts[0]
    middle = (one.left + one.right) / 2
    wide = replace(one, left=middle - 21, right=middle + 21)
    found = said(block().with_pieces([replace(piece, double_darts=(wide, *piece.double_darts[1:]))]))
    assert found["wide-dart"].found_mm == pytest.approx(42)
    assert "girth" in found  # and the waist is smaller by what it takes


# --- measuring ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_figures_read_off_a_block(kind: str) -> None:
    front, back = halves_of(block(kind))
    assert bust_point(front).real == pytest.approx(90)
    assert abs(front.neck_point - bust_point(front)) == pytest.approx(258)
    assert front_waist_length(front) == pytest.approx(434, abs=3.5)
    assert 2 * girth_at((front, back), "bust") == pytest.approx(880 + 120, abs=1e-6)
    assert 2 * girth_at((front, back), "waist") == pytest.approx(700 + 60, abs=1e-6)
    assert 2 * back.width_line == pytest.approx(344 + 15, abs=0.01)
    assert back.underarm.imag == pytest.approx(front.underarm.imag)


def test_a_dart_pointed_at_both_ends_takes_in_proportion() -> None:
    front, _ = halves_of(block("dress"))
    dart = front.piece.double_darts[0]
    half_way = dart.upper.imag / 2
    plain = replace(front, piece=replace(front.piece, double_darts=()))
    assert plain.width_at(half_way) - front.width_at(half_way) == pytest.approx(dart.intake / 2)
    assert plain.width_at(dart.upper.imag + 1) == front.width_at(dart.upper.imag + 1)


def test_uneven_halves_are_looked_at_apart() -> None:
    body = body_of("uneven", MEASURES | {"shoulder_length": (126.0, 118.0), "shoulder_drop": (40.0, 52.0)})
    draft = draft_block("dress", "proportional", body)
    assert {f.severity for f in wear_findings(draft, body, bodice_ease("proportional", {}))} <= {"note"}
    swapped = body_of(
        "swapped", MEASURES | {"shoulder_length": (118.0, 126.0), "shoulder_drop": (52.0, 40.0)}
    )
    found = wear_findings(draft, swapped, bodice_ease("proportional", {}))
    assert {f.where for f in found if f.code == "shoulder"} == {
        "left half, front, shoulder",
        "right half, front, shoulder",
    }


def test_the_page_names_no_other_code() -> None:
    """That it names every code a block was told above is seen to by `said`."""
    source = ast.parse(Path(wear.__file__).read_text("utf-8"))
    texts = {n.value for n in ast.walk(source) if isinstance(n, ast.Constant) and isinstance(n.value, str)}
    assert len(ON_PAGE) > 20
    assert texts >= ON_PAGE


def test_a_skirt_is_no_bodice() -> None:
    with pytest.raises(CannotApply):
        wear_findings(draft_block("skirt", "", BODY, length=600.0), BODY, {"waist": 24, "hip": 50})
