"""Shape the hem of the whole garment: level, raised, slanted, dipped in a flat plane, or curved."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import Length
from cutonce.reshape.corners import corner
from cutonce.reshape.hem_cut import hangings, rehemmed
from cutonce.reshape.hem_depth import Level, waist_to_hip
from cutonce.reshape.hem_law import Dip, HemLaw, curved, even, straight
from cutonce.reshape.hem_round import Hem, hem_round, names_round, place_named, place_of
from cutonce.reshape.places import resolve
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.step import Example, Result, Step

_FLARED = math.radians(0.5)
"""Pieces whose lines of hanging fan out by less than this all round hang like a tube."""

_CORNER_DEG = 1.0
"""A point or a dip at a seam of less than this is not seen."""

_SAME_MM = 0.05
"""A place so near to a centre is at the centre."""

_SEEN_MM = 0.5
"""A curve that overshoots the drops named by less is not told."""

_SAMPLES = 100
"""Places round the hem at which the drops are looked at, to tell the highest and the lowest."""


class LevelParams(Params):
    """`{below = "hip", by = "40 cm"}`."""

    below: Literal["waist", "hip"] = Field("hip", description="the landmark it is measured from")
    by: Length = Field(
        description="how far below it the hem hangs, down the seams and the cloth between them"
    )


class SlantParams(Params):
    """`{left = "8 cm", right = "0 cm"}`."""

    left: Length = Field(description="how much lower at the wearer's left side seam; less than 0: higher")
    right: Length = Field(description="how much lower at the wearer's right side seam; less than 0: higher")


class DipParams(Params):
    """`{lowest = "centre back", down = "6 cm", up = "4 cm"}`."""

    lowest: str | PlaceParams = Field(description="where it is lowest: a name on the hem, or a place on it")
    down: Length = Field(0.0, description="how much lower than now it hangs there")
    up: Length = Field(0.0, description="how much higher than now it hangs opposite")

    @model_validator(mode="after")
    def _dips(self) -> Self:
        if self.down + self.up <= 0:
            raise BadInput(
                "no-dip", "dip", "'down' and 'up' together must be more than 0", "give one of them"
            )
        return self


class DropParams(Params):
    """`{at = "left side", down = "4 cm"}`."""

    at: str | PlaceParams = Field(description="a name on the hem, such as a seam that ends there, or a place")
    down: Length = Field(description="how much lower than now it hangs there; less than 0: higher")


class ShapeHem(Params):
    """One of five shapes, and which hem where the garment has several."""

    level: LevelParams | None = Field(None, description="level, so far below the waist or the hip")
    raise_: Length | None = Field(
        None, alias="raise", description="or raised all round; less than 0: lowered"
    )
    slant: SlantParams | None = Field(
        None, description="or slanted: straight from one side seam to the other, with a point at both"
    )
    dip: DipParams | None = Field(None, description="or dipped in a flat plane: a cosine over the whole hem")
    curved: tuple[DropParams, ...] = Field((), description="or curved through given drops at named places")
    piece: str = Field("", description="a piece on whose hem it is done, where there are several hems")

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        shapes = (self.level, self.raise_, self.slant, self.dip, self.curved or None)
        if sum(x is not None for x in shapes) != 1:
            raise BadInput(
                "hem-shape", "the hem", "say one shape: 'level', 'raise', 'slant', 'dip' or 'curved'"
            )
        return self


def apply(draft: Draft, params: ShapeHem, step: str) -> Result:
    hem = hem_round(draft, params.piece)
    law = _law(draft, hem, params)
    new = rehemmed(draft, hem, law, step, smooth=params.level is not None)
    return Result(new, tuple(_said(draft, new, hem, law, params, step)))


def _law(draft: Draft, hem: Hem, params: ShapeHem) -> HemLaw:
    girth = hem.girth
    if params.raise_ is not None:
        return even(girth, -params.raise_)
    if params.level is not None:
        return _level(draft, hem, params.level)
    if params.slant is not None:
        return _slant(draft, hem, params.slant)
    if params.dip is not None:
        at = _place(draft, hem, params.dip.lowest)
        if hem.half and min(at, abs(at - girth / 2)) > _SAME_MM:
            raise CannotApply(
                "half-state",
                "hem",
                "both halves are alike: it can be lowest at a centre only",
                "unfold first",
            )
        return Dip(girth, at, params.dip.down, params.dip.up)
    return _curved(draft, hem, params)


def _level(draft: Draft, hem: Hem, level: LevelParams) -> HemLaw:
    """Levelled from the hip line where there is one: from the waist, seams are bent and ways differ."""
    below, by = level.below, level.by
    if below == "waist":
        depth = waist_to_hip(draft, hem)
        if depth is not None:
            below, by = "hip", by - depth
    return Level(draft, hem, below, by)


def _slant(draft: Draft, hem: Hem, slant: SlantParams) -> HemLaw:
    if hem.half:
        raise CannotApply(
            "half-state", "hem", "both halves are alike: they cannot slant to one side", "unfold first"
        )
    places = [place_named(draft, hem, f"{w} side") for w in ("left", "right")]
    return straight(hem.girth, list(zip(places, (slant.left, slant.right), strict=True)))


def _curved(draft: Draft, hem: Hem, params: ShapeHem) -> HemLaw:
    drops = [(_place(draft, hem, d.at), d.down) for d in params.curved]
    for i, (x, _) in enumerate(drops):
        if any(abs(x - y) < 1.0 for y, _ in drops[:i]):
            raise CannotApply("same-place", "hem", f"{_words(params.curved[i].at)} is given twice")
    return curved(hem.girth, _both_halves(hem, drops))


def _both_halves(hem: Hem, drops: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Drops on one half, and on the other that mirrors it."""
    if not hem.half:
        return drops
    inner = [(x, d) for x, d in drops if _SAME_MM < x < hem.girth / 2 - _SAME_MM]
    return drops + [(hem.girth - x, d) for x, d in inner]


