"""How much thread a garment takes: every line of stitching by its length, thread by stitch class.

Stitch classes are those of ISO 4915 and ASTM D6193: 301 lockstitch, 304 zigzag lockstitch, 401 two-thread
chain stitch, 504 three-thread overedge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Opening, Seam
from cutonce.finishing.allowance import EdgeFinish, Finishes
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finished import CutRow
from cutonce.finishing.fullness import taken

Stitch = Literal["101", "103", "301", "304", "401", "504"]


@dataclass(frozen=True, slots=True)
class Ratio:
    """Thread per length of stitching, all threads together: from `least` to `most` where sources differ."""

    stitch: Stitch
    words: str
    least: float
    most: float
    because: str


_GUIDE = "a maker's guide to standard stitch types (scribd.com 49933681)"

RATIOS: dict[Stitch, Ratio] = {
    r.stitch: r
    for r in (
        Ratio("101", "single-thread chain stitch", 5.0, 5.0, _GUIDE),
        Ratio("103", "blind stitch", 4.5, 4.5, _GUIDE),
        Ratio("301", "lockstitch", 2.5, 2.5, _GUIDE),
        Ratio("304", "zigzag lockstitch", 5.5, 5.5, _GUIDE),
        Ratio("401", "two-thread chain stitch", 5.5, 5.5, "textilecalculator.com, apparelscience.com"),
        Ratio(
            "504", "overedge, three threads", 7.0, 14.0, "7 textilecalculator.com, 14 from memory: conflict"
        ),
    )
}
"""Published figures; they hold for cloth of middling thickness and 10 to 12 stitches an inch."""

CONFLICT = "published figures differ by two: sew a sample, unpick it, measure the thread"

LEAST_WASTE, MOST_WASTE = 0.10, 0.15
"""What is cut off and lost at the machine, as a share of the thread sewn in (several sewing pages)."""

REEL_MM = 100_000.0
"""Thread on a household reel (from memory)."""


@dataclass(frozen=True, slots=True)
class Stitching:
    """Lines of stitching of one kind: `length` mm of seam, stitched in `rows` rows."""

    what: str
    stitch: Stitch
    length: float
    rows: int = 1

    @property
    def stitched(self) -> float:
        return self.rows * self.length


@dataclass(frozen=True, slots=True)
class ThreadNeed:
    """All thread of one stitch class, mm. `least` and `most` include waste; they lie far apart where the
    published figures do, and `note` says so. `instead` marks a choice: overedge in place of zigzag."""

    stitch: Stitch
    words: str
    stitched: float
    least: float
    most: float
    note: str = ""
    instead: bool = False

    @property
    def reels(self) -> int:
        """Household reels of 100 m that are surely enough."""
        return math.ceil(self.most / REEL_MM - 1e-9)


@dataclass(frozen=True, slots=True)
class Thread:
    """The stitching of a garment, line by line, and the thread for it by stitch class."""

    stitchings: tuple[Stitching, ...]
    needs: tuple[ThreadNeed, ...]


def thread_for(stitched: float, stitch: Stitch, ratio: float | None = None) -> tuple[float, float]:
    """Thread in a length of stitching without waste, by the lower and the higher published figure, or by a
    `ratio` measured on a sample.

    >>> thread_for(1000, "301"), thread_for(1000, "504"), thread_for(1000, "401", ratio=5.4)
    ((2500.0, 2500.0), (7000.0, 14000.0), (5400.0, 5400.0))
    """
    found = RATIOS[stitch]
    low, high = (found.least, found.most) if ratio is None else (ratio, ratio)
    return stitched * low, stitched * high


def measured(sample: float, *threads: float) -> float:
    """Thread per length, from a sample sewn and unpicked: the lengths of its threads over its own.

    >>> round(measured(3, 9, 8), 2)
    5.67
    """
    return sum(threads) / sample


def with_waste(thread: float, share: float) -> float:
    """Thread to buy for thread sewn in.

    >>> round(with_waste(540, 0.15))
    621
    """
    return thread * (1 + share)


def thread(
    draft: Draft,
    rows: Iterable[CutRow],
    defaults: Defaults | None = None,
    seams: Literal["301", "401"] = "301",
    ratios: dict[Stitch, float] | None = None,
) -> Thread:
    """Thread for a garment sewn so: seams once, by lockstitch or chain stitch, their two allowances neatened
    apart; hems one row; darts; bindings, casings and facings two rows; tape one (docs/strips.md).

    `rows` is its cut list, `ratios` what was measured on samples. Half drafts are counted for the whole
    garment. Neatening is given twice, by zigzag and, instead, by overedge.
    """
    table = defaults or Defaults()
    halves = [draft] if draft.twin is None or draft.unfolded else [draft, draft.twin]
    found = [
        replace(line, length=line.length / len(halves))
        for half in halves
        for line in _of_draft(half, table, seams)
    ]
    found += _of_rows(rows)
    lines = _gathered(found)
    return Thread(lines, tuple(_needs(lines, ratios or {})))


def _gathered(found: Iterable[Stitching]) -> tuple[Stitching, ...]:
    """Lines of the same kind together, in the order of first meeting."""
    out: dict[tuple[str, Stitch, int], float] = {}
    for line in found:
        key = (line.what, line.stitch, line.rows)
        out[key] = out.get(key, 0.0) + line.length
    return tuple(Stitching(w, s, size, r) for (w, s, r), size in out.items() if size > 0)


def _needs(lines: tuple[Stitching, ...], ratios: dict[Stitch, float]) -> Iterator[ThreadNeed]:
    for stitch, ratio in RATIOS.items():
        size = sum(x.stitched for x in lines if x.stitch == stitch)
        if size:
            low, high = thread_for(size, stitch, ratios.get(stitch))
            note = CONFLICT if low < high else ""
            yield ThreadNeed(
                stitch,
                ratio.words,
                size,
                with_waste(low, LEAST_WASTE),
                with_waste(high, MOST_WASTE),
                note,
                stitch == "504",
            )


def _of_draft(draft: Draft, table: Defaults, stitch: Stitch) -> Iterator[Stitching]:
    """Stitching of the whole garment, a half draft counted as if both halves were alike."""
    finishes = Finishes(draft, table)
    pieces = {p.key: p for p in draft.pieces}
    times = {p.key: 1 if p.cut == "single" else 2 for p in draft.pieces}
    open_at: dict[str, list[Opening]] = {}
    for opening in draft.openings:
        open_at.setdefault(opening.seam, []).append(opening)
    for seam in draft.seams:
        yield from _seam(draft, pieces, seam, open_at.get(seam.name, []), times, stitch)
    for piece in draft.pieces:
        for label in piece.labels:
            size = piece.edge_length(label) * times[piece.key]
            yield from _edge(finishes.of(piece, label), size)
        yield Stitching("darts", "301", sum(_darts(piece)) * times[piece.key])
    drawn = {ref for d in draft.drawn if d.by == "gathering" for ref in d.edges} - _gathered_edges(draft)
    size = sum(pieces[k].edge_length(e) * times[k] for k, e in drawn)
    yield Stitching("gathering threads", "301", size, 2)


def _gathered_edges(draft: Draft) -> set[EdgeRef]:
    """Edges on either side of a seam that is gathered: counted there."""
    sides = [side for s in draft.seams if s.relation.kind == "gather" for side in (s.a, s.b)]
    return {(side.piece, label) for side in sides for label in side.labels}


def _seam(
    draft: Draft,
    pieces: dict[str, Piece],
    seam: Seam,
    openings: list[Opening],
    times: dict[str, int],
    stitch: Stitch,
) -> Iterator[Stitching]:
    """A seam is as long as its side that is not gathered, eased or pleated; what is open is not sewn."""
    count = 1 if seam.a == seam.b else times[seam.a.piece]
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    fullness = taken(draft, pieces[seam.a.piece], seam.a.labels[0])
    sewn = b if fullness and fullness.seam == seam and fullness.worked else a
    free = sum(o.length_mm for o in openings)
    yield Stitching("seams", stitch, max(sewn - free, 0.0) * count)
    yield Stitching("zips", "301", sum(o.length_mm for o in openings if o.kind == "zip"), 2)
    edged = sum(o.length_mm for o in openings if o.kind in ("slit", "vent"))
    yield Stitching("slits and vents", "301", edged * count, 2)
    yield Stitching("neatening by zigzag", "304", (a + b) * count)
    yield Stitching("neatening by overedge instead", "504", (a + b) * count)
    if seam.relation.kind == "gather":
        yield Stitching("gathering threads", "301", max(a, b) * count, 2)


def _edge(finish: EdgeFinish, size: float) -> Iterator[Stitching]:
    if finish.kind == "hem":
        yield Stitching("hems", "301", size)
    elif finish.kind == "faced":
        yield Stitching("facings, sewn and stitched down", "301", size, 2)


def _darts(piece: Piece) -> Iterator[float]:
    """The line along which each dart is sewn: the mean of its legs to the drawn point, or half round it."""
    for dart in piece.darts:
        tip = piece.dart_tip(dart)
        yield sum(abs(end - tip) for end in piece.mouth(dart)) / 2
    for double in piece.double_darts:
        yield sum(side.length for side in double.sides) / 2


_SEWN_ON = {"bias binding": ("bindings", 2), "casing": ("casings", 2), "stay tape": ("stay tape", 1)}
"""Kinds of rows of the cut list that are sewn along their length: in how many rows of stitching."""


def _of_rows(rows: Iterable[CutRow]) -> Iterator[Stitching]:
    """What the cut list has sewn on, and the joins of its strips, which run at 45 degrees across them."""
    for row in rows:
        if row.kind in _SEWN_ON:
            what, times = _SEWN_ON[row.kind]
            yield Stitching(what, "301", row.length_mm * row.count, times)
        if row.joins:
            size = row.joins * row.width_mm * math.sqrt(2) * row.count
            yield Stitching("joins of strips", "301", size)
