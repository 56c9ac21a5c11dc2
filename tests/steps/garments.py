"""Small drafts by hand for the tests of steps: lengths in mm, fronts at x >= 0, backs at x <= 0.

`half_bodice()` and `half_dress()` are the wearer's left halves, `dress()` the whole garment, `skirt()` a
straight skirt of four quarters with its side seams. Partner seams are equal with darts folded.
"""

from __future__ import annotations

import cmath

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Grain, InnerLine, Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import EdgeMark, Label, Landmark, Role, Span, born
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import polyline
from cutonce.reshape.unfold import unfolded

BUST_POINT = 92 + 165j
STEP = "block"


def outline(edges: list[tuple[str, Role, list[Curve]]]) -> tuple[Span, ...]:
    """Spans end to end; an edge named twice (a dart between) goes on with its material."""
    out: list[Span] = []
    reached: dict[str, float] = {}
    for name, role, curves in edges:
        for curve in curves:
            span = born(curve, Label(name, role), STEP, reached.get(name, 0.0))
            reached[name] = span.hi
            out.append(span)
    return tuple(out)


def legs(a: Point, pivot: Point, b: Point) -> list[Curve]:
    return [Line(a, pivot), Line(pivot, b)]


def mark(name: str, spans: tuple[Span, ...], edge: str, at: float) -> EdgeMark:
    return EdgeMark(name, next(s.origin for s in spans if s.label.name == edge), at)


def _scye(a: Point, d: Point, out: float) -> list[Curve]:
    """An armhole from the underarm a up to the shoulder tip d, square to a level side top, upright above."""
    return [Cubic(a, a - out * 60, d - 70j - out * 12, d)]


def half_bodice() -> Draft:
    """Front with a bust dart on the side and a waist dart, both to the bust point; back with a waist dart."""
    b = BUST_POINT
    upper, lower = 238 + 140j, 238 + 108j
    lower = b + (lower - b) * abs(upper - b) / abs(lower - b)  # legs alike
    one, two = b + 170 * cmath.exp(-1.66j), b + 170 * cmath.exp(-1.48j)
    foot, neck, tip = 232 + 2j, 70 + 420j, 180 + 385j
    spans = outline(
        [
            ("waist", "waist", [Line(0j, one)]),
            ("waist dart", "dart leg", legs(one, b, two)),
            ("waist", "waist", [Line(two, foot)]),
            ("side", "side", [Line(foot, lower)]),
            ("bust dart", "dart leg", legs(lower, b, upper)),
            ("side", "side", [Line(upper, 240 + 195j)]),
            ("armhole", "armhole", _scye(240 + 195j, tip, 1)),
            ("shoulder", "shoulder", [Line(tip, neck)]),
            ("neck", "neck", [Cubic(neck, neck - 12 - 38j, 45 + 345j, 345j)]),
            ("centre front", "centre front", [Line(345j, 0j)]),
        ]
    )
    side = abs(foot - lower) + abs(240 + 195j - upper)
    front = Piece(
        "front",
        spans,
        Grain(40 + 150j),
        cut="fold",
        fold=Label("centre front", "centre front"),
        darts=(Dart("bust dart", short=20), Dart("waist dart", short=20)),
        marks=(mark("waist", spans, "side", 0), mark("centre front", spans, "neck", _size(spans, "neck"))),
        points=(Landmark("bust point", b),),
        lines=(InnerLine("bust", (Line(165j, 238 + 165j),)),),
    )
    neck, tip, under = -74 + 425j, -182 + 395j, -228 + 2j + side * 1j
    one, two, b = -105 + 0j, -80 + 0j, -92.5 + 150j
    spans = outline(
        [
            ("waist", "waist", [Line(-228 + 2j, one)]),
            ("waist dart", "dart leg", legs(one, b, two)),
            ("waist", "waist", [Line(two, 0j)]),
            ("centre back", "centre back", [Line(0j, 405j)]),
            ("neck", "neck", [Cubic(405j, -35 + 405j, neck + 8 - 12j, neck)]),
            ("shoulder", "shoulder", [Line(neck, neck + (tip - neck) / abs(tip - neck) * _size_of(front))]),
            (
                "armhole",
                "armhole",
                _scye_down(neck + (tip - neck) / abs(tip - neck) * _size_of(front), under),
            ),
            ("side", "side", [Line(under, -228 + 2j)]),
        ]
    )
    back = Piece(
        "back",
        spans,
        Grain(-40 + 150j),
        cut="pair",
        darts=(Dart("waist dart", short=20),),
        marks=(mark("waist", spans, "side", side), mark("centre back", spans, "neck", 0.0)),
        face="back",
    )
    return Draft((front, back), (*_seams("side", "shoulder"), _centre_back()))


