"""Slash and spread: cut a piece along straight lines and open it for fullness, flare or gathers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Label, sided
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.quantities import PositiveLength
from cutonce.reshape.mending import edge_bend
from cutonce.reshape.places import Spot, piece_named, resolve
from cutonce.reshape.recombine import Part
from cutonce.reshape.slash_amounts import Group, Opened, opened
from cutonce.reshape.spacing import spaced
from cutonce.reshape.spread import Slash
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.slash_parameters import SlashSet
from cutonce.steps.step import Example, Result, Step


class Spread(Params):
    """Which piece, along which lines, and how far."""

    piece: str = Field(description="the piece that is slashed")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")
    sets: tuple[SlashSet, ...] = Field(min_length=1, description="sets of slashes, all opened at once")
    still: PlaceParams | None = Field(None, description="a place in the part that stays where it is")
    grain: PlaceParams | None = Field(None, description="a place in the part that keeps the grain")
    blend: bool = Field(True, description="smooth the edges; kept edges get their length back")
    reach: PositiveLength | None = Field(None, description="how far beside a break an edge is smoothed")


def apply(draft: Draft, params: Spread, step: str) -> Result:
    piece = piece_named(draft, params.piece, params.wearer)
    groups: list[Group] = []
    for one in params.sets:
        groups.append(_group(draft, piece, one, sum(len(g.slashes) for g in groups)))
    still = _point(draft, piece, params.still)
    grain = _point(draft, piece, params.grain)
    done = opened(piece, groups, step, still, grain, params.blend, params.reach)
    _refuse_bent_fold(piece, done.piece)
    after = draft.with_pieces([done.piece], done.spread.gone)
    return Result(after, _findings(draft, after, piece, done, params.blend, step))


def _group(draft: Draft, piece: Piece, one: SlashSet, before: int) -> Group:
    slashes, own = _even(draft, piece, one, before) if one.count else _each(draft, piece, one, before)
    return Group(
        slashes,
        one.opens.amount() if one.opens else None,
        one.end_opens.amount() if one.end_opens else None,
        one.kind == "through equal",
        one.weights,
        own,
    )


def _each(draft: Draft, piece: Piece, one: SlashSet, before: int) -> tuple[tuple[Slash, ...], frozenset[str]]:
    out: list[Slash] = []
    own: set[str] = set()
    for k, said in enumerate(one.slashes, start=before + 1):
        name = f"slash {k}"
        end = _dart(piece, said.dart, said.start) if said.end is None else _spot(draft, piece, said.end)
        far = (said.opens or 0.0) if one.kind == "through equal" else said.end_opens
        out.append(Slash(name, _spot(draft, piece, said.start), end, said.opens, far))
        if said.opens is not None:
            own.add(name)
    return tuple(out), frozenset(own)


def _even(draft: Draft, piece: Piece, one: SlashSet, before: int) -> tuple[tuple[Slash, ...], frozenset[str]]:
    starts = _spots(draft, piece, one.starts, one.count, ())
    ends: Sequence[Spot | Dart]
    if one.dart:
        ends = [_dart(piece, one.dart, one.starts[0])] * one.count
    else:
        ends = _spots(draft, piece, one.ends, one.count, starts)
    names = (f"slash {before + 1 + i}" for i in range(one.count))
    return tuple(Slash(n, p, q) for n, p, q in zip(names, starts, ends, strict=True)), frozenset()


def _spots(
    draft: Draft, piece: Piece, places: Sequence[PlaceParams], count: int, avoid: Sequence[Spot]
) -> tuple[Spot, ...]:
    first = _spot(draft, piece, places[0])
    if len(places) == 1:
        return (first,) * count
    return spaced(piece, first, _spot(draft, piece, places[1]), count, avoid)


def _spot(draft: Draft, piece: Piece, said: PlaceParams) -> Spot:
    spot = resolve(draft, said.place())
    if spot.piece != piece.key:
        raise CannotApply("other-piece", piece.key, f"{said.words()} is not on the piece that is slashed")
    if spot.label is None:
        raise CannotApply(
            "not-on-edge", piece.key, f"a slash starts and ends on an edge, not at {said.words()}"
        )
    return spot


def _dart(piece: Piece, name: str, beside: PlaceParams) -> Dart:
    named = [d for d in piece.darts if name == d.label.key]
    return named[0] if len(named) == 1 else piece.dart(name, beside.wearer)


def _point(draft: Draft, piece: Piece, said: PlaceParams | None) -> complex | None:
    if said is None:
        return None
    spot = resolve(draft, said.place())
    if spot.piece != piece.key:
        raise CannotApply("other-piece", piece.key, f"{said.words()} is not on the piece that is slashed")
    return spot.point


def _refuse_bent_fold(piece: Piece, new: Piece) -> None:
    """A half piece is laid on the fold of the cloth: its centre edge stays on the upright line x = 0."""
    if piece.fold is None:
        return
    spans = new.edge(piece.fold)
    off = max(abs(z.real) for s in spans for z in (s.curve.start, s.curve.at(0.5), s.curve.end))
    if off > SAME_POINT_MM:
        raise CannotApply(
            "fold-bent",
            piece.key,
            f"the {piece.fold.name} lies on the fold and must stay straight and in its place",
            "let its part stay and hinge nothing on it, or unfold the piece first",
        )


def _findings(
    before: Draft, after: Draft, piece: Piece, done: Opened, blend: bool, step: str
) -> tuple[Finding, ...]:
    new = done.piece
    out = [Finding("note", "spread-turns", piece.key, _turns(piece, done), step)]
    changed = [e for e in new.labels if abs(new.edge_length(e) - piece.edge_length(e)) > 0.01]
    if changed:
        told = "; ".join(
            f"{e.key} {piece.edge_length(e):.1f} to {new.edge_length(e):.1f} mm" for e in changed
        )
        out.append(Finding("note", "spread-lengths", piece.key, f"new edge lengths: {told}", step))
    if not blend:
        out.append(Finding("note", "edges-broken", piece.key, "the edges are left as they broke", step))
    out += [mend.finding(piece.key, step) for mend in done.mended]
    kept = dict.fromkeys(s.label for s in new.outline if s.made == step and s.label not in changed)
    out += [_bend(before, after, piece, new, label, step) for label in kept]
    return tuple(out)


def _turns(piece: Piece, done: Opened) -> str:
    """Each part's turn against the part that stays, and how far it then lies off the grain."""
    still, grain = done.spread.still, done.spread.grain
    order = {s.name: k for k, s in enumerate(done.slashes)}
    words = []
    for part in sorted(done.spread.done.parts, key=lambda p: sorted(order[n] for n in p.beside)):
        name = " and ".join(sorted(part.beside, key=lambda n: order[n]))
        name = f"between {name}" if len(part.beside) > 1 else f"beside {name}{_holding(piece, part)}"
        turn = "stays" if part is still else f"{_angle(still, part):+.1f}"
        off = f" (off the grain {_angle(grain, part):+.1f})" if grain is not still else ""
        words.append(f"{name} {turn}{off}")
    what = "degrees that each part turns" + ("" if grain is not still else " and lies off the grain")
    return f"{what}: {'; '.join(words)}"


