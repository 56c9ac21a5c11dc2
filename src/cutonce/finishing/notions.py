"""Cords, elastic and zips of a garment, as rows of the cut list."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.seam import Drawn, Opening, Seam
from cutonce.finishing.chains import AT_END_MM, follower
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finished import CutRow
from cutonce.finishing.strips import strip
from cutonce.units import show

ZIP_LENGTHS_CM = (10, 12, 15, 18, 20, 22, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80)
"""Lengths that shops keep (from memory)."""

ELASTIC_OVERLAP_MM = 20.0


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


def zips(draft: Draft) -> Iterator[CutRow]:
    """A row for each zip; openings that meet end to end, in one seam or over another, are one zip."""
    for group in _zip_groups(draft):
        size = sum(o.length_mm for o in group)
        where = ", ".join(dict.fromkeys(o.seam for o in group))
        yield CutRow("zip", "zip", where, 0.0, _shop_length(size), 1, 0, _zip_note(size))


def _zip_groups(draft: Draft) -> list[list[Opening]]:
    """The zips of a draft, those together that meet: in the order of the draft."""
    seams = {s.name: s for s in draft.seams}
    found = [o for o in draft.openings if o.kind == "zip"]
    sides = [side for o in found if (s := seams.get(o.seam)) for side in (s.a, s.b)]
    follow = follower(draft, {(side.piece, e) for side in sides for e in side.labels})
    ends = [_reached(draft, seams[o.seam], o) if o.seam in seams else set() for o in found]
    groups: list[list[int]] = []
    for i, mine in enumerate(ends):
        beyond = {(link[0], not link[1]) for end in mine if isinstance(link := follow(*end), tuple)}
        joined = [g for g in groups if any(beyond & ends[k] or _abut(found[i], found[k]) for k in g)]
        groups = [g for g in groups if g not in joined] + [[*(k for g in joined for k in g), i]]
    return [[found[k] for k in sorted(g)] for g in sorted(groups, key=min)]


def _abut(one: Opening, two: Opening) -> bool:
    """Do two openings of one seam meet end to end?"""
    gaps = one.start_mm - two.start_mm - two.length_mm, two.start_mm - one.start_mm - one.length_mm
    return one.seam == two.seam and min(abs(g) for g in gaps) < AT_END_MM


def _reached(draft: Draft, seam: Seam, opening: Opening) -> set[tuple[EdgeRef, bool]]:
    """The ends of the seam that an opening reaches, as edges on both sides with True for the edge's end."""
    out: set[tuple[EdgeRef, bool]] = set()
    if opening.start_mm < AT_END_MM:
        out |= {((seam.a.piece, seam.a.labels[0]), False), ((seam.b.piece, seam.b.labels[-1]), True)}
    if opening.start_mm + opening.length_mm > draft.side_length(seam.a) - AT_END_MM:
        out |= {((seam.a.piece, seam.a.labels[-1]), True), ((seam.b.piece, seam.b.labels[0]), False)}
    return out


def _shop_length(size: float) -> float:
    return next((cm * 10.0 for cm in ZIP_LENGTHS_CM if cm * 10 >= size - 0.5), size)


def _zip_note(size: float) -> str:
    bought = _shop_length(size)
    if bought > ZIP_LENGTHS_CM[-1] * 10:
        return f"opening {show(size, 'mm')}: longer than shops keep, by the metre"
    note = f"opening {show(size, 'mm')}; the next length that shops keep"
    return note if bought - size < 1 else f"{note}, shorten it at the lower end"
