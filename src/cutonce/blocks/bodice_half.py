"""What bodice and dress have in common: everything above the bust line of a half front and a half back."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.blocks.armhole import Armhole, back_armhole, front_armhole
from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_neck import NeckEnds, back_neckline, front_neckline
from cutonce.blocks.bodice_piece import ARMHOLE, NECK, SHOULDER, Edge, Mark, dart_edge
from cutonce.blocks.bodice_shoulder import ShoulderLine, back_shoulder, front_shoulder
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.motion import Point


@dataclass(frozen=True, slots=True)
class Top:
    """The upper edges of a half, from the side's top to the centre's top, as drawn with the side at +x."""

    armhole: Armhole
    shoulder: ShoulderLine
    neck: Cubic

    @property
    def centre(self) -> Point:
        return self.neck.end

    @property
    def underarm(self) -> Point:
        return self.armhole.lower.end


def front_top(frame: Frame, side_down: complex) -> Top:
    """The front's upper edges; `side_down` is the direction in which the side seam leaves the underarm."""
    shoulder = front_shoulder(frame)
    centre = complex(0, frame.front_neck - frame.neck.front_depth)
    neck = front_neckline(NeckEnds(shoulder.neck, centre, shoulder.inner_slope))
    return Top(front_armhole(frame, shoulder, side_down), shoulder, neck)


def back_top(frame: Frame, side_down: complex) -> Top:
    """The back's, likewise."""
    shoulder = back_shoulder(frame)
    neck = back_neckline(NeckEnds(shoulder.neck, complex(0, frame.nape), shoulder.inner_slope))
    return Top(back_armhole(frame, shoulder, side_down), shoulder, neck.reversed())


def top_edges(top: Top, bust: Point | None, shoulder_dart: str) -> tuple[Edge, ...]:
    """Armhole, shoulder and neck, with the legs of the bust dart to `bust` where it opens on the armhole, and
    the dart named `shoulder_dart` where one opens on the shoulder."""
    armhole, line = top.armhole, top.shoulder
    edges: list[Edge] = [(ARMHOLE, (armhole.lower.reversed(),))]
    if bust is not None and line.dart is None:
        edges.append(dart_edge("bust dart", armhole.lower.start, bust, armhole.upper.end))
    edges.append((ARMHOLE, (armhole.upper.reversed(),)))
    if line.dart is None:
        edges.append((SHOULDER, (Line(line.tip, line.neck),)))
    else:
        inner, pivot, outer = line.dart
        edges.append((SHOULDER, (Line(line.tip, outer),)))
        edges.append(dart_edge(shoulder_dart, outer, pivot, inner))
        edges.append((SHOULDER, (Line(inner, line.neck),)))
    edges.append((NECK, (top.neck,)))
    return tuple(edges)


def top_marks(top: Top, centre: str) -> tuple[Mark, ...]:
    """The centre on the neck, and the notch where the armhole stands upright."""
    return (
        Mark(centre, NECK, top.neck.length),
        Mark("armhole notch", ARMHOLE, top.armhole.lower.length),
    )
