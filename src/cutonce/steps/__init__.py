"""All steps, in the order in which a dressmaker meets them."""

from __future__ import annotations

from cutonce.steps import move_dart
from cutonce.steps.step import Example, Result, Step

STEPS: tuple[Step, ...] = (move_dart.STEP,)

__all__ = ["STEPS", "Example", "Result", "Step"]
