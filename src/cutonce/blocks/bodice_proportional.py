"""Proportional bodices: everything from bust girth, waist girth and back waist length.

Formulas and how surely each is known: `docs/blocks.md`.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from cutonce.blocks.bodice_frame import BustDart, Construction, Frame, Neck, Shoulder, WaistShares
from cutonce.blocks.ease import BodiceEase

EASE = BodiceEase(bust=120, waist=60, hip=60, neck=12, across_back=15, across_front=10, scye_depth=0)
"""Bust and waist are the system's own; the rest is ours, in keeping with them."""

OLDER_EASE = BodiceEase(bust=100, waist=60, hip=60, neck=12, across_back=15, across_front=10, scye_depth=0)

WAIST_PARTS = {"a": 0.14, "b": 0.15, "c": 0.11, "d": 0.35, "e": 0.18, "f": 0.07}
"""Shares of the waist shaping from front to back: a and b in the front, c at the side, d and e in the back, f
at the centre back."""


def proportional(mm: Callable[[str], float]) -> Construction:
    """The newer proportional block, from `bust_girth`, `waist_girth` and `back_waist_length` in mm.

    >>> block = proportional({"bust_girth": 880.0, "waist_girth": 680.0, "back_waist_length": 380.0}.get)
    >>> round(block.published["half width"]), round(block.published["bust dart angle"], 3)
    (500, 19.5)
    """
    bust, waist = mm("bust_girth"), mm("waist_girth")
    front_neck = bust / 24 + 34
    published = {
        "half width": bust / 2 + 60,
        "bust line depth": bust / 12 + 137,
        "half back width": bust / 8 + 74,
        "front height": bust / 5 + 83,
        "half chest width": bust / 8 + 62,
        "armhole width": bust / 4 - 76,
        "bust dart angle": bust / 40 - 2.5,
        "front neck width": front_neck,
        "front neck depth": front_neck + 5,
        "back neck width": front_neck + 2,
        "back neck rise": (front_neck + 2) / 3,
        "back shoulder dart": bust / 32 - 8,
        "front shoulder slope": 22.0,
        "back shoulder slope": 18.0,
        "waist shaping": (bust / 2 + 60) - (waist / 2 + 30),
    }
    for part, share in WAIST_PARTS.items():
        published[f"waist dart {part}"] = share * published["waist shaping"]
    return Construction("proportional", _frame(published, bust, mm("back_waist_length")), EASE, published)


def older_proportional(mm: Callable[[str], float]) -> Construction:
    """The older proportional block: its own widths, bust line and neck; the newer one's dart and slopes.

    The older block takes the bust's length out of the waist line instead of a bust dart. Here it has the
    newer one's bust dart, heights and slopes, so that front and back balance.
    """
    bust, waist = mm("bust_girth"), mm("waist_girth")
    newer = proportional(mm).published
    neck = bust / 20 + 29
    own = {
        "half width": bust / 2 + 50,
        "bust line depth": bust / 6 + 70,
        "half back width": bust / 6 + 45,
        "half chest width": bust / 6 + 30,
        "back neck width": neck,
        "back neck rise": neck / 3,
        "front neck width": neck - 2,
        "front neck depth": neck + 3,
        "waist shaping": (bust / 2 + 50) - (waist / 2 + 30),
    }
    own["armhole width"] = own["half width"] - own["half back width"] - own["half chest width"]
    own["front height"] = newer["front height"] + own["bust line depth"] - newer["bust line depth"]
    kept = ("bust dart angle", "back shoulder dart", "front shoulder slope", "back shoulder slope")
    frame = _frame({**own, **{k: newer[k] for k in kept}}, bust, mm("back_waist_length"))
    return Construction("older proportional", frame, OLDER_EASE, own)


def _frame(published: dict[str, float], bust: float, back_length: float) -> Frame:
    chest, back, half = (published[k] for k in ("half chest width", "half back width", "half width"))
    depth = published["bust line depth"]
    underarm = back_length - depth
    front_line = chest + bust / 32
    sixth = (half - back - front_line) / 6
    dart_point = complex(back / 2 + 10, back_length - 80)
    neck = Neck(
        published["front neck width"],
        published["front neck depth"],
        published["back neck width"],
        published["back neck rise"],
    )
    front_slope = math.radians(published["front shoulder slope"])
    return Frame(
        nape=back_length,
        underarm=underarm,
        half_width=half,
        back_width=back,
        chest_width=chest,
        front_line=front_line,
        front_neck=underarm + published["front height"],
        neck=neck,
        shoulder=Shoulder(
            length=(chest - neck.front_width) / math.cos(front_slope) + 18,
            front_slope=front_slope,
            back_slope=math.radians(published["back shoulder slope"]),
            dart=published["back shoulder dart"],
            dart_point=dart_point,
            dart_share=0.4,
        ),
        bust=BustDart(
            point=complex(chest / 2 + 7, underarm),
            angle=math.radians(published["bust dart angle"]),
            opens_on="armhole",
            place=(depth - 80) / 2 - 5,
        ),
        corners=(sixth + 5, sixth + 8),
        waist=WaistShares(
            front=WAIST_PARTS["a"] + WAIST_PARTS["b"],
            side=WAIST_PARTS["c"],
            back=WAIST_PARTS["d"] + WAIST_PARTS["e"] + WAIST_PARTS["f"],
        ),
    )
