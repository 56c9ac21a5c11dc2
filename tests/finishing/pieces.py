"""Pieces by hand for the tests of finishing, in mm: from corner points, flared skirts, random panels."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

from hypothesis import strategies as st

from cutonce.blocks import draft_block
from cutonce.body import body_of
from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Grain, Piece
from cutonce.draft.seam import Finish, Seam, Side
from cutonce.draft.span import Label, Role, Span, born
from cutonce.finishing.allowance import Finishes, runs, stretches
from cutonce.finishing.cutting import Cutting, cutting_line
from cutonce.finishing.defaults import Defaults
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, flattened

DEFAULTS = Defaults()


def label(name: str, role: Role | None = None) -> Label:
    return Label(name, role or name)  # type: ignore[arg-type]


def piece_of(edges: Sequence[tuple[Label, Sequence[Curve]]], name: str = "panel", **more: object) -> Piece:
    """A piece from edges in counter-clockwise order; an edge named twice goes on with its material."""
    spans: list[Span] = []
    reached: dict[Label, float] = {}
    for edge, curves in edges:
        for curve in curves:
            spans.append(born(curve, edge, "block", reached.get(edge, 0.0)))
            reached[edge] = spans[-1].hi
    middle = sum(s.curve.start for s in spans) / len(spans)
    return Piece(name, tuple(spans), Grain(middle), **more)  # type: ignore[arg-type]


def polygon_piece(corners: Sequence[Point], names: Sequence[Label], name: str = "panel") -> Piece:
    """Straight edges between corners: edge i runs from corner i to the next."""
    following = [*corners[1:], corners[0]]
    return piece_of([(e, [Line(a, b)]) for e, a, b in zip(names, corners, following, strict=True)], name)


def rectangle(width: float, height: float) -> Piece:
    """Hem below, side at the right, neck above, waist at the left."""
    corners = (0j, width + 0j, complex(width, height), complex(0, height))
    return polygon_piece(corners, [label("hem"), label("side"), label("neck"), label("waist")])


def draft_of(piece: Piece, finishes: dict[str, Finish], sewn: Sequence[str] = ()) -> Draft:
    """One piece with finishes by edge name; edges named in `sewn` count as sewn to a partner."""
    by_name = {e.name: e for e in piece.labels}
    seams = tuple(
        Seam(name, Side(piece.key, (by_name[name],)), Side(piece.key, (by_name[name],))) for name in sewn
    )
    refs: list[tuple[EdgeRef, Finish]] = [((piece.key, by_name[k]), f) for k, f in finishes.items()]
    return Draft((piece,), seams=seams, finishes=tuple(refs))


def block(kind: str, **uneven: tuple[float, float]) -> Draft:
    """A block of the package for a sample body; `uneven` measures are (left, right) in mm."""
    measures: dict[str, float | tuple[float, float]] = {
        "height": 1680.0,
        "bust_girth": 880.0,
        "waist_girth": 700.0,
        "hip_girth": 960.0,
        "back_waist_length": 400.0,
        "waist_to_hip": 200.0,
        "waist_to_knee": 600.0,
        **uneven,
    }
    return draft_block(kind, "", body_of("Ida", measures))


def cut_of(draft: Draft, key: str | None = None, defaults: Defaults = DEFAULTS) -> Cutting:
    piece = draft.piece(key) if key else draft.pieces[0]
    openings = stretches(draft, piece, defaults)
    return cutting_line(piece, runs(piece, Finishes(draft, defaults), openings, defaults))


def arc(centre: Point, a: Point, angle: float) -> list[Curve]:
    """A circle's arc from a about a centre, in cubics of at most 20 degrees (true to 1e-7 of the radius)."""
    n = max(1, math.ceil(abs(angle) / math.radians(20)))
    w = cmath.exp(1j * angle / n)
    k = 4 / 3 * math.tan(angle / n / 4)
    out: list[Curve] = []
    for _ in range(n):
        d = centre + (a - centre) * w
        out.append(Cubic(a, a + 1j * k * (a - centre), d - 1j * k * (d - centre), d))
        a = d
    return out


def flared(angle: float, radius: float, length: float = 400.0) -> Piece:
    """A skirt panel that is a sector of a ring: hem and waist are arcs, the sides stand square to them.

    Upright about x = 0; edges in order hem, side right, waist, side left.
    """
    turn = cmath.exp(-0.5j * angle)
    hem = arc(0j, -1j * (radius + length) * turn, angle)
    waist = arc(0j, -1j * radius / turn, -angle)
    return piece_of(
        [
            (label("hem"), hem),
            (label("right", "side"), [Line(hem[-1].end, waist[0].start)]),
            (label("waist"), waist),
            (label("left", "side"), [Line(waist[-1].end, hem[0].start)]),
        ]
    )


def slanted(slope: float, bow: float = 0.0, width: float = 300.0, height: float = 400.0) -> Piece:
    """A panel whose right side leaves the hem at an angle of `slope` radians inside the piece; the hem is
    level at the right end and bows down by about `bow` mm towards the left."""
    a, b = complex(0, -bow), complex(width, 0)
    top = b + height / math.sin(slope) * cmath.exp(1j * (math.pi - slope))
    hem: Curve = Line(a, b) if not bow else Cubic(a, a + width / 3, b - width / 3, b)
    return piece_of(
        [
            (label("hem"), [hem]),
            (label("right", "side"), [Line(b, top)]),
            (label("waist"), [Line(top, complex(0, height))]),
            (label("left", "side"), [Line(complex(0, height), a)]),
        ]
    )


ROLES: tuple[Label, ...] = (
    label("hem"),
    label("side"),
    label("armhole"),
    label("shoulder"),
    label("neck"),
    label("centre front"),
)


@st.composite
def panels(draw: st.DrawFn) -> tuple[Piece, dict[str, float]]:
    """A random panel of four to six edges, straight or bowed, corners from 50 to 150 degrees, with an
    allowance for each edge, 0 to 25 mm."""
    n = draw(st.integers(4, 6))
    reach = [draw(st.floats(0.85, 1.15)) for _ in range(n)]
    shift = [draw(st.floats(-0.12, 0.12)) for _ in range(n)]
    size = draw(st.floats(120, 400))
    corners = [
        size * r * cmath.exp(2j * math.pi * (i + s) / n)
        for i, (r, s) in enumerate(zip(reach, shift, strict=True))
    ]
    edges: list[tuple[Label, list[Curve]]] = []
    widths: dict[str, float] = {}
    for i, edge in enumerate(ROLES[:n]):
        a, b = corners[i], corners[(i + 1) % n]
        bow = draw(st.sampled_from([0.0, 0.0, 0.08, -0.08, 0.15, -0.15])) * (b - a) * -1j
        line: Curve = Cubic(a, a + (b - a) / 3 + bow, b - (b - a) / 3 + bow, b) if bow else Line(a, b)
        edges.append((edge, [line]))
        widths[edge.name] = draw(st.sampled_from([0.0, 6.0, 10.0, 15.0, 25.0]))
    return piece_of(edges), widths


def ring(line: Path, tolerance: float = 0.002) -> list[tuple[float, float]]:
    """A closed path as coordinates for Shapely."""
    return [(p.real, p.imag) for p in flattened(line, tolerance)]
