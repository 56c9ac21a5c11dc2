"""What lies outside each stretch of the sewing line: finish, allowance, and the outline cut into runs.

A run is a stretch without a corner, with one finish and one allowance. Runs end at corners, where a label or
an allowance changes, and at darts.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.draft.seam import Finish, Opening, Seam, Side
from cutonce.draft.span import Label
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.finished import FinishKind
from cutonce.geometry import path
from cutonce.geometry.curve import Curve
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM

CORNER_RAD = 1e-4
"""Less turn than this is no corner: at a 40 mm allowance the two cutting lines then part by 0.004 mm."""


@dataclass(frozen=True, slots=True)
class EdgeFinish:
    """How one edge is finished. `seam` is where it is sewn; of two seams, the lower `first` is sewn first."""

    kind: FinishKind
    allowance: float
    seam: Seam | None
    first: int
    strip_mm: float = 0.0
    shows: Literal["right side", "wrong side", "both"] = "wrong side"
    layers: Literal["single", "double"] = "single"

    @property
    def is_sewn(self) -> bool:
        return self.seam is not None and self.kind in ("seam", "casing")


@dataclass(frozen=True, slots=True)
class Run:
    """A smooth stretch of an edge. `start` and `end` are mm from the edge's first end, darts left out; `dart`
    is the dart that opens behind it, None where none does."""

    label: Label
    finish: EdgeFinish
    allowance: float
    sewing: Path
    start: float
    end: float
    dart: Dart | None = None


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of an edge, `start` to `end` mm from its first end, that an opening lies on."""

    label: Label
    start: float
    end: float
    opening: Opening
    full: tuple[float, float]


_SEWN_FIRST = (
    "style line",
    "shoulder",
    "strap",
    "centre front",
    "centre back",
    "side",
    "waist",
    "cut-out",
    "neck",
    "armhole",
    "hem",
)
"""Which seam is sewn first where two meet: panels, shoulders, centres, sides, then what crosses them."""


class Finishes:
    """Finishes of a draft's edges, looked up once. `of(piece, label)` gives the finish of an edge."""

    def __init__(self, draft: Draft, defaults: Defaults) -> None:
        self._defaults = defaults
        self._set: dict[tuple[str, Label], Finish] = dict(draft.finishes)
        self._seams: dict[tuple[str, Label], Seam] = {}
        for seam in draft.seams:
            for side in (seam.a, seam.b):
                for label in side.labels:
                    self._seams.setdefault((side.piece, label), seam)

    def of(self, piece: Piece, label: Label) -> EdgeFinish:
        seam = self._seams.get((piece.key, label))
        first = _SEWN_FIRST.index(label.role) if label.role in _SEWN_FIRST else len(_SEWN_FIRST)
        if piece.cut == "fold" and label == piece.fold:
            return EdgeFinish("fold", 0.0, None, first)
        chosen = self._set.get((piece.key, label))
        if chosen is not None:
            return EdgeFinish(
                chosen.kind, chosen.allowance, seam, first, chosen.strip_mm, chosen.shows, chosen.layers
            )
        allowance = self._defaults.allowance(label.role, sewn=seam is not None)
        kind: FinishKind = "seam" if seam else "hem" if label.role == "hem" else "raw"
        return EdgeFinish(kind, allowance, seam, first)


def stretches(draft: Draft, piece: Piece, defaults: Defaults) -> tuple[Stretch, ...]:
    """Where openings lie on the edges of a piece; `start` and `end` include what runs past the opening's end
    (`defaults.beyond`, not for a cord exit), `full` is the opening itself, both in mm of the edge."""
    out: list[Stretch] = []
    seams = {s.name: s for s in draft.seams}
    for opening in draft.openings:
        seam = seams.get(opening.seam)
        if seam is None:
            continue
        size_a, size_b = draft.side_length(seam.a), draft.side_length(seam.b)
        low, high = opening.start_mm, opening.start_mm + opening.length_mm
        if seam.a.piece == piece.key:
            out += _on_side(piece, seam.a, opening, low, high, defaults)
        if seam.b.piece == piece.key and seam.b != seam.a:
            k = size_b / size_a
            out += _on_side(piece, seam.b, opening, size_b - k * high, size_b - k * low, defaults)
    return tuple(out)


