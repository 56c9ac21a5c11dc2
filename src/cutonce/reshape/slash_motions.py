"""The motions by which a part moves when a slash is opened: pure formulas, no pieces."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable

from cutonce.errors import CannotApply
from cutonce.geometry.motion import Motion, Point, shifting, turning


def trapezoid(name: str, p: Point, q: Point, a: float, b: float) -> Callable[[bool], Motion]:
    """Open `a` mm at p and `b` mm at q without slip along the slash p-q of length d.

    The far part turns by 2 asin((a - b) / 2d) about the slash's midpoint, which moves (a + b) / 2 along the
    normal turned by half of that. b = 0: hinged at q. a = b: through, equal.
    """
    d = abs(q - p)
    if abs(a - b) >= 2 * d:
        raise CannotApply(
            "too-wide", "", f"{name} is {d:.1f} mm long and cannot open {max(a, b):.1f} mm", "open it less"
        )

    def far(entered_at_p: bool) -> Motion:
        sign = -1 if entered_at_p else 1
        theta = -sign * 2 * math.asin((a - b) / (2 * d))
        normal = 1j * (q - p) / d * sign
        mid, w = (p + q) / 2, cmath.exp(1j * theta)
        return Motion(w, mid + (a + b) / 2 * normal * cmath.exp(0.5j * theta) - w * mid)

    return far


def about(pivot: Point, angle: float) -> Callable[[bool], Motion]:
    """Turn the far part by `angle` radians about a pivot so that the slit opens at p and closes at q."""

    def far(entered_at_p: bool) -> Motion:
        return turning(angle if entered_at_p else -angle, pivot)

    return far


def closing_dart(
    name: str, p: Point, pivot: Point, mouth: tuple[Point, Point], a: float, b: float
) -> Callable[[bool], Motion]:
    """Close a dart into a slash from p to its mouth, opening `a` mm at p and `b` mm at the mouth in all.

    `mouth` is (end of the dart on the side met first, on the side met second) in outline order. Closing alone
    already opens p; the rest turns about the closed mouth. Refused: less than the dart opens by itself, where
    the lips would overlap at the pivot.
    """

    def far(entered_at_p: bool) -> Motion:
        near, away = (mouth[1], mouth[0]) if entered_at_p else (mouth[0], mouth[1])
        close = turning(cmath.phase((near - pivot) / (away - pivot)), pivot)
        sign = math.copysign(1.0, cmath.phase((close(p) - near) / (p - near)))
        shift = b * 1j * (p - near) / abs(p - near) * sign

        def motion(theta: float) -> Motion:
            return shifting(shift).after(turning(sign * theta, near).after(close))

        def opening(theta: float) -> float:
            return abs(motion(theta)(p) - p)

        low = high = -min(b / abs(pivot - near), opening(0.0) / abs(p - near))  # lips touch at pivot or start
        if a < opening(low) - 1e-9:
            raise CannotApply(
                "dart-opens-more",
                "",
                f"{name}: closing the dart alone opens {opening(low):.1f} mm, asked {a:.1f} mm",
                f"ask at least {opening(low):.1f} mm, or move a part of the dart elsewhere first",
            )
        while opening(high) < a:
            high += 0.1
            if high > math.pi:
                raise CannotApply("too-wide", "", f"{name} cannot open {a:.1f} mm", "open it less")
        for _ in range(80):
            mid = (low + high) / 2
            low, high = (mid, high) if opening(mid) < a else (low, mid)
        return motion((low + high) / 2)

    return far
