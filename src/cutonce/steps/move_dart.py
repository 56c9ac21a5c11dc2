"""Move a dart: close it, wholly or by a share, and open the same angle at another edge."""

from __future__ import annotations

import math
from itertools import count
from typing import Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.quantities import Length, Share
from cutonce.reshape.darts import at_mouth, fold_into, move_dart
from cutonce.reshape.find_dart import on_an_edge
from cutonce.reshape.places import Spot, resolve
from cutonce.reshape.soundness import refuse_crossing
from cutonce.steps.parameters import DartParams, PlaceParams
from cutonce.steps.step import Example, Result, Step


class MoveDart(DartParams):
    """Which dart, where to, how much of it."""

    to: PlaceParams | None = Field(None, description="where on an edge it opens")
    into: str = Field("", description="or the name of another dart with the same pivot that takes it up")
    share: Share = Field(1.0, description="how much of its angle")
    name: str = Field("", description="the new dart's name; left out: named after its edge")
    short: Length = Field(20.0, description="how far before the pivot the new dart is drawn to end")

    @model_validator(mode="after")
    def _one_target(self) -> Self:
        if bool(self.into) == (self.to is not None):
            raise BadInput("dart-target", self.piece, "say where the dart opens: either 'to' or 'into'")
        if self.into and self.name:
            raise BadInput("dart-target", self.piece, f"the {self.into} keeps its name", "leave 'name' out")
        if self.short < 0:
            raise BadInput("out-of-range", self.piece, "'short' is below 0: a dart ends before its pivot")
        return self


def apply(draft: Draft, params: MoveDart, step: str) -> Result:
    piece, dart = on_an_edge(draft, params.piece, params.dart, params.wearer, "moved")
    angle = piece.dart_angle(dart) * params.share
    if angle <= 0:
        raise CannotApply(
            "dart-too-small", piece.key, f"no part of the {dart.name} is asked for", "raise the share"
        )
    if params.to is None:
        into = piece.dart(params.into, dart.wearer)
        new, gone = fold_into(piece, dart, into, angle, step)
        _refuse_overlap(new, dart)
        return Result(draft.with_pieces([new], gone), _said(piece, new, dart, into.name, step))
    spot = resolve(draft, params.to.place())
    if spot.piece != piece.key or spot.label is None:
        raise CannotApply("other-piece", piece.key, f"the dart cannot open on {params.to.words()}")
    _refuse_same_place(piece, dart, spot)
    name = _new_name(piece, f"{spot.label.name} dart", dart if params.share == 1 else None, params.name)
    opened = Dart(name, dart.wearer, params.short)
    new, gone, _ = move_dart(piece, dart, spot, angle, opened, step)
    _refuse_past_mouth(new, opened)
    _refuse_overlap(new, dart)
    return Result(draft.with_pieces([new], gone), _said(piece, new, dart, name, step))


def _refuse_same_place(piece: Piece, dart: Dart, spot: Spot) -> None:
    if at_mouth(piece, dart, spot.point):
        raise CannotApply(
            "same-place", piece.key, f"the {dart.name} opens there already", "choose another place"
        )


def _new_name(piece: Piece, wanted: str, leaving: Dart | None, asked: str) -> str:
    """The name asked for, which must be free, or the first free one after the edge."""
    taken = {d.name for d in piece.darts if d != leaving} | {d.name for d in piece.double_darts}
    if asked and asked in taken:
        raise CannotApply("name-taken", piece.key, f"it has a {asked} already", "choose another name")
    return asked or next(n for k in count(1) if (n := wanted if k == 1 else f"{wanted} {k}") not in taken)


def _refuse_overlap(piece: Piece, dart: Dart) -> None:
    refuse_crossing(
        piece,
        f"with so much of the {dart.name} moved there the piece would lie over itself",
        "move a smaller share, or to another edge",
    )


def _refuse_past_mouth(piece: Piece, dart: Dart) -> None:
    a, b = piece.mouth(dart)
    length = abs((a + b) / 2 - piece.pivot(dart))
    if dart.short >= length:
        raise CannotApply(
            "dart-too-short",
            piece.key,
            f"the {dart.name} is {length:.1f} mm long and cannot be drawn {dart.short:.1f} mm short",
            "lower 'short'",
        )


def _said(piece: Piece, new: Piece, dart: Dart, name: str, step: str) -> tuple[Finding, ...]:
    to = new.dart(name, dart.wearer)
    leg = new.legs(to)[0].length
    angle = new.dart_angle(to)
    intake = 2 * leg * math.sin(angle / 2)
    message = (
        f"the {to.name} is {math.degrees(angle):.1f} degrees wide at the pivot: {intake:.1f} mm at its "
        f"mouth, legs {leg:.1f} mm"
    )
    return (Finding("note", "dart-moved", piece.key, message, step),)


def sentence(params: MoveDart) -> str:
    how_much = "" if params.share == 1 else f"{params.share:.0%} of "
    where = f"into the {params.into}" if params.to is None else f"to {params.to.words()}"
    return f"Move {how_much}{params.words()} {where}."


STEP = Step(
    name="move_dart",
    title="Move a dart",
    purpose=(
        "Close a dart, wholly or in part, and open it on another edge, turning the cloth between about the "
        "dart's pivot. Several moves by share split a dart; moving into another dart joins two."
    ),
    holds="The angles sum to what they were, to 1e-9 rad; every other edge keeps its length within 0.01 mm.",
    params=MoveDart,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The bust dart from where the block has it to the side seam",
            params={
                "piece": "front",
                "dart": "bust dart",
                "to": {"piece": "front", "edge": "side", "from": "armhole", "by": "6 cm"},
            },
            because="A dart's turn is rigid: no edge changes its length.",
        ),
        Example(
            title="Half of the bust dart to the side seam, half left where it is",
            params={
                "piece": "front",
                "dart": "bust dart",
                "share": "50 %",
                "to": {"piece": "front", "edge": "side", "from": "armhole", "by": "6 cm"},
            },
            because="A dart's turn is rigid: no edge changes its length.",
        ),
    ),
)
