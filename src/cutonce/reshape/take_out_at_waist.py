"""Taking out a dart pointed at both ends: the side comes in at the waist by the intake instead.

The side is redrawn between the levels of the dart's two points, in at the waist by the intake, smooth all
along. Such a deeper curve is longer. Where the side must keep its length, above and below the waist, the
waist comes up a little and the rest is cut off where the side ends below.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cutonce.draft.piece import DoubleDart, InnerLine, Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.fit import between
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.region import inside
from cutonce.geometry.solve import point_where
from cutonce.geometry.tolerance import FLATTEN_MM, SAME_POINT_MM
from cutonce.reshape.find_dart import double_dart_gone
from cutonce.reshape.laid_along import end_moved, relaid
from cutonce.reshape.places import outward_of
from cutonce.reshape.runs import Run, curves_of, parted, runs_of, turned, with_runs
from cutonce.reshape.take_out_at_end import STEEPEST, TakenOut, TakeOut, level_arc

_NEAR_LINE_MM = 2.0
"""A waist line ends on the side: within this of its waist."""

_REDRAWN_MM = 100.0
"""How much of the waist line beside the new side, and of the edge below, is redrawn to meet it."""

_BESIDE_MM = 1e-3
"""The direction at the waist is the mean of those just beside it, where the side has a corner."""


@dataclass(frozen=True, slots=True)
class _Side:
    """The edge walked down. `old` is its run as the outline has it, `line` the same walked down, with arc
    lengths on it of where the new edge leaves it, of the waist, and of where it comes back."""

    old: Run
    line: Path
    runs_down: bool
    top: float
    waist: float
    bottom: float

    @property
    def run(self) -> Run:
        return self.old if self.runs_down else turned(self.old)

    def place(self, arc: float) -> tuple[Point, complex]:
        """Point and direction at an arc length; the line runs on straight beyond its end."""
        last = self.line[-1]
        longer = (*self.line, Line(last.end, last.end + last.tangent(1) * 1000))
        return path.point_at(longer, arc), path.tangent_at(longer, arc)

    @property
    def down(self) -> complex:
        """Unit direction of the side at the waist; at a corner, half way."""
        v = sum(path.tangent_at(self.line, self.waist + d) for d in (-_BESIDE_MM, _BESIDE_MM))
        return v / abs(v)


@dataclass(frozen=True, slots=True)
class _Waist:
    """The line along which the waist is measured, walked toward the side; `line` where the piece has one."""

    line: InnerLine | None
    path: Path
    walked_back: bool = False

    def drawn(self, new: Path) -> InnerLine | None:
        if self.line is None:
            return None
        return replace(self.line, curves=reversed_path(new) if self.walked_back else new)


def in_at_side(piece: Piece, dart: DoubleDart, way: TakeOut, step: str) -> TakenOut:
    """Take the dart out of an edge that runs up and down beside it.

    `way.taper` and `way.below` are how far above and below the waist the edge is redrawn, along it; left out,
    to the levels of the dart's points. The edge grows by `way.more` above and below the waist; marks stay on
    their cloth. Raises CannotApply where a taper is too short for the intake (too-steep), where the edge does
    not pass the dart (not-beside), or where something would be left outside (in-the-way).
    """
    side = _side(piece, dart, way)
    waist = _waist(piece, dart, side, way.into)
    above, below, across, rest, lifted = _redrawn(piece, dart, side, waist, way)
    parts = parted(side.run, (side.top, side.waist, side.bottom))
    run = parts[0] + relaid(parts[1], (above,), step) + relaid(parts[2], (below,), step)
    run += relaid(parts[3], rest, step) if parts[3] else ()
    changes = [(side.old, run if side.runs_down else turned(run))]
    if abs(lifted) > SAME_POINT_MM:
        changes.append(_end_below(piece, side, run, lifted, step))
    lines = tuple(waist.drawn(across) or x if x is waist.line else x for x in piece.lines)
    kept = tuple(d for d in piece.double_darts if d != dart)
    new = replace(with_runs(piece, changes), double_darts=kept, lines=lines)
    _refuse_left_outside(new, way.into)
    gone = (double_dart_gone(piece, dart, step, f"took the {dart.name} out"),)
    tapers = (side.waist - side.top, side.bottom - side.waist)
    return TakenOut(new, gone, way.into, dart.intake, tapers, lifted)


def growth_at_side(piece: Piece, dart: DoubleDart, way: TakeOut) -> tuple[float, float]:
    """How much longer the side becomes, above and below the waist, where the waist comes in on its level."""
    side = _side(piece, dart, way)
    waist = _waist(piece, dart, side, way.into)
    new = side.place(side.waist)[0] - dart.intake * waist.path[-1].tangent(1)
    above, below = (
        between(*side.place(side.top), new, side.down),
        between(new, side.down, *side.place(side.bottom)),
    )
    return above.length - (side.waist - side.top), below.length - (side.bottom - side.waist)


def _side(piece: Piece, dart: DoubleDart, way: TakeOut) -> _Side:
    into = way.into
    for old in _alike(piece, into):
        runs_down = old[0].curve.start.imag > old[-1].curve.end.imag
        run = old if runs_down else turned(old)
        line = curves_of(run)
        marked = _marked(piece, run, "waist")
        waist = marked if marked is not None else level_arc(line, (dart.left + dart.right).imag / 2)
        if waist is None:
            continue
        size = path.length(line)
        up, down = level_arc(line, dart.upper.imag), _level_below(line, waist, dart.lower.imag)
        top = max(0.0, waist - way.taper) if way.taper is not None else min(up or 0.0, waist)
        bottom = min(size, waist + way.below) if way.below is not None else down
        for reach, word in ((waist - top, "above"), (bottom - waist, "below")):
            _refuse_steep(piece, into, dart.intake, reach, word)
        return _Side(old, line, runs_down, top, waist, bottom)
    raise CannotApply("not-beside", piece.key, f"the {into.key} does not pass beside the {dart.name}")


def _level_below(line: Path, waist: float, y: float) -> float:
    size = path.length(line)
    found = level_arc(path.part(line, waist, size), y)
    return size if found is None else waist + found


def _refuse_steep(piece: Piece, into: Label, intake: float, reach: float, word: str) -> None:
    if intake > STEEPEST * reach:
        raise CannotApply(
            "too-steep",
            piece.key,
            f"the {into.key} cannot come in {intake:.1f} mm over {reach:.1f} mm {word} the waist",
            f"let it taper over at least {intake / STEEPEST:.1f} mm",
        )


def _alike(piece: Piece, into: Label) -> Iterator[Run]:
    """Runs of an edge between darts, its parts taken together."""
    runs: list[Run] = []
    for label in piece.labels:
        if (label.name, label.role, label.wearer) == (into.name, into.role, into.wearer):
            for run in runs_of(piece, label):
                if runs and runs[-1][-1].curve.end == run[0].curve.start:
                    runs[-1] += run
                else:
                    runs.append(run)
    if len(runs) > 1 and runs[-1][-1].curve.end == runs[0][0].curve.start:
        runs[0] = runs.pop() + runs[0]
    yield from runs


def _marked(piece: Piece, run: Run, name: str) -> float | None:
    before = 0.0
    for span in run:
        for mark in piece.marks:
            if mark.name == name and mark.origin == span.origin and span.holds(mark.at):
                return before + span.arc_at(mark.at)
        before += span.length
    return None


def _waist(piece: Piece, dart: DoubleDart, side: _Side, into: Label) -> _Waist:
    """The piece's waist line that ends on the side; where it has none, the level through the waist."""
    at = side.place(side.waist)[0]
    for x in piece.lines:
        if x.name == "waist" and x.curves:
            if abs(x.curves[-1].end - at) < _NEAR_LINE_MM:
                return _Waist(x, x.curves)
            if abs(x.curves[0].start - at) < _NEAR_LINE_MM:
                return _Waist(x, reversed_path(x.curves), True)
    out = outward_of(piece, into.wearer or piece.wearer)
    return _Waist(None, (Line(at - out * (dart.intake + _REDRAWN_MM), at),))


