"""What there is to say of a bodice or dress beyond what truing altered: where a body asks much of a block."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.blocks.bodice_frame import Frame
from cutonce.blocks.bodice_waist import WIDEST_DART, WaistPlan
from cutonce.blocks.ease import BodiceEase
from cutonce.blocks.truing import LEAST_DART, MOST_DART
from cutonce.draft.span import BLOCK
from cutonce.errors import Finding

MOST_SIDE = 35.0
"""A side seam that takes in more than this at the waist drags (common practice)."""


def about_ease(ease: BodiceEase, kind: str) -> Iterator[Finding]:
    """Negative ease is drafted and said."""
    amounts = {"bust": ease.bust, "waist": ease.waist, **({"hip": ease.hip} if kind == "dress" else {})}
    for place, amount in amounts.items():
        if amount < 0:
            said = f"the ease at the {place} is {amount / 10:.1f} cm: for cloth that stretches"
            yield Finding("note", "negative-ease", kind, said, step=BLOCK)


def about_frame(frame: Frame) -> Iterator[Finding]:
    """A bust dart at the end of what can be drawn."""
    if not LEAST_DART * 1.001 < frame.bust.angle < MOST_DART * 0.999:
        least = frame.bust.angle < 2 * LEAST_DART
        length = "short" if least else "long"
        yield Finding(
            "warning",
            "bust-dart-limit",
            "front, bust dart",
            f"the front is so {length} for this bust that the bust dart would have to be "
            f"{'less than 2' if least else 'more than 45'} degrees; the armhole takes the rest",
            step=BLOCK,
            hint="check front_waist_length and neck_to_bust_point",
        )


def about_waist(plan: WaistPlan, waist: float, frame: Frame) -> Iterator[Finding]:
    """A side seam that takes in much, or leans outwards."""
    if plan.side > MOST_SIDE:
        yield Finding(
            "warning",
            "side-takes-much",
            "side",
            f"the waist is so small for this bust that each side seam takes in {plan.side / 10:.1f} cm, "
            f"besides darts of up to {WIDEST_DART / 10:.0f} cm",
            step=BLOCK,
            hint="give more ease at the waist, or take some in at the centre back",
            found_mm=plan.side,
        )
    if waist > frame.half_width:
        yield Finding(
            "note",
            "waist-over-bust",
            "side",
            f"the waist ({waist / 5:.1f} cm) is more than the bust ({frame.half_width / 5:.1f} cm), both "
            "with ease: the side leans outwards and there are no waist darts",
            step=BLOCK,
            found_mm=2 * waist,
        )
