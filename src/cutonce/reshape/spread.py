"""Slash and spread: any number of slashes in one piece, each with its own kind and amount, opened at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Gone, Span, born
from cutonce.errors import CannotApply
from cutonce.geometry.curve import Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import starting_at
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.carried_inside import carried
from cutonce.reshape.darts import first_leg, still_span, tombstones
from cutonce.reshape.nodes import Material, node_at, split_outline
from cutonce.reshape.places import Spot
from cutonce.reshape.recombine import End, Part, Recombined, Slit, recombine
from cutonce.reshape.slash_line import refuse_outside
from cutonce.reshape.slash_motions import about, closing_dart, trapezoid
from cutonce.reshape.soundness import crossing


@dataclass(frozen=True, slots=True)
class Slash:
    """A straight slash from `start` on an edge to `end`: another edge, or a dart, which then closes into it.

    It opens `a` mm at its start and `b` mm at its end (at a dart: at its closed mouth); b = 0 is hinged,
    a = b through and equal. A slash to a dart with `a` left out opens what `share` of the dart's angle gives;
    several may share one dart, their shares adding up to 1.
    """

    name: str
    start: Spot
    end: Spot | Dart
    a: float | None = None
    b: float = 0.0
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Spread:
    """`piece` after; `gone` tombstones of darts closed; `done` the parts with their motions.

    `still` and `grain` are the parts that stay and that keep the grain; `breaks` the places where slashes end
    on the outline, each as the end of the material before it.
    """

    piece: Piece
    gone: tuple[Gone, ...]
    done: Recombined
    still: Part
    grain: Part
    breaks: tuple[Material, ...]


def spread(
    piece: Piece, slashes: Sequence[Slash], step: str, still: Point | None = None, grain: Point | None = None
) -> Spread:
    """Open all slashes. The part in which the point `still` lies stays where it is (default: the one with the
    centre edge, else the longest edge); the grain follows the part in which `grain` lies (default: the still
    part). Openings become part of the edges they open in. New area = old area + openings.

    Raises CannotApply where a slash leaves the piece or crosses a dart or another slash, where a dart cannot
    close as asked, or where the result would cross itself.
    """
    places = [s.start.on_cloth for s in slashes]
    places += [s.end.on_cloth for s in slashes if isinstance(s.end, Spot)]
    outline = split_outline(piece.outline, places)
    slits = [_slit(piece, outline, s) for s in slashes]
    _check_shares(piece, slashes)
    _check_apart(piece, slits)
    done = _opened(piece, outline, slits, step)
    closed = {s.end for s in slashes if isinstance(s.end, Dart)}
    still_part = _part(piece, done, still) if still is not None else done.parts[0]
    grain_part = _part(piece, done, grain) if grain is not None else still_part
    new = carried(piece, done, grain_part)
    legs: tuple[Gone, ...] = ()
    for dart in (d for d in piece.darts if d in closed):
        new, taken = _without_closed(new, dart, step)
        legs += taken
    new = replace(new, darts=tuple(d for d in new.darts if d not in closed))
    if still is not None:
        new = new.moved(still_part.motion.inverse())
    place = crossing(new)
    if place is not None:
        raise CannotApply(
            "crosses-itself",
            piece.key,
            f"opened like this the piece would lie over itself near its {_nearest_edge(new, place)}",
            "open it less, or from more slashes",
        )
    gone = tombstones(piece, done, step, "closed it into a spread") + legs
    return Spread(new, gone, done, still_part, grain_part, _breaks(outline, slits))


def _opened(piece: Piece, outline: tuple[Span, ...], slits: Sequence[Slit], step: str) -> Recombined:
    try:
        return recombine(outline, slits, still_span(outline, list(slits)), step)
    except CannotApply as problem:
        if problem.code != "slits-cross":
            raise
        hint = "slashes may meet at an end but not cross: swap the ends, or leave one out"
        raise CannotApply("slashes-cross", piece.key, problem.message, hint) from None


def _slit(piece: Piece, outline: tuple[Span, ...], slash: Slash) -> Slit:
    p_node = node_at(outline, slash.start.on_cloth)
    p = End(p_node, p_node, slash.start.edge)
    start = outline[p_node % len(outline)].curve.start
    if isinstance(slash.end, Dart):
        return _dart_slit(piece, outline, slash, slash.end, p, start)
    q_node = node_at(outline, slash.end.on_cloth)
    end = outline[q_node % len(outline)].curve.start
    if abs(start - end) < SAME_POINT_MM:
        raise CannotApply("slash-misses", piece.key, f"{slash.name} starts and ends at one place")
    _check_amounts(piece, slash, slash.a or 0.0)
    refuse_outside(piece, outline, slash.name, start, end)
    motion = trapezoid(slash.name, start, end, slash.a or 0.0, slash.b)
    return Slit(slash.name, p, End(q_node, q_node, slash.end.edge), motion)


def _dart_slit(
    piece: Piece, outline: tuple[Span, ...], slash: Slash, dart: Dart, p: End, start: Point
) -> Slit:
    leg = first_leg(outline, dart)
    pivot = outline[leg].curve.end
    refuse_outside(piece, outline, slash.name, start, pivot, dart)
    edge = outline[leg - 1].label
    if slash.a is None:
        at = End(leg + 1, leg + 1, edge)
        return Slit(slash.name, p, at, about(pivot, piece.dart_angle(dart) * slash.share))
    _check_amounts(piece, slash, slash.a)
    mouth = (outline[leg].curve.start, outline[(leg + 1) % len(outline)].curve.end)
    motion = closing_dart(slash.name, start, pivot, mouth, slash.a, slash.b)
    return Slit(slash.name, p, End(leg, leg + 2, edge), motion, (pivot,))


def _check_amounts(piece: Piece, slash: Slash, a: float) -> None:
    if a < 0 or slash.b < 0:
        least = min(a, slash.b)
        raise CannotApply(
            "amount", piece.key, f"{slash.name} cannot open {least:.1f} mm", "ask for more than 0"
        )
    if a == 0 and slash.b == 0:
        raise CannotApply("amount", piece.key, f"{slash.name} opens nothing", "ask for more than 0")


def _check_shares(piece: Piece, slashes: Sequence[Slash]) -> None:
    """Several slashes into one dart share its angle out among them, no more and no less."""
    by_dart: dict[Dart, list[Slash]] = {}
    for slash in slashes:
        if isinstance(slash.end, Dart):
            by_dart.setdefault(slash.end, []).append(slash)
    for dart, here in by_dart.items():
        if len(here) > 1 and any(s.a is not None for s in here):
            raise CannotApply(
                "dart-shared",
                piece.key,
                f"{len(here)} slashes share the {dart.name}: they open what it gives and take no amount",
                "open them further in a second step",
            )
        shares = sum(s.share for s in here)
        if here[0].a is None and abs(shares - 1) > 1e-9:
            raise CannotApply(
                "dart-shared", piece.key, f"the shares of the {dart.name} add up to {shares:.4g}, not 1"
            )


def _check_apart(piece: Piece, slits: Sequence[Slit]) -> None:
    seen: dict[frozenset[int], str] = {}
    for slit in slits:
        ends = frozenset((slit.p.first, slit.q.first))
        if ends in seen:
            raise CannotApply(
                "slashes-alike",
                piece.key,
                f"{seen[ends]} and {slit.name} run along the same line",
                "open one of them further instead",
            )
        seen[ends] = slit.name


def _without_closed(piece: Piece, dart: Dart, step: str) -> tuple[Piece, tuple[Gone, ...]]:
    """The piece without the legs of a dart that has been turned shut, which now lie on each other.

    Legs of unlike length leave a jog at the mouth, which becomes a span of the edge.
    """
    spans = piece.outline
    at = [i for i, s in enumerate(spans) if s.label == dart.label]
    if not at:
        return piece, ()
    first = at[0] if at[1] == at[0] + 1 else at[1]
    before, *legs, after = (spans[(first + k) % len(spans)] for k in (-1, 0, 1, 2))
    reason = "closed it into a spread"
    gone = tuple(Gone(piece.key, s.label, s.origin, s.lo, s.hi, step, reason) for s in legs)
    join = before.curve.end
    kept = [s for i, s in enumerate(spans) if i not in at]
    nxt = kept.index(after)
    kept[nxt] = replace(after, curve=starting_at(after.curve, join))
    if abs(after.curve.start - join) > SAME_POINT_MM:
        jog = Line(join, after.curve.start)
        kept.insert(nxt, born(jog, before.label, step, name=f"{dart.name} mouth"))
    return replace(piece, outline=tuple(kept)), gone


def _breaks(outline: tuple[Span, ...], slits: Sequence[Slit]) -> tuple[Material, ...]:
    n = len(outline)
    nodes = dict.fromkeys(e.first % n for s in slits for e in (s.p, s.q))
    spans = [outline[node - 1] for node in nodes]
    mouths = [s for s in spans if s.label.role == "dart leg"]  # a slash that ends at a dart's pivot
    before = [outline[outline.index(s) - 1] for s in mouths]
    return tuple((s.origin, s.hi) for s in (*spans, *before) if s.label.role != "dart leg")


def _part(piece: Piece, done: Recombined, z: Point) -> Part:
    """The part in which a place lies; a place on a slash lies in two, and is refused."""
    near = [part for part in done.parts if part.reaches(z)]
    if len(near) > 1:
        raise CannotApply(
            "on-a-slash",
            piece.key,
            "the place that says which part stays, or keeps the grain, lies on a slash",
            "name a place beside it",
        )
    return near[0] if near else done.part_at(z)


def _nearest_edge(piece: Piece, z: Point) -> str:
    solid = [s for s in piece.outline if s.label.role != "dart leg"]
    return min(solid, key=lambda s: min(abs(s.curve.at(k / 8) - z) for k in range(9))).label.key
