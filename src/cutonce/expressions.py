"""Lengths worked out from a body's measures: "hip_girth / 4 + 1 cm".

Grammar: sum, product, sign, bracket, number, length, measure name, min(), max(), abs(). Every value is a
plain number or a length, and what makes neither (a length times a length) is refused.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from cutonce.errors import BadInput, closest, quoted
from cutonce.units import LARGEST_MM, plain_spelling, scan

LONGEST_TEXT = 500
DEEPEST_BRACKET = 30

FUNCTIONS = ("min", "max", "abs")

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*(?:\.(?:left|right))?")


@dataclass(frozen=True, slots=True)
class _Value:
    number: float
    is_length: bool

    @property
    def kind(self) -> str:
        return "a length" if self.is_length else "a plain number"


def evaluate(text: str, names: Mapping[str, float], where: str = "") -> float:
    """The length in mm that `text` comes to, with `names` giving each measure in mm.

    Raises BadInput: no-unit (a plain number came out), unknown-measure, mixed-kinds, not-a-length-power,
    divide-by-zero, not-an-expression, too-large, and whatever `units.length` raises.

    >>> evaluate("hip_girth / 4 + 1 cm", {"hip_girth": 960.0})
    250.0
    >>> evaluate("max(3 cm, (hip_girth - waist_girth) / 20)", {"hip_girth": 960.0, "waist_girth": 700.0})
    30.0
    """
    value = _Reader(text, names, where).read()
    if not value.is_length:
        such_as = f"{text.strip()} cm" if _is_number(text) else "2 cm"
        raise BadInput(
            "no-unit", where, f"{quoted(text)} gives a plain number, not a length", f"add a unit: '{such_as}'"
        )
    if abs(value.number) > LARGEST_MM:
        raise BadInput("too-large", where, f"{quoted(text)} is more than a kilometre", "check the units")
    return value.number


def evaluate_number(text: str, names: Mapping[str, float], where: str = "") -> float:
    """The plain number that `text` comes to; a length is refused. Otherwise as `evaluate`.

    >>> evaluate_number("bust_girth / waist_girth", {"bust_girth": 900.0, "waist_girth": 720.0})
    1.25
    """
    value = _Reader(text, names, where).read()
    if value.is_length:
        raise BadInput(
            "not-a-number", where, f"{quoted(text)} gives a length, not a plain number", "leave out the unit"
        )
    return value.number


def _is_number(text: str) -> bool:
    """Is it a number alone, to which a unit can be added?"""
    return all(char.isdigit() or char in " .,/" for char in text)


class _Reader:
    """Walks one text from left to right; each method reads one rule of the grammar."""

    __slots__ = ("at", "calls", "depth", "names", "short", "text", "where")

    def __init__(self, text: str, names: Mapping[str, float], where: str) -> None:
        self.text = " ".join(plain_spelling(text).split()).replace("×", "*").replace("÷", "/")
        self.short = quoted(text)
        self.names = names
        self.where = where
        self.at = 0
        self.depth = 0
        self.calls = 0

    def read(self) -> _Value:
        if len(self.text) > LONGEST_TEXT:
            raise self.bad(f"an expression of {len(self.text)} characters is too long")
        value = self.sum()
        if self.peek():
            raise self.bad(f"{self.short} cannot be read from '{self.text[self.at :][:12]}' on")
        return value

    def sum(self) -> _Value:
        value = self.product()
        while (sign := self.peek()) in ("+", "-"):
            self.at += 1
            other = self.product()
            if value.is_length != other.is_length:
                raise BadInput(
                    "mixed-kinds",
                    self.where,
                    f"in {self.short}, {value.kind} and {other.kind} cannot be added",
                    "give the number a unit: '1 cm'",
                )
            total = value.number + (other.number if sign == "+" else -other.number)
            value = self.finite(total, value.is_length)
        return value

    def product(self) -> _Value:
        value = self.factor()
        while (sign := self.peek()) in ("*", "/"):
            self.at += 1
            other = self.factor()
            value = self.times(value, other) if sign == "*" else self.divided(value, other)
        return value

    def times(self, one: _Value, other: _Value) -> _Value:
        if one.is_length and other.is_length:
            raise self.bad(f"in {self.short}, a length times a length is not a length", "not-a-length-power")
        return self.finite(one.number * other.number, one.is_length or other.is_length)

    def divided(self, one: _Value, other: _Value) -> _Value:
        if other.number == 0:
            raise self.bad(f"{self.short} divides by zero", "divide-by-zero")
        if other.is_length and not one.is_length:
            raise self.bad(f"in {self.short}, a number over a length is not a length", "not-a-length-power")
        return self.finite(one.number / other.number, one.is_length and not other.is_length)

    def factor(self) -> _Value:
        sign = 1.0
        while (mark := self.peek()) in ("+", "-"):
            self.at += 1
            sign = -sign if mark == "-" else sign
        value = self.atom()
        return _Value(sign * value.number, value.is_length)

    def atom(self) -> _Value:
        if self.peek() == "(":
            values = self.bracket()
            if len(values) > 1:
                raise self.bad(f"in {self.short}, a comma parts values only within {', '.join(FUNCTIONS)}")
            return values[0]
        if name := _NAME.match(self.text, self.at):
            self.at = name.end()
            if name[0].lower() in FUNCTIONS and self.peek() == "(":
                return self.call(name[0].lower())
            return self.measure(name[0])
        found = scan(self.text, self.at, self.where)
        if found is None:
            rest = self.text[self.at :][:12]
            raise self.bad(f"{self.short} {f'has no value at {rest!r}' if rest else 'ends too early'}")
        if self.calls and "," in self.text[self.at : found.end]:
            raise self.bad(
                f"the comma in '{self.text[self.at : found.end]}' may be a decimal or part two values",
                "ambiguous-comma",
                "write '2.5 cm', and a space after a comma between values",
            )
        self.at = found.end
        return _Value(found.value, found.is_length)

    def measure(self, name: str) -> _Value:
        try:
            return _Value(self.names[name], True)
        except KeyError:
            raise unknown_measure(name, self.names, self.where) from None

    def call(self, name: str) -> _Value:
        self.calls += 1
        values = self.bracket()
        self.calls -= 1
        if name == "abs" and len(values) != 1:
            raise self.bad(f"abs() takes one value, {self.short} gives it {len(values)}")
        if len({value.is_length for value in values}) > 1:
            raise BadInput(
                "mixed-kinds",
                self.where,
                f"in {self.short}, {name}() mixes lengths and plain numbers",
                "give each number a unit: '1 cm'",
            )
        numbers = [value.number for value in values]
        result = min(numbers) if name == "min" else max(numbers) if name == "max" else abs(numbers[0])
        return _Value(result, values[0].is_length)

    def bracket(self) -> list[_Value]:
        self.depth += 1
        if self.depth > DEEPEST_BRACKET:
            raise self.bad(f"more than {DEEPEST_BRACKET} brackets within one another")
        self.at += 1
        values = [self.sum()]
        while self.peek() == ",":
            self.at += 1
            values.append(self.sum())
        if self.peek() != ")":
            raise self.bad(f"in {self.short}, a bracket is not closed")
        self.at += 1
        self.depth -= 1
        return values

    def peek(self) -> str:
        while self.at < len(self.text) and self.text[self.at].isspace():
            self.at += 1
        return self.text[self.at : self.at + 1]

    def finite(self, number: float, is_length: bool) -> _Value:
        if not math.isfinite(number):
            raise self.bad(f"{self.short} is too large a number", "too-large")
        return _Value(number, is_length)

    def bad(self, message: str, code: str = "not-an-expression", hint: str = "") -> BadInput:
        return BadInput(code, self.where, message, hint or "for example 'hip_girth / 4 + 1 cm'")


def unknown_measure(name: str, known: Mapping[str, float], where: str) -> BadInput:
    """What is said of a name that is no measure: the closest ones and where all are listed."""
    message = f"no measure {quoted(name)}{closest(name, known)}"
    return BadInput("unknown-measure", where, message, "all measures: docs/measures.md")
