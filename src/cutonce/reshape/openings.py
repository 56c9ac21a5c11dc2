"""Openings keep their place on the cloth when the edge they lie in becomes longer or shorter."""

from __future__ import annotations

from dataclasses import replace

from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening, Side
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.places import Chain


def kept_on_cloth(before: Draft, after: Draft) -> Draft:
    """`after` with its openings measured anew where side a of their seam has another length than `before`:
    from cloth to cloth as it was. Where that is gone, at the same share."""
    old = {s.name: s for s in before.seams}
    moved = {
        s.name: _Measured(before, after, s.a)
        for s in after.seams
        if s.name in old and old[s.name].a == s.a and _changed(before, after, s.a)
    }
    if not moved:
        return after
    return replace(
        after,
        openings=tuple(_opening(o, moved[o.seam]) if o.seam in moved else o for o in after.openings),
    )


def _changed(before: Draft, after: Draft, side: Side) -> bool:
    return abs(before.side_length(side) - after.side_length(side)) > SAME_POINT_MM


class _Measured:
    """Arc lengths along a side before, told as arc lengths along it after."""

    def __init__(self, before: Draft, after: Draft, side: Side) -> None:
        self.old, self.new = (
            Chain(d.piece(side.piece), tuple(s for e in side.labels for s in d.piece(side.piece).edge(e)))
            for d in (before, after)
        )

    def __call__(self, arc: float) -> float:
        spot = self.old.spot(min(max(arc, 0.0), self.old.length))
        found = self.new.arc_of(*spot.on_cloth)
        return arc / self.old.length * self.new.length if found is None else found


def _opening(opening: Opening, at: _Measured) -> Opening:
    start, end = at(opening.start_mm), at(opening.start_mm + opening.length_mm)
    return replace(opening, start_mm=start, length_mm=end - start)
