from dataclasses import replace

import pytest
from checks.planted import altered, bodice, dress, found, label, skirt, whole

from cutonce.checks.notches import notches
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import EdgeMark


def notched(
    draft: Draft, key: str, edge: str, at: float, name: str = "balance", printed: bool = True
) -> Draft:
    def fault(piece: Piece) -> Piece:
        origin = piece.edge(label(piece, edge))[0].origin
        return replace(piece, marks=(*piece.marks, EdgeMark(name, origin, at, printed)))

    return altered(draft, key, fault)


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), bodice(), whole(skirt()), whole(dress())):
        assert found(notches, draft) == ()


@pytest.mark.parametrize(
    "at, crowded", [(100.0, False), (388.0, True), (395.0, False), (402.0, True), (420.0, False)]
)
def test_two_notches_close_together(at: float, crowded: bool) -> None:
    """The hip notch stands 395 mm along the front's side (600 less 205)."""
    draft = notched(notched(skirt(), "skirt front", "side", at), "skirt back", "side", 200.0)
    said = found(notches, draft)
    assert [f.code for f in said] == (["notch-crowded"] if crowded else [])
    for finding in said:
        assert finding.found_mm == pytest.approx(abs(at - 395))
        assert finding.where == "skirt front, side"


def test_a_notch_next_to_a_corner() -> None:
    draft = notched(skirt(), "skirt front", "hem", 236.0)
    (finding,) = found(notches, draft)
    assert "from the end of the edge" in finding.message


def test_a_notch_next_to_a_darts_mouth() -> None:
    first = skirt().piece("skirt front").edge(label(skirt().piece("skirt front"), "waist"))[0].length
    (finding,) = found(notches, notched(skirt(), "skirt front", "waist", first - 4))
    assert "from the mouth of a dart" in finding.message
    assert finding.found_mm == pytest.approx(4)


def test_a_notch_without_partner() -> None:
    said = found(notches, notched(skirt(), "skirt front", "side", 100.0))
    assert [(f.code, f.where) for f in said] == [("notch-alone", "seam side: skirt front with skirt back")]
    assert "the notch 'balance' on skirt front has no partner on skirt back" in said[0].message


def test_a_place_that_is_not_printed_needs_no_partner() -> None:
    assert found(notches, notched(skirt(), "skirt front", "side", 100.0, printed=False)) == ()
