"""From finished pieces to what is cut on a cloth: hands, halves opened out, layers, what lies on the fold."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutonce.draft.span import Wearer, sided
from cutonce.finishing.finished import Finished, FinishedPiece
from cutonce.finishing.mirror import mirrored, opened_out
from cutonce.geometry import path
from cutonce.geometry.motion import MIRROR, Point
from cutonce.lay.plan import Paper, Way

ALONG_RAD = 1e-3
"""A fold that runs so near to the warp lies on folded cloth: 1 mm on a metre."""

_BEHIND_MM = 0.01
"""A half piece that reaches further over its own fold cannot lie on the fold of the cloth."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One thing to cut: `piece` as it is cut, and how its printed `paper` then lies.

    `source` is the finished piece's key and `hand` which of a pair it is. `layers` it is cut through;
    `on_fold`: its fold edge lies on the fold; `spare`: cut through two layers though one is wanted.
    `centre` is the line along which a half was opened out.
    """

    key: str
    source: str
    piece: FinishedPiece
    hand: Wearer | None = None
    layers: int = 1
    on_fold: bool = False
    spare: bool = False
    paper: Paper = "face up"
    centre: tuple[Point, Point] | None = None

    @property
    def of_pair(self) -> bool:
        """Is it one of two that mirror each other?"""
        return self.hand is not None


def cuts(done: Finished, way: Way) -> tuple[Cut, ...]:
    """Everything that is cut from cloth laid one way, in the order of the pieces."""
    make = open_cuts if way == "open" else lambda piece: folded_cuts(piece, way)
    return tuple(cut for piece in done.pieces for cut in make(piece))


def parted(done: Finished) -> tuple[tuple[Cut, ...], tuple[Cut, ...]]:
    """What is cut on folded cloth (pairs, and halves that lie on the fold), and what on open cloth after
    it."""
    folded: list[Cut] = []
    single: list[Cut] = []
    for piece in done.pieces:
        made = folded_cuts(piece, "folded lengthwise")
        if any(cut.spare for cut in made):
            single += open_cuts(piece)
        else:
            folded += made
    return tuple(folded), tuple(single)


def open_cuts(piece: FinishedPiece) -> tuple[Cut, ...]:
    """Single layer, right side up: halves opened out, a pair as two of opposite hands."""
    match piece.cut:
        case "fold":
            return (_opened(piece, layers=1),)
        case "pair":
            pairs = max(1, piece.count // 2)
            return tuple(cut for n in range(pairs) for cut in _hands(piece, n + 1 if pairs > 1 else 0))
        case "single":
            return tuple(Cut(key, piece.key, piece) for key in _numbered(piece))


def folded_cuts(piece: FinishedPiece, way: Way) -> tuple[Cut, ...]:
    """Through two layers: a half on the fold where its fold runs with that of the cloth, a pair at once;
    anything else is cut twice though it is wanted once."""
    match piece.cut:
        case "fold" if lies_on_fold(piece, way):
            return (Cut(piece.key, piece.key, piece, layers=2, on_fold=True),)
        case "fold":
            return (_opened(piece, layers=2),)
        case "pair":
            pairs = max(1, piece.count // 2)
            keys = [piece.key] if pairs == 1 else [f"{piece.key} {n + 1}" for n in range(pairs)]
            return tuple(Cut(key, piece.key, piece, layers=2) for key in keys)
        case "single":
            return tuple(Cut(key, piece.key, piece, layers=2, spare=True) for key in _numbered(piece))


def _opened(piece: FinishedPiece, layers: int) -> Cut:
    """A half piece opened out; through two layers it is cut once too often."""
    ends = _fold_ends(piece)
    return Cut(piece.key, piece.key, opened_out(piece), None, layers, False, layers > 1, "opened out", ends)


def lies_on_fold(piece: FinishedPiece, way: Way) -> bool:
    """Does a half piece's fold run as the cloth's: along the warp (lengthwise) or across it (crosswise)?"""
    ends = _fold_ends(piece)
    if ends is None or way == "open":
        return False
    run = (ends[1] - ends[0]) / abs(ends[1] - ends[0])
    arrow = piece.grain.end - piece.grain.start
    turned = run * (arrow / abs(arrow)).conjugate()
    off = abs(turned.imag if way == "folded lengthwise" else turned.real)
    sides = [((z - ends[0]) * run.conjugate()).imag for z in path.flattened(piece.cutting)]
    return off < ALONG_RAD and min(max(sides), -min(sides)) < _BEHIND_MM


def _fold_ends(piece: FinishedPiece) -> tuple[Point, Point] | None:
    return (piece.fold.path[0].start, piece.fold.path[-1].end) if piece.fold else None


def _numbered(piece: FinishedPiece) -> list[str]:
    return [piece.key] if piece.count == 1 else [f"{piece.key} {n + 1}" for n in range(piece.count)]


def _hands(piece: FinishedPiece, number: int) -> tuple[Cut, Cut]:
    """The two of a pair: the wearer's left as drawn, the right one turned over."""
    more = f" {number}" if number else ""
    left = f"{sided(piece.key, None if piece.wearer else 'left')}{more}"
    right = (
        f"{sided(piece.key, None if piece.wearer else 'right')}{more}{' turned over' if piece.wearer else ''}"
    )
    other = mirrored(piece, MIRROR)
    return (
        Cut(left, piece.key, _one(piece, "left"), "left"),
        Cut(right, piece.key, _one(other, "right"), "right", paper="face down"),
    )


def _one(piece: FinishedPiece, hand: Wearer) -> FinishedPiece:
    """One of a pair as a piece of its own, its words put right."""
    if piece.wearer is not None:
        return replace(piece, cut="single", count=1)
    key = sided(piece.key, hand)
    words = {"cut 2, mirrored": "cut 1, right side up", piece.title: key[:1].upper() + key[1:]}
    label = [words.get(line, line) for line in piece.label]
    label.insert(3, f"wearer's {hand}")
    return replace(
        piece, key=key, title=words[piece.title], wearer=hand, cut="single", count=1, label=tuple(label)
    )
