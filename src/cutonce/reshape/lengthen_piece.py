"""A piece with its new lower part put on: outline, hem, landmark lines, marks, darts pointed at both ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, InnerLine, Piece
from cutonce.draft.span import CENTRES, EdgeMark, Gone, Label, Span, born_along
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path, reversed_path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.laid_along import relaid
from cutonce.reshape.lengthen import NEXT_TO_SIDE, Bottom, Course, hem_curve
from cutonce.reshape.openings import kept_on_cloth
from cutonce.reshape.runs import Run, parted, turned, with_runs


@dataclass(frozen=True, slots=True)
class Lower:
    """What one piece gets: its sides' courses, the levels of hem and hip (None: it has its own) at the
    centre, and how far its darts reach below the waist."""

    bottom: Bottom
    courses: tuple[Course, ...]
    hem: float
    hip: float | None
    dart_below: float


def with_lower_part(lower: Lower, step: str) -> tuple[Piece, tuple[Gone, ...]]:
    """The piece drawn on below, and tombstones of the lower edge and the legs that opened on it."""
    bottom = lower.bottom
    piece = bottom.piece
    drawn = _spans_below(lower, step)
    changes: list[tuple[Run, Run]] = [(bottom.run, drawn)]
    for course in lower.courses:
        if course.above is not None:
            changes.append((course.corner.old, _rounded(course, course.above, step)))
    gone = tuple(
        Gone(piece.key, s.label, s.origin, s.lo, s.hi, step, "drew the piece on below it") for s in bottom.run
    )
    legs = {s.label for s in bottom.run if s.label.role == "dart leg"}
    opened = [d for d in piece.darts if d.label in legs]
    taken = {s.origin for s in bottom.run}
    new = replace(
        with_runs(piece, changes),
        darts=tuple(d for d in piece.darts if d not in opened),
        double_darts=piece.double_darts + _double_darts(piece, lower, opened),
        marks=tuple(m for m in piece.marks if m.origin not in taken) + _marks(lower, drawn),
        lines=_lines(lower),
    )
    return new, gone


def _spans_below(lower: Lower, step: str) -> Run:
    """The new outline from the end of the span before the old lower edge to the start of the one after it."""
    bottom = lower.bottom
    foot = complex(bottom.centre.real, lower.hem)
    first = next((c for c in lower.courses if c.corner.at_start), None)
    last = next((c for c in lower.courses if not c.corner.at_start), None)
    hems: list[tuple[Label, Path]] = []
    edges = [s.label for s in bottom.run if s.label.role != "dart leg"]
    if first is not None:
        hems.append((_hem_label(edges[0]), reversed_path(_hem(foot, first))))
    if last is not None:
        hems.append((_hem_label(edges[-1]), _hem(foot, last)))
    down: Path = first.path if first else (Line(bottom.run[0].curve.start, foot),)
    up: Path = reversed_path(last.path) if last else (Line(foot, bottom.run[-1].curve.end),)
    runs = [(bottom.before.label, down), *hems, (bottom.after.label, up)]
    return tuple(s for label, line in runs for s in born_along(line, label, step))


def _hem_label(label: Label) -> Label:
    return Label("hem", "hem", label.wearer)


def _hem(foot: Point, course: Course) -> Path:
    """From the centre to the side's foot, square to both."""
    along = course.corner.outward * 1j * course.path[-1].tangent(1)
    return (hem_curve(foot, course.foot, along),)


def _rounded(course: Course, above: Cubic, step: str) -> Run:
    """The old side with its last stretch laid along the rounding."""
    down = course.corner.down
    kept, last = parted(down, (sum(s.length for s in down) - course.reach,))
    new = kept + relaid(last, (above,), step)
    return new if course.corner.at_start else turned(new)


def _double_darts(piece: Piece, lower: Lower, opened: Sequence[Dart]) -> tuple[DoubleDart, ...]:
    """The darts of the lower edge, pointed below too, on their middle lines."""
    if lower.hip is None:
        return ()
    out: list[DoubleDart] = []
    for dart in opened:
        p, q = piece.mouth(dart)
        tip, middle = piece.dart_tip(dart), (p + q) / 2
        beyond = _beyond(piece, lower.bottom.centre, dart, opened)
        reach = min(lower.dart_below * (NEXT_TO_SIDE if beyond else 1.0), 0.9 * (middle.imag - lower.hip))
        point = middle + (middle - tip) / abs(middle - tip) * reach
        left, right = (p, q) if p.real < q.real else (q, p)
        out.append(DoubleDart(dart.name, tip, point, left, right, dart.wearer))
    return tuple(out)


