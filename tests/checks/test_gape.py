from dataclasses import replace

import pytest
from checks.planted import altered, bodice, dress, found, label, whole, with_spans

from cutonce.checks.gape import gape
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Gone, Label, Origin, Span
from cutonce.geometry.curve import Line


def lowered(draft: Draft, depth: float) -> Draft:
    """The front neck drawn straight from the shoulder to `depth` below where it met the centre."""

    def fault(piece: Piece) -> Piece:
        neck = piece.edge(label(piece, "neck"))
        foot = neck[-1].curve.end - 1j * depth

        def drawn(span: Span) -> Span | None:
            if span.label.key == "neck":
                return (
                    replace(span, curve=Line(neck[0].curve.start, foot), made="fault")
                    if span is neck[0]
                    else None
                )
            if span.label.key == "centre front":
                return replace(span, curve=Line(foot, span.curve.end))
            return span

        return replace(piece, outline=tuple(s for span in piece.outline if (s := drawn(span)) is not None))

    return altered(draft, "front", fault)


def test_silent_on_the_blocks_own_neckline() -> None:
    for draft in (bodice(), dress(), whole(dress())):
        assert found(gape, draft) == ()


@pytest.mark.parametrize("depth, amount", [(10.0, None), (110.0, 6.4), (230.0, 9.5)])
def test_a_low_neckline(depth: float, amount: float | None) -> None:
    said = found(gape, lowered(bodice(), depth))
    assert [f.expected_mm for f in said] == ([amount] if amount else [])
    for finding in said:
        assert (finding.severity, finding.where, finding.step) == ("warning", "front, neck", "fault")
        assert finding.spot is not None


def test_both_sides_of_a_whole_front_are_told() -> None:
    said = found(gape, whole(lowered(bodice(), 110.0)))
    assert {f.where for f in said} == {"front, left neck", "front, right neck"}


def test_a_gape_that_was_closed_is_not_told_again() -> None:
    draft = lowered(bodice(), 110.0)
    neck = Label("neck", "neck")
    gone = Gone("front", neck, Origin("block", "neck"), 10.0, 16.0, "close", "closed the gape")
    assert found(gape, replace(draft, gone=(gone,))) == ()
    other = replace(gone, piece="back")
    assert found(gape, replace(draft, gone=(other,))) != ()


def test_a_closed_gape_on_one_side_leaves_the_other() -> None:
    draft = whole(lowered(bodice(), 110.0))
    neck = Label("neck", "neck", "left")
    gone = Gone("front", neck, Origin("block", "neck", "left"), 10.0, 16.0, "close", "closed the gape")
    assert [f.where for f in found(gape, replace(draft, gone=(gone,)))] == ["front, right neck"]


def test_a_cut_away_armhole() -> None:
    def fault(piece: Piece) -> Piece:
        bust = next(p.at for p in piece.points if p.name == "bust point")

        def nearer(span: Span) -> Span:
            if span.label.key != "armhole":
                return span
            c = span.curve
            pull = bust + 60 + 40j - c.at(0.5)
            curve = replace(c, b=c.b + pull, c=c.c + pull) if not isinstance(c, Line) else c
            return replace(span, curve=curve, made="fault")

        return with_spans(piece, nearer)

    said = found(gape, altered(bodice(), "front", fault))
    assert [(f.where, f.expected_mm) for f in said] == [("front, armhole", 12.7)]
