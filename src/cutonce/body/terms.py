"""Every measure of a body that Cutonce knows: what it is called, how to take it, what is usual.

Names follow ISO 8559-1:2017. Its clause numbers were read in lists made by others, not in the standard, so
each is marked second-hand; where no clause was found the term says so. How to take a measure is in our words.

The usual range is mean -+ 3 SD of the 1,986 women of ANSUR II ("ANSUR II"), or of the 260 women of the bdims
data ("bdims"), both rounded outward; the upper end of trunk girths is that of the EN 13402-3 scales (from
memory), because those samples hold few large women. "common practice" marks ranges without measured data.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Wearer = Literal["left", "right"]
"""The wearer's own left or right."""

SIDES: Final[tuple[Wearer, Wearer]] = ("left", "right")


@dataclass(frozen=True, slots=True)
class Term:
    """One measure. Lengths in mm; `sided` measures may differ between the wearer's left and right.

    `usual` is where a warning begins, `limits` where a value is refused as impossible.
    """

    key: str
    name: str
    clause: str
    how: str
    usual: tuple[float, float]
    usual_source: str
    limits: tuple[float, float]
    sided: bool = False


def _iso(number: str) -> str:
    return f"ISO 8559-1, {number} (second-hand)"


_NO_CLAUSE = "ISO 8559-1, clause not established"
_TRADE = "the trade's word"
_ANSUR = "ANSUR II, mean -+ 3 SD"
_WIDE = "ANSUR II, mean - 3 SD, to the top of the EN 13402-3 scale (from memory)"
_PRACTICE = "common practice"

