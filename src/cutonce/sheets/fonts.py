"""Which font prints a text, how wide it is, and what can be printed at all.

Helvetica, which every PDF reader has, prints all that Windows code page 1252 holds (Western European accents
included). A text with any other letter is set in Noto Sans, embedded as a subset (Latin, Greek and Cyrillic).
A character that neither has is shown as `SUBSTITUTE`, and `unprintable` names it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

Face = Literal["Helvetica", "Helvetica-Bold", "Noto Sans"]

SUBSTITUTE = "\N{REPLACEMENT CHARACTER}"
"""Stands visibly for a character that no font here has; Noto Sans draws it as a black diamond with '?'."""

ASCENT, DESCENT = 0.75, 0.25
"""Of a text's height, above and below its base line: room for accents in capitals and for tails."""


def face(words: str, bold: bool = False) -> Face:
    """The font that prints a text.

    >>> face("Zoë, drapé"), face("Zoë", bold=True), face("Łucja")
    ('Helvetica', 'Helvetica-Bold', 'Noto Sans')
    """
    try:
        words.encode("cp1252")
    except UnicodeEncodeError:
        return "Noto Sans"
    return "Helvetica-Bold" if bold else "Helvetica"


@lru_cache(maxsize=4096)
def printable(words: str) -> str:
    """The text as it will be printed: spaces for control characters, `SUBSTITUTE` for what no font has.

    >>> printable("Łucja\\n裁")
    'Łucja �'
    """
    plain = "".join(c if c.isprintable() else " " for c in words)
    if face(plain) != "Noto Sans":
        return plain
    has = _noto_characters()
    return "".join(c if ord(c) in has else SUBSTITUTE for c in plain)


def unprintable(words: str) -> tuple[str, ...]:
    """The characters of a text that no font here has, each once, in order.

    >>> unprintable("裁 Łucja 裁")
    ('裁',)
    """
    if face(words) != "Noto Sans":
        return ()
    has = _noto_characters()
    return tuple(dict.fromkeys(c for c in words if c.isprintable() and ord(c) not in has))


def width(words: str, height: float, bold: bool = False) -> float:
    """Width of a text in mm at a font size in mm.

    >>> round(width("100 mm", 10), 2)
    36.12
    """
    shown = printable(words)
    return set_width(shown, height, face(shown, bold))


@lru_cache(maxsize=4096)
def set_width(words: str, height: float, used: Face) -> float:
    """Width in mm of printable letters in a given font."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    register(used)
    return float(stringWidth(words, used, height))


def wrapped(words: str, room: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than `room`, broken at spaces; a longer word stands alone.

    >>> wrapped("cut along the line", 20, 4)
    ('cut along', 'the line')
    """
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, height, bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def shortened(words: str, room: float, height: float, bold: bool = False) -> str:
    """The text cut to `room` with an ellipsis where it is too long."""
    if width(words, height, bold) <= room:
        return words
    kept = words
    while kept and width(kept + "…", height, bold) > room:
        kept = kept[:-1].rstrip()
    return kept + "…" if kept else ""


@lru_cache(maxsize=1)
def _noto() -> object:
    from fontpkg_noto_sans import ROOT
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont("Noto Sans", str(ROOT / "files" / "NotoSans[wdth,wght].ttf"))
    pdfmetrics.registerFont(font)
    return font


@lru_cache(maxsize=1)
def _noto_characters() -> frozenset[int]:
    return frozenset(_noto().face.charToGlyph)  # type: ignore[attr-defined]


def register(used: Face) -> None:
    """Make a font known to the PDF writer; Helvetica is known already."""
    if used == "Noto Sans":
        _noto()
