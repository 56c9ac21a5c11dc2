from dataclasses import replace

from checks.planted import altered, dress, edge_end, found, label, node_moved, skirt, whole, with_spans

from cutonce.checks.context import Context
from cutonce.checks.outlines import outlines
from cutonce.draft.piece import Piece
from cutonce.draft.span import Span
from cutonce.finishing.finish import finished
from cutonce.geometry.curve import Line
from cutonce.geometry.path import polyline


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(outlines, draft) == ()


def test_an_open_outline() -> None:
    def fault(piece: Piece) -> Piece:
        hem = label(piece, "hem")

        def shorter(span: Span) -> Span:
            if span.label != hem:
                return span
            return replace(span, curve=Line(span.curve.start, span.curve.end - 2), made="fault")

        return with_spans(piece, shorter)

    (finding,) = found(outlines, altered(skirt(), "skirt front", fault))
    assert (finding.severity, finding.code, finding.where, finding.step) == (
        "stop",
        "outline-open",
        "skirt front, hem",
        "fault",
    )
    assert finding.found_mm == 2.0


def test_an_outline_that_crosses_itself() -> None:
    def fault(piece: Piece) -> Piece:  # the side's lower end thrown across the centre
        side = edge_end(piece, label(piece, "hem"))
        return node_moved(piece, side, -side.real - 80 + 60j, "fault")

    (finding,) = found(outlines, altered(skirt(), "skirt front", fault))
    assert (finding.severity, finding.code, finding.step) == ("stop", "outline-crosses", "fault")
    assert finding.spot is not None
    assert finding.spot[0] == "skirt front"
    assert abs(finding.spot[1].real) < 1  # on the centre front


def test_an_outline_that_runs_clockwise() -> None:
    def fault(piece: Piece) -> Piece:
        return replace(piece, outline=tuple(s.reversed() for s in reversed(piece.outline)))

    (finding,) = found(outlines, altered(skirt(), "skirt back", fault))
    assert finding.code == "outline-turned"


def test_a_cutting_line_that_crosses_itself() -> None:
    draft = skirt()
    pieces = finished(draft, "skirt")
    assert found(outlines, draft, context=Context(finished=pieces)) == ()
    first = pieces.pieces[0]
    corners = [z for c in first.cutting for z in (c.start,)]
    bow = polyline([corners[0], corners[2], corners[1], corners[3], corners[0]])
    faulty = replace(pieces, pieces=(replace(first, cutting=bow), *pieces.pieces[1:]), findings=())
    (finding,) = found(outlines, draft, context=Context(finished=faulty))
    assert (finding.severity, finding.code, finding.where) == ("stop", "cutting-crosses", first.key)


def test_darts_to_one_point_are_no_crossing() -> None:
    from steps.drafts import bodice  # bust dart and waist dart share their pivot

    assert found(outlines, bodice()) == ()
