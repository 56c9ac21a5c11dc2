"""The direct bodice: widths, neck, shoulder and armhole depth from the body's own measures.

Formulas and how surely each is known: `docs/blocks.md`.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from cutonce.blocks.bodice_frame import BustDart, Construction, Frame, Neck, Shoulder, WaistShares
from cutonce.blocks.ease import BodiceEase
from cutonce.errors import CannotApply

EASE = BodiceEase(bust=100, waist=40, hip=60, neck=12, across_back=10, across_front=0, scye_depth=5)
"""Bust, across back, across front and scye depth are the system's own; waist, hip and neck are ours."""

START_ABOVE_NAPE = 15.0
SHOULDER_EASE = 10.0
"""The back shoulder is this much longer than the measure: a dart takes it."""

SPAN_OF_BUST = 0.205
"""The bust span where it is not measured: amid 17 to 19 cm at bust 84 to 92 (from memory)."""

SLOPES = math.radians(40)
"""Slopes of front and back shoulder add up to this."""


def chest_estimate(bust: float) -> float:
    """Across front width for a bust girth, mm: 32.4 cm at bust 88, 1.2 cm for each 4 cm."""
    return 324 + 12 * (bust - 880) / 40


def dart_estimate(bust: float) -> float:
    """Bust dart at the shoulder for a bust girth, mm: 7 cm at bust 88, 0.6 cm for each 4 cm."""
    return 70 + 6 * (bust - 880) / 40


def balance(bust: float) -> float:
    """How far the front's side neck point stands above the back's, mm (from the proportional block)."""
    return bust / 5 + 83 - (bust / 12 + 137) - (bust / 24 + 36) / 3


def direct(mm: Callable[[str], float], has: Callable[[str], bool]) -> Construction:
    """The direct block, from `bust_girth`, `back_waist_length`, `neck_base_girth`, `shoulder_length`,
    `across_back_width`, `scye_depth` and, where measured, `across_front_width`; all in mm.

    >>> size = {"bust_girth": 880.0, "back_waist_length": 410.0, "neck_base_girth": 370.0,
    ...         "scye_depth": 210.0, "shoulder_length": 122.5, "across_back_width": 344.0}
    >>> published = direct(size.__getitem__, size.__contains__).published
    >>> published["half width"], published["front armhole line"], published["bust line depth"]
    (490.0, 197.0, 215.0)
    """
    bust, neck, scye = mm("bust_girth"), mm("neck_base_girth"), mm("scye_depth")
    chest = mm("across_front_width") if has("across_front_width") else chest_estimate(bust)
    dart = dart_estimate(bust)
    published = {
        "half width": bust / 2 + 50,
        "chest": chest,
        "bust dart": dart,
        "front armhole line": chest / 2 + dart / 2,
        "bust line depth": scye + 5,
        "back neck width": neck / 5 - 2,
        "front neck width": neck / 5 - 7,
        "front neck depth": neck / 5 - 2,
        "back shoulder drop": scye / 5 - 7,
        "back shoulder": mm("shoulder_length") + SHOULDER_EASE,
        "half back width": mm("across_back_width") / 2 + 5,
        "start above nape": START_ABOVE_NAPE,
    }
    return Construction(
        "direct", _frame(published, bust, mm("back_waist_length"), mm("shoulder_length")), EASE, published
    )


def _back_slope(published: dict[str, float], shoulder: float) -> float:
    """The angle whose sine is the back shoulder's drop over its length."""
    drop = START_ABOVE_NAPE + published["back shoulder drop"]
    if not 0 <= drop < 0.8 * published["back shoulder"]:
        raise CannotApply(
            "impossible-measure",
            "block",
            f"a shoulder_length of {shoulder / 10:.1f} cm does not fit a scye depth that drops it by "
            f"{drop / 10:.1f} cm",
            "check shoulder_length and scye_depth",
        )
    return math.asin(drop / published["back shoulder"])


def _frame(published: dict[str, float], bust: float, back_length: float, shoulder: float) -> Frame:
    half, back, line = (published[k] for k in ("half width", "half back width", "front armhole line"))
    underarm = back_length - published["bust line depth"]
    neck = Neck(
        published["front neck width"],
        published["front neck depth"],
        published["back neck width"],
        START_ABOVE_NAPE,
    )
    back_slope = _back_slope(published, shoulder)
    front_slope = SLOPES - back_slope
    front_neck = back_length + START_ABOVE_NAPE + balance(bust)
    bust_point = complex(SPAN_OF_BUST * bust / 2, underarm)
    middle = complex(neck.front_width, front_neck) + shoulder / 2 * complex(
        math.cos(front_slope), -math.sin(front_slope)
    )
    half_armhole = (half - back - line) / 2
    across = complex(neck.back_width, back_length + START_ABOVE_NAPE) + shoulder / 2 * complex(
        math.cos(back_slope), -math.sin(back_slope)
    )
    return Frame(
        nape=back_length,
        underarm=underarm,
        half_width=half,
        back_width=back,
        chest_width=published["chest"] / 2,
        front_line=line,
        front_neck=front_neck,
        neck=neck,
        shoulder=Shoulder(shoulder, front_slope, back_slope, SHOULDER_EASE, across - 10 - 70j, 0.5),
        bust=BustDart(
            bust_point,
            2 * math.asin(published["bust dart"] / (2 * abs(middle - bust_point))),
            "shoulder",
            0.5,
        ),
        corners=(half_armhole / 3 + 3, half_armhole / 3 + 7),
        waist=WaistShares(0.3, 0.25, 0.45),
    )
