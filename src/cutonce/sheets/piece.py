"""A finished piece as a drawing: its lines with their pens, its marks, and all the words a stranger needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutonce.finishing.finished import (
    NOTCH_GAP_MM,
    DrawnDart,
    FinishedPiece,
    FoldMark,
    Notch,
    PointMark,
    Unsewn,
)
from cutonce.geometry import path as paths
from cutonce.geometry.curve import Curve
from cutonce.geometry.path import Path
from cutonce.geometry.region import polygon as region
from cutonce.sheets.captions import Room, along
from cutonce.sheets.drawing import Group, Item, Stroke, arrow_head, double_arrow, line
from cutonce.sheets.key import drill_mark
from cutonce.sheets.labels import LEAST_MM, Row, place_label
from cutonce.sheets.pens import Pen

_NAME_MM, _LABEL_MM, _CAPTION_MM = 6.5, 3.8, 2.8
_JOINED_MM = 1e-3
_BAR_MM = 6.0

_LINE_PENS = {
    "landmark": Pen.LANDMARK,
    "guide": Pen.GUIDE,
    "fold": Pen.FOLD,
    "stitching": Pen.STITCH,
}


def piece_group(piece: FinishedPiece, text: float = 1.0) -> Group:
    """One piece as a group: lines first, then marks, the label, and what words there is room for.

    `text` enlarges all words, for a sheet that is to be printed at half scale.
    """
    lines = tuple(_lines(piece))
    marks = tuple(_marks(piece))
    inner = [i for i in (*lines, *marks) if isinstance(i, Stroke) and i.pen not in (Pen.CUT, Pen.SEW)]
    label = place_label(piece.cutting, _rows(piece, text), inner, text * LEAST_MM)
    room = Room(region(piece.cutting, 0.1))
    room.take((*lines, *marks, *label))
    words = tuple(_words(piece, room, text * _CAPTION_MM))
    return Group(piece.key, piece.title, (*lines, *marks, *label, *words), piece.cutting)


def _rows(piece: FinishedPiece, text: float) -> tuple[Row, ...]:
    first, *others = piece.label or (piece.title,)
    return (Row(first, text * _NAME_MM, bold=True), *(Row(words, text * _LABEL_MM) for words in others))


def _lines(piece: FinishedPiece) -> Iterator[Item]:
    """From the faintest to the heaviest, so that where two fall together the heavier one shows."""
    for marked in piece.lines:
        yield from _strokes(marked.path, _LINE_PENS[marked.kind])
    for dart in piece.darts:
        yield from _strokes(dart.fold, Pen.GUIDE)
        for leg in dart.legs:
            yield from _strokes(leg, Pen.DART)
    for edge in piece.edges:
        if edge.kind != "fold":
            yield from _strokes(edge.sewing, Pen.SEW)
    yield from cutting_strokes(piece, Pen.CUT)


def cutting_strokes(piece: FinishedPiece, cut: Pen) -> Iterator[Stroke]:
    """The cutting line, drawn with `cut`; what of it lies on the fold of the cloth is drawn as the fold."""
    cutting, fold = piece.cutting, piece.fold
    if fold is None:
        yield Stroke(cutting, cut, closed=True)
        return
    on_fold = [_lies_on(curve, fold.path) for curve in cutting]
    if not all(on_fold) and on_fold[0] == on_fold[-1]:  # begin where cutting begins, so that no run is torn
        first = next(i for i in range(len(cutting)) if on_fold[i] != on_fold[i - 1])
        cutting = (*cutting[first:], *cutting[:first])
        on_fold = on_fold[first:] + on_fold[:first]
    for pen, wanted in ((cut, False), (Pen.FOLD, True)):
        yield from _strokes(
            tuple(c for c, is_fold in zip(cutting, on_fold, strict=True) if is_fold is wanted), pen
        )


def _lies_on(curve: Curve, fold: Path) -> bool:
    """Does a curve lie on the straight line through a fold's ends?"""
    p, q = fold[0].start, fold[-1].end
    u = (q - p) / abs(q - p)
    return all(abs(((curve.at(t) - p) * u.conjugate()).imag) < _JOINED_MM for t in (0.0, 0.3, 0.7, 1.0))


