"""Smoothness where pieces are joined: across every sewn corner, across folded darts, along every edge."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.checks.seam_sides import Corner, corner_of, sound_seams
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Side
from cutonce.draft.span import CENTRES, EdgeRole, Label
from cutonce.errors import Finding, Severity
from cutonce.reshape.corners import corner

NOTICE = math.radians(5)
"""Two pieces may meet at 180 degrees, give or take 5: over 2 cm on either side that is less than 1 mm."""

WARN = math.radians(8)
"""From here on the edge visibly dips or peaks at the seam."""

RUNS_ON: tuple[EdgeRole, ...] = (
    "neck",
    "armhole",
    "hem",
    "waist",
    "shoulder",
    "strap",
    "side",
    "style line",
    "cut-out",
)
"""Edges that run on across a seam from one piece to the next."""

MEANT: tuple[EdgeRole, ...] = ("neck", "style line")
"""At a centre these often have a point by design."""

POINT = math.radians(30)
"""A cut-out that turns by more than this, alike in both pieces, has a point by design: a teardrop's."""


def corners(draft: Draft, context: Context) -> Found:
    """Both ends of every seam, of every fold and centre; darts on edges; then corners within an edge."""
    out: list[Finding] = []
    for seam in sound_seams(draft):
        for at_end in (False, True):
            one = corner_of(draft.piece(seam.a.piece), seam.a.labels, at_end)
            two = corner_of(
                draft.piece(seam.b.piece), seam.b.labels, at_end if seam.a == seam.b else not at_end
            )
            if one is None or two is None or _runs_past(one, seam.a) != _runs_past(two, seam.b):
                continue
            if _are_sewn(draft, one, two):
                continue
            out.extend(_across(f"seam {seam.name}", one, two, context))
    for piece in draft.pieces:
        if piece.fold is not None and not draft.unfolded and not _is_seam(draft, piece, piece.fold):
            for at_end in (False, True):
                one = corner_of(piece, (piece.fold,), at_end)
                if one is not None:
                    out.extend(_across(f"fold at the {piece.fold.key}", one, one, context))
        out.extend(_within(draft, piece, context))
    return tuple(out)


def _runs_past(at: Corner, side: Side) -> bool:
    """Does the seam's own line go on in this piece? Then a third piece is sewn on there, whose seam with the
    second has the corner that counts."""
    return any(at.beyond.same_edge(label) for label in side.labels)


def _are_sewn(draft: Draft, one: Corner, two: Corner) -> bool:
    """Are the two edges beyond the seam sewn to each other? Then the seam goes on there, and nothing ends."""
    ends = {(one.piece.key, one.beyond), (two.piece.key, two.beyond)}
    return len(ends) == 2 and any(
        ends <= {(side.piece, label) for side in (s.a, s.b) for label in side.labels} for s in draft.seams
    )


def _is_seam(draft: Draft, piece: Piece, label: Label) -> bool:
    side = Side(piece.key, (label,))
    return any(side in (s.a, s.b) for s in draft.seams)


def _across(place: str, one: Corner, two: Corner, context: Context) -> Iterator[Finding]:
    """The edge beyond a seam, from piece to piece: the two angles make 180 degrees."""
    role = one.beyond.role
    if role != two.beyond.role or role not in RUNS_ON:
        return
    off = one.angle + two.angle - math.pi
    if abs(off) <= NOTICE:
        return
    centre = one is two or one.piece is two.piece
    meant = (centre and role in MEANT) or _is_point(one, two)
    severity: Severity = "warning" if abs(off) > WARN and not meant else "note"
    shape = "a point outward" if off < 0 else "a dip inward"
    yield Finding(
        severity,
        "corner",
        f"{place}, at the {role}",
        f"sewn together the {role} has {shape} of {abs(math.degrees(off)):.0f} degrees "
        f"({_degrees(one)} + {_degrees(two)}, should be 180)",
        step=context.last_step((*one.spans, *two.spans)),
        hint=f"lay the pieces together along the seam and redraw the {role} across it, unless it is meant",
        spot=(one.piece.key, one.at),
    )


