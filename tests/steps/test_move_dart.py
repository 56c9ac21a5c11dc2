"""Move a dart: what the step adds to the kernel's turn: names, notes, choices, refusals."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps.drafts import bodice, dress, whole_bodice

from cutonce.draft.draft import Draft
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply
from cutonce.reshape.places import Place, resolve
from cutonce.reshape.soundness import crossing, gap
from cutonce.steps.move_dart import STEP, MoveDart
from cutonce.validation import validated

SIDE = Label("side", "side")
TO_SIDE = {"piece": "front", "edge": "side", "from": "armhole", "by": "6 cm"}


def params(**values: object) -> MoveDart:
    return validated(MoveDart, {"piece": "front", "dart": "bust dart", **values}, {}, "step 1")


def run(draft: Draft, **values: object) -> Draft:
    return STEP.apply(draft, params(**values), "turn").draft


@settings(max_examples=30, deadline=None)
@given(
    width=st.floats(230, 300),
    angle=st.floats(0.03, 0.3),
    by=st.floats(10, 180),
    share=st.floats(0.05, 1),
)
def test_only_darts_change(width: float, angle: float, by: float, share: float) -> None:
    half = bodice(width, angle, 20)
    to = {**TO_SIDE, "by": f"{by:.4f} mm"}
    done = run(half, to=to, share=share)
    before, after = half.piece("front"), done.piece("front")
    for label in before.labels:
        assert after.edge_length(label) == pytest.approx(before.edge_length(label), abs=0.01)
    opened = after.dart("side dart")
    assert after.dart_angle(opened) == pytest.approx(angle * share, abs=1e-9)
    left = sum(after.dart_angle(d) for d in after.darts)
    assert left == pytest.approx(sum(before.dart_angle(d) for d in before.darts), abs=1e-9)
    assert gap(after) < 1e-9 and crossing(after) is None
    mouth = resolve(done, Place("front", "side", start="armhole", by=by)).arc
    assert mouth == pytest.approx(resolve(half, Place("front", "side", start="armhole", by=by)).arc, abs=1e-3)


def test_the_new_dart_is_named_after_its_edge_and_drawn_short() -> None:
    done = STEP.apply(bodice(), params(to=TO_SIDE), "turn")
    front = done.draft.piece("front")
    assert [(d.name, d.short) for d in front.darts] == [("waist dart", 20.0), ("side dart", 20.0)]
    assert abs(front.dart_tip(front.dart("side dart")) - (90 + 170j)) == pytest.approx(20, abs=1e-9)
    # 0.22 rad is 12.6 degrees; legs from the bust point to the side, 6 cm below the underarm
    leg = front.legs(front.dart("side dart"))[0].length
    assert done.findings[0].message == (
        f"the side dart is 12.6 degrees wide at the pivot: {2 * leg * 0.10977830:.1f} mm at its mouth, "
        f"legs {leg:.1f} mm"
    )


def test_a_part_goes_and_the_rest_stays_where_it_was() -> None:
    done = run(bodice(), to=TO_SIDE, share="50 %", name="french dart", short="3 cm")
    front = done.piece("front")
    assert {d.name for d in front.darts} == {"bust dart", "waist dart", "french dart"}
    assert front.dart_angle(front.dart("bust dart")) == pytest.approx(0.11, abs=1e-9)
    again = run(done, to=TO_SIDE | {"by": "9 cm"}, share=0.5)
    assert again.piece("front").dart("side dart").short == 20


def test_a_second_dart_on_an_edge_is_numbered() -> None:
    done = run(run(bodice(), to=TO_SIDE, share=0.5), to=TO_SIDE | {"by": "12 cm"}, share=0.5)
    assert {d.name for d in done.piece("front").darts} >= {"side dart", "side dart 2", "bust dart"}


def test_two_darts_with_one_pivot_join() -> None:
    done = run(bodice(), into="waist dart")
    front = done.piece("front")
    assert [d.name for d in front.darts] == ["waist dart"]
    before = bodice().piece("front")
    assert front.dart_angle(front.dart("waist dart")) == pytest.approx(
        0.22 + before.dart_angle(before.dart("waist dart")), abs=1e-9
    )


def test_on_a_whole_front_only_the_wearers_side_turns() -> None:
    whole = whole_bodice()
    done = run(whole, wearer="right", to=TO_SIDE | {"wearer": "right"})
    front = done.piece("front")
    assert {(d.name, d.wearer) for d in front.darts} == {
        ("bust dart", "left"),
        ("waist dart", "left"),
        ("waist dart", "right"),
        ("side dart", "right"),
    }
    left = Label("armhole", "armhole", "left")
    assert front.edge(left)[0].length == pytest.approx(whole.piece("front").edge(left)[0].length, abs=1e-9)


def test_the_old_dart_is_remembered() -> None:
    done = run(bodice(), to=TO_SIDE)
    with pytest.raises(CannotApply, match="front: the bust dart is no more: step turn closed the bust dart"):
        run(done, to=TO_SIDE)


@pytest.mark.parametrize(
    ("make", "values", "line"),
    [
        (bodice, {"share": 0, "to": TO_SIDE}, "no part of the bust dart is asked for (raise the share)"),
        (
            bodice,
            {"dart": "burst dart", "to": TO_SIDE},
            "no dart 'burst dart'; it has: bust dart, waist dart",
        ),
        (
            bodice,
            {"to": TO_SIDE | {"edge": "sid"}},
            "front: no edge 'sid'; it has: waist, side, armhole, shoulder",
        ),
        (bodice, {"to": TO_SIDE | {"by": "40 cm"}}, "is past the end; the edge is 205.5 mm"),
        (
            bodice,
            {"to": {"piece": "back", "edge": "side", "from": "armhole", "by": "6 cm"}},
            "the dart cannot open on the back's side, 60 mm from the armhole",
        ),
        (bodice, {"to": {"piece": "front", "point": "bust point"}}, "cannot open on the front's bust point"),
        (
            bodice,
            {"to": TO_SIDE, "name": "waist dart"},
            "front: it has a waist dart already (choose another name)",
        ),
        (bodice, {"to": TO_SIDE, "short": "30 cm"}, "cannot be drawn 300.0 mm short (lower 'short')"),
        (
            bodice,
            {"to": {"piece": "front", "edge": "shoulder", "at": "bust dart"}},
            "the bust dart opens there already",
        ),
        (bodice, {"into": "bust dart"}, "does not turn about the pivot of the bust dart"),
        (
            dress,
            {"dart": "waist dart", "to": TO_SIDE},
            "front: the waist dart is pointed at both ends and cannot be moved "
            "(take it out at the side, or release it)",
        ),
        (
            whole_bodice,
            {"to": TO_SIDE},
            "front: 'bust dart' fits 2 darts: front, left bust dart; front, right bust dart",
        ),
        (
            dress,
            {"to": {"piece": "front", "edge": "hem", "from": "side", "share": 0.6}},
            "the waist dart lies across",
        ),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(make, values: dict[str, object], line: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(CannotApply) as caught:
        run(make(), **values)
    assert line in str(caught.value)


@pytest.mark.parametrize(
    ("values", "line"),
    [
        ({}, "front: say where the dart opens: either 'to' or 'into'"),
        ({"to": TO_SIDE, "into": "waist dart"}, "either 'to' or 'into'"),
        ({"into": "waist dart", "name": "x"}, "front: the waist dart keeps its name (leave 'name' out)"),
        ({"to": TO_SIDE, "short": "-2 cm"}, "'short' is below 0"),
        ({"to": TO_SIDE, "share": "150 %"}, "step 1, share"),
        ({"to": {"piece": "front", "edge": "side"}}, "say where: 'at', or 'from' with 'by' or 'share'"),
        ({"to": TO_SIDE, "bust": 1}, "unknown key 'bust'"),
    ],
)
def test_what_cannot_be_read(values: dict[str, object], line: str) -> None:
    with pytest.raises(BadInput) as caught:
        params(**values)
    assert line in str(caught.value)


def test_sentences() -> None:
    assert STEP.sentence(params(to=TO_SIDE, share="25 %", wearer="left")) == (
        "Move 25% of the front's left bust dart to the front's side, 60 mm from the armhole."
    )
    assert STEP.sentence(params(into="waist dart")) == "Move the front's bust dart into the waist dart."
