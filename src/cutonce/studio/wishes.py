"""What she asks of a lay, as she types it: ways, spacing, margins, grain, what to match; read as `Asked`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cutonce.errors import BadInput, closest, quoted
from cutonce.lay.asked import SPACING_MM, Asked, AskedWay, CentreAt, Match, SeamAt
from cutonce.units import angle, length

WAYS: dict[str, AskedWay] = {
    "open": "open",
    "lengthwise": "folded lengthwise",
    "crosswise": "folded crosswise",
    "part": "part folded, part open",
}
"""How the cloth lies, in the short words of the command line."""

_CENTRES = ("centre front", "centre back")
_MATCH_HINT = 'write "side at hip" for a seam, "front on centre front" for a centre line, or none'


@dataclass(frozen=True, slots=True)
class Wishes:
    """As typed; "" is what is usual. `cross` are keys of pieces, `match` texts."""

    way: str = ""
    spacing: str = ""
    margin: str = ""
    tolerance: str = ""
    cross: tuple[str, ...] = ()
    match: tuple[str, ...] = ()


def asked_for(wishes: Wishes, pieces: Sequence[str]) -> Asked:
    """The wishes read. `pieces` are the keys there are. Raises BadInput, one clear line each."""
    for key in wishes.cross:
        if key not in pieces:
            message = f"no piece {quoted(key)}{closest(key, pieces)}"
            raise BadInput("unknown-piece", "--cross", message, f"there are: {', '.join(pieces)}")
    return Asked(
        way=_way(wishes.way),
        spacing=_not_below_nothing(wishes.spacing, "--spacing") if wishes.spacing else SPACING_MM,
        margin=_not_below_nothing(wishes.margin, "--margin") if wishes.margin else 0.0,
        cross=wishes.cross,
        tolerance=_tolerance(wishes.tolerance) if wishes.tolerance else 0.0,
        match=_matches(wishes.match),
    )


def _way(text: str) -> AskedWay:
    if not text:
        return "open"
    if text not in WAYS:
        message = f"no way to lay cloth {quoted(text)}{closest(text, WAYS)}"
        raise BadInput("unknown-way", "--way", message, f"there are: {', '.join(WAYS)}")
    return WAYS[text]


def _not_below_nothing(text: str, where: str) -> float:
    found = length(text, where)
    if found < 0:
        raise BadInput("out-of-range", where, f"{quoted(text)} must not be less than 0")
    return found


def _tolerance(text: str) -> float:
    found = angle(text, "--grain-tolerance")
    if found < 0:
        raise BadInput("out-of-range", "--grain-tolerance", f"{quoted(text)} must not be less than 0")
    return found


def _matches(texts: tuple[str, ...]) -> tuple[Match, ...] | None:
    """None for what is usual; "none" for nothing."""
    if not texts:
        return None
    return () if texts == ("none",) else tuple(_match(text) for text in texts)


def _match(text: str) -> Match:
    piece, on, centre = text.rpartition(" on ")
    if on and centre.strip() in _CENTRES and piece.strip():
        return CentreAt(piece.strip(), centre.strip())
    seam, at, place = text.rpartition(" at ")
    if not at or not seam.strip() or not place.strip():
        raise BadInput("not-a-match", "--match", f"{quoted(text)} says no place to match", _MATCH_HINT)
    return SeamAt(seam.strip(), place.strip())
