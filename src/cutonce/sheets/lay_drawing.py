"""A whole lay as one drawing to scale: the cloth, the pieces, what is left over, and the words for it all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutonce.geometry.curve import Bounds
from cutonce.geometry.motion import Point
from cutonce.geometry.region import inside
from cutonce.lay.plan import Plan
from cutonce.lay.problem import Ring
from cutonce.sheets import fonts, lay_captions, lay_cloth
from cutonce.sheets.captions import Room
from cutonce.sheets.drawing import Drawing, Group, Item, Text, bounds, line
from cutonce.sheets.largest_box import largest_box
from cutonce.sheets.lay_cloth import Stretch, stretches
from cutonce.sheets.lay_measures import Measured, TapeUnit, ground, measured, remnant_of
from cutonce.sheets.lay_pieces import hatched, match_marks, piece_groups, size_words
from cutonce.sheets.lay_scale import OnPaper
from cutonce.sheets.lay_strips import Strip as Strip
from cutonce.sheets.lay_strips import strip_items
from cutonce.sheets.pens import Pen

LEFT_MM, LOW_MM, RIGHT_MM, TOP_MM = 9.0, 8.0, 7.0, 9.0
"""Kept round the cloth for rulers and words."""

NAP_MM = 4.0
"""Kept above that where the nap or a pattern has something to say."""

_NOTE_MM = 2.4
_LEAST_LEFT_MM2 = 40.0
"""On paper: smaller areas left over are not hatched."""


@dataclass(frozen=True, slots=True)
class LayDrawing:
    """A lay drawn at a scale. The cloth's place p lies at `on(p)`; `rows` say in figures how pieces lie."""

    drawing: Drawing
    on: OnPaper
    rows: tuple[Measured, ...]


def cloth_width(plan: Plan) -> float:
    """How far the lay reaches across, in mm."""
    return max(ground(plan, i).far.y for i in range(len(plan.sections)))


def drawn_height(plan: Plan, parts: int) -> float:
    """How tall the drawing is on paper, its words included."""
    nap = NAP_MM if lay_cloth.nap_words(plan) else 0.0
    return LOW_MM + cloth_width(plan) / parts + TOP_MM + nap


def drawn_width(plan: Plan, parts: int, strips: Sequence[Strip] = ()) -> float:
    """How wide the drawing is on paper."""
    return LEFT_MM + max(s.stop for s in stretches(plan, parts, _reach(strips))) / parts + RIGHT_MM


def _reach(strips: Sequence[Strip]) -> float:
    return max((p.real for s in strips for p in s.corners), default=0.0)


def lay_drawing(
    plan: Plan, parts: int, unit: TapeUnit = "cm", strips: Sequence[Strip] = (), title: str = ""
) -> LayDrawing:
    """A lay drawn at one part in `parts`, in mm of paper, y up."""
    on = OnPaper(parts, complex(LEFT_MM, LOW_MM))
    width = drawn_width(plan, parts, strips)
    height = drawn_height(plan, parts)
    shown = stretches(plan, parts, _reach(strips))
    rows = measured(plan)
    under = [i for s in shown for i in lay_cloth.under_pieces(plan, s, on)]
    cloth = [i for s in shown for i in lay_cloth.edges(plan, s, on)]
    words = [*_cloth_words(plan, shown, on, unit), *_nap(plan, on)]
    room = _room(width, height)
    room.take([*cloth, *words])
    flaws = [(i, w) for s in shown for i, w in lay_cloth.flaws(plan, s, on)]
    room.take([i for i, _ in flaws])
    pieces = piece_groups(rows, on, unit, room, _cloth_room(plan, shown, on, room))
    marks = [i for m in plan.matched if m.matched for i in match_marks(m.spots, on)]
    groups = (
        Group("cloth-pattern", "Stripes and selvedges", tuple(under)),
        Group("left-over", "What is left over", tuple(_left(plan, shown, strips, on, unit, room))),
        Group("cloth", "Cloth", tuple(cloth)),
        *pieces,
        Group("flaws", "Flaws", tuple(_noted(flaws, room))),
        Group("matched", "Places matched", tuple(marks)),
        Group("words", "Edges and lengths", tuple(words)),
    )
    filled = tuple(g for g in groups if g.items)
    return LayDrawing(Drawing(filled, width, height, title), on, rows)


def _room(width: float, height: float) -> Room:
    from shapely import box

    return Room(box(0, 0, width, height))


