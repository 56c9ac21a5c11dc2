"""Stay tape for edges that stretch, cut to the length that the edge has when it is sewn."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.finishing.allowance import EdgeFinish
from cutonce.finishing.finished import CutRow
from cutonce.finishing.fullness import drawn_up, drawn_with_partner, meets_fold, sewn_length, taken
from cutonce.geometry import path
from cutonce.units import show

_TAPED_FREE = ("neck", "armhole", "cut-out", "strap", "style line", "waist")
"""Roles of free edges that are taped where they are curved or off the grain."""

_OFF_GRAIN_RAD = math.radians(15)
"""An edge further off the grain gives (common practice)."""

_CURVED_RAD = 0.3
"""An edge that turns by more lies partly off the grain, wherever it lies."""


def tapes(draft: Draft, found: dict[EdgeRef, EdgeFinish]) -> Iterator[CutRow]:
    """Stay tape for necks and other curved or slanted edges, and for shoulders off the grain.

    An edge over the fold of a half piece, or over the centre of a whole one, is one row with its whole
    length. A gathered or eased edge is taped to its partner's length; one drawn up has no tape.
    """
    for piece in draft.pieces:
        done: set[Label] = set()
        taped = [e for e in piece.labels if _is_taped(draft, piece, e, found[(piece.key, e)])]
        for label in taped:
            if label in done:
                continue
            run = [e for e in taped if e == label or _run_on(piece, label, e)]
            done.update(run)
            yield _row(draft, piece, run)


def _row(draft: Draft, piece: Piece, run: list[Label]) -> CutRow:
    size = sum(sewn_length(draft, piece, e) for e in run)
    count = 1 if piece.cut == "single" else 2
    if meets_fold(piece, run[0]):
        other = draft.twin.piece(piece.key) if draft.twin else piece
        size += sum(sewn_length(draft.twin or draft, other, e) for e in run)
        count = 1
    name = run[0].key if len(run) == 1 else run[0].key.removeprefix(f"{run[0].wearer} ")
    where, note = f"{name} of {piece.key}", _note(draft, piece, run)
    return CutRow("stay tape", "tape", where, 6.0, size, count, 0, note)


def _note(draft: Draft, piece: Piece, run: list[Label]) -> str:
    worked = [t.seam.relation.kind for e in run if (t := taken(draft, piece, e)) and t.worked]
    if not worked:
        return "to the paper's length: ease the cloth to the tape, never stretch the tape"
    flat = sum(piece.edge_length(e) for e in run)
    edge = f"the edge of {show(flat, 'mm')}" + (" a half" if meets_fold(piece, run[0]) else "")
    return f"to the partner's length, as sewn, not the paper's: {worked[0]} {edge} to the tape"


def _run_on(piece: Piece, one: Label, two: Label) -> bool:
    """Are these the two halves of one edge, end to end across the centre of a whole piece?"""
    if one == two or not one.same_on_either_side(two):
        return False
    outline = [s.label for s in piece.outline]
    return any({a, b} == {one, two} for a, b in zip(outline, [*outline[1:], outline[0]], strict=True))


def _is_taped(draft: Draft, piece: Piece, label: Label, finish: EdgeFinish) -> bool:
    if drawn_up(draft, piece, label) or drawn_with_partner(draft, piece, label):
        return False
    if finish.kind in ("hem", "fold", "casing"):
        return False
    curves = [s.curve for s in piece.edge(label)]
    if label.role == "shoulder":
        return _off_grain(piece, curves[-1].end - curves[0].start) > _OFF_GRAIN_RAD
    if label.role not in _TAPED_FREE or finish.is_sewn:
        return False
    if abs(path.turn(curves)) > _CURVED_RAD:
        return True
    return _off_grain(piece, curves[-1].end - curves[0].start) > _OFF_GRAIN_RAD


def _off_grain(piece: Piece, direction: complex) -> float:
    """Angle in radians between a direction and the nearer of warp and weft, 0 to pi/4."""
    turned = direction / piece.grain.along
    angle = math.atan2(abs(turned.imag), abs(turned.real))
    return min(angle, math.pi / 2 - angle)
