"""Plausibility: warnings with the number and the usual range; a refusal for what no body has."""

from __future__ import annotations

import pytest

from cutonce.body import body_of, estimate, plausible, refuse_impossible
from cutonce.errors import BadInput

GOOD = {"bust_girth": 900, "waist_girth": 700, "hip_girth": 970, "height": 1660, "back_waist_length": 410}


def test_an_ordinary_body_raises_nothing() -> None:
    assert plausible(body_of("Ida", GOOD)) == ()


def test_estimates_are_not_judged() -> None:
    assert plausible(estimate(body_of("Ida", GOOD), everything=True)) == ()


@pytest.mark.parametrize(
    ("changes", "severity", "says"),
    [
        ({"height": 1400}, "warning", "height 140 cm is unusual; usual is 143.5 cm to 182.2 cm (ANSUR II"),
        ({"shoulder_length": (125, 90)}, "warning", "they differ by 3.5 cm"),
        ({"shoulder_length": (125, 90)}, "warning", "shoulder_length (right) 9 cm is unusual"),
        ({"waist_girth": 990}, "note", "the hip is less than the waist"),
        ({"back_waist_length": 350}, "warning", "back_waist_length 35 cm against height 166 cm"),
        ({"waist_to_floor": 880}, "warning", "far from the 104."),
        ({"neck_base_girth": 430}, "warning", "neck_base_girth 43 cm against bust_girth 90 cm"),
        (
            {"waist_girth": 1400},
            "stop",
            "waist_girth 140 cm against bust_girth 90 cm: no body has such a pair",
        ),
        ({"bust_girth": 90}, "stop", "bust_girth 9 cm is impossible: 40 cm to 250 cm is possible"),
        ({"wrist_girth": 300, "upper_arm_girth": 280}, "stop", "the wrist is narrower"),
    ],
)
def test_findings(changes: dict[str, float], severity: str, says: str) -> None:
    body = body_of("Ida", {**GOOD, **changes})
    found = [finding for finding in plausible(body) if says in finding.message]
    assert [finding.severity for finding in found] == [severity]
    assert found[0].where.startswith("Ida, ") and found[0].hint
    if severity == "stop":
        with pytest.raises(BadInput) as caught:
            refuse_impossible(body, "ida.toml")
        assert caught.value.code == "impossible-measure"
    else:
        refuse_impossible(body)


def test_stops_come_first() -> None:
    severities = [
        f.severity for f in plausible(body_of("Ida", {**GOOD, "height": 1400, "waist_girth": 1400}))
    ]
    assert severities == sorted(severities, key=["stop", "warning", "note"].index)
    assert severities[0] == "stop"
