"""What to change first when cloth is short: each remedy laid for a short time, ranked by what it saves."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from cutonce.body import Body
from cutonce.cloth.cloth import Cloth
from cutonce.errors import Problem
from cutonce.finishing.finished import Finished
from cutonce.geometry import path
from cutonce.lay.asked import Asked, AskedWay
from cutonce.recipe.recipe import Recipe
from cutonce.studio.fullness import Laying, Said
from cutonce.studio.largest import Lay
from cutonce.studio.prove import Proven
from cutonce.studio.recipe_changes import recipe_changes

SECONDS = 80.0
"""For all remedies together, unless she says otherwise."""

OFF_GRAIN = math.radians(2)
"""How far off its grain a piece may lie before it is seen to hang askew (common practice: 1 to 3 degrees)."""

ROUNDS = 2
"""Of trials, each with half as many remedies as the one before, and so twice the time for each."""

WORTH_MM = 5.0
"""A remedy that saves less is none: lays of a few seconds differ by as much."""

_LARGEST = 2
"""How many of the largest pieces are tried on the cross grain."""

_WAYS: dict[AskedWay, str] = {
    "open": "every piece is marked and cut on its own, the second of a pair turned over",
    "folded lengthwise": "two layers are cut at once",
    "part folded, part open": "pairs are cut through two layers, the cloth is then opened for the rest",
}

LayingOn = Callable[[Cloth, Asked], Laying]
"""How pieces are laid on a cloth under her wishes."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing to change, in one sentence; what it costs in work, and what she must look at first.

    `saves` mm of cloth against the lay as it is (None where that cannot be laid at all), to `length`; it
    `fits` the cloth at hand. `recipe`, `cloth` and `asked` are what it would then be.
    """

    what: str
    work: str
    question: str
    saves: float | None
    length: float
    fits: bool
    recipe: Recipe
    cloth: Cloth
    asked: Asked


@dataclass(frozen=True, slots=True)
class Remedies:
    """`length` of the lay as it is (None: it cannot be laid, `why` says what stands in the way); what helps,
    the most first; and what was tried and saved nothing."""

    length: float | None
    room: float
    why: str
    helps: tuple[Remedy, ...]
    no_better: tuple[Remedy, ...]


@dataclass(frozen=True, slots=True)
class _Offer:
    what: str
    work: str
    question: str
    design: Proven
    cloth: Cloth
    asked: Asked


def remedies(
    proven: Proven,
    body: Body,
    cloth: Cloth,
    asked: Asked,
    laying_on: LayingOn,
    seconds: float = SECONDS,
    said: Said = lambda _: None,
    stopped: Callable[[], bool] = lambda: False,
    start: Lay | None = None,
) -> Remedies:
    """Every remedy that applies, each measured by lays of its own; once `stopped`, by those so far.

    In each of a few rounds the lay as it is and every remedy still in the running go on from their best; the
    better half stays in the running. The lay as it is begins with `start` and a round's share at once, so
    that nothing is called a saving that more time alone would have brought. Raises Problem only where the
    design itself cannot be made.
    """
    laying = laying_on(cloth, asked)
    running = [_Trial(o) for o in _offers(proven.replayed.recipe, body, proven, cloth, asked)]
    out: list[_Trial] = []
    base, why = start, ""
    for number in range(ROUNDS):
        share = seconds / ROUNDS / (len(running) + 1)
        said(f"Round {number + 1} of {ROUNDS}: {len(running)} remedies, {share:.1f} s each")
        base, why = _better(laying, proven, share, base, base)
        for trial in running:
            if stopped():
                break
            own = laying_on(trial.offer.cloth, trial.offer.asked)
            trial.lay, _ = _better(own, trial.offer.design, share, trial.lay or base, trial.lay)
        running = sorted((t for t in running if t.lay is not None), key=_length)
        keep = -(-len(running) // 2) if number < ROUNDS - 1 else len(running)
        running, out = running[:keep], running[keep:] + out
    found = [_measured(t.offer, t.lay, base) for t in (*running, *out) if t.lay is not None]
    found.sort(key=lambda r: r.length if r.saves is None else -r.saves)
    helps = tuple(r for r in found if r.saves is None or r.saves >= WORTH_MM)
    rest = tuple(r for r in found if r not in helps)
    return Remedies(base.length if base else None, laying.room, why, helps, rest)


@dataclass(slots=True)
class _Trial:
    """An offer and its best lay so far."""

    offer: _Offer
    lay: Lay | None = None


def _length(trial: _Trial) -> float:
    return math.inf if trial.lay is None else trial.lay.length


def _measured(offer: _Offer, lay: Lay, base: Lay | None) -> Remedy:
    return Remedy(
        offer.what,
        offer.work,
        offer.question,
        None if base is None else base.length - lay.length,
        lay.length,
        lay.fits,
        offer.design.replayed.recipe,
        offer.cloth,
        offer.asked,
    )


def _better(
    laying: Laying, design: Proven, seconds: float, start: Lay | None, best: Lay | None
) -> tuple[Lay | None, str]:
    """The shorter of the best so far and a lay that begins from `start`; if there is neither, why."""
    made, why = _tried(laying, design, seconds, start)
    if made is None or (best is not None and best.length <= made.length):
        return best, why if best is None else ""
    return made, ""


def _tried(laying: Laying, design: Proven, seconds: float, start: Lay | None) -> tuple[Lay | None, str]:
    """The lay, or why there is none."""
    try:
        return laying.lay(design, seconds, start, False), ""
    except Problem as problem:
        return None, str(problem)


def _offers(recipe: Recipe, body: Body, proven: Proven, cloth: Cloth, asked: Asked) -> Iterator[_Offer]:
    for what, work, question, other, wishes in _wishes(proven.finished, cloth, asked):
        yield _Offer(what, work, question, proven, other, wishes)
    for change in recipe_changes(recipe, body, proven):
        yield _Offer(change.what, change.work, "", change.design, cloth, asked)


_Wish = tuple[str, str, str, Cloth, Asked]


def _wishes(pieces: Finished, cloth: Cloth, asked: Asked) -> Iterator[_Wish]:
    """What may be laid otherwise, the design as it is."""
    if cloth.nap == "one-way":
        question = "Hold it up by either end: do shine, pile and print look alike? Only then may you."
        what = "Let pieces lie either way up"
        yield what, "nothing more to sew", question, replace(cloth, nap="two-way"), asked
    if asked.tolerance < OFF_GRAIN:
        degrees = math.degrees(OFF_GRAIN)
        what = f"Let pieces lie up to {degrees:.0f} degrees off their grain"
        question = "Is the cloth woven true, and may a long piece hang a little askew?"
        yield what, "nothing more to sew", question, cloth, replace(asked, tolerance=OFF_GRAIN)
    if cloth.nap == "none":
        yield from _across(pieces, cloth, asked)
    yield from _ways(pieces, cloth, asked)
    if (cloth.stripe_along or cloth.stripe_across) and asked.match != ():
        what = "Leave the pattern unmatched at the seams"
        question = "Does it bear being broken at the seams?"
        yield what, "nothing more to sew", question, cloth, replace(asked, match=())


def _across(pieces: Finished, cloth: Cloth, asked: Asked) -> Iterator[_Wish]:
    """Facings, and each of the largest pieces, on the cross grain."""
    straight = [p for p in pieces.pieces if p.grain.words != "bias" and p.key not in asked.cross]
    faces = tuple(p.key for p in straight if p.key.endswith(" facing"))
    if faces:
        cross = replace(asked, cross=(*asked.cross, *faces))
        yield "Cut the facings on the cross grain", "nothing more to sew", "", cloth, cross
    main = [p for p in straight if p.key not in faces]
    for piece in sorted(main, key=lambda p: -abs(path.area(p.cutting)))[:_LARGEST]:
        what = f"Cut the {piece.key} on the cross grain"
        question = "It hangs stiffer and its print lies on its side: try how the cloth falls."
        cross = replace(asked, cross=(*asked.cross, piece.key))
        yield what, "nothing more to sew", question, cloth, cross


def _ways(pieces: Finished, cloth: Cloth, asked: Asked) -> Iterator[_Wish]:
    """The other ways in which the cloth may lie; folded ones only where something is cut double."""
    double = any(p.cut != "single" for p in pieces.pieces)
    for way, work in _WAYS.items():
        if way != asked.way and (way == "open" or double):
            yield f"Lay the cloth {way}", work, "", cloth, replace(asked, way=way, held=())
