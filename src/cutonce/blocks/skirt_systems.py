"""Skirt systems: the published formulas, as numbers, and the points they give before anything is trued.

All lengths in mm. One quarter is drawn with its centre line on x = 0, the waist at the centre on y = 0 and
the side at +x, for front and back alike. Sources of every number: `docs/blocks.md`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from cutonce.errors import BadInput, quoted
from cutonce.geometry.motion import Point

Measured = Callable[[str], float]
"""Gives a measure in mm by its name; raises where the body lacks it."""

INCH = 25.4


@dataclass(frozen=True, slots=True)
class WaistDart:
    """A dart as a system states it: `intake` at the waist, `length` on its middle line, and the `share` of
    the waist line, from the centre, at which its middle stands."""

    intake: float
    length: float
    share: float


@dataclass(frozen=True, slots=True)
class System:
    """One way of drafting a skirt. Eases are whole girths; `back_more` is what the back quarter has above an
    even share (the front quarter has as much less); `hip_from` tells where the back hip width comes from.
    """

    name: str
    says: str
    waist_ease: float
    hip_ease: float
    waist_back_more: float
    hip_back_more: float
    side_rise: float
    front: tuple[WaistDart, ...]
    back: tuple[WaistDart, ...]
    hip_from: Literal["hip_girth", "back_hip_arc"] = "hip_girth"


@dataclass(frozen=True, slots=True)
class Quarter:
    """A quarter of the skirt as the formulas give it. `waist_width` holds the darts, `waist` does not."""

    waist: float
    waist_width: float
    hip_width: float
    hip_depth: float
    length: float
    side_rise: float
    darts: tuple[WaistDart, ...]

    @property
    def points(self) -> dict[str, Point]:
        """The constructed points by name."""
        return {
            "centre waist": 0j,
            "side waist": complex(self.waist_width, self.side_rise),
            "centre hip": complex(0, -self.hip_depth),
            "side hip": complex(self.hip_width, -self.hip_depth),
            "centre hem": complex(0, -self.length),
            "side hem": complex(self.hip_width, -self.length),
        }


SYSTEMS: tuple[System, ...] = (
    System(
        "one dart a quarter",
        "quarters of waist and hip, one dart of 2 cm in each quarter, a deep side curve",
        waist_ease=24,
        hip_ease=50,
        waist_back_more=6,
        hip_back_more=7.5,
        side_rise=10,
        front=(WaistDart(20, 100, 2 / 3),),
        back=(WaistDart(20, 120, 1 / 2),),
    ),
    System(
        "two darts in back",
        "quarters of waist and hip, two darts of 2 cm in the back quarter and one in the front",
        waist_ease=10,
        hip_ease=30,
        waist_back_more=0,
        hip_back_more=7.5,
        side_rise=12.5,
        front=(WaistDart(20, 100, 2 / 3),),
        back=(WaistDart(20, 140, 1 / 3), WaistDart(20, 125, 2 / 3)),
    ),
    System(
        "measured back",
        "the back as wide as the body's own back hip arc, so that the side seam hangs at the side",
        waist_ease=INCH,
        hip_ease=2 * INCH,
        waist_back_more=0,
        hip_back_more=0,
        side_rise=10,
        front=(WaistDart(15, 90, 2 / 5), WaistDart(15, 80, 3 / 4)),
        back=(WaistDart(20, 130, 1 / 3), WaistDart(20, 115, 2 / 3)),
        hip_from="back_hip_arc",
    ),
)


def skirt_system(name: str) -> System:
    """The system of that name. Raises BadInput (unknown-system) with the choices."""
    for system in SYSTEMS:
        if system.name == name:
            return system
    have = ", ".join(f"'{s.name}'" for s in SYSTEMS)
    raise BadInput("unknown-system", "block", f"no skirt system {quoted(name)}; there are: {have}")


def eases(system: System, stated: Mapping[str, float]) -> tuple[float, float]:
    """Ease at waist and hip in mm: what was stated, else the system's own.

    Raises BadInput (unknown-ease) for ease at a place a skirt has none.
    """
    for place in stated:
        if place not in ("waist", "hip"):
            raise BadInput(
                "unknown-ease", "block, ease", f"a skirt has no ease at {quoted(place)}; it has: waist, hip"
            )
    return stated.get("waist", system.waist_ease), stated.get("hip", system.hip_ease)


def construct(
    system: System, mm: Measured, ease: Mapping[str, float], length: float
) -> tuple[Quarter, Quarter]:
    """Front and back quarter by the published formulas, before truing.

    Measures used: `waist_girth`, `hip_girth`, `waist_to_hip`, and `back_hip_arc` by the measured system.

    >>> measures = {"waist_girth": 680.0, "hip_girth": 940.0, "waist_to_hip": 200.0}
    >>> front, back = construct(skirt_system("one dart a quarter"), measures.__getitem__, {}, 600)
    >>> front.hip_width, back.hip_width, front.waist_width, back.waist_width
    (240.0, 255.0, 190.0, 202.0)
    """
    waist_ease, hip_ease = eases(system, ease)
    waist, hip = (mm("waist_girth") + waist_ease) / 4, (mm("hip_girth") + hip_ease) / 4
    if system.hip_from == "back_hip_arc":
        back_hip = mm("back_hip_arc") / 2 + hip_ease / 4
    else:
        back_hip = hip + system.hip_back_more
    depth = mm("waist_to_hip")

    def quarter(net: float, hip_width: float, darts: tuple[WaistDart, ...]) -> Quarter:
        width = net + sum(d.intake for d in darts)
        return Quarter(net, width, hip_width, depth, length, system.side_rise, darts)

    more = system.waist_back_more
    return (
        quarter(waist - more, 2 * hip - back_hip, system.front),
        quarter(waist + more, back_hip, system.back),
    )