def _redrawn(
    piece: Piece, dart: DoubleDart, side: _Side, waist: _Waist, way: TakeOut
) -> tuple[Cubic, Cubic, Path, Path, float]:
    """The side above and below the waist, the waist line, the side's rest, and how much its end rises.

    The new waist lies where the waist line is shorter by the intake and the side above has its length.
    """
    old_waist, down = path.length(waist.path), side.down
    keep = max(0.0, old_waist - dart.intake - _REDRAWN_MM)
    start, along = path.point_at(waist.path, keep), path.tangent_at(waist.path, keep)
    corner = waist.path[-1].tangent(1) / down
    goal = side.waist - side.top + way.more[0]

    def lines(p: Point) -> tuple[Cubic, Cubic]:
        return between(*side.place(side.top), p, down), between(start, along, p, corner * down)

    def misses(p: Point) -> tuple[float, float]:
        above, across = lines(p)
        return above.length - goal, across.length - (old_waist - dart.intake - keep)

    new = point_where(side.place(side.waist)[0] - dart.intake * waist.path[-1].tangent(1), misses)
    if new is None:
        raise CannotApply(
            "no-shape",
            piece.key,
            f"no smooth {way.into.key} comes in {dart.intake:.1f} mm there",
            "let it taper over more",
        )
    above, across = lines(new)
    below, rest, lifted = _back_to(side, new, way.more[1])
    return above, below, (*path.part(waist.path, 0.0, keep), across), rest, lifted


