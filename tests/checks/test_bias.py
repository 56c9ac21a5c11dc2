import cmath
import math
from dataclasses import replace

import pytest
from checks.planted import altered, dress, found, label, skirt, whole, with_spans

from cutonce.checks.bias import bias, on_bias
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.seam import Relation
from cutonce.draft.span import Label, born
from cutonce.geometry.curve import Line

WARP = cmath.exp(1j * math.radians(45))


def on_the_bias(draft: Draft, key: str) -> Draft:
    return altered(draft, key, lambda p: replace(p, grain=Grain(p.grain.at, WARP, "bias")))


def test_silent_on_straight_grain() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(bias, draft) == ()


@pytest.mark.parametrize(
    "degrees, share", [(0, 0), (20, 0), (30, 1), (45, 1), (60, 1), (70, 0), (90, 0), (135, 1)]
)
def test_how_much_of_an_edge_runs_on_the_bias(degrees: float, share: float) -> None:
    span = born(Line(0j, 100 * cmath.exp(1j * math.radians(degrees))), Label("neck", "neck"), "block")
    assert on_bias((span,), 1j) == pytest.approx(100 * share)


def test_a_piece_on_the_bias_drops_and_its_seams_ripple() -> None:
    said = found(bias, on_the_bias(skirt(), "skirt back"))
    assert {f.code for f in said} == {"bias-drops", "bias-to-straight"}
    assert all(f.severity == "note" for f in said)
    ripple = next(f for f in said if f.code == "bias-to-straight")
    assert "skirt back runs on the bias there, skirt front does not" in ripple.message


def test_both_on_the_bias_sew_alike() -> None:
    draft = on_the_bias(on_the_bias(skirt(), "skirt back"), "skirt front")
    assert {f.code for f in found(bias, draft)} == {"bias-drops"}


def test_a_slanted_neckline_wants_tape() -> None:
    def fault(piece: Piece) -> Piece:
        neck = label(piece, "neck")
        return with_spans(
            piece,
            lambda s: (
                replace(s, curve=Line(s.curve.start, s.curve.start + 100 - 100j)) if s.label == neck else s
            ),
        )

    (finding,) = found(bias, altered(dress(), "front", fault))
    assert (finding.code, finding.where) == ("bias-edge", "front, neck")
    assert finding.expected_mm == pytest.approx(100 * math.sqrt(2))
    assert "141 mm" in finding.hint


@pytest.mark.parametrize("more, said", [(-20.0, False), (-40.0, True)])
def test_a_seam_stretched_too_far(more: float, said: bool) -> None:
    draft = skirt()
    seams = tuple(
        replace(s, relation=Relation("stretch", more)) if s.name == "side" else s for s in draft.seams
    )
    assert [f.code for f in found(bias, replace(draft, seams=seams))] == (["stretched-seam"] if said else [])
