"""How far slashes open: each by an amount, or together by a total, to a ratio or to a length of their edge.

A length or ratio is what the edge measures in the end, faired where it is blended; since fairing cuts the
corners of the openings, the openings are worked out by trial.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from cutonce.draft.piece import Dart, Piece
from cutonce.draft.span import Label
from cutonce.errors import CannotApply
from cutonce.geometry.motion import Point
from cutonce.reshape.mending import Mended, edge_group, mended, natural_length
from cutonce.reshape.places import Spot
from cutonce.reshape.spread import Slash, Spread, spread

_MOST_TRIALS = 20
"""A length that is not met after so many cannot be."""

_MET_MM = 0.02
"""Trials stop this near to a length; mending then gives the edge just the length asked."""


@dataclass(frozen=True, slots=True)
class Amount:
    """What a group of slashes opens at one end: mm each, mm in all, or the edge's length after it, in mm or
    as a multiple of what it was."""

    by: Literal["each", "total", "ratio", "length"]
    value: float


@dataclass(frozen=True, slots=True)
class Group:
    """Slashes that open by one rule. `start` and `end` say how far at either end, None: not at all.

    `alike` opens each end as far as its start. `weights` share a total out, one a slash. Slashes that have an
    amount of their own keep it.
    """

    slashes: tuple[Slash, ...]
    start: Amount | None
    end: Amount | None = None
    alike: bool = False
    weights: tuple[float, ...] = ()
    own: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Opened:
    """The piece spread and, where asked, mended."""

    piece: Piece
    spread: Spread
    slashes: tuple[Slash, ...]
    mended: tuple[Mended, ...]


@dataclass(slots=True)
class _Tap:
    """One end of one group, with the total that it opens, and the edge and length wanted, if any."""

    group: Group
    at_start: bool
    total: float
    labels: tuple[Label, ...] = ()
    wanted: float | None = None


def opened(
    piece: Piece,
    groups: Sequence[Group],
    step: str,
    still: Point | None = None,
    grain: Point | None = None,
    blend: bool = True,
    reach: float | None = None,
) -> Opened:
    """Open all groups at once and mend the edges. Raises CannotApply as `spread` and `mended` do, and where a
    length cannot be had by opening."""
    taps = [t for g in groups for t in _taps(piece, g)]
    goals = [t for t in taps if t.wanted is not None]
    _refuse_two_goals(piece, goals)

    def length_of(done: Spread, labels: tuple[Label, ...]) -> float:
        if blend:
            return natural_length(done.piece, done.breaks, step, reach, labels)
        return sum(done.piece.edge_length(label) for label in labels)

    def trial() -> tuple[Spread, tuple[Slash, ...]]:
        slashes = tuple(s for g in groups for s in _with_amounts(g, [t for t in taps if t.group is g]))
        return spread(piece, slashes, step, still, grain), slashes

    done, slashes = _met(piece, goals, trial, length_of)
    if not blend:
        return Opened(done.piece, done, slashes, ())
    lengths = [(t.labels, t.wanted) for t in goals if t.wanted is not None]
    new, told = mended(done.piece, done.breaks, step, reach, lengths)
    return Opened(new, done, slashes, told)


def _met(
    piece: Piece,
    goals: Sequence[_Tap],
    trial: Callable[[], tuple[Spread, tuple[Slash, ...]]],
    length_of: Callable[[Spread, tuple[Label, ...]], float],
) -> tuple[Spread, tuple[Slash, ...]]:
    """Try until every length is met: what is missing is added to the total."""
    for _ in range(_MOST_TRIALS):
        done, slashes = trial()
        misses = [(t, (t.wanted or 0.0) - length_of(done, t.labels)) for t in goals]
        if all(abs(miss) < _MET_MM for _, miss in misses):
            return done, slashes
        for tap, miss in misses:
            tap.total += miss
            if tap.total <= 0:
                raise _too_short(piece, tap)
    edge = goals[0].labels[0].key
    raise CannotApply(
        "no-length",
        piece.key,
        f"the {edge} cannot be brought to {goals[0].wanted or 0:.1f} mm by these slashes",
        "add slashes, or open them by an amount",
    )


def _taps(piece: Piece, group: Group) -> list[_Tap]:
    out = []
    for amount, at_start in ((group.start, True), (group.end, False)):
        shared = [s for s in group.slashes if s.name not in group.own]
        if amount is None or not shared:
            continue
        if amount.by == "each":
            out.append(_Tap(group, at_start, amount.value * len(shared)))
        elif amount.by == "total":
            out.append(_Tap(group, at_start, amount.value))
        else:
            labels = _one_edge(piece, shared, at_start)
            now = sum(piece.edge_length(label) for label in labels)
            wanted = amount.value * now if amount.by == "ratio" else amount.value
            tap = _Tap(group, at_start, wanted - now, labels, wanted)
            if tap.total <= 0:
                raise _too_short(piece, tap)
            out.append(tap)
    return out


def _one_edge(piece: Piece, slashes: Sequence[Slash], at_start: bool) -> tuple[Label, ...]:
    spots = [s.start if at_start else s.end for s in slashes]
    groups = {edge_group(piece, s.label) for s in spots if isinstance(s, Spot) and s.label is not None}
    if len(groups) == 1:
        return groups.pop()
    edges = ", ".join(sorted({labels[0].key for labels in groups})) or "a dart"
    raise CannotApply(
        "one-edge",
        piece.key,
        f"a length or ratio is that of one edge; these slashes lie on: {edges}",
        "give each edge's slashes as a set of their own",
    )


def _too_short(piece: Piece, tap: _Tap) -> CannotApply:
    edge = tap.labels[0].key
    now = sum(piece.edge_length(label) for label in tap.labels)
    return CannotApply(
        "no-length",
        piece.key,
        f"the {edge} is {now:.1f} mm: slashes cannot bring it to {tap.wanted or 0:.1f} mm",
        "spreading only lengthens an edge",
    )


def _refuse_two_goals(piece: Piece, goals: Sequence[_Tap]) -> None:
    seen: set[Label] = set()
    for tap in goals:
        if seen & set(tap.labels):
            raise CannotApply(
                "two-lengths", piece.key, f"two sets give the {tap.labels[0].key} a length", "give it once"
            )
        seen |= set(tap.labels)


def _with_amounts(group: Group, taps: Sequence[_Tap]) -> list[Slash]:
    """The slashes with what each opens: the totals shared out by weight."""
    shared = [s for s in group.slashes if s.name not in group.own]
    weights = group.weights or (1.0,) * len(shared)
    whole = sum(weights)
    start = next((t.total for t in taps if t.at_start), None)
    end = next((t.total for t in taps if not t.at_start), 0.0)
    out = []
    of = dict(zip((s.name for s in shared), weights, strict=True))
    for slash in group.slashes:
        if slash.name in group.own:
            out.append(slash)
            continue
        part = of[slash.name] / whole
        if start is None and isinstance(slash.end, Dart):
            out.append(replace(slash, a=None, share=part))
            continue
        a = (start or 0.0) * part
        out.append(replace(slash, a=a, b=a if group.alike else end * part))
    return out
