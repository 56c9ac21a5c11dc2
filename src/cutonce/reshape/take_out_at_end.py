"""Taking out a dart that opens on an edge: the edge's end comes in by the intake instead.

Waist dart and side, shoulder dart and armhole: the dart stays unsewn, the end of its edge is drawn in until
the edge is as long as it was with the dart sewn, and the other edge that ends there is redrawn from the level
of the dart's point. Both edges keep their lengths, so every seam still fits.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Gone, Label
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Cubic
from cutonce.geometry.fit import between
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.solve import point_where
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.laid_along import relaid
from cutonce.reshape.runs import Run, curves_of, parted, runs_of, turned, with_runs

STEEPEST = 0.6
"""An edge comes in by at most this share of the length over which it does: more is no edge but a corner."""

_LEAST_TAPER = 5.0
"""Left to itself, an edge comes in over at least this many times the intake."""

_MOST_OF_A_RUN = 0.6
"""The stretch of an edge between its end and a dart that stays gives up at most this share of its length."""


@dataclass(frozen=True, slots=True)
class TakeOut:
    """How a dart is taken out: `into` the edge that comes in, `taper` mm of it being redrawn from the corner
    (or above the waist) and `below` mm below the waist, None to the levels of the dart's points. `more` is
    how much the edge may grow over the taper, and below the waist: (0, 0) keeps its length."""

    into: Label
    taper: float | None = None
    below: float | None = None
    more: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class TakenOut:
    """`piece` after; `edge` came in by `by_mm` at its end or its waist, over `tapers_mm` of its length on
    either side of that place; `gone` the dart's tombstones; `lifted_mm` how far the edge's lower end rose."""

    piece: Piece
    gone: tuple[Gone, ...]
    edge: Label
    by_mm: float
    tapers_mm: tuple[float, ...]
    lifted_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class _Corner:
    """Two edges that meet: the dart's edge as runs walked toward the corner, the other edge's first run
    walked away from it. `forward` where the outline has them in that order."""

    old_runs: tuple[Run, ...]
    old_side: Run
    forward: bool

    @property
    def runs(self) -> tuple[Run, ...]:
        return self.old_runs if self.forward else tuple(turned(r) for r in reversed(self.old_runs))

    @property
    def side(self) -> Run:
        return self.old_side if self.forward else turned(self.old_side)

    def old_run(self, k: int) -> Run:
        return self.old_runs[k if self.forward else len(self.old_runs) - 1 - k]

    def back(self, run: Run) -> Run:
        """A run as the outline has it."""
        return run if self.forward else turned(run)


def edge_of(piece: Piece, dart: Dart) -> Label:
    """The edge on which a dart opens; raises CannotApply where it opens in a corner between two."""
    one, two = piece.legs(dart)
    outline = piece.outline
    before = outline[outline.index(one) - 1].label
    after = outline[(outline.index(two) + 1) % len(outline)].label
    if before != after:
        raise CannotApply(
            "dart-at-corner",
            piece.key,
            f"the {dart.name} opens where {before.key} and {after.key} meet",
            "move it to one edge first",
        )
    return before


def adjoining(piece: Piece, label: Label) -> tuple[Label, Label]:
    """The labels of the edges before and after an edge, darts passed over."""
    spans = piece.edge(label)
    outline = piece.outline
    n = len(outline)
    first, last = outline.index(spans[0]), outline.index(spans[-1])
    before = next(s.label for k in range(1, n) if (s := outline[first - k]).label.role != "dart leg")
    after = next(s.label for k in range(1, n) if (s := outline[(last + k) % n]).label.role != "dart leg")
    return before, after


def out_at_edge(piece: Piece, dart: Dart, way: TakeOut, step: str) -> TakenOut:
    """Take the dart out at the end of its edge where the edge `way.into` begins.

    Raises CannotApply where the edges do not meet (not-adjoining), the taper is too short (too-steep),
    another dart is in the way (dart-between) or no such edges can be drawn (no-shape).
    """
    corner = _corner(piece, edge_of(piece, dart), way.into)
    one, two = piece.legs(dart)
    reach = _reach(piece, dart, corner, way)
    new = with_runs(piece, _redrawn(piece, dart, corner, reach, way.more[0], step))
    gone = tuple(
        Gone(piece.key, s.label, s.origin, s.lo, s.hi, step, f"took the {dart.name} out") for s in (one, two)
    )
    kept = tuple(d for d in piece.darts if d != dart)
    return TakenOut(replace(new, darts=kept), gone, way.into, mouth_width(piece, dart), (reach,))


def growth_at_edge(piece: Piece, dart: Dart, way: TakeOut) -> tuple[float, float]:
    """How much longer the edge `way.into` becomes where the corner comes in along the dart's edge."""
    corner = _corner(piece, edge_of(piece, dart), way.into)
    reach = _reach(piece, dart, corner, way)
    lines = _Lines(corner, corner.runs[-1], reach)
    at = lines.old - mouth_width(piece, dart) * corner.runs[-1][-1].curve.tangent(1)
    return lines.drawn(at)[1].length - reach, 0.0


def mouth_width(piece: Piece, dart: Dart) -> float:
    """What the dart takes out of its edge, mm."""
    a, b = piece.mouth(dart)
    return abs(b - a)


