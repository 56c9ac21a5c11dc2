"""Bodies for the tests of bodice and dress: one of a usual size, one uneven."""

from __future__ import annotations

import pytest

from cutonce.body import Body, body_of

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
