"""What is left of the cloth to cut strips from: areas with what is already cut out of them, and what fits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import chain
from typing import TYPE_CHECKING

from cutonce.lay.bands import WARP, WEFT, Slot, slots
from cutonce.lay.plan import Plan
from cutonce.lay.problem import Ring

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

_MANY_POINTS = 80
"""A ring of more points is drawn inwards and thinned before strips are tried in it."""

_INWARDS_MM, _THIN_MM = 0.2, 0.18
"""By how much: the thinned ring then lies wholly within the true one."""


_ROUND = 4
"""Segments of a quarter circle where cloth is opened by a disc."""


@dataclass(frozen=True, slots=True)
class Leftover:
    """One area to cut from. `number` is its place among the plan's areas, from 1; 0 is cloth yet to buy.

    `rings` are its outline and what has been cut from it, in places of cloth. On folded cloth it is there
    twice: `layer` "upper" lies wrong side up, so what is drawn on it is mirrored.
    """

    number: int
    rings: tuple[Ring, ...]
    layer: str = ""

    @property
    def face(self) -> int:
        """1 where the right side is up, -1 where it is down."""
        return -1 if self.layer == "upper" else 1

    @property
    def area(self) -> float:
        """In mm2, what is cut out of it taken off."""
        outline, *cut = (abs(_twice_area(ring)) / 2 for ring in self.rings)
        return outline - sum(cut)

    def without(self, *rings: Ring) -> Leftover:
        """The same area with more cut out of it."""
        return replace(self, rings=self.rings + rings)


def _twice_area(ring: Ring) -> float:
    return sum((p.conjugate() * q).imag for p, q in zip(ring, (*ring[1:], ring[0]), strict=True))


def leftovers(plan: Plan) -> tuple[Leftover, ...]:
    """The areas that a lay leaves, biggest first; those on folded cloth in both layers."""
    out: list[Leftover] = []
    for number, ring in enumerate(plan.left, start=1):
        for layer in _layers(plan, ring):
            out += [Leftover(number, (r,), layer) for r in within(ring)]
    return tuple(out)


def _layers(plan: Plan, ring: Ring) -> tuple[str, ...]:
    middle = (min(z.real for z in ring) + max(z.real for z in ring)) / 2
    here = next((s for s in plan.sections if s.start <= middle <= s.end), None)
    return ("upper", "lower") if here is not None and here.way != "open" else ("",)


def within(ring: Ring) -> Iterator[Ring]:
    """The ring itself, or rings of fewer points that lie inside it by at most 0.4 mm."""
    if len(ring) <= _MANY_POINTS:
        yield ring
        return
    from shapely import MultiPolygon

    drawn_in = polygon(ring).buffer(-_INWARDS_MM, join_style="mitre")
    for part in drawn_in.geoms if isinstance(drawn_in, MultiPolygon) else (drawn_in,):
        thin = part.simplify(_THIN_MM)
        if not thin.is_empty and thin.is_valid:
            yield tuple(complex(x, y) for x, y in thin.exterior.coords[:-1])


def cloth_of(leftover: Leftover, thin: float = 0.0) -> BaseGeometry:
    """What is left of an area, its outline simplified by at most `thin` mm where speed matters."""
    outline, *gone = (polygon(ring) for ring in leftover.rings)
    rest: BaseGeometry = outline
    for hole in gone:
        rest = rest.difference(hole)
    return rest.simplify(thin) if thin else rest


def polygon(ring: Ring) -> Polygon:
    from shapely import Polygon

    return Polygon([(z.real, z.imag) for z in ring])


def broad(cloth: BaseGeometry, width: float) -> float:
    """Area in mm2 of cloth that is at least `width` wide everywhere (opened by a disc of that width): slivers
    and narrow corners are not counted."""
    return float(cloth.buffer(-width / 2, _ROUND).buffer(width / 2, _ROUND).area)


@lru_cache(maxsize=128)
def bands(leftover: Leftover, width: float, directions: tuple[complex, ...], lean: int) -> tuple[Slot, ...]:
    """Every free stretch of strips of that width in these directions; both and `lean` as seen on the right
    side, so mirrored where that lies down."""
    drawn = directions if leftover.face > 0 else tuple(d.conjugate() for d in directions)
    across = (slots(leftover.rings, d, width, lean * leftover.face) for d in drawn)
    return tuple(chain.from_iterable(across))


def block_that_fits(leftover: Leftover, long: float, height: float, lean: int) -> Slot | None:
    """Where a block `long` by `height` lies on the straight grain, along or across; None where none does.

    `lean` 0 is a rectangle, 1 or -1 a parallelogram with its long sides on the grain and two on the bias. Of
    several places that with the least room beside it, so that large places are kept.
    """
    fits = [s for s in bands(leftover, height, (WARP, WEFT), lean) if s.length >= long]
    best = min(fits, key=lambda s: s.length, default=None)
    return best.cut(long) if best else None


def full_width(width: float, length: float) -> Leftover:
    """A length of new cloth from selvedge to selvedge."""
    return Leftover(0, ((0j, length + 0j, complex(length, width), complex(0, width)),))
