"""A level hem: each place so far below a landmark, by tape down the seams, straight down between them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from cutonce.draft.draft import Draft
from cutonce.draft.piece import InnerLine, Piece
from cutonce.draft.span import CENTRES
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import meetings, nearest
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.hem_cut import hangings
from cutonce.reshape.hem_law import through
from cutonce.reshape.hem_line import Hanging
from cutonce.reshape.hem_round import Hem, HemRun, Joint

_ON_EDGE_MM = 1.5
"""A landmark line that ends this near an edge ends on it."""

_STRAIGHT_MM = 1e-6
_FAR_MM = 3000.0
"""Longer than any garment."""

_STEP_MM = 0.01
"""Slopes are differences over this: to 1e-9, as depths are smooth and exact to rounding."""


_EVERY_MM = 60.0
"""Where the landmark line is not straight any more (spread pieces) it is measured so often, and the hem drawn
smoothly through."""


@dataclass(frozen=True, slots=True)
class _Depth:
    """How far the hem of one run hangs below the landmark: up to its line, if the piece has it, and what the
    ends (`off`) are more than that, which fades from one to the other."""

    hanging: Hanging
    up: Callable[[float], float]
    off: tuple[float, float]

    def at(self, s: float) -> float:
        size = self.hanging.run.length
        s = min(max(s, 0.0), size)
        return self.up(s) + self.off[0] + (self.off[1] - self.off[0]) * s / size


class Level:
    """The law of a hem that hangs `by` mm below a landmark all round."""

    def __init__(self, draft: Draft, hem: Hem, landmark: str, by: float) -> None:
        """Raises CannotApply where a piece has the landmark neither as a line nor on the seams beside its
        hem."""
        self.by = by
        self.half = hem.half
        self.girth = hem.girth
        self.runs = _measured(draft, hem, landmark)

    def drop(self, x: float) -> float:
        run, s, _ = self._find(x, True)
        return self.by - run.at(s)

    def slope(self, x: float, after: bool) -> float:
        run, s, sign = self._find(x, after)
        h = min(_STEP_MM, run.hanging.run.length / 8)
        if s < h:
            rate = (-3 * run.at(s) + 4 * run.at(s + h) - run.at(s + 2 * h)) / (2 * h)
        elif s > run.hanging.run.length - h:
            rate = (3 * run.at(s) - 4 * run.at(s - h) + run.at(s - 2 * h)) / (2 * h)
        else:
            rate = (run.at(s + h) - run.at(s - h)) / (2 * h)
        return -sign * rate

    def _find(self, x: float, after: bool) -> tuple[_Depth, float, float]:
        """The run at a place, mm from its start, and -1 on the mirrored half."""
        x, sign = x % self.girth if abs(x - self.girth) > SAME_POINT_MM else x, 1.0
        if self.half and x > self.girth / 2 + SAME_POINT_MM:
            x, sign, after = self.girth - x, -1.0, not after
        slack = -SAME_POINT_MM if after else SAME_POINT_MM
        for depth in self.runs:
            run = depth.hanging.run
            if x < run.end + slack or depth is self.runs[-1]:
                return depth, x - run.start, sign
        raise ValueError("a hem without runs has no places")


def _measured(draft: Draft, hem: Hem, landmark: str) -> tuple[_Depth, ...]:
    """The depth of every run, ends of partners brought to their mean."""
    runs = []
    for hanging in hangings(draft, hem):
        piece = draft.piece(hanging.run.piece)
        line = _paths(piece, landmark)
        up = _way_up(hanging, line) if line else None
        ups = [up(s) if up else None for s in (0.0, hanging.run.length)]
        joints = (hanging.run.before, hanging.run.after)
        taped = [_down_the_seam(piece, hanging.run, joint, landmark) for joint in joints]
        ends = [t if t is not None else u for t, u in zip(taped, ups, strict=True)]
        runs.append((hanging, up, ups, ends))
    out = []
    n = len(runs)
    for i, (hanging, up, ups, ends) in enumerate(runs):
        before = runs[i - 1][3][1] if i or hem.closed else None
        after = runs[(i + 1) % n][3][0] if i + 1 < n or hem.closed else None
        found = [_mean(ends[0], before), _mean(ends[1], after)]
        known = [x for x in found if x is not None]
        if not known:
            raise _no_landmark(draft.piece(hanging.run.piece), landmark)
        one, two = (x if x is not None else known[0] for x in found)
        out.append(_Depth(hanging, up or _nothing, (one - (ups[0] or 0.0), two - (ups[1] or 0.0))))
    return tuple(out)


def _nothing(s: float) -> float:
    return 0.0


def _way_up(hanging: Hanging, paths: Sequence[Sequence[Curve]]) -> Callable[[float], float]:
    """The distance up to the landmark as a function of mm along the run."""
    curves = [c for path in paths for c in path]
    way = curves[0].tangent(0)
    off = [((z - curves[0].start) / way).imag for c in curves for z in (c.start, c.at(0.5), c.end)]
    if max(off) - min(off) < _STRAIGHT_MM:
        return partial(_up, hanging, paths)
    size = hanging.run.length
    n = max(2, math.ceil(size / _EVERY_MM))
    return through([(size * i / n, _up(hanging, paths, size * i / n)) for i in range(n + 1)])


def _mean(a: float | None, b: float | None) -> float | None:
    found = [x for x in (a, b) if x is not None]
    return sum(found) / len(found) if found else None


def _no_landmark(piece: Piece, landmark: str) -> CannotApply:
    have = ", ".join(dict.fromkeys(x.name for x in piece.lines)) or "none"
    return CannotApply("no-landmark", piece.key, f"it has no {landmark} line; lines on it: {have}")


def _down_the_seam(piece: Piece, run: HemRun, joint: Joint, landmark: str) -> float | None:
    """Tape from the landmark down the edge beside a run to its end; None where the edge does not have it."""
    outline = piece.outline
    edge = run.spans[-1] if joint.at_start else run.spans[0]
    at = next(i for i, s in enumerate(outline) if s is edge)
    step = 1 if joint.at_start else -1
    marks = [m for m in piece.marks if m.name == landmark]
    lines = _lines(piece, landmark)
    ends = [z for x in lines for z in (x.curves[0].start, x.curves[-1].end)]
    before = 0.0
    for k in range(1, len(outline)):
        span = outline[(at + step * k) % len(outline)]
        if not span.label.same_edge(joint.edge):
            return None
        arcs = [span.arc_at(m.at) for m in marks if span.origin == m.origin and span.holds(m.at)]
        if not arcs:
            arcs = [s for z in ends for s, gap in [nearest((span.curve,), z)] if gap < _ON_EDGE_MM]
        if arcs:
            return before + (arcs[0] if step > 0 else span.length - arcs[0])
        before += span.length
    return None


def _lines(piece: Piece, landmark: str) -> list[InnerLine]:
    return [x for x in piece.lines if x.name == landmark and x.curves]


def _paths(piece: Piece, landmark: str) -> tuple[tuple[Curve, ...], ...]:
    """The landmark's lines with their gaps closed by chords, and then each drawn on straight at its ends."""
    whole: list[tuple[Curve, ...]] = []
    for line in _lines(piece, landmark):
        path: list[Curve] = [line.curves[0]]
        for one, two in pairwise(line.curves):
            if abs(one.end - two.start) > SAME_POINT_MM:
                path.append(Line(one.end, two.start))
            path.append(two)
        whole.append(tuple(path))
    ends = []
    for first, last in ((p[0], p[-1]) for p in whole):
        ends.append(Line(first.start - _FAR_MM * first.tangent(0), first.start))
        ends.append(Line(last.end, last.end + _FAR_MM * last.tangent(1)))
    return (*whole, tuple(ends)) if whole else ()


