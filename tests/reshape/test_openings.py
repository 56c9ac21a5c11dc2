"""Openings stay on their cloth."""

from __future__ import annotations

from dataclasses import replace

import pytest
from steps.drafts import bodice, dress

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening
from cutonce.draft.span import Label
from cutonce.reshape.openings import kept_on_cloth
from cutonce.steps import BY_NAME
from cutonce.validation import validated

SIDE, SHOULDER = Label("side", "side"), Label("shoulder", "shoulder")


def run(draft: Draft, name: str, **values: object) -> Draft:
    step = BY_NAME[name]
    return step.apply(draft, validated(step.params, values, {}, ""), "s").draft


def test_a_zip_up_to_the_underarm_still_ends_there_when_the_side_has_grown() -> None:
    half = dress()
    size = half.piece("front").edge_length(SIDE)
    zipped = replace(half, openings=(Opening("side", "zip", size - 300, 300),))
    done = run(zipped, "take_out_dart", piece="front", dart="waist dart", truing="eased")
    grown = done.piece("front").edge_length(SIDE)
    assert grown > size + 1
    zip_ = done.openings[0]
    assert zip_.start_mm + zip_.length_mm == pytest.approx(grown, abs=1e-6)
    assert zip_.length_mm > 300  # it crosses the waist, where the cloth has become longer


def test_a_slit_beside_an_unsewn_dart_keeps_its_length() -> None:
    """The front's shoulder runs from the armhole in: a slit in the last 20 mm before the neck moves on by
    what the mouth adds."""
    half = replace(bodice(), openings=(Opening("shoulder", "slit", 105, 20),))
    done = run(half, "release_dart", piece="front", dart="bust dart", **{"as": "gathers"})
    size = done.piece("front").edge_length(SHOULDER)
    slit = done.openings[0]
    assert slit.start_mm + slit.length_mm == pytest.approx(size, abs=1e-6)
    assert slit.length_mm == pytest.approx(20, abs=1.0)  # smoothed beside the mouth


def test_nothing_changes_where_no_length_does() -> None:
    half = replace(dress(), openings=(Opening("side", "zip", 100, 300),))
    assert kept_on_cloth(half, half) is half
