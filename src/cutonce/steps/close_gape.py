"""Close a gape: take a wedge out of a neckline or an armhole, to nothing at the bust point."""

from __future__ import annotations

import math
from typing import Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import GAPE_CLOSED, Gone, Label, Origin
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import PositiveLength
from cutonce.reshape.find_dart import on_an_edge
from cutonce.reshape.gape import Closed, Gape, closed_by_angle, closed_by_length
from cutonce.reshape.mending import Mended, edge_group, mended
from cutonce.reshape.places import Chain, Place, Spot, resolve
from cutonce.reshape.runs import runs_of
from cutonce.reshape.soundness import ON_BORDER_MM, off_piece, refuse_crossing
from cutonce.reshape.widths import BUST_CIRCLE_MM
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.step import Example, Result, Step


class CloseGape(Params):
    """Where, how much, to nothing where, and what opens instead."""

    at: PlaceParams = Field(description="the middle of the wedge, on a neckline, an armhole or another edge")
    amount: PositiveLength = Field(
        description="what the edge loses; or the wedge's width where `at_distance` says"
    )
    at_distance: PositiveLength | None = Field(
        None, description="how far from the pivot the amount is stated, such as 7.5 cm, the bust circle"
    )
    pivot: PlaceParams | None = Field(
        None, description="the point at which the wedge comes to nothing; left out: the bust point"
    )
    into: str = Field("", description="the dart with that pivot that takes the angle up")
    to: PlaceParams | None = Field(None, description="or a place on another edge that opens by the angle")
    reach: PositiveLength | None = Field(
        None, description="over how much of the edge, to both sides, it is redrawn; left out: all of it"
    )

    @model_validator(mode="after")
    def _points_and_edges(self) -> Self:
        if self.into and self.to is not None:
            raise BadInput("outlet", "close_gape", "say where the angle opens once: 'into' or 'to'")
        if not self.at.edge:
            raise BadInput("not-on-edge", "at", "a gape is closed on an edge, and a point lies inside")
        if self.to is not None and not self.to.edge:
            raise BadInput("not-on-edge", "to", "the angle opens on an edge, and a point lies inside")
        if self.pivot is not None and not self.pivot.point:
            raise BadInput("pivot", "pivot", "a wedge comes to nothing at a point", "name a 'point'")
        return self


def apply(draft: Draft, params: CloseGape, step: str) -> Result:
    spot = resolve(draft, params.at.place())
    if spot.label is None:
        raise CannotApply(
            "not-on-edge", spot.piece, f"{params.at.words()} lies inside", "name one on an edge"
        )
    piece = draft.piece(spot.piece)
    run, arc = _run_at(piece, spot, spot.label)
    pivot = _pivot(draft, piece, spot.label, params)
    outlet = _outlet(draft, piece, spot.label, params)
    gape = Gape(run, arc, pivot, outlet, params.reach or run.length)
    if params.at_distance is None:
        done = closed_by_length(gape, params.amount, step)
    else:
        half = min(1.0, params.amount / 2 / params.at_distance)
        done = closed_by_angle(gape, 2 * math.asin(half), step)
    new = done.piece
    told: tuple[Mended, ...] = ()
    if isinstance(outlet, Spot):
        new, told = mended(new, (), step)
    refuse_crossing(new, "the piece would cross itself", "close less")
    said = _said(piece, new, gape, done, params)
    if isinstance(outlet, Spot) and outlet.label is not None:
        said += _opened(piece, new, outlet.label, told)
    for seam in draft.seams_of(piece.key, spot.label):
        said += f"; it is sewn in the {seam.name} seam, whose other side keeps its length: relate them anew"
    where = f"{piece.key}, {spot.label.key}"
    finding = Finding("note", "gape-closed", where, said, step, spot=(piece.key, spot.point))
    mark = Gone(piece.key, spot.label, Origin(step, "gape", spot.label.wearer), 0.0, 0.0, step, GAPE_CLOSED)
    return Result(draft.with_pieces([new], [mark]), (finding,))


def _run_at(piece: Piece, spot: Spot, label: Label) -> tuple[Chain, float]:
    """The stretch of the edge between darts in which the place lies, and how far along it."""
    for spans in runs_of(piece, label):
        run = Chain(piece, spans)
        arc = run.arc_of(*spot.on_cloth)
        if arc is not None:
            return run, min(max(arc, 0.0), run.length)
    raise ValueError("the place is not on its own edge")


def _pivot(draft: Draft, piece: Piece, label: Label, params: CloseGape) -> complex:
    wearer = label.wearer or piece.wearer
    place = params.pivot.place() if params.pivot else Place(piece.key, wearer=wearer, point="bust point")
    spot = resolve(draft, place)
    if spot.piece != piece.key:
        raise CannotApply("other-piece", piece.key, f"the wedge cannot come to nothing at {place.words()}")
    if off_piece(piece, [spot.point]) is not None:
        raise CannotApply(
            "pivot-off-piece",
            piece.key,
            f"{place.words()} lies outside the piece: nothing can turn about it",
            "name a point inside",
        )
    dart = next((d for d in piece.darts if abs(piece.pivot(d) - spot.point) < ON_BORDER_MM), None)
    return piece.pivot(dart) if dart else spot.point


