"""Outlines that can be cut: closed, running round the cloth once, not crossing themselves."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.errors import Finding
from cutonce.geometry.region import crossing as path_crossing
from cutonce.reshape.soundness import crossing

CLOSED_MM = 0.01
"""Spans end to end within this; a pen line is twenty times as wide."""

CUTTING_TOLERANCE_MM = 0.1
"""The cutting line is looked at more coarsely than the sewing line: scissors are no finer."""


def outlines(draft: Draft, context: Context) -> Found:
    """Every sewing line, and every cutting line where the pieces are finished."""
    return tuple(f for piece in draft.pieces for f in _sewing(piece, context)) + tuple(_cutting(context))


def _sewing(piece: Piece, context: Context) -> Iterator[Finding]:
    spans = piece.outline
    for one, two in zip(spans, spans[1:] + spans[:1], strict=True):
        gap = abs(two.curve.start - one.curve.end)
        if gap > CLOSED_MM:
            yield Finding(
                "stop",
                "outline-open",
                f"{piece.key}, {one.label.key}",
                f"the outline has a gap of {gap:.2f} mm between {one.label.key} and {two.label.key}",
                step=context.last_step((one, two)),
                hint="a step left it so: please report it",
                expected_mm=0.0,
                found_mm=gap,
                spot=(piece.key, one.curve.end),
            )
            return
    spot = crossing(piece)
    if spot is None and piece.area > 0:
        return
    if spot is None:
        yield Finding(
            "stop",
            "outline-turned",
            piece.key,
            "the outline runs clockwise: the piece lies face down",
            step=context.last_step(spans),
            hint="a step left it so: please report it",
        )
        return
    near = min(spans, key=lambda s: min(abs(s.curve.at(k / 8) - spot) for k in range(9)))
    yield Finding(
        "stop",
        "outline-crosses",
        f"{piece.key}, {near.label.key}",
        "the sewing line crosses or touches itself",
        step=context.last_step((near,)),
        hint="spread less, or place the cuts further apart",
        spot=(piece.key, spot),
    )


def _cutting(context: Context) -> Iterator[Finding]:
    if context.finished is None:
        return
    told = context.finished.findings
    said = {f.spot[0] for f in told if f.code == "cutting-crosses" and f.spot is not None}
    for piece in context.finished.pieces:
        spot = path_crossing(piece.cutting, CUTTING_TOLERANCE_MM)
        if spot is not None and piece.key not in said:
            yield Finding(
                "stop",
                "cutting-crosses",
                piece.key,
                "the cutting line crosses or touches itself",
                hint="make the seam allowance narrower there",
                spot=(piece.key, spot),
            )
