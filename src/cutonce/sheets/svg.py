"""Writes a whole sheet as SVG in mm: one group a piece, curves as curves, text as text."""

from __future__ import annotations

import html
import math
import os
import re
from collections.abc import Iterator
from typing import assert_never

from cutonce.geometry import path as paths
from cutonce.geometry.motion import Point, shifting
from cutonce.geometry.path import Path, svg_data
from cutonce.sheets.drawing import Drawing, Fill, Group, Item, Stroke, Text
from cutonce.sheets.files import write_beside
from cutonce.sheets.pens import LOOKS


def write_svg(drawing: Drawing, path: str | os.PathLike[str]) -> None:
    """Write a sheet as an SVG file, whole or not at all."""
    write_beside(path, svg(drawing).encode())


def svg(drawing: Drawing) -> str:
    """A sheet as an SVG document: user units are mm, y is down, the upper left corner is the origin."""
    width, height = _number(drawing.width), _number(drawing.height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">',
        f"<title>{_plain(drawing.title)}</title>",
    ]
    if drawing.about:
        lines.append(f"<desc>{_plain('; '.join(drawing.about))}</desc>")
    taken: set[str] = set()
    for group in drawing.groups:
        lines.extend(_group(group, drawing.height, taken))
    return "\n".join([*lines, "</svg>", ""])


def _group(group: Group, height: float, taken: set[str]) -> Iterator[str]:
    yield f'<g id="{_id(group.key, taken)}">'
    yield f"<title>{_plain(group.title)}</title>"
    for item in group.items:
        yield _element(item, height)
    yield "</g>"


def _id(key: str, taken: set[str]) -> str:
    """A key as an XML id: letters, digits, '-' and '_', never twice in a document."""
    stem = re.sub(r"[^A-Za-z0-9_-]+", "-", key).strip("-") or "group"
    stem = stem if stem[0].isalpha() else f"g-{stem}"
    name, n = stem, 1
    while name in taken:
        n += 1
        name = f"{stem}-{n}"
    taken.add(name)
    return name


def _element(item: Item, height: float) -> str:
    match item:
        case Stroke():
            look = LOOKS[item.pen]
            dashes = f' stroke-dasharray="{" ".join(map(_number, look.dashes))}"' if look.dashes else ""
            return (
                f'<path class="{item.pen.name.lower()}" fill="none" stroke="{_grey(look.grey)}" '
                f'stroke-width="{_number(look.width)}"{dashes} stroke-linejoin="round" '
                f'd="{_data(item.path, height, item.closed)}"/>'
            )
        case Fill():
            corners = paths.polyline(item.points)
            return f'<path fill="{_grey(item.grey)}" d="{_data(corners, height, True)}"/>'
        case Text():
            return _text(item, height)
        case _:
            assert_never(item)


def _text(item: Text, height: float) -> str:
    at = complex(item.at.real, height - item.at.imag)
    turn = f' transform="rotate({_number(-math.degrees(item.angle))} {_place(at)})"' if item.angle else ""
    anchor = f' text-anchor="{item.anchor}"' if item.anchor != "start" else ""
    weight = ' font-weight="bold"' if item.bold else ""
    return (
        f'<text x="{_number(at.real)}" y="{_number(at.imag)}" font-family="Helvetica, Arial, sans-serif" '
        f'font-size="{_number(item.height_mm)}"{weight}{anchor} fill="{_grey(item.grey)}"{turn}>'
        f"{_plain(item.words)}</text>"
    )


def _data(path: Path, height: float, closed: bool) -> str:
    return svg_data(paths.moved(path, shifting(-1j * height)), closed)


def _plain(words: str) -> str:
    """Text for XML: escaped, and without the control characters that XML forbids."""
    return html.escape("".join(c if c.isprintable() else " " for c in words), quote=False)


def _grey(grey: float) -> str:
    level = round(255 * grey)
    return f"#{level:02x}{level:02x}{level:02x}"


def _number(value: float) -> str:
    return f"{value + 0.0:.9g}"


def _place(p: Point) -> str:
    return f"{_number(p.real)} {_number(p.imag)}"
