"""Cutting a piece along a line and keeping one part or both, with everything that refers to it told."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Relation, Seam, Side
from cutonce.draft.span import EdgeMark, Gone, Label, Span, Wearer
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.curve import Curve
from cutonce.geometry.meet import meetings, on_line
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.edge_names import tidied
from cutonce.reshape.places import Chain, Spot, outward_of
from cutonce.reshape.seams import divide_edge, gone_with, relabelled, replaced_piece

_EQUAL_MM = 0.01
"""Sides of a new seam that differ by less are equal: ten times finer than seams are walked."""

_AT_AN_END_MM = 1.0
"""A landmark line that meets a new edge this near its end needs no mark there: the end shows it."""


@dataclass(frozen=True, slots=True)
class Cut:
    """`draft` after; `edge` the labels of the new edge in outline order of the (first) piece; `findings`."""

    draft: Draft
    edge: tuple[Label, ...]
    findings: tuple[Finding, ...]


def with_ends_divided(draft: Draft, spots: Sequence[Spot]) -> Draft:
    """Edges divided where a cut will end on them, their partners too, so that each label lies in one part."""
    for spot in spots:
        piece = draft.piece(spot.piece)
        origin, material = spot.on_cloth
        for label in piece.labels:
            arc = Chain(piece, piece.edge(label)).arc_of(origin, material)
            if arc is not None and SAME_POINT_MM < arc < piece.edge_length(label) - SAME_POINT_MM:
                draft, _ = divide_edge(draft, piece.key, label, arc)
                break
    return draft


def free_label(piece: Piece, label: Label) -> Label:
    """The label, or its next part where the piece has an edge of that name."""
    taken = {e.part for e in piece.labels if e.same_edge(label)}
    return replace(label, part=max(taken) + 1) if taken else label


def keep_part(draft: Draft, old: str, kept: Piece, thrown: Piece, new: Label, step: str, why: str) -> Cut:
    """One part kept under the piece's name, the other thrown away with a tombstone for each of its edges.

    `new` is the cut's label in both; `why` reads after "edge ... is no more: step ...". Edges, darts and
    seams that fall away, and what referred to them, are told in the findings.
    """
    before = draft
    gone = [g for g in gone_with(thrown, old, step, why) if g.label != new]
    kept = marked_and_sided(kept, before.piece(old), new, printed=False)
    draft = replaced_piece(draft, old, [kept], gone)
    findings = _lost(before, draft, old, thrown, step)
    named = _labels_of(kept, new)
    lost = {s.name for s in before.seams} - {s.name for s in draft.seams}
    draft = tidied(draft, kept.key, lost, named)
    origins = {s.origin for s in kept.outline if s.label in named}
    cut = tuple(dict.fromkeys(s.label for s in draft.piece(kept.key).outline if s.origin in origins))
    return Cut(draft, cut, findings)


def keep_both(
    draft: Draft, old: str, parts: tuple[Piece, Piece], new: Label, seam: str, step: str
) -> tuple[Draft, Seam]:
    """Both parts in the piece's place, under the names they have, with a seam between their new edges.

    The seam's relation is equal, or ease where the two sides differ. Returns the seam as well.
    """
    whole = draft.piece(old)
    taken = {p.key for p in draft.pieces} - {old}
    first, second = (_of_one_side(marked_and_sided(p, whole, new)) for p in parts)
    sided = [first, _marked_like(first, second, whole, new)]
    for p in sided:
        if p.key in taken:
            raise CannotApply("piece-name", old, f"there is a piece '{p.key}' already", "choose another name")
        taken.add(p.key)
    draft = replaced_piece(draft, old, sided, _renamed_away(whole, sided, step))
    one, two = (Side(p.key, _labels_of(p, new)) for p in sided)
    more = draft.side_length(one) - draft.side_length(two)
    relation = Relation() if abs(more) < _EQUAL_MM else Relation("ease", more)
    seam = _with_wearer(seam, one)
    names = {s.name for s in draft.seams}
    name = next(n for k in range(1, 999) if (n := seam if k == 1 else f"{seam} {k}") not in names)
    draft = replace(draft, seams=(*draft.seams, Seam(name, one, two, relation)))
    for p in sided:
        draft = tidied(draft, p.key)
    return draft, next(s for s in draft.seams if s.name == name)


def _marked_like(first: Piece, second: Piece, whole: Piece, new: Label) -> Piece:
    """The second part with the first one's marks on the new edge, at the places sewn to them."""
    edges = [Chain(p, tuple(s for e in _labels_of(p, new) for s in p.edge(e))) for p in (first, second)]
    marks = list(whole.marks)
    for mark in first.marks[len(whole.marks) :]:
        arc = edges[0].arc_of(mark.origin, mark.at)
        if arc is not None:
            there = edges[1].spot(edges[1].length * (1 - arc / edges[0].length))
            marks.append(EdgeMark(mark.name, *there.on_cloth, mark.printed))
    return replace(second, marks=tuple(marks))


def _with_wearer(seam: str, side: Side) -> str:
    wearers = {e.wearer for e in side.labels}
    only = wearers.pop() if len(wearers) == 1 else None
    return f"{only} {seam}" if only else seam


def _renamed_away(whole: Piece, parts: Sequence[Piece], step: str) -> tuple[Gone, ...]:
    """Tombstones for darts that went into the new seam, so that a later reference to one can be told."""
    have = {d.label for p in parts for d in p.darts}
    return tuple(
        Gone(whole.key, s.label, s.origin, s.lo, s.hi, step, "took it into a seam")
        for d in whole.darts
        if d.label not in have
        for s in whole.outline
        if s.label == d.label
    )


