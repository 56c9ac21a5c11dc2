"""Measures that were not taken, made out from those that were; each marked with its source and its SD.

Bust, waist, hip and height are always measured. What follows from them well is filled in when estimates are
wanted at all; what hardly follows only when it is asked for by name, or when everything is. The choices and
their reasons: docs/decisions/020-estimates-of-measures.md.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Final

from cutonce.body.measures import Body, Estimate, Measure, term_of
from cutonce.body.regressions import predict
from cutonce.body.terms import TERMS
from cutonce.body.waists import NAVEL_SD_MM, navel_from_narrowest
from cutonce.errors import CannotApply

Known = Mapping[str, float]
"""Measures in mm by key."""

_BUST_AND_HEIGHT = ("bust_girth", "height")


@dataclass(frozen=True, slots=True)
class Method:
    """How one measure is estimated. `follows` where it may be filled in without being asked for by name."""

    key: str
    needs: tuple[str, ...]
    work: Callable[[Known], tuple[float, Estimate]]
    follows: bool = False


def estimate(body: Body, *, asked: Iterable[str] = (), everything: bool = False) -> Body:
    """The body with missing measures estimated: those that follow well, those asked for, or everything.

    A measure that is there is never altered. What needs a measure that the body lacks stays missing, unless
    it was asked for: then CannotApply "cannot-estimate" says what is needed. BadInput for no measure.

    >>> from cutonce.body.measures import body_of
    >>> ida = body_of("Ida", {"bust_girth": 880, "waist_girth": 680, "hip_girth": 960, "height": 1650})
    >>> estimate(ida).has("wrist_girth"), estimate(ida).has("shoulder_length")
    (True, False)
    >>> round(estimate(ida, asked=["shoulder_length"]).mm("shoulder_length"))
    136
    """
    wanted = tuple(asked)
    for key in wanted:
        term_of(key, body.name)
    known = {term.key: body.mm(term.key) for term in TERMS if body.has(term.key)}
    found: list[Measure] = []
    for method in METHODS:
        if method.key in known or any(need not in known for need in method.needs):
            continue
        mm, how = method.work(known)
        known[method.key] = mm
        if everything or method.follows or method.key in wanted:
            found.append(Measure(method.key, mm, estimate=how))
    for key in wanted:
        if key not in known:
            raise _cannot(key, known, body.name)
    return body.with_measures(found)


def _cannot(key: str, known: Known, where: str) -> CannotApply:
    needs = next((method.needs for method in METHODS if method.key == key), None)
    how = term_of(key, where).how
    if needs is None:
        return CannotApply("cannot-estimate", where, f"{key} cannot be estimated", f"to take it: {how}")
    lacking = ", ".join(need for need in needs if need not in known)
    return CannotApply(
        "cannot-estimate", where, f"to estimate {key}, {lacking} is needed", f"or take it: {how}"
    )


def _by_regression(quantity: str, known: Known) -> tuple[float, Estimate]:
    found = predict(quantity, known)
    return found.mm, Estimate(found.source, found.sd_mm)


def _back_waist_length(known: Known) -> tuple[float, Estimate]:
    on_two = {key: known[key] for key in _BUST_AND_HEIGHT}
    found = predict("back_waist_len_omph", on_two)
    source = f"{found.source}, less 1.03 cm: mean gap to the US trade table for misses, sizes 6 to 20"
    return found.mm - 10.3, Estimate(source, math.hypot(found.sd_mm, 3.7))


def _under_bust_girth(known: Known) -> tuple[float, Estimate]:
    mm = 0.9348 * known["bust_girth"] - 92.4
    return mm, Estimate(
        "straight line through ASTM D5585-11, sizes 00 to 20: a table's figure, any cup", None
    )


def _upper_bust_girth(known: Known) -> tuple[float, Estimate]:
    mm = 0.8162 * known["bust_girth"] + 160.3
    return mm, Estimate(
        "straight line through ASTM D5585-11, sizes 00 to 20: a table's figure, any cup", None
    )


def _top_hip_girth(known: Known) -> tuple[float, Estimate]:
    hip = known["hip_girth"]
    navel = navel_from_narrowest(known["waist_girth"], hip)
    source = "between navel girth (bdims) and hip girth, by the levels of ANSUR II; SD at least"
    return navel + 0.345 * (hip - navel), Estimate(source, 0.655 * NAVEL_SD_MM)


def _across_front_width(known: Known) -> tuple[float, Estimate]:
    mm = 324 + 0.3 * (known["bust_girth"] - 880)
    return mm, Estimate(
        "a UK handbook's block, read in a how-to: 32.4 cm + 1.2 for each 4 cm of bust above 88; SD unknown",
        None,
    )


def _scye_depth(known: Known) -> tuple[float, Estimate]:
    mm = 210 + 0.125 * (known["bust_girth"] - 880)
    source = "a UK handbook's table: 21 cm + 0.5 for each 4 cm of bust above 88 (from memory); SD unknown"
    return mm, Estimate(source, None)


def _bust_span(known: Known) -> tuple[float, Estimate]:
    source = "0.205 of the bust: amid 17 to 19 cm at bust 84 to 92 (from memory); SD unknown"
    return 0.205 * known["bust_girth"], Estimate(source, None)


def _neck_to_bust_point(known: Known) -> tuple[float, Estimate]:
    bust = known["bust_girth"]
    down = bust / 5 + 83
    across = known["bust_span"] / 2 - (bust / 24 + 34)
    source = "the 8th generation Bunka block: front height and neck width (from memory); SD unknown"
    return math.hypot(down, across), Estimate(source, None)


def _front_waist_length(known: Known) -> tuple[float, Estimate]:
    mm = known["back_waist_length"] + 7 / 60 * known["bust_girth"] - 54
    source = (
        "back waist length + 7/60 of the bust - 5.4 cm: balance of the Bunka block (from memory); SD unknown"
    )
    return mm, Estimate(source, None)


def _shoulder_drop(known: Known) -> tuple[float, Estimate]:
    source = (
        "a slope of 20 degrees, mean of 18 back and 22 front in the Bunka block (from memory); SD unknown"
    )
    return known["shoulder_length"] * math.sin(math.radians(20)), Estimate(source, None)


def _back_hip_arc(known: Known) -> tuple[float, Estimate]:
    source = "half the hip + 1.5 cm: share of the back in an open course's skirt (WikiEducator); SD unknown"
    return known["hip_girth"] / 2 + 15, Estimate(source, None)


def _armscye_girth(known: Known) -> tuple[float, Estimate]:
    source = "0.44 of the bust: the shortest armhole a block should have (from memory); SD unknown"
    return 0.44 * known["bust_girth"], Estimate(source, None)


def _regressed(key: str, quantity: str, *, follows: bool = False) -> Method:
    return Method(key, _BUST_AND_HEIGHT, partial(_by_regression, quantity), follows)


METHODS: Final[tuple[Method, ...]] = (
    _regressed("shoulder_girth", "shoulder_circ", follows=True),
    _regressed("neck_girth", "neck_mid", follows=True),
    _regressed("neck_base_girth", "neck_base", follows=True),
    _regressed("upper_arm_girth", "biceps_flexed", follows=True),
    _regressed("wrist_girth", "wrist", follows=True),
    _regressed("arm_length", "sleeve_outseam", follows=True),
    _regressed("shoulder_to_elbow", "shoulder_elbow", follows=True),
    _regressed("waist_to_knee", "waist_level_to_knee", follows=True),
    _regressed("waist_to_floor", "waist_level_h", follows=True),
    _regressed("head_girth", "head_circ"),
    _regressed("shoulder_length", "shoulder_length"),
    _regressed("across_back_width", "interscye1"),
    _regressed("nape_to_bust_level", "c7_to_bust_drop"),
    _regressed("waist_to_hip", "waist_level_to_hip"),
    _regressed("body_rise", "rise_tenthrib"),
    Method("back_waist_length", _BUST_AND_HEIGHT, _back_waist_length),
    Method("under_bust_girth", ("bust_girth",), _under_bust_girth),
    Method("upper_bust_girth", ("bust_girth",), _upper_bust_girth),
    Method("top_hip_girth", ("waist_girth", "hip_girth"), _top_hip_girth),
    Method("back_hip_arc", ("hip_girth",), _back_hip_arc),
    Method("across_front_width", ("bust_girth",), _across_front_width),
    Method("scye_depth", ("bust_girth",), _scye_depth),
    Method("armscye_girth", ("bust_girth",), _armscye_girth),
    Method("bust_span", ("bust_girth",), _bust_span),
    Method("neck_to_bust_point", ("bust_girth", "bust_span"), _neck_to_bust_point),
    Method("front_waist_length", ("bust_girth", "back_waist_length"), _front_waist_length),
    Method("shoulder_drop", ("shoulder_length",), _shoulder_drop),
)
"""In an order in which each finds what it needs already estimated."""

FOLLOWING: Final[frozenset[str]] = frozenset(method.key for method in METHODS if method.follows)
"""What is estimated without being asked for by name."""
