"""Small words beside lines: found a free place along a line, or left out where there is none."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from cutonce.geometry import path as paths
from cutonce.geometry.path import Path
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Item, Stroke, Text

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_SHARES = (0.5, 0.35, 0.65, 0.22, 0.78, 0.1, 0.9)
_OFFSETS_MM = (1.2, 2.0, 3.0, 4.5, 6.0, 8.0)
_CLEAR_MM = 0.5
_FLAT_MM = 0.1


@dataclass(slots=True)
class Room:
    """The free room of one piece while its words are being set: inside `region`, clear of what is `taken`."""

    region: BaseGeometry
    taken: list[BaseGeometry] = field(default_factory=list)

    def take(self, items: Iterable[Item]) -> None:
        """Keep later words off these strokes and texts."""
        from shapely import LineString, Polygon

        for item in items:
            if isinstance(item, Stroke):
                points = paths.flattened(item.path, _FLAT_MM)
                self.taken.append(LineString([(p.real, p.imag) for p in points]))
            elif isinstance(item, Text):
                self.taken.append(Polygon([(p.real, p.imag) for p in item.corners]))

    def holds(self, text: Text) -> bool:
        """Is a text inside the region and clear of all that is taken?"""
        from shapely import Polygon, prepare

        box = Polygon([(p.real, p.imag) for p in text.corners])
        if not self.region.covers(box):
            return False
        wide = box.buffer(_CLEAR_MM)
        prepare(wide)
        return not any(wide.intersects(other) for other in self.taken)


def along(path: Path, choices: Sequence[str], height: float, room: Room) -> tuple[Text, ...]:
    """The first of the `choices` that fits beside a path, on either side, as one text; none if none fits.

    Words run along the path where it is straight enough and read from the left or from below; the first
    place that is free is taken, beginning at the middle of the path, close to it.
    """
    length = paths.length(path)
    for words in choices:
        wide = fonts.width(words, height)
        if not words or wide > 0.9 * length:
            continue
        for share in _SHARES:
            spot = share * length
            if not wide / 2 <= spot <= length - wide / 2:
                continue
            for text in _beside(path, spot, words, height):
                if room.holds(text):
                    room.take((text,))
                    return (text,)
    return ()


def _beside(path: Path, spot: float, words: str, height: float) -> Iterable[Text]:
    """The text at growing distances from a place on a path, to its left and to its right."""
    at, u = paths.point_at(path, spot), paths.tangent_at(path, spot)
    angle = readable(cmath.phase(u))
    up = 1j * cmath.exp(1j * angle)
    for offset in _OFFSETS_MM:
        yield Text(at + up * (offset + fonts.DESCENT * height), words, height, angle, "middle")
        yield Text(at - up * (offset + fonts.ASCENT * height), words, height, angle, "middle")


def readable(angle: float) -> float:
    """An angle turned by half a circle where needed, so that words read from the left or from below.

    >>> readable(math.pi), round(readable(-math.pi / 2), 3), readable(0.25)
    (0.0, 1.571, 0.25)
    """
    turned = math.remainder(angle, math.pi)
    return turned + math.pi if turned <= -math.pi / 2 + 1e-6 else turned