def _on_side(
    piece: Piece, side: Side, opening: Opening, low: float, high: float, defaults: Defaults
) -> list[Stretch]:
    beyond = 0.0 if opening.kind == "cord exit" else defaults.beyond
    out: list[Stretch] = []
    before = 0.0
    for label in side.labels:
        size = piece.edge_length(label)
        start, end = max(low - beyond - before, 0.0), min(high + beyond - before, size)
        if end - start > SAME_POINT_MM:
            full = (max(low - before, 0.0), min(high - before, size))
            out.append(Stretch(label, start, end, opening, full))
        before += size
    return out


def runs(
    piece: Piece, finishes: Finishes, openings: Sequence[Stretch], defaults: Defaults
) -> tuple[Run, ...]:
    """The outline as runs in counter-clockwise order; the last is followed by the first."""
    outline = piece.outline
    n = len(outline)
    cloth = [i for i in range(n) if outline[i].label.role != "dart leg"]
    first = next((i for i in cloth if _begins_edge(piece, i)), cloth[0])
    darts = {d.label: d for d in piece.darts}
    found = {label: finishes.of(piece, label) for label in piece.labels}
    out: list[_Open] = []
    reached: dict[Label, float] = {}
    for k in range(n):
        span = outline[(first + k) % n]
        if span.label.role == "dart leg":
            out[-1].dart = darts.get(span.label)
            continue
        if span.length < SAME_POINT_MM:
            continue
        arc = reached.get(span.label, 0.0)
        cuts = [s for s in openings if s.label == span.label and s.opening.kind != "cord exit"]
        for curve, allowance in _cut(span.curve, arc, found[span.label].allowance, cuts, defaults):
            last = out[-1] if out else None
            size = curve.length
            if last and last.takes(span.label, allowance, curve):
                last.curves.append(curve)
                last.end += size
            else:
                out.append(_Open(span.label, allowance, [curve], arc, arc + size))
            arc += size
        reached[span.label] = arc
    if len(out) == 1:  # a closed edge without a corner: halved, so that each run has two neighbours
        out = out[0].halves()
    return tuple(r.closed(found[r.label]) for r in out)


def _begins_edge(piece: Piece, i: int) -> bool:
    before = piece.outline[i - 1]
    return before.label.role != "dart leg" and before.label != piece.outline[i].label


@dataclass(slots=True)
class _Open:
    """A run while it is being gathered."""

    label: Label
    allowance: float
    curves: list[Curve]
    start: float
    end: float
    dart: Dart | None = None

    def takes(self, label: Label, allowance: float, curve: Curve) -> bool:
        if self.dart or label != self.label or abs(allowance - self.allowance) > SAME_POINT_MM:
            return False
        return abs(cmath.phase(curve.tangent(0) / self.curves[-1].tangent(1))) < CORNER_RAD

    def halves(self) -> list[_Open]:
        size = self.end - self.start
        parts = path.part(self.curves, 0, size / 2), path.part(self.curves, size / 2, size)
        half = self.start + size / 2
        return [
            _Open(self.label, self.allowance, list(parts[0]), self.start, half),
            _Open(self.label, self.allowance, list(parts[1]), half, self.end, self.dart),
        ]

    def closed(self, finish: EdgeFinish) -> Run:
        return Run(self.label, finish, self.allowance, tuple(self.curves), self.start, self.end, self.dart)


def _cut(
    curve: Curve, arc: float, allowance: float, openings: Sequence[Stretch], defaults: Defaults
) -> list[tuple[Curve, float]]:
    """The curve cut where openings start and end, each part with its allowance."""
    if not openings:
        return [(curve, allowance)]
    size = curve.length
    stops = {x - arc for s in openings for x in (s.start, s.end)}
    inner = sorted(s for s in stops if SAME_POINT_MM < s < size - SAME_POINT_MM)
    ts = [0.0, *(curve.at_length(s) for s in inner), 1.0]
    arcs = [0.0, *inner, size]
    out: list[tuple[Curve, float]] = []
    for i in range(len(arcs) - 1):
        middle = arc + (arcs[i] + arcs[i + 1]) / 2
        out.append((curve.part(ts[i], ts[i + 1]), allowance_at(middle, allowance, openings, defaults)))
    return out


def allowance_at(arc: float, allowance: float, openings: Sequence[Stretch], defaults: Defaults) -> float:
    """The allowance of an edge at a place, widened by the openings of that edge that lie there."""
    here = [s.opening for s in openings if s.start < arc < s.end]
    return max([allowance, *(_least(o, defaults) for o in here)])


def _least(opening: Opening, defaults: Defaults) -> float:
    match opening.kind:
        case "zip":
            return defaults.zip
        case "vent":
            return defaults.vent
        case "slit":
            return defaults.slit
        case "cord exit":
            return 0.0
