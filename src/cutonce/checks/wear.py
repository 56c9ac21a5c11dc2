"""Whether a plain bodice or dress block is wearable, not merely closed: against the body, within ranges.

The ranges are from memory unless a line says otherwise; a measured value overrides every proportion. What
lies outside is a finding, never a clamp. For the block as drafted, before any step.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cutonce.body import Body, Wearer
from cutonce.checks.wear_lines import (
    ARMHOLE,
    NECK,
    SHOULDER,
    HalfPiece,
    bust_point,
    front_waist_length,
    girth_at,
    halves_of,
)
from cutonce.draft.draft import Draft
from cutonce.draft.span import BLOCK
from cutonce.errors import Finding, Severity

# What each range is compared with, and where it comes from: docs/blocks.md, "Wear" (from memory).
GIRTH_MM = 0.5
LENGTH_MM = 5.0
MEASURED_MM = 1.0
"""A measured width, span or shoulder is met this closely."""

SQUARE = math.radians(1)
SLOPES = (math.radians(34), math.radians(46))
"""Slopes of front and back shoulder add up to about 40 degrees."""

NECK_EASE = (0.0, 25.0)
ARMHOLE_SHARE = (0.44, 0.50)
ARMHOLE_WIDTH = (1.25, 1.65)
"""Ranges are known to two decimals and compared so."""

FRONT_CORNER = (17.0, 25.5)
CORNER_WIDTH = 120.0
"""A wider armhole may pass further from its corner, in proportion."""

CORNER_MORE = (2.5, 6.0)
DART_MM = 40.5
BALANCE_MM = 10.0
HIGH_MM = 15.0
"""A bust point further above the armhole base than this is worth a second look."""

SURE_BUST = (800.0, 1000.0)
"""Within these the published depths of the bust line agree; beyond, the depth is to be measured."""


@dataclass(frozen=True, slots=True)
class _Case:
    """One half: its pieces, the body with that side's measures, the ease, and how to name the half."""

    front: HalfPiece
    back: HalfPiece
    body: Body
    ease: Mapping[str, float]

    def measured(self, key: str) -> float | None:
        """A measure that was taken; None where it is missing or estimated."""
        found = self.body.find(key, "left")
        return found.mm if found is not None and found.estimate is None else None

    def known(self, key: str) -> float | None:
        return self.body.mm(key) if self.body.has(key) else None


def wear_findings(draft: Draft, body: Body, ease: Mapping[str, float]) -> tuple[Finding, ...]:
    """What there is to say of a plain bodice or dress block on this body; nothing where all is in range.

    `ease` in mm for each place of the block (see `blocks.bodice_systems.bodice_ease`). Both halves of an
    uneven body are looked at apart, girths and neckline together.
    """
    if draft.twin is None:
        halves = [_case(draft, body, ease)]
        found = [*_of_half(halves[0])]
    else:
        sides: tuple[Wearer, Wearer] = ("left", "right")
        drafts = (replace(draft, twin=None), draft.twin)
        halves = [_case(d, body.one_side(w), ease) for d, w in zip(drafts, sides, strict=True)]
        found = [f.on_half(w) for w, case in zip(sides, halves, strict=True) for f in _of_half(case)]
    return (*_whole(halves, body, ease), *found)


def _case(draft: Draft, body: Body, ease: Mapping[str, float]) -> _Case:
    front, back = halves_of(draft)
    return _Case(front, back, body, ease)


def _finding(
    severity: Severity, code: str, where: str, message: str, hint: str = "", found: float | None = None
) -> Finding:
    return Finding(severity, code, where, message, step=BLOCK, hint=hint, found_mm=found)


def _off(code: str, where: str, what: str, found: float, expected: float, severity: Severity) -> Finding:
    return Finding(
        severity,
        code,
        where,
        f"{what} is {found / 10:.2f} cm, not {expected / 10:.2f} cm",
        step=BLOCK,
        expected_mm=expected,
        found_mm=found,
    )


def _whole(halves: Sequence[_Case], body: Body, ease: Mapping[str, float]) -> Iterator[Finding]:
    """Girths and neckline of the whole garment."""
    times = 2 / len(halves)
    labels = halves[0].front.piece.labels
    levels = ["bust", "waist"] + (["hip"] if any(e.name == "hem" for e in labels) else [])
    for level in levels:
        found = times * sum(girth_at((h.front, h.back), level) for h in halves)
        expected = body.mm(f"{level}_girth") + ease[level]
        if abs(found - expected) > GIRTH_MM:
            yield _off("girth", f"{level} line", f"the {level} girth", found, expected, "stop")
    yield from _scye_depth(halves, ease)
    neck = times * sum(h.front.piece.edge_length(NECK) + h.back.piece.edge_length(NECK) for h in halves)
    taken = halves[0].measured("neck_base_girth")
    if taken is not None and not taken + NECK_EASE[0] - 0.1 <= neck <= taken + NECK_EASE[1] + 0.1:
        yield _finding(
            "warning",
            "neckline",
            "neck",
            f"the neckline is {neck / 10:.1f} cm, the neck base girth {taken / 10:.1f} cm: "
            "it should be 0 to 2.5 cm longer",
            "state the ease at the neck",
            neck,
        )


