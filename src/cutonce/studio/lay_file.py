"""lay.json: a lay for other programs and for her own hand: where each piece lies, what it takes and costs.

Documented in docs/files.md. Lengths in mm, angles in degrees; `along` runs with the warp from the cut end,
`across` from the selvedge nearest to her (on folded cloth: from the fold).
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Mapping
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from cutonce.cloth.shop import Purchase
from cutonce.documents import Migration, migrate
from cutonce.errors import BadInput, closest, quoted
from cutonce.finishing.finished import Finished, FinishedPiece
from cutonce.geometry.motion import Motion, Point
from cutonce.geometry.path import flattened
from cutonce.lay.asked import Held
from cutonce.lay.plan import Laid, Matched, Paper, Section, Way
from cutonce.studio.draft_file import FindingFile, finding_file
from cutonce.studio.lay import Outcome
from cutonce.validation import validated

MIGRATIONS: tuple[Migration, ...] = ()
"""One for each schema version that has been left behind."""

SCHEMA = len(MIGRATIONS) + 1

AlongAcross = tuple[float, float]

_DECIMALS = 4
"""Lengths are written to a ten thousandth of a mm, a hundredth of what the check of a lay lets pass."""

_DEGREES = 7
"""Decimals of angles: 2 m from the arrow's start that is as exact as the lengths."""

OUTLINE_MM = 0.25
"""How near the written outlines are to the cutting lines: for drawing, not for cutting."""