def _of_one_side(part: Piece) -> Piece:
    """A part of a whole piece all of whose edges are on one side is that side's."""
    wearers = {e.wearer for e in part.labels}
    only = wearers.pop() if len(wearers) == 1 else None
    return replace(part, wearer=only) if part.wearer is None and only else part


def _labels_of(piece: Piece, new: Label) -> tuple[Label, ...]:
    return tuple(e for e in piece.labels if e.same_on_either_side(new))


def marked_and_sided(part: Piece, whole: Piece, new: Label, printed: bool = True) -> Piece:
    """The part with marks where landmark lines meet its new edge, and that edge named for the wearer's side.
    The marks are notches to sew by where `printed`, else only names of places.

    On a whole piece an edge that crosses the centre once is divided there, into left and right, with a mark.
    """
    if not any(s.label == new for s in part.outline):
        return part
    marks: list[EdgeMark] = []
    spans = [s for s in part.outline if s.label == new]
    for line in whole.lines:
        if line.kind == "landmark":
            marks += [EdgeMark(line.name, s.origin, at, printed) for s, at in _crossings(spans, line.curves)]
    if not any(e.wearer for e in whole.labels):
        return replace(part, marks=part.marks + _clear_of_ends(marks, spans))
    if whole.wearer is not None:
        change = {new: replace(new, wearer=whole.wearer)}
        return replace(
            relabelled(part, lambda e: change.get(e, e)), marks=part.marks + _clear_of_ends(marks, spans)
        )
    part, centre = _named_by_side(part, whole, new)
    return replace(part, marks=part.marks + _clear_of_ends([*marks, *centre], spans))


def _named_by_side(part: Piece, whole: Piece, new: Label) -> tuple[Piece, list[EdgeMark]]:
    """The new edge of a whole piece in the wearer's left and right, with a mark where it crosses the centre;
    one that crosses it more than once stays as it is."""
    outline = tuple(x for s in part.outline for x in (_at_centre(s) if s.label == new else (s,)))
    part = replace(part, outline=outline)
    run = part.edge(new)
    sides = {id(s): _side_of(s, whole) for s in run}
    changes = [k for k, (a, b) in enumerate(pairwise(run), 1) if sides[id(a)] != sides[id(b)]]
    if len(changes) > 1:
        return part, []
    named = tuple(
        replace(s, label=replace(new, wearer=sides[id(s)])) if id(s) in sides else s for s in outline
    )
    centre = "centre front" if whole.face == "front" else "centre back"
    return replace(part, outline=named), [EdgeMark(centre, run[k].origin, run[k].lo) for k in changes]


def _crossings(spans: Iterable[Span], curves: Iterable[Curve]) -> list[tuple[Span, float]]:
    return [
        (s, s.material_at(s.curve.length_to(t)))
        for s in spans
        for c in curves
        for t, _ in meetings(s.curve, c)
    ]


def _clear_of_ends(marks: Iterable[EdgeMark], spans: Sequence[Span]) -> tuple[EdgeMark, ...]:
    ends = (min(min(s.lo, s.hi) for s in spans), max(max(s.lo, s.hi) for s in spans))
    within = (ends[0] + _AT_AN_END_MM, ends[1] - _AT_AN_END_MM)
    return tuple(m for m in dict.fromkeys(marks) if within[0] < m.at < within[1])


def _at_centre(span: Span) -> tuple[Span, ...]:
    """A span in two where it crosses the centre line (x = 0) once."""
    at = [
        s for t in on_line(span.curve, 0j, 1j) if 0.01 < (s := span.curve.length_to(t)) < span.length - 0.01
    ]
    return span.split(at[0]) if len(at) == 1 else (span,)


def _side_of(span: Span, whole: Piece) -> Wearer:
    return "left" if span.curve.at(0.5).real * outward_of(whole, "left") >= 0 else "right"


def _lost(before: Draft, after: Draft, old: str, thrown: Piece, step: str) -> tuple[Finding, ...]:
    """What fell away with the thrown part, in plain words."""
    said: list[str] = []
    was, now = before.piece(old), after.piece(old)
    darts = [d.label.key for d in was.darts if d not in now.darts]
    darts += [d.name for d in was.double_darts if not any(x.name == d.name for x in now.double_darts)]
    if darts:
        said.append(f"cut away with it: {', '.join(f'the {d}' for d in dict.fromkeys(darts))}")
    points = [p.name for p in was.points if p not in now.points]
    if points:
        said.append(f"cut away with it: {', '.join(f'the {p}' for p in points)}")
    away = set(thrown.labels)
    for seam in before.seams:
        for mine, other in ((seam.a, seam.b), (seam.b, seam.a)):
            if mine.piece == old and away & set(mine.labels) and other.piece != old:
                edges = ", ".join(e.key for e in other.labels)
                said.append(
                    f"the {other.piece}'s {edges}, {before.side_length(other):.1f} mm, is now sewn to nothing"
                )
                break
    said += [
        f"the finish of the {ref[1].key} fell away with it"
        for ref, _ in before.finishes
        if ref[0] == old and ref[1] in away and not any(e.same_edge(ref[1]) for e in now.labels)
    ]
    left = {d.name: d for d in after.drawn}
    for d in before.drawn:
        if d.name not in left:
            said.append(f"the {d.name} is no longer drawn up: its edge fell away")
        elif len(left[d.name].edges) < len(d.edges):
            said.append(f"a part of the edge drawn up by the {d.name} fell away")
    still = sum(o.length_mm for o in after.openings)
    if sum(o.length_mm for o in before.openings) - still > SAME_POINT_MM:
        said.append("a part of a seam's opening fell away: set it anew")
    return tuple(Finding("note", "cut-away", old, text, step) for text in said)