TERMS: Final[tuple[Term, ...]] = (
    Term(
        "height",
        "Body height",
        _NO_CLAUSE,
        "Without shoes, heels against a wall, from the floor to the crown of the head.",
        (1435, 1822),
        _ANSUR,
        (900, 2300),
    ),
    Term(
        "bust_girth",
        "Bust girth",
        _iso("5.3.4"),
        "Level round the fullest part, over the bra she will wear, at quiet breath, tape snug but not tight.",
        (695, 1520),
        _WIDE,
        (400, 2500),
    ),
    Term(
        "under_bust_girth",
        "Under bust girth",
        _iso("5.3.8"),
        "Level round the ribs, directly below the breasts.",
        (560, 1350),
        _PRACTICE,
        (350, 2300),
    ),
    Term(
        "upper_bust_girth",
        "Upper bust girth",
        _NO_CLAUSE,
        "Round the chest above the breasts, high under the arms, level at the back.",
        (670, 1400),
        "bdims, mean - 3 SD; upper end common practice",
        (400, 2300),
    ),
    Term(
        "waist_girth",
        "Waist girth",
        _iso("5.3.10"),
        "Tie a tape where she bends sideways, at the narrowest place, and measure level there. "
        "Not at the navel, which is lower and wider.",
        (470, 1360),
        "bdims (narrowest waist), mean - 3 SD, to the top of the EN 13402-3 scale (from memory)",
        (300, 2400),
    ),
    Term(
        "top_hip_girth",
        "Top hip girth",
        _iso("5.3.12"),
        "Level, halfway between the waist tape and the hip level.",
        (600, 1480),
        _PRACTICE,
        (350, 2500),
    ),
    Term(
        "hip_girth",
        "Hip girth",
        _iso("5.3.13"),
        "Level round the fullest part of the seat, heels together.",
        (750, 1520),
        "bdims, mean - 3 SD, to the top of the EN 13402-3 scale (from memory)",
        (400, 2600),
    ),
    Term(
        "back_hip_arc",
        "Hip arc, back",
        _NO_CLAUSE,
        "Level at the hip, across the seat from one side to the other: where a side seam would run.",
        (360, 790),
        _PRACTICE,
        (180, 1500),
    ),
    Term(
        "shoulder_girth",
        "Shoulder girth",
        _NO_CLAUSE,
        "Level round both upper arms and the body, arms hanging, at the widest place.",
        (865, 1400),
        "ANSUR II, mean - 3 SD; upper end common practice",
        (500, 2500),
    ),
    Term(
        "neck_girth",
        "Neck girth",
        _iso("5.3.2"),
        "Round the neck just below the bulge of the throat, square to the neck.",
        (270, 420),
        "ANSUR II, mean - 3 SD, to the largest size of ASTM D5585-11 and a little over",
        (200, 700),
    ),
    Term(
        "neck_base_girth",
        "Neck base girth",
        _iso("5.3.3"),
        "Round the root of the neck, tape on its edge: over the nape bone and between the collarbone ends.",
        (310, 440),
        "ANSUR II, mean -+ 3 SD, and a little over",
        (220, 750),
    ),
    Term(
        "head_girth",
        "Head girth",
        _NO_CLAUSE,
        "Round the head above the ears, over the widest place of the forehead and the back of the head.",
        (503, 620),
        _ANSUR,
        (400, 800),
    ),
    Term(
        "shoulder_length",
        "Shoulder length",
        _NO_CLAUSE,
        "From the side neck point along the top of the shoulder to the shoulder point, the end of the bone.",
        (100, 167),
        "ANSUR II, mean -+ 3 SD, and a little under",
        (50, 250),
        sided=True,
    ),
    Term(
        "shoulder_drop",
        "Shoulder drop",
        _TRADE,
        "How much lower the shoulder point lies than the side neck point: hold a ruler level from the neck.",
        (10, 80),
        _PRACTICE,
        (-20, 150),
        sided=True,
    ),
    Term(
        "back_waist_length",
        "Back waist length",
        _iso("5.4.5"),
        "From the nape bone down the spine, following the back, to the waist tape.",
        (340, 480),
        _PRACTICE,
        (200, 700),
    ),
    Term(
        "front_waist_length",
        "Front waist length",
        _NO_CLAUSE,
        "From the side neck point over the bust point, then straight down to the waist tape.",
        (350, 580),
        _PRACTICE,
        (200, 900),
        sided=True,
    ),
    Term(
        "across_back_width",
        "Across back width",
        _NO_CLAUSE,
        "Across the back between the two arm folds, halfway between shoulder and armpit, arms hanging.",
        (284, 463),
        "ANSUR II (interscye I), mean -+ 3 SD",
        (200, 700),
    ),
    Term(
        "across_front_width",
        "Across front width",
        _NO_CLAUSE,
        "Across the chest between the two arm folds, halfway between shoulder and armpit.",
        (260, 440),
        _PRACTICE,
        (180, 700),
    ),
    Term(
        "scye_depth",
        "Scye depth",
        _NO_CLAUSE,
        "From the nape bone straight down to the level of the armhole base: "
        "lay a strip of card level under the arms.",
        (160, 290),
        _PRACTICE,
        (80, 450),
        sided=True,
    ),
    Term(
        "armscye_girth",
        "Armscye girth",
        _NO_CLAUSE,
        "Round the joint of the arm: over the shoulder point and under the armpit, arm hanging.",
        (320, 640),
        _PRACTICE,
        (200, 1000),
        sided=True,
    ),
    Term(
        "upper_arm_girth",
        "Upper-arm girth",
        _iso("5.3.16"),
        "Round the relaxed arm, midway between shoulder point and elbow.",
        (200, 480),
        "ANSUR II (flexed), mean - 3 SD, and a little under; upper end common practice",
        (120, 900),
        sided=True,
    ),
    Term(
        "elbow_girth",
        "Elbow girth",
        _NO_CLAUSE,
        "Round the elbow, arm bent to a right angle.",
        (190, 420),
        _PRACTICE,
        (120, 700),
        sided=True,
    ),
    Term(
        "wrist_girth",
        "Wrist girth",
        _iso("5.3.19"),
        "Round the wrist, over the bone on the side of the little finger.",
        (124, 190),
        "bdims and ANSUR II, mean -+ 3 SD, and a little over",
        (80, 350),
        sided=True,
    ),
    Term(
        "arm_length",
        "Outer arm length",
        _iso("5.7.8"),
        "From the shoulder point to the wrist bone on the side of the little finger.",
        (450, 660),
        "ANSUR II (sleeve outseam), mean -+ 3 SD, and a little over",
        (250, 900),
        sided=True,
    ),
    Term(
        "shoulder_to_elbow",
        "Upper arm length",
        "ISO 8559-1, 5.4.14 or 5.4.15 (second-hand, which of the two is from memory)",
        "From the shoulder point to the tip of the elbow, elbow bent.",
        (282, 387),
        _ANSUR,
        (150, 550),
        sided=True,
    ),
    Term(
        "bust_span",
        "Bust point to bust point",
        _NO_CLAUSE,
        "Straight across from one bust point to the other, tape taut.",
        (140, 290),
        _PRACTICE,
        (90, 450),
    ),
    Term(
        "neck_to_bust_point",
        "Side neck point to bust point",
        _NO_CLAUSE,
        "From the side neck point down to the bust point.",
        (190, 400),
        _PRACTICE,
        (120, 600),
        sided=True,
    ),
    Term(
        "nape_to_bust_level",
        "Nape to bust level",
        _TRADE,
        "From the nape bone straight down to the level of the bust points: run a tape level round first.",
        (152, 300),
        "ANSUR II (cervicale to chest point, vertical), mean -+ 3 SD",
        (100, 500),
    ),
    Term(
        "waist_to_hip",
        "Waist to hip",
        _NO_CLAUSE,
        "At the side, from the waist tape to the hip level, following the body.",
        (135, 290),
        "ANSUR II (waist level and tenth rib to buttock level), mean -+ 3 SD",
        (60, 450),
        sided=True,
    ),
    Term(
        "waist_to_knee",
        "Waist to knee",
        _NO_CLAUSE,
        "At the front, from the waist tape to the middle of the kneecap.",
        (490, 700),
        "ANSUR II (waist level and tenth rib to kneecap), mean -+ 3 SD",
        (250, 1000),
    ),
    Term(
        "waist_to_floor",
        "Waist to floor",
        _NO_CLAUSE,
        "At the side, from the waist tape over the hip and then straight down to the floor, without shoes.",
        (870, 1210),
        "ANSUR II (waist level and tenth rib heights), mean -+ 3 SD",
        (450, 1600),
        sided=True,
    ),
    Term(
        "body_rise",
        "Body rise",
        _NO_CLAUSE,
        "Sitting upright on a flat chair: at the side, from the waist tape down to the seat of the chair.",
        (205, 345),
        "ANSUR II (tenth rib to crotch), mean -+ 3 SD, and a little over",
        (120, 550),
    ),
)

BY_KEY: Final[dict[str, Term]] = {term.key: term for term in TERMS}


def reference() -> str:
    """All measures as a page of Markdown, the text of docs/measures.md."""
    lines = [
        "# Measures",
        "",
        "Made from `cutonce/body/terms.py`. Lengths in cm. A sided measure may be given for the wearer's",
        "left and right apart. Outside the usual range a warning is given; what no body has is refused.",
        "Clause numbers of ISO 8559-1:2017 are second-hand: read in lists made by others.",
        "",
    ]
    for term in TERMS:
        low, high = (f"{limit / 10:g}" for limit in term.usual)
        sided = ", left and right may differ" if term.sided else ""
        lines += [
            f"## `{term.key}`",
            f"{term.name} ({term.clause}){sided}.",
            "",
            term.how,
            "",
            f"Usual: {low} to {high} cm ({term.usual_source}).",
            "",
        ]
    return "\n".join(lines)