def _back_to(side: _Side, waist: Point, more: float) -> tuple[Cubic, Path, float]:
    """From the new waist back to the old line at the length that the cloth has: the secant method."""
    goal = side.bottom - side.waist + more

    def miss(arc: float) -> float:
        return between(waist, side.down, *side.place(arc)).length - goal

    one, two = side.bottom, side.bottom - 1.0
    before, now = miss(one), miss(two)
    for _ in range(40):
        if abs(now) < 1e-10 or now == before:
            break
        one, before, two = two, now, max(two - now * (two - one) / (now - before), side.waist + 1.0)
        now = miss(two)
    size = path.length(side.line)
    longer = (*side.line, Line(side.line[-1].end, side.place(size + 1000.0)[0]))
    rest = path.part(longer, two, two + size - side.bottom)
    return between(waist, side.down, *side.place(two)), rest, side.bottom - two


def _end_below(piece: Piece, side: _Side, run: Run, lifted: float, step: str) -> tuple[Run, Run]:
    """The edge below the side, brought to the side's new end with the corner it had."""
    outline = piece.outline
    at = {id(s): i for i, s in enumerate(outline)}
    i = at[id(side.old[-1])] + 1 if side.runs_down else at[id(side.old[0])] - 1
    beside: Span = outline[i % len(outline)]
    if beside.label.role == "dart leg":
        raise CannotApply(
            "dart-in-the-way",
            piece.key,
            f"the {beside.label.key} opens on the {run[0].label.key} below the waist",
            "move that dart to another edge first",
        )
    old = next(r for r in runs_of(piece, beside.label) if any(s is beside for s in r))
    toward = turned(old) if side.runs_down else old
    turn = run[-1].curve.tangent(1) / side.line[-1].tangent(1)
    reach = max(_REDRAWN_MM, 20 * abs(lifted))
    new = end_moved(toward, run[-1].curve.end, toward[-1].curve.tangent(1) * turn, reach, step)
    return old, turned(new) if side.runs_down else new


def _refuse_left_outside(piece: Piece, into: Label) -> None:
    border = path.flattened([s.curve for s in piece.outline], FLATTEN_MM)
    inner: list[tuple[str, Point]] = [(p.name, p.at) for p in piece.points]
    inner += [(d.name, z) for d in piece.double_darts for z in d.corners]
    for name, z in inner:
        if not inside(border, z):
            raise CannotApply(
                "in-the-way",
                piece.key,
                f"the {name} would lie outside the {into.key}",
                "take out the dart next to it, or less of it",
            )
