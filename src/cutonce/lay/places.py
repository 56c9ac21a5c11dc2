"""Places on what is cut that the cloth's pattern should run through: a seam's two places, a centre line's
one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import Label, Wearer, sided
from cutonce.errors import BadInput, closest, quoted
from cutonce.finishing.finished import FinishedEdge, FinishedPiece
from cutonce.geometry.meet import nearest
from cutonce.geometry.motion import Point
from cutonce.lay.asked import CentreAt, Match, SeamAt
from cutonce.lay.cuts import Cut

_HANDS: tuple[Wearer, Wearer] = ("left", "right")

_MEETS_MM = 0.5
"""Edges whose ends lie so near to each other meet; a notch so near to an edge belongs to it."""


@dataclass(frozen=True, slots=True)
class SeamPlace:
    """A place on one thing that is cut, in its piece's frame. `hand` is the wearer's side it stands for:
    on folded cloth it says which layer."""

    cut: str
    at: Point
    hand: Wearer = "left"


@dataclass(frozen=True, slots=True)
class Join:
    """Two places where the pattern is to run on (`two` None: one place on the middle of a stripe), what
    the seam is called and where on it."""

    seam: str
    at: str
    one: SeamPlace
    two: SeamPlace | None


def usual(seams: Sequence[Seam], cuts: Sequence[Cut], across: bool) -> tuple[Match, ...]:
    """What is matched unless she says otherwise: side seams at the hem; with stripes along the warp
    (`across`) the centre fronts of what is sewn together on the middle of a stripe."""
    out: list[Match] = []
    if across:
        sewn = {side.piece for seam in seams for side in (seam.a, seam.b)}  # facings are in no seam
        mine = [c for c in cuts if c.source in sewn and _centre(c, "centre front") is not None]
        out += [CentreAt(source, "centre front") for source in dict.fromkeys(c.source for c in mine)]
    for seam in seams:
        sides = all(label.role == "side" for label in (*seam.a.labels, *seam.b.labels))
        if sides and any(_joins_at(seam, "hem", cuts)):
            out.append(SeamAt(seam.name, "hem"))
    return tuple(out)


def joins(wanted: Sequence[Match], seams: Sequence[Seam], cuts: Sequence[Cut]) -> tuple[Join, ...]:
    """The joins of what is to be matched. Raises BadInput, naming the choices, for what is not there."""
    out: list[Join] = []
    for match in wanted:
        found = _at_seam(match, seams, cuts) if isinstance(match, SeamAt) else _at_centre(match, cuts)
        out += [j for j in found if j not in out]
    return tuple(out)


def _at_seam(match: SeamAt, seams: Sequence[Seam], cuts: Sequence[Cut]) -> list[Join]:
    named = [s for s in seams if s.name == match.seam]
    if not named:
        names = sorted({s.name for s in seams})
        message = f"no seam {quoted(match.seam)}{closest(match.seam, names)}"
        raise BadInput("unknown-seam", "match", message, f"there are: {', '.join(names) or 'none'}")
    found = [j for seam in named for j in _joins_at(seam, match.at, cuts)]
    if not found:
        places = sorted({p for seam in named for p in _shared_places(seam, cuts)})
        message = f"the seam '{match.seam}' has no place {quoted(match.at)} on both its sides"
        raise BadInput("unknown-notch", "match", message, f"it has: {', '.join(places) or 'none'}")
    return found


def _joins_at(seam: Seam, at: str, cuts: Sequence[Cut]) -> Iterator[Join]:
    """The seam on the wearer's left and right, once where both are one; a centre seam joins the left piece to
    the right one."""
    if seam.a == seam.b:
        one, two = _place(seam.a, at, "left", cuts), _place(seam.b, at, "right", cuts)
        if one is not None and two is not None and one != two:
            yield Join(seam.name, at, one, two)
        return
    found: list[Join] = []
    for hand in _HANDS:
        one, two = (_place(side, at, hand, cuts) for side in (seam.a, seam.b))
        if one is not None and two is not None:
            found.append(Join(_told(seam, hand), at, one, two))
    if len(found) == 2 and (found[0].one, found[0].two) == (found[1].one, found[1].two):
        found = [replace(found[0], seam=seam.name)]
    yield from found


def _told(seam: Seam, hand: Wearer) -> str:
    sides = {label.wearer for label in (*seam.a.labels, *seam.b.labels)} - {None}
    return seam.name if sides or seam.name.startswith(("left ", "right ")) else sided(seam.name, hand)


def _cut_of(source: str, hand: Wearer, cuts: Sequence[Cut]) -> Cut | None:
    """What is cut of a draft's piece for one side of the wearer."""
    other = f"right {source}"
    if hand == "right" and any(c.source == other for c in cuts):
        return next(c for c in cuts if c.source == other)
    return next((c for c in cuts if c.source == source and c.hand in (None, hand)), None)


