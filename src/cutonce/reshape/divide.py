"""Dividing a piece along a line between two places on its outline: the ground of style lines and panels.

The line is given as it is drawn with darts folded: darts that it crosses are closed for the drawing and
opened again on the side that holds their pivot; on the other side they stay closed, and the cloth beside
them is one.
"""

from __future__ import annotations

import cmath
import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, DoubleDart, InnerLine, Piece
from cutonce.draft.span import Label, Span, born_along
from cutonce.errors import CannotApply
from cutonce.geometry import path
from cutonce.geometry.curve import Curve
from cutonce.geometry.meet import meetings
from cutonce.geometry.motion import STILL, Motion, Point, turning
from cutonce.geometry.region import inside
from cutonce.geometry.tolerance import FLATTEN_MM, SAME_POINT_MM
from cutonce.reshape.nodes import node_at, split_outline
from cutonce.reshape.places import Spot
from cutonce.reshape.runs import closed

_END_MM = 0.01
"""A line may touch the border this near its own ends: where it leaves along an edge the two are one there."""

_LEAST_AREA_MM2 = 1.0
"""A part smaller than a pinhead is none."""


@dataclass(frozen=True, slots=True)
class Fold:
    """A dart folded for drawing: beyond it, `closed` maps the flat piece to where it lies when folded."""

    dart: Dart
    legs: tuple[int, int]
    closed: Motion


@dataclass(frozen=True, slots=True)
class Divided:
    """`one` lies left of the line from a to b, `two` right of it; both have the new edge under its label."""

    one: Piece
    two: Piece


def folds_between(piece: Piece, outline: tuple[Span, ...], a: int, b: int) -> tuple[Fold, ...]:
    """Darts that open on the outline between node a and node b (counter-clockwise), each with the motion that
    closes it and all before it."""
    n = len(outline)
    out: list[Fold] = []
    closed = STILL
    for i in ((a + k) % n for k in range((b - a) % n - 1)):
        nxt = (i + 1) % n
        if outline[i].label.role == "dart leg" and outline[nxt].label == outline[i].label:
            pivot, away = outline[i].curve.end, outline[nxt].curve.end
            turn = cmath.phase((outline[i].curve.start - pivot) / (away - pivot))
            closed = closed.after(turning(turn, pivot))
            dart = next(d for d in piece.darts if d.label == outline[i].label)
            out.append(Fold(dart, (i, nxt), closed))
    return tuple(out)


def divide(
    piece: Piece,
    a: Spot,
    b: Spot,
    line: Sequence[Curve],
    label: Label,
    step: str,
    called: str = "the line",
) -> Divided:
    """Divide along `line`, which runs from a to b as drawn with the darts that open between a and b
    (counter-clockwise) folded.

    Raises CannotApply where the line leaves the piece (line-leaves), or crosses a dart that opens on the
    other side (crosses-dart); the message names it as `called`.
    """
    outline = split_outline(piece.outline, [a.on_cloth, b.on_cloth])
    ends = node_at(outline, a.on_cloth), node_at(outline, b.on_cloth)
    if ends[0] == ends[1]:
        raise CannotApply("line-misses", piece.key, f"the {label.name} starts and ends at one place")
    return divide_at(piece, outline, ends, line, label, step, called=called)


def divide_at(
    piece: Piece,
    outline: tuple[Span, ...],
    ends: tuple[int, int],
    line: Sequence[Curve],
    label: Label,
    step: str,
    two_line: Sequence[Curve] = (),
    called: str = "the line",
) -> Divided:
    """As `divide`, from node to node of an outline that has been split there.

    `two_line` gives the second part another course between the same ends (a dart taken into the seam).

    An end may be the pivot of a dart: its legs then lie in different parts, still called dart legs. Where
    both ends are pivots at one point the line is empty.
    """
    na, nb = ends
    n = len(outline)
    folds = crossed_folds(folds_between(piece, outline, na, nb), outline, line)
    far_side = [outline[(nb + k) % n] for k in range((na - nb) % n)]
    cut_off = _closed_arc(outline, na, nb, folds)
    spans = _line_spans(line, label, step)
    opened = _opened(spans, folds, outline)
    _refuse_crossings(piece, far_side, [s.curve for s in opened if s.label == label], called)
    _refuse_crossings(piece, cut_off, two_line or line, called)
    one = far_side + opened
    back = _line_spans(two_line, label, step, spans) if two_line else spans
    two = cut_off + [s.reversed() for s in reversed(back)]
    parts = _with_outline(piece, one), _with_outline(piece, two)
    _refuse_nothing_beyond(parts, piece, called)
    return Divided(
        _keeping(parts[0], piece, lambda _: STILL),
        _keeping(parts[1], piece, lambda z: frame_at(folds, outline, z)),
    )


