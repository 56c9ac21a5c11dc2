from dataclasses import replace

import pytest
from checks.planted import altered, dress, found, node_moved, skirt, whole

from cutonce.checks.dart_legs import dart_legs
from cutonce.draft.piece import Piece


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(dart_legs, draft) == ()


@pytest.mark.parametrize("by, severity", [(0.4, None), (1.5, "warning"), (-1.5, "warning"), (5.0, "stop")])
def test_unlike_legs(by: float, severity: str | None) -> None:
    def fault(piece: Piece) -> Piece:
        one, _ = piece.legs(piece.darts[0])
        along = (one.curve.start - one.curve.end) / one.length
        return node_moved(piece, one.curve.start, by * along, "fault")

    said = found(dart_legs, altered(skirt(), "skirt front", fault))
    assert [f.severity for f in said] == ([severity] if severity else [])
    for finding in said:
        assert (finding.where, finding.step) == ("skirt front, waist dart", "fault")
        assert finding.found_mm is not None
        assert finding.expected_mm is not None
        assert finding.found_mm - finding.expected_mm == pytest.approx(by)


def test_unlike_legs_of_a_double_dart() -> None:
    def fault(piece: Piece) -> Piece:
        dart = piece.double_darts[0]
        return replace(piece, double_darts=(replace(dart, upper=dart.upper + 30), *piece.double_darts[1:]))

    (finding,) = found(dart_legs, altered(dress(), "front", fault))
    assert "upper legs differ" in finding.message


def test_a_dart_that_lost_its_legs() -> None:
    def fault(piece: Piece) -> Piece:
        first = next(s for s in piece.outline if s.label.role == "dart leg")
        return replace(piece, outline=tuple(s for s in piece.outline if s is not first))

    said = found(dart_legs, altered(skirt(), "skirt back", fault))
    assert [(f.severity, f.code) for f in said] == [("stop", "dart-broken")]
