"""A garment with its hem drawn anew: seams cut off or run on, partners by the same length, and what hangs on
them brought along."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Opening
from cutonce.draft.span import CENTRES, Gone, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import meetings
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.divide import kept_inside
from cutonce.reshape.edge_names import tidied
from cutonce.reshape.hem_law import HemLaw
from cutonce.reshape.hem_line import Hanging, NewHem, SeamEnd
from cutonce.reshape.hem_round import Hem, HemRun, Joint
from cutonce.reshape.runs import closed
from cutonce.reshape.seams import replaced_piece
from cutonce.reshape.soundness import refuse_crossing

_LEAST_LEFT_MM = 5.0
"""A seam is not cut off nearer to its other end, or to a dart, than this."""


@dataclass(frozen=True, slots=True)
class _Seam:
    """An edge beside a hem, its spans in order away from the hem, as far as the first dart or its end."""

    joint: Joint
    spans: tuple[Span, ...]

    @property
    def down(self) -> complex:
        curve = self.spans[0].curve
        return -curve.tangent(0) if self.joint.at_start else curve.tangent(1)

    @property
    def length(self) -> float:
        return sum(s.length for s in self.spans)


@dataclass(frozen=True, slots=True)
class _Cut:
    """Its new end, the spans in its place and those cut off."""

    end: SeamEnd
    spans: tuple[Span, ...]
    off: tuple[Span, ...] = ()


def hangings(draft: Draft, hem: Hem) -> tuple[Hanging, ...]:
    """The lines of hanging of each run. Raises CannotApply where a seam runs along the hem."""
    return tuple(
        Hanging(run, _seam_beside(piece, run, run.before).down, _seam_beside(piece, run, run.after).down)
        for run in hem.runs
        for piece in [draft.piece(run.piece)]
    )


def rehemmed(draft: Draft, hem: Hem, law: HemLaw, step: str, smooth: bool = False) -> Draft:
    """The draft with the hem moved down by a law (up, where that is below 0).

    Both partners of a seam change by the same length; the gathered side of a gather by its ratio more. With
    `smooth`, partners' hems are turned near their seam so that they run on across it without a corner.
    Raises CannotApply where a seam is too short to be cut off, or the hem would cross another edge or a dart.
    """
    plans = [_planned(draft, hanging, law, step) for hanging in hangings(draft, hem)]
    if smooth:
        for plan, turns in zip(plans, _turns(plans, hem), strict=True):
            plan.new.turn_ends(*turns)
    after = draft
    for plan in plans:
        after = _drawn(after, plan, step)
    _refuse_torn_seams(draft, after)
    return _openings_followed(draft, after, hem, law)


@dataclass(frozen=True, slots=True)
class _Plan:
    """A run, the seams beside it as they were and as they will be, and its new line."""

    run: HemRun
    beside: tuple[_Seam, _Seam]
    start: _Cut
    end: _Cut
    new: NewHem


def _planned(draft: Draft, hanging: Hanging, law: HemLaw, step: str) -> _Plan:
    run = hanging.run
    piece = draft.piece(run.piece)
    before, after = _seam_beside(piece, run, run.before), _seam_beside(piece, run, run.after)
    start = _cut(before, amount(run.before, law.drop(run.start)), step)
    end = _cut(after, amount(run.after, law.drop(run.end)), step)
    return _Plan(run, (before, after), start, end, NewHem(hanging, law, (start.end, end.end)))


def _turns(plans: Sequence[_Plan], hem: Hem) -> list[tuple[float, float]]:
    """By how much each run's hem must turn at its ends, counter-clockwise, to run on across the seams."""
    n = len(plans)
    corners = [p.new.corners for p in plans]
    out = []
    for i, plan in enumerate(plans):
        before: float | None = corners[i - 1][1] if i or hem.closed else None
        after: float | None = corners[(i + 1) % n][0] if i + 1 < n or hem.closed else None
        if hem.half:
            before = corners[i][0] if before is None and _at_fold(plan.run.before) else before
            after = corners[i][1] if after is None and _at_fold(plan.run.after) else after
        start = 0.0 if before is None else (corners[i][0] + before - math.pi) / 2
        end = 0.0 if after is None else -(corners[i][1] + after - math.pi) / 2
        out.append((start, end))
    return out


