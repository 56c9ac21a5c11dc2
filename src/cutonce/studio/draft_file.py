"""draft.json: the finished draft for other programs. Documented in docs/files.md; schema version in `schema`.

Lengths in mm, angles in degrees. Paths and points are as in SVG: x to the right, y down, pieces face up.
"""

from __future__ import annotations

import math
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import BLOCK, Span, sided
from cutonce.draft.trace import What
from cutonce.errors import Finding
from cutonce.finishing.finished import Finished, FinishedPiece
from cutonce.geometry.motion import Point
from cutonce.geometry.path import svg_data
from cutonce.recipe.replay import Done, Replayed

SCHEMA = 1

XY = tuple[float, float]


class _Shape(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class EdgeFile(_Shape):
    """One edge's sewing line; `length_mm` is the cloth's length, darts that interrupt it left out."""

    name: str = Field(description="unique within the piece")
    role: str
    wearer: Literal["left", "right"] | None
    length_mm: float
    path: str = Field(description="SVG path data; a new subpath begins beyond each dart")
    made_by: str = Field(description="id of the step that last changed its shape")


class DartFile(_Shape):
    """A dart. One that is pointed at both ends has two points and no legs on an edge."""

    name: str
    wearer: Literal["left", "right"] | None
    kind: Literal["to a point", "pointed at both ends"]
    angle_deg: float | None
    intake_mm: float
    points: tuple[XY, ...] = Field(description="drawn points: one, or upper and lower")
    mouth: tuple[XY, XY] = Field(description="ends of the legs, or the sides at the widest")
    pivot: XY | None = Field(description="what it turns about, usually the bust point")


class GrainFile(_Shape):
    kind: Literal["straight", "cross", "bias"]
    at: XY
    along_deg: float = Field(description="direction of the warp, counter-clockwise from the right")


class PieceFile(_Shape):
    name: str
    hand: Literal["whole", "left", "right", "both"] = Field(
        description="'both': a half that stands for both sides"
    )
    count: int = Field(description="how many are cut from single cloth")
    cut: Literal["fold", "pair", "single"]
    grain: GrainFile
    edges: tuple[EdgeFile, ...]
    cutting_path: str = Field(description="SVG path data, closed, allowances included")
    darts: tuple[DartFile, ...]
    area_mm2: float = Field(description="inside the sewing line")
    label: tuple[str, ...] = Field(description="what is printed on the piece")


class SideFile(_Shape):
    piece: str
    edges: tuple[str, ...]


class SeamFile(_Shape):
    name: str
    a: SideFile
    b: SideFile
    a_mm: float
    b_mm: float
    relation: str
    difference_mm: float = Field(description="a - b, less what the relation declares")


class FindingFile(_Shape):
    severity: Literal["note", "warning", "stop"]
    code: str
    where: str
    message: str
    step: str
    hint: str
    expected_mm: float | None
    found_mm: float | None


class ChangeFile(_Shape):
    piece: str
    edge: str
    what: What
    before_mm: float
    after_mm: float
    sources: tuple[str, ...] = Field(description='the edges that it was, as "piece, edge"')
    half: Literal["left", "right"] | None = Field(
        description="before unfolding: the half of an uneven body on which it lies"
    )


class StepFile(_Shape):
    id: str
    do: str
    sentence: str
    seconds: float
    trace: tuple[ChangeFile, ...]


class DraftFile(_Shape):
    schema_: int = Field(SCHEMA, alias="schema")
    garment: str
    body: str
    pieces: tuple[PieceFile, ...]
    seams: tuple[SeamFile, ...]
    findings: tuple[FindingFile, ...]
    steps: tuple[StepFile, ...]


def draft_file(replayed: Replayed, finished: Finished, findings: tuple[Finding, ...]) -> DraftFile:
    """Everything about a finished draft as one document."""
    draft = replayed.draft
    cut = {p.key: p for p in finished.pieces}
    block = StepFile(
        id=BLOCK,
        do="draft_block",
        sentence=f"Draft the {replayed.recipe.block.draft} block for {replayed.body.name}.",
        seconds=round(replayed.block_seconds, 6),
        trace=(),
    )
    return DraftFile(
        schema=SCHEMA,
        garment=replayed.recipe.name,
        body=replayed.body.name,
        pieces=tuple(_piece(p, cut[p.key]) for p in draft.pieces),
        seams=tuple(_seam(draft, s) for s in draft.seams),
        findings=tuple(finding_file(f) for f in findings),
        steps=(block, *(_step(d) for d in replayed.steps if d.problem is None)),
    )


def _piece(piece: Piece, cut: FinishedPiece) -> PieceFile:
    hand: Literal["whole", "left", "right", "both"] = "whole"
    if piece.wearer is not None:
        hand = piece.wearer
    elif piece.cut != "single":
        hand = "both"
    return PieceFile(
        name=piece.key,
        hand=hand,
        count=2 if piece.cut == "pair" else 1,
        cut=piece.cut,
        grain=GrainFile(kind=piece.grain.kind, at=_xy(piece.grain.at), along_deg=_degrees(piece.grain.along)),
        edges=tuple(_edge(label.key, label.role, piece.edge(label)) for label in piece.labels),
        cutting_path=svg_data(cut.cutting, closed=True),
        darts=tuple(_dart(piece, d) for d in piece.darts) + _double_darts(piece),
        area_mm2=piece.area,
        label=cut.label,
    )


def _edge(name: str, role: str, spans: tuple[Span, ...]) -> EdgeFile:
    return EdgeFile(
        name=name,
        role=role,
        wearer=spans[0].label.wearer,
        length_mm=sum(s.length for s in spans),
        path=svg_data([s.curve for s in spans]),
        made_by=spans[-1].made,
    )


def _dart(piece: Piece, dart: Dart) -> DartFile:
    a, b = piece.mouth(dart)
    return DartFile(
        name=dart.label.key,
        wearer=dart.wearer,
        kind="to a point",
        angle_deg=math.degrees(piece.dart_angle(dart)),
        intake_mm=abs(a - b),
        points=(_xy(piece.dart_tip(dart)),),
        mouth=(_xy(a), _xy(b)),
        pivot=_xy(piece.pivot(dart)),
    )


def _double_darts(piece: Piece) -> tuple[DartFile, ...]:
    return tuple(
        DartFile(
            name=sided(d.name, d.wearer),
            wearer=d.wearer,
            kind="pointed at both ends",
            angle_deg=None,
            intake_mm=d.intake,
            points=(_xy(d.upper), _xy(d.lower)),
            mouth=(_xy(d.left), _xy(d.right)),
            pivot=None,
        )
        for d in piece.double_darts
    )


def _seam(draft: Draft, seam: Seam) -> SeamFile:
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    return SeamFile(
        name=seam.name,
        a=_side(seam.a),
        b=_side(seam.b),
        a_mm=a,
        b_mm=b,
        relation=seam.relation.words(),
        difference_mm=seam.relation.left_over(a, b),
    )


def _side(side: Side) -> SideFile:
    return SideFile(piece=side.piece, edges=tuple(label.key for label in side.labels))


def finding_file(f: Finding) -> FindingFile:
    return FindingFile(
        severity=f.severity,
        code=f.code,
        where=f.where,
        message=f.message,
        step=f.step,
        hint=f.hint,
        expected_mm=f.expected_mm,
        found_mm=f.found_mm,
    )


def _step(done: Done) -> StepFile:
    return StepFile(
        id=done.id,
        do=done.do,
        sentence=done.sentence,
        seconds=round(done.seconds, 6),
        trace=tuple(ChangeFile(**{k: getattr(c, k) for k in ChangeFile.model_fields}) for c in done.trace),
    )


def _xy(p: Point) -> XY:
    return (p.real, -p.imag + 0.0)


def _degrees(along: complex) -> float:
    return math.degrees(math.atan2(along.imag, along.real))
