"""Ease of a bodice or dress, stated per place, and how a changed bust ease is shared out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from cutonce.errors import BadInput, quoted

BACK_SHARE, FRONT_SHARE = 0.3, 0.3
"""Of a change of bust ease, three tenths go to the back, three to the front, four to the armholes (from
memory)."""


@dataclass(frozen=True, slots=True)
class BodiceEase:
    """Ease in mm: `bust`, `waist`, `hip` and `neck` on the whole girth, `across_back` and `across_front` on
    the whole width, `scye_depth` on the depth of the armhole base below the nape."""

    bust: float
    waist: float
    hip: float
    neck: float
    across_back: float
    across_front: float
    scye_depth: float

    def stated(self, given: Mapping[str, float]) -> BodiceEase:
        """This system's ease altered by what was stated.

        A change at the bust is shared out: where the ease across back or front is not stated as well, it
        follows by three tenths each. Raises BadInput (unknown-ease) for a place that a bodice has not.

        >>> own = BodiceEase(120, 60, 60, 12, 15, 10, 0)
        >>> own.stated({"bust": 80.0}).across_back, own.stated({"bust": 80.0, "across_back": 9.0}).across_back
        (3.0, 9.0)
        """
        places = [f.name for f in fields(self)]
        for place in given:
            if place not in places:
                raise BadInput(
                    "unknown-ease",
                    "block, ease",
                    f"a bodice has no ease at {quoted(place)}; it has: {', '.join(places)}",
                )
        change = given.get("bust", self.bust) - self.bust
        shared = replace(
            self,
            across_back=self.across_back + BACK_SHARE * change,
            across_front=self.across_front + FRONT_SHARE * change,
        )
        return replace(shared, **given)
