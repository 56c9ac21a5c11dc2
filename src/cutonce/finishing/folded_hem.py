"""The end of a hem allowance: the mirror image of the garment above the fold, so that, turned up, it fits.

The sewing line of a hem is its fold. The cutting line beside it (a side seam with its allowance, a slit, a
centre laid on the fold) is followed up to the hem's depth and reflected in the fold; where the fold is
curved, each point goes along the fold's normal to as far below as it was above.
"""

from __future__ import annotations

import math

from cutonce.finishing.corners import Joined, crossing, straight_on
from cutonce.geometry import fit, path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import nearest
from cutonce.geometry.motion import Point, reflecting
from cutonce.geometry.path import Path, reversed_path

_STRAIGHT_MM = 0.005
"""A fold line that strays less is straight, and the image in it exact."""

_SAMPLES = 6
"""Points a curve of 20 mm or more is mirrored through: with these its image is right to 0.005 mm."""


def folded_back(side: Path, hem: Path, cut: Path, depth: float) -> Joined | None:
    """The corner between the cutting line `side`, which arrives, and a hem turned up by `depth`.

    `hem` is the hem's sewing line, `cut` the line `depth` outside it. None where the side does not reach the
    fold line or its image does not reach the lower edge; the corner is then made otherwise.
    """
    fold = straight_on(side, hem, 3 * depth)
    if fold.between:
        return None
    slope = abs((fold.one[-1].tangent(1).conjugate() * hem[0].tangent(0)).imag)
    if slope < 0.25:
        return None
    up = _first(reversed_path(fold.one), depth / slope * 1.3 + 5)
    found = crossing(mirrored(up, _first(fold.two, 3 * depth)), cut, 3 * depth, 3 * depth)
    return Joined(fold.one, found[0], found[1]) if found else None


def _first(line: Path, size: float) -> Path:
    """The first `size` mm of a path, carried on straight where it is shorter."""
    have = path.length(line)
    if have >= size:
        return path.part(line, 0.0, size)
    return (*line, Line(line[-1].end, line[-1].end + (size - have) * line[-1].tangent(1)))


def mirrored(line: Path, fold: Path) -> Path:
    """The path reflected in a fold line that it starts on: exactly in a straight one, along its normals in a
    curved one (then by cubics through points, within 0.005 mm for depths that cloth allows)."""
    p, v = fold[0].start, fold[0].tangent(0)
    far = max(((c.at(t) - p) * v.conjugate()).real for c in line for t in (0.0, 0.5, 1.0))
    if _leaves_straight(fold, far) < _STRAIGHT_MM:
        return path.moved(line, reflecting(p, p + v))
    out: list[Curve] = []
    for curve in line:
        out.extend(_mirrored_curve(curve, fold))
    return tuple(out)


def _leaves_straight(fold: Path, far: float) -> float:
    """By how much the fold line has left its first direction after `far` mm."""
    if far <= 0:
        return 0.0
    p, v = fold[0].start, fold[0].tangent(0)
    return max(abs(((path.point_at(fold, s * far) - p) * v.conjugate()).imag) for s in (0.25, 0.5, 0.75, 1.0))


def _mirrored_curve(curve: Curve, fold: Path) -> Path:
    n = max(2, math.ceil(_SAMPLES * min(1.0, curve.length / 20)))
    points = [_mirror(curve.at(k / n), fold) for k in range(n + 1)]
    h = 1e-4
    start, end = _mirror(curve.at(h), fold) - points[0], points[-1] - _mirror(curve.at(1 - h), fold)
    return fit.through(points, start, end)


def _mirror(p: Point, fold: Path) -> Point:
    """As far below the fold as p lies above, along the normal through p; straight on beyond its start."""
    first = fold[0]
    v = first.tangent(0)
    if ((p - first.start) * v.conjugate()).real <= 0:
        return reflecting(first.start, first.start + v)(p)
    s, _ = nearest(fold, p)
    return 2 * path.point_at(fold, s) - p


def turn_up_ease(hem: Path, depth: float) -> float:
    """How much longer (negative: shorter) a hem's cut edge is than the garment beneath it when turned up, as
    a share of the latter: (L + d t) / (L - d t) - 1 for a line of length L that turns by t in all."""
    turn = path.turn(hem)
    size = path.length(hem)
    inner = size - depth * turn
    return (size + depth * turn) / inner - 1 if inner > 0 else math.inf
