from dataclasses import replace

import pytest
from checks.planted import altered, dress, edge_end, found, label, node_moved, skirt, whole
from hypothesis import given
from hypothesis import strategies as st

from cutonce.checks.context import Context
from cutonce.checks.seam_lengths import NOTICE_MM, STOP_MM, seam_lengths
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Relation, Seam, Side
from cutonce.draft.span import EdgeMark, Gone, Label, Origin

SIDE = Label("side", "side")


def longer_side(by: float, draft: Draft) -> Draft:
    """The skirt front's side made longer at its lower end: straight down, so by exactly as much."""

    def fault(piece: Piece) -> Piece:
        return node_moved(piece, edge_end(piece, label(piece, "hem")), -1j * by, "fault")

    return altered(draft, "skirt front", fault)


def with_relation(draft: Draft, relation: Relation) -> Draft:
    return replace(
        draft, seams=tuple(replace(s, relation=relation) if s.name == "side" else s for s in draft.seams)
    )


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(seam_lengths, draft) == ()


@given(st.floats(-20, 20))
def test_thresholds(by: float) -> None:
    said = found(seam_lengths, longer_side(by, skirt()))
    if abs(by) < NOTICE_MM - 1e-6:
        assert said == ()
    elif abs(by) > NOTICE_MM + 1e-6:
        (finding,) = said
        assert finding.severity == ("stop" if abs(by) > STOP_MM else "warning")
        assert finding.found_mm is not None
        assert finding.expected_mm is not None
        assert finding.found_mm - finding.expected_mm == pytest.approx(by, abs=1e-6)
        assert finding.step == "fault"


def test_says_which_stretch_is_off() -> None:
    (finding,) = found(seam_lengths, longer_side(4.0, skirt()))
    assert finding.where == "seam side: skirt front with skirt back"
    assert finding.message == (
        "skirt front is 4.0 mm too long for skirt back; 4.0 mm of it between the start and hip"
    )
    assert finding.hint


def test_a_difference_that_is_declared_is_no_fault() -> None:
    draft = longer_side(6.0, skirt())
    assert found(seam_lengths, with_relation(draft, Relation("ease", 6.0))) == ()
    assert found(seam_lengths, with_relation(draft, Relation("gather"))) != ()
    (finding,) = found(seam_lengths, with_relation(draft, Relation("ease", 2.0)))
    assert "4.0 mm too long for skirt back after ease 2 mm" in finding.message
    assert finding.severity == "stop"


def test_notches_that_do_not_meet() -> None:
    def fault(piece: Piece) -> Piece:
        marks = tuple(
            replace(m, at=m.at + 5) if (m.name, m.origin.name) == ("hip", "side") else m for m in piece.marks
        )
        return replace(piece, marks=marks)

    (finding,) = found(seam_lengths, altered(skirt(), "skirt front", fault))
    assert (finding.severity, finding.code) == ("stop", "seam-notches")
    assert "5.0 mm longer than" in finding.message


def test_ease_may_lie_in_any_stretch_but_no_more_than_is_declared() -> None:
    draft = with_relation(longer_side(6.0, skirt()), Relation("ease", 6.0))

    def fault(piece: Piece) -> Piece:  # 6 mm of ease below the hip already; the notch moved up takes 8 more
        marks = tuple(
            replace(m, at=m.at + 8) if (m.name, m.origin.name) == ("hip", "side") else m for m in piece.marks
        )
        return replace(piece, marks=marks)

    (finding,) = found(seam_lengths, altered(draft, "skirt front", fault))
    assert finding.code == "seam-notches"


def test_gathers() -> None:
    short = with_relation(skirt(), Relation("gather"))
    (finding,) = found(seam_lengths, short)
    assert (finding.code, "should be gathered" in finding.message) == ("gather-ratio", True)
    ratio = with_relation(skirt(), Relation("gather", ratio=1.5))
    codes = {f.code for f in found(seam_lengths, ratio)}
    assert codes == {"gather-ratio", "seam-length"}


def test_a_seam_whose_edge_is_gone() -> None:
    lost = Seam("yoke", Side("skirt front", (Label("yoke", "style line"),)), Side("nowhere", (SIDE,)))
    draft = skirt()
    said = found(seam_lengths, replace(draft, seams=(*draft.seams, lost)))
    assert [(f.severity, f.code) for f in said] == [("stop", "seam-without-edge")] * 2
    assert "skirt front, yoke" in said[0].message
    gone = Gone(
        "skirt front", Label("yoke", "style line"), Origin("block", "yoke"), 0, 9, "cut", "cut it off"
    )
    said = found(seam_lengths, replace(draft, seams=(*draft.seams, lost), gone=(gone,)))
    assert [f.step for f in said] == ["cut", ""]


def test_the_last_step_is_named() -> None:
    draft = longer_side(4.0, skirt())

    def more(piece: Piece) -> Piece:
        return node_moved(piece, edge_end(piece, label(piece, "hem")), -1j, "first")

    twice = altered(draft, "skirt front", more)
    assert [f.step for f in seam_lengths(twice, Context(order=("first", "fault")))] == ["first"]


def test_a_doubled_notch_is_left_out() -> None:
    def fault(piece: Piece) -> Piece:
        side = piece.edge(label(piece, "side"))[0].origin
        return replace(piece, marks=(*piece.marks, EdgeMark("hip", side, 10.0)))

    assert found(seam_lengths, altered(skirt(), "skirt front", fault)) == ()
