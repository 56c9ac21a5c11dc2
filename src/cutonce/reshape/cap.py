"""The cap of a dart: how the edge runs over its mouth so that the intake, pressed, ends on the edge.

The outline of a piece runs from the mouth to the pivot and back. Paper and cutting line need the cloth of the
intake too: finishing puts `cap(piece, dart)` in the place of the legs wherever one can be drawn.
"""

from __future__ import annotations

from cutonce.draft.piece import Dart, Folds, Piece
from cutonce.draft.span import Span
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.meet import on_line
from cutonce.geometry.motion import Motion, Point, reflecting
from cutonce.geometry.path import Path, moved, reversed_path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.places import outward_of

_ASIDE = 0.35
"""A mouth whose ends differ by less than this share of its width in a direction does not fold that way."""


def cap(piece: Piece, dart: Dart) -> Path:
    """The sewing line over a dart's mouth, from the first leg's outer end to the second's.

    Sewn along its drawn legs (mouth to `Piece.dart_tip`) and pressed as `folds` says, the intake lies doubled
    on the cloth beside the mouth. Its half next to that cloth is the edge there reflected in the leg; its
    other half is the first reflected in the middle line. Both then lie on the edge exactly; where the edge is
    shorter than half the intake it is carried on straight. Raises CannotApply (no-cap, fold-direction).
    """
    one, two = piece.legs(dart)
    mouth = piece.mouth(dart)
    tip = piece.dart_tip(dart)
    middle = (mouth[0] + mouth[1]) / 2
    onto_first = _folds_onto_first(piece, dart, mouth)
    beside = _beside(piece, one, back=True) if onto_first else _beside(piece, two, back=False)
    near = moved(beside, reflecting(tip, mouth[0] if onto_first else mouth[1]))
    half = _up_to_line(near, tip, middle)
    if half is None:
        raise CannotApply(
            "no-cap",
            piece.key,
            f"the edge beside the {dart.name} does not close over it",
            "fold it the other way",
        )
    other = reversed_path(moved(half, reflecting(tip, middle)))
    whole = half + other
    return whole if onto_first else reversed_path(whole)


def fold_direction(piece: Piece, dart: Dart) -> Folds:
    """The way the intake is pressed: `Dart.folds`, else toward the centre where the mouth lies level, else
    down."""
    if dart.folds is not None:
        return dart.folds
    a, b = piece.mouth(dart)
    across = b - a
    return "toward centre" if abs(across.real) >= abs(across.imag) else "down"


def folding(piece: Piece, dart: Dart) -> tuple[Motion, Motion]:
    """How the intake moves when the dart is sewn and pressed: the half beside the cloth that it is pressed
    onto, and the half beyond the middle line."""
    mouth = piece.mouth(dart)
    tip = piece.dart_tip(dart)
    onto = mouth[0] if _folds_onto_first(piece, dart, mouth) else mouth[1]
    near = reflecting(tip, onto)
    return near, near.after(reflecting(tip, (mouth[0] + mouth[1]) / 2))


def _folds_onto_first(piece: Piece, dart: Dart, mouth: tuple[Point, Point]) -> bool:
    """Is the intake pressed onto the cloth beside the first mouth end?"""
    way = fold_direction(piece, dart)
    across = mouth[1] - mouth[0]
    outward = across.real * outward_of(piece, dart.wearer or piece.wearer)
    first = {"toward centre": outward, "toward side": -outward, "up": -across.imag, "down": across.imag}[way]
    if abs(first) < _ASIDE * abs(across):
        level = abs(across.real) >= abs(across.imag)
        hint = "press it toward centre or toward side" if level else "press it up or down"
        raise CannotApply("fold-direction", piece.key, f"the {dart.name} cannot be pressed {way}", hint)
    return first > 0


def _beside(piece: Piece, leg: Span, back: bool) -> Path:
    """The edge as it runs away from the mouth: before the first leg (backwards), or after the second."""
    outline = piece.outline
    n = len(outline)
    step = -1 if back else 1
    i = (outline.index(leg) + step) % n
    label = outline[i].label
    out: list[Curve] = []
    while outline[i].label == label and len(out) < n:
        out.append(outline[i].curve.reversed() if back else outline[i].curve)
        i = (i + step) % n
    end, along = out[-1].end, out[-1].tangent(1)
    longest = 2 * sum(leg.length for leg in piece.outline if leg.label.role == "dart leg")
    return (*out, Line(end, end + along * longest))


def _up_to_line(curves: Path, tip: Point, middle: Point) -> Path | None:
    """The curves up to where they meet the ray from the tip through the middle of the mouth."""
    along = middle - tip
    out: list[Curve] = []
    for curve in curves:
        for t in on_line(curve, tip, along):
            at = curve.at(t)
            if ((at - tip) * along.conjugate()).real > 0:
                return (*out, curve.part(0, t)) if abs(at - curve.start) > SAME_POINT_MM else tuple(out)
        out.append(curve)
    return None
