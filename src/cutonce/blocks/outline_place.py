"""Laying a typed half piece where every half piece lies: centre edge on x = 0, wearer's left half, top up."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

from cutonce.draft.piece import Piece
from cutonce.draft.span import BLOCK, CENTRES, Span, born_round
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.motion import MIRROR, STILL, Motion, Point, shifting, turning
from cutonce.geometry.path import bounds

STRAIGHT_MM = 0.5
"""A centre on a fold may leave the straight by this much as typed; a ruler is read no better."""

_UPRIGHT = math.radians(0.01)


def placed(piece: Piece, where: str) -> tuple[Piece, Motion, tuple[Finding, ...]]:
    """The piece moved so that its centre lies on x = 0, a front at x >= 0 and a back at x <= 0; and how.

    A fold edge is turned upright; a seamed centre (which may be shaped) is only shifted. A piece without a
    centre stays. Raises CannotApply (fold-not-straight, fold-not-upright).
    """
    centre = [s for s in piece.outline if s.label.role in CENTRES]
    if not centre:
        return piece, STILL, ()
    said: list[Finding] = []
    motion = STILL
    if piece.cut == "fold":
        motion, turned = _upright(centre, where)
        piece = piece.moved(motion)
        said.extend(turned)
    box = bounds(s.curve for s in piece.outline)
    line = bounds(s.curve for s in piece.outline if s.label.role in CENTRES)
    lies_right = (box[0] + box[2]) / 2 > (line[0] + line[2]) / 2
    shift = shifting(complex(-(line[0] if lies_right else line[2]), 0))
    piece, motion = piece.moved(shift), shift.after(motion)
    if lies_right != (piece.face == "front"):
        piece, motion = _as_drawn(piece.moved(MIRROR), piece.flips), MIRROR.after(motion)
        message = f"typed as the wearer's right half of a {piece.face}; turned over to be the left half"
        said.append(Finding("note", "turned-over", where, message, BLOCK, "nothing to do"))
    return piece, motion, tuple(said)


def _upright(centre: list[Span], where: str) -> tuple[Motion, tuple[Finding, ...]]:
    start, end = centre[0].curve.start, centre[-1].curve.end
    if abs(end - start) < STRAIGHT_MM:
        raise CannotApply(
            "fold-not-straight",
            where,
            f"the {centre[0].label.name} ends where it begins and cannot lie on a fold",
            "type the fold as an edge of its own",
        )
    along = (end - start) / abs(end - start)
    off = max(abs(((p - start) * along.conjugate()).imag) for s in centre for p in _samples(s))
    if off > STRAIGHT_MM:
        raise CannotApply(
            "fold-not-straight",
            where,
            f"the {centre[0].label.name} leaves the straight by {off:.1f} mm and cannot lie on a fold",
            "make it straight, or cut the piece as a pair with a seam there",
        )
    if abs(along.imag) < 0.5:
        raise CannotApply(
            "fold-not-upright",
            where,
            f"the {centre[0].label.name} lies across the body",
            "type the piece with the top of the body up",
        )
    lean = cmath.phase(along / (1j if along.imag > 0 else -1j))
    turned = turning(-lean, start)
    if abs(lean) <= _UPRIGHT:
        return turned, ()
    message = f"turned by {math.degrees(lean):.2f} degrees so that its {centre[0].label.name} is upright"
    return turned, (Finding("note", "turned-upright", where, message, BLOCK, "nothing to do"),)


def _samples(span: Span) -> tuple[Point, ...]:
    return tuple(span.curve.at(k / 8) for k in range(9))


def _as_drawn(piece: Piece, flips: int) -> Piece:
    """The mirrored piece with its material counted in outline order, as if it had been typed so."""
    spans = born_round([(s.label, (s.curve,)) for s in piece.outline], BLOCK)
    return replace(piece, outline=tuple(spans), flips=flips)
