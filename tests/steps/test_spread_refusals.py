"""Slash and spread: everything that is refused, each in one clear line."""

from __future__ import annotations

from typing import Any

import pytest
from steps.drafts import bodice, skirt, whole_dress
from steps.test_spread import FRONT, at, flare, params, run

from cutonce.errors import BadInput, CannotApply

HEM_SLASH = {"start": at("hem", "centre front", by="8 cm"), "end": at("waist", "centre front", by="3 cm")}
OVER = {"start": at("hem", "centre front", by="3 cm"), "end": at("waist", "centre front", by="6 cm")}


@pytest.mark.parametrize(
    ("sets", "more", "says"),
    [
        ([{"slashes": [HEM_SLASH, OVER], "opens": {"each": "1 cm"}}], {}, r"slash [12] crosses slash [12]"),
        ([{"slashes": [HEM_SLASH, HEM_SLASH], "opens": {"each": "1 cm"}}], {}, r"run along the same line"),
        ([flare(6, {"each": "70 cm"})], {}, r"would lie over itself near its \w+"),
        ([flare(3, {"to": "10 cm"})], {}, r"the hem is 245\.0 mm: slashes cannot bring it to 100\.0 mm"),
        ([flare(3, {"each": "2 m"})], {}, r"slash \d is \d+\.\d mm long and cannot open 2000\.0 mm"),
        (
            [
                {
                    "slashes": [{"start": at("hem", "side", by="3 cm"), "end": at("hem", "side", by="9 cm")}],
                    "opens": {"each": "1 cm"},
                }
            ],
            {},
            r"slash 1 runs along the outline",
        ),
        (
            [{"slashes": [{**HEM_SLASH, "end": HEM_SLASH["start"]}], "opens": {"each": "1 cm"}}],
            {},
            r"slash 1 starts and ends at one place",
        ),
        (
            [
                {
                    "slashes": [
                        {**HEM_SLASH, "end": at("side", "hip", "skirt back", toward="waist", by="1 cm")}
                    ],
                    "opens": {"each": "1 cm"},
                }
            ],
            {},
            r"skirt back's side.* is not on the piece that is slashed",
        ),
        (
            [{"slashes": [{**HEM_SLASH, "start": at("hm", "side", by="3 cm")}], "opens": {"each": "1 cm"}}],
            {},
            r"no edge 'hm'; it has: ",
        ),
        (
            [{"slashes": [{**HEM_SLASH, "start": at("hem", "side", by="3 m")}], "opens": {"each": "1 cm"}}],
            {},
            r"past the end; the edge is 245\.0 mm",
        ),
        (
            [
                {
                    **flare(1, {"each": "1 cm"}),
                    "starts": [at("hem", "side", by="3 cm")],
                    "ends": [],
                    "dart": "bust dart",
                }
            ],
            {},
            "no dart 'bust dart'; it has: waist dart",
        ),
        (
            [
                {
                    "slashes": [
                        {
                            "start": at("hem", "centre front", by="11 cm"),
                            "dart": "waist dart",
                            "opens": "1 cm",
                        }
                    ]
                }
            ],
            {},
            r"slash 1: closing the dart alone opens \d+\.\d mm, asked 10\.0 mm",
        ),
        (
            [
                {
                    "slashes": [
                        {
                            "start": at("hem", "centre front", by=f"{x} cm"),
                            "dart": "waist dart",
                            "opens": "20 cm",
                        }
                        for x in (8, 11)
                    ]
                }
            ],
            {},
            r"2 slashes share the waist dart",
        ),
        (
            [
                {
                    "slashes": [
                        {
                            "start": at("hem", "centre front", by="3 cm"),
                            "end": at("centre front", "waist", by="10 cm"),
                        }
                    ],
                    "opens": {"each": "1 cm"},
                }
            ],
            {},
            r"the centre front lies on the fold and must stay straight",
        ),
        ([flare(3, {"each": "2 cm"})], {"still": HEM_SLASH["end"] | {"by": "2 cm"}}, r"lies on a slash"),
        (
            [flare(3, {"each": "2 cm"})],
            {"still": at("hem", "side", by="1 cm")},
            r"must stay straight and in its place",
        ),
        (
            [flare(3, {"each": "2 cm"})],
            {"piece": "skirt"},
            r"no piece 'skirt'; the draft has: skirt front, skirt back",
        ),
        (
            [
                {
                    "slashes": [
                        {
                            "start": at("side", "hem", by="30 cm"),
                            "end": at("waist", "centre front", by="3 cm"),
                        }
                    ],
                    "opens": {"each": "1 cm"},
                }
            ],
            {},
            r"crosses the waist dart",
        ),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(sets: Any, more: Any, says: str) -> None:
    with pytest.raises(CannotApply, match=says) as caught:
        run(skirt(), **({"piece": FRONT, "sets": sets} | more))
    assert "\n" not in str(caught.value)


def test_a_slash_across_a_hollow_edge_leaves_the_piece() -> None:
    """From the tip of the shoulder to the side just below the underarm the straight line cuts the armhole."""
    slash = {
        "start": at("shoulder", "armhole", "front", by="2 mm"),
        "end": at("side", "armhole", "front", by="4 mm"),
    }
    with pytest.raises(CannotApply, match=r"slash 1 leaves the piece at its armhole"):
        run(bodice(), piece="front", sets=[{"slashes": [slash], "opens": {"each": "5 mm"}}])


def test_a_dart_pointed_at_both_ends_in_the_way_is_said() -> None:
    slash = {
        "start": at("side", "waist", "front", wearer="left", toward="hem", by="1 cm"),
        "end": at("side", "waist", "front", wearer="right", toward="hem", by="1 cm"),
    }
    with pytest.raises(CannotApply, match=r"the waist dart lies across the cut"):
        run(whole_dress(), piece="front", sets=[{"slashes": [slash], "opens": {"each": "5 mm"}}])


def test_two_backs_need_the_side_named() -> None:
    with pytest.raises(CannotApply, match=r"'back' fits left back, right back"):
        run(
            whole_dress(),
            piece="back",
            sets=[flare(1, {"each": "1 cm"}) | {"starts": [HEM_SLASH["start"]], "ends": [HEM_SLASH["end"]]}],
        )


@pytest.mark.parametrize(
    ("one", "says"),
    [
        ({"count": 3}, "'starts' holds one place or two"),
        ({}, "give the slashes one by one"),
        ({"count": 2, "slashes": [HEM_SLASH], "opens": {"each": "1 cm"}}, "give the slashes one by one"),
        ({"slashes": [HEM_SLASH]}, "say how far the slashes open"),
        ({"slashes": [HEM_SLASH], "opens": {}}, "by one of: each, total, ratio, to"),
        (
            {"slashes": [HEM_SLASH], "opens": {"each": "1 cm", "to": "50 cm"}},
            "by one of: each, total, ratio, to",
        ),
        (
            {"slashes": [HEM_SLASH], "opens": {"each": "1 cm"}, "end_opens": {"each": "1 cm"}},
            "opens at one end",
        ),
        ({"slashes": [HEM_SLASH], "opens": {"each": "1 cm"}, "kind": "through unequal"}, "need both"),
        (
            {"slashes": [HEM_SLASH], "kind": "through equal", "end_opens": {"each": "1 cm"}},
            "take 'opens' alone",
        ),
        (
            {"slashes": [{"start": HEM_SLASH["start"]}], "opens": {"each": "1 cm"}},
            "ends at one of: end, dart",
        ),
        ({"slashes": [{**HEM_SLASH, "end_opens": "1 cm"}], "opens": {"each": "1 cm"}}, "needs 'opens' too"),
        ({"slashes": [HEM_SLASH], "opens": {"total": "9 cm"}, "weights": [1, 2]}, "one weight a slash"),
        ({"slashes": [HEM_SLASH], "opens": {"each": "9 cm"}, "weights": [1]}, "not 'each'"),
        ({"slashes": [HEM_SLASH], "opens": {"each": "9"}}, "add a unit"),
        ({"slashes": [HEM_SLASH], "opens": {"each": "-9 mm"}}, "must be more than 0"),
        (
            {
                "count": 3,
                "starts": [HEM_SLASH["start"]],
                "ends": [HEM_SLASH["end"]],
                "opens": {"each": "1 cm"},
            },
            "cannot share both",
        ),
        (
            {
                "count": 1,
                "starts": [HEM_SLASH["start"]] * 2,
                "ends": [HEM_SLASH["end"]],
                "opens": {"each": "1 cm"},
            },
            "one start and one end",
        ),
        ({"count": 2, "starts": [HEM_SLASH["start"]] * 2, "opens": {"each": "1 cm"}}, "end at 'ends'"),
        (
            {"slashes": [HEM_SLASH], "starts": [HEM_SLASH["start"]], "opens": {"each": "1 cm"}},
            "go with 'count'",
        ),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(one: dict[str, Any], says: str) -> None:
    with pytest.raises(BadInput, match=says) as caught:
        params(piece=FRONT, sets=[one])
    assert "\n" not in str(caught.value)
