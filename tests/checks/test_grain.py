import cmath
import math
from dataclasses import replace

import pytest
from checks.planted import altered, dress, found, skirt, whole

from cutonce.checks.grain import grain
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain


def turned(draft: Draft, key: str, degrees: float, kind: str = "straight") -> Draft:
    def fault(piece):  # type: ignore[no-untyped-def]
        along = 1j * cmath.exp(1j * math.radians(degrees))
        return replace(piece, grain=Grain(piece.grain.at, along, kind))  # type: ignore[arg-type]

    return altered(draft, key, fault)


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(grain, draft) == ()


@pytest.mark.parametrize(
    "degrees, codes", [(0.5, []), (3.0, ["fold-off-grain"]), (90.0, []), (-45.0, ["fold-off-grain"])]
)
def test_a_fold_lies_along_the_grain(degrees: float, codes: list[str]) -> None:
    said = found(grain, turned(skirt(), "skirt front", degrees))
    assert [f.code for f in said] == codes
    for finding in said:
        assert finding.where == "skirt front, centre front"
        assert finding.severity == ("warning" if degrees == -45.0 else "stop")


@pytest.mark.parametrize(
    "degrees, kind, noted",
    [(3.0, "straight", True), (45.0, "bias", False), (42.0, "bias", True), (90.0, "cross", False)],
)
def test_the_kind_of_grain_against_the_centre(degrees: float, kind: str, noted: bool) -> None:
    said = found(grain, turned(skirt(), "skirt back", degrees, kind))
    assert [f.code for f in said] == (["grain-turned"] if noted else [])


def test_left_and_right_that_hang_unlike() -> None:
    draft = turned(whole(dress()), "left back", 45.0, "bias")
    assert [f.code for f in found(grain, draft)] == ["grain-unlike"]
    mirrored = turned(draft, "right back", -45.0, "bias")
    assert found(grain, mirrored) == ()
    parallel = turned(draft, "right back", 45.0, "bias")
    (finding,) = found(grain, parallel)
    assert "90.0 degrees apart" in finding.message


def test_an_arrow_beside_its_piece() -> None:
    draft = altered(skirt(), "skirt front", lambda p: replace(p, grain=replace(p.grain, at=-50 + 0j)))
    assert [(f.severity, f.code) for f in found(grain, draft)] == [("warning", "grain-off-piece")]
