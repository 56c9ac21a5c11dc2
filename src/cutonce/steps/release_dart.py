"""Release a dart: leave its fullness in the edge as gathers, ease or tucks, or as flare at the hem."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Piece
from cutonce.draft.span import Gone, Label
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import PositiveLength, Ratio
from cutonce.reshape.darts import at_mouth, left_unsewn, move_dart
from cutonce.reshape.find_dart import double_dart_gone, find_dart
from cutonce.reshape.fullness import Fullness, with_fullness
from cutonce.reshape.mending import mended
from cutonce.reshape.nodes import Material
from cutonce.reshape.openings import kept_on_cloth
from cutonce.reshape.places import Spot, resolve
from cutonce.reshape.soundness import refuse_crossing
from cutonce.reshape.spacing import spaced
from cutonce.steps.parameters import DartParams, PlaceParams
from cutonce.steps.slash_parameters import MOST_SLASHES
from cutonce.steps.step import Example, Result, Step

As = Literal["gathers", "ease", "tucks", "flare"]

KINDS: dict[str, Fullness] = {"gathers": "gather", "ease": "ease", "tucks": "pleat"}


class ReleaseDart(DartParams):
    """Which dart, as what, and where its fullness goes."""

    as_: As = Field(alias="as", description="how the edge takes the fullness up; flare hangs free at a hem")
    into: tuple[PlaceParams, ...] = Field(
        (), description="places on an edge at which slashes from the dart's pivot open as it closes"
    )
    between: tuple[PlaceParams, ...] = Field(
        (), description="or the first and the last of such places, the others spaced evenly between"
    )
    count: int = Field(0, ge=0, le=MOST_SLASHES, description="how many, with 'between'")
    weights: tuple[Ratio, ...] = Field(
        (), description="parts in which the dart's angle is shared out, one a place; left out: alike"
    )
    reach: PositiveLength | None = Field(None, description="how far beside an opening its edge is smoothed")

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        where = f"{self.piece}, {self.dart}"
        if self.into and (self.between or self.count):
            raise BadInput(
                "places", where, "give the places one by one ('into') or evenly ('between', 'count')"
            )
        if self.between and (len(self.between) != 2 or self.count < 2):
            raise BadInput("places", where, "'between' holds two places, and 'count' is at least 2")
        if self.count and not self.between:
            raise BadInput("places", where, "'count' goes with 'between'")
        number = len(self.into) or self.count
        if self.weights and len(self.weights) != number:
            raise BadInput("weights", where, "give one weight a place")
        if self.as_ == "flare" and not number:
            raise BadInput("places", where, "flare opens at a hem: say where, by 'into' or 'between'")
        return self


def apply(draft: Draft, params: ReleaseDart, step: str) -> Result:
    piece, dart = find_dart(draft, params.piece, params.dart, params.wearer)
    if isinstance(dart, DoubleDart):
        return _double(draft, piece, dart, params, step)
    spots = _spots(draft, piece, params)
    if spots:
        new, gone, breaks = _fan(piece, dart, spots, params, step)
    else:
        (new, gone), breaks = left_unsewn(piece, dart, step), ()
    new, told = mended(new, breaks, step, params.reach)
    refuse_crossing(
        new,
        f"with the {dart.name} released there the piece would lie over itself",
        "choose places further apart, or release a part of it: move some to another edge first",
    )
    grown = {
        label: by
        for label in new.labels
        if (by := new.edge_length(label) - piece.edge_length(label)) > TOLD_MM
    }
    after = kept_on_cloth(draft, draft.with_pieces([new], gone))
    for label in grown:
        after = _taken_up(after, draft, piece, label, grown[label], params)
    said = _said(after, piece, new, dart, grown, params, step)
    return Result(after, (said, *(m.finding(new.key, step) for m in told if m.deviation_mm > TOLD_MM)))


def _spots(draft: Draft, piece: Piece, params: ReleaseDart) -> tuple[Spot, ...]:
    spots = [resolve(draft, p.place()) for p in params.into or params.between]
    for spot, said in zip(spots, params.into or params.between, strict=True):
        if spot.piece != piece.key or spot.label is None:
            raise CannotApply("other-piece", piece.key, f"the dart cannot open at {said.words()}")
    return spaced(piece, spots[0], spots[1], params.count) if params.between else tuple(spots)


def _fan(
    piece: Piece, dart: Dart, spots: tuple[Spot, ...], params: ReleaseDart, step: str
) -> tuple[Piece, tuple[Gone, ...], tuple[Material, ...]]:
    """The dart closed into slashes from the places to its pivot, each opened by its share of the angle.

    A place at the dart's own mouth leaves its share open there, unsewn. Also returned: where the edge of the
    dart may be broken by its closing.
    """
    weights = params.weights or (1.0,) * len(spots)
    angle, whole = piece.dart_angle(dart), sum(weights)
    here = [at_mouth(piece, dart, s.point) for s in spots]
    away = [(s, w) for s, w, own in zip(spots, weights, here, strict=True) if not own]
    before = piece.outline[piece.outline.index(piece.legs(dart)[0]) - 1]
    new, gone = piece, tuple[Gone, ...]()
    for k, (spot, weight) in enumerate(away):
        last = k + 1 == len(away) and not any(here)
        turn = new.dart_angle(dart) if last else angle * weight / whole
        new, taken, _ = move_dart(new, dart, spot, turn, None, step, f"slash {k + 1}")
        gone += taken
    if any(here):
        new, taken = left_unsewn(new, dart, step)
        gone += taken
    told = tuple(replace(g, reason=f"released the {dart.name}") for g in gone)
    return new, told, ((before.origin, before.hi),)


def _taken_up(
    after: Draft, before: Draft, piece: Piece, label: Label, grown: float, params: ReleaseDart
) -> Draft:
    """What is sewn to a longer edge, or the thread that draws it up, is told."""
    if params.as_ == "flare":
        if before.seams_of(piece.key, label):
            raise CannotApply(
                "not-free",
                piece.key,
                f"the {label.key} is sewn to another edge: flare needs an edge that hangs free",
                "release it as gathers, ease or tucks",
            )
        return after
    return with_fullness(after, piece.key, label, KINDS[params.as_], grown, f"{label.key} gathers")


def _double(draft: Draft, piece: Piece, dart: DoubleDart, params: ReleaseDart, step: str) -> Result:
    """A dart pointed at both ends opens on no edge: unsewn, it is ease at the waist."""
    if params.as_ != "ease" or params.into or params.between:
        raise CannotApply(
            "double-dart",
            piece.key,
            f"the {dart.name} is pointed at both ends and opens on no edge: unsewn it can only be ease",
            'say as = "ease" without places, or take it out at the side',
        )
    new = replace(piece, double_darts=tuple(d for d in piece.double_darts if d != dart))
    gone = (double_dart_gone(piece, dart, step, f"left the {dart.name} unsewn"),)
    said = f"the {dart.name} is left unsewn: {dart.intake:.1f} mm more ease at its widest place"
    finding = Finding("note", "dart-released", piece.key, said, step)
    return Result(draft.with_pieces([new], gone), (finding,))


def _said(
    draft: Draft,
    before: Piece,
    new: Piece,
    dart: Dart,
    grown: dict[Label, float],
    params: ReleaseDart,
    step: str,
) -> Finding:
    angle = math.degrees(before.dart_angle(dart))
    edges = [
        f"the {label.key} {before.edge_length(label):.1f} mm became {new.edge_length(label):.1f} mm"
        + _relation(draft, new.key, label)
        for label in grown
    ]
    said = f"the {dart.name}'s {angle:.1f} degrees are left as {params.as_}: {'; '.join(edges)}"
    return Finding("note", "dart-released", new.key, said, step)


def _relation(draft: Draft, piece: str, label: Label) -> str:
    seams = draft.seams_of(piece, label)
    if seams:
        return f" ({seams[0].relation.words()} onto its partner)"
    drawn = next((d for d in draft.drawn if (piece, label) in d.edges), None)
    return f" (drawn up to {drawn.to_mm:.1f} mm)" if drawn else ""


def sentence(params: ReleaseDart) -> str:
    said = f"Release {params.words()} as {params.as_}"
    if params.between:
        first, last = (p.words() for p in params.between)
        said += f", in {params.count} slashes from {first} to {last}"
    elif params.into:
        said += ", opened at " + " and ".join(p.words() for p in params.into)
    return said + "."


STEP = Step(
    name="release_dart",
    title="Release a dart",
    purpose=(
        "Leave a dart unsewn and let its edge take the fullness up as gathers, ease or tucks; or close it "
        "into slashes that fan out from its pivot to places on an edge, as gathers there or flare at a hem."
    ),
    holds=(
        "The angles opened sum to the dart's, to 1e-9 rad; other edges keep their lengths within 0.01 mm; "
        "the partner's relation takes up just what the edge has grown."
    ),
    params=ReleaseDart,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The bust dart as a fan of gathers at the shoulder",
            params={
                "piece": "front",
                "dart": "bust dart",
                "as": "gathers",
                "between": [
                    {"piece": "front", "edge": "shoulder", "from": "neck", "by": "3 cm"},
                    {"piece": "front", "edge": "shoulder", "from": "armhole", "by": "3 cm"},
                ],
                "count": 4,
            },
            because="The shoulder grows by the four openings and is gathered to the back's shoulder.",
            rest_free=True,
        ),
        Example(
            title="A skirt's front waist dart as flare at the hem",
            block="skirt",
            params={
                "piece": "skirt front",
                "dart": "waist dart",
                "as": "flare",
                "into": [{"piece": "skirt front", "edge": "hem", "from": "centre front", "share": 0.5}],
            },
            because="The waist and the side keep their lengths; only the hem grows.",
            rest_free=True,
        ),
        Example(
            title="The front waist dart left unsewn, as gathers along the waist",
            params={"piece": "front", "dart": "waist dart", "as": "gathers"},
            because="The waist grows by the dart's mouth, smoothed, and is drawn up to its old length.",
            rest_free=True,
        ),
    ),
)
