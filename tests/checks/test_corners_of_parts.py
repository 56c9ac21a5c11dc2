"""Corners where one part of a divided edge passes into the next, alone or with two pieces sewn to it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from checks.planted import altered, edge_end, found, label, node_moved, skirt, with_spans

from cutonce.checks.corners import corners
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Span
from cutonce.geometry.curve import Line
from cutonce.reshape.seams import divide_edge
from cutonce.steps import move_dart, split_piece
from cutonce.steps.step import Step
from cutonce.validation import validated

FRONT = "skirt front"


def done(step: Step, draft: Draft, id_: str, **values: object) -> Draft:
    return step.apply(draft, validated(step.params, values, {}, id_), id_).draft


def yoked(seam: str = "yoke seam") -> Draft:
    """A skirt front with a yoke in two pieces: the seam between them ends on the yoke seam, in two parts."""
    draft = done(
        split_piece.STEP,
        skirt(),
        "yoke",
        start={"piece": FRONT, "edge": "side", "from": "waist", "by": "15 cm"},
        end={"piece": FRONT, "edge": "centre front", "from": "waist", "by": "15 cm"},
        parts={"above": "yoke", "below": FRONT},
        seam=seam,
    )
    return done(
        split_piece.STEP,
        draft,
        "panel",
        start={"piece": "yoke", "edge": "waist", "from": "side", "by": "3 cm"},
        end={"piece": "yoke", "edge": seam, "from": "side", "share": 0.5},
        parts={"side": "side yoke", "centre": "yoke"},
        seam="panel seam",
    )


def place_of_parts(draft: Draft) -> complex:
    """Where the lower piece's yoke seam passes from one part into the next."""
    piece = draft.piece(FRONT)
    parts = [e for e in piece.labels if e.name == "yoke seam"]
    assert len(parts) == 2
    one, two = (edge_end(piece, e) for e in parts)
    return one if abs(one - piece.edge(parts[1])[0].curve.start) < 1e-6 else two


def straight_waist(piece: Piece) -> Piece:
    def straight(span: Span) -> Span:
        line = Line(span.curve.start, span.curve.end)
        return replace(span, curve=line) if span.label.role == "waist" else span

    return with_spans(piece, straight)


def test_an_edge_divided_and_smooth_is_not_told() -> None:
    draft = skirt()
    draft, _ = divide_edge(draft, FRONT, label(draft.piece(FRONT), "hem"), 80.0)
    assert found(corners, draft, ["kink"]) == ()
    assert found(corners, yoked(), ["kink"]) == ()


@pytest.mark.parametrize(("down", "severity"), [(2.0, None), (6.0, "note"), (20.0, "warning")])
def test_a_kink_between_parts_of_a_free_edge(down: float, severity: str | None) -> None:
    """The hem divided and pulled down where its parts meet: 80 mm and about 170 mm to the ends beside it."""
    draft = skirt()
    draft, _ = divide_edge(draft, FRONT, label(draft.piece(FRONT), "hem"), 80.0)
    at = edge_end(draft.piece(FRONT), label(draft.piece(FRONT), "hem"))
    broken = altered(draft, FRONT, lambda p: node_moved(p, at, -1j * down, "fault"))
    said = found(corners, broken, ["kink"])
    assert [(f.severity, f.where, f.step) for f in said] == (
        [(severity, "skirt front, hem and hem 2", "fault")] if severity else []
    )


def test_three_pieces_that_fit_each_other_have_no_kink() -> None:
    """The corner moved alike in all three: each seam bends there, but the angles still make 360 degrees."""
    draft = yoked()
    at = place_of_parts(draft)
    for key in (FRONT, "yoke", "side yoke"):
        draft = altered(draft, key, lambda p: node_moved(p, at, -15j, "fault"))
    assert found(corners, draft, ["kink"]) == ()


def test_three_pieces_that_do_not_fit_are_told_with_their_angles() -> None:
    draft = yoked()
    at = place_of_parts(draft)
    said = found(corners, altered(draft, FRONT, lambda p: node_moved(p, at, -15j, "fault")), ["kink"])
    (finding,) = said
    assert finding.where in {f"{FRONT}, yoke seam and yoke seam 2", f"{FRONT}, yoke seam 2 and yoke seam"}
    assert finding.severity == "warning"
    assert "sewn to yoke and side yoke" in finding.message or "sewn to side yoke and yoke" in finding.message
    assert "should be 360" in finding.message


def test_a_dart_moved_away_between_two_parts_leaves_a_kink_that_is_told() -> None:
    """The waist divided at the dart's mouth: with the dart closed, what was its corner lies between parts."""
    draft = skirt()
    piece = draft.piece(FRONT)
    waist = label(piece, "waist")
    leg = piece.legs(piece.darts[0])[0]
    run = piece.edge(waist)
    arc = sum(s.length for s in run[: [s.curve.end for s in run].index(leg.curve.start) + 1])
    draft, _ = divide_edge(draft, FRONT, waist, arc)
    draft = altered(draft, FRONT, straight_waist)
    one, two = draft.piece(FRONT).legs(draft.piece(FRONT).darts[0])
    for node, pivot in ((one.curve.start, one.curve.end), (two.curve.end, two.curve.start)):
        by = 12 * (pivot - node) / abs(pivot - node)
        draft = altered(draft, FRONT, lambda p, node=node, by=by: node_moved(p, node, by, "fault"))
    to = {"piece": FRONT, "edge": "hem", "from": "side", "share": 0.5}
    draft = done(move_dart.STEP, draft, "close", piece=FRONT, dart="waist dart", to=to)
    assert [f.where for f in found(corners, draft, ["kink"])] == ["skirt front, waist and waist 2"]
    assert not any(e.role == "dart leg" for e in draft.piece(FRONT).labels)


def test_two_lines_drawn_under_one_name_are_not_parts_of_one() -> None:
    """A second line of the same name ends on the first at a right angle: no kink."""
    draft = yoked("panel seam")
    assert any(len({e.part for e in p.labels if e.name == "panel seam"}) > 1 for p in draft.pieces)
    assert found(corners, draft, ["kink"]) == ()


def test_a_kink_is_told_of_the_piece_that_has_it_not_of_its_smooth_partner() -> None:
    """Front and back sides divided alike, the front's pulled out where its parts meet."""
    draft = skirt()
    draft, _ = divide_edge(draft, FRONT, label(draft.piece(FRONT), "side"), 200.0)
    at = edge_end(draft.piece(FRONT), label(draft.piece(FRONT), "side"))
    said = found(corners, altered(draft, FRONT, lambda p: node_moved(p, at, 25 + 0j, "fault")), ["kink"])
    (between,) = [f for f in said if f.where == "skirt front, side and side 2"]
    assert "sewn to skirt back" in between.message
    assert not [f for f in said if f.where.startswith("skirt back")]
