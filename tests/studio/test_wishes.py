"""What she asks of a lay, as typed."""

from __future__ import annotations

import math

import pytest

from cutonce.errors import BadInput
from cutonce.lay.asked import Asked, CentreAt, SeamAt
from cutonce.studio.wishes import Wishes, asked_for


def test_nothing_asked_is_what_is_usual() -> None:
    assert asked_for(Wishes(), ["front"]) == Asked()


def test_everything_asked() -> None:
    found = asked_for(
        Wishes("part", "5 mm", "1 in", "2 deg", ("front",), ("side at hip", "front on centre front")),
        ["front", "back"],
    )
    assert found == Asked(
        way="part folded, part open",
        spacing=5.0,
        margin=25.4,
        cross=("front",),
        tolerance=math.radians(2),
        match=(SeamAt("side", "hip"), CentreAt("front", "centre front")),
    )
    assert asked_for(Wishes(match=("none",)), []).match == ()


@pytest.mark.parametrize(
    ("wishes", "says"),
    [
        (Wishes(way="lenghtwise"), "--way: no way to lay cloth 'lenghtwise'; closest: lengthwise"),
        (Wishes(spacing="3"), "--spacing: '3' has no unit"),
        (Wishes(spacing="-3 mm"), "--spacing: '-3 mm' must not be less than 0"),
        (Wishes(margin="-1 cm"), "--margin: '-1 cm' must not be less than 0"),
        (Wishes(tolerance="2"), "--grain-tolerance: '2' has no unit"),
        (Wishes(tolerance="-2 deg"), "--grain-tolerance: '-2 deg' must not be less than 0"),
        (Wishes(cross=("frnt",)), "--cross: no piece 'frnt'; closest: front (there are: front, back)"),
        (Wishes(match=("side",)), "--match: 'side' says no place to match"),
        (Wishes(match=(" at hip",)), "says no place to match"),
        (Wishes(match=("side", "none")), "--match: 'side' says no place"),
    ],
)
def test_refused_wishes(wishes: Wishes, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        asked_for(wishes, ["front", "back"])
    assert says in str(caught.value)
