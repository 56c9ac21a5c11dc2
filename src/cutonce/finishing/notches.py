"""Notches: short cuts into the allowance where edges meet, square to the sewing line.

By common practice one cut is for the front and two are for the back; an edge that joins a front and a back
has one on both, so that like meets like.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import EdgeMark, Label
from cutonce.finishing.allowance import Stretch
from cutonce.finishing.cutting import Cutting
from cutonce.finishing.edges import EdgePlace, is_corner, place
from cutonce.finishing.finished import Notch
from cutonce.geometry.motion import Point

DEEPEST_MM = 6.0
"""A notch is at most this deep, and never more than half of the allowance: the sewing line stays whole."""

ON_BOUND_MM = 3.0
"""Depth on an edge without allowance: the binding covers it."""

LONG_MM = 250.0
"""A seam longer than this without any mark gets one at its middle."""

_CLEAR_MM = 8.0
"""A mark nearer to the end of its edge would be lost in the corner of the allowance."""

_SAME_MM = 2.0
"""Two notches nearer than this are cut as one."""

Kind = Literal["landmark", "balance", "gather", "dart", "centre"]


@dataclass(frozen=True, slots=True)
class _Wanted:
    name: str
    label: Label
    arc: float
    kind: Kind
    at_corner: bool = False


Marks = Mapping[str, tuple[tuple[EdgeMark, Label, float], ...]]
"""For each piece its printed marks with edge and arc length."""


def notches(
    draft: Draft, piece: Piece, cutting: Cutting, openings: tuple[Stretch, ...], marks: Marks
) -> tuple[Notch, ...]:
    """Every notch of a piece: landmarks and step marks, halves and quarters of seams, the ends of gathers and
    openings, dart mouths. None stands in a corner, and two never stand at one place."""
    out: list[Notch] = []
    sizes = {label: piece.edge_length(label) for label in piece.labels}
    for want in _wanted(draft, piece, cutting, openings, marks):
        size = sizes.get(want.label)
        if size is None or (not want.at_corner and _in_corner(cutting, want, size)):
            continue
        spot = place(cutting, want.label, want.arc)
        if all(abs(n.sewing - spot.sewing) > _SAME_MM for n in out):
            out.append(_cut(spot, want, _count(draft, piece, want)))
    return (*out, *_mouths(cutting))


def _wanted(
    draft: Draft, piece: Piece, cutting: Cutting, openings: tuple[Stretch, ...], marks: Marks
) -> Iterator[_Wanted]:
    for mark, label, arc in marks.get(piece.key, ()):
        if not _on_fold(piece, label):
            is_centre = mark.name.startswith("centre")
            on_fold = is_centre and _beside_fold(piece, cutting, label, arc)
            yield _Wanted(mark.name, label, arc, "centre" if is_centre else "landmark", on_fold)
    for stretch in openings:
        if stretch.opening.kind != "cord exit":
            for arc in stretch.full:
                yield _Wanted(f"{stretch.opening.kind} end", stretch.label, arc, "balance")
    for seam in draft.seams:
        for side in _own_sides(seam, piece):
            yield from _of_seam(draft, seam, side, piece, cutting, marks)
    for drawn in draft.drawn:
        for key, label in drawn.edges:
            if key == piece.key and label in piece.labels:
                size = piece.edge_length(label)
                if drawn.by != "cord":
                    yield _Wanted(f"{drawn.name} middle", label, size / 2, "gather")
                for arc, at_end in ((0.0, False), (size, True)):
                    if not is_corner(cutting, label, at_end):
                        yield _Wanted(f"{drawn.name} end", label, arc, "gather", True)


def _own_sides(seam: Seam, piece: Piece) -> tuple[Side, ...]:
    sides = (seam.a,) if seam.a == seam.b else (seam.a, seam.b)
    return tuple(s for s in sides if s.piece == piece.key)


def _of_seam(
    draft: Draft, seam: Seam, side: Side, piece: Piece, cutting: Cutting, marks: Marks
) -> Iterator[_Wanted]:
    """Quarters of a gathered seam, the middle of an eased or long one; ends that run on smoothly."""
    size = draft.side_length(side)
    shares: tuple[float, ...] = ()
    kind: Kind = "balance"
    if seam.relation.kind != "equal":
        kind = "gather"
        shares = (0.25, 0.5, 0.75) if seam.relation.kind == "gather" else (0.5,)
        for label, arc, at_end in (
            (side.labels[0], 0.0, False),
            (side.labels[-1], piece.edge_length(side.labels[-1]), True),
        ):
            if not is_corner(cutting, label, at_end):
                yield _Wanted(f"{seam.name} {seam.relation.kind} ends", label, arc, kind, True)
    elif size > LONG_MM and not _has_marks(draft, seam, marks):
        shares = (0.5,)
    for share in shares:
        s = size * (share if side == seam.a else 1 - share)
        name = {0.25: "first quarter", 0.5: "middle", 0.75: "third quarter"}[share]
        for label in side.labels:
            length = piece.edge_length(label)
            if s <= length:
                yield _Wanted(f"{seam.name} {name}", label, s, kind)
                break
            s -= length


def _has_marks(draft: Draft, seam: Seam, marks: Marks) -> bool:
    """Is there a printed mark within the seam, clear of its ends?"""
    for side in (seam.a, seam.b):
        piece = draft.piece(side.piece)
        for _, label, arc in marks.get(side.piece, ()):
            if label in side.labels and _CLEAR_MM < arc < piece.edge_length(label) - _CLEAR_MM:
                return True
    return False


def _on_fold(piece: Piece, label: Label) -> bool:
    return piece.cut == "fold" and label == piece.fold


def _beside_fold(piece: Piece, cutting: Cutting, label: Label, arc: float) -> bool:
    """Does the place lie at an end of its edge that meets the fold of a half piece?"""
    mine = [i for i, r in enumerate(cutting.runs) if r.label == label]
    n, size = len(cutting.runs), piece.edge_length(label)
    before, after = cutting.runs[(mine[0] - 1) % n], cutting.runs[(mine[-1] + 1) % n]
    at_start = arc < _CLEAR_MM and before.finish.kind == "fold"
    return at_start or (arc > size - _CLEAR_MM and after.finish.kind == "fold")


def _in_corner(cutting: Cutting, want: _Wanted, size: float) -> bool:
    at_start = want.arc < _CLEAR_MM and is_corner(cutting, want.label, False)
    return at_start or (want.arc > size - _CLEAR_MM and is_corner(cutting, want.label, True))


def _count(draft: Draft, piece: Piece, want: _Wanted) -> int:
    """Two cuts where everything that meets there is back, else one."""
    if want.kind == "centre" or piece.face != "back":
        return 1
    seams = draft.seams_of(piece.key, want.label)
    keys = {s.piece for seam in seams for s in (seam.a, seam.b)}
    return 2 if all(draft.piece(k).face == "back" for k in keys) else 1


def _cut(spot: EdgePlace, want: _Wanted, count: int) -> Notch:
    inward = 1j * spot.along
    tip = spot.at + depth(spot.allowance) * inward
    return Notch(want.name, want.label.key, want.kind, spot.at, tip, spot.sewing, spot.along, count)


def depth(allowance: float) -> float:
    """How deep a notch is cut into an allowance."""
    return min(DEEPEST_MM, allowance / 2) if allowance >= 2 * ON_BOUND_MM else ON_BOUND_MM


def _mouths(cutting: Cutting) -> Iterator[Notch]:
    """A cut on each leg of a dart, along the leg."""
    for mouth in cutting.mouths:
        for mouth_end, at in ((mouth.mouth.one, mouth.first), (mouth.mouth.two, mouth.second)):
            yield _on_leg(mouth.name, mouth.edge, mouth_end, at, mouth.mouth.tip)


def _on_leg(name: str, edge: str, mouth: Point, at: Point, tip: Point) -> Notch:
    inward = (tip - mouth) / abs(tip - mouth)
    return Notch(name, edge, "dart", at, at + depth(abs(at - mouth)) * inward, mouth, -1j * inward)