def frame_at(folds: Sequence[Fold], outline: tuple[Span, ...], z: Point) -> Motion:
    """The motion of the last fold beyond which a point of the flat piece lies."""
    frame = STILL
    for fold in folds:
        pivot, away = outline[fold.legs[0]].curve.end, outline[fold.legs[1]].curve.end
        if ((away - pivot).conjugate() * (z - pivot)).imag > 0:
            frame = fold.closed
    return frame


def _line_spans(line: Sequence[Curve], label: Label, step: str, beside: Sequence[Span] = ()) -> list[Span]:
    """Spans of the new edge; those `beside`, of the other part's course, lend their material stretches."""
    out = born_along(line, label, step)
    if len(beside) == len(out):
        return [replace(s, lo=b.lo, hi=b.hi) for s, b in zip(out, beside, strict=True)]
    return out


def crossed_folds(
    folds: Sequence[Fold], outline: tuple[Span, ...], line: Sequence[Curve]
) -> tuple[Fold, ...]:
    """The folds whose legs the line crosses, their motions rebuilt from those alone."""
    kept: list[Fold] = []
    closed = STILL
    for fold in folds:
        leg = outline[fold.legs[0]].curve.moved(closed)
        if any(meetings(curve, leg) for curve in line):
            i, nxt = fold.legs
            pivot = outline[i].curve.end
            away = outline[nxt].curve.end
            turn = cmath.phase((outline[i].curve.start - pivot) / (away - pivot))
            closed = closed.after(turning(turn, pivot))
            kept.append(replace(fold, closed=closed))
    return tuple(kept)


def _refuse_crossings(piece: Piece, border: Sequence[Span], line: Sequence[Curve], called: str) -> None:
    """Refuse a line that meets the border anywhere but at its own ends."""
    for span in border:
        for curve in line:
            for t, _ in meetings(curve, span.curve):
                at = curve.at(t)
                if min(abs(at - line[0].start), abs(at - line[-1].end)) > _END_MM:
                    code, does = ("line-leaves", "leaves the piece at")
                    if span.label.role == "dart leg":
                        code, does = ("crosses-dart", "crosses")
                    message = f"{called} {does} the {span.label.key}"
                    raise CannotApply(code, piece.key, message, "move an end or a point")


def _refuse_nothing_beyond(parts: tuple[Piece, Piece], piece: Piece, called: str) -> None:
    least = min(p.area for p in parts)
    if least < -_LEAST_AREA_MM2:
        raise CannotApply(
            "line-leaves", piece.key, f"{called} lies outside the piece", "move an end or a point"
        )
    if least < _LEAST_AREA_MM2:
        raise CannotApply(
            "line-on-edge", piece.key, f"{called} runs along an edge: nothing lies beyond it", "move an end"
        )


def _opened(spans: list[Span], folds: Sequence[Fold], outline: tuple[Span, ...]) -> list[Span]:
    """The new edge for the side that holds the pivots: cut at each crossed leg and opened again."""
    out: list[Span] = []
    rest = spans
    before = STILL
    for fold in folds:
        i, nxt = fold.legs
        ahead, rest = _cut_at_leg(rest, outline[i].curve.moved(before))
        out += [s.moved(before.inverse()) for s in ahead]
        at = out[-1].curve.end
        radius = abs(at - outline[i].curve.end)
        inward = outline[i].split(outline[i].length - radius)[1]
        outward = outline[nxt].split(radius)[0]
        out += [replace(inward, curve=replace(inward.curve, a=at)), outward]
        before = fold.closed
    out += [s.moved(before.inverse()) for s in rest]
    return out


def _cut_at_leg(spans: list[Span], leg: Curve) -> tuple[list[Span], list[Span]]:
    for k, span in enumerate(spans):
        hits = meetings(span.curve, leg)
        if hits:
            s = span.curve.length_to(hits[0][0])
            if s < SAME_POINT_MM:
                return spans[:k], spans[k:]
            if s > span.length - SAME_POINT_MM:
                return spans[: k + 1], spans[k + 1 :]
            left, right = span.split(s)
            return [*spans[:k], left], [right, *spans[k + 1 :]]
    raise CannotApply("line-misses", "", "the line passes a dart beside its legs", "draw it through the dart")