def _place(side: Side, at: str, hand: Wearer, cuts: Sequence[Cut]) -> SeamPlace | None:
    cut = _cut_of(side.piece, hand, cuts)
    if cut is None:
        return None
    edges = _edges(cut, side.labels, hand)
    spot = _end_at(cut.piece, edges, at) if edges else None
    if spot is None:
        spot = next((p for name, p in _notches_on(cut.piece, edges) if name == at), None)
    return None if spot is None else SeamPlace(cut.key, spot, hand if cut.layers == 2 else "left")


def _edges(cut: Cut, labels: Sequence[Label], hand: Wearer) -> list[FinishedEdge]:
    """The edges of a seam's side as they are called on what is cut: opened out, they have the wearer's
    side."""
    keys = {sided(label.key, hand) if cut.centre is not None else label.key for label in labels}
    return [e for e in cut.piece.edges if e.key in keys and e.sewing]


def _end_at(piece: FinishedPiece, edges: Sequence[FinishedEdge], at: str) -> Point | None:
    """The end of a run of edges that meets the edge called `at` (or of that role)."""
    ends = [p for e in edges for p in (e.sewing[0].start, e.sewing[-1].end)]
    for other in piece.edges:
        if other in edges or not other.sewing or at not in _names(other):
            continue
        for p in (other.sewing[0].start, other.sewing[-1].end):
            near = min(ends, key=lambda q: abs(q - p))
            if abs(near - p) < _MEETS_MM:
                return near
    return None


def _names(edge: FinishedEdge) -> tuple[str, ...]:
    plain = edge.key.removeprefix(f"{edge.wearer} ") if edge.wearer else edge.key
    return edge.key, plain, edge.role


def _notches_on(piece: FinishedPiece, edges: Sequence[FinishedEdge]) -> Iterator[tuple[str, Point]]:
    for notch in piece.notches:
        if any(nearest(e.sewing, notch.sewing)[1] < _MEETS_MM for e in edges):
            yield notch.name, notch.sewing


def _shared_places(seam: Seam, cuts: Sequence[Cut]) -> set[str]:
    """Every place that the seam has on both sides."""
    sides = []
    for side in (seam.a, seam.b):
        cut = _cut_of(side.piece, "left", cuts)
        edges = _edges(cut, side.labels, "left") if cut else []
        if cut is None or not edges:
            return set()
        names = {n for e in cut.piece.edges if e.kind != "fold" for n in _names(e)}
        ends = {n for n in names if _end_at(cut.piece, edges, n) is not None}
        sides.append(ends | {name for name, _ in _notches_on(cut.piece, edges)})
    return sides[0] & sides[1]


def _at_centre(match: CentreAt, cuts: Sequence[Cut]) -> list[Join]:
    mine = [c for c in cuts if match.piece in (c.source, c.key)]
    if not mine:
        sources = list(dict.fromkeys(c.source for c in cuts))
        message = f"no piece {quoted(match.piece)}{closest(match.piece, sources)}"
        raise BadInput("unknown-piece", "match", message, f"there are: {', '.join(sources)}")
    found = [
        Join(c.key, match.centre, SeamPlace(c.key, p, c.hand or "left"), None)
        for c in mine
        if (p := _centre(c, match.centre)) is not None
    ]
    if not found:
        message = f"{match.piece} has no {quoted(match.centre)} to lay on a stripe"
        raise BadInput("unknown-centre", "match", message, "write 'centre front' or 'centre back'")
    return found


def _centre(cut: Cut, name: str) -> Point | None:
    """A place on the centre line of a piece: its fold, where it was opened out, its notch, or its centre
    edge."""
    piece = cut.piece
    edge = next((e for e in piece.edges if e.role == name and e.sewing), None)
    if edge is not None:
        return edge.sewing[0].start
    notch = next((n for n in piece.notches if n.kind == "centre" and n.name == name), None)
    return notch.sewing if notch else None
