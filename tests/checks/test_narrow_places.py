from dataclasses import replace

import pytest
from checks.planted import altered, bodice, dress, found, skirt, whole
from hypothesis import given, settings
from hypothesis import strategies as st

from cutonce.checks.narrow_places import narrow_places
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.span import Label, born
from cutonce.geometry.path import polyline


def piece_of(points: list[complex]) -> Draft:
    edge = Label("edge", "style line")
    spans = tuple(born(c, edge, "fault") for c in polyline([*points, points[0]]))
    return Draft((Piece("panel", spans, Grain(points[0])),))


def hourglass(neck: float) -> Draft:
    """Two squares joined by a neck 40 long."""
    h = neck / 2
    return piece_of(
        [
            *(-100 - 100j, -100j, -h * 1j, 40 - h * 1j, 40 - 100j, 140 - 100j),
            *(140 + 100j, 40 + 100j, 40 + h * 1j, h * 1j, 100j, -100 + 100j),
        ]
    )


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), bodice(), whole(skirt()), whole(dress())):
        assert found(narrow_places, draft) == ()


@pytest.mark.parametrize("neck, count", [(20.0, 0), (8.5, 0), (7.5, 1), (3.0, 1)])
def test_a_narrow_neck(neck: float, count: int) -> None:
    said = found(narrow_places, hourglass(neck))
    assert len(said) == count
    for finding in said:
        assert (finding.severity, finding.step, finding.where) == ("warning", "fault", "panel, edge")
        assert finding.spot is not None
        assert -1 < finding.spot[1].real < 41
        assert abs(finding.spot[1].imag) < neck / 2


@pytest.mark.parametrize("width, count", [(6.0, 1), (9.0, 0)])
def test_a_narrow_strap(width: float, count: int) -> None:
    strap = piece_of(
        [0j, 200 + 0j, 200 + 100j, 60 + 100j, 60 + 180j, 60 - width + 180j, 60 - width + 100j, 100j]
    )
    assert len(found(narrow_places, strap)) == count


@settings(max_examples=30, deadline=None)
@given(st.floats(15, 160), st.floats(40, 300))
def test_the_tip_of_a_corner_is_no_narrow_place(degrees: float, leg: float) -> None:
    import cmath
    import math

    a = leg * cmath.exp(1j * math.radians(degrees))
    assert found(narrow_places, piece_of([0j, leg + 100 + 0j, leg + 100 + a, a])) == ()


def test_a_darts_point_near_the_opposite_edge() -> None:
    def fault(piece: Piece) -> Piece:
        dart = piece.darts[0]
        one, two = piece.legs(dart)
        tip = complex(one.curve.end.real, -595)

        def to_tip(span):  # type: ignore[no-untyped-def]
            if span is one:
                return replace(span, curve=type(span.curve)(span.curve.start, tip), made="fault")
            return (
                replace(span, curve=type(span.curve)(tip, span.curve.end), made="fault")
                if span is two
                else span
            )

        return replace(piece, outline=tuple(to_tip(s) for s in piece.outline))

    (finding,) = found(narrow_places, altered(skirt(), "skirt front", fault))
    assert finding.spot is not None
    assert finding.spot[1].imag < -590
    assert finding.step == "fault"
