"""Cut out a shape across a seam or an edge: a circle, an ellipse or a teardrop, one half in each piece."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Seam
from cutonce.draft.span import Gone, Label
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry import path
from cutonce.geometry.meet import nearest
from cutonce.geometry.path import Path
from cutonce.quantities import PositiveLength
from cutonce.reshape.crossed_darts import crossed_doubles
from cutonce.reshape.cut_out_shapes import Bed, half_drop, half_round
from cutonce.reshape.divide import divide
from cutonce.reshape.edge_names import tidied
from cutonce.reshape.find_dart import double_dart_gone
from cutonce.reshape.keep_parts import marked_and_sided, with_ends_divided
from cutonce.reshape.places import resolve
from cutonce.reshape.seam_stretch import Stretch, labels_within, opposite, spans_within, stretch_about
from cutonce.reshape.seams import gone_with, replaced_piece
from cutonce.reshape.soundness import crossing
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.step import Example, Result, Step

_TOLD = 5e-4
"""Shares of a length below this are not told."""

_NEAR_MM = 10.0
"""A dart this near the new edge is in the way of its allowance or binding, and is told."""

_LEVEL = 0.5
"""An edge that rises by less than this share of its length has no upper end for a teardrop's point."""


class CutOut(Params):
    """Where, which shape, how large."""

    at: PlaceParams = Field(description="the middle of the shape, on a seam or another edge")
    shape: Literal["circle", "ellipse", "teardrop"] = Field(description="the shape")
    width: PositiveLength = Field(description="its width across the seam: half of it lies in each piece")
    height: PositiveLength | None = Field(
        None, description="its height along the seam; a circle is as high as it is wide"
    )
    name: str = Field("cut-out", min_length=1, description="the name of the new edges")

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if (self.shape == "circle") != (self.height is None):
            what = "a circle takes no 'height'" if self.height else f"say the 'height' of the {self.shape}"
            raise BadInput("shape-size", "height", what)
        if self.shape == "teardrop" and self.height is not None and self.height <= self.width:
            raise BadInput("shape-size", "height", "a teardrop is higher than it is wide", "say 'ellipse'")
        if not self.at.edge:
            raise BadInput("not-on-edge", "at", "a cut-out lies on an edge, and a point lies inside")
        return self

    @property
    def along(self) -> float:
        """How much of the seam it takes, in mm."""
        return self.width if self.height is None else self.height


@dataclass(frozen=True, slots=True)
class _Half:
    """One half of the shape: the stretch of an edge that it takes, the line cut, the angle at its middle."""

    stretch: Stretch
    line: Path
    angle: float


def apply(draft: Draft, params: CutOut, step: str) -> Result:
    spot = resolve(draft, params.at.place())
    if spot.label is None:
        raise CannotApply(
            "not-on-edge", spot.piece, f"{params.at.words()} lies inside", "name one on an edge"
        )
    _refuse_fold(draft.piece(spot.piece), spot.label, params.name)
    mine = stretch_about(draft, spot, params.along / 2, params.along / 2, params.name)
    seam, theirs = opposite(draft, mine, params.name)
    tip_first = _pointed_at_start(mine, params)
    halves = [_half(draft, mine, tip_first, params)]
    if theirs is not None:
        halves.append(_half(draft, theirs, not tip_first, params))
    was = draft
    draft = with_ends_divided(draft, (mine.start, mine.end))
    _refuse_openings(draft, mine, params.name)
    said: list[str] = []
    seams = {s.name for s in draft.seams}
    for half in halves:
        draft, more = _cut(draft, half, params.name, step)
        said += more
    lost = seams - {s.name for s in draft.seams}
    for key in dict.fromkeys(h.stretch.piece for h in halves):
        draft = tidied(draft, key, lost)
    return Result(draft, _findings(was, halves, seam, params, said, step))


def _refuse_fold(piece: Piece, label: Label, name: str) -> None:
    if piece.fold is not None and piece.fold.same_edge(label):
        raise CannotApply(
            "on-fold",
            piece.key,
            f"the {label.key} is a fold: the {name} would be a hole inside the piece",
            "unfold with a seam there, or cut it across another edge",
        )


