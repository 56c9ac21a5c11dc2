"""The hem as it hangs: how far below the hip it ends at centre and sides, with cords drawn up."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.checks.levels import drawn_share
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Span
from cutonce.errors import Finding

LEVEL_MM = 5.0
"""A hem within 5 mm of level is level: cloth drops more than that over night."""


def hem_level(draft: Draft, context: Context) -> Found:
    """One note where the hem is not level, saying where it is longest and shortest.

    Measured down every edge that ends in the hem and has a mark at the hip, along the sewing line.
    """
    drops = [drop for piece in draft.pieces for drop in _drops(draft, piece)]
    if len(drops) < 2:
        return ()
    # the first of equals, whatever rounding makes of them
    low, high = (pick(drops, key=lambda drop: round(drop[0], 6)) for pick in (max, min))
    if low[0] - high[0] <= LEVEL_MM:
        return ()
    hems = [s for p in draft.pieces for s in p.outline if s.label.role == "hem"]
    message = (
        f"it hangs {low[0] - high[0]:.0f} mm lower at {low[1]} ({low[0]:.0f} mm below the hip) "
        f"than at {high[1]} ({high[0]:.0f} mm)"
    )
    return (
        Finding(
            "note",
            "hem-not-level",
            "hem",
            message,
            step=context.last_step(hems),
            hint="right for a dipped or slanted hem; else shape the hem level",
            expected_mm=high[0],
            found_mm=low[0],
        ),
    )


def _drops(draft: Draft, piece: Piece) -> Iterator[tuple[float, str]]:
    """Length from the hip mark to the hem, along each edge beside a hem, with the edge's name."""
    spans = piece.outline
    n = len(spans)
    for i in range(n):
        for step in (1, -1):
            k = (i + step) % n
            if spans[i].label.role == "hem" and spans[k].label.role not in ("hem", "dart leg"):
                drop = _to_mark(draft, piece, _up_from(piece, k, step), step)
                if drop is not None:
                    yield drop, f"{piece.key}, {spans[k].label.key}"


def _up_from(piece: Piece, k: int, step: int) -> list[Span]:
    """The spans upwards from the hem as long as they are of one role."""
    spans = piece.outline
    role = spans[k].label.role
    run: list[Span] = []
    while spans[k].label.role == role and len(run) < len(spans):
        run.append(spans[k])
        k = (k + step) % len(spans)
    return run


def _to_mark(draft: Draft, piece: Piece, run: list[Span], step: int) -> float | None:
    """Length from the hem up to the hip mark, as worn: what a cord draws up counts at its drawn length."""
    marks = [m for m in piece.marks if m.name == "hip"]
    before = 0.0
    for span in run:
        share = drawn_share(draft, (piece.key, span.label))
        for mark in marks:
            if span.origin == mark.origin and span.holds(mark.at):
                arc = span.arc_at(mark.at)
                return before + share * (arc if step > 0 else span.length - arc)
        before += share * span.length
    return None