def _beyond(piece: Piece, centre: Point, dart: Dart, opened: Sequence[Dart]) -> bool:
    """Does another dart of the same side lie nearer the centre?"""
    here = abs(piece.pivot(dart).real - centre.real)
    return any(d.wearer == dart.wearer and abs(piece.pivot(d).real - centre.real) < here - 1 for d in opened)


def _marks(lower: Lower, drawn: Run) -> tuple[EdgeMark, ...]:
    """Waist and hip on sides and centre, the centre on the hem."""
    bottom = lower.bottom
    known = {(m.name, m.origin) for m in bottom.piece.marks}
    found: list[EdgeMark] = []

    def mark(name: str, span: Span, at: float, printed: bool = True) -> None:
        if (name, span.origin) not in known:
            found.append(EdgeMark(name, span.origin, at, printed))

    if lower.hip is not None:
        mark("waist", bottom.before, bottom.before.hi)
        mark("waist", bottom.after, bottom.after.lo)
        for span in drawn:
            if span.label.role in CENTRES:
                start, end = span.curve.start.imag, span.curve.end.imag
                mark("hip", span, (start - lower.hip) / (start - end) * span.length)
        for course in lower.courses:
            joint = next(s for s in drawn if s.label == course.corner.label and _touches(s, course.hip))
            at_end = abs(joint.curve.end - course.hip) < SAME_POINT_MM
            mark("hip", joint, joint.hi if at_end else joint.lo)
    hems = [s for s in drawn if s.label.role == "hem"]
    name = _centre_name(bottom)
    if name:
        for span in hems:
            on_centre = [
                abs(z.real - bottom.centre.real) < SAME_POINT_MM for z in (span.curve.start, span.curve.end)
            ]
            if any(on_centre):
                mark(name, span, span.lo if on_centre[0] else span.hi)
    return tuple(found)


def _touches(span: Span, z: Point) -> bool:
    return min(abs(span.curve.start - z), abs(span.curve.end - z)) < SAME_POINT_MM


def _centre_name(bottom: Bottom) -> str:
    """What the centre is called on the hem: as its edge, else as the old lower edge was marked."""
    for span in (bottom.before, bottom.after):
        if span.label.role in CENTRES:
            return span.label.name
    origins = {s.origin for s in bottom.run}
    return next((m.name for m in bottom.piece.marks if m.name in CENTRES and m.origin in origins), "")


def _lines(lower: Lower) -> tuple[InnerLine, ...]:
    """The piece's lines, with waist and hip drawn anew."""
    bottom = lower.bottom
    if lower.hip is None:
        return bottom.piece.lines
    kept = tuple(x for x in bottom.piece.lines if x.name not in ("waist", "hip"))
    new: list[InnerLine] = []
    for course in lower.courses:
        label = bottom.run[0 if course.corner.at_start else -1].label
        new.append(InnerLine("waist", _bridged(bottom.run, label), wearer=label.wearer))
        hip: Curve = Line(complex(bottom.centre.real, lower.hip), course.hip)
        new.append(
            InnerLine("hip", (hip.reversed() if course.corner.at_start else hip,), wearer=label.wearer)
        )
    return kept + tuple(new)


def _bridged(run: Run, label: Label) -> Path:
    """The old edge as one line, straight across the mouths of its darts."""
    out: list[Curve] = []
    for span in run:
        if span.label == label:
            if out and abs(out[-1].end - span.curve.start) > SAME_POINT_MM:
                out.append(Line(out[-1].end, span.curve.start))
            out.append(span.curve)
    return tuple(out)


def drawn_on(draft: Draft, lowers: Sequence[Lower], step: str) -> Draft:
    """The draft with every piece's lower part put on; finishes of the old lower edges go with them."""
    before = draft
    gone_labels: set[tuple[str, Label]] = set()
    for lower in lowers:
        piece, gone = with_lower_part(lower, step)
        gone_labels |= {(piece.key, e) for e in lower.bottom.piece.labels if e not in piece.labels}
        draft = draft.with_pieces([piece], gone)
    drawn = tuple(replace(d, edges=tuple(e for e in d.edges if e not in gone_labels)) for d in draft.drawn)
    return kept_on_cloth(
        before,
        replace(
            draft,
            finishes=tuple((ref, f) for ref, f in draft.finishes if ref not in gone_labels),
            drawn=tuple(d for d in drawn if d.edges),
        ),
    )
