"""A new edge that darts open on, drawn as it lies with those darts folded: smooth across each of them."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import InnerLine, Piece
from cutonce.draft.span import Label, Span
from cutonce.geometry import path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings, nearest
from cutonce.geometry.motion import shifting
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.blend import blended
from cutonce.reshape.divide import lines_within
from cutonce.reshape.folded_edge import FoldedEdge, folded_edge, reopened
from cutonce.reshape.soundness import refuse_crossing

_CORNER = 0.01
"""Turns below this many radians (half a degree) are no corner."""

_LIES_ON_MM = 0.01
"""A guide that the edge was cut along lies on it."""

_INWARD_MM = 0.05
"""A line along the edge is kept this far inside, so that its length counts as cloth: half a pen line."""


@dataclass(frozen=True, slots=True)
class SmoothWhenFolded:
    """The piece after; the largest corner there was at a folded dart, in radians (0: nothing was done); and
    the most by which the edge moved, in mm, seen folded."""

    piece: Piece
    corner: float
    moved_mm: float


def smooth_when_folded(piece: Piece, labels: Sequence[Label], reach: float, step: str) -> SmoothWhenFolded:
    """An edge, or a chain of edges, without corners at the darts that open on it, seen with them folded.

    Each corner is smoothed over `reach` mm. The edge keeps its ends, its directions there, its length and the
    length of each stretch between darts, so that a partner still fits; darts keep their angle, and their
    mouths go with the edge. Corners away from darts are meant and stay, and so does the place where the edge
    crosses the centre. Raises CannotApply where no smooth
    edge can be had or it would cross another.
    """
    edge = folded_edge(piece, [s for label in labels for s in piece.edge(label)])
    worst = max((abs(turn) for turn, dart in _turns(edge) if dart), default=0.0)
    if worst <= _CORNER:
        return SmoothWhenFolded(piece, 0.0, 0.0)
    new: list[Span] = []
    moved = 0.0
    for run, has_dart in _parted(edge):
        if has_dart:
            done = blended(run, reach, step)
            new += done.spans
            moved = max(moved, done.deviation_mm)
        else:
            new += run
    after = reopened(piece, edge, new)
    after = replace(after, lines=_lines_with_edge(piece, after, labels))
    refuse_crossing(after, f"the {labels[0].key}, smooth when folded, would cross another edge")
    return SmoothWhenFolded(after, worst, moved)


def _turns(edge: FoldedEdge) -> list[tuple[float, bool]]:
    """The turn in radians from each span to the next, seen folded, and whether a dart opens between them."""
    out: list[tuple[float, bool]] = []
    for k in range(len(edge.spans) - 1):
        turn = cmath.phase(edge.spans[k + 1].curve.tangent(0) / edge.spans[k].curve.tangent(1))
        out.append((turn, edge.frames[k] != edge.frames[k + 1]))
    return out


def _parted(edge: FoldedEdge) -> list[tuple[Sequence[Span], bool]]:
    """The edge parted at its labels' ends and at corners, where no dart opens there; and whether a dart opens
    within each part."""
    runs: list[list[Span]] = [[edge.spans[0]]]
    darts = [False]
    for one, span, (turn, dart) in zip(edge.spans, edge.spans[1:], _turns(edge), strict=False):
        if not dart and (abs(turn) > _CORNER or one.label != span.label):
            runs.append([])
            darts.append(False)
        runs[-1].append(span)
        darts[-1] = darts[-1] or dart
    return list(zip(runs, darts, strict=True))


def _lines_with_edge(before: Piece, after: Piece, labels: Sequence[Label]) -> tuple[InnerLine, ...]:
    """The inner lines: one that lay along the edge goes with it, one that the edge now crosses is cut off."""
    old, new = _course(before, labels), _course(after, labels)
    shift = _INWARD_MM * 1j * (new[-1].end - new[0].start) / abs(new[-1].end - new[0].start)
    size = path.length(new)
    grown = size / path.length(old)
    out: list[InnerLine] = []
    for line in before.lines:
        if all(nearest(old, c.at(t))[1] < _LIES_ON_MM for c in line.curves for t in (0.1, 0.5, 0.9)):
            ends = [nearest(old, z)[0] * grown for z in (line.curves[0].start, line.curves[-1].end)]
            course = path.part(new, max(0.0, min(ends)), min(size, max(ends)))
            course = path.reversed_path(course) if ends[0] > ends[1] else course
            out.append(replace(line, curves=path.moved(course, shifting(shift))))
        elif any(meetings(c, d) for c in line.curves for d in new):
            out += lines_within(replace(after, lines=(line,)))
        else:
            out.append(line)
    return tuple(out)


def _course(piece: Piece, labels: Sequence[Label]) -> tuple[Curve, ...]:
    """An edge as it lies, straight across the mouths of darts on it."""
    out: list[Curve] = []
    for span in (s for label in labels for s in piece.edge(label)):
        if out and abs(out[-1].end - span.curve.start) > SAME_POINT_MM:
            out.append(Line(out[-1].end, span.curve.start))
        out.append(span.curve)
    return tuple(out)


def words(parts: Sequence[SmoothWhenFolded]) -> str:
    """What was done to the edges, for the step's finding; empty where nothing was."""
    corner = max(p.corner for p in parts)
    if not corner:
        return ""
    moved = max(p.moved_mm for p in parts)
    return (
        f"drawn smooth with the darts folded: corners of up to {math.degrees(corner):.0f} degrees gone, the "
        f"seam at most {moved:.1f} mm from the line, its length kept"
    )