def _scye_depth(halves: Sequence[_Case], ease: Mapping[str, float]) -> Iterator[Finding]:
    """As measured, on the mean of both halves: with unequal shoulders each armhole goes with its own."""
    taken = [h.measured("scye_depth") for h in halves]
    known = [t for t in taken if t is not None]
    if len(known) < len(halves):
        return
    depths = [h.back.edge(NECK)[-1].curve.end.imag - h.back.underarm.imag for h in halves]
    found, expected = sum(depths) / len(halves), sum(known) / len(halves) + ease["scye_depth"]
    if abs(found - expected) > MEASURED_MM:
        yield _off("scye-depth", "back", "the scye depth", found, expected, "warning")


def _of_half(case: _Case) -> Iterator[Finding]:
    for check in _CHECKS:
        yield from check(case)


def _bust_line(case: _Case) -> Iterator[Finding]:
    depth = case.back.edge(NECK)[-1].curve.end.imag - case.back.underarm.imag
    taken, bust = case.measured("scye_depth"), case.body.mm("bust_girth")
    if taken is None and not SURE_BUST[0] <= bust <= SURE_BUST[1]:
        yield _finding(
            "warning",
            "scye-depth-not-measured",
            "armhole base",
            f"at a bust of {bust / 10:.0f} cm proportions disagree about how deep the armhole lies; "
            f"{depth / 10:.1f} cm below the nape is taken",
            "measure scye_depth",
            depth,
        )


def _shoulder(case: _Case) -> Iterator[Finding]:
    front, back = case.front.piece.edge_length(SHOULDER), case.back.piece.edge_length(SHOULDER)
    taken = case.measured("shoulder_length")
    if taken is not None and abs(front - taken) > MEASURED_MM:
        yield _off("shoulder", "front, shoulder", "the shoulder", front, taken, "warning")
    if not -0.1 <= back - front <= 10.1:
        yield _off("shoulder", "back, shoulder", "the back shoulder, dart closed,", back, front, "warning")
    chord = case.back.neck_point - case.back.shoulder_point
    slopes = case.front.shoulder_slope + math.atan2(chord.imag, -chord.real)
    drop = case.measured("shoulder_drop")
    low, high = SLOPES
    if drop is not None and taken is not None:
        low = high = 2 * math.asin(drop / taken)
    if not low - SQUARE <= slopes <= high + SQUARE:
        yield _finding(
            "warning",
            "shoulder-slope",
            "shoulder",
            f"slopes of front and back shoulder add up to {math.degrees(slopes):.0f} degrees, "
            f"not {math.degrees((low + high) / 2):.0f}",
            "measure shoulder_drop",
        )


def _corners(case: _Case) -> Iterator[Finding]:
    """Square at the centres, no corner where partners join."""
    right = math.pi / 2
    for half in (case.front, case.back):
        name = half.piece.name
        rows = (
            ("neck-not-square", half.centre.name, half.centre_angle - right, "neck and centre meet"),
            ("armhole-kink", "armhole", half.kink, "the armhole has a corner"),
        )
        for code, edge, off, what in rows:
            if abs(off) > SQUARE:
                said = f"{what} {math.degrees(off):.1f} degrees out of square"
                yield _finding("warning", code, f"{name}, {edge}", said)
        if half.turns > 1:
            said = f"the armhole bends to and fro {half.turns} times"
            yield _finding("warning", "armhole-bends", f"{name}, armhole", said)
    joined = (
        ("neck-corner", "neck", "shoulder", case.front.neck_angle + case.back.neck_angle),
        ("armhole-corner", "armhole", "shoulder", case.front.armhole_angle + case.back.armhole_angle),
        ("underarm-corner", "armhole", "side", case.front.underarm_angle + case.back.underarm_angle),
    )
    for code, edge, seam, both in joined:
        if abs(both - math.pi) > SQUARE:
            said = f"with the {seam} seam sewn the {edge} has a corner of {math.degrees(both):.0f} degrees"
            yield _finding("warning", code, f"{edge}, {seam}", said)


