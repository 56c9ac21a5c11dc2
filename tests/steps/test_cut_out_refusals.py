"""Where nothing can be cut out: one clear line each."""

from __future__ import annotations

from dataclasses import replace

import pytest
from steps.drafts import bodice, dress, nipped, whole_bodice
from steps.proofs import refused

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening, Seam, Side
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.reshape.unfold import unfolded
from cutonce.steps.cut_out import STEP, CutOut
from cutonce.steps.step import Result
from cutonce.validation import validated

AT_WAIST = {"piece": "front", "edge": "side", "at": "waist"}


def cut(draft: Draft, **values: object) -> Result:
    return STEP.apply(draft, validated(CutOut, values, {}, "step 1"), "hole")


REFUSED = [
    (
        "past-end",
        dress,
        {"at": {**AT_WAIST, "at": "armhole"}, "width": "6 cm"},
        "run off the end of the side",
    ),
    ("past-end", dress, {"at": AT_WAIST, "width": "50 cm"}, "its middle is 206.7 mm from it"),
    (
        "on-fold",
        dress,
        {"at": {"piece": "front", "edge": "centre front", "from": "neck", "by": "20 cm"}, "width": "6 cm"},
        "a hole inside the piece",
    ),
    (
        "crosses-dart",
        bodice,
        {"at": {"piece": "front", "edge": "shoulder", "from": "neck", "by": "3 cm"}, "width": "5 cm"},
        "would lie across the bust dart, which opens on the shoulder",
    ),
    (
        "crosses-dart",
        bodice,
        {"at": {"piece": "back", "edge": "shoulder", "from": "neck", "by": "5 cm"}, "width": "3 cm"},
        "a dart opens in the partner's shoulder",
    ),
    (
        "crosses-dart",
        dress,
        {"at": AT_WAIST, "width": "24 cm", "shape": "ellipse", "height": "5 cm"},
        "waist dart",
    ),
    (
        "leaves-piece",
        lambda: nipped(0.2),
        {"at": AT_WAIST, "width": "60 cm", "height": "5 cm", "shape": "ellipse"},
        "the cut-out leaves the piece at the centre front",
    ),
    (
        "no-upper-end",
        dress,
        {
            "at": {"piece": "front", "edge": "hem", "from": "side", "by": "10 cm"},
            "shape": "teardrop",
            "width": "4 cm",
            "height": "6 cm",
        },
        "would lie level",
    ),
    (
        "name-taken",
        dress,
        {"at": AT_WAIST, "width": "6 cm", "name": "hem"},
        "another edge 'hem'",
    ),
    ("no-landmark", dress, {"at": {**AT_WAIST, "at": "knee"}, "width": "6 cm"}, "no 'knee'"),
    ("no-edge", dress, {"at": {**AT_WAIST, "edge": "flank"}, "width": "6 cm"}, "no edge 'flank'"),
    (
        "ambiguous",
        whole_bodice,
        {"at": {"piece": "front", "edge": "side", "from": "waist", "by": "5 cm"}, "width": "2 cm"},
        "fits 2 places",
    ),
]


@pytest.mark.parametrize(("code", "make", "values", "says"), REFUSED)
def test_what_cannot_be_cut_is_refused(code: str, make, values: dict, says: str) -> None:  # type: ignore[no-untyped-def,type-arg]
    with refused(CannotApply, code, says):
        cut(make(), **{"shape": "circle", **values})


def test_a_zip_in_the_same_seam_is_refused() -> None:
    draft = replace(nipped(0.1), openings=(Opening("side", "zip", 200, 80),))
    with refused(CannotApply, "meets-opening", "where the seam is open for a zip"):
        cut(draft, at=AT_WAIST, shape="circle", width="8 cm")


def test_a_seam_divided_there_is_refused() -> None:
    """The front's hem line runs on over two seams where a partner is in two pieces."""
    draft = nipped(0.0)
    whole = unfolded(draft, ("back",), "unfold")
    sides = [Side("front", (Label("hem", "hem", w),)) for w in ("left", "right")]  # type: ignore[arg-type]
    seams = tuple(
        Seam(f"low {w}", s, Side(f"{w} back", (Label("hem", "hem", w),)))  # type: ignore[arg-type]
        for w, s in zip(("left", "right"), sides, strict=True)
    )
    whole = replace(whole, seams=(*whole.seams, *seams))
    with refused(CannotApply, "seam-divided", "sewn to more than one there"):
        cut(
            whole,
            at={"piece": "front", "edge": "hem", "from": "left side", "share": 0.5},
            shape="circle",
            width="5 cm",
        )


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"shape": "circle", "width": "5 cm", "height": "5 cm"}, "takes no 'height'"),
        ({"shape": "ellipse", "width": "5 cm"}, "say the 'height'"),
        ({"shape": "teardrop", "width": "5 cm", "height": "5 cm"}, "higher than it is wide"),
        ({"shape": "circle", "width": "-5 cm"}, "more than 0"),
        ({"shape": "circle", "width": "5"}, "add a unit"),
        ({"shape": "star", "width": "5 cm"}, "circle"),
        (
            {"shape": "circle", "width": "5 cm", "at": {"piece": "front", "point": "bust point"}},
            "lies on an edge",
        ),
    ],
)
def test_sizes_that_make_no_sense_are_bad_input(values: dict, says: str) -> None:  # type: ignore[type-arg]
    with pytest.raises(BadInput, match=says):
        cut(dress(), **{"at": AT_WAIST, **values})
