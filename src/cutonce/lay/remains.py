"""What remains of the cloth beside and beyond the pieces, and the share of it that is pieces."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutonce.cloth.cloth import Cloth
from cutonce.geometry.motion import Motion
from cutonce.lay.assemble import Assembled, PartLaid
from cutonce.lay.beds import MAIN, flaw_ring
from cutonce.lay.outline import polygons_in, ring_of
from cutonce.lay.problem import Ring

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

LEAST_LEFT_MM2 = 10_000.0
"""An area that is left over is worth telling from 10 x 10 cm on."""

NARROW_MM = 30.0
"""A tongue of cloth narrower than this is not counted: no strip or patch comes out of it."""

_CORNERS = 2
"""Segments of a quarter circle where narrow tongues are taken off."""


def left_over(whole: Assembled, cloth: Cloth) -> tuple[Ring, ...]:
    """The larger areas that remain, as rings of the lay, biggest first.

    Beside the pieces in each section (on folded cloth each is there in both layers), and beyond the lay where
    the length at hand is known: open cloth, from its selvedge.
    """
    found: list[tuple[float, Ring]] = []
    for here in whole.parts:
        for polygon in _wide(_beside(here)):
            for simple in _without_holes(polygon):
                found.append((simple.area, _moved(ring_of(simple), here.to_lay)))
    for polygon in _wide(_beyond(whole, cloth)):
        found += [(simple.area, ring_of(simple)) for simple in _without_holes(polygon)]
    large = [pair for pair in found if pair[0] >= LEAST_LEFT_MM2]
    return tuple(ring for _, ring in sorted(large, key=lambda pair: -pair[0]))


def share(whole: Assembled, cloth: Cloth) -> float:
    """The part of the cloth taken, from selvedge to selvedge without them, that is pieces (0 to 1). What
    is cut through two layers and wanted once counts once."""
    pieces, ground = 0.0, 0.0
    for here in whole.parts:
        for spot in here.spots:
            cut = here.whole.cuts[spot.blank]
            pieces += _polygon(here.whole.outlines[spot.blank].fine).area * (1 if cut.spare else cut.layers)
        size = here.section.end - here.section.start
        if here.section.name != MAIN:
            ground += _ground(here).area
        else:
            ground += size * cloth.usable * (2 if here.section.way == "folded crosswise" else 1)
    return pieces / ground if ground else 0.0


def _beside(here: PartLaid) -> BaseGeometry:
    """What is free of a section, on its bed; of open cloth also what lies beyond, where its length is
    known."""
    from shapely import union_all

    pieces = [_polygon(here.whole.fine(spot)) for spot in here.spots]
    return _ground(here).difference(union_all(pieces)) if pieces else _ground(here)


def _ground(here: PartLaid) -> BaseGeometry:
    from shapely import box, union_all

    stage, part = here.whole.stage, here.whole.stage.parts[here.part]
    before = part.margin if stage.way != "folded crosswise" else 0.0
    end = here.section.end - here.section.start - before
    if part.name == MAIN and stage.way == "open" and here.section.room is not None:
        end = max(end, here.section.room - before)
    ground = box(part.start - before, 0.0, part.start + end, stage.bed.width)
    return ground.difference(union_all([_polygon(ring) for ring in stage.bed.avoid]))


def _beyond(whole: Assembled, cloth: Cloth) -> BaseGeometry:
    """Cloth beyond folded sections, unfolded: nothing where an open section takes it up, or there is none."""
    from shapely import Polygon, box, union_all

    main = [p.section for p in whole.parts if p.section.name == MAIN]
    if cloth.length is None or not main or main[-1].way == "open":
        return Polygon()
    last = main[-1]
    side = (cloth.width - cloth.usable) / 2
    ends = [(last.end, cloth.length)]
    if last.way == "folded crosswise":
        ends = [(0.0, last.start), (2 * last.end - last.start, cloth.length)]
    areas = [box(a, side, b, side + cloth.usable) for a, b in ends if b > a]
    return union_all(areas).difference(union_all([_polygon(flaw_ring(f.at, f.radius)) for f in cloth.flaws]))


def _wide(area: BaseGeometry) -> list[Polygon]:
    """Its parts without what is too narrow; nothing is added."""
    core = area.buffer(-NARROW_MM / 2, quad_segs=_CORNERS)
    return polygons_in(core.buffer(NARROW_MM / 2, quad_segs=_CORNERS).intersection(area))


def _without_holes(polygon: Polygon) -> Iterator[Polygon]:
    """Divided along the warp through the middle of each hole, until none is left: rings have no holes."""
    from shapely import box

    if not polygon.interiors:
        yield polygon
        return
    low_x, low_y, high_x, high_y = polygon.bounds
    middle = polygon.interiors[0].centroid.y
    for a, b in ((low_y, middle), (middle, high_y)):
        for part in polygons_in(polygon.intersection(box(low_x, a, high_x, b))):
            yield from _without_holes(part)


def _moved(ring: Ring, motion: Motion) -> Ring:
    return tuple(motion(p) for p in ring)


def _polygon(ring: Ring) -> Polygon:
    from shapely import Polygon

    return Polygon([(p.real, p.imag) for p in ring])
