"""The cutting line of a piece: each run moved outward by its allowance, and every corner made true."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.errors import CannotApply, Finding, Severity
from cutonce.finishing import corners
from cutonce.finishing.allowance import CORNER_RAD, Run
from cutonce.finishing.corners import MITRE, Joined
from cutonce.finishing.dart_mouth import OTHER_WAY, Bridged, Mouth, bridged, mouth_of
from cutonce.finishing.folded_hem import folded_back
from cutonce.finishing.loops import closed_without_loops, folds_back, without_loops
from cutonce.geometry import offset
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.region import crossing, polygon
from cutonce.geometry.tolerance import SAME_POINT_MM

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

_LEAST_HEM_TURN = 0.35
"""An edge that leaves a hem at less than 20 degrees runs on with it: no end to mirror, a step instead."""

LOOP_MM = 40.0
"""A loop of the cutting line up to this long is cut off where its sides cross; a longer one is an error."""

_TO_FOLD = 20.0
"""In allowances: a line that meets the fold at a slant runs on to it, however slanted a hem may be."""

_GAP_MM = 0.02
"""Lines of the cutting line this near are joined: a fifth of a pen line, as FLATTEN_MM."""

_JOG_MM = 0.5
"""A smaller step between the two edges of a seam is not told: no scissors make it."""

_INSIDE_MM2 = 5.0
"""Less of a piece outside its cutting line is the rounding of two polygons along their edges."""

_COARSE_MM = 0.1
"""Chord to curve of those polygons: a pen line, and quick."""

_GRID_MM = 1e-3
"""Polygons are laid on a grid so fine, so that edges that run together count as one."""


@dataclass(frozen=True, slots=True)
class SeamEnd:
    """Where a seam's allowance ends: `beyond` mm past the end of its sewing line, cut square."""

    label: Label
    at_start: bool
    beyond: float
    tip: Point


@dataclass(frozen=True, slots=True)
class CutMouth:
    """A dart's mouth on the cutting line: `first` and `second` are where its legs, drawn on, meet it."""

    name: str
    edge: str
    mouth: Mouth
    first: Point
    second: Point


@dataclass(frozen=True, slots=True)
class Cutting:
    """The cutting line of one piece: `line` closed; `cuts` its part beside each run; what was found on the
    way: where seams end, and the mouth of each dart."""

    line: Path
    runs: tuple[Run, ...]
    cuts: tuple[Path, ...]
    ends: tuple[SeamEnd, ...]
    mouths: tuple[CutMouth, ...]
    findings: tuple[Finding, ...]


def cutting_line(piece: Piece, runs: Sequence[Run]) -> Cutting:
    """The closed cutting line outside a piece's runs. What cannot be true becomes a finding."""
    made = _Making(piece, tuple(runs))
    n = len(runs)
    for i in range(n):
        made.join(i, (i + 1) % n)
    line = _closed([c for i in range(n) for c in (*made.cuts[i], *made.between[i])])
    spot = crossing(line)
    if spot is not None:
        line, spots = closed_without_loops(line, LOOP_MM)
        made.findings += [_snipped(piece, z) for z in spots]
        spot = crossing(line)
    findings = [*made.findings, *_touching(piece, made.mouths), *_sound(piece, line, spot)]
    return Cutting(line, made.runs, tuple(made.cuts), tuple(made.ends), tuple(made.mouths), tuple(findings))


