"""Straight lines fitted to the women of ANSUR II (n = 1,986): a measure from bust, navel waist, hip, height.

The sample is of soldiers, 17 to 58 years old; a regression holds for the people it was fitted to. The table
lies in `data/ansur2_regressions.csv`, in cm, each row with R2 and residual SD.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from cutonce.body.waists import NAVEL_SD_MM, navel_from_narrowest


@dataclass(frozen=True, slots=True)
class Fit:
    """One straight line; lengths in cm. `navel` and `hip` are None in the lines on bust and height alone."""

    quantity: str
    description: str
    const: float
    bust: float
    navel: float | None
    hip: float | None
    height: float
    r2: float
    sd: float
    n: int


@dataclass(frozen=True, slots=True)
class Prediction:
    """A value in mm with its residual SD; `source` says from what."""

    mm: float
    sd_mm: float
    source: str


@lru_cache(maxsize=1)
def fits() -> dict[str, tuple[Fit, Fit]]:
    """For each quantity the line on four measures and the line on bust and height."""
    text = resources.files("cutonce.body").joinpath("data/ansur2_regressions.csv").read_text(encoding="utf-8")
    rows = [_fit(row) for row in csv.DictReader(text.splitlines())]
    on_four = {fit.quantity: fit for fit in rows if fit.navel is not None}
    on_two = {fit.quantity: fit for fit in rows if fit.navel is None}
    return {quantity: (fit, on_two[quantity]) for quantity, fit in on_four.items()}


def predict(quantity: str, known: Mapping[str, float]) -> Prediction:
    """The quantity in mm from a body's measures in mm; needs bust_girth and height.

    With waist_girth and hip_girth too, the girth at the navel is first made out from them, and the doubt in
    that widens the SD.
    """
    four, two = fits()[quantity]
    bust, height = known["bust_girth"], known["height"]
    if "waist_girth" not in known or "hip_girth" not in known or four.navel is None or four.hip is None:
        mm = 10 * two.const + two.bust * bust + two.height * height
        return Prediction(mm, 10 * two.sd, f"ANSUR II, {two.description}, from bust and height")
    hip = known["hip_girth"]
    navel = navel_from_narrowest(known["waist_girth"], hip)
    mm = 10 * four.const + four.bust * bust + four.navel * navel + four.hip * hip + four.height * height
    source = f"ANSUR II, {four.description}, from bust, waist, hip and height"
    return Prediction(mm, math.hypot(10 * four.sd, four.navel * NAVEL_SD_MM), source)


def _fit(row: Mapping[str, str]) -> Fit:
    return Fit(
        quantity=row["quantity"],
        description=row["description"],
        const=float(row["const"]),
        bust=float(row["bust"]),
        navel=float(row["navel"]) if row["navel"] else None,
        hip=float(row["hip"]) if row["hip"] else None,
        height=float(row["height"]),
        r2=float(row["r2"]),
        sd=float(row["sd"]),
        n=int(row["n"]),
    )
