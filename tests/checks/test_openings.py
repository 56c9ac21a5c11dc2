from dataclasses import replace

import pytest
from checks.planted import found, skirt, with_opening

from cutonce.checks.openings import openings
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label, Span

SIDE_MM = skirt().side_length(skirt().seams[0].a)


def with_keyhole(draft: Draft) -> Draft:
    """The side of both pieces above the hip called a cut-out: the side seam below it goes on alone."""

    def keyhole(piece: Piece) -> Piece:
        def called(span: Span) -> Span:
            upper = span.label.key == "side" and span.curve.length < 300
            return replace(span, label=Label("keyhole", "cut-out")) if upper else span

        return replace(piece, outline=tuple(called(s) for s in piece.outline))

    side = (Label("side", "side"),)
    pieces = [keyhole(p) for p in draft.pieces]
    seams = (Seam("side", Side("skirt front", side), Side("skirt back", side)), draft.seams[1])
    return replace(draft.with_pieces(pieces), seams=seams)


def test_silent_where_the_zip_fits() -> None:
    assert found(openings, skirt()) == ()
    assert found(openings, with_opening(skirt(), "side", SIDE_MM - 200, 200)) == ()
    assert found(openings, with_opening(with_keyhole(skirt()), "side", 50, 200)) == ()


def test_a_zip_longer_than_its_seam() -> None:
    (finding,) = found(openings, with_opening(skirt(), "side", SIDE_MM - 200, 230))
    assert (finding.severity, finding.code) == ("stop", "opening-past-seam")
    assert "the seam ends at the waist 30 mm before it" in finding.message


def test_a_zip_that_a_cut_out_interrupts() -> None:
    """The zip was set for the whole side seam; the keyhole has shortened the seam to what lies below it."""
    draft = with_opening(skirt(), "side", SIDE_MM - 300, 300)
    (finding,) = found(openings, with_keyhole(draft))
    assert (finding.severity, finding.code, finding.where) == (
        "stop",
        "opening-past-seam",
        "zip in seam side",
    )
    assert "the seam ends at the keyhole" in finding.message


@pytest.mark.parametrize(
    "gap, kind, severity", [(5.0, "zip", "stop"), (5.0, "slit", "warning"), (25.0, "zip", "")]
)
def test_an_opening_that_ends_at_a_cut_out(gap: float, kind: str, severity: str) -> None:
    draft = with_keyhole(skirt())
    size = draft.side_length(draft.seams[0].a)
    said = found(openings, with_opening(draft, "side", size - gap - 100, 100, kind))
    assert [f.severity for f in said] == ([severity] if severity else [])


def test_a_cord_leaves_right_at_a_cut_out() -> None:
    draft = with_keyhole(skirt())
    size = draft.side_length(draft.seams[0].a)
    assert found(openings, with_opening(draft, "side", size - 10, 10, "cord exit")) == ()


def test_openings_that_overlap() -> None:
    draft = with_opening(with_opening(skirt(), "side", 100, 200), "side", 250, 100, "vent")
    (finding,) = found(openings, draft)
    assert (finding.code, finding.found_mm) == ("openings-overlap", 50.0)
    apart = with_opening(with_opening(skirt(), "side", 100, 150), "side", 250, 100, "vent")
    assert found(openings, apart) == ()


def test_an_opening_in_no_seam() -> None:
    (finding,) = found(openings, with_opening(skirt(), "sid", 0, 100))
    assert (finding.code, finding.message) == (
        "opening-without-seam",
        "there is no such seam; there are: side, centre back",
    )