def _place(draft: Draft, hem: Hem, at: str | PlaceParams) -> float:
    return place_named(draft, hem, at) if isinstance(at, str) else place_of(hem, resolve(draft, at.place()))


def _said(draft: Draft, new: Draft, hem: Hem, law: HemLaw, params: ShapeHem, step: str) -> Iterator[Finding]:
    now = hem_round(new, hem.runs[0].piece)
    drops = [(law.drop(at), name) for at, name in names_round(draft, hem)]
    listed = ", ".join(f"{name} {_change(drop)}" for drop, name in drops)
    message = f"the hem measures {now.girth:.1f} mm round, before {hem.girth:.1f} mm; {listed}"
    found = [law.drop(hem.girth * i / _SAMPLES) for i in range(_SAMPLES)]
    if max(found) > max(d for d, _ in drops) + _SEEN_MM or min(found) < min(d for d, _ in drops) - _SEEN_MM:
        message += f"; from {_change(min(found))} to {_change(max(found))} in all"
    yield Finding("note", "hem-shaped", "hem", message, step)
    yield from _flare_said(draft, hem, step)
    yield from _corners_said(new, now, step)
    yield from _openings_said(draft, new, step)
    if not hem.half and not hem.closed and params.dip is not None:
        message = "the hem is open: the length of its edge counts as the girth that the plane cuts"
        yield Finding("note", "hem-open", "hem", message, step)


def _change(drop: float) -> str:
    if abs(drop) < TOLD_MM:
        return "as it was"
    return f"{abs(drop):.1f} mm {'lower' if drop > 0 else 'higher'}"


def _flare_said(draft: Draft, hem: Hem, step: str) -> Iterator[Finding]:
    hanging = hangings(draft, hem)
    flare = abs(sum(h.flare for h in hanging)) * (2 if hem.half else 1)
    if flare <= _FLARED:
        return
    message = f"the skirt is flared: its seams fan out by {math.degrees(flare):.0f} degrees in all; "
    if all(h.level for h in hanging):
        message += "the old hem counts as level, and drops are measured square to it"
    else:
        message += "the old hem is not level, and drops are measured along lines that fan from seam to seam"
    hint = "hang it for a day, then check the hem from the floor"
    yield Finding("note", "hem-flared", "hem", message, step, hint)


def _corners_said(new: Draft, hem: Hem, step: str) -> Iterator[Finding]:
    """Points and dips where two pieces meet at the hem, and at folds."""
    for i, run in enumerate(hem.runs):
        after = hem.runs[(i + 1) % len(hem.runs)] if i + 1 < len(hem.runs) or hem.closed else None
        angle = _end_angle(new, run.piece, run.after.edge, True)
        if after is None:
            mirrored = hem.half and (run.after.mirrored or run.after.edge == new.piece(run.piece).fold)
            if not mirrored:
                continue
            angle += angle
        else:
            angle += _end_angle(new, after.piece, after.before.edge, False)
        off = math.degrees(angle) - 180
        if abs(off) > _CORNER_DEG:
            shape = "a point" if off < 0 else "a dip"
            message = f"at the {run.after.edge.key} the hem makes {shape}: {math.degrees(angle):.1f} degrees"
            yield Finding("note", "hem-corner", f"{run.piece}, {run.after.edge.key}", message, step)


