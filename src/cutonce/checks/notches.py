"""Notches that mislead: without a partner, too near to one another, to a corner or to a dart."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from cutonce.checks.context import Context, Found
from cutonce.checks.seam_sides import Walk, sound_seams, walk
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label
from cutonce.errors import Finding

APART_MM = 10.0
"""Two single notches nearer than this are taken for a double one (whose cuts stand 6 mm apart)."""

AT_END_MM = 1.0
"""A mark this near a corner or a dart's mouth is the same place and needs no notch of its own."""


def notches(draft: Draft, context: Context) -> Found:
    """Printed marks along each edge, then those of each seam against its partner."""
    return (
        *(f for p in draft.pieces for label in p.labels for f in _along(draft, p, label, context)),
        *(f for seam in sound_seams(draft) for f in _partners(draft, seam, context)),
    )


def _printed(piece: Piece, side: Walk) -> dict[str, float]:
    names = {m.name for m in piece.marks if m.printed}
    return {n: arc for n, arc in side.marks.items() if n in names}


def _along(draft: Draft, piece: Piece, label: Label, context: Context) -> Iterator[Finding]:
    side = walk(draft, Side(piece.key, (label,)))
    inner = [
        (arc, name)
        for name, arc in _printed(piece, side).items()
        if AT_END_MM < arc < side.length - AT_END_MM
    ]
    mouths: list[tuple[float, str]] = []
    before = 0.0
    for span, follower in pairwise(side.spans):
        before += span.length
        if abs(span.curve.end - follower.curve.start) > 1e-6:
            mouths.append((before, "the mouth of a dart"))
    fixed = [(0.0, "the end of the edge"), *mouths, (side.length, "the end of the edge")]
    stops = sorted((*inner, *fixed))
    for (a, one), (b, two) in pairwise(stops):
        notch = one if (a, one) in inner else two
        if AT_END_MM < b - a < APART_MM and ((a, one) in inner or (b, two) in inner):
            other = two if notch == one else one
            yield Finding(
                "note",
                "notch-crowded",
                f"{piece.key}, {label.key}",
                f"the notch '{notch}' stands {b - a:.1f} mm from {_named(other, fixed)}: easily mistaken",
                step=context.last_step(side.between(a, b)),
                hint="leave one of the two out",
                expected_mm=APART_MM,
                found_mm=b - a,
                spot=(piece.key, side.point(a)),
            )


def _named(name: str, fixed: list[tuple[float, str]]) -> str:
    return name if name in {n for _, n in fixed} else f"the notch '{name}'"


def _partners(draft: Draft, seam: Seam, context: Context) -> Iterator[Finding]:
    """Printed notches of one side that the other lacks."""
    if seam.a == seam.b:
        return
    a, b = walk(draft, seam.a), walk(draft, seam.b)
    for one, other in ((a, b), (b, a)):
        for name, arc in _printed(one.piece, one).items():
            if AT_END_MM < arc < one.length - AT_END_MM and name not in other.marks:
                yield Finding(
                    "note",
                    "notch-alone",
                    f"seam {seam.name}: {one.piece.key} with {other.piece.key}",
                    f"the notch '{name}' on {one.piece.key} has no partner on {other.piece.key}",
                    step=context.last_step((*one.spans, *other.spans)),
                    hint="set the same notch on both, or on neither",
                    spot=(one.piece.key, one.point(arc)),
                )
