"""All steps, in the order in which a dressmaker meets them."""

from __future__ import annotations

from cutonce.steps import (
    add_guide,
    blend_edge,
    close_gape,
    cut_out,
    draw_line,
    draw_up,
    join_pieces,
    lengthen_to_hem,
    move_dart,
    relate_seam,
    release_dart,
    set_finish,
    set_grain,
    set_opening,
    shape_hem,
    shift_place,
    shorten_dart,
    split_piece,
    spread,
    take_out_dart,
    unfold,
)
from cutonce.steps.step import Example, Result, Step

STEPS: tuple[Step, ...] = (
    lengthen_to_hem.STEP,
    move_dart.STEP,
    take_out_dart.STEP,
    release_dart.STEP,
    shorten_dart.STEP,
    unfold.STEP,
    draw_line.STEP,
    split_piece.STEP,
    join_pieces.STEP,
    shift_place.STEP,
    close_gape.STEP,
    cut_out.STEP,
    spread.STEP,
    draw_up.STEP,
    blend_edge.STEP,
    shape_hem.STEP,
    relate_seam.STEP,
    set_finish.STEP,
    set_opening.STEP,
    add_guide.STEP,
    set_grain.STEP,
)

BY_NAME: dict[str, Step] = {step.name: step for step in STEPS}

__all__ = ["BY_NAME", "STEPS", "Example", "Result", "Step"]