def _at_fold(joint: Joint) -> bool:
    return joint.mirrored or joint.edge.role in CENTRES


def amount(joint: Joint, drop: float) -> float:
    """By how much a seam changes where the hem drops: more on the gathered side of a gather."""
    seam = joint.seam
    gathered = seam is not None and joint.is_a and seam.relation.kind == "gather" and not joint.mirrored
    return drop * (seam.relation.ratio or 1.0) if gathered and seam is not None else drop


def _drawn(draft: Draft, plan: _Plan, step: str) -> Draft:
    """The draft with one run of hem drawn anew."""
    run = plan.run
    piece = draft.piece(run.piece)
    known = (run.spans[0].origin, run.spans[0].lo)
    first = next(i for i, s in enumerate(piece.outline) if (s.origin, s.lo) == known)
    rest = (piece.outline[first:] + piece.outline[:first])[len(run.spans) :]
    hem = plan.new.spans(plan.start.end.point, plan.end.end.point, step)
    before, after = plan.beside
    kept = rest[len(after.spans) : len(rest) - len(before.spans)]
    outline = closed([*hem, *plan.end.spans, *kept, *reversed(plan.start.spans)])
    new = replace(piece, outline=_beginning_like(piece.outline[0], outline))
    _refuse_crossings(piece, new, hem)
    off = (*plan.start.off, *plan.end.off)
    if not off:
        return draft.with_pieces([new])
    gone = [Gone(piece.key, s.label, s.origin, s.lo, s.hi, step, "cut it off at the new hem") for s in off]
    seams = {s.name for s in draft.seams}
    redrawn = replaced_piece(draft, piece.key, [kept_inside(new, piece)], gone)
    return tidied(redrawn, piece.key, seams - {s.name for s in redrawn.seams})


def _seam_beside(piece: Piece, run: HemRun, joint: Joint) -> _Seam:
    outline = piece.outline
    n = len(outline)
    edge = run.spans[-1] if joint.at_start else run.spans[0]
    at = next(i for i, s in enumerate(outline) if s is edge)
    step = 1 if joint.at_start else -1
    spans: list[Span] = []
    for k in range(1, n):
        span = outline[(at + step * k) % n]
        if not span.label.same_edge(joint.edge):
            break
        spans.append(span)
    return _Seam(joint, tuple(spans))


def _cut(seam: _Seam, more: float, step: str) -> _Cut:
    """The seam run on straight by `more` mm, or cut off where that is below 0."""
    corner = seam.spans[0].curve.start if seam.joint.at_start else seam.spans[0].curve.end
    if abs(more) < SAME_POINT_MM:
        return _Cut(SeamEnd(corner, seam.down), seam.spans)
    if more > 0:
        to = corner + more * seam.down
        line = Line(to, corner) if seam.joint.at_start else Line(corner, to)
        label = seam.spans[0].label
        added = born(line, label, step, name=f"{label.key} to the hem")
        return _Cut(SeamEnd(to, seam.down), (added, *seam.spans))
    return _cut_off(seam, -more)


def _cut_off(seam: _Seam, less: float) -> _Cut:
    if less > seam.length - _LEAST_LEFT_MM:
        raise CannotApply(
            "past-end",
            f"{seam.joint.piece}, {seam.joint.edge.key}",
            f"it cannot lose {less:.1f} mm: it ends, or a dart opens, {seam.length:.1f} mm above the hem",
        )
    off: list[Span] = []
    for k, span in enumerate(seam.spans):
        if less >= span.length - SAME_POINT_MM:
            off.append(span)
            less -= span.length
            continue
        near, far = span, span
        if less > SAME_POINT_MM:
            one, two = span.split(less if seam.joint.at_start else span.length - less)
            near, far = (one, two) if seam.joint.at_start else (two, one)
            off.append(near)
        point = far.curve.start if seam.joint.at_start else far.curve.end
        down = -far.curve.tangent(0) if seam.joint.at_start else far.curve.tangent(1)
        return _Cut(SeamEnd(point, seam.down, down / seam.down), (far, *seam.spans[k + 1 :]), tuple(off))
    raise ValueError("the seam is shorter than it was measured")


