"""Girths at bust, waist and hip against the body: she must fit, and be able to breathe and sit."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.checks.levels import Level
from cutonce.draft.draft import Draft
from cutonce.errors import Finding

GIRTH_MM = 5.0
"""Girths are true to 5 mm; a tape is read no better round a body."""

LEAST_EASE_MM = {"bust": 25.0, "waist": 10.0, "hip": 25.0}
"""The least ease in woven cloth (common practice; published blocks have 50 to 120, 10 to 60, 30 to 75)."""

MEASURES = {"bust": "bust_girth", "waist": "waist_girth", "hip": "hip_girth"}


def girths(draft: Draft, context: Context) -> Found:
    """Each level at which the garment goes all round, where the body has the measure."""
    levels = context.girths(draft)
    return tuple(f for name in MEASURES if name in levels for f in _at(name, levels[name], context))


def _at(name: str, found: Level, context: Context) -> Iterator[Finding]:
    if not found.is_ring or context.body is None or not context.body.has(MEASURES[name]):
        return
    body = context.body.mm(MEASURES[name])
    stated = context.ease.get(name)
    ease = found.girth - body
    if stated is not None and stated < 0:
        yield from _stretched(found, body, stated, context)
        return
    least = min(LEAST_EASE_MM[name], stated) if stated is not None else LEAST_EASE_MM[name]
    if ease >= least - GIRTH_MM:
        return
    too_small = ease < -GIRTH_MM
    yield Finding(
        "stop" if too_small else "warning",
        "girth",
        name,
        f"the garment is {found.girth:.0f} mm round at the {name}, the body {body:.0f}: "
        + (f"{-ease:.0f} mm too small" if too_small else f"{ease:.0f} mm of ease, {least:.0f} is the least"),
        step=context.last_step(found.spans),
        hint="give more ease to the block, or take in less at the side or in darts",
        expected_mm=body + least,
        found_mm=found.girth,
    )


def _stretched(found: Level, body: float, stated: float, context: Context) -> Iterator[Finding]:
    """Ease stated below nothing: for cloth that stretches, and only as much as was meant."""
    share = -100 * (found.girth - body) / body
    off = found.girth - (body + stated) < -GIRTH_MM
    yield Finding(
        "warning" if off else "note",
        "girth-stretched",
        found.name,
        f"the garment is {found.girth:.0f} mm round at the {found.name}, {share:.0f} % less than the body: "
        "the cloth must stretch by as much",
        step=context.last_step(found.spans),
        hint="try the cloth: it should stretch half as much again with ease",
        expected_mm=body + stated,
        found_mm=found.girth,
    )