def _redrawn(
    piece: Piece, dart: Dart, corner: _Corner, reach: float, grow: float, step: str
) -> list[tuple[Run, Run]]:
    """Which runs of the outline are replaced by which: the edge, the dart filled, and the one beside it."""
    one, two = piece.legs(dart)
    mouth = one.curve.start if corner.forward else two.curve.end
    runs = corner.runs
    k = next(i for i, r in enumerate(runs) if abs(r[-1].curve.end - mouth) < SAME_POINT_MM)
    filled = runs[k] + runs[k + 1]
    old = [corner.old_run(k), (one, two), corner.old_run(k + 1)]
    old_filled = tuple(s for run in (old if corner.forward else old[::-1]) for s in run)
    outer, less, changes = filled, 0.0, []
    if k + 2 < len(runs):  # another dart lies between this one and the corner
        first, last = filled[0].curve, filled[-1].curve
        line = between(first.start, first.tangent(0), last.end, last.tangent(1))
        changes.append((old_filled, corner.back(relaid(filled, (line,), step))))
        outer, less = runs[-1], line.length - sum(s.length for s in filled)
        _refuse_used_up(piece, dart, outer, less)
    edge, beside = _solved(piece, _Lines(corner, outer, reach), mouth_width(piece, dart), less, grow)
    taper, rest = parted(corner.side, (reach,))
    old_outer = old_filled if outer is filled else corner.old_run(len(runs) - 1)
    changes.append((old_outer, corner.back(relaid(outer, (edge,), step))))
    changes.append((corner.old_side, corner.back(relaid(taper, (beside,), step) + rest)))
    return changes


def _refuse_used_up(piece: Piece, dart: Dart, outer: Run, less: float) -> None:
    """Raise CannotApply where the edge beyond the next dart is too short to give the intake up."""
    size, name = sum(s.length for s in outer), outer[0].label.key
    if less > _MOST_OF_A_RUN * size:
        raise CannotApply(
            "dart-between",
            piece.key,
            f"the {name} beyond the next dart is {size:.1f} mm long and cannot lose {less:.1f} mm",
            f"take the dart next to the end out instead of the {dart.name}",
        )


class _Lines:
    """The outer run of the edge and the side's taper, as they are drawn to any corner.

    Both keep their directions at the ends that stay, and the corner keeps its angle, so that it still lies
    smooth against its partners. The side leaves it half way between two directions: with the lean against its
    chord that it had, and as an edge bent to one even arc would have it.
    """

    def __init__(self, corner: _Corner, outer: Run, reach: float) -> None:
        line = curves_of(corner.side)
        self.reach, self.size = reach, sum(s.length for s in outer)
        self.old, self.far, self.far_along = (
            line[0].start,
            path.point_at(line, reach),
            path.tangent_at(line, reach),
        )
        self.lean = line[0].tangent(0) / (self.far - self.old)
        self.turn = line[0].tangent(0) / outer[-1].curve.tangent(1)
        self.start, self.along = outer[0].curve.start, outer[0].curve.tangent(0)
        self.inward = -outer[-1].curve.tangent(1)
        self.name = corner.side[0].label.key

    def drawn(self, corner: Point) -> tuple[Cubic, Cubic]:
        leaning = self.lean * (self.far - corner)
        even = self.turn * (corner - self.start) ** 2 / self.along
        way = leaning / abs(leaning) + even / abs(even)
        edge = between(self.start, self.along, corner, way / self.turn)
        return edge, between(corner, way, self.far, self.far_along)


def _solved(piece: Piece, lines: _Lines, intake: float, less: float, grow: float) -> tuple[Cubic, Cubic]:
    """The edge `less` mm shorter than its cloth, the side `grow` mm longer, to the corner that does it."""

    def misses(corner: Point) -> tuple[float, float]:
        edge, beside = lines.drawn(corner)
        return edge.length - (lines.size - less), beside.length - lines.reach - grow

    corner = point_where(lines.old + intake * lines.inward, misses)
    if corner is None:
        raise CannotApply(
            "no-shape",
            piece.key,
            f"no smooth {lines.name} comes in {intake:.1f} mm over {lines.reach:.1f} mm at its length",
            "let it taper over more",
        )
    return lines.drawn(corner)


def _corner(piece: Piece, edge: Label, into: Label) -> _Corner:
    runs, sides = runs_of(piece, edge), runs_of(piece, into)
    if abs(runs[-1][-1].curve.end - sides[0][0].curve.start) < SAME_POINT_MM:
        return _Corner(runs, sides[0], True)
    if abs(sides[-1][-1].curve.end - runs[0][0].curve.start) < SAME_POINT_MM:
        return _Corner(runs, sides[-1], False)
    raise CannotApply("not-adjoining", piece.key, f"the {into.key} does not meet the {edge.key}")


def _reach(piece: Piece, dart: Dart, corner: _Corner, way: TakeOut) -> float:
    """Length of the side from the corner to the level of the dart's point, or as asked; at most all of it."""
    line = curves_of(corner.side)
    size, intake = path.length(line), mouth_width(piece, dart)
    level = level_arc(line, piece.dart_tip(dart).imag)
    own = max(level if level is not None else size, _LEAST_TAPER * intake)
    reach = min(way.taper if way.taper is not None else own, size)
    if intake > STEEPEST * reach:
        raise CannotApply(
            "too-steep",
            piece.key,
            f"the {way.into.key} cannot come in {intake:.1f} mm over {reach:.1f} mm",
            f"let it taper over at least {intake / STEEPEST:.1f} mm, or move a part of the dart first",
        )
    return reach


def level_arc(line: Path, y: float) -> float | None:
    """Arc length at which a line first reaches a level; None where it does not."""
    before = 0.0
    for curve in line:
        hits = on_line(curve, complex(0, y), 1 + 0j)
        if hits:
            return before + curve.length_to(hits[0])
        before += curve.length
    return None
