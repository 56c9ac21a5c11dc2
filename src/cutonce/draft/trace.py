"""What a step did, read from the drafts before and after it: the difference of their edges."""

from __future__ import annotations

from dataclasses import dataclass

from cutonce.draft.draft import Draft

_CHANGED_MM = 1e-3


@dataclass(frozen=True, slots=True)
class Change:
    """One edge: `what` is "kept", "changed", "made" or "removed"; lengths in mm, 0 where it did not exist."""

    piece: str
    edge: str
    what: str
    before_mm: float
    after_mm: float


def edge_lengths(draft: Draft) -> dict[tuple[str, str], float]:
    return {(p.key, e.key): p.edge_length(e) for p in draft.pieces for e in p.labels}


def difference(before: Draft, after: Draft) -> tuple[Change, ...]:
    """Every edge that is not as it was, then nothing else: kept edges are left out."""
    old, new = edge_lengths(before), edge_lengths(after)
    out: list[Change] = []
    for key in dict.fromkeys((*old, *new)):
        was, is_now = old.get(key, 0.0), new.get(key, 0.0)
        if key not in new:
            out.append(Change(*key, "removed", was, 0.0))
        elif key not in old:
            out.append(Change(*key, "made", 0.0, is_now))
        elif abs(is_now - was) > _CHANGED_MM:
            out.append(Change(*key, "changed", was, is_now))
    return tuple(out)