def _holding(piece: Piece, part: Part) -> str:
    """The longest edge of the piece whose middle lies in the part, to tell the two ends of a row apart."""
    inner = [(s, s.curve.at(0.5) + 0.3j * s.curve.tangent(0.5)) for s in piece.outline]
    held = [s for s, z in inner if s.label.role != "dart leg" and part.reaches(z)]
    return f", with the {max(held, key=lambda s: s.length).label.key}," if held else ""


def _angle(of: Part, part: Part) -> float:
    return math.degrees(of.motion.inverse().after(part.motion).angle)


def _bend(before: Draft, after: Draft, old: Piece, new: Piece, label: Label, step: str) -> Finding:
    """A kept edge is as long as before but no longer the shape of its partner."""
    turn, radius = edge_bend(new, (label,))
    message = f"the {label.key} now turns {_degrees(turn)}, least radius {_radius(radius)}"
    was, _ = edge_bend(old, (label,))
    message += f"; before it turned {_degrees(was)}"
    partner = before.partner(old.key, label)
    if partner is not None and (partner.piece, partner.labels) != (old.key, (label,)):
        theirs, tightest = edge_bend(after.piece(partner.piece), partner.labels)
        names = " + ".join(e.key for e in partner.labels)
        message += f"; its partner ({partner.piece}, {names}) {_degrees(-theirs)}, {_radius(tightest)}"
    return Finding("note", "edge-bend", old.key, message, step)


