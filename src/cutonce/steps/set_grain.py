"""Set the grain: how the warp runs in a piece."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Grain
from cutonce.draft.span import sided
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.motion import Point
from cutonce.quantities import Angle
from cutonce.reshape.places import chain, piece_named, resolve
from cutonce.steps.parameters import EdgeParams, Params, PlaceParams
from cutonce.steps.step import Example, Result, Step

_TURNS = {"straight": 0.0, "cross": math.pi / 2, "bias": math.pi / 4}
"""How far the warp is turned from the line."""


class SetGrain(Params):
    """Which piece, which grain, against what."""

    piece: str = Field(description="the piece's name")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")
    kind: Literal["straight", "cross", "bias"] = Field(
        "straight",
        description="how the line below lies in the cloth: along the warp, across it, at 45 degrees",
    )
    along: EdgeParams | None = Field(
        None, description="the line is this edge's chord; left out: straight up the body"
    )
    from_: PlaceParams | None = Field(None, alias="from", description="or it runs from this place")
    to: PlaceParams | None = Field(None, description="to this one")
    turn: Angle = Field(0.0, description="turned further by this, counter-clockwise on the piece face up")
    mirror: bool = Field(False, description="the other of the two bias directions")


def apply(draft: Draft, params: SetGrain, step: str) -> Result:
    piece = piece_named(draft, params.piece, params.wearer)
    line = _line(draft, params)
    turn = params.turn + (-1 if params.mirror else 1) * _TURNS[params.kind]
    along = line / abs(line) * cmath.exp(1j * turn)
    if along.imag < -1e-9 or (abs(along.imag) <= 1e-9 and along.real < 0):
        along = -along  # the warp has no way up; the arrow is drawn upward
    new = replace(piece, grain=Grain(piece.grain.at, along, params.kind))
    by = math.degrees(_least_turn(piece.grain.along, along))
    message = f"the warp is turned by {by:.1f} degrees" if abs(by) > 0.05 else "the warp keeps its direction"
    return Result(draft.with_pieces([new]), (Finding("note", "grain-set", piece.key, message, step),))


def _line(draft: Draft, params: SetGrain) -> complex:
    """The direction that `kind` is meant against."""
    given = [params.along is not None, params.from_ is not None or params.to is not None]
    if all(given):
        raise CannotApply("grain-line", params.piece, "say the line once: 'along', or 'from' and 'to'")
    if params.along is not None:
        run = chain(draft, params.along.piece, params.along.edge, params.along.wearer)
        return _apart(params, run.spans[0].curve.start, run.spans[-1].curve.end)
    if params.from_ is not None or params.to is not None:
        if params.from_ is None or params.to is None:
            raise CannotApply("grain-line", params.piece, "a line needs both 'from' and 'to'")
        ends = resolve(draft, params.from_.place()), resolve(draft, params.to.place())
        if any(draft.piece(e.piece).name != params.piece and e.piece != params.piece for e in ends):
            raise CannotApply("other-piece", params.piece, "the line's places lie on another piece")
        return _apart(params, ends[0].point, ends[1].point)
    return 1j


def _apart(params: SetGrain, p: Point, q: Point) -> complex:
    if abs(q - p) < 1.0:
        raise CannotApply(
            "grain-line", params.piece, "the line's ends lie at one place and give no direction"
        )
    return q - p


def _least_turn(old: complex, new: complex) -> float:
    """Between two lines without a way: within a quarter turn either way."""
    turn = cmath.phase(new / old)
    return (turn + math.pi / 2) % math.pi - math.pi / 2


def sentence(params: SetGrain) -> str:
    line = "up the body"
    if params.along is not None:
        line = f"along {params.along.words()}"
    elif params.from_ is not None and params.to is not None:
        line = f"from {params.from_.words()} to {params.to.words()}"
    how = {"straight": "straight", "cross": "across", "bias": "on the bias"}[params.kind]
    more = f", turned {math.degrees(params.turn):.4g} degrees" if params.turn else ""
    return f"Cut the {sided(params.piece, params.wearer)} {how}: its line {line}{more}."


STEP = Step(
    name="set_grain",
    title="Set the grain",
    purpose=(
        "Say how the warp runs in a piece: along a line of the piece, across it, or at 45 degrees to it. The "
        "line is straight up the body, an edge, or from one place to another."
    ),
    holds="The piece is as it was; only its grain arrow turns, by what is stated.",
    params=SetGrain,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The skirt front on the bias",
            block="skirt",
            params={"piece": "skirt front", "kind": "bias"},
            because="No edge changes: the cloth is only laid differently.",
        ),
        Example(
            title="The grain along the side seam",
            params={"piece": "back", "along": {"piece": "back", "edge": "side"}},
            because="No edge changes: the cloth is only laid differently.",
        ),
    ),
)
