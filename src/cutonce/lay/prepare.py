"""From what is cut and one stage of the cloth to the blanks that the search lays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cutonce.cloth.cloth import Cloth
from cutonce.errors import BadInput, CannotApply, closest, quoted
from cutonce.lay.asked import Asked, Held
from cutonce.lay.beds import Stage
from cutonce.lay.by_hand import hold, refuse_clashes
from cutonce.lay.cuts import Cut
from cutonce.lay.matching import Matchable, Pattern, pattern, rules
from cutonce.lay.outline import Outlines, outlines_of, polygons_in
from cutonce.lay.places import Join
from cutonce.lay.problem import Blank, Layout, Problem, Rule, Shape
from cutonce.lay.turns import Turn, shapes, turns
from cutonce.units import show

_HAIR_MM = 0.01
"""A piece wider than the cloth by less than the check of a lay can tell still lies on it."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """One stage ready to be laid: the problem, what its blanks are, and what is already settled of them."""

    stage: Stage
    cuts: Mapping[str, Cut]
    outlines: Mapping[str, Outlines]
    turns: Mapping[str, tuple[Turn, ...]]
    problem: Problem


def prepared(
    chosen: Sequence[Cut],
    cloth: Cloth,
    stage: Stage,
    asked: Asked,
    joins: Sequence[Join],
    settled: Mapping[str, Matchable],
    parts_before: int = 0,
) -> Prepared:
    """The stage as a problem. `settled` are matched pieces that an earlier stage has laid.

    Raises CannotApply for a piece that is wider than the cloth, cloth that is flawed all over, a piece held
    where it may not lie.
    """
    cuts = {c.key: c for c in chosen}
    outlines = {c.key: outlines_of(c.piece.cutting, c.key) for c in chosen}
    ways: dict[str, tuple[Turn, ...]] = {}
    made: dict[str, tuple[Shape, ...]] = {}
    for cut in chosen:
        allowed = turns(cut, cloth, stage.way, asked)
        ways[cut.key], made[cut.key] = shapes(cut, outlines[cut.key], allowed, stage.way)
    _held(asked.held, cuts, outlines, ways, made, stage, parts_before, cloth, asked.spacing)
    _matched(joins, cuts, ways, made, pattern(cloth, stage), settled, stage.bed.width)
    _refuse_wide(cuts, made, stage, cloth)
    _refuse_flawed(outlines, stage, cloth)
    blanks = tuple(Blank(key, cut.source, made[key]) for key, cut in cuts.items())
    return Prepared(stage, cuts, outlines, ways, Problem(stage.bed, blanks, asked.spacing))


def known_keys(asked: Asked, cuts: Sequence[Cut]) -> None:
    """Raises BadInput for a piece that is asked for and not laid, or held twice."""
    keys = [c.key for c in cuts]
    sources = list(dict.fromkeys(c.source for c in cuts))
    for one in asked.held:
        _known(one.key, keys, "held")
        if sum(h.key == one.key for h in asked.held) > 1:
            raise BadInput("held-twice", "held", f"{one.key} is held in two places")
    for key in asked.cross:
        _known(key, sources, "cross")
    for key, _ in asked.tolerances:
        _known(key, sources, "grain tolerance")


def _known(key: str, keys: Sequence[str], where: str) -> None:
    if key not in keys:
        message = f"no piece {quoted(key)} in the lay{closest(key, keys)}"
        raise BadInput("unknown-piece", where, message, f"there are: {', '.join(keys)}")


def _held(
    held: Sequence[Held],
    cuts: Mapping[str, Cut],
    outlines: Mapping[str, Outlines],
    ways: dict[str, tuple[Turn, ...]],
    made: dict[str, tuple[Shape, ...]],
    stage: Stage,
    parts_before: int,
    cloth: Cloth,
    spacing: float,
) -> None:
    """Puts the one fixed shape of each held piece in the place of its shapes."""
    mine = [h for h in held if h.key in cuts]
    in_hand = []
    for one in mine:
        part = min(max(one.section - parts_before, 0), len(stage.parts) - 1)
        hand = hold(one, cuts[one.key], outlines[one.key], ways[one.key], stage, part, cloth)
        ways[one.key], made[one.key] = (hand.turn,), (hand.shape,)
        in_hand.append(hand)
    if in_hand:
        refuse_clashes(in_hand, stage, spacing)


def _matched(
    joins: Sequence[Join],
    cuts: Mapping[str, Cut],
    ways: dict[str, tuple[Turn, ...]],
    made: dict[str, tuple[Shape, ...]],
    stripes: Pattern,
    settled: Mapping[str, Matchable],
    width: float,
) -> None:
    """Matched pieces keep one way up and get their rules."""
    wanted = dict.fromkeys(p.cut for j in joins for p in (j.one, j.two) if p is not None and p.cut in cuts)
    for key in wanted:
        best = min(range(len(ways[key])), key=lambda i: (abs(ways[key][i].angle), ways[key][i].over))
        ways[key], made[key] = (ways[key][best],), (made[key][best],)
    ruled = rules(joins, {**settled, **{k: Matchable(made[k][0], stripes) for k in wanted}})
    for key in wanted:
        made[key] = (_that_fits(ruled[key], width),)


def _that_fits(shape: Shape, width: float) -> Shape:
    """Without its rule across where no place that the rule allows lies on the cloth: it is then told as not
    matched, and laid."""
    rule = shape.across
    if rule is None or rule.every == 0:
        return shape
    room = width - max(p.imag for p in shape.outline)
    return shape if rule.at % rule.every <= room else replace(shape, across=None)


def settled_by(ready: Prepared, layout: Layout, stripes: Pattern) -> dict[str, Matchable]:
    """The pieces of a stage where they were laid, for those of a later stage that are matched to them."""
    out: dict[str, Matchable] = {}
    blanks = {b.key: b for b in ready.problem.blanks}
    for spot in layout.spots:
        shape = blanks[spot.blank].shapes[spot.shape]
        fixed = replace(shape, along=Rule(spot.at.real), across=Rule(spot.at.imag))
        out[spot.blank] = Matchable(fixed, stripes)
    return out


def _refuse_wide(
    cuts: Mapping[str, Cut], made: Mapping[str, tuple[Shape, ...]], stage: Stage, cloth: Cloth
) -> None:
    for key, options in made.items():
        least = min(max(p.imag for p in shape.outline) for shape in options)
        if least > stage.bed.width + _HAIR_MM:
            have = f"{cloth.name} has {show(stage.bed.width, 'mm')}"
            have += " usable" if stage.way != "folded lengthwise" else " usable when folded lengthwise"
            hint = (
                "lay it open"
                if stage.way == "folded lengthwise"
                else "make the piece a panel, or allow other grain"
            )
            message = f"it needs {show(least, 'mm')} of width at least, and {have}"
            raise CannotApply("too-wide", cuts[key].piece.title, message, hint)


def _refuse_flawed(outlines: Mapping[str, Outlines], stage: Stage, cloth: Cloth) -> None:
    """Cloth at hand with no place between its flaws that is as large as the smallest piece."""
    from shapely import Polygon, box, union_all

    if stage.bed.length is None or not stage.bed.avoid or not outlines:
        return
    avoid = union_all([Polygon([(p.real, p.imag) for p in ring]) for ring in stage.bed.avoid])
    free = box(0, 0, stage.bed.length, stage.bed.width).difference(avoid)
    largest = max((p.area for p in polygons_in(free)), default=0.0)
    key = min(outlines, key=lambda k: _area(outlines[k]))
    if largest < _area(outlines[key]):
        what = "flaws" if cloth.flaws else "remnants"
        message = f"its {what} leave no place as large as its smallest piece, {key}"
        raise CannotApply("flawed-all-over", cloth.name, message)


def _area(outlines: Outlines) -> float:
    ring = outlines.fine
    return 0.5 * sum((p.conjugate() * q).imag for p, q in zip(ring, (*ring[1:], ring[0]), strict=True))
