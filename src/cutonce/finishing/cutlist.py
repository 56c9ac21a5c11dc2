"""The cut list: everything to cut or buy beside the paper pieces, each length from the sewing line."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.finishing.allowance import EdgeFinish, Finishes
from cutonce.finishing.chains import Chain, chains, flat_length
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.facing import Facing, facings
from cutonce.finishing.finished import CutRow, Finished
from cutonce.finishing.notions import drawn_rows, zips
from cutonce.finishing.strips import binding_width, square_side, strip
from cutonce.finishing.tapes import tapes
from cutonce.geometry import path
from cutonce.units import show

SHAPED_SHARE = 0.12
"""A casing whose edges differ by more than this is better cut as a shaped facing (common practice)."""


def cut_list(
    draft: Draft, defaults: Defaults | None = None, pieces: Finished | None = None
) -> tuple[CutRow, ...]:
    """Bindings, facings, casings, cords, elastic, tape, zips, interfacing; with `pieces` the paper pieces
    come first. Half drafts are counted for the whole garment."""
    table = defaults or Defaults()
    finishes = Finishes(draft, table)
    found = {(p.key, e): finishes.of(p, e) for p in draft.pieces for e in p.labels}
    shaped, _ = facings(draft, finishes, table)
    return (
        *_pieces(pieces),
        *_bindings(draft, found, table),
        *_facing_strips(draft, found, table, {ref for f in shaped for ref in f.faced}),
        *_casings(draft, found, table),
        *drawn_rows(draft, table),
        *tapes(draft, found),
        *zips(draft),
        *_interfacings(shaped),
    )


def _pieces(done: Finished | None) -> Iterator[CutRow]:
    for piece in done.pieces if done else ():
        low_x, low_y, high_x, high_y = path.bounds(piece.cutting)
        how = {"fold": "on the fold", "pair": "mirrored", "single": "right side up"}[piece.cut]
        yield CutRow(
            "piece", piece.title, "main cloth", high_x - low_x, high_y - low_y, piece.count, 0, f"cut {how}"
        )


def _bindings(draft: Draft, found: dict[EdgeRef, EdgeFinish], table: Defaults) -> Iterator[CutRow]:
    groups = _grouped(found, "bound")
    for finish, refs in groups:
        finished = finish.strip_mm or table.binding
        width = binding_width(finished, finish.layers)
        for chain in chains(draft, refs):
            size, drawn = _worn_length(draft, chain)
            note = f"{show(finished, 'mm')} finished, {finish.layers}, seen on {_seen(finish)}"
            if drawn:
                note += f"; the edge is gathered to {show(drawn, 'mm')} first"
            yield _strip_row("bias binding", note, chain, size, width, table)


def _seen(finish: EdgeFinish) -> str:
    return "both sides" if finish.shows == "both" else f"the {finish.shows}"


def _strip_row(kind: str, note: str, chain: Chain, size: float, width: float, table: Defaults) -> CutRow:
    made = strip(size, chain.closed, width, table.bias_run, table.join, table.ends)
    square = math.ceil(square_side(made.length * chain.count, width) / 10)
    ring = ", joined to a ring" if chain.closed else ""
    all_of_them = " for both" if chain.count > 1 else ""
    note = f"{note}{ring}; or, joined more often, from a square of {square} cm{all_of_them}"
    return CutRow(
        kind, "bias strip", chain.words, width, made.length, chain.count, made.joins, note, chain.closed
    )


def _worn_length(draft: Draft, chain: Chain) -> tuple[float, float]:
    """Length of a strip's edge, and what of it is gathered up (0 for none): gathers are drawn up before the
    strip goes on."""
    size = flat_length(draft, chain)
    if chain.count > 1 and draft.twin is not None:
        other = sum(draft.twin.piece(k).edge_length(e) for k, e in chain.edges)
        size = max(size, other)
    for drawn in draft.drawn:
        if drawn.by == "gathering" and set(drawn.edges) <= set(chain.edges):
            flat = sum(draft.piece(k).edge_length(e) for k, e in drawn.edges)
            twice = 2 if chain.mirrored else 1
            return size - twice * (flat - drawn.to_mm), drawn.to_mm
    return size, 0.0


def _grouped(found: dict[EdgeRef, EdgeFinish], kind: str) -> list[tuple[EdgeFinish, list[EdgeRef]]]:
    """Edges of one kind of finish, those with strips alike together."""
    out: dict[tuple[float, str, str], tuple[EdgeFinish, list[EdgeRef]]] = {}
    for ref, finish in found.items():
        if finish.kind == kind:
            key = (finish.strip_mm, finish.layers, finish.shows)
            out.setdefault(key, (finish, []))[1].append(ref)
    return list(out.values())


def _facing_strips(
    draft: Draft, found: dict[EdgeRef, EdgeFinish], table: Defaults, shaped: set[EdgeRef]
) -> Iterator[CutRow]:
    """Faced edges that have no shaped piece: a bias strip instead."""
    for finish, refs in _grouped(found, "faced"):
        rest = [r for r in refs if r not in shaped]
        width = (finish.strip_mm or table.facing) + finish.allowance + table.turning
        for chain in chains(draft, rest):
            size, _ = _worn_length(draft, chain)
            yield _strip_row("facing strip", "in place of a shaped facing", chain, size, width, table)


def _casings(draft: Draft, found: dict[EdgeRef, EdgeFinish], table: Defaults) -> Iterator[CutRow]:
    for finish, refs in _grouped(found, "casing"):
        width = finish.strip_mm + finish.allowance + table.turning
        for chain in chains(draft, refs):
            yield _strip_row(
                "casing",
                _casing_note(draft, chain, finish.strip_mm),
                chain,
                flat_length(draft, chain),
                width,
                table,
            )


def _casing_note(draft: Draft, chain: Chain, channel: float) -> str:
    """A channel w wide along an edge that turns by t over its length L differs by w t / L at its edges."""
    note = f"channel {show(channel, 'mm')} wide inside"
    share = max(_bend(draft, ref) * channel for ref in chain.edges)
    if share > SHAPED_SHARE:
        note += f"; its two edges differ by {share:.0%}: cut a shaped facing instead"
    return note


def _bend(draft: Draft, ref: EdgeRef) -> float:
    """Turn per mm of an edge on the average."""
    key, label = ref
    curves = [s.curve for s in draft.piece(key).edge(label)]
    return sum(abs(path.turn((c,))) for c in curves) / path.length(curves)


def _interfacings(shaped: tuple[Facing, ...]) -> Iterator[CutRow]:
    for facing in shaped:
        piece = facing.piece
        box = path.bounds(s.curve for s in piece.outline)
        count = 2 if piece.cut == "pair" else 1
        how = " on the fold" if piece.cut == "fold" else ""
        note = f"cut{how} by the facing's paper, inside its sewing line"
        yield CutRow(
            "interfacing", "light fusible", piece.key, box[2] - box[0], box[3] - box[1], count, 0, note
        )


_COLUMNS = ("kind", "what", "for", "width_mm", "length_mm", "count", "joins", "note")


def cut_list_csv(rows: tuple[CutRow, ...]) -> str:
    """The list as CSV with a header row; lengths to 0.1 mm, an empty cell where a width has no meaning."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for r in rows:
        width = f"{r.width_mm:.1f}" if r.width_mm else ""
        writer.writerow((r.kind, r.what, r.used_for, width, f"{r.length_mm:.1f}", r.count, r.joins, r.note))
    return stream.getvalue()
