"""The dress block: a bodice drawn on through waist and hip to a hem, shaped by darts pointed at both ends."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.blocks.bodice import bodice_seams, upper_darts
from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_half import Top, back_top, front_top, top_edges, top_marks
from cutonce.blocks.bodice_piece import (
    CENTRE_BACK,
    CENTRE_FRONT,
    HEM,
    SIDE,
    Drawing,
    Edge,
    Mark,
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
from cutonce.draft.draft import Draft
from cutonce.draft.piece import DoubleDart
from cutonce.draft.span import Landmark
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path
from cutonce.reshape.lengthen import DART_BELOW, LEAST_BELOW_HIP_MM, NEXT_TO_SIDE, hem_curve, hem_rise


@dataclass(frozen=True, slots=True)
class Lengths:
    """A dress below the waist, in mm: half girths with ease, depth of the hip line, length from the waist to
    the hem at the centre, and how much each piece's side flares out at the hem."""

    waist: float
    hip: float
    hip_depth: float
    length: float
    flare: float = 0.0


def dress_waist(frame: Frame, to: Lengths) -> WaistPlan:
    """The waist's shares; the side takes in at least as far as the straight line from bust to hip."""
    level = frame.bust_level
    return waist_plan(frame, to.waist, -_out_at_hip(frame, to) * level / (level + to.hip_depth))


def _out_at_hip(frame: Frame, to: Lengths) -> float:
    """How much wider each piece is at the hip than at the bust."""
    return (to.hip - frame.half_width) / 2


def draw_dress(frame: Frame, to: Lengths) -> Draft:
    """Front and back from a trued frame.

    Raises CannotApply (too-short) where the hem lies above 3 cm below the hip line.
    """
    if to.length < to.hip_depth + LEAST_BELOW_HIP_MM:
        raise CannotApply(
            "too-short",
            "block",
            f"a dress {to.length / 10:.1f} cm long from the waist ends less than 3 cm below the hip, "
            f"{to.hip_depth / 10:.1f} cm down",
            f"give at least {(to.hip_depth + LEAST_BELOW_HIP_MM) / 10:.1f} cm and shorten it by a step",
        )
    level, plan = frame.bust_level, dress_waist(frame, to)
    shape = _Side(level, plan.side, _out_at_hip(frame, to), to)
    down = shape.path(frame.underarms[0])[0].tangent(0)
    at_front, at_back = dart_places(frame)
    ahead = _darts(plan.front, at_front, level, to, True)
    behind = _darts(plan.back, at_back, level, to, False)
    pieces = (
        piece_of(_drawing(frame, "front", front_top(frame, down), shape, ahead)),
        piece_of(_drawing(frame, "back", back_top(frame, down), shape, behind)),
    )
    return Draft(pieces=pieces, seams=bodice_seams())


@dataclass(frozen=True, slots=True)
class _Side:
    """The side seam's shape, the same for front and back, as distances from the underarm."""

    level: float
    waist_in: float
    hip_out: float
    to: Lengths

    def path(self, underarm: Point) -> Path:
        """From the underarm to the hem, straight below the hip; a flared one ends `rise` above the centre."""
        x, to = underarm.real, self.to
        waist, hip = complex(x - self.waist_in, 0), complex(x + self.hip_out, -to.hip_depth)
        down = complex(to.flare, -(to.length - to.hip_depth))
        upper = side_seam(underarm, complex(x, self.level), (waist, hip), down)
        foot = hip + (1 - self.rise / (to.length - to.hip_depth)) * down
        return (*upper, Line(hip, foot))

    @property
    def rise(self) -> float:
        """How much higher than the centre the hem ends at a flared side, so that it meets it squarely."""
        long = self.to.length - self.to.hip_depth
        return hem_rise(self.to.hip / 2, self.to.flare / long, long)


def _darts(
    intakes: tuple[float, ...], places: tuple[float, float], level: float, to: Lengths, front: bool
) -> tuple[DoubleDart, ...]:
    """Darts pointed at both ends, upright, widest at the waist."""
    upper = level - (FRONT_SHORT if front else 0.0)
    most, share = DART_BELOW["front" if front else "back"]
    lower = min(most, share * to.hip_depth)
    return tuple(
        DoubleDart(
            name,
            complex(x, upper),
            complex(x, -lower * (NEXT_TO_SIDE if i else 1)),
            complex(x - intake / 2, 0),
            complex(x + intake / 2, 0),
        )
        for i, (name, x, intake) in enumerate(zip(DART_NAMES, places, intakes, strict=False))
    )


def _drawing(frame: Frame, face: str, top: Top, shape: _Side, darts: tuple[DoubleDart, ...]) -> Drawing:
    front = face == "front"
    centre = CENTRE_FRONT if front else CENTRE_BACK
    to, under = shape.to, top.underarm
    down = shape.path(under)
    side = reversed_path(down)
    foot = complex(0, -to.length)
    edges: list[Edge] = [
        (centre, (Line(top.centre, foot),)),
        (HEM, (hem_curve(foot, down[-1].end, 1j * down[-1].tangent(1)),)),
        (SIDE, side),
        *top_edges(top, frame.bust.point if front else None, "bust dart" if front else "shoulder dart"),
    ]
    lengths = [c.length for c in side]
    top_y = top.centre.imag
    waist_at = sum(lengths[:2])
    hip_x = under.real + shape.hip_out
    marks = (
        Mark("bust", centre, top_y - shape.level),
        Mark("waist", centre, top_y),
        Mark("hip", centre, top_y + to.hip_depth),
        Mark("hip", SIDE, lengths[0]),
        Mark("waist", SIDE, waist_at),
        Mark("bust", SIDE, sum(lengths) - (under.imag - shape.level)),
        Mark(centre.name, HEM, 0.0),
        *top_marks(top, centre.name),
    )
    return Drawing(
        face="front" if front else "back",
        edges=tuple(edges),
        levels=(
            ("bust", complex(under.real, shape.level)),
            ("waist", complex(under.real - shape.waist_in, 0)),
            ("hip", complex(hip_x, -to.hip_depth)),
        ),
        marks=marks,
        darts=tuple(upper_darts(frame, top, front)),
        double_darts=darts,
        points=(Landmark("bust point", frame.bust.point),) if front else (),
    )
