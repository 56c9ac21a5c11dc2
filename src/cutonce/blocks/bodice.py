"""The bodice block: half front and half back from neck to waist, with bust, waist and shoulder darts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_half import Top, back_top, front_top, top_edges, top_marks
from cutonce.blocks.bodice_piece import (
    CENTRE_BACK,
    CENTRE_FRONT,
    SHOULDER,
    SIDE,
    WAIST,
    Drawing,
    Edge,
    Mark,
    dart_edge,
    piece_of,
)
from cutonce.blocks.bodice_side import side_seam
from cutonce.blocks.bodice_waist import (
    DART_NAMES,
    FRONT_SHORT,
    WaistPlan,
    dart_places,
    waist_plan,
)
from cutonce.blocks.bodice_waistline import (
    WaistLine,
    darts_from,
    deep_enough,
    even_side,
    waist_line,
)
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Landmark
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path

BUST_DART_SHORT = {"armhole": 20.0, "shoulder": 25.0}
"""How far before the bust point the bust dart's drawn point lies: 1.3 to 2.5 cm for side darts, 2.5 to 5 cm
for shoulder darts (common practice)."""

EVEN_WITHIN = 3.0
"""The front waist may lie this much higher or lower than measured (lengths are known to 5 mm), so that front
and back waist meet evenly at the side."""

_CLOSE_MM, _EVEN_MM = 1e-7, 1e-4
_ROUNDS = 60


@dataclass(frozen=True, slots=True)
class Lower:
    """A half bodice below the bust line: side seam from the underarm downwards, and the trued waist."""

    side: Path
    waist: WaistLine


@dataclass(frozen=True, slots=True)
class Lowers:
    """Both halves below the bust line, how the waist's shaping is shared, and the height above the waist line
    at which the front's waist begins at the centre."""

    front: Lower
    back: Lower
    plan: WaistPlan
    rise: float


def draw_bodice(frame: Frame, waist: float, rise: float | None = None) -> tuple[Draft, Lowers]:
    """Front and back from a trued frame; `waist` is half the waist girth with ease.

    `rise` fixes the height of the front's waist at the centre, where two unlike halves must meet.
    """
    lowers = _lowers(frame, waist, rise)
    level, down = frame.bust_level, lowers.front.side[0].tangent(0)
    front = _drawing(frame, "front", front_top(frame, down), lowers.front, level)
    back = _drawing(frame, "back", back_top(frame, down), lowers.back, level)
    return Draft(pieces=(piece_of(front), piece_of(back)), seams=bodice_seams()), lowers


def bodice_seams() -> tuple[Seam, ...]:
    """Shoulder, side and centre back; the centre front lies on the fold."""
    back_centre = Side("back", (CENTRE_BACK,))
    return (
        Seam("shoulder", Side("front", (SHOULDER,)), Side("back", (SHOULDER,))),
        Seam("side", Side("front", (SIDE,)), Side("back", (SIDE,))),
        Seam("centre back", back_centre, back_centre),
    )


def _pivots(frame: Frame, plan: WaistPlan) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    level = frame.bust_level
    at_front, at_back = dart_places(frame)
    short = complex(0, level - FRONT_SHORT)
    front = tuple(x + short for x in at_front[: len(plan.front)])
    return front, tuple(complex(x, level) for x in at_back[: len(plan.back)])


def _side(underarm: Point, level: float, taken_in: float, foot: float) -> Path:
    return side_seam(underarm, complex(underarm.real, level), [complex(underarm.real - taken_in, foot)])


def _lowers(frame: Frame, waist: float, rise: float | None) -> Lowers:
    """Side seams of one shape, and waists that together measure `waist`, by repeated correction to 1e-7 mm.

    Below the bust point the front's closed waist lies as deep as measured, within the 3 mm by which front and
    back are let meet evenly at the side; the centre follows.
    """
    plan = waist_plan(frame, waist)
    level = frame.bust_level
    drop = 0.0
    for _ in range(_ROUNDS):
        sides = [_side(under, level, plan.side, drop) for under in frame.underarms]
        ups = [-side[-1].tangent(1) for side in sides]
        ends = [side[-1].end for side in sides]
        pivots = _pivots(frame, plan)
        back = darts_from(0.0, pivots[1], plan.back)
        behind = even_side(0.0, back, ends[1], ups[1])
        centre = rise
        if centre is None:
            centre = deep_enough(pivots[0][0], plan.front[0]) if plan.front else 0.0
            ahead = even_side(centre, darts_from(centre, pivots[0], plan.front), ends[0], ups[0])
            centre += max(-EVEN_WITHIN, min(EVEN_WITHIN, behind - ahead))
        front = darts_from(centre, pivots[0], plan.front)
        wanted = (even_side(centre, front, ends[0], ups[0]) + behind) / 2
        lines = waist_line(centre, front, ends[0], ups[0]), waist_line(0.0, back, ends[1], ups[1])
        off = lines[0].length + lines[1].length - waist
        if abs(off) < _CLOSE_MM and abs(wanted - drop) < _EVEN_MM:
            return Lowers(Lower(sides[0], lines[0]), Lower(sides[1], lines[1]), plan, centre)
        drop = wanted
        plan = plan.taking(off)
    raise CannotApply(
        "no-waist",
        "block",
        f"no waist line of {waist / 5:.1f} cm fits half a bust of {frame.half_width / 10:.1f} cm",
        "check bust_girth and waist_girth",
    )


def _drawing(frame: Frame, face: str, top: Top, lower: Lower, level: float) -> Drawing:
    front = face == "front"
    centre = CENTRE_FRONT if front else CENTRE_BACK
    under = top.underarm
    side = reversed_path(lower.side)
    side_length = sum(c.length for c in side)
    above_bust = under.imag - level
    foot = lower.waist.runs[0].start
    centre_length = abs(top.centre - foot)
    bust = frame.bust.point if front else None
    edges: list[Edge] = [(centre, (Line(top.centre, foot),))]
    edges += waist_edges(lower.waist)
    edges.append((SIDE, side))
    edges += top_edges(top, bust, "bust dart" if front else "shoulder dart")
    marks = (
        Mark("bust", centre, top.centre.imag - level),
        Mark("waist", centre, centre_length, False),
        Mark("bust", SIDE, side_length - above_bust),
        Mark("waist", SIDE, 0.0, False),
        Mark(centre.name, WAIST, 0.0),
        *top_marks(top, centre.name),
    )
    return Drawing(
        face="front" if front else "back",
        edges=tuple(edges),
        levels=(("bust", complex(under.real, level)),),
        marks=marks,
        darts=(
            *upper_darts(frame, top, front),
            *(Dart(n) for n, _ in zip(DART_NAMES, lower.waist.darts, strict=False)),
        ),
        points=(Landmark("bust point", frame.bust.point),) if front else (),
    )


def waist_edges(waist: WaistLine) -> list[Edge]:
    """The waist's runs with its darts' legs between them, from the centre outwards."""
    edges: list[Edge] = []
    for i, run in enumerate(waist.runs):
        edges.append((WAIST, (run,)))
        if i < len(waist.darts):
            dart = waist.darts[i]
            edges.append(dart_edge(DART_NAMES[i], dart.inner, dart.pivot, dart.outer))
    return edges


def upper_darts(frame: Frame, top: Top, front: bool) -> Sequence[Dart]:
    """The bust dart of a front; a back's shoulder dart where it has one."""
    if front:
        return (Dart("bust dart", short=BUST_DART_SHORT[frame.bust.opens_on]),)
    return (Dart("shoulder dart"),) if top.shoulder.dart else ()