class _Making:
    """The runs' cutting lines while their corners are being made, one after the other."""

    def __init__(self, piece: Piece, runs: tuple[Run, ...]) -> None:
        self.piece = piece
        self.runs = runs
        self.cuts: list[Path] = [_outside(r) for r in runs]
        self.between: list[Path] = [()] * len(runs)
        self.ends: list[SeamEnd] = []
        self.mouths: list[CutMouth] = []
        self.findings: list[Finding] = []
        for i in range(len(runs)):
            if folds_back(self.cuts[i]):
                self.cuts[i], spots = without_loops(self.cuts[i], LOOP_MM)
                self.findings += [_snipped(piece, z) for z in spots]

    def join(self, i: int, j: int) -> None:
        run = self.runs[i]
        joined = self._mouth(i, j) if run.dart else self._corner(i, j)
        self.cuts[i], self.between[i], self.cuts[j] = joined.one, joined.between, joined.two

    def _corner(self, i: int, j: int) -> Joined:
        a, b = self.runs[i], self.runs[j]
        one, two = self.cuts[i], self.cuts[j]
        turn = cmath.phase(b.sewing[0].tangent(0) / a.sewing[-1].tangent(1))
        widest = max(a.allowance, b.allowance)
        on_fold = "fold" in (a.finish.kind, b.finish.kind)
        reach = widest * (_TO_FOLD if on_fold else MITRE)
        back = widest if turn > 0 and not on_fold else reach
        if turn < CORNER_RAD or widest == 0:
            return corners.straight_on(one, two, reach, back)
        made: Joined | None = None
        if turn > _LEAST_HEM_TURN and (a.finish.kind == "hem") != (b.finish.kind == "hem"):
            made = self._folded(i, j) if b.finish.kind == "hem" else self._folded_before(i, j)
        elif not on_fold and _is_other_edge(a, b):
            first, second = _sewn_first(a), _sewn_first(b)
            if first is not None and (second is None or first <= second) and a.allowance > 0:
                made = self._squared(a, one, two, reach, at_start=False)
            elif second is not None and b.allowance > 0:
                turned = self._squared(b, reversed_path(two), reversed_path(one), reach, at_start=True)
                made = turned.backwards() if turned else None
        return made or corners.straight_on(one, two, reach, back)

    def _squared(self, run: Run, one: Path, two: Path, reach: float, at_start: bool) -> Joined | None:
        """A seam's end cut square; for its first end the paths are given backwards."""
        tip = run.sewing[0].start if at_start else run.sewing[-1].end
        out = -run.sewing[0].tangent(0) if at_start else run.sewing[-1].tangent(1)
        made = corners.squared(one, two, tip, out, run.allowance, reach)
        if made is not None and made.between:
            c = made.between[0].start
            self.ends.append(SeamEnd(run.label, at_start, ((c - tip) * out.conjugate()).real, tip))
        return made

    def _folded(self, i: int, j: int) -> Joined | None:
        """A hem begins at j: its end mirrors the line that arrives at i, and what runs smoothly into that."""
        hem = self.runs[j]
        chain, k = self.cuts[i], i
        for _ in range(len(self.runs) - 2):
            before = self.cuts[k - 1]
            if self.runs[k - 1].dart or abs(before[-1].end - chain[0].start) > _GAP_MM:
                break
            if self.runs[k - 1].finish.kind == "hem":
                break
            chain, k = (*before, *chain), k - 1
        made = folded_back(chain, hem.sewing, self.cuts[j], hem.allowance)
        skip = len(chain) - len(self.cuts[i])
        if made is None or len(made.one) <= skip:
            return None
        return replace(made, one=made.one[skip:])

    def _folded_before(self, i: int, j: int) -> Joined | None:
        """A hem ends at i: the same, walked backwards."""
        hem = self.runs[i]
        chain, k, n = self.cuts[j], j, len(self.runs)
        for _ in range(n - 2):
            after = self.cuts[(k + 1) % n]
            if self.runs[k].dart or abs(after[0].start - chain[-1].end) > _GAP_MM:
                break
            if self.runs[(k + 1) % n].finish.kind == "hem":
                break
            chain, k = (*chain, *after), (k + 1) % n
        back = folded_back(
            reversed_path(chain), reversed_path(hem.sewing), reversed_path(self.cuts[i]), hem.allowance
        )
        skip = len(chain) - len(self.cuts[j])
        if back is None or len(back.one) <= skip:
            return None
        made = back.backwards()
        return replace(made, two=made.two[: len(made.two) - skip])

    def _mouth(self, i: int, j: int) -> Joined:
        dart = self.runs[i].dart
        if dart is None:
            raise ValueError("no dart opens behind this run")
        try:
            mouth = mouth_of(self.piece, dart)
        except CannotApply as problem:
            self._say("warning", "dart-fold", f"{problem.message}; pressed the usual way instead")
            mouth = mouth_of(self.piece, replace(dart, folds=None))
        one, two = self.cuts[i], self.cuts[j]
        widest = max(self.runs[i].allowance, self.runs[j].allowance)
        done: Bridged = bridged(one, two, mouth, MITRE * widest)
        if not done.capped and dart.folds is None:
            turned = mouth_of(self.piece, replace(dart, folds=OTHER_WAY[mouth.folds]))
            other = bridged(one, two, turned, MITRE * widest)
            if other.capped:
                mouth, done = turned, other
        if not done.capped:
            self._say(
                "warning",
                "no-cap",
                f"the {dart.label.key} has no cap: the edge beside it does not close over it; its mouth is "
                "bridged straight",
                "press it the other way: shorten_dart with 'folds'"
                if dart.folds
                else "neither way closes: move the dart to where it stands squarer to the edge",
            )
        if done.jog_mm > _JOG_MM:
            self._say(
                "note",
                "dart-jog",
                f"with the {dart.label.key} closed the cutting line has a step of {done.jog_mm:.1f} mm",
            )
        first, second = done.joined.one[-1].end, done.joined.two[0].start
        self.mouths.append(CutMouth(dart.label.key, self.runs[i].label.key, mouth, first, second))
        return done.joined

    def _say(self, severity: Severity, code: str, message: str, hint: str = "") -> None:
        self.findings.append(Finding(severity, code, self.piece.key, message, hint=hint))


