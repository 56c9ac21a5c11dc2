"""The three ways in which something can be wrong, in one shape.

`BadInput`: what was given cannot be read. `CannotApply`: well formed, impossible here.
`Finding`: data about a finished draft, never raised. Anything else that is raised is a bug and propagates.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Severity = Literal["note", "warning", "stop"]


class Problem(Exception):
    """What went wrong: `message` names the thing, then the choices; `where` the file, step or piece.

    `code` is a short stable word for programs ("no-unit"); `hint` says what to do next.
    """

    def __init__(self, code: str, where: str, message: str, hint: str = "") -> None:
        super().__init__(code, where, message, hint)
        self.code = code
        self.where = where
        self.message = message
        self.hint = hint

    def __str__(self) -> str:
        """One clear line: where, what, what to do; line ends and the like in names become spaces.

        >>> str(BadInput("no-unit", "body.toml, bust_girth", "'92' has no unit", "write '92 cm'"))
        "body.toml, bust_girth: '92' has no unit (write '92 cm')"
        >>> str(BadInput("unknown-piece", "", "no piece 'front'; there are: fr\\nont, back"))
        "no piece 'front'; there are: fr ont, back"
        """
        line = f"{self.where}: {self.message}" if self.where else self.message
        line = f"{line} ({self.hint})" if self.hint else line
        return "".join(c if c.isprintable() else " " for c in line)


class BadInput(Problem):
    """Cannot be read: a file, a unit, a name, a number."""


class CannotApply(Problem):
    """Well formed, but impossible on this draft or this body."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a check or a step has to say about a draft.

    `step` is the id of the step that caused it. `expected_mm` and `found_mm` are what should be and
    what is, where the finding compares two lengths. `spot` is a place to look at: piece key and point.
    """

    severity: Severity
    code: str
    where: str
    message: str
    step: str = ""
    hint: str = ""
    expected_mm: float | None = None
    found_mm: float | None = None
    spot: tuple[str, complex] | None = None

    def on_half(self, side: str) -> Finding:
        """The same, said of the left or the right half of a body or draft.

        >>> Finding("note", "wide-dart", "front", "...").on_half("left").where
        'left half, front'
        """
        return replace(self, where=f"{side} half, {self.where}")


def quoted(value: object) -> str:
    """What was given, in quotes, on one line and cut short: so that a message stays one clear line.

    >>> quoted("12\\n cm"), quoted("x" * 99)
    ("'12 cm'", "'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...'")
    """
    text = " ".join(str(value).split())
    return f"'{text if len(text) <= 40 else text[:37] + '...'}'"


def closest(name: str, choices: Iterable[str]) -> str:
    """The end of a message about an unknown name: the nearest names that there are, or nothing.

    >>> closest("hip_grth", ["bust_girth", "hip_girth"])
    '; closest: hip_girth'
    """
    near = difflib.get_close_matches(name[:60], list(choices), 3)
    return f"; closest: {', '.join(near)}" if near else ""
