"""Mending the edges that a spread has broken: kept edges keep their length, opened ones are faired.

Only a stretch round the breaks is reshaped, `reach` mm to either side; where a dart or the edge's end comes
first, it ends there. Ends of the stretch keep their place and direction.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.blend import Blended, blended, faired_length
from cutonce.reshape.nodes import Material
from cutonce.reshape.runs import Run, parted, with_runs

_LEAST_REACH_MM = 40.0
"""Where nothing is asked, an edge is smoothed over at least this much beside a break,"""

_MOST_REACH_MM = 240.0
"""and over this at most."""

_REACH_PER_GAP = 1.0
"""Two averages over the distance between breaks spread equal corners into one even bend, no wider."""

_SMOOTH_RAD = 1e-4
"""A turn smaller than this (a hundredth of a millimetre in 100) is no break."""
_MOST_SWING = math.radians(20)
"""Beyond this the edge that has just the length asked would be a wave, not a smoothed edge."""


@dataclass(frozen=True, slots=True)
class Mended:
    """One reshaped stretch: the edge it lies on, whether its length was kept, and by how much it moved."""

    edge: str
    kept: bool
    length_mm: float
    deviation_mm: float
    reach_mm: float

    def finding(self, piece: str, step: str) -> Finding:
        """What it has to say."""
        what = "keeps its length" if self.kept else "is smoothed"
        message = (
            f"the {self.edge} {what}, over {self.reach_mm:.0f} mm beside its breaks, and lies at most "
            f"{self.deviation_mm:.1f} mm from the broken line"
        )
        return Finding("note", "edge-blended", piece, message, step)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Part of a run, as arc lengths from its start; `opened` where openings lie in it."""

    start: float
    end: float
    reach: float
    opened: bool


def mended(
    piece: Piece,
    breaks: Sequence[Material],
    step: str,
    reach: float | None = None,
    lengths: Sequence[tuple[tuple[Label, ...], float]] = (),
) -> tuple[Piece, tuple[Mended, ...]]:
    """Smooth every edge in which a break or an opening of this step lies.

    `lengths` gives edges (see `edge_group`) the length wanted in all; their opened stretches take up the
    difference. Raises CannotApply where no smooth edge can be had.
    """
    more = {label: by for labels, by in _differences(piece, breaks, step, reach, lengths) for label in labels}
    told: list[Mended] = []
    changes: list[tuple[Run, Run]] = []
    for run in _runs(piece):
        stretches = _stretches(run, frozenset(breaks), step, reach)
        if stretches:
            changes.append((run, _reshaped(run, stretches, step, more.get(run[0].label, 0.0), told)))
    return with_runs(piece, changes) if changes else piece, tuple(told)


def _differences(
    piece: Piece,
    breaks: Sequence[Material],
    step: str,
    reach: float | None,
    lengths: Sequence[tuple[tuple[Label, ...], float]],
) -> Iterator[tuple[tuple[Label, ...], float]]:
    """For each length wanted: how much each opened stretch of the edge must be longer than it falls."""
    for labels, wanted in lengths:
        natural = natural_length(piece, breaks, step, reach, labels)
        runs = [r for r in _runs(piece) if r[0].label in labels]
        count = sum(s.opened for run in runs for s in _stretches(run, frozenset(breaks), step, reach))
        if count:
            yield labels, (wanted - natural) / count


def natural_length(
    piece: Piece, breaks: Sequence[Material], step: str, reach: float | None, labels: Sequence[Label]
) -> float:
    """The length in mm that these edges take together when mended with no length wanted."""
    out = 0.0
    for run in (r for r in _runs(piece) if r[0].label in labels):
        out += sum(s.length for s in run)
        for stretch in _stretches(run, frozenset(breaks), step, reach):
            if stretch.opened:
                part = parted(run, (stretch.start, stretch.end))[1]
                out += faired_length(part, stretch.reach) - sum(s.length for s in part)
    return out


def edge_group(piece: Piece, label: Label) -> tuple[Label, ...]:
    """The label with those that run on from it under the same name: the left and the right half of a hem."""
    for run in _runs(piece):
        found = tuple(dict.fromkeys(s.label for s in run))
        if label in found and len(found) > 1:
            return found
    return (label,)


def _runs(piece: Piece) -> list[Run]:
    """Spans of one edge that follow each other without a dart between; left and right halves run on."""
    spans = piece.outline
    n = len(spans)
    solid = [s.label.role != "dart leg" for s in spans]

    def joins(i: int) -> bool:
        a, b = spans[i - 1].label, spans[i].label
        return solid[i - 1] and solid[i] and a.same_on_either_side(b)

    first = next((i for i in range(n) if not joins(i)), 0)
    out: list[list[Span]] = []
    for i in (*range(first, n), *range(first)):
        if not solid[i]:
            continue
        if joins(i) and i != first:
            out[-1].append(spans[i])
        else:
            out.append([spans[i]])
    return [tuple(run) for run in out]