def _end_angle(draft: Draft, piece: str, edge: object, at_start: bool) -> float:
    """The corner between the hem and the edge beside it, radians."""
    spans = draft.piece(piece).outline
    n = len(spans)
    for i in range(n):
        if at_start and spans[i - 1].label.role == "hem" and spans[i].label == edge:
            return corner(spans[i - 1], spans[i])
        if not at_start and spans[i].label.role == "hem" and spans[i - 1].label == edge:
            return corner(spans[i - 1], spans[i])
    return math.pi / 2


def _openings_said(draft: Draft, new: Draft, step: str) -> Iterator[Finding]:
    kept = {(o.seam, o.kind): o.length_mm for o in new.openings}
    for o in draft.openings:
        size = kept.get((o.seam, o.kind), 0.0)
        if abs(size - o.length_mm) > TOLD_MM:
            message = (
                f"the {o.kind} in the seam '{o.seam}' is now {size:.1f} mm long, before {o.length_mm:.1f}"
            )
            yield Finding("note", "opening-changed", f"seam {o.seam}", message, step)


def _words(at: str | PlaceParams) -> str:
    return at if isinstance(at, str) else at.words()


def sentence(params: ShapeHem) -> str:
    if params.level is not None:
        return f"Cut the hem level, {params.level.by:.4g} mm below the {params.level.below}."
    if params.raise_ is not None:
        return (
            f"{'Raise' if params.raise_ >= 0 else 'Lower'} the hem by {abs(params.raise_):.4g} mm all round."
        )
    if params.slant is not None:
        sides = f"{_by(params.slant.left)} at the left side, {_by(params.slant.right)} at the right"
        return f"Slant the hem straight from side seam to side seam: {sides}."
    if params.dip is not None:
        dip = params.dip
        return (
            f"Dip the hem in a flat plane, lowest at the {_words(dip.lowest)}: {_by(dip.down)} there, "
            f"{_by(-dip.up)} opposite."
        )
    drops = ", ".join(f"{_words(d.at)} {_by(d.down)}" for d in params.curved)
    return f"Curve the hem: {drops}."


def _by(drop: float) -> str:
    if not drop:
        return "as it is"
    return f"{abs(drop):.4g} mm {'lower' if drop > 0 else 'higher'}"


STEP = Step(
    name="shape_hem",
    title="Shape the hem",
    purpose=(
        "Draw the hem of the whole garment anew, across all its pieces: level below the waist or hip, raised "
        "or lowered, slanted from side to side, dipped in a flat plane (a cosine round the hem), or curved."
    ),
    holds=(
        "Both partners of every seam change by the same length, to 0.01 mm; the hem lies within 0.05 mm of "
        "its law; a dip is square to the seams at its highest and lowest places."
    ),
    params=ShapeHem,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A skirt 4 cm shorter all round",
            block="skirt",
            params={"raise": "4 cm"},
            changes=(
                ("skirt front", "centre front", -40.0),
                ("skirt front", "side", -40.0),
                ("skirt back", "side", -40.0),
                ("skirt back", "centre back", -40.0),
            ),
            because="Below the hip the block is straight: seams lose what the hem rises, the hem nothing.",
        ),
        Example(
            title="A skirt that dips to the back in a flat plane, before it is unfolded",
            block="skirt",
            params={"dip": {"lowest": "centre back", "down": "6 cm", "up": "4 cm"}},
            changes=(("skirt front", "centre front", -40.0), ("skirt back", "centre back", 60.0)),
            because="y = h + D/2 cos(2 pi x / G) is h + D/2 at the lowest place and h - D/2 opposite.",
            rest_free=True,
        ),
        Example(
            title="A skirt slanted from side to side",
            block="skirt",
            before=({"do": "unfold"},),
            params={"slant": {"left": "8 cm", "right": "-2 cm"}},
            changes=(
                ("skirt front", "left side", 80.0),
                ("left skirt back", "left side", 80.0),
                ("skirt front", "right side", -20.0),
                ("right skirt back", "right side", -20.0),
            ),
            because="Half way, at both centres, a straight slant hangs the mean of both: 3 cm lower.",
            rest_free=True,
        ),
        Example(
            title="A dress cut level, then higher in front and lower behind",
            block="dress",
            before=({"do": "shape_hem", "level": {"below": "hip", "by": "40 cm"}},),
            params={
                "curved": [
                    {"at": "centre front", "down": "-5 cm"},
                    {"at": "side", "down": "0 cm"},
                    {"at": "centre back", "down": "5 cm"},
                ]
            },
            changes=(
                ("front", "centre front", -50.0),
                ("front", "side", 0.0),
                ("back", "side", 0.0),
                ("back", "centre back", 50.0),
            ),
            because="Seams change by what is asked at their ends.",
            rest_free=True,
        ),
    ),
)
