"""How the cloth comes onto the paper: the scale, and where the cloth's corner lies."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.geometry import path as paths
from cutonce.geometry.motion import Motion, Point, shifting
from cutonce.geometry.path import Path
from cutonce.sheets.drawing import scaled_path

SCALES = (5, 10, 20, 50, 100)
"""A lay is drawn at one part in so many: the first of these with which it takes few pages is used."""


@dataclass(frozen=True, slots=True)
class OnPaper:
    """The cloth's place p (mm) is drawn at `origin + p / parts`, in mm of the drawing.

    >>> OnPaper(10, 16 + 13j)(1000 + 500j)
    (116+63j)
    """

    parts: int
    origin: Point

    def __call__(self, p: Point) -> Point:
        return self.origin + p / self.parts

    def size(self, mm: float) -> float:
        """A length of the cloth as it is drawn."""
        return mm / self.parts

    def path(self, path: Path, by: Motion) -> Path:
        """A path of a piece, first moved to the cloth."""
        return paths.moved(scaled_path(paths.moved(path, by), 1 / self.parts), shifting(self.origin))
