"""Text with a unit in, millimetres or radians out. The only place where what she types is read.

Inside, every plain name means millimetres. A bare number is refused: 12 what?
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from dataclasses import dataclass
from typing import Literal

from cutonce.errors import BadInput, quoted

Unit = Literal["mm", "cm", "m", "in", "ft", "yd"]

MM_PER_UNIT: dict[Unit, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "yd": 914.4}

LARGEST_MM = 1.0e6
"""A kilometre: nothing in a workroom is longer, so anything above it is a slip (m typed for mm)."""

_SPELLINGS: dict[Unit, str] = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": "in inch inches ins \" ″ ” ''",
    "ft": "ft foot feet ' ′ ’",
    "yd": "yd yds yard yards",
}
_UNIT_OF: dict[str, Unit] = {word: unit for unit, words in _SPELLINGS.items() for word in words.split()}
_ANGLE_UNITS = {
    **dict.fromkeys(("deg", "degree", "degrees", "°"), math.pi / 180),
    **dict.fromkeys(("rad", "radian", "radians"), 1.0),
}

_TIME_UNITS = {
    **dict.fromkeys(("s", "sec", "second", "seconds"), 1.0),
    **dict.fromkeys(("min", "minute", "minutes"), 60.0),
}

_NUMBER = re.compile(
    r"\s*(?:(?P<whole>[0-9]+)\s+)?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)(?![.,0-9])"
    r"|\s*(?P<plain>[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)(?![.,]?[0-9])"
)
_UNIT = re.compile(r"\s*(?P<unit>[^\W\d]+|°|''|[\"'″′”’])(?:\.(?!\d))?")
_SIGN = re.compile(r"\s*([+-]?)\s*")


@dataclass(frozen=True, slots=True)
class Typed:
    """A length as she typed it, beside what it means: `mm` is what is worked with, `text` what is shown back.

    >>> Typed.read("1/2 in")
    Typed(text='1/2 in', mm=12.7)
    """

    text: str
    mm: float

    @classmethod
    def read(cls, text: str, where: str = "") -> Typed:
        """Reads a length text and keeps it; fails as `length` does."""
        return cls(text, length(text, where))


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number found in a text: mm where `is_length`, else plain. `end` is the place after it."""

    value: float
    is_length: bool
    end: int


def length(text: object, where: str = "") -> float:
    """A length text in mm: one number with a unit, or several from the largest unit down.

    Units: mm, cm, m, in, ft, yd, also as words and as " and '. Fractions and a decimal comma are read.
    Raises BadInput: no-unit, unknown-unit, not-a-length, ambiguous-comma, divide-by-zero, too-large.

    >>> length("12 cm"), length("1 ft 2 in"), length("½ in"), length("-3 mm"), length("12,5 cm")
    (120.0, 355.6, 12.7, -3.0, 125.0)
    """
    plain = _text(text, where, "a length needs a unit: write '12 cm' or '4 3/4 in'")
    sign, start = _signed(plain)
    found = scan(plain, start, where)
    if found is None or plain[found.end :].strip():
        if found is not None and not found.is_length and not re.search(r"[^\W\d]", plain):
            raise _no_unit(str(text), where)
        raise BadInput(
            "not-a-length", where, f"{quoted(text)} is not a length", "write '12 cm' or '4 3/4 in'"
        )
    if not found.is_length:
        raise _no_unit(str(text), where)
    return sign * found.value


