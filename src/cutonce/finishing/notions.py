"""Cords, elastic, tapes and zips of a garment, as rows of the cut list."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Drawn, Opening
from cutonce.draft.span import Label
from cutonce.finishing.allowance import EdgeFinish
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finished import CutRow
from cutonce.finishing.strips import strip
from cutonce.geometry import path
from cutonce.units import show

ZIP_LENGTHS_CM = (10, 12, 15, 18, 20, 22, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80)
"""Lengths that shops keep (from memory)."""

ELASTIC_OVERLAP_MM = 20.0

_TAPED_FREE = ("neck", "armhole", "cut-out", "strap", "style line", "waist")
_OFF_GRAIN_RAD = math.radians(15)
_CURVED_RAD = 0.3


def drawn_rows(draft: Draft, table: Defaults) -> Iterator[CutRow]:
    for drawn in draft.drawn:
        refs = set(drawn.edges)
        size = sum(draft.piece(k).edge_length(e) for k, e in drawn.edges)
        where = f"{drawn.name}: {', '.join(dict.fromkeys(k for k, _ in drawn.edges))}"
        count = 2 if any(draft.piece(k).cut != "single" for k, _ in refs) else 1
        if drawn.channel_mm and not _has_casing(draft, drawn):
            width = drawn.channel_mm + 2 * table.turning
            made = strip(size, False, width, table.bias_run, table.join, table.ends)
            note = f"channel {show(drawn.channel_mm, 'mm')} wide inside"
            yield CutRow("casing", "bias strip", where, width, made.length, count, made.joins, note)
        if drawn.by == "cord":
            yield _cord(drawn, size, where, count)
        elif drawn.by == "elastic":
            yield _elastic(drawn, where, count)


def _has_casing(draft: Draft, drawn: Drawn) -> bool:
    kinds = dict(draft.finishes)
    return any(ref in kinds and kinds[ref].kind == "casing" for ref in drawn.edges)


def _cord(drawn: Drawn, size: float, where: str, count: int) -> CutRow:
    """As long as the flat edge, so that the garment can be spread out, and two tails."""
    tail = drawn.tails_mm
    note = f"draws {show(size, 'mm')} up to {show(drawn.to_mm, 'mm')}; two tails of {show(tail, 'mm')}; "
    if drawn.channel_mm > 3:
        thick = (drawn.channel_mm - 3) * 2 / math.pi
        note += f"at most {thick:.0f} mm thick; "
    note += "knot the ends, keep tails short near machines and wheels, no cord at a child's neck"
    return CutRow("cord", "cord", where, 0.0, size + 2 * tail, count, 0, note)


def _elastic(drawn: Drawn, where: str, count: int) -> CutRow:
    width = max(drawn.channel_mm - 4.0, 3.0) if drawn.channel_mm else 6.0
    note = (
        f"draws up to {show(drawn.to_mm, 'mm')}; {show(ELASTIC_OVERLAP_MM, 'mm')} to lap; try it on the body"
    )
    return CutRow("elastic", "elastic", where, width, drawn.to_mm + ELASTIC_OVERLAP_MM, count, 0, note)


def tapes(draft: Draft, found: dict[EdgeRef, EdgeFinish]) -> Iterator[CutRow]:
    """Stay tape for edges that stretch: necks and other curved or slanted edges, shoulders off the grain."""
    drawn = {ref for d in draft.drawn for ref in d.edges}
    for piece in draft.pieces:
        for label in piece.labels:
            finish = found[(piece.key, label)]
            if (piece.key, label) in drawn or not _stretches(piece, label, finish):
                continue
            size = piece.edge_length(label)
            count = 1 if piece.cut == "single" else 2
            note = "to the paper's length: ease the cloth to the tape, never stretch the tape"
            yield CutRow("stay tape", "tape", f"{label.key} of {piece.key}", 6.0, size, count, 0, note)


def _stretches(piece: Piece, label: Label, finish: EdgeFinish) -> bool:
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


def zips(draft: Draft) -> Iterator[CutRow]:
    for opening in draft.openings:
        if opening.kind == "zip":
            yield CutRow("zip", "zip", opening.seam, 0.0, _shop_length(opening), 1, 0, _zip_note(opening))


def _shop_length(opening: Opening) -> float:
    need = opening.length_mm - 0.5
    return next((cm * 10.0 for cm in ZIP_LENGTHS_CM if cm * 10 >= need), opening.length_mm)


def _zip_note(opening: Opening) -> str:
    bought = _shop_length(opening)
    if bought > ZIP_LENGTHS_CM[-1] * 10:
        return f"opening {show(opening.length_mm, 'mm')}: longer than shops keep, by the metre"
    note = f"opening {show(opening.length_mm, 'mm')}; the next length that shops keep"
    return note if bought - opening.length_mm < 1 else f"{note}, shorten it at the lower end"
