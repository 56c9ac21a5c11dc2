"""Move a dart: close it, wholly or by a share, and open the same angle at another edge."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.errors import CannotApply, Finding
from cutonce.quantities import Length, Share
from cutonce.reshape.darts import fold_into, move_dart
from cutonce.reshape.places import pieces_named, resolve
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.step import Example, Result, Step


class MoveDart(Params):
    """Which dart, where to, how much of it."""

    piece: str = Field(description="the piece that has the dart")
    dart: str = Field(description="the dart's name")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")
    to: PlaceParams | None = Field(None, description="where on an edge it opens")
    into: str = Field("", description="or the name of another dart with the same pivot that takes it up")
    share: Share = Field(1.0, description="how much of its angle")
    name: str = Field("", description="the new dart's name; left out: named after its edge")
    short: Length = Field(20.0, description="how far before the pivot the new dart is drawn to end")


def apply(draft: Draft, params: MoveDart, step: str) -> Result:
    piece = piece_with_dart(draft, params.piece, params.dart, params.wearer)
    dart = piece.dart(params.dart, params.wearer)
    angle = piece.dart_angle(dart) * params.share
    if angle <= 0:
        raise CannotApply(
            "dart-too-small", piece.key, f"no part of the {dart.name} is asked for", "raise the share"
        )
    if bool(params.into) == (params.to is not None):
        raise CannotApply("dart-target", piece.key, "say where it opens: either 'to' or 'into'")
    if params.to is None:
        new, gone = fold_into(piece, dart, piece.dart(params.into, params.wearer), angle, step)
        return Result(draft.with_pieces([new], gone), _said(piece, new, dart, params.into, step))
    spot = resolve(draft, params.to.place())
    if spot.piece != piece.key or spot.label is None:
        raise CannotApply("other-piece", piece.key, f"the dart cannot open on {params.to.words()}")
    name = params.name or _free_name(piece, f"{spot.label.name} dart", dart if params.share == 1 else None)
    opened = Dart(name, dart.wearer, params.short)
    new, gone, _ = move_dart(piece, dart, spot, angle, opened, step)
    return Result(draft.with_pieces([new], gone), _said(piece, new, dart, name, step))


def piece_with_dart(draft: Draft, name: str, dart: str, wearer: Literal["left", "right"] | None) -> Piece:
    """The piece of that name that has the dart; the first of that name where none has, to say what it has."""
    found = pieces_named(draft, name, wearer)
    return next((p for p in found if any(d.name == dart for d in p.darts)), found[0])


def _free_name(piece: Piece, wanted: str, leaving: Dart | None) -> str:
    taken = {d.name for d in piece.darts if d != leaving}
    return next(n for k in range(1, 99) if (n := wanted if k == 1 else f"{wanted} {k}") not in taken)


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
    side = f"{params.wearer} " if params.wearer else ""
    how_much = "" if params.share == 1 else f"{params.share:.0%} of "
    where = f"into the {params.into}" if params.to is None else f"to {params.to.words()}"
    return f"Move {how_much}the {params.piece}'s {side}{params.dart} {where}."


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