def angle(text: object, where: str = "") -> float:
    """An angle text in radians, within one full turn either way.

    Raises BadInput: no-unit, unknown-unit, not-an-angle, too-large.

    >>> round(angle("15 deg"), 6), round(angle("15°"), 6), angle("0.2 rad")
    (0.261799, 0.261799, 0.2)
    """
    plain = _text(text, where, "an angle needs a unit: write '15 deg'")
    sign, start = _signed(plain)
    number = _NUMBER.match(plain, start)
    unit = _UNIT.match(plain, number.end()) if number else None
    rest = plain[unit.end() :] if unit else plain[number.end() :] if number else plain
    if number is None or rest.strip():
        raise BadInput(
            "not-an-angle", where, f"{quoted(text)} is not an angle", "write '15 deg' or '0.2 rad'"
        )
    if unit is None:
        raise BadInput(
            "no-unit", where, f"{quoted(text)} has no unit", f"write {quoted(f'{text} deg')} if degrees"
        )
    factor = _ANGLE_UNITS.get(unit["unit"].lower())
    if factor is None:
        raise BadInput("unknown-unit", where, f"unknown unit '{unit['unit']}' in {quoted(text)}", "deg, rad")
    value = sign * _value(number, where) * factor
    if abs(value) > math.tau * (1 + 1e-12):
        raise BadInput("too-large", where, f"{quoted(text)} is more than a full turn", "check the unit")
    return value


def share(value: object, where: str = "") -> float:
    """A part of a whole, 0 to 1: a number, a text such as "1/3", or per cent.

    Raises BadInput: not-a-share, out-of-range.

    >>> share(0.4), share("40 %"), share("1/4")
    (0.4, 0.4, 0.25)
    """
    hint = "write a number from 0 to 1, '1/3' or '40 %'"
    if isinstance(value, str):
        plain = plain_spelling(value)
        sign, start = _signed(plain)
        number = _NUMBER.match(plain, start)
        rest = plain[number.end() :].strip() if number else plain
        if number is None or rest not in ("", "%"):
            raise BadInput("not-a-share", where, f"{quoted(value)} is not a share", hint)
        result = sign * _value(number, where) / (100 if rest else 1)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        result = float(value)
    else:
        raise BadInput("not-a-share", where, f"{quoted(value)} is not a share", hint)
    if not 0 <= result <= 1:
        raise BadInput("out-of-range", where, f"{quoted(value)} is not between 0 and 1", hint)
    return result


def seconds(text: object, where: str = "") -> float:
    """A time in seconds, above nothing and up to an hour. Raises BadInput: not-a-time, out-of-range.

    >>> seconds("10s"), seconds("1.5 min")
    (10.0, 90.0)
    """
    plain = plain_spelling(text).strip() if isinstance(text, str) else ""
    number = _NUMBER.match(plain)
    factor = _TIME_UNITS.get(plain[number.end() :].strip().lower()) if number else None
    if number is None or factor is None:
        raise BadInput("not-a-time", where, f"{quoted(text)} is not a time", "write '10s' or '1 min'")
    found = _value(number, where) * factor
    if not 0 < found <= 3600:
        raise BadInput(
            "out-of-range", where, f"{quoted(text)} is not within an hour", "write '10s' or '1 min'"
        )
    return found


def show(mm: float, unit: Unit = "cm") -> str:
    """A length to be read by people: to 0.1 mm, inches to the nearest sixteenth. Never read back.

    >>> show(120.65), show(120.65, "in"), show(-3.0, "mm"), show(12.7, "in")
    ('12.07 cm', '4 3/4 in', '-3 mm', '1/2 in')
    """
    if unit == "in":
        return f"{_sixteenths(mm / 25.4)} in"
    decimals = {"mm": 1, "cm": 2, "m": 4, "ft": 4, "yd": 4}[unit]
    number = f"{mm / MM_PER_UNIT[unit]:.{decimals}f}".rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number} {unit}"