def _stretches(
    run: Sequence[Span], breaks: frozenset[Material], step: str, reach: float | None
) -> list[_Stretch]:
    """Where to reshape: about each break, neighbours within each other's reach taken together."""
    total = sum(s.length for s in run)
    found: list[tuple[float, float, bool]] = []
    before = 0.0
    for span, follower in zip(run, (*run[1:], None), strict=True):
        after = before + span.length
        if span.origin.step == step:
            found.append((before, after, True))
        elif follower and (span.origin, span.hi) in breaks and _is_broken(span, follower, step):
            found.append((after, after, False))
        before = after
    if not found:
        return []
    window = reach if reach is not None else _window(found)
    out: list[_Stretch] = []
    for a, b, opened in found:
        start, end = max(0.0, a - window), min(total, b + window)
        if out and start <= out[-1].end:
            out[-1] = _Stretch(out[-1].start, end, window, out[-1].opened or opened)
        else:
            out.append(_Stretch(start, end, window, opened))
    return out


def _is_broken(span: Span, follower: Span, step: str) -> bool:
    turn = cmath.phase(follower.curve.tangent(0) / span.curve.tangent(1))
    return follower.origin.step != step and abs(turn) > _SMOOTH_RAD


def _window(found: Sequence[tuple[float, float, bool]]) -> float:
    middles = sorted((a + b) / 2 for a, b, _ in found)
    gaps = sorted(y - x for x, y in pairwise(middles) if y - x > SAME_POINT_MM)
    usual = gaps[len(gaps) // 2] if gaps else _MOST_REACH_MM / 2
    return min(_MOST_REACH_MM, max(_LEAST_REACH_MM, _REACH_PER_GAP * usual))


def _reshaped(run: Run, stretches: Sequence[_Stretch], step: str, more: float, told: list[Mended]) -> Run:
    """The run with every stretch smoothed, from the far end backwards so that arc lengths stay true."""
    new = run
    for stretch in reversed(stretches):
        before, within, after = parted(new, (stretch.start, stretch.end))
        length = faired_length(within, stretch.reach) + more if stretch.opened else None
        edges = " and ".join(dict.fromkeys(s.label.key for s in within))
        done = _smooth(within, stretch.reach, step, length, edges)
        new = (*before, *done.spans, *after)
        told.append(Mended(edges, not stretch.opened, done.length_mm, done.deviation_mm, done.reach_mm))
    return new


def _smooth(within: Sequence[Span], reach: float, step: str, length: float | None, edges: str) -> Blended:
    """The stretch blended, or CannotApply with what to do instead."""
    hint = "open it less, give another reach, or ask for no blending and true the edge by hand"
    try:
        done = blended(within, reach, step, length)
    except CannotApply as problem:
        raise CannotApply(problem.code, edges, problem.message, hint) from None
    swing = _swing(within, done.spans)
    if swing > _MOST_SWING:
        raise CannotApply(
            "blend",
            edges,
            f"to be smooth and {done.length_mm:.1f} mm long between these ends it would have to swing "
            f"{math.degrees(swing):.0f} degrees beyond its own directions",
            hint,
        )
    return done


def _swing(old: Sequence[Span], new: Sequence[Span]) -> float:
    """By how much the new line's directions reach beyond those of the old one, in radians."""
    home = old[0].curve.tangent(0)
    low, high = _directions(old, home)
    new_low, new_high = _directions(new, home)
    return max(low - new_low, new_high - high)


def _directions(spans: Sequence[Span], home: complex) -> tuple[float, float]:
    """Least and greatest direction along a run, in radians from `home`, turns added up."""
    at, found, last = 0.0, [0.0], home
    for span in spans:
        for i in range(9):
            way = span.curve.tangent(i / 8)
            at += cmath.phase(way / last)
            last = way
            found.append(at)
    return min(found), max(found)


def edge_bend(piece: Piece, labels: Sequence[Label]) -> tuple[float, float]:
    """How an edge bends: total turn in radians, left positive, and least radius in mm (inf: straight).

    Corners between spans count as turn. Darts on it are passed over.
    """
    turn, tightest = 0.0, 0.0
    for label in labels:
        spans = piece.edge(label)
        for k, span in enumerate(spans):
            knots = [span.curve.tangent(i / 8) for i in range(9)]
            turn += sum(cmath.phase(b / a) for a, b in pairwise(knots))
            tightest = max(tightest, *(abs(span.curve.curvature(i / 8)) for i in range(9)))
            if k and abs(spans[k - 1].curve.end - span.curve.start) < SAME_POINT_MM:
                turn += cmath.phase(knots[0] / spans[k - 1].curve.tangent(1))
    return turn, 1 / tightest if tightest > 1e-9 else math.inf
