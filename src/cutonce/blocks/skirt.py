"""The skirt block: front and back, by a published system, then trued to the body's girths plus ease."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from cutonce.blocks.skirt_darts import WIDEST_DART_MM, fitted_darts
from cutonce.blocks.skirt_systems import Measured, Quarter, construct, eases, skirt_system
from cutonce.blocks.skirt_truing import TruedDart, TruedQuarter, straight_side, true_together
from cutonce.body import SIDES, Body
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Grain, InnerLine, Piece
from cutonce.draft.seam import Seam, Side
from cutonce.draft.span import BLOCK, EdgeMark, Label, Role, Span, born_round
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.motion import MIRROR
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import TOLD_MM
from cutonce.reshape.lengthen import LEAST_BELOW_HIP_MM
from cutonce.reshape.runs import closed

Face = Literal["front", "back"]

WAIST = Label("waist", "waist")
SIDE = Label("side", "side")
HEM = Label("hem", "hem")

DART_NAMES = ("waist dart", "side waist dart")


def skirt_block(
    system: str, body: Body, ease: Mapping[str, float], length: float
) -> tuple[Draft, tuple[Finding, ...]]:
    """The skirt of one body: the left half, with the right half as its twin where `waist_to_hip` differs.

    The hip line is level, at the mean of both sides; the waist rises or drops at each side by the rest.
    As `draft_skirt` otherwise; raises CannotApply (missing-measure) where the body lacks a measure.
    """
    if "waist_to_hip" not in body.uneven:
        return draft_skirt(system, body.mm, ease, length)
    mean = body.mm("waist_to_hip")
    left, right = (body.mm("waist_to_hip", side) - mean for side in SIDES)
    half, said = draft_skirt(system, body.mm, ease, length, left)
    twin, also = draft_skirt(system, body.mm, ease, length, right)
    return replace(half, twin=twin), tuple(dict.fromkeys((*said, *also)))


def draft_skirt(
    system: str, mm: Measured, ease: Mapping[str, float], length: float, side_more: float = 0.0
) -> tuple[Draft, tuple[Finding, ...]]:
    """Half a skirt block: `skirt front` on the fold at the centre front, `skirt back` cut as a pair.

    `mm` gives a measure in mm by its name (see `construct`); `ease` in mm on the whole girth at "waist" and
    "hip", the system's own where left out; `length` from the waist at the centre to the hem. The waist rises
    at the side by `side_more` more than the system states.
    Raises BadInput (unknown-system, unknown-ease) and CannotApply (too-short, skirt-does-not-close).
    """
    chosen = skirt_system(system)
    depth = mm("waist_to_hip")
    if length < depth + LEAST_BELOW_HIP_MM:
        raise CannotApply(
            "too-short",
            BLOCK,
            f"a skirt {length / 10:.1f} cm long ends less than 3 cm below the hip, {depth / 10:.1f} cm down",
            f"give a length of at least {(depth + LEAST_BELOW_HIP_MM) / 10:.1f} cm and shorten it by a step",
        )
    published = construct(replace(chosen, side_rise=chosen.side_rise + side_more), mm, ease, length)
    fitted = fitted_darts(published[0]), fitted_darts(published[1])
    front, back = true_together(*fitted)
    draft = Draft(
        pieces=(_piece(front, "front"), _piece(back, "back")),
        seams=(
            Seam("side", Side("skirt front", (SIDE,)), Side("skirt back", (SIDE,))),
            Seam("centre back", _centre_side(), _centre_side()),
        ),
    )
    said = (
        *_about_darts(published[0], fitted[0], "skirt front"),
        *_about_darts(published[1], fitted[1], "skirt back"),
        *_about_body(mm, eases(chosen, ease), fitted),
    )
    return draft, said


def _centre_side() -> Side:
    return Side("skirt back", (Label("centre back", "centre back"),))


def _piece(trued: TruedQuarter, face: Face) -> Piece:
    """The quarter as a piece: a front as drawn, a back mirrored so that it lies at x <= 0."""
    centre_role: Role = "centre front" if face == "front" else "centre back"
    centre = Label(centre_role, centre_role)
    outline = _outline(trued, centre)
    hip: Curve = Line(complex(0, trued.side_hip.imag), trued.side_hip)
    at = complex(trued.side_hip.real / 2, -0.55 * trued.quarter.length)
    if face == "back":
        outline = _reborn(outline)
        hip, at = hip.moved(MIRROR).reversed(), MIRROR(at)
    piece = Piece(
        name=f"skirt {face}",
        outline=outline,
        grain=Grain(at),
        cut="fold" if face == "front" else "pair",
        fold=centre if face == "front" else None,
        darts=tuple(Dart(name) for name, _ in zip(DART_NAMES, trued.darts, strict=False)),
        lines=(InnerLine("hip", (hip,)),),
        face=face,
    )
    return _with_marks(piece, trued, centre)


def _outline(trued: TruedQuarter, centre: Label) -> tuple[Span, ...]:
    """Counter-clockwise from the hem at the centre, side at +x."""
    side = straight_side(trued)
    hem = complex(0, -trued.quarter.length)
    edges: list[tuple[Label, Path]] = [(HEM, (Line(hem, side.a),)), (SIDE, (side, trued.hip_curve))]
    runs = [tuple(c.reversed() for c in reversed(run)) for run in reversed(trued.waist)]
    legs = [_legs(i, dart) for i, dart in reversed(list(enumerate(trued.darts)))]
    for run, leg in zip(runs, [*legs, None], strict=True):
        edges.append((WAIST, run))
        if leg:
            edges.append(leg)
    edges.append((centre, (Line(0j, hem),)))
    return closed(born_round(edges, BLOCK))


def _legs(index: int, dart: TruedDart) -> tuple[Label, Path]:
    label = Dart(DART_NAMES[index]).label
    return label, (Line(dart.outer, dart.pivot), Line(dart.pivot, dart.inner))


def _reborn(outline: tuple[Span, ...]) -> tuple[Span, ...]:
    """The mirrored outline, counter-clockwise again, with material counted in its own direction."""
    turned = [s.moved(MIRROR).reversed() for s in reversed(outline)]
    return tuple(born_round([(s.label, (s.curve,)) for s in turned], BLOCK))


def _with_marks(piece: Piece, trued: TruedQuarter, centre: Label) -> Piece:
    """Edge marks: waist and hip on side and centre, centre on waist and hem."""
    below = trued.quarter.length - trued.quarter.hip_depth
    side_total = below + trued.side_length
    waist_total, hem_total = trued.waist_length, trued.side_hip.real
    full, hip_depth = trued.quarter.length, trued.quarter.hip_depth
    # place of each mark from the edge's start as drawn with the side at +x
    places: list[tuple[str, Label, float, float, bool]] = [
        ("hip", SIDE, below, side_total, True),
        ("waist", SIDE, side_total, side_total, False),
        ("hip", centre, hip_depth, full, True),
        ("waist", centre, 0.0, full, False),
        (centre.name, WAIST, waist_total, waist_total, True),
        (centre.name, HEM, 0.0, hem_total, True),
    ]
    marks = []
    for name, label, at, total, printed in places:
        origin = piece.edge(label)[0].origin
        marks.append(EdgeMark(name, origin, total - at if piece.face == "back" else at, printed))
    return replace(piece, marks=tuple(marks))


def _about_darts(published: Quarter, fitted: Quarter, where: str) -> list[Finding]:
    """What had to be done to the system's darts, if anything."""
    was = sum(d.intake for d in published.darts)
    now = sum(d.intake for d in fitted.darts)
    if abs(was - now) < TOLD_MM:
        return []
    count = len(fitted.darts)
    darts = "no dart" if count == 0 else "1 dart" if count == 1 else f"{count} darts"
    return [
        Finding(
            "note",
            "darts-fitted",
            where,
            f"this body needs {darts} taking {now / 10:.1f} cm in all; the system states {was / 10:.1f} cm",
            step=BLOCK,
            hint="nothing to do; the girths are exact either way",
            expected_mm=was,
            found_mm=now,
        )
    ]


