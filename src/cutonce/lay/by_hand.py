"""Pieces held where she put them: within their grain, on the cloth, clear of each other; the rest settles
around."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from cutonce.cloth.cloth import Cloth
from cutonce.errors import BadInput, CannotApply, closest, quoted
from cutonce.geometry.motion import Motion, shifting
from cutonce.lay.asked import Held
from cutonce.lay.beds import Stage, to_section
from cutonce.lay.clearance import overlaps, polygon_of, too_near
from cutonce.lay.cuts import Cut
from cutonce.lay.outline import Outlines, laid_outline
from cutonce.lay.plan import Plan
from cutonce.lay.problem import Ring, Rule, Shape
from cutonce.lay.turns import Turn, angle_of, motion_of

_SNAP_RAD = math.radians(2)
"""A piece turned by hand to within this of a way it may lie is meant to lie that way."""

_FOLD_MM = 3.0
"""A piece that belongs on the fold and was put this near to it lies on it."""


def held_where(plan: Plan, key: str) -> Held:
    """A piece of a plan held where it lies now. Raises BadInput for a key that is not in it."""
    for laid in plan.laid:
        if laid.key == key:
            section = plan.sections[laid.section]
            start = section.end if section.way == "folded crosswise" else section.start
            return Held(key, shifting(-start).after(laid.motion), laid.section)
    keys = [laid.key for laid in plan.laid]
    message = f"no piece {quoted(key)} in the lay{closest(key, keys)}"
    raise BadInput("unknown-piece", "held", message, f"there are: {', '.join(keys)}")


@dataclass(frozen=True, slots=True)
class InHand:
    """A held piece on its bed: the turn it lies by, and its one shape with both coordinates fixed."""

    key: str
    turn: Turn
    shape: Shape

    @property
    def ring(self) -> Ring:
        at = complex(
            self.shape.along.at if self.shape.along else 0, self.shape.across.at if self.shape.across else 0
        )
        return tuple(at + p for p in self.shape.outline)


def hold(
    held: Held, cut: Cut, outlines: Outlines, ways: Sequence[Turn], stage: Stage, part: int, cloth: Cloth
) -> InHand:
    """The piece as she put it, its grain made true. Raises CannotApply where it may not lie like that."""
    motion = to_section(stage, part, cloth).inverse().after(held.motion)
    turn = _nearest_way(cut, motion, ways)
    turned = motion_of(cut, turn)
    shape_motion, ring = laid_outline(outlines, turned)
    middle = sum(outlines.fine) / len(outlines.fine)
    at = motion(middle) - shape_motion(middle)
    at = _on_the_bed(cut, stage, at, ring)
    return InHand(cut.key, turn, Shape(shape_motion, ring, Rule(at.real), Rule(at.imag)))


def _nearest_way(cut: Cut, motion: Motion, ways: Sequence[Turn]) -> Turn:
    angle = angle_of(cut.piece, motion)
    alike = [w for w in ways if w.over == motion.mirror]
    if not alike:
        raise CannotApply("turned-over", cut.key, "it may not be turned over on this cloth")
    off = {w: abs(math.remainder(angle - w.angle, math.tau)) for w in alike}
    best = min(alike, key=lambda w: off[w])
    if off[best] > _SNAP_RAD:
        may = ", ".join(f"{round(math.degrees(a))}" for a in sorted({w.angle for w in alike}))
        message = f"it is turned {math.degrees(off[best]):.0f} degrees off its grain"
        raise CannotApply(
            "off-grain", cut.key, message, f"its arrow may lie at {may} degrees to the selvedge"
        )
    return best


def _on_the_bed(cut: Cut, stage: Stage, at: complex, ring: Ring) -> complex:
    """The place moved in by what a hand is off; on the fold, exactly."""
    wide, high = max(p.real for p in ring), max(p.imag for p in ring)
    if cut.on_fold:
        lengthwise = stage.way == "folded lengthwise"
        if abs(at.imag if lengthwise else at.real) > _FOLD_MM:
            raise CannotApply("off-fold", cut.key, "it belongs on the fold, and can only be moved along it")
        at = complex(at.real, 0.0) if lengthwise else complex(0.0, at.imag)
    over = max(-at.real, -at.imag, at.imag + high - stage.bed.width, 0.0)
    if stage.bed.length is not None:
        over = max(over, at.real + wide - stage.bed.length)
    if over > _FOLD_MM or not cmath.isfinite(at):
        raise CannotApply("off-the-cloth", cut.key, f"it lies {over:.0f} mm over the edge of the cloth")
    return complex(max(at.real, 0.0), min(max(at.imag, 0.0), stage.bed.width - high))


def refuse_clashes(held: Sequence[InHand], stage: Stage, spacing: float) -> None:
    """Raises CannotApply where held pieces lie on each other, too near to each other or on a flaw."""
    from shapely import Polygon

    there = [Polygon([(z.real, z.imag) for z in h.ring]) for h in held]
    for clash in overlaps(there):
        message = f"it lies over {held[clash.second].key}; move one of them"
        raise CannotApply("held-overlap", held[clash.first].key, message)
    for clash in too_near(there, spacing):
        message = (
            f"it lies {clash.gap:.1f} mm from {held[clash.second].key}, and {spacing:g} mm are to be free"
        )
        raise CannotApply("held-too-near", held[clash.first].key, message)
    avoid = [a for a in map(polygon_of, stage.bed.avoid) if a is not None]
    for clash in overlaps(there, avoid):
        message = "it lies on a flaw, or on cloth that is not there; move it"
        raise CannotApply("held-on-flaw", held[clash.first].key, message)
