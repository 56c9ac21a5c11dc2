"""Bands across an area of cloth: where a strip of one width and one slant lies wholly on cloth.

An area is a set of rings, odd-even: the outline, and every ring cut out of it so far. A band has a
direction, a width and a slant of its ends; moved along by the slant, the strip is a rectangle, and it lies on
cloth where no edge of any ring comes into it. That is exact for polygons, without a grid.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cutonce.geometry.motion import Point
from cutonce.lay.problem import Ring

TOUCH_MM = 1e-6
"""An edge that comes into a band by less runs along its side: rounding of coordinates of a few metres."""

_CORNER_RAD = 0.5
"""Bands are tried against every corner sharper than this; the points of a flattened curve turn less."""

_STEPS = 2
"""And at every half width across the area, for the curves between."""

WARP, WEFT = 1 + 0j, 1j
BIAS: tuple[complex, complex] = (cmath.exp(0.25j * math.pi), cmath.exp(-0.25j * math.pi))
"""The two bias directions, 45 degrees to the warp on either side."""


@dataclass(frozen=True, slots=True)
class Slot:
    """A free stretch of a band, in the band's own frame: x along `direction`, y to its left.

    A strip in it has the corners (`start`, `low`), (`end`, `low`) and, `width` higher, both moved by
    `lean * width` along: `lean` 0 is a rectangle, +1 or -1 has ends at 45 degrees to the strip.
    """

    direction: complex
    lean: int
    low: float
    width: float
    start: float
    end: float

    @property
    def length(self) -> float:
        return self.end - self.start

    def cut(self, length: float, at_end: bool = False) -> Slot:
        """The part of that length at its start or at its end."""
        start = self.end - length if at_end else self.start
        return Slot(self.direction, self.lean, self.low, self.width, start, start + length)

    @property
    def ring(self) -> Ring:
        """The four corners in places of cloth, counter-clockwise."""
        x, high = self.lean * self.width, self.low + self.width
        corners = (
            complex(self.start, self.low),
            complex(self.end, self.low),
            complex(self.end + x, high),
            complex(self.start + x, high),
        )
        return tuple(z * self.direction for z in corners)


def slots(area: Iterable[Ring], direction: complex, width: float, lean: int) -> Iterator[Slot]:
    """Every free stretch of every band worth trying, at corners of the area and at half widths between."""
    back = direction.conjugate()
    turned = tuple(tuple(z * back for z in ring) for ring in area)
    edges = sorted(_edges(turned), key=lambda e: e[0].imag)
    near: list[Edge] = []
    reached = 0
    for low in _lows(turned, width):
        while reached < len(edges) and edges[reached][0].imag < low + width:
            near.append(edges[reached])
            reached += 1
        near = [e for e in near if e[1].imag > low]
        for start, end in free(near, low, width, lean):
            yield Slot(direction, lean, low, width, start, end)


Edge = tuple[Point, Point]


def free(edges: Iterable[Edge], low: float, width: float, lean: int) -> list[tuple[float, float]]:
    """Where a strip fits in the band `low <= y <= low + width`: stretches of x, measured at its lower side.

    `edges` are those of all rings in the band's frame, each with its lower point first; those that do not
    come into the band may be left out.

    >>> square = ((0j, 90j), (90 + 0j, 90 + 90j), (0j, 90 + 0j), (90j, 90 + 90j))
    >>> free(square, 10, 20, 0), free(square, 10, 20, 1)
    ([(0.0, 90.0)], [(0.0, 70.0)])
    """
    high, middle = low + width, low + width / 2
    blocked: list[tuple[float, float, bool]] = []
    for p, q in edges:
        if q.imag <= low + TOUCH_MM or p.imag >= high - TOUCH_MM:
            continue
        y0, y1 = max(p.imag, low), min(q.imag, high)
        x0 = _at(p, q, y0) - lean * (y0 - low)
        x1 = (_at(p, q, y1) if q.imag > p.imag else q.real) - lean * (y1 - low)
        crosses = p.imag <= middle < q.imag
        blocked.append((x0, x1, crosses) if x0 <= x1 else (x1, x0, crosses))
    blocked.sort()
    out: list[tuple[float, float]] = []
    inside, reached = False, -math.inf
    for x0, x1, crosses in blocked:
        if x0 > reached and inside:
            out.append((reached, x0))
        reached = max(reached, x1)
        inside ^= crosses
    return out


def _at(p: Point, q: Point, y: float) -> float:
    """The x of an edge at a height; of a level one its first end's."""
    if y <= p.imag:
        return p.real
    return q.real if y >= q.imag else p.real + (q.real - p.real) * (y - p.imag) / (q.imag - p.imag)


def _edges(rings: Iterable[Ring]) -> tuple[Edge, ...]:
    return tuple(
        (p, q) if p.imag <= q.imag else (q, p)
        for ring in rings
        for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)
    )


def _lows(rings: tuple[Ring, ...], width: float) -> list[float]:
    """Where to try bands: against corners from above, below and in the middle, and at equal steps."""
    ys = [z.imag for ring in rings for z in ring]
    least, most = min(ys), max(ys)
    tried = {y + d for ring in rings for y in _corner_heights(ring) for d in (0.0, -width / 2, -width)}
    step = width / _STEPS
    tried |= {least + k * step for k in range(max(int((most - least) / step), 0) + 1)}
    inside = sorted(y for y in tried if least - TOUCH_MM <= y <= most - width + TOUCH_MM)
    return [y for i, y in enumerate(inside) if i == 0 or y - inside[i - 1] > TOUCH_MM]


def _corner_heights(ring: Ring) -> Iterator[float]:
    for before, here, after in zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True):
        one, two = here - before, after - here
        if one and two and abs(cmath.phase(two / one)) > _CORNER_RAD:
            yield here.imag