def _degrees(turn: float) -> str:
    return f"{math.degrees(turn):+.1f} degrees"


def _radius(radius: float) -> str:
    return "straight" if math.isinf(radius) else f"{radius:.0f} mm"


def sentence(params: Spread) -> str:
    sets = "; then ".join(one.words() for one in params.sets)
    return f"Slash the {sided(params.piece, params.wearer)} {sets}" + (
        "." if params.blend else ", edges left broken."
    )


_SKIRT_HEM = {"piece": "skirt front", "edge": "hem"}
_SKIRT_WAIST = {"piece": "skirt front", "edge": "waist"}

STEP = Step(
    name="spread",
    title="Slash and spread",
    purpose=(
        "Cut a piece along straight lines and open it: hinged at one end for flare or gathers along one "
        "edge, through and equal for width, through and unequal for both. Slashes run between any two edges, "
        "to a cut-out or into a dart, which closes into them; several sets are opened at once, by amounts, "
        "totals, a ratio or to a length. One part stays, one keeps the grain, broken edges are smoothed."
    ),
    holds=(
        "Kept edges keep their length within 0.01 mm, before and after smoothing; each opening is as wide as "
        "asked, the area grows by the openings; an edge asked to a length has it within 0.05 mm."
    ),
    params=Spread,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="Flare: four slashes from hem to waist, hinged, to a hem 16 cm longer",
            block="skirt",
            params={
                "piece": "skirt front",
                "sets": [
                    {
                        "count": 4,
                        "starts": [
                            {**_SKIRT_HEM, "from": "centre front", "by": "3 cm"},
                            {**_SKIRT_HEM, "from": "side", "by": "3 cm"},
                        ],
                        "ends": [
                            {**_SKIRT_WAIST, "from": "centre front", "by": "2 cm"},
                            {**_SKIRT_WAIST, "from": "side", "by": "2 cm"},
                        ],
                        "opens": {"total": "16 cm"},
                    }
                ],
                "blend": False,
            },
            changes=(("skirt front", "hem", 160.0),),
            because="Unsmoothed, the hem grows by the openings; the waist keeps its length.",
        ),
        Example(
            title="Fullness for gathers: one slash straight through, 5 cm wide at both ends",
            block="skirt",
            params={
                "piece": "skirt front",
                "sets": [
                    {
                        "kind": "through equal",
                        "count": 1,
                        "starts": [{**_SKIRT_HEM, "from": "centre front", "by": "4 cm"}],
                        "ends": [{**_SKIRT_WAIST, "from": "centre front", "by": "4 cm"}],
                        "opens": {"each": "5 cm"},
                    }
                ],
                "blend": False,
            },
            changes=(("skirt front", "hem", 50.0), ("skirt front", "waist", 50.0)),
            because="Both edges grow by the opening; nothing turns.",
        ),
        Example(
            title="Flare from a dart: the waist dart closed into three slashes from the hem",
            block="skirt",
            params={
                "piece": "skirt front",
                "sets": [
                    {
                        "count": 3,
                        "starts": [
                            {**_SKIRT_HEM, "from": "centre front", "by": "5 cm"},
                            {**_SKIRT_HEM, "from": "side", "by": "5 cm"},
                        ],
                        "dart": "waist dart",
                    }
                ],
            },
            changes=(("skirt front", "waist", 0.0), ("skirt front", "side", 0.0)),
            because="The slashes share the dart's angle; its mouth closes and the waist is kept.",
            rest_free=True,
        ),
    ),
)
