from dataclasses import replace

import pytest
from checks.planted import IDA, altered, bodice, dress, label, skirt, whole

from cutonce.blocks import BLOCKS, all_ease, draft_block
from cutonce.checks.levels import girth_between, level
from cutonce.draft.draft import Draft
from cutonce.draft.piece import InnerLine, Piece
from cutonce.draft.seam import Drawn, Relation, Seam, Side
from cutonce.draft.span import Label
from cutonce.geometry.curve import Line
from cutonce.reshape.darts import move_dart
from cutonce.reshape.places import Place, resolve

MEASURES = {"bust": "bust_girth", "waist": "waist_girth", "hip": "hip_girth"}


@pytest.mark.parametrize(
    "kind, system", [(b.kind, s) for b in BLOCKS for s in b.systems if "measured" not in s]
)
@pytest.mark.parametrize("is_whole", [False, True])
def test_blocks_measure_body_and_ease(kind: str, system: str, is_whole: bool) -> None:
    """Every level of every block is the body and its ease: darts on edges, double darts and all."""
    draft = draft_block(kind, system, IDA)
    ease = all_ease(kind, system)
    draft = whole(draft) if is_whole else draft
    names = {"bodice": ["bust", "waist"], "dress": ["bust", "waist", "hip"], "skirt": ["waist", "hip"]}[kind]
    for name in names:
        found = level(draft, name)
        assert found is not None
        assert found.is_ring
        assert found.girth == pytest.approx(IDA.mm(MEASURES[name]) + ease[name], abs=0.5)


def test_a_level_that_no_piece_has() -> None:
    assert level(bodice(), "hip") is None
    assert level(skirt(), "bust") is None


def test_a_moved_dart_leaves_the_girth() -> None:
    """The bust dart turned to the waist and to the side: the bust line is cut and turned, its girth kept."""
    draft = dress()
    front = draft.piece("front")
    before = level(draft, "bust")
    spot = resolve(draft, Place("front", "side", start="armhole", by=70.0))
    dart = front.dart("bust dart")
    moved, _, _ = move_dart(front, dart, spot, front.dart_angle(dart), replace(dart, name="side dart"), "s")
    after = level(draft.with_pieces([moved]), "bust")
    assert before is not None
    assert after is not None
    assert after.girth == pytest.approx(before.girth, abs=0.5)


def test_a_line_that_stops_short_is_drawn_on_to_the_edge() -> None:
    def fault(piece: Piece) -> Piece:
        def half(line: InnerLine) -> InnerLine:
            return (
                replace(line, curves=tuple(c.part(0.3, 0.6) for c in line.curves))
                if line.name == "hip"
                else line
            )

        return replace(piece, lines=tuple(half(x) for x in piece.lines))

    full, short = level(skirt(), "hip"), level(altered(skirt(), "skirt front", fault), "hip")
    assert full is not None
    assert short is not None
    assert short.girth == pytest.approx(full.girth)
    assert short.is_ring


def test_an_unsewn_side_is_no_ring() -> None:
    found = level(replace(skirt(), seams=()), "hip")
    assert found is not None
    assert not found.is_ring


def waist_seam(relation: Relation) -> Draft:
    """Bodice and skirt with their waists sewn, front to front and back to back; the skirt's side is a."""
    top, below = bodice(), skirt()
    waist = (Label("waist", "waist"),)
    seams = tuple(
        Seam(f"{face} waist", Side(f"skirt {face}", waist), Side(face, waist), relation)
        for face in ("front", "back")
    )
    return Draft((*top.pieces, *below.pieces), (*top.seams, *below.seams, *seams))


def test_a_waist_seam_counts_once_at_its_sewn_length() -> None:
    alone = level(bodice(), "waist")
    found = level(waist_seam(Relation("gather")), "waist")
    assert alone is not None
    assert found is not None
    assert found.girth == pytest.approx(alone.girth)


def test_a_drawn_up_waist_is_as_long_as_its_elastic() -> None:
    draft = skirt()
    edges = tuple((p.key, label(p, "waist")) for p in draft.pieces)
    found = level(replace(draft, drawn=(Drawn("waist", edges, 330.0, "elastic"),)), "waist")
    assert found is not None
    assert found.girth == pytest.approx(660.0)


def test_a_spread_through_the_hip_counts() -> None:
    """The front cut from hem to waist and moved 20 mm apart: the line in two, the gap between them cloth."""

    def fault(piece: Piece) -> Piece:
        def apart(z: complex) -> complex:
            return z + 20 if z.real > 60 else z

        outline = tuple(
            replace(s, curve=type(s.curve)(*(apart(getattr(s.curve, n)) for n in _names(s.curve))))
            for s in piece.outline
        )
        (hip,) = piece.lines
        one, two = hip.curves[0].part(0, 0.25), hip.curves[0].part(0.25, 1)
        two = Line(two.start + 20, two.end + 20)
        return replace(piece, outline=outline, lines=(replace(hip, curves=(one, two)),))

    before, after = level(skirt(), "hip"), level(altered(skirt(), "skirt front", fault), "hip")
    assert before is not None
    assert after is not None
    assert after.girth == pytest.approx(before.girth + 40)


def _names(curve: object) -> str:
    return "ad" if isinstance(curve, Line) else "abcd"


@pytest.mark.parametrize("is_whole", [False, True])
def test_girth_between_runs_from_one_level_to_the_other(is_whole: bool) -> None:
    for draft in (skirt(), dress()):
        draft = whole(draft) if is_whole else draft
        waist, hip = level(draft, "waist"), level(draft, "hip")
        assert waist is not None
        assert hip is not None
        girths = [girth_between(draft, "waist", "hip", k / 10) or 0.0 for k in range(11)]
        assert girths == sorted(girths)
        assert girths[0] == pytest.approx(waist.girth, abs=3)  # straight across, not along the waist curve
        assert girths[-1] == pytest.approx(hip.girth, abs=1e-3)