def _outlet(draft: Draft, piece: Piece, label: Label, params: CloseGape) -> Dart | Spot:
    wearer = label.wearer or piece.wearer
    if params.into:
        return on_an_edge(draft, piece.key, params.into, wearer, "opened")[1]
    if params.to is None:
        have = ", ".join(f"'{d.name}'" for d in piece.darts if d.wearer in (None, wearer)) or "none"
        raise CannotApply(
            "no-outlet",
            piece.key,
            "what a wedge closes about a point must open elsewhere about it",
            f"say 'into' a dart with that pivot (the piece's darts: {have}), or 'to' a place on an edge",
        )
    spot = resolve(draft, params.to.place())
    if spot.piece != piece.key or spot.label is None:
        raise CannotApply("other-piece", piece.key, f"the angle cannot open on {params.to.words()}")
    if spot.label in edge_group(piece, label):
        raise CannotApply(
            "same-place", piece.key, "the angle cannot open on the edge that it closes", "name another edge"
        )
    return spot


def _said(old: Piece, new: Piece, gape: Gape, done: Closed, params: CloseGape) -> str:
    wedge, edge = done.wedge, gape.edge
    stated = params.at_distance or BUST_CIRCLE_MM
    pivot = params.pivot.point if params.pivot else "bust point"
    text = f"a wedge of {math.degrees(wedge.angle):.1f} degrees closed"
    if stated < wedge.distance or params.at_distance:
        text += f", {wedge.width_at(stated):.1f} mm wide {stated:.1f} mm from the {pivot}"
    length = new.edge_length(gape.run.spans[0].label)
    text += (
        f", {wedge.width_at(wedge.distance):.1f} mm wide at the {edge}, {wedge.distance:.1f} mm from it; "
        f"the {edge} is {done.shorter:.1f} mm shorter, {length:.1f} mm, redrawn at most "
        f"{done.deviation:.1f} mm off the cut edges"
    )
    if isinstance(gape.outlet, Dart):
        now = new.dart(gape.outlet.name, gape.outlet.wearer)
        was = math.degrees(old.dart_angle(gape.outlet))
        text += (
            f"; the {now.label.key} takes the angle up and grows from {was:.1f} to "
            f"{math.degrees(new.dart_angle(now)):.1f} degrees"
        )
    return text


def _opened(old: Piece, new: Piece, label: Label, told: tuple[Mended, ...]) -> str:
    """Where it opens, in words; smoothing that passes the centre reaches into the other half of the edge."""
    edges = edge_group(old, label)
    more = sum(new.edge_length(e) - old.edge_length(e) for e in edges)
    off = max((m.deviation_mm for m in told), default=0.0)
    here = f"; the angle opens on the {label.key}, which is {more:.1f} mm longer"
    if abs(new.edge_length(label) - old.edge_length(label) - more) > TOLD_MM:
        here += f" together with the {' and the '.join(e.key for e in edges if e != label)}"
    return f"{here}, smoothed by up to {off:.1f} mm"


def sentence(params: CloseGape) -> str:
    where = "" if params.at_distance is None else f" {params.at_distance:.4g} mm from the point"
    pivot = params.pivot.point if params.pivot else "bust point"
    outlet = f" into the {params.into}" if params.into else ""
    if params.to is not None:
        outlet = f" and open {params.to.words()}"
    return f"Close {params.amount:.4g} mm{where} at {params.at.words()}, to nothing at the {pivot},{outlet}."


STEP = Step(
    name="close_gape",
    title="Close a gape",
    purpose=(
        "Take a wedge out of a neckline or an armhole that would stand away from the body, to nothing at the "
        "bust point or another point. The same angle opens elsewhere about that point: in a dart, or on an "
        "edge. Starting amounts, 7.5 cm from the bust point: 6 mm for a low neckline, 13 mm for a cut-away "
        "armhole, 19 mm in all at the centre front for one near or below the bust point; at a distance d a "
        "wedge is d / 7.5 cm times as wide. Where the edge runs aslant to the wedge it loses less than that."
    ),
    holds=(
        "The edge loses the amount stated at it, within 0.01 mm, and has no corner; the outlet opens by the "
        "angle closed, to 1e-9 rad; every other edge keeps its length within 0.01 mm."
    ),
    params=CloseGape,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="14 mm out of the front neckline into the bust dart",
            params={
                "at": {"piece": "front", "edge": "neck", "from": "shoulder", "share": "60 %"},
                "amount": "14 mm",
                "into": "bust dart",
            },
            changes=(("front", "neck", -14.0),),
            because="The amount is stated at the edge: the neckline loses it.",
        ),
        Example(
            title="6 mm at the bust circle out of the front neckline, opened at the side",
            params={
                "at": {"piece": "front", "edge": "neck", "from": "shoulder", "share": "60 %"},
                "amount": "6 mm",
                "at_distance": "7.5 cm",
                "to": {"piece": "front", "edge": "side", "from": "armhole", "by": "6 cm"},
            },
            because="The angle is 2 asin(6 / 150): 4.6 degrees; the neckline loses what the step tells.",
            rest_free=True,
        ),
    ),
)
