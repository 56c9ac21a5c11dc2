"""ANSUR II women (Gordon et al., NATICK/TR-15/007, 2014).

The shipped lines against the fits to all 1,986 women, the worked check of the fact sheet, and the rows of
1,588 women where they are at hand beside the repository.
"""

from __future__ import annotations

import ast
import csv

import numpy as np
import numpy.typing as npt
import pytest
from women import DATA

from cutonce.body import BY_KEY, body_of, estimate, narrowest_from_navel, refuse_impossible
from cutonce.body.regressions import Fit, fits

Column = npt.NDArray[np.float64]

needs_fits = pytest.mark.skipif(
    not (DATA / "ansur2_female_regressions.csv").is_file(), reason="no shared data"
)
needs_rows = pytest.mark.skipif(not (DATA / "ansur2_female.csv").is_file(), reason="no shared data")

FOUR, TWO = "bust+waist_omph+hip+height", "bust+height"
LEVELS = {"waist_level_h": "", "waist_level_to_hip": "buttock_h", "waist_level_to_knee": "knee_h"}


def _cm(fit: Fit, bust: float, navel: float, hip: float, height: float) -> float:
    assert fit.navel is not None and fit.hip is not None
    return fit.const + fit.bust * bust + fit.navel * navel + fit.hip * hip + fit.height * height


@pytest.mark.parametrize(
    ("quantity", "expected"),
    [
        ("neck_base", 36.3),
        ("neck_mid", 31.8),
        ("shoulder_length", 13.6),
        ("interscye1", 35.8),
        ("back_waist_len_omph", 42.0),
        ("biceps_flexed", 28.3),
        ("wrist", 15.3),
        ("sleeve_outseam", 55.0),
        ("c7_to_bust_drop", 22.1),
    ],
)
def test_worked_check(quantity: str, expected: float) -> None:
    """Fact sheet 8.3: bust 88, navel waist 78, hip 96, height 165 cm; predictions given to 0.1 cm."""
    four, _ = fits()[quantity]
    assert _cm(four, 88, 78, 96, 165) == pytest.approx(expected, abs=0.0501)


def test_worked_check_of_waist_level() -> None:
    """8.3 has tenth rib 107.1 and hip level 84.6; the waist level lies below the rib and above the hip."""
    assert 84.6 < _cm(fits()["waist_level_h"][0], 88, 78, 96, 165) < 107.1


@needs_fits
def test_shipped_lines_are_the_fits_to_all_women() -> None:
    published = _published_fits()
    for quantity, (four, two) in fits().items():
        if quantity in LEVELS:
            continue
        for fit, predictors in ((four, FOUR), (two, TWO)):
            coefficients, sd = published[quantity, predictors]
            ours = [
                value for value in (fit.const, fit.bust, fit.navel, fit.hip, fit.height) if value is not None
            ]
            assert ours == pytest.approx(coefficients, abs=1e-9), quantity
            assert fit.sd == pytest.approx(sd)


@needs_fits
def test_waist_level_lines_are_made_of_published_ones() -> None:
    published = _published_fits()
    for quantity, below in LEVELS.items():
        for fit, predictors in zip(fits()[quantity], (FOUR, TWO), strict=True):
            parts = [np.array(published[name, predictors][0]) for name in ("tenthrib_h", "iliocristale_h")]
            expected = (parts[0] + parts[1]) / 2
            if below:
                expected = expected - np.array(published[below, predictors][0])
            ours = [
                value for value in (fit.const, fit.bust, fit.navel, fit.hip, fit.height) if value is not None
            ]
            assert ours == pytest.approx(list(expected), abs=1e-5)


@needs_rows
def test_lines_refitted_to_the_rows_agree_within_sampling() -> None:
    """On the 1,588 rows (a part of the 1,986) a fresh fit predicts the mean woman the same within 0.1 cm."""
    rows = _rows()
    data = _quantities(rows)
    means = [rows[name].mean() for name in ("bust", "navel", "hip", "height")]
    predictors = np.column_stack(
        [np.ones(len(rows["bust"])), *(rows[n] for n in ("bust", "navel", "hip", "height"))]
    )
    for quantity, (four, _) in fits().items():
        fresh, *_ = np.linalg.lstsq(predictors, data[quantity], rcond=None)
        assert _cm(four, *means) == pytest.approx(float(fresh @ [1, *means]), abs=0.1), quantity


@needs_rows
def test_residual_sds() -> None:
    """The stated SDs against the rows: exactly where stated for them, else within 5 %."""
    rows = _rows()
    data = _quantities(rows)
    for quantity, (four, two) in fits().items():
        for fit in (four, two):
            line = fit.const + fit.bust * rows["bust"] + fit.height * rows["height"]
            if fit.navel is not None and fit.hip is not None:
                line = line + fit.navel * rows["navel"] + fit.hip * rows["hip"]
            sd = float((data[quantity] - line).std(ddof=1))
            assert sd == pytest.approx(fit.sd, abs=0.006 if fit.n == 1588 else 0.05 * fit.sd), quantity