def _size(spans: tuple[Span, ...], edge: str) -> float:
    return sum(s.length for s in spans if s.label.name == edge)


def _size_of(front: Piece) -> float:
    return _size(front.outline, "shoulder")


def _scye_down(tip: Point, under: Point) -> list[Curve]:
    return [Cubic(tip, tip - 70j + 12, under + 60, under)]


def _seams(*edges: str) -> tuple[Seam, ...]:
    def seam(name: str) -> Seam:
        label = Label(name, name)  # type: ignore[arg-type]
        return Seam(name, Side("front", (label,)), Side("back", (label,)))

    return tuple(seam(name) for name in edges)


def _centre_back() -> Seam:
    side = Side("back", (Label("centre back", "centre back"),))
    return Seam("centre back", side, side)


def half_dress() -> Draft:
    """A dress to the knee: straight below the hip; a bust dart on the front's side, waist darts pointed at
    both ends; landmark lines at waist (y 0) and hip (y -200), hem at y -600."""
    b, hip, foot = BUST_POINT, 245 - 200j, 245 - 600j
    upper, lower = 238 + 140j, 238 + 108j
    lower = b + (lower - b) * abs(upper - b) / abs(lower - b)
    nip, neck, tip, under = 225 + 0j, 70 + 420j, 180 + 385j, 240 + 195j
    below = [Line(foot, hip), Cubic(hip, hip + 80j, nip - 70j, nip)]
    spans = outline(
        [
            ("hem", "hem", [Line(-600j, foot)]),
            ("side", "side", [*below, Line(nip, lower)]),
            ("bust dart", "dart leg", legs(lower, b, upper)),
            ("side", "side", [Line(upper, under)]),
            ("armhole", "armhole", _scye(under, tip, 1)),
            ("shoulder", "shoulder", [Line(tip, neck)]),
            ("neck", "neck", [Cubic(neck, neck - 12 - 38j, 45 + 345j, 345j)]),
            ("centre front", "centre front", [Line(345j, -600j)]),
        ]
    )
    lengths = [s.length for s in spans if s.label.name == "side"]
    front = Piece(
        "front",
        spans,
        Grain(40 + 0j),
        cut="fold",
        fold=Label("centre front", "centre front"),
        darts=(Dart("bust dart", short=20),),
        double_darts=(DoubleDart("waist dart", b - 30j, 92 - 110j, 82 + 0j, 102 + 0j),),
        marks=(
            mark("hip", spans, "side", lengths[0]),
            mark("waist", spans, "side", lengths[0] + lengths[1]),
            mark("centre front", spans, "hem", 0.0),
            mark("centre front", spans, "neck", _size(spans, "neck")),
        ),
        points=(Landmark("bust point", b),),
        lines=(
            InnerLine("waist", (Line(0j, nip),)),
            InnerLine("hip", (Line(-200j, hip),)),
        ),
    )
    return Draft((front, _dress_back(front, lengths)), (*_seams("side", "shoulder"), _centre_back()))


