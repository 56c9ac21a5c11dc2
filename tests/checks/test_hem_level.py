from dataclasses import replace

import pytest
from checks.planted import altered, bodice, dress, edge_end, found, label, node_moved, skirt, whole

from cutonce.checks.hem_level import hem_level
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn


def side_lower(by: float, piece: Piece) -> Piece:
    return node_moved(piece, edge_end(piece, label(piece, "hem")), -1j * by, "fault")


def test_silent_on_level_hems() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress()), bodice()):
        assert found(hem_level, draft) == ()


@pytest.mark.parametrize("by", [4.0, 30.0])
def test_a_hem_that_dips_at_the_side(by: float) -> None:
    said = found(hem_level, altered(skirt(), "skirt front", lambda piece: side_lower(by, piece)))
    if by < 5:
        assert said == ()
        return
    (finding,) = said
    assert (finding.severity, finding.where, finding.step) == ("note", "hem", "fault")
    assert finding.message.startswith(
        "it hangs 30 mm lower at skirt front, side (425 mm below the hip) than at skirt "
    )


def test_a_cord_draws_a_side_up() -> None:
    """A level hem, the whole side drawn up by 60 mm: below the hip it is shorter in proportion."""
    draft = skirt()
    front = draft.piece("skirt front")
    side = label(front, "side")
    size = front.edge_length(side)
    drawn = Drawn("side", (("skirt front", side),), size - 60.0, "cord", 12.0)
    (finding,) = found(hem_level, replace(draft, drawn=(drawn,)))
    assert finding.expected_mm == pytest.approx(395 * (size - 60) / size)
    assert "than at skirt front, side" in finding.message
