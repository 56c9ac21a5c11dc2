"""Whether a body's measures can be true: findings for what is unusual, a refusal for what no body has.

Estimated values are not judged: they say themselves how sure they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cutonce.body.estimate import FOLLOWING, METHODS
from cutonce.body.measures import Body, Measure
from cutonce.body.terms import BY_KEY, SIDES
from cutonce.errors import BadInput, Finding, Severity
from cutonce.units import show

FARTHEST_SIDES_MM: Final = 30.0
"""More than this between left and right is seldom real (common practice)."""

FARTHEST_SD: Final = 4.0
"""A measure farther than this from what follows from the others is asked about again."""


@dataclass(frozen=True, slots=True)
class Bound:
    """`key` is expected between `low` and `high` times `other`; `says` is what is wrong where it is not."""

    severity: Severity
    key: str
    low: float
    high: float
    other: str
    says: str


_ANSUR = "ANSUR II, mean -+ 3 SD"
BOUNDS: Final[tuple[Bound, ...]] = (
    Bound("stop", "waist_girth", 0.3, 1.5, "bust_girth", "no body has such a pair"),
    Bound("stop", "hip_girth", 0.5, 2.2, "bust_girth", "no body has such a pair"),
    Bound("stop", "waist_girth", 0.3, 1.5, "hip_girth", "no body has such a pair"),
    Bound("stop", "under_bust_girth", 0.5, 1.1, "bust_girth", "no body has such a pair"),
    Bound("stop", "upper_bust_girth", 0.5, 1.3, "bust_girth", "no body has such a pair"),
    Bound("stop", "neck_girth", 0.4, 1.15, "neck_base_girth", "the neck is widest at its base"),
    Bound("stop", "wrist_girth", 0.2, 1.0, "upper_arm_girth", "the wrist is narrower than the arm"),
    Bound("stop", "bust_span", 0.08, 0.45, "bust_girth", "no body has such a pair"),
    Bound("stop", "back_waist_length", 0.13, 0.45, "height", "no body has such a pair"),
    Bound("stop", "waist_to_floor", 0.4, 0.8, "height", "no body has such a pair"),
    Bound("stop", "waist_to_knee", 0.3, 0.85, "waist_to_floor", "the knee lies between waist and floor"),
    Bound("stop", "waist_to_hip", 0.05, 0.9, "waist_to_knee", "the hip lies between waist and knee"),
    Bound("note", "hip_girth", 1.0, 9.9, "waist_girth", "the hip is less than the waist"),
    Bound(
        "warning", "back_waist_length", 0.215, 0.285, "height", "usual is 0.215 to 0.285 (common practice)"
    ),
    Bound("warning", "neck_base_girth", 0.31, 0.475, "bust_girth", f"usual is 0.31 to 0.475 ({_ANSUR})"),
    Bound("warning", "across_back_width", 0.31, 0.48, "bust_girth", f"usual is 0.31 to 0.48 ({_ANSUR})"),
    Bound("warning", "front_waist_length", 0.94, 1.3, "back_waist_length", "usual is 0.94 to 1.3"),
)


def plausible(body: Body) -> tuple[Finding, ...]:
    """Everything that can be said about the body's measured values, the impossible first."""
    found = [*_limits(body), *_bounds(body), *_usual(body), *_sides(body), *_against_the_others(body)]
    order = ("stop", "warning", "note")
    return tuple(sorted(found, key=lambda finding: order.index(finding.severity)))


def refuse_impossible(body: Body, where: str = "") -> None:
    """Raises BadInput "impossible-measure" for the first value or pair that no body has."""
    for finding in (*_limits(body), *_bounds(body)):
        if finding.severity == "stop":
            raise BadInput("impossible-measure", where or body.name, finding.message, finding.hint)


def _measured(body: Body) -> Iterator[Measure]:
    return (measure for measure in body.measures if measure.estimate is None)


def _limits(body: Body) -> Iterator[Finding]:
    for measure in _measured(body):
        term = BY_KEY[measure.key]
        low, high = term.limits
        if not low <= measure.mm <= high:
            message = (
                f"{_name(measure)} {show(measure.mm)} is impossible: {show(low)} to {show(high)} is possible"
            )
            yield _finding("stop", body, measure.key, message, f"to take it: {term.how}")


def _bounds(body: Body) -> Iterator[Finding]:
    known = {measure.key for measure in _measured(body)}
    for bound in BOUNDS:
        if bound.key not in known or bound.other not in known:
            continue
        value, other = body.mm(bound.key), body.mm(bound.other)
        if not bound.low * other <= value <= bound.high * other:
            message = f"{bound.key} {show(value)} against {bound.other} {show(other)}: {bound.says}"
            yield _finding(bound.severity, body, bound.key, message, "measure both again")


def _usual(body: Body) -> Iterator[Finding]:
    for measure in _measured(body):
        term = BY_KEY[measure.key]
        low, high = term.usual
        if not low <= measure.mm <= high and term.limits[0] <= measure.mm <= term.limits[1]:
            usual = f"usual is {show(low)} to {show(high)} ({term.usual_source})"
            message = f"{_name(measure)} {show(measure.mm)} is unusual; {usual}"
            yield _finding("warning", body, measure.key, message, f"to take it: {term.how}")


def _sides(body: Body) -> Iterator[Finding]:
    for key in body.uneven:
        left, right = (body.mm(key, side) for side in SIDES)
        if abs(left - right) > FARTHEST_SIDES_MM:
            message = (
                f"{key} left {show(left)}, right {show(right)}: they differ by {show(abs(left - right))}"
            )
            yield _finding("warning", body, key, message, "measure both sides again from the same points")


def _against_the_others(body: Body) -> Iterator[Finding]:
    known = {measure.key: body.mm(measure.key) for measure in _measured(body)}
    for method in METHODS:
        if method.key not in FOLLOWING or any(key not in known for key in (method.key, *method.needs)):
            continue
        expected, how = method.work({key: mm for key, mm in known.items() if key != method.key})
        value, sd = known[method.key], how.sd_mm
        if sd is not None and abs(value - expected) > FARTHEST_SD * sd:
            message = (
                f"{method.key} {show(value)} is far from the {show(expected)} (SD {show(sd)}) "
                f"that goes with her other measures ({how.source})"
            )
            yield _finding("warning", body, method.key, message, "measure it again")


def _name(measure: Measure) -> str:
    return f"{measure.key} ({measure.wearer})" if measure.wearer else measure.key


def _finding(severity: Severity, body: Body, key: str, message: str, hint: str) -> Finding:
    code = "impossible-measure" if severity == "stop" else "unusual-measure"
    return Finding(severity, code, ", ".join(part for part in (body.name, key) if part), message, hint=hint)