def _pointed_at_start(stretch: Stretch, params: CutOut) -> bool:
    """For a teardrop: does its point, the upper end, come first in outline order?"""
    rise = (stretch.end.point - stretch.start.point).imag
    if params.shape == "teardrop" and abs(rise) < _LEVEL * params.along:
        raise CannotApply(
            "no-upper-end",
            stretch.piece,
            f"the {params.name} would lie level, and a teardrop is pointed at its upper end",
            "say 'circle' or 'ellipse'",
        )
    return rise < 0


def _half(draft: Draft, stretch: Stretch, tip_first: bool, params: CutOut) -> _Half:
    piece = draft.piece(stretch.piece)
    depth = params.width / 2
    share = 0.5 if params.shape != "teardrop" else depth / params.along  # of the way from the round end
    spans, directions = spans_within(piece, stretch)
    taken = [s.curve for s in spans]
    at = path.length(taken) * (1 - share if tip_first else share)
    centre = path.point_at(taken, at)
    bed = Bed(stretch.start.point, directions[0], centre, stretch.end.point, directions[1])
    try:
        line = half_drop(bed, depth, tip_first) if params.shape == "teardrop" else half_round(bed, depth)
    except CannotApply as problem:
        raise CannotApply(problem.code, piece.key, problem.message, problem.hint) from None
    double = crossed_doubles(piece, line)
    if double:
        raise CannotApply(
            "crosses-dart",
            piece.key,
            f"the {params.name} would cross the {double[0].name}",
            "make it smaller, move it, or take the dart out first",
        )
    return _Half(stretch, line, bed.angle)


def _refuse_openings(draft: Draft, stretch: Stretch, name: str) -> None:
    """Refuse where the seam is open for a zip or the like in the stretch; edges are divided there already."""
    labels = labels_within(draft.piece(stretch.piece), stretch)
    seams = {s.name: s for label in labels for s in draft.seams_of(stretch.piece, label)}
    kinds = [o.kind for o in draft.openings if o.seam in seams]
    if kinds:
        raise CannotApply(
            "meets-opening",
            stretch.piece,
            f"the {name} would lie where the seam is open for a {kinds[0]}",
            f"end the {kinds[0]} before it, or move one of them",
        )


def _cut(draft: Draft, half: _Half, name: str, step: str) -> tuple[Draft, list[str]]:
    """One piece cut; the draft's edges have been divided at the ends. Also what fell away, in words."""
    was = draft.piece(half.stretch.piece)
    label = _new_label(was, name)
    try:
        parts = divide(was, half.stretch.start, half.stretch.end, half.line, label, step, f"the {name}")
    except CannotApply as problem:
        raise _smaller(problem) from None
    kept = marked_and_sided(parts.one, was, label, printed=False)
    if crossing(kept) is not None:
        raise CannotApply(
            "leaves-piece",
            was.key,
            f"the {name} would not lie within the piece",
            "make it smaller or move it",
        )
    why = f"cut the {name} out there"
    gone: list[Gone] = [g for g in gone_with(parts.two, was.key, step, why) if g.label != label]
    lost = [d for d in was.double_darts if all(x.name != d.name for x in kept.double_darts)]
    gone += [double_dart_gone(was, d, step, why) for d in lost]
    fell = [d.name for d in lost] + [p.name for p in was.points if p not in kept.points]
    said = [f"the {x} of the {was.key} fell away with it" for x in fell]
    said += [
        f"the {d.name} of the {was.key} lies {gap:.1f} mm from the {name}"
        for d in kept.double_darts
        if (gap := min(nearest(half.line, z)[1] for z in d.corners)) < _NEAR_MM
    ]
    away = {(was.key, g.label) for g in gone}
    said += [
        f"a part of the edge drawn up by the {d.name} fell away" for d in draft.drawn if away & set(d.edges)
    ]
    return replaced_piece(draft, was.key, [kept], gone), said


def _new_label(piece: Piece, name: str) -> Label:
    """The new edge's label: its part is one that no edge of that name has, on either side of the wearer."""
    taken = [e.part for e in piece.labels if (e.name, e.role) == (name, "cut-out")]
    if any(e.name == name and e.role != "cut-out" for e in piece.labels):
        raise CannotApply("name-taken", piece.key, f"it has another edge '{name}'", "choose another name")
    return Label(name, "cut-out", part=max(taken, default=0) + 1)