def _cloth_room(plan: Plan, shown: Sequence[Stretch], on: OnPaper, room: Room) -> Room:
    """The room on the cloth itself, filled together with that of the whole drawing."""
    from shapely import Polygon, union_all

    rings = (remnant_of(plan, s.section) or s.corners for s in shown)
    areas = [Polygon([(q.real, q.imag) for q in map(on, ring)]).buffer(0.01) for ring in rings]
    return Room(union_all(areas), room.taken)


def _cloth_words(plan: Plan, shown: Sequence[Stretch], on: OnPaper, unit: TapeUnit) -> Iterator[Item]:
    named = [i for stretch in shown for i in lay_captions.captions(plan, stretch, on, unit)]
    yield from named
    taken = [i for i in named if isinstance(i, Text)]
    for stretch in shown:
        yield from lay_captions.ends(plan, stretch, on, unit, taken)


def _nap(plan: Plan, on: OnPaper) -> Iterator[Item]:
    """Arrow and words about nap and stripes, above the cloth."""
    words = lay_cloth.nap_words(plan)
    at = on(1j * cloth_width(plan)) + 9.2j
    arrow, width = lay_cloth.nap_arrow(plan, on, at + 1j)
    yield from arrow
    if words:
        yield Text(at + width, words[:1].upper() + words[1:], _NOTE_MM)


def _left(
    plan: Plan, shown: Sequence[Stretch], strips: Sequence[Strip], on: OnPaper, unit: TapeUnit, room: Room
) -> Iterator[Item]:
    """What is left over, hatched, with the size of the largest rectangle in it; the strips placed on it."""
    yield from strip_items(strips, on, room)
    cloth = [s.corners for s in shown]
    cut = [s.corners for s in strips]
    for ring in plan.left:
        box = largest_box(ring)
        if box is None or on.size(box[2] - box[0]) * on.size(box[3] - box[1]) < _LEAST_LEFT_MM2:
            continue
        size = size_words((box[2] - box[0], box[3] - box[1]), unit)
        words = () if _holds_strip(ring, strips) else ("left over", size)
        for part in _drawn(ring, cloth, cut):
            yield from hatched(part, words, on, room)
            words = ()


def _drawn(ring: Ring, cloth: Sequence[Ring], cut: Sequence[Ring]) -> Iterator[Ring]:
    """What of an area lies on the cloth that is drawn (a long rest is broken off) and is not cut into strips,
    the largest part first."""
    from shapely import Polygon, union_all

    area, *drawn = (Polygon([(p.real, p.imag) for p in r]) for r in (ring, *cloth))
    strips = union_all([Polygon([(p.real, p.imag) for p in r]).buffer(0) for r in cut])
    met = area.buffer(0).intersection(union_all(drawn)).difference(strips)
    parts = [p for p in getattr(met, "geoms", [met]) if p.geom_type == "Polygon" and not p.is_empty]
    for part in sorted(parts, key=lambda p: -p.area):
        yield tuple(complex(x, y) for x, y in part.exterior.coords[:-1])


def _holds_strip(ring: Ring, strips: Sequence[Strip]) -> bool:
    return any(inside(ring, sum(s.corners) / len(s.corners)) for s in strips)


def _noted(flaws: Sequence[tuple[Item, str]], room: Room) -> Iterator[Item]:
    """Each flaw with its note beside it, where there is room."""
    for item, words in flaws:
        yield item
        box: Bounds = bounds([item])
        text = _beside(box, words, room)
        if text is not None:
            room.take((text,))
            yield text
        middle = complex((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        yield from (line(middle - u, middle + u, Pen.LEADER) for u in (0.8, 0.8j))


def _beside(box: Bounds, words: str, room: Room) -> Text | None:
    left, low, right, high = box
    middle, lift = (low + high) / 2, 0.35 * _NOTE_MM
    wide = fonts.width(words, _NOTE_MM)
    places: tuple[Point, ...] = (
        complex(right + 0.8, middle - lift),
        complex(left - 0.8 - wide, middle - lift),
        complex((left + right - wide) / 2, high + 1.0),
        complex((left + right - wide) / 2, low - 1.0 - fonts.ASCENT * _NOTE_MM),
        complex(right + 0.5, high),
        complex(left - 0.5 - wide, high),
    )
    return next((t for t in (Text(p, words, _NOTE_MM) for p in places) if room.holds(t)), None)