def _about_body(mm: Measured, ease: tuple[float, float], fitted: tuple[Quarter, Quarter]) -> list[Finding]:
    """Bodies on which a darted block is hardly the right one, and negative ease."""
    out: list[Finding] = []
    for place, amount in zip(("waist", "hip"), ease, strict=True):
        if amount < 0:
            message = f"the ease at the {place} is {amount / 10:.1f} cm: for cloth that stretches"
            out.append(Finding("note", "negative-ease", "skirt", message, step=BLOCK))
    waist, hip = mm("waist_girth") + ease[0], mm("hip_girth") + ease[1]
    if waist > hip:
        out.append(
            Finding(
                "warning",
                "waist-over-hip",
                "skirt, side",
                f"the waist ({waist / 10:.1f} cm) is more than the hip ({hip / 10:.1f} cm), both with ease: "
                "the side leans outwards",
                step=BLOCK,
                hint="give more ease at the hip, or check both measures",
                expected_mm=hip,
                found_mm=waist,
            )
        )
    for quarter, where in zip(fitted, ("skirt front", "skirt back"), strict=True):
        if any(d.intake > WIDEST_DART_MM for d in quarter.darts):
            widest = max(d.intake for d in quarter.darts)
            out.append(
                Finding(
                    "warning",
                    "wide-dart",
                    where,
                    f"a waist dart takes {widest / 10:.1f} cm, more than {WIDEST_DART_MM / 10:.0f} cm "
                    "even as two darts",
                    step=BLOCK,
                    hint="take part of it into the centre seam, or gather the waist",
                    expected_mm=WIDEST_DART_MM,
                    found_mm=widest,
                )
            )
    return out