def _smaller(problem: CannotApply) -> CannotApply:
    """The refusal of a line that leaves the piece, said of the shape."""
    codes = {"line-leaves": "leaves-piece", "crosses-dart": "crosses-dart"}
    if problem.code not in codes:
        return problem
    return CannotApply(codes[problem.code], problem.where, problem.message, "make it smaller or move it")


def _findings(
    was: Draft, halves: list[_Half], seam: Seam | None, params: CutOut, said: list[str], step: str
) -> tuple[Finding, ...]:
    arcs = [path.length(h.line) for h in halves]
    flat = path.length(_flat(params))
    each = [
        f"{arc:.1f} mm in the {h.stretch.piece}{_beyond_flat(arc, flat, h.angle)}"
        for h, arc in zip(halves, arcs, strict=True)
    ]
    text = f"the {params.name}'s edge is {' and '.join(each)}"
    if seam is not None:
        twice = 2 if len(halves) == 1 else 1
        text += f", {sum(arcs) * twice:.1f} mm all round"
    mine = halves[0].stretch
    edge = mine.middle.label.key if mine.middle.label else "edge"
    lost = " and ".join(dict.fromkeys(f"{_size(was, h.stretch):.1f} mm" for h in halves))
    text += (
        f"; the {edge} lost {lost}, and keeps {mine.before:.1f} mm toward the {mine.beside[0].key} and "
        f"{mine.after:.1f} mm toward the {mine.beside[1].key}"
    )
    where = f"{mine.piece}, {edge}"
    first = Finding("note", "cut-out", where, text, step, spot=(mine.piece, mine.middle.point))
    return (first, *(Finding("note", "cut-away", where, more, step) for more in dict.fromkeys(said)))


def _beyond_flat(arc: float, flat: float, angle: float) -> str:
    """How much longer the edge is than the same shape's on a straight edge, where it is."""
    more = arc / flat - 1
    if abs(more) < _TOLD:
        return ""
    return f" ({more:+.1%} of a straight seam's {flat:.1f} mm: {math.degrees(angle):.1f} degrees there)"


def _flat(params: CutOut) -> Path:
    """The same half on a straight edge."""
    h, depth = params.along, params.width / 2
    if params.shape == "teardrop":
        return half_drop(Bed(0j, 1j, depth * 1j, h * 1j, 1j), depth, False)
    return half_round(Bed(0j, 1j, h / 2 * 1j, h * 1j, 1j), depth)


def _size(draft: Draft, stretch: Stretch) -> float:
    return sum(s.length for s in spans_within(draft.piece(stretch.piece), stretch)[0])


def sentence(params: CutOut) -> str:
    size = f"{params.width:.4g} mm wide"
    if params.height is not None:
        size += f" and {params.height:.4g} mm high"
    article = "an" if params.shape == "ellipse" else "a"
    return f"Cut out {article} {params.shape}, {size}, across {params.at.words()}."


STEP = Step(
    name="cut_out",
    title="Cut out a shape across a seam",
    purpose=(
        "Cut a circle, an ellipse or a teardrop out of both pieces of a seam, half of it in each, or out of "
        "one piece across a free edge. The ends are fixed first, where they meet when sewn; then each half "
        "is drawn between them on the piece as it lies."
    ),
    holds=(
        "The ends meet when sewn, and round ends leave the seam square, so that the halves join without a "
        "corner; each half's length and the whole path are told; what is left of the seam still matches."
    ),
    params=CutOut,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A circle across the side seam, at the waist of a dress",
            block="dress",
            params={
                "at": {"piece": "front", "edge": "side", "at": "waist"},
                "shape": "circle",
                "width": "6 cm",
            },
            because="The seam loses as much as the circle is wide, 60 mm, on both pieces.",
            rest_free=True,
        ),
        Example(
            title="A keyhole in the centre back seam, pointed at its top",
            block="dress",
            params={
                "at": {"piece": "back", "edge": "centre back", "from": "neck", "by": "12 cm"},
                "shape": "teardrop",
                "width": "7 cm",
                "height": "11 cm",
                "name": "keyhole",
            },
            because=(
                "On a straight seam half a teardrop is half a circle's edge to where the straight side "
                "touches it, and that side."
            ),
            rest_free=True,
        ),
    ),
)