def scan(text: str, start: int, where: str = "") -> Quantity | None:
    """The unsigned number at `start`, with its unit or units where there are any; None where there is none.

    A fraction is one number only when a whole number or a unit stands beside it: "hip / 1/4" stays two
    divisions. Shared by `length` and the expressions.
    """
    total, last, at, units = 0.0, math.inf, start, 0
    while number := _NUMBER.match(text, at):
        unit = _UNIT.match(text, number.end())
        if unit is None and units:
            raise _no_unit(number[0], where)
        if unit is None:
            return _bare(number, where)
        factor = MM_PER_UNIT[_unit(unit["unit"], text, where)]
        if factor >= last:
            raise BadInput("not-a-length", where, f"in {quoted(text)} units do not run from large to small")
        total, last, at, units = total + _value(number, where) * factor, factor, unit.end(), units + 1
    if not units:
        return None
    if total > LARGEST_MM:
        raise BadInput("too-large", where, f"{quoted(text)} is more than a kilometre", "check the unit")
    return Quantity(total, True, at)


def plain_spelling(text: str) -> str:
    """The same text with ½ as 1/2, every minus as - and every slash as /, so that one grammar serves.

    >>> plain_spelling("4½in"), plain_spelling("−3 cm")
    ('4 1/2 in', '-3 cm')
    """
    text = text.replace("−", "-").replace("⁄", "/")
    if text.isascii():
        return text
    return "".join(_vulgar(char) for char in text)


def _bare(number: re.Match[str], where: str) -> Quantity:
    if number["top"] and not number["whole"]:
        return Quantity(float(number["top"]), False, number.end("top"))
    value = _value(number, where)
    if not math.isfinite(value):
        raise BadInput("too-large", where, f"{quoted(number[0])} is too large a number")
    return Quantity(value, False, number.end())


def _value(number: re.Match[str], where: str) -> float:
    if number["top"]:
        if float(number["bottom"]) == 0:
            raise BadInput("divide-by-zero", where, f"{quoted(number[0])} divides by zero")
        fraction = float(number["top"]) / float(number["bottom"])
        return float(number["whole"] or 0) + (fraction if math.isfinite(fraction) else math.inf)
    whole, comma, decimals = number["plain"].partition(",")
    if comma and len(decimals) == 3 and whole.strip("0"):
        raise BadInput(
            "ambiguous-comma",
            where,
            f"'{number['plain']}' may mean {whole}.{decimals} or {whole}{decimals}",
            "use a decimal point, and no comma for thousands",
        )
    return float(number["plain"].replace(",", "."))


def _unit(word: str, text: str, where: str) -> Unit:
    unit = _UNIT_OF.get(word) or _UNIT_OF.get(word.lower())
    if unit is not None:
        return unit
    close = difflib.get_close_matches(word.lower(), _UNIT_OF, 1)
    guess = f"; did you mean '{close[0]}'?" if close else ""
    known = ", ".join(MM_PER_UNIT)
    raise BadInput("unknown-unit", where, f"unknown unit {quoted(word)} in {quoted(text)}{guess}", known)


def _text(value: object, where: str, hint: str) -> str:
    if not isinstance(value, str):
        raise BadInput("no-unit", where, f"{quoted(value)} has no unit", hint)
    return plain_spelling(value)


def _vulgar(char: str) -> str:
    spelled = unicodedata.normalize("NFKC", char)
    return f" {spelled.replace('⁄', '/')} " if "⁄" in spelled and len(spelled) > 2 else char


def _signed(text: str) -> tuple[float, int]:
    match = _SIGN.match(text)
    if match is None:
        return 1.0, 0
    return (-1.0 if match[1] == "-" else 1.0), match.end()


def _no_unit(text: str, where: str) -> BadInput:
    number = text.strip()
    return BadInput("no-unit", where, f"{quoted(number)} has no unit", f"write {quoted(number + ' cm')}")


def _sixteenths(inches: float) -> str:
    sixteenths = round(abs(inches) * 16)
    whole, part = divmod(sixteenths, 16)
    common = math.gcd(part, 16)
    fraction = f"{part // common}/{16 // common}" if part else ""
    number = " ".join(word for word in (str(whole) if whole or not part else "", fraction) if word)
    return f"-{number}" if inches < 0 and sixteenths else number