@needs_rows
def test_no_woman_is_refused_and_estimates_centre_on_what_was_measured() -> None:
    """The navel waist becomes a dressmaker's by `narrowest_from_navel`; estimates then see that alone."""
    rows = _rows()
    errors: dict[str, list[float]] = {"neck_base_girth": [], "wrist_girth": [], "arm_length": []}
    measured = {
        "neck_base_girth": rows["neck_base"],
        "wrist_girth": rows["wrist"],
        "arm_length": rows["sleeve"],
    }
    for at in range(len(rows["bust"])):
        bust, navel, hip, height = (10 * float(rows[name][at]) for name in ("bust", "navel", "hip", "height"))
        waist = narrowest_from_navel(navel, hip, height)
        body = body_of(
            str(at), {"bust_girth": bust, "waist_girth": waist, "hip_girth": hip, "height": height}
        )
        refuse_impossible(body)
        if at % 8 == 0:
            full = estimate(body)
            for key, found in errors.items():
                found.append(full.mm(key) - 10 * float(measured[key][at]))
    for key, found in errors.items():
        limit = estimate(body).find(key)
        assert limit is not None and limit.estimate is not None and limit.estimate.sd_mm is not None
        assert abs(np.mean(found)) < 0.25 * limit.estimate.sd_mm, key
        assert np.std(found) < 1.1 * limit.estimate.sd_mm, key


@needs_fits
def test_usual_ranges_are_those_of_the_sample() -> None:
    with (DATA / "ansur2_female_summary.csv").open(encoding="utf-8") as file:
        summary = {row[""]: (float(row["mean"]), float(row["std"])) for row in csv.DictReader(file)}
    names = {"height": "height", "head_girth": "head_circ", "shoulder_to_elbow": "shoulder_elbow"}
    names |= {"across_back_width": "interscye1"}
    for key, name in names.items():
        mean, sd = summary[name]
        assert BY_KEY[key].usual == pytest.approx((10 * (mean - 3 * sd), 10 * (mean + 3 * sd)), abs=1.0)


def _published_fits() -> dict[tuple[str, str], tuple[list[float], float]]:
    with (DATA / "ansur2_female_regressions.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {(r["target"], r["predictors"]): (ast.literal_eval(r["coef"]), float(r["sd"])) for r in rows}


_COLUMNS = {
    "bust": "chestcircumference",
    "navel": "waistcircumference",
    "hip": "buttockcircumference",
    "height": "stature",
    "neck_base": "neckcircumferencebase",
    "neck_mid": "neckcircumference",
    "wrist": "wristcircumference",
    "sleeve": "sleeveoutseam",
    "rib": "tenthribheight",
    "crest": "iliocristaleheight",
    "seat": "buttockheight",
    "knee": "kneeheightmidpatella",
    "crotch": "crotchheight",
    "nape": "cervicaleheight",
    "chest": "chestheight",
    "head": "headcircumference",
    "shoulder_length": "shoulderlength",
    "shoulder_circ": "shouldercircumference",
    "interscye1": "interscyei",
    "back": "waistbacklength",
    "biceps": "bicepscircumferenceflexed",
    "upper_arm": "shoulderelbowlength",
}


def _rows() -> dict[str, Column]:
    """Columns in cm."""
    with (DATA / "ansur2_female.csv").open(encoding="latin-1") as file:
        rows = list(csv.DictReader(file))
    return {name: np.array([float(row[column]) for row in rows]) / 10 for name, column in _COLUMNS.items()}


def _quantities(rows: dict[str, Column]) -> dict[str, Column]:
    level = (rows["rib"] + rows["crest"]) / 2
    return {
        "neck_base": rows["neck_base"],
        "neck_mid": rows["neck_mid"],
        "head_circ": rows["head"],
        "shoulder_length": rows["shoulder_length"],
        "shoulder_circ": rows["shoulder_circ"],
        "interscye1": rows["interscye1"],
        "back_waist_len_omph": rows["back"],
        "biceps_flexed": rows["biceps"],
        "wrist": rows["wrist"],
        "sleeve_outseam": rows["sleeve"],
        "shoulder_elbow": rows["upper_arm"],
        "c7_to_bust_drop": rows["nape"] - rows["chest"],
        "rise_tenthrib": rows["rib"] - rows["crotch"],
        "waist_level_h": level,
        "waist_level_to_hip": level - rows["seat"],
        "waist_level_to_knee": level - rows["knee"],
    }
