"""The two waists: a dressmaker's, the narrowest place; and that of ANSUR II, at the navel.

They differ by 13.9 cm on average (SD 5.5), so one is never used for the other. The straight lines between
them were fitted to the 260 women of the bdims data (Heinz, Peterson, Johnson, Kerk 2003), which have both.
All lengths in mm.
"""

from __future__ import annotations

from typing import Final

NAVEL_SD_MM: Final = 48.4
"""Residual SD of `navel_from_narrowest` (R2 .765)."""

NARROWEST_SD_MM: Final = 38.0
"""Residual SD of `narrowest_from_navel` (R2 .753)."""


def navel_from_narrowest(narrowest: float, hip: float) -> float:
    """Girth at the navel, from the narrowest waist and the hip girth.

    >>> round(navel_from_narrowest(698.0, 957.0), 1)
    837.8
    """
    return -208.31 + 0.6211 * narrowest + 0.6401 * hip


def narrowest_from_navel(navel: float, hip: float, height: float) -> float:
    """The dressmaker's waist, from girth at the navel, hip girth and body height.

    >>> round(narrowest_from_navel(838.0, 957.0, 1649.0), 1)
    698.3
    """
    return 132.26 + 0.3896 * navel + 0.4573 * hip - 0.1201 * height
