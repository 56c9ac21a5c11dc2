"""The independent check of a lay: what breaks a rule, as findings. It raises nothing and places nothing.

Nothing is shown before it has passed here. Lengths are measured by `clearance`, with Shapely, on the rings
that the caller gives: those of the problem, or finer ones, so that a search that thinned its outlines is
caught where pieces would overlap.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cutonce.errors import Finding
from cutonce.geometry.motion import Motion, shifting
from cutonce.lay.clearance import SLACK_MM, overlaps, polygon_of, too_near
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Ring, Rule, Shape, Spot

GRAIN_DEG = 0.1
"""A grain line off by less is true: 1.7 mm on a metre."""


@dataclass(frozen=True, slots=True)
class Fine:
    """A blank as finely as the caller knows it, in the piece's own frame.

    `grain` is the direction of the warp there; laid, it may have the angles `ways` to the cloth's warp
    (radians), each `within` degrees.
    """

    ring: Ring
    grain: complex = 1 + 0j
    ways: tuple[float, ...] = (0.0, math.pi)
    within: float = GRAIN_DEG


@dataclass(frozen=True, slots=True)
class Placed:
    """A ring where it lies on the bed, with the name that messages give it."""

    name: str
    ring: Ring


def verify(problem: Problem, layout: Layout, fine: Mapping[str, Fine] | None = None) -> tuple[Finding, ...]:
    """What is wrong with a layout of a problem; empty where nothing is.

    Every blank once; its rules kept; no overlap and nothing off the bed by more than 0.01 mm; spacing kept;
    the stated length true. With `fine`, by blank: overlaps on those rings, and grain within 0.1 degree.
    """
    blanks = {blank.key: blank for blank in problem.blanks}
    found = list(_once_each(blanks, layout))
    placed: list[Placed] = []
    reach = 0.0
    for spot in layout.spots:
        blank = blanks.get(spot.blank)
        if blank is None or not (0 <= spot.shape < len(blank.shapes)) or not cmath.isfinite(spot.at):
            continue
        shape = blank.shapes[spot.shape]
        found += _rules(spot, shape)
        placed.append(Placed(blank.key, tuple(spot.at + p for p in shape.outline)))
        reach = max(reach, *(p.real for p in placed[-1].ring))
        if fine is not None and blank.key in fine:
            known = fine[blank.key]
            motion = shifting(spot.at).after(shape.motion)
            found += grain(blank.key, known, motion)
            placed[-1] = Placed(blank.key, tuple(motion(p) for p in known.ring))
    found += verify_placed(placed, problem.bed, problem.spacing)
    found += _length(layout, reach)
    return tuple(found)


def verify_placed(placed: Sequence[Placed], bed: Bed, spacing: float = 0.0) -> list[Finding]:
    """Overlaps, spacing, the bed's edges and what is to be avoided, on rings where they lie."""
    found: list[Finding] = []
    names, polygons = [], []
    for one in placed:
        polygon = polygon_of(one.ring)
        if polygon is None:
            found.append(Finding("stop", "bad-outline", one.name, "its outline crosses itself or is empty"))
            continue
        names.append(one.name)
        polygons.append(polygon)
        found += _on_bed(one.name, polygon.bounds, bed)
    for clash in overlaps(polygons):
        a, b = names[clash.first], names[clash.second]
        found.append(_off("overlap", a, f"overlaps {b} by {clash.depth:.3f} mm", clash.depth))
    for clash in too_near(polygons, spacing):
        a, b = names[clash.first], names[clash.second]
        found.append(_off("too-near", a, f"lies {clash.gap:.2f} mm from {b}", clash.gap, spacing))
    avoid = [ring for ring in map(polygon_of, bed.avoid) if ring is not None]
    for clash in overlaps(polygons, avoid):
        message = f"lies {clash.depth:.3f} mm over cloth to be avoided"
        found.append(_off("on-a-flaw", names[clash.first], message, clash.depth))
    return found


def grain(name: str, known: Fine, motion: Motion) -> list[Finding]:
    """A finding where the warp of a piece, laid by `motion`, is off each way it may lie by too much."""
    if known.grain == 0:
        return [Finding("stop", "grain-off", name, "its grain line has no direction")]
    angle = cmath.phase(motion.of_vector(known.grain))
    off = min(abs(math.remainder(angle - way, math.tau)) for way in known.ways)
    if math.degrees(off) <= known.within:
        return []
    return [Finding("stop", "grain-off", name, f"its grain is {math.degrees(off):.2f} degrees off")]


def _once_each(blanks: Mapping[str, Blank], layout: Layout) -> list[Finding]:
    found = []
    times = dict.fromkeys(blanks, 0)
    for spot in layout.spots:
        blank = blanks.get(spot.blank)
        if blank is None:
            found.append(
                Finding("stop", "unknown-blank", spot.blank, "is laid, but is no blank of the problem")
            )
            continue
        times[spot.blank] += 1
        if not 0 <= spot.shape < len(blank.shapes):
            message = f"lies by its shape {spot.shape}, but has {len(blank.shapes)}"
            found.append(Finding("stop", "unknown-shape", spot.blank, message))
        elif not cmath.isfinite(spot.at):
            found.append(Finding("stop", "no-place", spot.blank, "lies nowhere: its place is no number"))
    for key, count in times.items():
        if count != 1:
            what = "is not laid" if count == 0 else f"is laid {count} times"
            found.append(Finding("stop", "not-once", key, what))
    return found


def _rules(spot: Spot, shape: Shape) -> list[Finding]:
    found = []
    for rule, at, way in ((shape.along, spot.at.real, "along"), (shape.across, spot.at.imag, "across")):
        off = 0.0 if rule is None else off_rule(rule, at)
        if off > SLACK_MM:
            message = f"lies {off:.3f} mm {way} the cloth from where its rule says"
            found.append(_off("rule-broken", spot.blank, message, off))
    return found


def off_rule(rule: Rule, at: float) -> float:
    """How far a coordinate is from the nearest that a rule allows, mm.

    >>> off_rule(Rule(5.0, 20.0), 66.0), off_rule(Rule(5.0), 66.0)
    (1.0, 61.0)
    """
    return abs(math.remainder(at - rule.at, rule.every) if rule.every > 0.0 else at - rule.at)


def _on_bed(name: str, bounds: tuple[float, float, float, float], bed: Bed) -> list[Finding]:
    left, low, right, high = bounds
    ends = [(-left, "the cut end"), (-low, "the lower edge"), (high - bed.width, "the upper edge")]
    if bed.length is not None:
        ends.append((right - bed.length, "the far end"))
    return [
        _off("off-the-bed", name, f"lies {over:.3f} mm over {edge} of the cloth", over)
        for over, edge in ends
        if over > SLACK_MM
    ]


def _length(layout: Layout, reach: float) -> list[Finding]:
    if abs(reach - layout.length) <= SLACK_MM:
        return []
    message = f"is said to take {layout.length:.2f} mm, but reaches {reach:.2f}"
    return [Finding("stop", "length-untrue", "lay", message, expected_mm=layout.length, found_mm=reach)]


def _off(code: str, where: str, message: str, found: float, expected: float = 0.0) -> Finding:
    return Finding("stop", code, where, message, expected_mm=expected, found_mm=found)
