"""Unfold: what it tells, and how it is said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from steps.drafts import bodice

from cutonce.draft.draft import Draft
from cutonce.draft.span import Label, Span
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.curve import Line
from cutonce.steps.unfold import STEP, Unfold
from cutonce.validation import validated


def _pointed_neck() -> Draft:
    """A neck that runs straight to the centre, 30 degrees off square: a point of 60 degrees when unfolded."""
    half = bodice()
    front = half.piece("front")
    neck: Span = front.edge(Label("neck", "neck"))[0]
    end = neck.curve.end
    start = end + 60 * (0.8660254037844387 + 0.5j)
    outline = []
    for s in front.outline:
        if s.label.name == "neck":
            s = replace(s, curve=Line(start, end))
        elif abs(s.curve.end - neck.curve.start) < 1e-9:
            s = replace(s, curve=Line(s.curve.start, start))
        outline.append(s)
    return half.with_pieces([replace(front, outline=tuple(outline))])


def test_a_corner_at_the_centre_is_told() -> None:
    done = STEP.apply(_pointed_neck(), Unfold(), "u")
    assert [f.message for f in done.findings] == ["the neck turns a corner of 60.0 degrees at the centre"]
    assert done.findings[0].step == "u" and done.findings[0].spot is not None


def test_a_smooth_centre_needs_no_words() -> None:
    assert STEP.apply(bodice(), Unfold(), "u").findings == ()


def test_an_unknown_piece_kept_apart_is_refused() -> None:
    with pytest.raises(CannotApply, match="no piece 'sleeve'; the draft has: front, back"):
        STEP.apply(bodice(), Unfold(apart=("sleeve",)), "u")


def test_unknown_keys_are_refused() -> None:
    with pytest.raises(BadInput, match="unknown key 'fold'"):
        validated(Unfold, {"fold": ["front"]}, {}, "step 1")


def test_sentences() -> None:
    assert STEP.sentence(Unfold()) == "Unfold the half pieces along their centres."
    assert STEP.sentence(Unfold(apart=("front", "back"))) == (
        "Unfold the half pieces along their centres; keep a centre seam in the front and back."
    )
