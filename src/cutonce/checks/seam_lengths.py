"""Seams walked from notch to notch: both sides as long as their relation says."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from cutonce.checks.context import Context, Found
from cutonce.checks.seam_sides import Walk, exists, sound_seams, walk, words
from cutonce.draft.draft import Draft
from cutonce.draft.seam import Seam, Side
from cutonce.errors import Finding, Severity

NOTICE_MM, STOP_MM = 1.0, 3.0
"""A seam may be off by 1 mm before it is said, by 3 mm before it must be mended."""

FULLEST = 4.0
"""More than four times its partner's length hardly gathers in any cloth."""


def seam_lengths(draft: Draft, context: Context) -> Found:
    """Every seam: as a whole, then between the notches that both sides share."""
    out: list[Finding] = []
    for seam in draft.seams:
        for side in dict.fromkeys((seam.a, seam.b)):
            if not exists(draft, side):
                out.append(
                    Finding(
                        "stop",
                        "seam-without-edge",
                        f"seam {seam.name}",
                        f"it is sewn along {side.piece}, {words(side.labels)}, which is not there",
                        step=_taken_by(draft, side),
                        hint="join it to another edge, or end the seam",
                    )
                )
    for seam in sound_seams(draft):
        if seam.a != seam.b:
            out.extend(_walked(seam, walk(draft, seam.a), walk(draft, seam.b), context))
    return tuple(out)


def _taken_by(draft: Draft, side: Side) -> str:
    """The step that took away an edge of this side, as its tombstone says."""
    return next((g.step for g in reversed(draft.gone) if g.label in side.labels), "")


def _walked(seam: Seam, a: Walk, b: Walk, context: Context) -> Iterator[Finding]:
    where = f"seam {seam.name}: {a.piece.key} with {b.piece.key}"
    if seam.relation.kind == "gather":
        yield from _gathered(seam, a, b, where, context)
    left = seam.relation.left_over(a.length, b.length)
    name, start, end, off = _worst(seam, a, b)
    if abs(left) > NOTICE_MM:
        longer, shorter = (a, b) if left > 0 else (b, a)
        message = f"{longer.piece.key} is {abs(left):.1f} mm too long for {shorter.piece.key}"
        if seam.relation.kind != "equal":
            message += f" after {seam.relation.words()}"
        if name and abs(off) > NOTICE_MM:
            message += f"; {abs(off):.1f} mm of it {name}"
        yield _finding("seam-length", where, message, (a, b), (start, end), left, context)
    elif name and abs(off) > NOTICE_MM:
        longer, shorter = (a, b) if off > 0 else (b, a)
        message = (
            f"the whole fits, but {name} {longer.piece.key} is {abs(off):.1f} mm longer "
            f"than {shorter.piece.key}"
        )
        yield _finding("seam-notches", where, message, (a, b), (start, end), off, context)


def _finding(
    code: str,
    where: str,
    message: str,
    sides: tuple[Walk, Walk],
    stretch: tuple[float, float],
    off: float,
    context: Context,
) -> Finding:
    severity: Severity = "stop" if abs(off) > STOP_MM else "warning"
    (a, b), (start, end) = sides, stretch
    partners = b.between(b.length - b.length * end / a.length, b.length - b.length * start / a.length)
    return Finding(
        severity,
        code,
        where,
        message,
        step=context.last_step((*a.between(start, end), *partners)),
        hint="true the longer edge, or say how it is eased or gathered with a seam relation",
        expected_mm=a.length - off,
        found_mm=a.length,
        spot=(a.piece.key, a.point((start + end) / 2)),
    )


def _worst(seam: Seam, a: Walk, b: Walk) -> tuple[str, float, float, float]:
    """The stretch between shared notches that is off most: in words, from and to on a, and by how much.

    Only where the relation says what a stretch should be: equal, or ease (any stretch may take all of it).
    """
    whole = ("", 0.0, a.length, 0.0)
    if seam.relation.kind not in ("equal", "ease"):
        return whole
    shared = [(a.marks[n], b.length - b.marks[n], n) for n in a.marks if n in b.marks]
    inner = sorted(s for s in shared if 1.0 < s[0] < a.length - 1.0)
    if not inner:
        return whole
    stops = [(0.0, 0.0, "the start"), *inner, (a.length, b.length, "the end")]
    room = max(0.0, seam.relation.more_mm) if seam.relation.kind == "ease" else 0.0
    worst = whole
    for (a0, b0, n0), (a1, b1, n1) in pairwise(stops):
        more = (a1 - a0) - (b1 - b0)
        off = more if more < 0 else max(0.0, more - room)
        if abs(off) > abs(worst[3]):
            worst = (f"between {n0} and {n1}", a0, a1, off)
    return worst


def _gathered(seam: Seam, a: Walk, b: Walk, where: str, context: Context) -> Iterator[Finding]:
    """A gathered side must be the longer one, and not too long to gather."""
    ratio = a.length / b.length if b.length else 0.0
    if 1.0 <= ratio <= FULLEST and not (seam.relation.ratio == 0 and ratio < 1.02):
        return
    if ratio < 1.02:
        said = f"{a.piece.key} should be gathered, but is {ratio:.2f} times as long as {b.piece.key}"
    else:
        said = f"{a.piece.key} is {ratio:.1f} times as long as {b.piece.key}: more than cloth gathers"
    yield Finding(
        "warning",
        "gather-ratio",
        where,
        said,
        step=context.last_step((*a.spans, *b.spans)),
        hint="1.5 to 3 is usual, finer cloth takes more",
        expected_mm=b.length * (seam.relation.ratio or 1.5),
        found_mm=a.length,
        spot=(a.piece.key, a.point(a.length / 2)),
    )