def _up(hanging: Hanging, paths: Sequence[Sequence[Curve]], s: float) -> float:
    """Straight up the line of hanging from a place of the hem to the landmark; below 0 where it is lower."""
    spans = hanging.run.spans
    k = next((i for i in range(len(spans)) if s <= hanging.arcs[i + 1]), len(spans) - 1)
    point, _, down, _ = hanging.at(k, spans[k].curve.at_length(s - hanging.arcs[k]))
    ray = Line(point + down * _FAR_MM, point - down * _FAR_MM)
    for path in paths:
        found = [(2 * t - 1) * _FAR_MM for c in path for t, _ in meetings(ray, c)]
        if found:
            return min(found, key=abs)
    raise CannotApply("no-landmark", hanging.run.piece, "the landmark line does not lie above the hem")


def waist_to_hip(draft: Draft, hem: Hem) -> float | None:
    """How far the hip lies below the waist down the centre of a piece; None where no piece shows it."""
    for run in hem.runs:
        piece = draft.piece(run.piece)
        for joint in (run.before, run.after):
            if joint.edge.role in CENTRES:
                waist, hip = (_down_the_seam(piece, run, joint, name) for name in ("waist", "hip"))
                if waist is not None and hip is not None:
                    return waist - hip
    return next((d for r in hem.runs if (d := _between_lines(draft.piece(r.piece))) is not None), None)


def _between_lines(piece: Piece) -> float | None:
    """Down the grain from the waist line, or from the centre's mark on a waist edge, to the hip line."""
    hips = [c for x in _lines(piece, "hip") for c in x.curves]
    tops: list[Point] = [x.curves[0].at(0.5) for x in _lines(piece, "waist")]
    for mark in piece.marks:
        if mark.name in CENTRES:
            tops += [
                s.curve.at(s.curve.at_length(s.arc_at(mark.at)))
                for s in piece.outline
                if s.label.role == "waist" and s.origin == mark.origin and s.holds(mark.at)
            ]
    for top in tops:
        ray = Line(top, top - piece.grain.along * _FAR_MM)
        found = [t * _FAR_MM for c in hips for t, _ in meetings(ray, c)]
        if found:
            return min(found)
    return None
