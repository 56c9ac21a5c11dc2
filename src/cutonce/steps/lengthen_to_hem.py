"""Lengthen to a hem: from a bodice or a hip-length block to a dress."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.meet import nearest
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.quantities import Length, PositiveLength, Share
from cutonce.reshape.lengthen import (
    DART_BELOW,
    LEAST_BELOW_HIP_MM,
    Below,
    Bottom,
    Course,
    bottom_of,
    carried_on,
    corners_of,
    courses,
)
from cutonce.reshape.lengthen_piece import Lower, drawn_on
from cutonce.reshape.runs import curves_of
from cutonce.reshape.soundness import refuse_crossing
from cutonce.reshape.take_out_at_end import TakeOut, adjoining, edge_of, out_at_edge
from cutonce.steps.parameters import Params
from cutonce.steps.step import Example, Result, Step
from cutonce.units import show

USUAL_SHARE = (0.44, 0.56)
"""The front's usual share of the girth at the hip."""


class LengthenToHem(Params):
    """How long, how wide at the hip, how flared; what becomes of the waist darts."""

    to: PositiveLength = Field(description="from the waist at the centre back to the hem")
    hip: PositiveLength | None = Field(
        None,
        description="from the waist to the hip line; left out only where the pieces reach the hip already",
    )
    girth: PositiveLength | None = Field(
        None, description="the whole garment's girth at the hip, ease included"
    )
    flare: Length = Field(0.0, description="how far each side runs out at the hem, beyond straight down")
    front_share: Share | None = Field(
        None, description="the front's share of that girth; left out: so that front and back sides run alike"
    )
    darts: Literal["pointed at both ends", "taken out at the side"] = Field(
        "pointed at both ends", description="what becomes of darts that opened on the waist edge"
    )
    dart_below: PositiveLength | None = Field(
        None,
        description="how far darts reach below the waist; left out: 10 cm in front, 14 cm behind at most",
    )
    rounded: Length = Field(
        60.0, description="over how much of the side above the waist its corner is rounded"
    )


def apply(draft: Draft, params: LengthenToHem, step: str) -> Result:
    bottoms = [b for p in draft.pieces if (b := bottom_of(p)) is not None]
    if not bottoms:
        raise CannotApply("no-lower-edge", "", "no piece has a waist or a hem to lengthen from")
    roles = {b.run[0].label.role for b in bottoms}
    if len(roles) > 1:
        raise CannotApply(
            "waist-and-hem", "", "some pieces end at the waist, others at a hem", "lengthen them apart"
        )
    _refuse_sewn(draft, bottoms)
    if roles == {"hem"}:
        return _from_hem(draft, bottoms, params, step)
    return _from_waist(draft, bottoms, params, step)


def _refuse_sewn(draft: Draft, bottoms: list[Bottom]) -> None:
    for bottom in bottoms:
        for label in dict.fromkeys(s.label for s in bottom.run):
            seams = draft.seams_of(bottom.piece.key, label)
            if seams:
                raise CannotApply(
                    "sewn-below",
                    bottom.piece.key,
                    f"its {label.key} is sewn in the seam '{seams[0].name}'",
                    "join the pieces there, or lengthen the lower one",
                )


