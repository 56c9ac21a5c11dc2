"""The independent check of what a search has laid: nothing is shown before it has passed here."""

from __future__ import annotations

from dataclasses import replace

from cutonce.errors import Finding
from cutonce.geometry.motion import Motion
from cutonce.lay.assemble import StageLaid
from cutonce.lay.cuts import Cut
from cutonce.lay.prepare import Prepared
from cutonce.lay.verify import Fine, Placed, grain, verify_placed

FOLD_MM = 0.1
"""A fold edge lies on the fold within this: a pen line."""


def prove(one: StageLaid, ready: Prepared, spacing: float) -> None:
    """Raises RuntimeError, which is a bug of the search, where a layout leaves out a piece, overlaps,
    leaves the cloth, lies on a flaw, off the grain or off the fold. The length at hand is no wall here: it
    is told."""
    wrong = found(one, ready, spacing)
    if wrong:
        raise RuntimeError(
            "the lay breaks its rules: " + "; ".join(f"{f.where} {f.message}" for f in wrong[:5])
        )


def found(one: StageLaid, ready: Prepared, spacing: float) -> tuple[Finding, ...]:
    """What is wrong with a laid stage, on the fine outlines; empty where nothing is."""
    keys = sorted(s.blank for s in one.layout.spots)
    if keys != sorted(one.blanks):
        return (Finding("stop", "not-all-there", "lay", "not every piece lies on the cloth just once"),)
    placed = [Placed(s.blank, one.fine(s)) for s in one.layout.spots]
    out = verify_placed(placed, replace(one.stage.bed, length=None), spacing)
    for spot in one.layout.spots:
        cut, motion = one.cuts[spot.blank], one.motion(spot)
        arrow = cut.piece.grain.end - cut.piece.grain.start
        ways = tuple(t.angle for t in ready.turns[spot.blank])
        out += grain(cut.key, Fine(one.outlines[cut.key].fine, arrow, ways), motion)
        off = _off_fold(cut, one, motion) if cut.on_fold else 0.0
        if off > FOLD_MM:
            out.append(
                Finding("stop", "off-fold", cut.key, f"its fold lies {off:.2f} mm from that of the cloth")
            )
    return tuple(out)


def _off_fold(cut: Cut, one: StageLaid, motion: Motion) -> float:
    fold = cut.piece.fold
    if fold is None:
        return float("inf")
    ends = [motion(p) for c in fold.path for p in (c.start, c.end)]
    return max(abs(z.imag if one.stage.way == "folded lengthwise" else z.real) for z in ends)