def _strokes(path: Sequence[Curve], pen: Pen) -> Iterator[Stroke]:
    """A path as connected strokes: an edge has gaps at the mouths of its darts."""
    run: list[Curve] = []
    for curve in path:
        if run and abs(run[-1].end - curve.start) > _JOINED_MM:
            yield Stroke(tuple(run), pen)
            run = []
        run.append(curve)
    if run:
        yield Stroke(tuple(run), pen)


def _marks(piece: FinishedPiece) -> Iterator[Item]:
    for notch in piece.notches:
        yield from _notch(notch)
    for drill in piece.drills:
        yield from drill_mark(drill.at)
    for point in piece.points:
        yield line(point.at - 2 - 2j, point.at + 2 + 2j, Pen.LEADER)
        yield line(point.at - 2 + 2j, point.at + 2 - 2j, Pen.LEADER)
    for unsewn in piece.unsewn:
        yield from _bars(unsewn)
    if abs(piece.grain.end - piece.grain.start) > 0:
        yield from double_arrow(piece.grain.start, piece.grain.end, Pen.GRAIN)
    if piece.fold is not None:
        yield from _fold_arrows(piece.fold, piece.cutting)


def _notch(notch: Notch) -> Iterator[Item]:
    """Its cuts side by side, the middle of the row at the notch's place."""
    for i in range(notch.count):
        shift = (i - (notch.count - 1) / 2) * NOTCH_GAP_MM * notch.along
        yield line(notch.at + shift, notch.tip + shift, Pen.NOTCH)


def _bars(unsewn: Unsewn) -> Iterator[Item]:
    """A bar square to the sewing line at each end of what stays open."""
    for spot, u in (
        (unsewn.ends[0], paths.tangent_at(unsewn.path, 0.0)),
        (unsewn.ends[1], paths.tangent_at(unsewn.path, paths.length(unsewn.path))),
    ):
        yield line(spot - 0.5j * _BAR_MM * u, spot + 0.5j * _BAR_MM * u, Pen.NOTCH)


def _fold_arrows(fold: FoldMark, cutting: Path) -> Iterator[Item]:
    """Two arrows from inside the piece that point at the edge to be laid on the fold."""
    inward = 1j if paths.area(cutting) > 0 else -1j
    length = paths.length(fold.path)
    for share in (0.15, 0.85):
        at, u = paths.point_at(fold.path, share * length), paths.tangent_at(fold.path, share * length)
        away = inward * u
        yield line(at + 5 * away, at + 14 * away, Pen.GRAIN)
        yield arrow_head(at + 0.5 * away, -away, 5.0)


def _words(piece: FinishedPiece, room: Room, size: float) -> Iterator[Item]:
    """Captions in order of weight: what comes first gets the room."""
    for unsewn in piece.unsewn:
        yield from along(unsewn.path, (unsewn.words, unsewn.kind), size, room)
    if piece.fold is not None:
        yield from along(piece.fold.path, (piece.fold.words,), 1.2 * size, room)
    grain = piece.grain
    if abs(grain.end - grain.start) > 0:
        yield from along(line(grain.start, grain.end, Pen.GRAIN).path, (grain.words,), size, room)
    for edge in piece.edges:
        if edge.kind != "fold" and edge.sewing:
            longest = max((s.path for s in _strokes(edge.sewing, Pen.SEW)), key=paths.length)
            choices = (f"{edge.key}: {edge.words}", edge.words, edge.fullness, edge.key)
            yield from along(longest, choices, size, room)
    for marked in piece.lines:
        yield from along(marked.path, (marked.name,), size, room)
    for dart in piece.darts:
        yield from _dart_words(dart, room, size)
    for point in piece.points:
        yield from _point_words(point, room, size)


def _dart_words(dart: DrawnDart, room: Room, size: float) -> Iterator[Item]:
    yield from along(dart.fold, (f"{dart.name}: {dart.press}", dart.press, dart.name), size, room)


def _point_words(point: PointMark, room: Room, size: float) -> Iterator[Item]:
    level = line(point.at - 60, point.at + 60, Pen.GUIDE).path
    yield from along(level, (point.name,), size, room)
