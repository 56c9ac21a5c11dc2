"""Remnants in a cloth file: outlines as pairs of lengths, [along, across]."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cutonce.cloth.cloth import Remnant
from cutonce.documents import refuse_unknown, table, words
from cutonce.errors import BadInput, quoted
from cutonce.geometry.motion import Point
from cutonce.units import length, show

LEAST_AREA: Final = 100.0
"""mm2: a square centimetre. Less is a slip: points in one line, or one place given again and again."""

MOST_POINTS: Final = 500
"""Far more than anybody measures by hand."""


def read_remnants(value: object, width: float, at: str) -> tuple[Remnant, ...]:
    """The remnants of a cloth `width` mm wide. Raises BadInput that names the remnant."""
    if not isinstance(value, list):
        hint = 'write [{ name = "strip", outline = [["0 cm", "0 cm"], ["60 cm", "0 cm"], ...] }]'
        raise BadInput("not-remnants", at, f"{quoted(value)} is not a list of remnants", hint)
    remnants = tuple(_remnant(entry, number, width, at) for number, entry in enumerate(value, start=1))
    names = [remnant.name for remnant in remnants]
    for name in names:
        if names.count(name) > 1:
            raise BadInput(
                "name-twice", at, f"two remnants have the name {quoted(name)}", "each needs its own"
            )
    return remnants


def _remnant(value: object, number: int, width: float, where: str) -> Remnant:
    at = f"{where}, remnant {number}"
    entry = table(value, at)
    refuse_unknown(entry, ("name", "outline"), at)
    name = words(entry.get("name", f"remnant {number}"), f"{at}, name").strip()
    if not name:
        raise BadInput("no-name", at, "no name", "write a name, or leave it out")
    outline = entry.get("outline")
    if not isinstance(outline, list) or not 3 <= len(outline) <= MOST_POINTS:
        what = "no 'outline'" if outline is None else f"{quoted(outline)} is no outline"
        raise BadInput("not-an-outline", at, what, "three or more corners, each [along, across]")
    corners = [_corner(pair, f"{at}, corner {n}") for n, pair in enumerate(outline, start=1)]
    if corners[0] == corners[-1]:
        corners = corners[:-1]
    return Remnant(name, _ring(corners, width, at))


def _corner(pair: object, at: str) -> Point:
    if not isinstance(pair, list) or len(pair) != 2:
        hint = 'write ["60 cm", "20 cm"]: along, then across'
        raise BadInput("not-a-corner", at, f"{quoted(pair)} is not a pair of lengths", hint)
    return complex(length(pair[0], f"{at}, along"), length(pair[1], f"{at}, across"))


def _ring(corners: Sequence[Point], width: float, at: str) -> tuple[Point, ...]:
    """The outline counter-clockwise, its least along and across at 0; BadInput where no cloth can have it."""
    from shapely import Polygon
    from shapely.validation import explain_validity

    polygon = Polygon([(p.real, p.imag) for p in corners])
    if polygon.convex_hull.area < LEAST_AREA:
        raise BadInput("no-area", at, "the outline holds no cloth", "give the corners round the edge")
    if not polygon.is_valid:
        reason = explain_validity(polygon)
        x, y = reason[reason.index("[") + 1 : reason.index("]")].split()[:2]
        message = f"the outline crosses or touches itself at {show(float(x))} along, {show(float(y))} across"
        raise BadInput("crossing-outline", at, message, "give the corners in the order round the edge")
    across = [p.imag for p in corners]
    if max(across) - min(across) > width + 1e-6:
        message = f"the outline is {show(max(across) - min(across))} across, the cloth {show(width)} wide"
        raise BadInput("wider-than-the-cloth", at, message, "corners are [along, across]")
    low = complex(min(p.real for p in corners), min(across))
    return tuple(p - low for p in (corners if polygon.exterior.is_ccw else corners[::-1]))
