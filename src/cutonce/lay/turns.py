"""Which ways a cut may lie on its cloth, by nap, grain and fold; and its shapes for the search."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from cutonce.cloth.cloth import Cloth
from cutonce.errors import CannotApply
from cutonce.finishing.finished import FinishedPiece
from cutonce.geometry.motion import Motion
from cutonce.lay.asked import Asked
from cutonce.lay.cuts import Cut
from cutonce.lay.outline import Outlines, bounds_of, laid_outline
from cutonce.lay.plan import Way
from cutonce.lay.problem import Rule, Shape

_HALF, _QUARTER = math.pi, math.pi / 2

_ON_FOLD_MM = 1e-3
"""A fold edge lies on the edge of the bed when it is this near: rounding of a turn."""

LARGEST_TOLERANCE = math.radians(10)
"""Grain further off than this hangs visibly askew (common practice: 3 to 5 degrees at most)."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One way to lie: the arrow at `angle` to the warp, the piece turned over or not."""

    angle: float
    over: bool = False


def turns(cut: Cut, cloth: Cloth, way: Way, asked: Asked) -> tuple[Turn, ...]:
    """Every way a cut may lie: arrow up the cloth; down too unless the nap is one-way; a quarter round on
    plain cloth where the piece is on the bias and not one of a pair, or where she allows it; each a little
    off where she allows that. It may be turned over on folded cloth, and on cloth whose sides are alike.

    Two of a pair on the bias keep to their own diagonals, which mirror each other: parallel ones twist.
    Raises CannotApply where what she allows cannot be.
    """
    ways = [0.0]
    if cloth.nap != "one-way":
        ways.append(_HALF)
    if cut.source in asked.cross and cloth.nap != "none":
        message = f"may not be turned a quarter: the cloth's nap is {cloth.nap}"
        raise CannotApply("nap-forbids-cross", cut.source, message, "leave it out of the pieces cut across")
    free_bias = cut.piece.grain.words == "bias" and not cut.of_pair and way == "open" and cloth.nap == "none"
    if cut.source in asked.cross or free_bias:
        ways += [_QUARTER, -_QUARTER]
    off = asked.tolerance_of(cut.source)
    if not 0.0 <= off <= LARGEST_TOLERANCE:
        most = f"{math.degrees(LARGEST_TOLERANCE):.0f}"
        message = f"a grain tolerance of {math.degrees(off):.1f} degrees; it may be 0 to {most}"
        raise CannotApply("bad-tolerance", cut.source, message)
    if off and not cut.on_fold:
        ways = [w + d for w in ways for d in (0.0, off, -off)]
    sides = (False, True) if way != "open" or cloth.right_side == "either" else (False,)
    return tuple(Turn(w, over) for over in sides for w in ways)


def motion_of(cut: Cut, turn: Turn) -> Motion:
    """The motion about the piece's origin that lays its arrow at the turn's angle to the warp (which is
    +x)."""
    arrow = cut.piece.grain.end - cut.piece.grain.start
    warp = arrow / abs(arrow)
    way = cmath.exp(1j * turn.angle)
    return Motion(way * (warp if turn.over else warp.conjugate()), 0j, turn.over)


def angle_of(piece: FinishedPiece, motion: Motion) -> float:
    """The angle of a piece's arrow to the warp as a motion lays it, radians."""
    return cmath.phase(motion.of_vector(piece.grain.end - piece.grain.start))


def shapes(
    cut: Cut, outlines: Outlines, ways: Sequence[Turn], way: Way, where: str = ""
) -> tuple[tuple[Turn, ...], tuple[Shape, ...]]:
    """The shapes of a cut with the turn of each. A cut on the fold keeps those whose fold lies on the fold
    of the cloth, bound to it: at y = 0 lengthwise, at x = 0 (counted from the fold) crosswise."""
    kept: list[Turn] = []
    made: list[Shape] = []
    for turn in ways:
        turned = motion_of(cut, turn)
        if cut.on_fold and not _fold_is_low(cut, outlines, turned, way):
            continue
        motion, ring = laid_outline(outlines, turned)
        rule = Rule(0.0) if cut.on_fold else None
        along, across = (None, rule) if way == "folded lengthwise" else (rule, None)
        kept.append(turn)
        made.append(Shape(motion, ring, along, across))
    if not made:
        raise CannotApply("no-way", where or cut.key, "there is no way to lay it on this cloth")
    return tuple(kept), tuple(made)


def _fold_is_low(cut: Cut, outlines: Outlines, turned: Motion, way: Way) -> bool:
    fold = cut.piece.fold
    if fold is None:
        return False
    low_x, low_y, _, _ = bounds_of(outlines, turned)
    ends = [turned(fold.path[0].start), turned(fold.path[-1].end)]
    off = [z.imag - low_y if way == "folded lengthwise" else z.real - low_x for z in ends]
    return max(off) < _ON_FOLD_MM + abs(ends[1] - ends[0]) * 1e-3
