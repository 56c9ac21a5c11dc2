"""All checks, in the order in which a maker would look: outlines, seams, fit, cloth, paper."""

from __future__ import annotations

from dataclasses import replace

from cutonce.checks.bias import bias
from cutonce.checks.context import Check, Context, Found
from cutonce.checks.corners import corners
from cutonce.checks.dart_legs import dart_legs
from cutonce.checks.gape import gape
from cutonce.checks.girths import girths
from cutonce.checks.grain import grain
from cutonce.checks.hand import hand
from cutonce.checks.hem_level import hem_level
from cutonce.checks.levels import levels_of
from cutonce.checks.narrow_places import narrow_places
from cutonce.checks.notches import notches
from cutonce.checks.openings import openings
from cutonce.checks.outlines import outlines
from cutonce.checks.seam_lengths import seam_lengths
from cutonce.checks.way_in import way_in
from cutonce.draft.draft import Draft
from cutonce.errors import CannotApply, Finding
from cutonce.reshape.unfold import unfolded

CHECKS: tuple[Check, ...] = (
    outlines,
    seam_lengths,
    dart_legs,
    corners,
    girths,
    way_in,
    openings,
    gape,
    hem_level,
    hand,
    grain,
    bias,
    narrow_places,
    notches,
)


def all_checks(draft: Draft, context: Context) -> Found:
    """Everything that the checks have to say of a draft, in the order of `CHECKS`.

    Two unlike halves are joined first; where they cannot be, that is said and the left one is checked alone.
    """
    said: list[Finding] = []
    if draft.twin is not None:
        try:
            draft = unfolded(draft, (), "halves")
        except CannotApply as problem:
            said.append(Finding("stop", problem.code, problem.where, problem.message, hint=problem.hint))
            draft = replace(draft, twin=None)
    context = replace(context, levels=levels_of(draft))
    return (*said, *(finding for check in CHECKS for finding in check(draft, context)))


__all__ = ["CHECKS", "Check", "Context", "Found", "all_checks"]