def _beginning_like(span: Span, outline: tuple[Span, ...]) -> tuple[Span, ...]:
    """The outline turned so that it begins with the first cloth of a span, if it still has that."""
    for i, s in enumerate(outline):
        if s.origin == span.origin and s.lo == span.lo:
            return outline[i:] + outline[:i]
    return outline


def _refuse_crossings(old: Piece, new: Piece, hem: Sequence[Span]) -> None:
    """Raise CannotApply where the new hem runs into another edge or a dart."""
    for span in new.outline:
        if span.label.role == "dart leg" and any(meetings(span.curve, h.curve) for h in hem):
            raise _in_the_way(old, span.label.name)
    for dart in old.double_darts:
        if any(meetings(side, h.curve) for side in dart.sides for h in hem):
            raise _in_the_way(old, dart.name)
    refuse_crossing(new, "the new hem would cross another edge, or itself", "move it less far")


def _in_the_way(piece: Piece, dart: str) -> CannotApply:
    return CannotApply(
        "dart-in-the-way", piece.key, f"the new hem would cut through the {dart}", "take it out or shorten it"
    )


def _refuse_torn_seams(before: Draft, after: Draft) -> None:
    """Raise CannotApply where one side of a seam has been cut off wholly and its partner has not."""
    labels = {(p.key, e) for p in after.pieces for e in p.labels}
    for seam in before.seams:
        gone = [all((s.piece, e) not in labels for e in s.labels) for s in (seam.a, seam.b)]
        if gone[0] != gone[1]:
            side = seam.a if gone[0] else seam.b
            raise CannotApply(
                "seam-cut-off",
                side.piece,
                f"the hem would cut off this side of the seam '{seam.name}' and leave its partner",
                "raise the hem less far",
            )


def _openings_followed(before: Draft, after: Draft, hem: Hem, law: HemLaw) -> Draft:
    """Openings kept at their place on the cloth; what reaches the hem still does."""
    moved: dict[str, tuple[float, float]] = {}
    for run in hem.runs:
        for joint, at in ((run.before, run.start), (run.after, run.end)):
            if joint.seam is not None and joint.is_a:
                start, end = moved.get(joint.seam.name, (0.0, 0.0))
                by = amount(joint, law.drop(at))
                changed = (start + by, end) if joint.at_start else (start, end + by)
                moved[joint.seam.name] = changed
    sizes = {s.name: before.side_length(s.a) for s in before.seams}
    return replace(
        after,
        openings=tuple(new for o in after.openings if (new := _opening(o, moved, sizes)) is not None),
    )


def _opening(
    o: Opening, moved: Mapping[str, tuple[float, float]], sizes: Mapping[str, float]
) -> Opening | None:
    if o.seam not in moved:
        return o
    found = _shifted((o.start_mm, o.start_mm + o.length_mm), moved[o.seam], sizes[o.seam])
    return None if found is None else replace(o, start_mm=found[0], length_mm=found[1] - found[0])


def _shifted(
    stretch: tuple[float, float], by: tuple[float, float], size: float
) -> tuple[float, float] | None:
    """A stretch along a seam that has grown at its start and at its end; None where nothing is left of it."""
    a, b = stretch
    start = 0.0 if a < _REACHES_MM else a + by[0]
    end = size + by[0] + by[1] if b > size - _REACHES_MM else b + by[0]
    start, end = max(0.0, start), min(end, size + by[0] + by[1])
    return (start, end) if end - start > SAME_POINT_MM else None


_REACHES_MM = 0.05
"""An opening that ends this near the hem reaches it."""
