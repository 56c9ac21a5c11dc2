"""The numbers from which a bodice is drawn: what a system constructs, and what truing then alters.

All lengths in mm, angles in radians. Each half is drawn with its centre line on x = 0 and the side at +x,
front and back alike; y = 0 is the waist, y upwards.
"""

from __future__ import annotations

import cmath
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from cutonce.blocks.ease import BodiceEase
from cutonce.geometry.motion import Point


@dataclass(frozen=True, slots=True)
class Neck:
    """Half the neck hole: widths from the centre, front depth below and back rise to the side neck point."""

    front_width: float
    front_depth: float
    back_width: float
    back_rise: float


@dataclass(frozen=True, slots=True)
class Shoulder:
    """`length` of the seam; slopes below the horizontal of front (bust dart closed) and back (from end to
    end, shoulder dart open); the back dart's `dart` intake, its point, and its place along the seam."""

    length: float
    front_slope: float
    back_slope: float
    dart: float
    dart_point: Point
    dart_share: float


@dataclass(frozen=True, slots=True)
class BustDart:
    """The dart to the bust point: its angle, and where it opens.

    On the armhole: `place` is the height of its lower leg's end above the underarm line. On the shoulder:
    `place` is the share of the seam from the neck.
    """

    point: Point
    angle: float
    opens_on: Literal["armhole", "shoulder"]
    place: float


@dataclass(frozen=True, slots=True)
class WaistShares:
    """How a half's waist shaping is shared: front darts, side seam (both its pieces), back darts. Sum 1."""

    front: float
    side: float
    back: float


@dataclass(frozen=True, slots=True)
class Frame:
    """A half bodice in numbers.

    `underarm` and `front_neck` are heights above the waist: of the underarm line, and of the front's side
    neck point. `half_width` is half the bust girth with ease; `back_width` and `chest_width` are half widths,
    at which the armholes stand upright; `front_line` is where the front armhole stands on the underarm line
    with the bust dart open. `corners` are the distances of front and back armhole from their corners at 45
    degrees. `bust_line` fixes the height of the bust line where two unlike halves share one.
    """

    nape: float
    underarm: float
    half_width: float
    back_width: float
    chest_width: float
    front_line: float
    front_neck: float
    neck: Neck
    shoulder: Shoulder
    bust: BustDart
    corners: tuple[float, float]
    waist: WaistShares
    bust_line: float | None = None

    @property
    def side(self) -> float:
        """From the centre front to the side seam: it stands in the middle of the armhole."""
        return (self.front_line + self.half_width - self.back_width) / 2

    @property
    def underarms(self) -> tuple[Point, Point]:
        """Where front and back side seams begin."""
        return complex(self.side, self.underarm), complex(self.half_width - self.side, self.underarm)

    @property
    def bust_level(self) -> float:
        """Height of the bust line above the waist: the lower of underarm line and bust point, as it must pass
        below the armhole and not above the bust point."""
        own = min(self.underarm, self.bust.point.imag)
        return own if self.bust_line is None else self.bust_line


@dataclass(frozen=True, slots=True)
class Meeting:
    """What two unlike halves settle together: height of the neck at the centre front, and how much lower than
    the mean this half's armhole lies. None and 0 for an even body."""

    neck: float | None = None
    lowered: float = 0.0


@dataclass(frozen=True, slots=True)
class Construction:
    """A system's own draft, before truing: its frame, and every published quantity by name.

    `published` holds lengths in mm and, where the name ends in "angle" or "slope", degrees.
    """

    system: str
    frame: Frame
    ease: BodiceEase
    published: Mapping[str, float]

    @property
    def points(self) -> dict[str, Point]:
        """The constructed points by name, in mm from the centre and above the waist."""
        f, neck = self.frame, self.frame.neck
        back_neck = complex(neck.back_width, f.nape + neck.back_rise)
        back_shoulder = f.shoulder.length + f.shoulder.dart
        line = complex(0, f.underarm)
        return {
            "nape": complex(0, f.nape),
            "back neck point": back_neck,
            "back shoulder point": back_neck + back_shoulder * cmath.exp(-1j * f.shoulder.back_slope),
            "front neck point": complex(neck.front_width, f.front_neck),
            "neck at centre front": complex(0, f.front_neck - neck.front_depth),
            "bust point": f.bust.point,
            "back width on the bust line": line + f.back_width,
            "chest width on the bust line": line + f.chest_width,
            "front armhole line on the bust line": line + f.front_line,
            "side on the bust line": line + f.side,
        }
