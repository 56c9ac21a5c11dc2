"""Shorten a dart: draw its point short of the pivot, and shape the edge over its mouth (the cap)."""

from __future__ import annotations

from dataclasses import replace
from typing import Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Folds, Piece
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import nearest
from cutonce.geometry.path import flattened
from cutonce.quantities import Length
from cutonce.reshape.cap import cap
from cutonce.reshape.find_dart import find_dart
from cutonce.steps.parameters import DartParams
from cutonce.steps.step import Example, Result, Step
from cutonce.units import show

LEAST_LEFT_MM = 10.0
"""A dart drawn shorter than this cannot be sewn to a point."""


class ShortenDart(DartParams):
    """Which dart, how far its drawn point lies before the pivot, which way it is pressed."""

    short: Length | None = Field(
        None,
        description="how far before the pivot the drawn point lies; of a dart pointed at both ends, "
        "by how much its upper point comes toward its widest place",
    )
    below: Length | None = Field(
        None, description="of a dart pointed at both ends, by how much its lower point comes up"
    )
    folds: Folds | None = Field(None, description="which way the intake is pressed; gives the edge its cap")

    @model_validator(mode="after")
    def _something_to_do(self) -> Self:
        if self.short is None and self.below is None and self.folds is None:
            raise BadInput(
                "nothing-asked", self.piece, f"the {self.dart} stays as it is", "say 'short' or 'folds'"
            )
        if min(self.short or 0.0, self.below or 0.0) < 0:
            raise BadInput("out-of-range", self.piece, f"the {self.dart} cannot be drawn past its pivot")
        return self


def apply(draft: Draft, params: ShortenDart, step: str) -> Result:
    piece, dart = find_dart(draft, params.piece, params.dart, params.wearer)
    if isinstance(dart, DoubleDart):
        new, finding = _double(piece, dart, params, step)
    else:
        new, finding = _single(piece, dart, params, step)
    return Result(draft.with_pieces([new]), (finding,))


def _single(piece: Piece, dart: Dart, params: ShortenDart, step: str) -> tuple[Piece, Finding]:
    if params.below is not None:
        raise CannotApply("one-point", piece.key, f"the {dart.name} has one point only", "leave 'below' out")
    (a, b), pivot = piece.mouth(dart), piece.pivot(dart)
    middle = (a + b) / 2
    short = dart.short if params.short is None else params.short
    _refuse_too_short(piece, dart.name, abs(middle - pivot), short)
    folds = params.folds or dart.folds
    changed = replace(dart, short=short, folds=folds, capped=dart.capped or params.folds is not None)
    new = replace(piece, darts=tuple(changed if d == dart else d for d in piece.darts))
    tip = new.dart_tip(changed)
    said = f"the {dart.name} is drawn {short:.1f} mm before its pivot: {abs(middle - tip):.1f} mm long, "
    said += f"{abs(b - a):.1f} mm wide at its mouth"
    if changed.capped:
        said += f"; pressed {changed.folds}, its cap {_how_far(new, changed)}"
    return new, Finding("note", "dart-shortened", piece.key, said, step, spot=(piece.key, tip))


def _how_far(piece: Piece, dart: Dart) -> str:
    """How far the cap stands out from the straight between the mouth's ends, or lies inside it."""
    line = cap(piece, dart)
    a, b = line[0].start, line[-1].end
    peak = max(flattened(line), key=lambda z: nearest([Line(a, b)], z)[1])
    height = ((b - a).conjugate() * (peak - a)).imag / abs(b - a)
    return f"{'stands' if height < 0 else 'dips'} {abs(height):.1f} mm {'out' if height < 0 else 'in'}"


def _double(piece: Piece, dart: DoubleDart, params: ShortenDart, step: str) -> tuple[Piece, Finding]:
    if params.folds is not None:
        raise CannotApply(
            "no-mouth", piece.key, f"the {dart.name} opens on no edge and has no cap", "leave 'folds' out"
        )
    middle = dart.middle
    upper = _nearer(piece, dart.name, dart.upper, middle, params.short or 0.0)
    lower = _nearer(piece, dart.name, dart.lower, middle, params.below or 0.0)
    changed = replace(dart, upper=upper, lower=lower)
    new = replace(piece, double_darts=tuple(changed if d == dart else d for d in piece.double_darts))
    said = (
        f"the {dart.name} now reaches {abs(upper - middle):.1f} mm above its widest place and "
        f"{abs(lower - middle):.1f} mm below it"
    )
    return new, Finding("note", "dart-shortened", piece.key, said, step, spot=(piece.key, upper))


def _nearer(piece: Piece, name: str, point: complex, middle: complex, by: float) -> complex:
    _refuse_too_short(piece, name, abs(point - middle), by)
    return point + (middle - point) / abs(middle - point) * by


def _refuse_too_short(piece: Piece, name: str, length: float, by: float) -> None:
    if by > length - LEAST_LEFT_MM:
        raise CannotApply(
            "dart-too-short",
            piece.key,
            f"the {name} is {length:.1f} mm long and cannot be drawn {by:.1f} mm short",
            f"at most {length - LEAST_LEFT_MM:.1f} mm, so that {LEAST_LEFT_MM:.0f} mm are left to sew",
        )


def sentence(params: ShortenDart) -> str:
    name = params.words()
    done = []
    if params.short is not None:
        done.append(f"draw {name} {show(params.short)} short")
    if params.below is not None:
        done.append(
            f"bring its lower point {show(params.below)} up"
            if done
            else f"shorten {name} below by {show(params.below)}"
        )
    if params.folds is not None:
        it = "it" if done else name
        done.append(f"press {it} {params.folds} and cap its mouth")
    text = ", and ".join(done)
    return text[:1].upper() + text[1:] + "."


STEP = Step(
    name="shorten_dart",
    title="Shorten and cap a dart",
    purpose=(
        "Draw a dart's point short of the pivot it turns about, and shape the edge over its mouth so that "
        "the intake, folded and pressed one way, ends exactly on the edge."
    ),
    holds="No edge changes; the pressed cap lies on the edge within 0.1 mm.",
    params=ShortenDart,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The bust dart drawn 2.5 cm short, pressed down",
            params={"piece": "front", "dart": "bust dart", "short": "2.5 cm", "folds": "down"},
            because="Only the drawn point and the cap change; the outline keeps its edges.",
        ),
        Example(
            title="A waist dart pressed toward the centre",
            params={"piece": "back", "dart": "waist dart", "folds": "toward centre"},
            because="Only the drawn point and the cap change; the outline keeps its edges.",
        ),
    ),
)