def _from_waist(draft: Draft, bottoms: list[Bottom], params: LengthenToHem, step: str) -> Result:
    if params.hip is None or params.girth is None:
        raise CannotApply(
            "hip-unknown",
            bottoms[0].piece.key,
            "the pieces end at the waist: say how far below it the hip lies and the garment's girth there",
            'hip = "waist_to_hip", girth = "hip_girth + 4 cm"',
        )
    if params.to < params.hip + LEAST_BELOW_HIP_MM:
        raise CannotApply(
            "too-short",
            "",
            f"{params.to:.1f} mm from the waist ends less than {LEAST_BELOW_HIP_MM:.0f} mm below the hip "
            f"line, {params.hip:.1f} mm down",
            f"ask for at least {params.hip + LEAST_BELOW_HIP_MM:.1f} mm, and cut it off in a later step",
        )
    if params.darts == "taken out at the side":
        draft = _darts_taken_out(draft, bottoms, step)
        bottoms = [b for p in draft.pieces if (b := bottom_of(p)) is not None]
    rounded = max(0.0, params.rounded)
    below = Below(params.to, params.hip, params.girth, params.flare, params.front_share, rounded)
    corners = [c for b in bottoms for c in corners_of(b)]
    sides = courses(corners, below)
    lowers = []
    for bottom in bottoms:
        mine = tuple(c for c in sides if c.corner.bottom is bottom)
        if not mine:
            raise CannotApply("no-side", bottom.piece.key, "its lower edge ends at no side seam")
        level = sum(c.hip.imag for c in mine) / len(mine)
        most, share = DART_BELOW[bottom.piece.face]
        reach = params.dart_below or min(most, share * params.hip)
        lowers.append(Lower(bottom, mine, level - (params.to - params.hip), level, reach))
    new = drawn_on(draft, lowers, step)
    _refuse_crossings(new)
    return Result(new, (*_about_hip(sides, below, step), *_about_rounding(sides, step)))


def _darts_taken_out(draft: Draft, bottoms: list[Bottom], step: str) -> Draft:
    """Each dart of the waist taken out at its side, the one next to the side first."""
    for bottom in bottoms:
        piece = bottom.piece
        for dart in sorted(piece.darts, key=lambda d: -abs(piece.pivot(d).real - bottom.centre.real)):
            own = edge_of(piece, dart)
            if own.role != "waist":
                continue
            side = next((e for e in adjoining(piece, own) if e.role == "side"), None)
            if side is None:
                raise CannotApply("no-side", piece.key, f"no side adjoins the {own.key}")
            done = out_at_edge(piece, dart, TakeOut(side), step)
            piece = done.piece
            draft = draft.with_pieces([piece], done.gone)
    return draft


def _from_hem(draft: Draft, bottoms: list[Bottom], params: LengthenToHem, step: str) -> Result:
    if params.hip is not None or params.girth is not None or params.front_share is not None:
        raise CannotApply(
            "hip-known",
            bottoms[0].piece.key,
            "the pieces reach to a hem below the waist already and keep their own hip",
            "leave 'hip', 'girth' and 'front_share' out",
        )
    reference = next((b for b in bottoms if b.piece.face == "back"), bottoms[0])
    now = _waist_level(reference) - reference.centre.imag
    more = params.to - now
    if more <= 0:
        raise CannotApply(
            "too-short",
            reference.piece.key,
            f"it is {now:.1f} mm long from the waist already, {params.to:.1f} mm were asked for",
            "shorten it with a line or a hem step",
        )
    corners = [c for b in bottoms for c in corners_of(b)]
    sides = carried_on(corners, more, params.flare)
    lowers = [
        Lower(b, tuple(c for c in sides if c.corner.bottom is b), b.centre.imag - more, None, 0.0)
        for b in bottoms
    ]
    new = drawn_on(draft, lowers, step)
    _refuse_crossings(new)
    said = f"the hem comes {more:.1f} mm further down; its girth is {_hem_girth(new):.1f} mm"
    return Result(new, (Finding("note", "lengthened", "hem", said, step),))


def _waist_level(bottom: Bottom) -> float:
    """The height of the waist at the centre: of the piece's waist line, else the top of its centre edge."""
    piece, x = bottom.piece, bottom.centre.real
    ends = [
        z for line in piece.lines if line.name == "waist" for z in (line.curves[0].start, line.curves[-1].end)
    ]
    if ends:
        return min(ends, key=lambda z: abs(z.real - x)).imag
    return max(z.imag for s in piece.outline for z in (s.curve.start, s.curve.end) if abs(z.real - x) < 1e-3)


