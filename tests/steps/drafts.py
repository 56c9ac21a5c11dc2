"""Small drafts made by hand for the tests of steps: half bodice, half dress, their unfolded forms, a skirt.

All have the names of the blocks: front on the fold, back as a pair, seams side and shoulder. Numbers in mm.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Grain, InnerLine, Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import EdgeMark, Label, Landmark, Role, Span, born
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.fit import between
from cutonce.geometry.motion import reflecting, turning
from cutonce.reshape.unfold import unfolded

BUST_POINT = 90 + 170j


def label(name: Role) -> Label:
    return Label(name, name)


def edge(name: Role, *curves: Curve) -> list[Span]:
    """Spans of one edge with its material running on."""
    spans: list[Span] = []
    for curve in curves:
        spans.append(born(curve, label(name), "block", spans[-1].hi if spans else 0.0))
    return spans


def legs(name: str, mouth: complex, pivot: complex, far: complex) -> list[Span]:
    return [
        born(Line(mouth, pivot), Label(name, "dart leg"), "block"),
        born(Line(pivot, far), Label(name, "dart leg"), "block", abs(pivot - mouth)),
    ]


def bodice_front(width: float = 240, bust_angle: float = 0.22, waist_intake: float = 30) -> Piece:
    """Half a front: bust dart on the shoulder and waist dart, both to the bust point; 0 leaves a dart out."""
    neck, along = 72 + 400j, cmath.exp(-1j * math.radians(20))
    turn = turning(-bust_angle, BUST_POINT)
    mouth = neck + 50 * along
    tip = turn(neck + 125 * along)
    bodice = [*_waist(waist_intake, width - 15)]
    bodice += edge("side", Line(width - 15 + 0j, width + 205j))
    bodice += edge("armhole", between(width + 205j, -1 + 0j, tip, 1j * turn.of_vector(-along), 1.15))
    shoulder = edge("shoulder", Line(tip, turn(mouth)), Line(mouth, neck))
    bodice += shoulder[:1]
    bodice += legs("bust dart", turn(mouth), BUST_POINT, mouth) if bust_angle else []
    bodice += shoulder[1:]
    bodice += edge("neck", between(neck, -1j * along, 320j, -1 + 0j))
    bodice += edge("centre front", Line(320j, 0j))
    darts = ([Dart("bust dart", short=20)] if bust_angle else []) + (
        [Dart("waist dart", short=20)] if waist_intake else []
    )
    return Piece(
        "front",
        tuple(bodice),
        Grain(40 + 100j),
        cut="fold",
        fold=label("centre front"),
        darts=tuple(darts),
        points=(Landmark("bust point", BUST_POINT),),
        lines=(InnerLine("bust", (Line(170j, width - 2.5 + 170j),)),),
    )


def _waist(intake: float, right: float) -> list[Span]:
    if not intake:
        return edge("waist", Line(0j, right + 0j))
    one, two = complex(90 - intake / 2), complex(90 + intake / 2)
    waist = edge("waist", Line(0j, one), Line(two, complex(right)))
    return [waist[0], *legs("waist dart", one, BUST_POINT, two), waist[1]]


def bodice_back(width: float = 225) -> Piece:
    """Half a back, no shoulder dart, a waist dart; its side and shoulder equal those of `bodice_front`."""
    neck, along = -75 + 412j, -cmath.exp(1j * math.radians(18))
    tip = neck + 125 * along
    dart = legs("waist dart", -115 + 0j, -100 + 190j, -85 + 0j)
    waist = edge("waist", Line(complex(15 - width), -115 + 0j), Line(-85 + 0j, 0j))
    outline = [
        waist[0],
        *dart,
        waist[1],
        *edge("centre back", Line(0j, 390j)),
        *edge("neck", between(390j, -1 + 0j, neck, -1j * along)),
        *edge("shoulder", Line(neck, tip)),
        *edge("armhole", between(tip, 1j * along, -width + 205j, -1 + 0j, 1.1)),
        *edge("side", Line(-width + 205j, complex(15 - width))),
    ]
    return Piece(
        "back", tuple(outline), Grain(-60 + 100j), cut="pair", darts=(Dart("waist dart"),), face="back"
    )


def bodice(width: float = 240, bust_angle: float = 0.22, waist_intake: float = 30) -> Draft:
    return Draft((bodice_front(width, bust_angle, waist_intake), bodice_back(width - 15)), _seams())


def _seams() -> tuple[Seam, ...]:
    def both(name: Role) -> Seam:
        return Seam(name, Side("front", (label(name),)), Side("back", (label(name),)))

    centre = Side("back", (label("centre back"),))
    return both("side"), both("shoulder"), Seam("centre back", centre, centre)


def _side_curves(width: float, x_hem: float) -> tuple[Curve, ...]:
    """From hem up to the underarm at y = 205: hem at -650, hip at -200, waist at 0."""
    hem, hip, waist = complex(x_hem, -650), complex(width + 10, -200), complex(width - 25, 0)
    return (
        Line(hem, hip),
        between(hip, hip - hem, waist, 1j, 1.0),
        between(waist, 1j, complex(width, 205), complex(20, 180), 1.0),
    )


def dress(width: float = 240, flare: float = 30) -> Draft:
    """Half a dress with a nipped waist; bust dart on the shoulder, waist darts pointed at both ends."""
    front, back = bodice_front(width), bodice_back(width - 15)
    side = edge("side", *_side_curves(width, width + flare))
    hem = edge("hem", Line(-650j, complex(width + flare, -650)))
    centre = edge("centre front", Line(320j, -650j))
    kept = [s for s in front.outline if s.label.name in ("armhole", "shoulder", "bust dart", "neck")]
    front = _dressed(front, [*hem, *side, *kept, *centre], 90.0, 30.0, side)
    mirror = reflecting(0j, 1j)
    back_side = [
        born(c, label("side"), "block")
        for c in reversed([x.moved(mirror).reversed() for x in _side_curves(width - 15, width - 15 + flare)])
    ]
    lo = 0.0
    for k, span in enumerate(back_side):
        back_side[k] = born(span.curve, span.label, "block", lo)
        lo = back_side[k].hi
    back_hem = edge("hem", Line(complex(15 - width - flare, -650), -650j))
    back_centre = edge("centre back", Line(-650j, 390j))
    kept = [s for s in back.outline if s.label.name in ("neck", "shoulder", "armhole")]
    back = _dressed(back, [*back_hem, *back_centre, *kept, *back_side], -100.0, 30.0, back_side)
    return Draft((front, back), _seams())


def _dressed(bodice: Piece, outline: list[Span], x: float, intake: float, side: list[Span]) -> Piece:
    double = DoubleDart(
        "waist dart",
        upper=complex(x, 140),
        lower=complex(x, -130),
        left=complex(x - intake / 2, 0),
        right=complex(x + intake / 2, 0),
    )
    # Fronts run up the side: the hip comes first; backs run down it.
    hip, waist = (side[0].hi, side[1].hi) if bodice.face == "front" else (side[1].hi, side[0].hi)
    marks = (EdgeMark("waist", side[0].origin, waist), EdgeMark("hip", side[0].origin, hip))
    x_waist = next(s.curve.start.real for s in side if abs(s.curve.start.imag) < 1e-9)
    lines = (*bodice.lines, InnerLine("waist", (Line(0j, complex(x_waist)),)))
    return Piece(
        bodice.name,
        tuple(outline),
        bodice.grain,
        cut=bodice.cut,
        fold=bodice.fold,
        darts=tuple(d for d in bodice.darts if d.name == "bust dart"),
        double_darts=(double,),
        marks=marks,
        points=bodice.points,
        lines=lines,
        face=bodice.face,
    )


def whole_bodice() -> Draft:
    """The bodice unfolded: a whole front, a left and a right back."""
    return unfolded(bodice(), ("back",), "unfold")


def whole_dress() -> Draft:
    """The dress unfolded: a whole front, a left and a right back."""
    return unfolded(dress(), ("back",), "unfold")


def skirt() -> Draft:
    """Half a straight skirt, one waist dart in each piece, no centre seam in front."""
    pieces = tuple(_skirt_piece(name, sign) for name, sign in (("skirt front", 1), ("skirt back", -1)))
    side = label("side")
    centre = Side("skirt back", (label("centre back"),))
    seams = (
        Seam("side", Side("skirt front", (side,)), Side("skirt back", (side,))),
        Seam("centre back", centre, centre),
    )
    return Draft(pieces, seams)


def _skirt_piece(name: str, sign: int) -> Piece:
    front = sign > 0
    centre: Role = "centre front" if front else "centre back"
    waist, hip, hem = 195 + 8j, 245 - 200j, 245 - 600j
    rounded = between(hip, 1j, waist, complex(-60, 150))
    corners: list[tuple[Role, tuple[Curve, ...]]] = [
        ("hem", (Line(-600j, hem),)),
        ("side", (Line(hem, hip), rounded)),
    ]
    m = reflecting(0j, 1j)
    spans = [s for role, curves in corners for s in edge(role, *curves)]
    top = edge("waist", Line(waist, 110 + 4j), Line(85 + 4j, 0j))
    spans += [top[0], *legs("waist dart", 110 + 4j, 97.5 - 100j, 85 + 4j), top[1]]
    spans += edge(centre, Line(0j, -600j))
    if not front:
        spans = [s.moved(m).reversed() for s in reversed(spans)]
    origin = next(s.origin for s in spans if s.label.name == "side")
    return Piece(
        name,
        tuple(spans),
        Grain(complex(sign * 60, -300)),
        cut="fold" if front else "pair",
        fold=label("centre front") if front else None,
        darts=(Dart("waist dart"),),
        marks=(EdgeMark("hip", origin, 400.0),),
        face="front" if front else "back",
    )


def nipped(bend: float, lengths: tuple[float, float] = (300.0, 200.0), lean: float = 0.1) -> Draft:
    """A front and a back whose side seam bends by so many radians at the waist, two straight legs."""
    waist = 200 + 0j
    low = waist - lengths[0] * 1j * cmath.exp(1j * (bend / 2 + lean))
    high = waist + lengths[1] * 1j * cmath.exp(-1j * (bend / 2 - lean))
    side = edge("side", Line(low, waist), Line(waist, high))
    top, foot = complex(0, high.imag), complex(0, low.imag)
    front = [*edge("hem", Line(foot, low)), *side, *edge("neck", Line(high, top))]
    front += edge("centre front", Line(top, foot))
    back = [s.moved(reflecting(0j, 1j)).reversed() for s in reversed(front)]
    back = [
        replace(s, label=Label("centre back", "centre back")) if s.label.role == "centre front" else s
        for s in back
    ]
    mark = EdgeMark("waist", side[0].origin, lengths[0])
    fold = Label("centre front", "centre front")
    pieces = (
        Piece("front", tuple(front), Grain(50 + 0j), cut="fold", fold=fold, marks=(mark,)),
        Piece("back", tuple(back), Grain(-50 + 0j), cut="pair", marks=(mark,), face="back"),
    )
    centre = Side("back", (Label("centre back", "centre back"),))
    return Draft(
        pieces,
        (
            Seam("side", Side("front", (label("side"),)), Side("back", (label("side"),))),
            Seam("centre back", centre, centre),
        ),
    )