def _outside(run: Run) -> Path:
    """The line at the run's allowance, its curves joined end to end."""
    if run.allowance == 0:
        return run.sewing
    moved = offset.to_right(run.sewing, run.allowance)
    out = [moved[0]]
    for curve in moved[1:]:
        out.append(replace(curve, a=out[-1].end))
    return tuple(out)


def _is_other_edge(a: Run, b: Run) -> bool:
    return not a.label.same_edge(b.label)


def _sewn_first(run: Run) -> tuple[int, str] | None:
    """Rank of a seam in the order of sewing; None for an edge that is not sewn to another piece."""
    return (run.finish.first, run.finish.seam.name) if run.finish.is_sewn and run.finish.seam else None


def _closed(curves: Sequence[Curve]) -> Path:
    """The curves end to end: slivers left out, ends that lie together made one point."""
    out: list[Curve] = []
    for curve in curves:
        if curve.length < SAME_POINT_MM:
            continue
        if out and abs(curve.start - out[-1].end) > _GAP_MM:
            out.append(Line(out[-1].end, curve.start))
        elif out and curve.start != out[-1].end:
            curve = replace(curve, a=out[-1].end)
        out.append(curve)
    if abs(out[0].start - out[-1].end) > _GAP_MM:
        out.append(Line(out[-1].end, out[0].start))
    elif out[0].start != out[-1].end:
        out[-1] = replace(out[-1], d=out[0].start)
    return tuple(out)


def _touching(piece: Piece, mouths: Sequence[CutMouth]) -> list[Finding]:
    """Darts whose mouth touches the next dart's: no edge between them, so no cutting line over either."""
    drawn = {m.name for m in mouths}
    return [
        Finding(
            "stop",
            "darts-touch",
            piece.key,
            f"no cloth lies between the {d.label.key} and the next dart: its mouth has no cutting line",
            hint="move one of them along the edge, or join them",
            spot=(piece.key, piece.pivot(d)),
        )
        for d in piece.darts
        if d.label.key not in drawn
    ]


def _snipped(piece: Piece, spot: Point) -> Finding:
    message = "an inside curve is tighter than its allowance is wide; snip the allowance there"
    return Finding("note", "tight-inside-curve", piece.key, message, spot=(piece.key, spot))


def _sound(piece: Piece, line: Path, spot: Point | None) -> list[Finding]:
    """A finding where the cutting line crosses itself, or leaves some of the sewing line outside."""
    if spot is not None:
        message = (
            "the cutting line crosses itself: the allowance is wider than the curve or corner there allows"
        )
        return [
            Finding(
                "stop",
                "cutting-crosses",
                piece.key,
                message,
                hint="narrow the allowance",
                spot=(piece.key, spot),
            )
        ]
    outside = _beyond(polygon([s.curve for s in piece.outline], _COARSE_MM), polygon(line, _COARSE_MM))
    if outside.area > _INSIDE_MM2:
        at = outside.representative_point()
        message = f"{outside.area:.0f} mm2 of the piece lie outside its cutting line"
        return [Finding("stop", "cutting-inside", piece.key, message, spot=(piece.key, complex(at.x, at.y)))]
    return []


def _beyond(inner: Polygon, outer: Polygon) -> BaseGeometry:
    """What of `inner` lies outside `outer`, on a grid: edges that coincide but for rounding defeat an overlay
    in floating point, which then calls the whole piece outside. A sewing line that crosses itself, which a
    check tells, is made valid first, or the overlay fails."""
    from shapely import difference, make_valid

    sound = [shape if shape.is_valid else make_valid(shape) for shape in (inner, outer)]
    return difference(*sound, grid_size=_GRID_MM)
