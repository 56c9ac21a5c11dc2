"""What she asks of a lay, beside the pieces and the cloth. Plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cutonce.geometry.motion import Motion
from cutonce.lay.plan import Way

AskedWay = Way | Literal["part folded, part open"]
"""How the cloth lies; "part folded, part open": pairs and folds first on folded cloth, the rest on open."""

SPACING_MM = 2.0
"""Room between pieces for the shears, unless she says otherwise."""


@dataclass(frozen=True, slots=True)
class Held:
    """A piece where she put it: the key of what is laid ("left sleeve"), and its motion on the cloth.

    `motion` takes the piece's frame to places in its section: x from the section's start (on cloth folded
    crosswise: from the fold, so it is negative), y across as in a plan.
    """

    key: str
    motion: Motion
    section: int = 0


@dataclass(frozen=True, slots=True)
class SeamAt:
    """Run the pattern on over a seam at a place: a notch's name ("hip"), or the edge at its end ("hem")."""

    seam: str
    at: str


@dataclass(frozen=True, slots=True)
class CentreAt:
    """Lay a centre line on the middle of a stripe: a piece's key, and "centre front" or "centre back"."""

    piece: str
    centre: str


Match = SeamAt | CentreAt


@dataclass(frozen=True, slots=True)
class Asked:
    """Everything that may be asked. Angles in radians, lengths in mm.

    `margin` is kept free at both cut ends. `cross` names pieces that may be turned a quarter. Each piece may
    lie up to `tolerance` off its grain, or as `tolerances` says for it. `held` stay where they are.
    `match`: what to match to the pattern, None for what is usual (side seams at the hem, the centre front).
    """

    way: AskedWay = "open"
    spacing: float = SPACING_MM
    margin: float = 0.0
    cross: tuple[str, ...] = ()
    tolerance: float = 0.0
    tolerances: tuple[tuple[str, float], ...] = ()
    held: tuple[Held, ...] = ()
    match: tuple[Match, ...] | None = None

    def tolerance_of(self, piece: str) -> float:
        """How far off its grain a finished piece may lie, radians."""
        return dict(self.tolerances).get(piece, self.tolerance)