def _balance(case: _Case) -> Iterator[Finding]:
    bust = case.body.mm("bust_girth")
    back = case.back.edge(NECK)[-1].curve.end.imag - _waist_at_centre(case.back)
    expected = case.body.mm("back_waist_length")
    if abs(back - expected) > LENGTH_MM:
        yield _off("back-waist-length", "centre back", "the back waist length", back, expected, "warning")
    taken = case.measured("front_waist_length")
    if taken is not None:
        found = front_waist_length(case.front)
        if abs(found - taken) > LENGTH_MM:
            yield _off("front-waist-length", "front", "the front waist length", found, taken, "warning")
        return
    balance = case.front.neck_point.imag - case.back.neck_point.imag
    usual = bust / 5 + 83 - (bust / 12 + 137) - (bust / 24 + 36) / 3
    if abs(balance - usual) > BALANCE_MM:
        yield _finding(
            "note",
            "balance",
            "front and back",
            f"the front neck point stands {balance / 10:.1f} cm above the back's; {usual / 10:.1f} is usual",
            "measure front_waist_length",
            balance,
        )


def _waist_at_centre(half: HalfPiece) -> float:
    return half.level("waist")


def _bust_point(case: _Case) -> Iterator[Finding]:
    point = bust_point(case.front)
    rows = (
        ("bust_span", "bust-span", "the bust span", 2 * point.real),
        ("neck_to_bust_point", "bust-point", "neck to bust point", abs(case.front.neck_point - point)),
    )
    for key, code, what, found in rows:
        taken = case.measured(key)
        if taken is not None and abs(found - taken) > MEASURED_MM:
            yield _off(code, "front, bust point", what, found, taken, "warning")
    if point.imag > case.front.underarm.imag + HIGH_MM:
        above = point.imag - case.front.underarm.imag
        said = f"the bust point lies {above / 10:.1f} cm above the armhole base"
        yield _finding(
            "note", "bust-point-high", "front, bust point", said, "check neck_to_bust_point", above
        )


def _widths(case: _Case) -> Iterator[Finding]:
    rows = [("across-back", "back", "across_back", case.back)]
    if case.front.dart_in_armhole:  # else the open dart widens the front at its width line
        rows.append(("across-front", "front", "across_front", case.front))
    for code, where, place, half in rows:
        taken = case.measured(f"{place}_width")
        found, expected = 2 * half.width_line, (taken or 0.0) + case.ease[place]
        if taken is not None and abs(found - expected) > MEASURED_MM:
            yield _off(code, f"{where}, armhole", f"across {where}", found, expected, "warning")
    for half in (case.front, case.back):
        if half.shoulder_point.real < half.width_line + 1:
            yield _finding(
                "note",
                "shoulder-within-width",
                f"{half.piece.name}, armhole",
                "the shoulder ends within the width line: the armhole bulges outwards below it",
                "check shoulder_length and the across width",
            )


def _armhole(case: _Case) -> Iterator[Finding]:
    bust = case.body.mm("bust_girth")
    length = case.front.piece.edge_length(ARMHOLE) + case.back.piece.edge_length(ARMHOLE)
    low, high = ARMHOLE_SHARE
    if not low <= round(length / bust, 2) <= high:
        yield _finding(
            "note",
            "armhole-length",
            "armhole",
            f"the armhole is {length / 10:.1f} cm, {length / bust:.2f} of the bust; {low} to {high} is usual",
            "check scye_depth and shoulder_length",
            length,
        )
    arm = case.known("upper_arm_girth")
    if arm is not None:
        width = case.front.armhole_width + case.back.armhole_width
        ratio = width / (arm / math.pi)
        if not ARMHOLE_WIDTH[0] <= round(ratio, 2) <= ARMHOLE_WIDTH[1]:
            yield _finding(
                "note",
                "armhole-width",
                "armhole",
                f"the armhole, dart closed, is {width / 10:.1f} cm wide, {ratio:.2f} times the arm; "
                f"{ARMHOLE_WIDTH[0]} to {ARMHOLE_WIDTH[1]} is usual",
                "check across_back_width, across_front_width and upper_arm_girth",
                width,
            )
    front, back = case.front.corner_gap, case.back.corner_gap
    if front is not None and back is not None:
        wide = case.front.lower_width + case.back.lower_width
        in_range = FRONT_CORNER[0] <= front <= FRONT_CORNER[1] * max(1.0, wide / CORNER_WIDTH)
        if not in_range or not CORNER_MORE[0] <= back - front <= CORNER_MORE[1]:
            yield _finding(
                "note",
                "armhole-corner-depth",
                "armhole",
                f"at 45 degrees the armhole passes {front / 10:.1f} cm (front) and {back / 10:.1f} cm (back) "
                "from its corner; 1.75 to 2.5, and 0.3 to 0.5 more behind, is usual",
            )


def _darts(case: _Case) -> Iterator[Finding]:
    for half in (case.front, case.back):
        for intake in half.waist_darts:
            if intake > DART_MM:
                said = f"a waist dart takes {intake / 10:.1f} cm; 4 is the most"
                yield _finding("warning", "wide-dart", half.piece.name, said, found=intake)


_CHECKS: tuple[Callable[[_Case], Iterator[Finding]], ...] = (
    _bust_line,
    _shoulder,
    _corners,
    _balance,
    _bust_point,
    _widths,
    _armhole,
    _darts,
)
