"""All checks, in the order in which a maker would look: outlines, seams, fit, cloth, paper."""

from __future__ import annotations

from cutonce.checks.context import Check, Context, Found
from cutonce.checks.corners import corners
from cutonce.checks.dart_legs import dart_legs
from cutonce.checks.hand import hand
from cutonce.checks.outlines import outlines
from cutonce.checks.seam_lengths import seam_lengths
from cutonce.draft.draft import Draft

CHECKS: tuple[Check, ...] = (
    outlines,
    seam_lengths,
    dart_legs,
    corners,
    hand,
)


def all_checks(draft: Draft, context: Context) -> Found:
    """Everything that the checks have to say of a draft, in the order of `CHECKS`."""
    return tuple(finding for check in CHECKS for finding in check(draft, context))


__all__ = ["CHECKS", "Check", "Context", "Found", "all_checks"]
