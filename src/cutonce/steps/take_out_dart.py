"""Take a dart out: leave it unsewn and bring another edge in by its intake instead."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import DoubleDart, Piece
from cutonce.draft.span import Label
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import PositiveLength
from cutonce.reshape.find_dart import AnyDart, find_dart
from cutonce.reshape.fullness import with_fullness
from cutonce.reshape.openings import kept_on_cloth
from cutonce.reshape.partners import seam_at
from cutonce.reshape.places import chain, outward_of
from cutonce.reshape.soundness import refuse_crossing
from cutonce.reshape.take_out_at_end import (
    TakenOut,
    TakeOut,
    adjoining,
    edge_of,
    growth_at_edge,
    mouth_width,
    out_at_edge,
)
from cutonce.reshape.take_out_at_waist import growth_at_side, in_at_side
from cutonce.reshape.widths import high_hip_level, intake_at, out_at, under_bust_level
from cutonce.steps.parameters import DartParams
from cutonce.steps.step import Example, Result, Step

MOST_AT_SHOULDER_MM = 35.0
"""A shoulder tip comes in by no more than this: a back shoulder dart takes 1 to 3 cm (common practice)."""


class TakeOutDart(DartParams):
    """Which dart, which edge comes in, over how much of it."""

    edge: str = Field(
        "",
        description="the edge that comes in; left out: the side for a waist dart, the armhole for one of the "
        "shoulder",
    )
    taper: PositiveLength | None = Field(
        None,
        description="over how much of that edge it comes in, from the dart's edge, or above the waist of a "
        "dart pointed at both ends; left out: to the level of the dart's point",
    )
    below: PositiveLength | None = Field(
        None, description="the same below the waist, for a dart pointed at both ends"
    )
    also: tuple[DartParams, ...] = Field(
        (), description="darts of the partner piece taken out with it, so that both edges come in alike"
    )
    truing: Literal["length kept", "eased"] = Field(
        "length kept",
        description="where the partner stays as it is: the edge keeps its length, or is eased onto it",
    )

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        darts: tuple[DartParams, ...] = (self, *self.also)
        named = [(d.piece, d.dart, d.wearer) for d in darts]
        if len(set(named)) < len(named):
            raise BadInput("twice", self.piece, f"the {self.dart} is named twice", "name every dart once")
        return self


@dataclass(frozen=True, slots=True)
class _Job:
    piece: str
    dart: AnyDart
    way: TakeOut


def apply(draft: Draft, params: TakeOutDart, step: str) -> Result:
    darts: tuple[DartParams, ...] = (params, *params.also)
    jobs = [_job(draft, d, params) for d in darts]
    edges = [(j.piece, j.way.into) for j in jobs]
    if len(set(edges)) < len(edges):
        raise CannotApply(
            "one-edge-twice",
            params.piece,
            f"two darts would come out of the {edges[0][1].key} at once",
            "take them out in two steps",
        )
    jobs = _with_growth(draft, jobs, params)
    untouched = draft
    findings: list[Finding] = []
    for job in jobs:
        before = draft.piece(job.piece)
        done = _taken_out(before, job, step)
        refuse_crossing(
            done.piece,
            f"with the {job.dart.name} taken out there the piece would cross itself",
            "let it taper over more, or take less out",
        )
        findings.append(_said(draft, before, done, job.dart, step))
        draft = draft.with_pieces([done.piece], done.gone)
        if params.truing == "eased" and not params.also:
            draft = _eased(draft, before, done)
    return Result(kept_on_cloth(untouched, draft), tuple(findings))


def _job(draft: Draft, dart: DartParams, params: TakeOutDart) -> _Job:
    piece, found = find_dart(draft, dart.piece, dart.dart, dart.wearer)
    into = _edge_for(draft, piece, found, params)
    return _Job(piece.key, found, TakeOut(into, params.taper, params.below))


def _edge_for(draft: Draft, piece: Piece, dart: AnyDart, params: TakeOutDart) -> Label:
    """The edge that comes in for this dart: the one named, else by the edge on which the dart opens."""
    wearer = dart.wearer or piece.wearer
    if isinstance(dart, DoubleDart):
        name = params.edge or "side"
        return chain(draft, piece.key, name, wearer).spans[0].label
    own = edge_of(piece, dart)
    beside = adjoining(piece, own)
    roles = {"waist": ("side",), "shoulder": ("armhole", "strap"), "hem": ("side",)}.get(own.role, ())
    wanted = [e for e in beside if (e.name == params.edge if params.edge else e.role in roles)]
    if not wanted:
        what = f"no edge '{params.edge}'" if params.edge else "no side"
        raise CannotApply(
            "no-way-out",
            piece.key,
            f"the {dart.name} opens on the {own.key}, and {what} ends there; beside it are: "
            f"{beside[0].key}, {beside[1].key}",
            "name the edge, move the dart to the waist or shoulder first, or release it",
        )
    if wanted[0] == piece.fold:
        raise CannotApply(
            "on-the-fold", piece.key, f"the {wanted[0].key} lies on the fold and stays straight"
        )
    intake = mouth_width(piece, dart)
    if own.role == "shoulder" and intake > MOST_AT_SHOULDER_MM:
        raise CannotApply(
            "too-wide",
            piece.key,
            f"the {dart.name} takes {intake:.1f} mm, a shoulder tip gives {MOST_AT_SHOULDER_MM:.0f} at most",
            "move the dart, or release it",
        )
    return wanted[0]


def _with_growth(draft: Draft, jobs: list[_Job], params: TakeOutDart) -> list[_Job]:
    """How much each edge may grow: partners that both come in grow alike; a lone one as its truing says."""
    own = [_growth(draft.piece(j.piece), j) for j in jobs]
    out: list[_Job] = []
    for job, grown in zip(jobs, own, strict=True):
        partner = seam_at(draft, job.piece, job.way.into)
        more = grown if params.truing == "eased" and not params.also else (0.0, 0.0)
        for k, other in enumerate(jobs):
            mates = partner and other is not job and partner[2].piece == other.piece
            if partner and mates and other.way.into in partner[2].labels:
                more = (grown[0] + own[k][0]) / 2, (grown[1] + own[k][1]) / 2
        out.append(replace(job, way=replace(job.way, more=more)))
    return out


def _growth(piece: Piece, job: _Job) -> tuple[float, float]:
    if isinstance(job.dart, DoubleDart):
        return growth_at_side(piece, job.dart, job.way)
    return growth_at_edge(piece, job.dart, job.way)


def _taken_out(piece: Piece, job: _Job, step: str) -> TakenOut:
    if isinstance(job.dart, DoubleDart):
        return in_at_side(piece, job.dart, job.way, step)
    return out_at_edge(piece, job.dart, job.way, step)


def _eased(draft: Draft, before: Piece, done: TakenOut) -> Draft:
    grown = done.piece.edge_length(done.edge) - before.edge_length(done.edge)
    if abs(grown) < TOLD_MM:
        return draft
    return with_fullness(draft, done.piece.key, done.edge, "ease", grown, "")


def _said(draft: Draft, before: Piece, done: TakenOut, dart: AnyDart, step: str) -> Finding:
    edge = done.edge
    tapers = " and ".join(
        f"{t:.1f} mm {w}".strip()
        for t, w in zip(
            done.tapers_mm, ("above", "below") if len(done.tapers_mm) == 2 else ("along it",), strict=True
        )
    )
    said = f"the {edge.key} comes in {done.by_mm:.1f} mm, to nothing over {tapers}"
    grown = done.piece.edge_length(edge) - before.edge_length(edge)
    said += f"; it is {grown:.1f} mm longer" if abs(grown) > TOLD_MM else "; it keeps its length"
    if abs(done.lifted_mm) > TOLD_MM:
        said += f", ending {abs(done.lifted_mm):.1f} mm {'higher' if done.lifted_mm > 0 else 'lower'}"
    changes = _widths(draft, before, done, dart)
    if changes:
        said += "; against the sewn dart this half is " + " and ".join(
            f"{abs(by):.1f} mm {'wider' if by > 0 else 'narrower'} {where}" for where, by in changes
        )
    return Finding("note", "dart-taken-out", before.key, said, step)


def _widths(draft: Draft, before: Piece, done: TakenOut, dart: AnyDart) -> list[tuple[str, float]]:
    """By how much the piece is wider under the bust and at the high hip than with the dart sewn."""
    if done.edge.role != "side":
        return []
    outward = outward_of(before, done.edge.wearer or before.wearer)
    levels = (
        ("under the bust", under_bust_level(draft, before)),
        ("at the high hip", high_hip_level(before)),
    )
    out: list[tuple[str, float]] = []
    for where, y in levels:
        if y is None:
            continue
        was, now = out_at(before, done.edge, y, outward), out_at(done.piece, done.edge, y, outward)
        if was is not None and now is not None:
            change = now - was + intake_at(before, dart, y)
            if abs(change) > TOLD_MM:
                out.append((where, change))
    return out


def sentence(params: TakeOutDart) -> str:
    darts: tuple[DartParams, ...] = (params, *params.also)
    names = " and ".join(d.words() for d in darts)
    where = f" at the {params.edge}" if params.edge else ""
    eased = "; ease in what the edge grows" if params.truing == "eased" and not params.also else ""
    return f"Take out {names}{where}, bringing the edge in by the intake{eased}."


STEP = Step(
    name="take_out_dart",
    title="Take a dart out at an edge",
    purpose=(
        "Leave a dart unsewn and bring another edge in by its intake instead: the side seam for a waist "
        "dart, also one pointed at both ends; the shoulder tip for a back shoulder dart. Darts of both "
        "partners taken out together bring both edges in alike; a lone one keeps its edge's length."
    ),
    holds=(
        "The girth at the waist (the shoulder's length) stays within 0.1 mm, and partners stay equal or "
        "their relation is declared; what changes under the bust and at the high hip is told."
    ),
    params=TakeOutDart,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="The back shoulder dart taken out at the shoulder tip",
            params={"piece": "back", "dart": "shoulder dart"},
            because="Shoulder and armhole keep their lengths; only their shape changes.",
        ),
        Example(
            title="The front waist dart of a bodice taken out at the side",
            params={"piece": "front", "dart": "waist dart"},
            because="The waist stays as long as with the dart sewn, and the side keeps its length.",
        ),
        Example(
            title="The waist darts next to the side of a dress, front and back together",
            block="dress",
            params={
                "piece": "front",
                "dart": "waist dart",
                "also": [{"piece": "back", "dart": "side waist dart"}],
            },
            because="Both sides come in at the waist and grow alike; the hem's ends follow them.",
            rest_free=True,
        ),
    ),
)
