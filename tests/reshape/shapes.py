"""Random pieces and slashes for the laws of the kernel: five to eight curved edges round a middle, in mm."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

from hypothesis import strategies as st

from cutonce.draft.piece import Dart, Grain, Piece
from cutonce.draft.span import Label, Role, Span, born
from cutonce.geometry.curve import Cubic, Line
from cutonce.reshape.places import Chain, Spot
from cutonce.reshape.spread import Slash

ROLES: tuple[Role, ...] = (
    "hem",
    "side",
    "armhole",
    "shoulder",
    "neck",
    "centre front",
    "waist",
    "style line",
)


@st.composite
def pieces(draw: st.DrawFn, dart: bool = False) -> Piece:
    """A piece whose edges bulge or hollow a little; with a dart on its first edge where asked."""
    n = draw(st.integers(5, 8))
    turn = 2 * math.pi / n
    corners = [
        draw(st.floats(260, 400)) * cmath.exp(1j * turn * (i + draw(st.floats(-0.2, 0.2)))) for i in range(n)
    ]
    spans: list[Span] = []
    darts: tuple[Dart, ...] = ()
    for i in range(n):
        p, q = corners[i], corners[(i + 1) % n]
        u, v = (draw(st.floats(-0.1, 0.15)) for _ in range(2))
        along = q - p
        curve = Cubic(p, p + along / 3 - 1j * along * u, q - along / 3 - 1j * along * v, q)
        label = Label(ROLES[i], ROLES[i])
        if dart and i == 0:
            spans += _with_dart(p, q, label, draw(st.floats(0.1, 0.5)), draw(st.floats(0.35, 0.65)))
            darts = (Dart("dart"),)
        else:
            spans.append(born(curve, label, "block"))
    return Piece("piece", tuple(spans), Grain(1 + 2j), darts=darts)


def _with_dart(p: complex, q: complex, label: Label, angle: float, share: float) -> list[Span]:
    """A straight edge with a dart of `angle` radians whose pivot lies 120 mm inside."""
    mouth, inward = p + share * (q - p), 1j * (q - p) / abs(q - p)
    pivot = mouth + 120 * inward
    half = 120 * math.tan(angle / 2) * (q - p) / abs(q - p)
    one, two = mouth - half, mouth + half
    first = born(Line(p, one), label, "block")
    legs = [
        born(Line(one, pivot), Label("dart", "dart leg"), "block"),
        born(Line(pivot, two), Label("dart", "dart leg"), "block", abs(one - pivot)),
    ]
    return [first, *legs, born(Line(two, q), label, "block", first.hi)]


def spot(piece: Piece, edge: int, share: float) -> Spot:
    """The place at a share of the way along the edge of this number."""
    chain = Chain(piece, piece.edge(piece.labels[edge]))
    return chain.spot(chain.length * share)


Ends = tuple[int, float, int, float]


@st.composite
def ends(draw: st.DrawFn, n: int, first: int = 0) -> Ends:
    """Two places on two different edges of n: edge, share, edge, share."""
    a = draw(st.integers(first, n - 1))
    b = draw(st.integers(first, n - 1).filter(lambda k: k != a))
    return a, draw(st.floats(0.05, 0.95)), b, draw(st.floats(0.05, 0.95))


def interleave(one: Ends, two: Ends) -> bool:
    """Do the ends of two chords of a round thing lie in turn? Then the chords cross."""
    a, b = sorted((one[0] + one[1], one[2] + one[3]))
    c, d = sorted((two[0] + two[1], two[2] + two[3]))
    return a < c < b < d or c < a < d < b


def apart(one: Ends, two: Ends) -> bool:
    """Does no end of one chord lie within a millimetre or so of an end of the other?"""
    mine, theirs = ((e[0] + e[1], e[2] + e[3]) for e in (one, two))
    return all(abs(a - b) >= 0.005 for a in mine for b in theirs)


def same_line(one: Ends, two: Ends) -> bool:
    """Do two chords lie within a millimetre or so of each other at both ends?"""
    a, b = sorted((one[0] + one[1], one[2] + one[3]))
    c, d = sorted((two[0] + two[1], two[2] + two[3]))
    return abs(a - c) < 0.005 and abs(b - d) < 0.005


@st.composite
def slashed(draw: st.DrawFn) -> tuple[Piece, tuple[Slash, ...]]:
    """A piece and up to six slashes that do not cross, of every kind."""
    piece = draw(pieces())
    n = len(piece.labels)
    kept: list[Ends] = []
    for _ in range(draw(st.integers(1, 6))):
        new = draw(ends(n))
        if not any(interleave(new, old) or same_line(new, old) for old in kept):
            kept.append(new)
    out = []
    for k, (a, s, b, t) in enumerate(kept, start=1):
        kind = draw(st.sampled_from(("hinged", "equal", "unequal")))
        wide = draw(st.floats(0.5, 35))
        far = {"hinged": 0.0, "equal": wide, "unequal": draw(st.floats(0.5, 35))}[kind]
        out.append(Slash(f"slash {k}", spot(piece, a, s), spot(piece, b, t), wide, far))
    return piece, tuple(out)


def strip(width: float = 300.0, height: float = 400.0) -> Piece:
    """A rectangle: hem below, side at the right, waist above, centre front at the left; for plain sums."""
    corners = [0j, complex(width), complex(width, height), complex(0, height), 0j]
    names: tuple[Role, ...] = ("hem", "side", "waist", "centre front")
    spans = [
        born(Line(a, b), Label(name, name), "block")
        for name, (a, b) in zip(names, pairwise(corners), strict=True)
    ]
    return Piece("strip", tuple(spans), Grain(complex(width / 2, height / 2)))