def _refuse_crossings(draft: Draft) -> None:
    for piece in draft.pieces:
        refuse_crossing(
            piece, "drawn on like this the piece would cross itself", "check 'girth', 'hip' and 'flare'"
        )


def _hem_girth(draft: Draft) -> float:
    """The hem as worn: half pieces count twice."""
    total = sum(p.edge_length(e) for p in draft.pieces for e in p.labels if e.role == "hem")
    return total if draft.unfolded else 2 * total


def _about_hip(sides: tuple[Course, ...], below: Below, step: str) -> list[Finding]:
    out: list[Finding] = []
    for course in sides:
        corner, piece = course.corner, course.corner.bottom.piece
        width = (course.hip.real - corner.bottom.centre.real) * corner.outward
        share = width / (below.girth / 2)
        usual = share if piece.face == "front" else 1 - share
        where = f"{piece.key}, {corner.label.key}"
        said = (
            f"{width:.1f} mm wide at the hip ({share:.0%} of half the girth); the side is "
            f"{course.below.length:.1f} mm from waist to hip"
        )
        odd = not USUAL_SHARE[0] <= usual <= USUAL_SHARE[1]
        hint = (
            "set 'front_share' nearer to a half, or move a part of a waist dart to the side first"
            if odd
            else ""
        )
        out.append(Finding("warning" if odd else "note", "hip-drawn", where, said, step, hint))
    return out


def _about_rounding(sides: tuple[Course, ...], step: str) -> list[Finding]:
    """How far the old sides were moved by rounding their corner at the waist."""
    out: list[Finding] = []
    for course in sides:
        if course.above is None:
            continue
        old, corner = curves_of(course.corner.down), course.corner
        moved = max(nearest(old, course.above.at(k / 12))[1] for k in range(13))
        if moved > TOLD_MM:
            said = (
                f"rounded over {course.reach:.1f} mm above the waist, at most {moved:.1f} mm off the old line"
            )
            where = f"{corner.bottom.piece.key}, {corner.label.key}"
            out.append(Finding("note", "side-rounded", where, said, step))
    return out


def sentence(params: LengthenToHem) -> str:
    said = f"Lengthen the pieces to a hem {show(params.to)} below the waist"
    if params.girth is not None and params.hip is not None:
        said += f", {show(params.girth)} round at the hip, {show(params.hip)} down"
    if params.flare:
        said += f", each side {'flared' if params.flare > 0 else 'pegged'} by {show(abs(params.flare))}"
    if params.girth is not None:
        said += f"; waist darts {params.darts}"
    return said + "."


STEP = Step(
    name="lengthen_to_hem",
    title="Lengthen to a hem",
    purpose=(
        "Draw every piece on below its waist, or below the hem it has: centre lines straight down, sides out "
        "to the hip and on to the hem, straight or flared. Waist darts become darts pointed at both ends."
    ),
    holds=(
        "Centre lines are straight and square to the hem; front and back sides are equal; the girth at the "
        "hip is what was asked; the waist keeps its girth."
    ),
    params=LengthenToHem,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A bodice to a dress, each side flared by 4 cm",
            params={"to": "60 cm", "hip": "waist_to_hip", "girth": "hip_girth + 5 cm", "flare": "4 cm"},
            changes=(("back", "centre back", 600.0),),
            because="The centre back goes on straight for the 60 cm from the waist.",
            rest_free=True,
        ),
        Example(
            title="A skirt 10 cm longer",
            block="skirt",
            params={"to": "waist_to_knee + 10 cm"},
            changes=(
                ("skirt front", "centre front", 100.0),
                ("skirt back", "centre back", 100.0),
                ("skirt front", "side", 100.0),
                ("skirt back", "side", 100.0),
            ),
            because="The block is as long as the waist is above the knee; straight sides go on straight.",
            rest_free=True,
        ),
    ),
)
