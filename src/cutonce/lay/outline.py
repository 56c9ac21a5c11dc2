"""Outlines of pieces: a fine one to draw and to check by, and one of few corners, outside it, to search
with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Bounds
from cutonce.geometry.motion import Motion, Point
from cutonce.geometry.path import Path, flattened
from cutonce.geometry.tolerance import FLATTEN_MM
from cutonce.lay.problem import Ring
from cutonce.lay.thin import thinned

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

OUTER_MM = 0.05
"""So far outside the cutting line the outline to search with is drawn at first: half a pen line."""

ADDED_MM = 0.1
"""And then thinned, by area: as much as a strip this wide all round. That is a chalk line's width where a
curve is strong and nothing along straight edges; it leaves 20 to 70 corners and costs 0.2 % of the cloth."""

_SAME_MM = 1e-6
"""Corners nearer than this are one."""


@dataclass(frozen=True, slots=True)
class Outlines:
    """Both outlines of a piece in its own frame, and the cutting line itself. `fine` runs within 0.02 mm of
    it; `outer` has it inside."""

    line: Path
    fine: Ring
    outer: Ring


@lru_cache(maxsize=256)
def outlines_of(line: Path, name: str) -> Outlines:
    """Outlines of a closed cutting line. A line that crosses itself counts with all that it encloses.

    Remembered: the same pieces are laid again and again while fullness or remedies are looked for.
    Raises CannotApply where it encloses nothing.
    """
    from shapely import make_valid

    points = flattened(line, FLATTEN_MM)[:-1]
    raw = _polygon(points if len(points) > 2 else (0j, 0j, 0j))
    whole = largest(raw if raw.is_valid else make_valid(raw))
    if whole is None:
        raise CannotApply("no-area", name, "its cutting line encloses no cloth, so it cannot be laid")
    return Outlines(line, ring_of(whole), _grown(whole))


def _grown(whole: Polygon) -> Ring:
    """Set out by half the first tolerance and smoothed by less, so that it holds the curve; then thinned."""
    half = OUTER_MM / 2
    thick = largest(whole.buffer(half, join_style="mitre").simplify(half - FLATTEN_MM))
    ring = ring_of(thick if thick is not None and thick.contains(whole) else whole.buffer(half))
    return thinned(ring, ADDED_MM * whole.length / whole.area)


def laid_outline(outlines: Outlines, turned: Motion) -> tuple[Motion, Ring]:
    """The outline to search with, of a piece turned by `turned`, its least x and y at 0; and the motion that
    takes the piece's frame to it.

    It is cut to the exact box of the turned cutting line, so that straight edges along or across the cloth,
    as a fold, lie exactly where they are.
    """
    from shapely import box

    low_x, low_y, high_x, high_y = bounds_of(outlines, turned)
    around = _polygon([turned(p) for p in outlines.outer])
    held = largest(around.intersection(box(low_x, low_y, high_x, high_y)))
    corner = complex(low_x, low_y)
    motion = Motion(turned.turn, turned.shift - corner, turned.mirror)
    size = complex(high_x, high_y) - corner
    ring = ring_of(held if held is not None else around)
    return motion, _without_repeats([_within(p - corner, size) for p in ring])


def bounds_of(outlines: Outlines, turned: Motion) -> Bounds:
    """The exact box round the cutting line as it is turned."""
    return path.bounds(path.moved(outlines.line, turned))


def _within(p: Point, size: complex) -> Point:
    return complex(min(max(p.real, 0.0), size.real), min(max(p.imag, 0.0), size.imag))


def _without_repeats(points: Sequence[Point]) -> Ring:
    return tuple(p for i, p in enumerate(points) if abs(p - points[i - 1]) > _SAME_MM)


def _polygon(points: Sequence[Point]) -> Polygon:
    from shapely import Polygon

    return Polygon([(p.real, p.imag) for p in points])


def largest(shape: BaseGeometry) -> Polygon | None:
    """The largest polygon of a shape; None where it has no area."""
    parts = polygons_in(shape)
    return max(parts, key=lambda p: p.area, default=None)


def polygons_in(shape: BaseGeometry) -> list[Polygon]:
    """Every polygon of a shape that has an area; points and lines are left out."""
    parts = getattr(shape, "geoms", [shape])
    out: list[Polygon] = []
    for part in parts:
        if part.geom_type == "Polygon":
            out += [part] if part.area > 0 else []
        elif hasattr(part, "geoms"):
            out += polygons_in(part)
    return out


def ring_of(polygon: Polygon) -> Ring:
    """The outer ring of a polygon, counter-clockwise, holes left out."""
    from shapely.geometry.polygon import orient

    return tuple(complex(x, y) for x, y in orient(polygon).exterior.coords[:-1])
