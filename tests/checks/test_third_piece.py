"""Where a seam ends on another seam, three pieces meet: the one that runs past has no corner there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutonce.blocks import draft_block
from cutonce.body import body_from_size, estimate
from cutonce.checks import Context
from cutonce.checks.corners import corners
from cutonce.checks.levels import drawn_share
from cutonce.draft.draft import Draft
from cutonce.draft.seam import Drawn
from cutonce.reshape.places import chain
from cutonce.steps import split_piece


def panelled(level: str) -> Draft:
    """A skirt front with a panel seam, its outer panel divided again, the second line ending on the first."""
    body = estimate(body_from_size("trade-misses", "12"), everything=True)
    draft = draft_block("skirt", "", body, length=600.0)
    for name, shape in (
        (
            "panel",
            {
                "start": {"piece": "skirt front", "edge": "waist", "from": "side", "by": "3 cm"},
                "end": {"piece": "skirt front", "edge": "hem", "from": "side", "by": "8 cm"},
                "leave": "square",
                "arrive": "square",
                "parts": {"centre": "skirt front", "side": "panel"},
                "seam": "panel seam",
            },
        ),
        (
            "level",
            {
                "start": {"piece": "panel", "edge": "panel seam", "from": "hem", "by": "20 cm"},
                "end": {"piece": "panel", "edge": "side", "from": "hem", "by": level},
                "parts": {"above": "panel", "below": "low panel"},
                "seam": "level seam",
            },
        ),
    ):
        draft = split_piece.apply(draft, split_piece.SplitPiece.model_validate(shape), name).draft
    return draft


@pytest.mark.parametrize("level", ["20 cm", "12 cm"])
def test_the_piece_that_runs_past_has_no_corner(level: str) -> None:
    said = [f.message for f in corners(panelled(level), Context()) if f.code == "corner"]
    assert not any("style line" in line for line in said), said


def test_an_equal_partner_is_drawn_up_alike_and_a_declared_one_is_not() -> None:
    draft = panelled("20 cm")
    run = chain(draft, "low panel", "panel seam")
    label = run.spans[0].label
    draft = replace(draft, drawn=(Drawn("cord", (("low panel", label),), run.length / 2, "cord"),))
    partner = draft.partner("low panel", label)
    assert partner is not None
    other = (partner.piece, partner.labels[0])
    assert drawn_share(draft, ("low panel", label)) == pytest.approx(0.5)
    assert drawn_share(draft, other) == pytest.approx(0.5)
    seam = draft.seams_of("low panel", label)[0]
    gathered = replace(seam, relation=replace(seam.relation, kind="gather", ratio=1.0))
    apart = replace(draft, seams=tuple(gathered if s == seam else s for s in draft.seams))
    assert drawn_share(apart, other) == 1.0
