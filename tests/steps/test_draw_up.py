"""Drawing up: lengths, channels by the cord's diameter, gathers declared, cautions."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening
from cutonce.errors import CannotApply
from cutonce.steps import draw_up
from cutonce.steps.step import Result

from .drafts import dress

SIDE = {"piece": "front", "edge": "side"}
HEM = {"piece": "front", "edge": "hem"}
NECK = {"piece": "front", "edge": "neck"}


def apply(draft: Draft, **params: Any) -> Result:
    shape = {"name": "cord", "by": "cord", **params}
    return draw_up.apply(draft, draw_up.DrawUp.model_validate(shape), "s")


def codes(result: Result) -> set[str]:
    return {f.code for f in result.findings}


def test_the_channel_follows_the_cord() -> None:
    """A round cord of diameter D lies flat in pi D / 2, and needs 3 to 6 mm of room (trade practice)."""
    drawn = apply(dress(), edges=[HEM], ratio=2, cord="5 mm").draft.drawn[0]
    assert math.pi * 5 / 2 + 3 <= drawn.channel_mm <= math.pi * 5 / 2 + 6


def test_ratio_and_length_say_the_same() -> None:
    front = dress().piece("front")
    size = front.edge_length(next(e for e in front.labels if e.name == "hem"))
    by_ratio = apply(dress(), edges=[HEM], ratio=1.6).draft.drawn[0].to_mm
    assert by_ratio == pytest.approx(size / 1.6)
    by_length = apply(dress(), edges=[HEM], to=f"{by_ratio} mm").draft.drawn[0].to_mm
    assert by_length == pytest.approx(by_ratio)


def test_an_equal_partner_goes_along_and_no_relation_is_set() -> None:
    result = apply(dress(), edges=[SIDE], ratio=1.5)
    assert result.draft.seams == dress().seams
    assert "gathered" not in codes(result)


def test_a_shorter_partner_is_gathered_into() -> None:
    draft = dress()
    seam = next(s for s in draft.seams if s.name == "side")
    front = draft.piece("front")
    longer = replace(front, outline=tuple(_stretched(s) for s in front.outline))
    draft = draft.with_pieces([longer])
    result = apply(draft, edges=[SIDE], to=f"{draft.side_length(seam.b)} mm", by="gathering")
    new = next(s for s in result.draft.seams if s.name == "side")
    assert new.relation.kind == "gather" and new.a.piece == "front"
    assert new.relation.left_over(draft.side_length(new.a), draft.side_length(new.b)) == pytest.approx(0)


def _stretched(span: Any) -> Any:
    """The side made half as long again by its numbers alone: the test looks at lengths only."""
    from cutonce.geometry.curve import Line

    if span.label.name != "side":
        return span
    a, d = span.curve.a, span.curve.d
    return replace(span, curve=Line(a, a + 1.5 * (d - a)))


def test_cautions_at_the_neck_and_beside_a_zip() -> None:
    assert "here at the neck" in next(
        f.message for f in apply(dress(), edges=[NECK], ratio=1.2).findings if f.code == "cord-caution"
    )
    zipped = replace(dress(), openings=(Opening("side", "zip", 0.0, 200.0),))
    assert "zip-drawn-up" in codes(apply(zipped, edges=[SIDE], ratio=1.2))
    assert "zip-drawn-up" not in codes(apply(dress(), edges=[SIDE], ratio=1.2))


@pytest.mark.parametrize(
    ("params", "line"),
    [
        ({"edges": [HEM]}, "either 'to' or 'ratio'"),
        ({"edges": [HEM], "to": "9 m"}, "cannot be drawn up to 9000.0 mm"),
        ({"edges": [HEM], "ratio": 0.5}, "cannot be drawn up"),
        (
            {"edges": [SIDE, {"piece": "back", "edge": "side"}], "ratio": 2},
            "both sides of the side are named",
        ),
        ({"edges": [HEM], "ratio": 2, "cord": "8 mm", "channel": "5 mm"}, "needs 12.6 mm, flat"),
    ],
)
def test_what_cannot_be_meant_is_refused(params: dict[str, Any], line: str) -> None:
    with pytest.raises(CannotApply, match=line):
        apply(dress(), **params)


def test_an_edge_is_drawn_up_once() -> None:
    draft = apply(dress(), edges=[HEM], ratio=2).draft
    with pytest.raises(CannotApply, match="under this name"):
        apply(draft, edges=[NECK], ratio=2)
    with pytest.raises(CannotApply, match="drawn up by 'cord' already"):
        apply(draft, name="other", edges=[HEM], ratio=2)
