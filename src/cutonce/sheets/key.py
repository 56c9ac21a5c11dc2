"""The words that go with a sheet: how to print and join it, what each line means, and the cautions."""

from __future__ import annotations

import math
from collections.abc import Iterable

from cutonce.geometry.motion import Point
from cutonce.sheets import fonts
from cutonce.sheets.drawing import Group, Item, Text, circle, double_arrow, line, polygon
from cutonce.sheets.pens import Pen

CAUTIONS = (
    "Shears and rotary cutters are sharp, irons burn, weights fall: keep fingers, children and pets clear, "
    "cut away from yourself, switch the iron off. Follow each maker's instructions and your local rules."
)

_SHOWN = (Pen.CUT, Pen.SEW, Pen.FOLD, Pen.DART, Pen.STITCH, Pen.GRAIN, Pen.NOTCH, Pen.DRILL, Pen.LANDMARK)
_ROW_MM = 6.2


def print_steps(tiled: bool, checks: tuple[float, float] = (0.0, 0.0), scale: float = 1.0) -> tuple[str, ...]:
    """The instructions in order, for pages to be joined or for a sheet in one.

    `checks` are the full-size lengths of the check lines across and down, where they are known.
    """
    steps = [
        "Print at 100 % (“actual size”), on one side. Never “fit to page”: that changes the size.",
        "Measure the 100 mm marks on the first page that comes out, across and upright. If one is more than "
        "a quarter of a millimetre out, the scale is wrong: do not go on.",
    ]
    if tiled:
        steps += [
            "Cut each page along its left and top line, where the line is drawn. Leave the other edges.",
            "Lay each cut edge on the line of the page beside it, so that the diamonds meet, and stick it "
            "down. Join each row first, from the left; then the rows, from the top.",
        ]
    return (
        *steps,
        f"Measure the check lines along the top and the left of the whole sheet{_lengths(checks, scale)}.",
    )


def _lengths(checks: tuple[float, float], scale: float) -> str:
    across, down = (f"{scale * length:.0f} mm" for length in checks)
    if not all(checks):
        return ": their lengths stand beside them. Within 2 mm in a metre is good"
    said = f"{across} each" if across == down else f"{across} across and {down} down"
    return f": {said}. Within 2 mm is good; if not, look for the join that slipped"


def paragraph(words: str, at: Point, room: float, size: float, lead: float = 1.35) -> tuple[Text, ...]:
    """Words set in lines no wider than `room`; `at` is the upper left corner."""
    rows = fonts.wrapped(words, room, size)
    return tuple(
        Text(at - 1j * (fonts.ASCENT * size + i * lead * size), row, size) for i, row in enumerate(rows)
    )


def depth(texts: Iterable[Text], lead: float = 1.35) -> float:
    """How far down a paragraph reaches, one line each."""
    return sum(t.height_mm * lead for t in texts)


def line_key(at: Point, room: float) -> tuple[Item, ...]:
    """A sample of each line with its meaning, in columns `KEY_COLUMN_MM` wide as far as there is room.

    `at` is the upper left corner. See `key_depth` for how far down it reaches.
    """
    rows = _key_rows(room)
    items: list[Item] = []
    for i, pen in enumerate(_SHOWN):
        column, row = divmod(i, rows)
        middle = at + column * KEY_COLUMN_MM - 1j * (row + 0.5) * _ROW_MM
        items += _sample(pen, middle)
        items.append(Text(middle + _SAMPLE_MM + 2.5 - 1.05j, _MEANING[pen], 3.0))
    return tuple(items)


def key_depth(room: float) -> float:
    return _key_rows(room) * _ROW_MM


def _key_rows(room: float) -> int:
    return math.ceil(len(_SHOWN) / max(1, int(room / KEY_COLUMN_MM)))


KEY_COLUMN_MM = 61.0
_SAMPLE_MM = 20.0

_MEANING = {
    Pen.CUT: "cut here",
    Pen.SEW: "sew here",
    Pen.FOLD: "fold",
    Pen.DART: "dart, sew legs together",
    Pen.STITCH: "other stitching, casing",
    Pen.GRAIN: "grain, along the selvedge",
    Pen.NOTCH: "notch, meets its like",
    Pen.DRILL: "mark through, do not cut",
    Pen.LANDMARK: "bust, waist, hip, centre",
}


def _sample(pen: Pen, middle: Point) -> tuple[Item, ...]:
    """A pen as it looks on a sheet; marks stand on a piece of the line they are used on."""
    whole = line(middle, middle + _SAMPLE_MM, pen)
    match pen:
        case Pen.GRAIN:
            return double_arrow(middle, middle + _SAMPLE_MM, pen)
        case Pen.NOTCH:
            base = middle - 2j
            return line(base, base + _SAMPLE_MM, Pen.CUT), line(
                base + _SAMPLE_MM / 2, base + _SAMPLE_MM / 2 + 4j, pen
            )
        case Pen.DRILL:
            return drill_mark(middle + _SAMPLE_MM / 2)
        case _:
            return (whole,)


def drill_mark(spot: Point) -> tuple[Item, ...]:
    """A cross in a ring, to be marked through the paper: dart points, pocket corners."""
    return (
        circle(spot, 1.5, Pen.DRILL),
        line(spot - 2.5, spot + 2.5, Pen.DRILL),
        line(spot - 2.5j, spot + 2.5j, Pen.DRILL),
    )


def title_block(title: str, about: tuple[str, ...]) -> Group:
    """Title, instructions, line key and cautions in a frame, to lie among the pieces of a plotted sheet."""
    room, y = 3 * KEY_COLUMN_MM, -6.0
    items: list[Item] = []

    def put(words: str, size: float, gap: float) -> None:
        nonlocal y
        rows = paragraph(words, complex(6, y), room, size)
        items.extend(rows)
        y -= depth(rows) + gap

    put(title, 7.0, 1.0)
    for words in about:
        put(words, 3.6, 0.0)
    y -= 2.0
    for n, step in enumerate(print_steps(tiled=False), start=1):
        put(f"{n}.  {step}", 3.4, 0.8)
    y -= 2.0
    items += line_key(complex(6, y), room)
    y -= key_depth(room) + 3.0
    put(CAUTIONS, 2.6, 2.0)
    corners = (0j, complex(room + 12, 0), complex(room + 12, y), complex(0, y))
    items.append(polygon(corners, Pen.LEADER))
    return Group("key", "About this sheet", tuple(items))
