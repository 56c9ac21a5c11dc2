"""Closing a gape: the edge loses the amount, the outlet takes the angle, all else is kept; refusals."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import BUST_POINT, bodice, whole_bodice
from steps.proofs import refused

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label, Landmark
from cutonce.errors import BadInput, CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import reflecting
from cutonce.reshape.blend import corners
from cutonce.reshape.soundness import crossing, gap
from cutonce.reshape.unfold import unfolded
from cutonce.steps.close_gape import STEP, CloseGape
from cutonce.steps.step import Result
from cutonce.validation import validated

NECK, ARMHOLE = Label("neck", "neck"), Label("armhole", "armhole")
LOW = {"piece": "front", "edge": "neck", "from": "shoulder", "share": 0.6}
AT_SIDE = {"piece": "front", "edge": "side", "from": "armhole", "by": "8 cm"}


def result(draft: Draft, **values: object) -> Result:
    return STEP.apply(draft, validated(CloseGape, values, {}, "step 1"), "gape")


def run(draft: Draft, **values: object) -> Draft:
    done = result(draft, **values).draft
    for piece in done.pieces:
        assert gap(piece) < 1e-9 and crossing(piece) is None, piece.key
    return done


def others_kept(before: Piece, after: Piece, *changed: Label) -> None:
    assert set(before.labels) == set(after.labels)
    for label in before.labels:
        if label not in changed:
            assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=0.01), label.key


@settings(max_examples=40, deadline=None)
@given(
    width=st.floats(225, 280),
    bust=st.just(0.0) | st.floats(0.02, 0.3),
    share=st.floats(0, 1),
    amount=st.floats(2, 15),
    whole=st.booleans(),
)
def test_the_neck_loses_the_amount_and_the_dart_takes_the_angle(
    width: float, bust: float, share: float, amount: float, whole: bool
) -> None:
    draft = bodice(width, bust)
    wearer: dict[str, str] = {}
    label = NECK
    if whole:
        draft, wearer, label = (
            unfolded(draft, ("back",), "unfold"),
            {"wearer": "right"},
            replace(NECK, wearer="right"),
        )
    at = {**LOW, "share": share, **wearer}
    done = run(draft, at=at, amount=f"{amount!r} mm", into="waist dart")
    before, after = draft.piece("front"), done.piece("front")
    assert before.edge_length(label) - after.edge_length(label) == pytest.approx(amount, abs=0.01)
    others_kept(before, after, label)
    assert corners([s.curve for s in after.edge(label)]) < 1e-6
    grown = {
        d.label.key: after.dart_angle(after.dart(d.name, d.wearer)) - before.dart_angle(d)
        for d in before.darts
    }
    side = "right " if whole else ""
    taken = grown.pop(f"{side}waist dart")
    assert taken > 0
    assert all(abs(g) < 1e-9 for g in grown.values())
    assert done.piece(draft.pieces[1].key) is draft.pieces[1]


@settings(max_examples=30, deadline=None)
@given(amount=st.floats(2, 15), at=st.floats(50, 100), share=st.floats(0.1, 0.9))
def test_at_a_distance_the_angle_is_the_amounts(amount: float, at: float, share: float) -> None:
    draft = bodice()
    done = run(
        draft,
        at={**LOW, "share": share},
        amount=f"{amount!r} mm",
        at_distance=f"{at!r} mm",
        into="bust dart",
    )
    before, after = draft.piece("front"), done.piece("front")
    grown = after.dart_angle(after.dart("bust dart")) - before.dart_angle(before.dart("bust dart"))
    assert grown == pytest.approx(2 * math.asin(amount / 2 / at), abs=1e-9)
    others_kept(before, after, NECK)


def test_both_amounts_are_told() -> None:
    """6 mm at 75 mm is 2 asin(6 / 150) = 4.58 degrees; d2/d1 times as wide at the edge."""
    (said,) = result(bodice(), at=LOW, amount="6 mm", at_distance="7.5 cm", into="waist dart").findings
    text = said.message
    assert text.startswith("a wedge of 4.6 degrees closed, 6.0 mm wide 75.0 mm from the bust point, ")
    wide, far = map(float, re.search(r"([\d.]+) mm wide at the neck, ([\d.]+) mm from it", text).groups())  # type: ignore[union-attr]
    assert wide == pytest.approx(6 * far / 75, abs=0.06)
    assert re.search(r"the neck is [\d.]+ mm shorter, [\d.]+ mm, redrawn at most [\d.]+ mm off", text)
    assert "the waist dart takes the angle up and grows from" in text
    assert (said.code, said.step, said.where) == ("gape-closed", "gape", "front, neck")


def test_stated_at_the_edge_the_bust_circle_is_told_too() -> None:
    (said,) = result(bodice(), at=LOW, amount="12 mm", into="waist dart").findings
    assert re.search(r"[\d.]+ mm wide 75.0 mm from the bust point", said.message)
    assert "the neck is 12.0 mm shorter" in said.message


@settings(max_examples=20, deadline=None)
@given(amount=st.floats(2, 12), share=st.floats(0.2, 0.8))
def test_an_armhole_opening_on_the_waist(amount: float, share: float) -> None:
    """The waist, with no dart of its own, grows by the chord of the angle but for its smoothing."""
    draft = bodice(waist_intake=0)
    at = {"piece": "front", "edge": "armhole", "from": "shoulder", "share": share}
    to = {"piece": "front", "edge": "waist", "from": "side", "by": "12 cm"}
    done = run(draft, at=at, amount=f"{amount!r} mm", to=to)
    before, after = draft.piece("front"), done.piece("front")
    waist = Label("waist", "waist")
    others_kept(before, after, ARMHOLE, waist)
    assert before.edge_length(ARMHOLE) - after.edge_length(ARMHOLE) == pytest.approx(amount, abs=0.01)
    grown = after.edge_length(waist) - before.edge_length(waist)
    assert grown > amount * 0.3
    assert corners([s.curve for s in after.edge(waist)]) < 1e-6
    message = result(draft, at=at, amount=f"{amount!r} mm", to=to).findings[0].message
    assert f"the angle opens on the waist, which is {grown:.1f} mm longer" in message


def test_on_a_whole_front_both_sides_mirror_each_other() -> None:
    draft = whole_bodice()
    one = run(draft, at={**LOW, "wearer": "left"}, amount="10 mm", into="waist dart")
    two = run(one, at={**LOW, "wearer": "right"}, amount="10 mm", into="waist dart")
    front = two.piece("front")
    lengths = {e.key: front.edge_length(e) for e in front.labels}
    for key, size in lengths.items():
        if key.startswith("left "):
            assert lengths[key.replace("left", "right")] == pytest.approx(size, abs=1e-3)
    mirrored = front.moved(reflecting(0j, 1j))
    assert mirrored.area == pytest.approx(front.area, rel=1e-9)


def test_to_nothing_at_another_point() -> None:
    draft = bodice()
    front = draft.piece("front")
    front = replace(front, points=(*front.points, Landmark("hollow", 60 + 200j)))
    done = run(
        draft.with_pieces([front]),
        at=LOW,
        amount="5 mm",
        pivot={"piece": "front", "point": "hollow"},
        to={"piece": "front", "edge": "waist", "from": "centre front", "by": "3 cm"},
    )
    assert front.edge_length(NECK) - done.piece("front").edge_length(NECK) == pytest.approx(5, abs=0.01)


def test_a_sewn_edge_is_told_of() -> None:
    draft = bodice()
    seam = Seam("collar", Side("front", (NECK,)), Side("back", (NECK,)))
    draft = replace(draft, seams=(*draft.seams, seam))
    (said,) = result(draft, at=LOW, amount="6 mm", into="waist dart").findings
    assert "sewn in the collar seam, whose other side keeps its length" in said.message


OFF = {"piece": "front", "point": "bust point", "out": "40 cm"}
BACK = {"piece": "back", "edge": "neck", "from": "shoulder", "share": 0.5}
REFUSED = [
    (
        "no-outlet",
        {},
        "must open elsewhere about it (say 'into' a dart with that pivot (the piece's darts: 'bust dart', ",
    ),
    (
        "pivot-off-piece",
        {"pivot": OFF, "into": "waist dart"},
        "lies outside the piece: nothing can turn about it",
    ),
    (
        "no-point",
        {"pivot": {"piece": "front", "point": "heart"}, "into": "waist dart"},
        "no point 'heart'; it has: bust point",
    ),
    ("no-point", {"at": BACK, "into": "waist dart"}, "no point 'bust point'; it has: none"),
    ("no-dart", {"into": "side dart"}, "no dart 'side dart'"),
    (
        "other-pivot",
        {"pivot": {"piece": "front", "point": "bust point", "down": "-3 cm"}, "into": "waist dart"},
        "does not pivot at that point",
    ),
    (
        "other-piece",
        {"to": {"piece": "back", "edge": "waist", "from": "side", "by": "5 cm"}},
        "cannot open on",
    ),
    (
        "other-piece",
        {"pivot": {"piece": "back", "point": "blade"}, "into": "waist dart"},
        "cannot come to nothing at",
    ),
    ("same-place", {"to": {**LOW, "share": 0.1}}, "cannot open on the edge that it closes"),
    (
        "same-place",
        {
            "at": {"piece": "front", "edge": "side", "from": "waist", "share": 0},
            "to": {"piece": "front", "edge": "waist", "from": "side", "share": 0},
        },
        "cannot open where it closes",
    ),
    (
        "dart-in-the-way",
        {
            "at": {"piece": "front", "edge": "shoulder", "from": "bust dart", "toward": "neck", "by": "1 mm"},
            "into": "waist dart",
        },
        "reaches the mouth of the bust dart",
    ),
    ("too-wide", {"amount": "25 cm", "into": "waist dart"}, "29 degrees wide at most"),
    ("too-wide", {"amount": "9 cm", "at_distance": "4 cm", "into": "waist dart"}, "29 degrees wide at most"),
    (
        "dart-in-the-way",
        {
            "at": {"piece": "front", "edge": "armhole", "from": "shoulder", "by": "2 cm"},
            "pivot": {"piece": "front", "point": "hollow"},
            "to": {"piece": "front", "edge": "waist", "from": "centre front", "by": "3 cm"},
        },
        "the wedge crosses the bust dart",
    ),
    (
        "slash-leaves",
        {
            "at": {"piece": "front", "edge": "armhole", "from": "shoulder", "by": "6 cm"},
            "pivot": {"piece": "front", "point": "corner"},
            "to": {"piece": "front", "edge": "side", "from": "waist", "by": "6 cm"},
        },
        "the wedge",
    ),
]


@pytest.mark.parametrize(("code", "values", "says"), REFUSED)
def test_what_cannot_be_closed_is_refused(code: str, values: dict, says: str) -> None:  # type: ignore[type-arg]
    draft = bodice()
    front, back = draft.pieces
    points = (*front.points, Landmark("hollow", 60 + 200j), Landmark("corner", 225 + 150j))
    draft = draft.with_pieces(
        [replace(front, points=points), replace(back, points=(Landmark("blade", -90 + 250j),))]
        if code not in ("no-point",)
        else []
    )
    with refused(CannotApply, code, says):
        result(draft, **{"at": LOW, "amount": "8 mm", **values})


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"into": "waist dart", "to": AT_SIDE}, "say where the angle opens once"),
        (
            {"into": "waist dart", "at": {"piece": "front", "point": "bust point"}},
            "a gape is closed on an edge",
        ),
        ({"into": "waist dart", "pivot": AT_SIDE}, "comes to nothing at a point"),
        ({"to": {"piece": "front", "point": "bust point"}}, "the angle opens on an edge"),
        ({"into": "waist dart", "amount": "0 mm"}, "more than 0"),
        ({"into": "waist dart", "amount": 6}, "unit"),
    ],
)
def test_what_makes_no_sense_is_bad_input(values: dict, says: str) -> None:  # type: ignore[type-arg]
    with pytest.raises(BadInput, match=says):
        result(bodice(), **{"at": LOW, "amount": "8 mm", **values})


def test_the_angle_opens_where_it_is_asked_to() -> None:
    """Opened at the side, square to it and 12 cm from the bust point, the gap is a chord of the angle."""
    draft = bodice(bust_angle=0.0)
    front = draft.piece("front")
    done = run(draft, at=LOW, amount="6 mm", at_distance="7.5 cm", to=AT_SIDE)
    side = Label("side", "side")
    spot = next(s for s in front.edge(side) if isinstance(s.curve, Line)).curve
    place = spot.end + (spot.start - spot.end) * 80 / spot.length
    chord = 2 * abs(place - BUST_POINT) * math.sin(math.asin(6 / 150))
    grown = done.piece("front").edge_length(side) - front.edge_length(side)
    assert grown == pytest.approx(chord, abs=0.6)


def test_an_opening_that_passes_the_centre_is_told_with_the_other_half() -> None:
    """The hem of a whole front opened 2 cm from its centre: its smoothing reaches into the other half."""
    draft = unfolded(bodice(waist_intake=0), ("back",), "unfold")
    to = {"piece": "front", "edge": "waist", "wearer": "left", "from": "right waist", "by": "2 cm"}
    at = {**LOW, "wearer": "left"}
    (said,) = result(draft, at=at, amount="6 mm", to=to).findings
    assert "longer together with the right waist, smoothed by" in said.message
    done = run(draft, at=at, amount="6 mm", to=to)
    left, right = Label("neck", "neck", "left"), Label("neck", "neck", "right")
    others_kept(draft.piece("front"), done.piece("front"), left, *_waist(done))
    assert done.piece("front").edge_length(right) == pytest.approx(
        draft.piece("front").edge_length(right), abs=1e-9
    )


def _waist(draft: Draft) -> list[Label]:
    return [e for e in draft.piece("front").labels if e.role == "waist"]