def _is_point(one: Corner, two: Corner) -> bool:
    off = one.angle + two.angle - math.pi
    return one.beyond.role == "cut-out" and abs(off) > POINT and abs(one.angle - two.angle) < NOTICE


def _degrees(at: Corner) -> str:
    return f"{at.piece.key} {math.degrees(at.angle):.0f}"


def _within(draft: Draft, piece: Piece, context: Context) -> Iterator[Finding]:
    """Corners inside one edge and between parts of one, darts there folded."""
    spans = piece.outline
    n = len(spans)
    for i, span in enumerate(spans):
        if span.label.role in ("dart leg", *CENTRES):
            continue
        k = (i + 1) % n
        angle = corner(span, spans[k])
        dart = ""
        if spans[k].label.role == "dart leg":
            dart = spans[k].label.key
            while spans[k].label.role == "dart leg" and k != i:
                k = (k + 1) % n
            angle += corner(spans[k - 1], spans[k])
        sewn: tuple[Corner, ...] = ()
        if spans[k].label != span.label:
            if not _are_parts(piece, span.label, spans[k].label):
                continue
            sewn = _sewn_round(draft, piece, span.label, spans[k].label)
        off = angle + sum(c.angle for c in sewn) - math.pi * (2 if sewn else 1)
        if abs(off) <= NOTICE or (abs(angle - math.pi) <= NOTICE and _is_told_across(sewn)):
            continue
        parts = "" if spans[k].label == span.label else f" and {spans[k].label.key}"
        how = f" with the {dart} folded" if dart else ""
        if sewn:
            angles = " + ".join((f"{piece.key} {math.degrees(angle):.0f}", *map(_degrees, sewn)))
            how += f", sewn to {' and '.join(c.piece.key for c in sewn)} ({angles}, should be 360)"
        yield Finding(
            "warning" if abs(off) > WARN else "note",
            "kink",
            f"{piece.key}, {span.label.key}{parts}" + (f", at the {dart}" if dart else ""),
            f"the edge has a corner of {abs(math.degrees(off)):.0f} degrees{how}",
            step=context.last_step((span, spans[k])),
            hint="blend the edge, or leave it if the corner is meant",
            spot=(piece.key, span.curve.end),
        )


def _are_parts(piece: Piece, one: Label, two: Label) -> bool:
    """Are they parts of an edge that has been divided? Two lines drawn under one name are not."""
    if not one.same_edge(two):
        return False
    return bool({s.origin for s in piece.edge(one)} & {s.origin for s in piece.edge(two)})


def _is_told_across(sewn: tuple[Corner, ...]) -> bool:
    """What is sewn to a smooth edge: that it does not make 180 degrees is told of it, as a kink of its own
    parts where it is one piece, as a corner of their seam where it is two."""
    if len(sewn) == 1:
        return _are_parts(sewn[0].piece, sewn[0].beyond, sewn[0].spans[1].label)
    if len(sewn) != 2:
        return False
    first, last = sewn[0].spans[1].label.role, sewn[1].beyond.role
    return first == last and last in RUNS_ON and abs(sewn[0].angle + sewn[1].angle - math.pi) > NOTICE


_MOST_PIECES = 8
"""No more pieces than this are sewn together at one place."""


def _sewn_round(draft: Draft, piece: Piece, before: Label, after: Label) -> tuple[Corner, ...]:
    """The corners of the other pieces that close the circle about the place where one edge passes into the
    next; none where the circle is open, or a seam goes on there in one piece."""
    out: list[Corner] = []
    key, label = piece.key, before
    for _ in range(_MOST_PIECES):
        sides = next((s for s in (x.seen_from(key, label) for x in sound_seams(draft)) if s), None)
        if sides is None or sides[0] == sides[1] or label != sides[0].labels[-1]:
            return ()
        other = sides[1]
        if other.piece == piece.key:
            return tuple(out) if other.labels[0] == after else ()
        there = corner_of(draft.piece(other.piece), other.labels, False)
        if there is None:
            return ()
        out.append(there)
        key, label = other.piece, there.beyond
    return ()
