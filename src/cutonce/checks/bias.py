"""Bias: what will stretch, ripple or drop, and what to do about it."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence

from cutonce.checks.context import Context, Found
from cutonce.checks.free_edges import free_edges
from cutonce.checks.seam_sides import sound_seams, walk
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam
from cutonce.draft.span import Span
from cutonce.errors import Finding

ON_BIAS = (math.radians(25), math.radians(65))
"""Cloth cut between these angles to the warp stretches along its edge."""

TAPE_MM = 80.0
"""A shorter stretch of bias holds by itself."""

LONG_SEAM_MM, UNLIKE = 150.0, 0.6
"""Shorter seams hold by themselves; in longer ones the sides are unlike where the shares that lie on the bias
part by more than the second."""

STRETCH_SHARE = 0.05
"""Woven cloth is stretched onto its partner by at most a twentieth (common practice)."""


def bias(draft: Draft, context: Context) -> Found:
    """Pieces cut on the bias, free edges that want tape, seams of bias to straight, and stretched seams."""
    return (
        *(f for piece in draft.pieces for f in _hangs(piece, context)),
        *_free(draft, context),
        *(f for seam in sound_seams(draft) for f in _seam(draft, seam, context)),
    )


def on_bias(spans: Sequence[Span], warp: complex) -> float:
    """How many mm of an edge run on the bias of a piece with this warp direction."""
    total = 0.0
    for span in spans:
        hits = 0
        for k in range(8):
            turn = abs(cmath.phase(span.curve.tangent((k + 0.5) / 8) / warp)) % (math.pi / 2)
            hits += ON_BIAS[0] <= turn <= ON_BIAS[1]
        total += span.length * hits / 8
    return total


def _hangs(piece: Piece, context: Context) -> Iterator[Finding]:
    if piece.grain.kind == "bias":
        yield Finding(
            "note",
            "bias-drops",
            piece.key,
            "cut on the bias it grows longer and narrower",
            step=context.last_step(piece.outline),
            hint="cut single, allow up to 38 mm at long seams, hang it for a day before the hem is marked",
        )


def _free(draft: Draft, context: Context) -> Iterator[Finding]:
    for piece, label in free_edges(draft, ("neck", "armhole", "style line", "strap", "cut-out")):
        spans = piece.edge(label)
        size = on_bias(spans, piece.grain.along)
        if size > TAPE_MM:
            length = piece.edge_length(label)
            yield Finding(
                "note",
                "bias-edge",
                f"{piece.key}, {label.key}",
                f"{size:.0f} of its {length:.0f} mm run on the bias and stretch while they are sewn",
                step=context.last_step(spans),
                hint=f"stay the edge with tape cut to {length:.0f} mm, the paper's length",
                expected_mm=length,
            )


def _seam(draft: Draft, seam: Seam, context: Context) -> Iterator[Finding]:
    a, b = walk(draft, seam.a), walk(draft, seam.b)
    where = f"seam {seam.name}: {a.piece.key} with {b.piece.key}"
    share = -seam.relation.more_mm / b.length if seam.relation.kind == "stretch" and b.length else 0.0
    if share > STRETCH_SHARE:
        yield Finding(
            "warning",
            "stretched-seam",
            where,
            f"{a.piece.key} is to be stretched by {share:.0%} onto {b.length:.0f} mm",
            step=context.last_step(a.spans),
            hint="woven cloth gives about 5 % at most; make the edge longer",
            expected_mm=b.length * (1 - STRETCH_SHARE),
            found_mm=a.length,
        )
    if seam.a == seam.b or min(a.length, b.length) < LONG_SEAM_MM:
        return
    shares = [on_bias(w.spans, w.piece.grain.along) / w.length for w in (a, b)]
    if abs(shares[0] - shares[1]) > UNLIKE:
        soft, firm = (a, b) if shares[0] > shares[1] else (b, a)
        yield Finding(
            "note",
            "bias-to-straight",
            where,
            f"{soft.piece.key} runs on the bias there, {firm.piece.key} does not: the seam may ripple",
            step=context.last_step((*a.spans, *b.spans)),
            hint=f"sew with {soft.piece.key} underneath, pinned flat, and do not pull",
        )