class _Shape(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class SectionFile(_Shape):
    """A part of the cloth laid one way."""

    name: str = Field(description='"cloth", or a remnant\'s name')
    way: Way
    start_mm: float = Field(description="from the cut end of the whole lay")
    end_mm: float
    width_mm: float = Field(
        description="as it lies on the table: half the cloth where it is folded lengthwise"
    )
    room_mm: float | None = Field(description="how much there is of it; null without limit")


class PieceOnCloth(_Shape):
    """One piece where it lies. `section`, `along_mm`, `across_mm`, `turn_deg`, `turned_over` and `held` are
    read again by `--keep`; the rest is for the eye."""

    number: int = Field(description="place in cutting order")
    name: str
    piece: str = Field(description="title as printed on the paper")
    section: int = Field(ge=1, description="number of the section, from 1")
    along_mm: float = Field(
        description="where the grain arrow starts: from the section's start; on cloth folded crosswise from "
        "the fold, below 0"
    )
    across_mm: float = Field(description="from the selvedge nearest to her, or from the fold")
    turn_deg: float = Field(description="from the warp to the grain arrow, counter-clockwise")
    turned_over: bool = Field(description="the piece lies mirrored")
    held: bool = Field(False, description="true: with --keep it stays here, and the rest settles around it")
    paper: Paper = "face up"
    layers: int = 1
    on_fold: bool = False
    outline: tuple[AlongAcross, ...] = Field(
        (), description="cutting line, from the cut end of the whole lay"
    )


class MatchedFile(_Shape):
    """Whether the pattern of the cloth runs on over a seam."""

    seam: str
    notch: str
    off_along_mm: float
    off_across_mm: float
    matched: bool
    why: str


class BuyFile(_Shape):
    """What to ask for in the shop."""

    length_mm: float
    words: str
    cost: str | None
    currency: str
    washed_mm: float


class LayFile(_Shape):
    schema_: int = Field(SCHEMA, alias="schema")
    garment: str
    body: str
    cloth: str
    way: Literal["open", "folded lengthwise", "folded crosswise", "part folded, part open"]
    fits: bool = Field(description="false: the cloth at hand does not suffice")
    needed_mm: float = Field(description="length of cloth, remnants not counted")
    at_hand_mm: float | None
    spare_mm: float | None = Field(description="at hand less needed; below 0 what is lacking")
    share: float = Field(description="part of the cloth taken that is pieces, 0 to 1")
    buy: BuyFile
    sections: tuple[SectionFile, ...]
    pieces: tuple[PieceOnCloth, ...]
    left: tuple[tuple[AlongAcross, ...], ...] = Field(description="areas left over, biggest first")
    matched: tuple[MatchedFile, ...]
    findings: tuple[FindingFile, ...]


def lay_file(done: Finished, outcome: Outcome) -> LayFile:
    """Everything about a lay as one document. `done` names the garment and the body."""
    plan, asked = outcome.plan, outcome.asked
    held = {(h.key, h.section) for h in asked.held}
    return LayFile(
        schema=SCHEMA,
        garment=done.garment,
        body=done.body,
        cloth=plan.cloth.name,
        way=asked.way,
        fits=outcome.fits,
        needed_mm=_mm(outcome.needed),
        at_hand_mm=plan.cloth.length,
        spare_mm=None if outcome.spare is None else _mm(outcome.spare),
        share=round(plan.share, 6),
        buy=_buy(outcome.buy),
        sections=tuple(_section(s) for s in plan.sections),
        pieces=tuple(
            _piece(one, plan.sections[one.section], (one.key, one.section) in held)
            for one in sorted(plan.laid, key=lambda one: one.number)
        ),
        left=tuple(tuple(_pair(p) for p in ring) for ring in plan.left),
        matched=tuple(_matched(m) for m in plan.matched),
        findings=tuple(finding_file(f) for f in outcome.findings),
    )


def _buy(buy: Purchase) -> BuyFile:
    cost = None if buy.cost is None else str(buy.cost)
    return BuyFile(
        length_mm=_mm(buy.length),
        words=buy.words,
        cost=cost,
        currency=buy.currency,
        washed_mm=_mm(buy.washed),
    )


def _section(section: Section) -> SectionFile:
    return SectionFile(
        name=section.name,
        way=section.way,
        start_mm=_mm(section.start),
        end_mm=_mm(section.end),
        width_mm=_mm(section.width),
        room_mm=None if section.room is None else _mm(section.room),
    )


def _piece(laid: Laid, section: Section, held: bool) -> PieceOnCloth:
    arrow = laid.piece.grain
    at = laid.motion(arrow.start) - zero(section)
    along = laid.motion.of_vector(arrow.end - arrow.start)
    outline = flattened(laid.piece.cutting, OUTLINE_MM)
    return PieceOnCloth(
        number=laid.number,
        name=laid.key,
        piece=laid.piece.title,
        section=laid.section + 1,
        along_mm=_mm(at.real),
        across_mm=_mm(at.imag),
        turn_deg=round(math.degrees(cmath.phase(along)), _DEGREES) + 0.0,
        turned_over=laid.motion.mirror,
        held=held,
        paper=laid.paper,
        layers=laid.layers,
        on_fold=laid.on_fold,
        outline=tuple(_pair(laid.motion(p)) for p in outline),
    )


def zero(section: Section) -> float:
    """Where a section's own lengths begin, from the cut end of the lay: folded crosswise, at its fold."""
    return section.end if section.way == "folded crosswise" else section.start


def _matched(matched: Matched) -> MatchedFile:
    return MatchedFile(
        seam=matched.seam,
        notch=matched.notch,
        off_along_mm=_mm(matched.off_along),
        off_across_mm=_mm(matched.off_across),
        matched=matched.matched,
        why=matched.why,
    )


def _pair(p: Point) -> AlongAcross:
    return _mm(p.real), _mm(p.imag)


def _mm(mm: float) -> float:
    return round(mm, _DECIMALS) + 0.0


def read_lay(text: str, where: str = "lay.json") -> LayFile:
    """The lay in a file's text. Raises BadInput that says where and what."""
    import json

    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as problem:
        reason = " ".join(str(problem).split())[:160]
        raise BadInput("broken-json", where, f"not valid JSON: {reason}") from None
    if not isinstance(found, Mapping):
        raise BadInput("not-a-lay", where, "this is not a lay", "--keep reads a lay.json that lay wrote")
    return validated(LayFile, migrate(found, MIGRATIONS, where), {}, where)


def held_in(
    lay: LayFile, cut: Iterable[tuple[str, FinishedPiece]], where: str = "lay.json"
) -> tuple[Held, ...]:
    """The pieces that a lay says are held, as motions of what is cut now: keys, and pieces as they are cut.

    Raises BadInput where a held piece is no piece of the garment, or lies in a section that is not there.
    """
    pieces = dict(cut)
    return tuple(_held(one, lay, pieces, where) for one in lay.pieces if one.held)


def _held(one: PieceOnCloth, lay: LayFile, pieces: Mapping[str, FinishedPiece], where: str) -> Held:
    at = f"{where}, pieces, {quoted(one.name)}"
    if one.name not in pieces:
        message = f"no piece {quoted(one.name)} in this lay{closest(one.name, pieces)}"
        raise BadInput("unknown-piece", at, message, f"there are: {', '.join(pieces)}")
    if one.section > len(lay.sections):
        raise BadInput("no-section", at, f"there is no section {one.section}", f"1 to {len(lay.sections)}")
    for name, value in (("along_mm", one.along_mm), ("across_mm", one.across_mm), ("turn_deg", one.turn_deg)):
        if not math.isfinite(value):
            raise BadInput("not-a-number", f"{at}, {name}", f"{quoted(value)} is no place")
    return Held(one.name, _motion(one, pieces[one.name]), one.section - 1)


def _motion(one: PieceOnCloth, piece: FinishedPiece) -> Motion:
    """The motion that lays the piece's grain arrow where the file says."""
    arrow = piece.grain.end - piece.grain.start
    unit = arrow / abs(arrow)
    way = cmath.exp(1j * math.radians(one.turn_deg))
    turned = Motion(way * (unit if one.turned_over else unit.conjugate()), 0j, one.turned_over)
    return Motion(
        turned.turn, complex(one.along_mm, one.across_mm) - turned(piece.grain.start), turned.mirror
    )
