"""The hem as it hangs: how far below the hip it ends at centre and sides, with cords drawn up."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
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
    low, high = max(drops), min(drops)
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
                run = _up_from(piece, k, step)
                drop = _to_mark(piece, run, step)
                if drop is not None:
                    yield drop - _drawn_up(draft, piece, run), f"{piece.key}, {spans[k].label.key}"


def _up_from(piece: Piece, k: int, step: int) -> list[Span]:
    """The spans upwards from the hem as long as they are of one role."""
    spans = piece.outline
    role = spans[k].label.role
    run: list[Span] = []
    while spans[k].label.role == role and len(run) < len(spans):
        run.append(spans[k])
        k = (k + step) % len(spans)
    return run


def _to_mark(piece: Piece, run: list[Span], step: int) -> float | None:
    marks = [m for m in piece.marks if m.name == "hip"]
    before = 0.0
    for span in run:
        for mark in marks:
            if span.origin == mark.origin and span.holds(mark.at):
                arc = span.arc_at(mark.at)
                return before + (arc if step > 0 else span.length - arc)
        before += span.length
    return None


def _drawn_up(draft: Draft, piece: Piece, run: list[Span]) -> float:
    """By how much cords along these spans shorten them."""
    short = 0.0
    for drawn in draft.drawn:
        flat = sum(draft.piece(key).edge_length(e) for key, e in drawn.edges)
        mine = sum(s.length for s in run if (piece.key, s.label) in drawn.edges)
        if flat > drawn.to_mm:
            short += mine * (1 - drawn.to_mm / flat)
    return short