def _dress_back(front: Piece, lengths: list[float]) -> Piece:
    neck, tip = -74 + 425j, -182 + 395j
    tip = neck + (tip - neck) / abs(tip - neck) * _size_of(front)
    nip, hip, foot = -225 + 0j, -245 - 200j, -245 - 600j
    under = nip + (sum(lengths) - lengths[0] - lengths[1]) * cmath.exp(1.66j)
    spans = outline(
        [
            ("hem", "hem", [Line(foot, -600j)]),
            ("centre back", "centre back", [Line(-600j, 405j)]),
            ("neck", "neck", [Cubic(405j, -35 + 405j, neck + 8 - 12j, neck)]),
            ("shoulder", "shoulder", [Line(neck, tip)]),
            ("armhole", "armhole", _scye_down(tip, under)),
            ("side", "side", [Line(under, nip), Cubic(nip, nip - 70j, hip + 80j, hip), Line(hip, foot)]),
        ]
    )
    upper = abs(under - nip)
    return Piece(
        "back",
        spans,
        Grain(-40 + 0j),
        cut="pair",
        double_darts=(DoubleDart("waist dart", -92 + 140j, -92 - 130j, -104 + 0j, -80 + 0j),),
        marks=(
            mark("waist", spans, "side", upper),
            mark("hip", spans, "side", upper + lengths[1]),
            mark("centre back", spans, "hem", _size(spans, "hem")),
            mark("centre back", spans, "neck", 0.0),
        ),
        lines=(
            InnerLine("waist", (Line(nip, 0j),)),
            InnerLine("hip", (Line(hip, -200j),)),
        ),
        face="back",
    )


def dress() -> Draft:
    """The dress unfolded: a whole front, a left and a right back with a centre back seam."""
    return unfolded(half_dress(), ("back",), "unfold")


def skirt() -> Draft:
    """A straight skirt, quarters of 250 mm at the hip, 600 long: "skirt front" on the fold, "skirt back"."""

    def piece(name: str, out: float, face: str) -> Piece:
        front = out > 0
        hip, foot, waist, top = out * 250 - 200j, out * 250 - 600j, out * 225 + 10j, 0j
        centre: Role = "centre front" if front else "centre back"
        one, two = 100 + 2j, 125 + 3j
        low = (one + two) / 2 - 112j * (two - one) / abs(two - one)  # legs alike
        if front:
            edges: list[tuple[str, Role, list[Curve]]] = [
                ("hem", "hem", [Line(-600j, foot)]),
                ("side", "side", [Line(foot, hip), Cubic(hip, hip + 90j, waist - 60j, waist)]),
                ("waist", "waist", [Line(waist, two)]),
                ("waist dart", "dart leg", legs(two, low, one)),
                ("waist", "waist", [Line(one, top)]),
                (centre, centre, [Line(top, -600j)]),
            ]
        else:
            one, two, low = -one.conjugate(), -two.conjugate(), -low.conjugate()
            edges = [
                ("hem", "hem", [Line(foot, -600j)]),
                (centre, centre, [Line(-600j, top)]),
                ("waist", "waist", [Line(top, one)]),
                ("waist dart", "dart leg", legs(one, low, two)),
                ("waist", "waist", [Line(two, waist)]),
                ("side", "side", [Cubic(waist, waist - 60j, hip + 90j, hip), Line(hip, foot)]),
            ]
        spans = outline(edges)
        upper = next(s.length for s in spans if isinstance(s.curve, Cubic))
        return Piece(
            name,
            spans,
            Grain(out * 60 - 300j),
            cut="fold",
            fold=Label(centre, centre),
            darts=(Dart("waist dart"),),
            marks=(
                mark("hip", spans, "side", 400.0 if front else upper),
                mark(centre, spans, "hem", 0.0 if front else 250.0),
            ),
            lines=(InnerLine("hip", (Line(-200j, hip),)),),
            face="front" if face == "front" else "back",
        )

    label = Label("side", "side")
    seam = Seam("side", Side("skirt front", (label,)), Side("skirt back", (label,)))
    return Draft((piece("skirt front", 1.0, "front"), piece("skirt back", -1.0, "back")), (seam,))


def strip(width: float = 300.0, height: float = 400.0) -> Piece:
    """A rectangle with edges bottom (hem), right (side), top (waist), left (centre front): for plain sums."""
    a, b, c, d = polyline([0j, width + 0j, width + height * 1j, height * 1j, 0j])
    return Piece(
        "strip",
        outline(
            [
                ("hem", "hem", [a]),
                ("side", "side", [b]),
                ("waist", "waist", [c]),
                ("centre front", "centre front", [d]),
            ]
        ),
        Grain(complex(width / 2, height / 2)),
    )