def _closed_arc(outline: tuple[Span, ...], na: int, nb: int, folds: Sequence[Fold]) -> list[Span]:
    """The outline from a to b with the crossed darts closed and their legs dropped."""
    n = len(outline)
    legs = {k: fold for fold in folds for k in fold.legs}
    out: list[Span] = []
    frame = STILL
    for k in ((na + j) % n for j in range((nb - na) % n)):
        if k in legs:
            frame = legs[k].closed
            continue
        out.append(outline[k].moved(frame))
    return out


def _with_outline(piece: Piece, spans: list[Span]) -> Piece:
    """The piece with this outline, ends joined exactly."""
    return replace(piece, outline=closed(spans))


def kept_inside(part: Piece, whole: Piece) -> Piece:
    """A part of a piece with what lay inside the piece and lies inside the part: points, lines, darts."""
    return _keeping(part, whole, lambda _: STILL)


def _keeping(part: Piece, whole: Piece, frame: Callable[[Point], Motion]) -> Piece:
    """The part with what lay inside the whole piece and lies inside it, moved by its frame."""
    border = path.flattened([s.curve for s in part.outline], FLATTEN_MM * 5)
    legs = {s.label for s in part.outline if s.label.role == "dart leg"}
    fold = next((e for e in part.labels if whole.fold is not None and e.same_edge(whole.fold)), None)
    placed = [replace(x, curves=tuple(c.moved(frame(c.at(0.5))) for c in x.curves)) for x in whole.lines]
    lines = (replace(x, curves=_inside_part(x, part, border)) for x in placed)
    points = [replace(p, at=frame(p.at)(p.at)) for p in whole.points]
    darts = [d.moved(frame(d.left)) for d in whole.double_darts]
    at = whole.grain.at if inside(border, whole.grain.at) else _middle(border)
    return replace(
        part,
        darts=tuple(d for d in whole.darts if d.label in legs),
        double_darts=tuple(d for d in darts if _holds(border, d)),
        points=tuple(p for p in points if inside(border, p.at) or _on(border, p.at)),
        lines=tuple(x for x in lines if x.curves),
        grain=replace(whole.grain, at=at),
        fold=fold,
        cut=whole.cut if fold or whole.cut != "fold" else "pair",
    )


def lines_within(piece: Piece) -> tuple[InnerLine, ...]:
    """The piece's inner lines, cut off where they leave it."""
    border = path.flattened([s.curve for s in piece.outline], FLATTEN_MM * 5)
    cut = (replace(x, curves=_inside_part(x, piece, border)) for x in piece.lines)
    return tuple(x for x in cut if x.curves)


def _holds(border: Sequence[Point], dart: DoubleDart) -> bool:
    return inside(border, dart.middle)


def _on(border: Sequence[Point], z: Point) -> bool:
    return any(abs(z - p) < SAME_POINT_MM for p in border)


def _middle(border: Sequence[Point]) -> Point:
    """A point well inside: the middle of the widest level run through a border of points."""
    low, high = min(p.imag for p in border), max(p.imag for p in border)
    best = (0.0, border[0])
    for share in (0.5, 0.4, 0.6, 0.3, 0.7):
        y = low + share * (high - low) + 1e-7
        xs = sorted(
            p.real + (y - p.imag) / (q.imag - p.imag) * (q.real - p.real)
            for p, q in zip(border, [*border[1:], border[0]], strict=True)
            if (p.imag > y) != (q.imag > y)
        )
        for left, right in zip(xs[::2], xs[1::2], strict=False):
            best = max(best, (right - left, complex((left + right) / 2, y)), key=lambda r: r[0])
    return best[1]


def _inside_part(line: InnerLine, part: Piece, border: Sequence[Point]) -> tuple[Curve, ...]:
    out: list[Curve] = []
    for curve in line.curves:
        cuts = {t for s in part.outline for t, _ in meetings(curve, s.curve)}
        stops = [0.0, *sorted(t for t in cuts if 1e-6 < t < 1 - 1e-6), 1.0]
        for t0, t1 in itertools.pairwise(stops):
            if t1 - t0 > 1e-9 and inside(border, curve.at((t0 + t1) / 2)):
                out.append(curve.part(t0, t1))
    return tuple(out)
