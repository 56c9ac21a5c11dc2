"""Amounts that are free within limits: `{ least = "4 cm", most = "25 cm" }` in the place of an amount.

One number, the position, says how far from least (0) to most (1) the free amounts of a design stand. All of
them move together; those with a name (`with = "sleeve"`) are a group of their own with its own position.
Replayed as it stands, a design has every free amount at its least.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from pydantic import BaseModel

from cutonce.errors import BadInput, Finding, quoted
from cutonce.expressions import evaluate, evaluate_number
from cutonce.recipe.recipe import Recipe, StepEntry
from cutonce.units import angle, share, show

Key = tuple[str | int, ...]
"""The way to a value within a step's parameters: names of tables, places in lists from 0."""

Kind = Literal["length", "number", "angle"]

_KEYS = ("least", "most", "with")
_HINT = 'write for example { least = "4 cm", most = "25 cm" }'
_ANGLE = re.compile(r"(deg|degree|degrees|°|rad|radian|radians)\s*$", re.IGNORECASE)
_INCHES = re.compile(r"[0-9]\s*(in|inch|inches|ins|\"|″|”)\s*$", re.IGNORECASE)

_STEPS: Mapping[Kind, float] = {"length": 1.0, "number": 0.01, "angle": math.radians(0.1)}
"""To what a settled amount is rounded down: a whole millimetre, a hundredth, a tenth of a degree."""

_SIXTEENTH = 25.4 / 16
_NEARLY = 1e-6
"""Share of a rounding step by which a value may miss it and still count as standing on it."""


@dataclass(frozen=True, slots=True)
class FreeAmount:
    """One free amount: the step and the way to it, its limits in mm (radians, plain), its group's name.

    `least_text` and `most_text` are as written; `inches` says that both are.
    """

    step: str
    key: Key
    kind: Kind
    least: float
    most: float
    least_text: str | float
    most_text: str | float
    group: str = ""
    inches: bool = False

    @property
    def words(self) -> str:
        """Which amount: "sets 1, opens, total"."""
        out: list[str] = []
        for part in self.key:
            if isinstance(part, int) and out:
                out[-1] = f"{out[-1]} {part + 1}"
            else:
                out.append(str(part))
        return ", ".join(out)

    def value(self, position: float) -> float:
        """The amount at a position from 0 to 1, rounded down, never below its least."""
        step = _SIXTEENTH if self.inches else _STEPS[self.kind]
        exact = self.least + position * (self.most - self.least)
        return max(self.least, step * math.floor(exact / step + _NEARLY))

    def written(self, position: float) -> str | float:
        """The amount at a position as an ordinary one in a design file."""
        value = self.value(position)
        if value <= self.least:
            return self.least_text
        if self.kind == "number":
            return round(value, 2)
        if self.kind == "angle":
            return f"{math.degrees(value):.1f} deg"
        return show(value, "in" if self.inches else "cm")


def free_amounts(recipe: Recipe, names: Mapping[str, float]) -> tuple[FreeAmount, ...]:
    """Every free amount of the steps that are on, in order; `names` gives each measure in mm.

    Raises BadInput where one has no limits, or limits of two kinds, or the wrong way round.
    """
    steps = enumerate(recipe.steps, start=1)
    return tuple(f for n, s in steps if not s.off for f in _of_step(s, names, f"step {n} '{s.id}'"))


def groups(amounts: Sequence[FreeAmount]) -> tuple[str, ...]:
    """The groups' names in the order in which the design first has them; "" is the one without a name."""
    return tuple(dict.fromkeys(a.group for a in amounts))


def settled(recipe: Recipe, names: Mapping[str, float], positions: float | Mapping[str, float]) -> Recipe:
    """The recipe with every free amount an ordinary one, at its group's position or at one for all.

    A group that `positions` does not name stands at its least. Raises what `free_amounts` raises.
    """
    steps = (_settled(s, names, f"step {n} '{s.id}'", positions) for n, s in enumerate(recipe.steps, start=1))
    return replace(recipe, steps=tuple(steps))


def _settled(
    entry: StepEntry, names: Mapping[str, float], where: str, positions: float | Mapping[str, float]
) -> StepEntry:
    if entry.off:
        return entry
    params = dict(entry.params)
    for free in _of_step(entry, names, where):
        at = positions if isinstance(positions, int | float) else positions.get(free.group, 0.0)
        params = _with(params, free.key, free.written(at))
    return replace(entry, params=params)


def at_least(
    entry: StepEntry, names: Mapping[str, float], where: str
) -> tuple[Mapping[str, Any], tuple[FreeAmount, ...]]:
    """A step's parameters with every free amount at its least as written, and which these are."""
    found = tuple(_of_step(entry, names, where))
    params: Mapping[str, Any] = entry.params
    for free in found:
        params = _with(params, free.key, free.least_text)
    return params, found


def refuse_not_amounts(params: BaseModel, found: Sequence[FreeAmount], where: str) -> None:
    """Raises BadInput "not-free" where a free amount stands in the place of a name, a count or a choice."""
    for free in found:
        if not isinstance(_at(params, free.key), float):
            message = "this cannot be free: only a length, a share, a ratio or an angle can"
            raise BadInput("not-free", f"{where}, {free.words}", message, "write it as it is to be")


def said_at_least(found: Sequence[FreeAmount], where: str, step: str) -> tuple[Finding, ...]:
    """A note for each free amount: that it is drawn at its least."""
    hint = "'cutonce lay' with --fullest finds how much her cloth allows"
    return tuple(
        Finding(
            "note",
            "free-amount",
            where,
            f"{f.words} is free, {f.least_text} to {f.most_text}; drawn at {f.least_text}, the least",
            step,
            hint,
        )
        for f in found
    )


def _of_step(entry: StepEntry, names: Mapping[str, float], where: str) -> Iterator[FreeAmount]:
    for key, table in _tables(entry.params, ()):
        yield _read(FreeAmount(entry.id, key, "length", 0, 0, "", ""), table, names, where)


def _tables(value: object, key: Key) -> Iterator[tuple[Key, Mapping[str, Any]]]:
    """The tables with limits in a step's parameters, in order."""
    if isinstance(value, Mapping):
        if "least" in value or "most" in value:
            yield key, value
            return
        for name, inner in value.items():
            yield from _tables(inner, (*key, str(name)))
    elif isinstance(value, list | tuple):
        for k, inner in enumerate(value):
            yield from _tables(inner, (*key, k))


def _read(bare: FreeAmount, table: Mapping[str, Any], names: Mapping[str, float], where: str) -> FreeAmount:
    at = f"{where}, {bare.words}"
    for name in table:
        if name not in _KEYS:
            raise BadInput(
                "unknown-key", at, f"unknown key {quoted(name)}", f"it may have: {', '.join(_KEYS)}"
            )
    for name in ("least", "most"):
        if name not in table:
            raise BadInput("missing-key", at, f"a free amount has no '{name}'", _HINT)
    group = table.get("with", "")
    if not isinstance(group, str):
        raise BadInput("not-text", f"{at}, with", f"{quoted(group)} is not a name", 'write with = "sleeve"')
    low, high = table["least"], table["most"]
    least, kind = _amount(low, names, f"{at}, least")
    most, other = _amount(high, names, f"{at}, most")
    if kind != other:
        message = f"{quoted(low)} is {_SAID[kind]} and {quoted(high)} {_SAID[other]}"
        raise BadInput("mixed-kinds", at, message, "write both limits alike")
    if most < least:
        raise BadInput("out-of-range", at, f"the most, {quoted(high)}, is less than the least, {quoted(low)}")
    inches = all(isinstance(t, str) and _INCHES.search(t) is not None for t in (low, high))
    return replace(
        bare, kind=kind, least=least, most=most, least_text=low, most_text=high, group=group, inches=inches
    )


_SAID: Mapping[Kind, str] = {"length": "a length", "number": "a plain number", "angle": "an angle"}


def _amount(value: object, names: Mapping[str, float], where: str) -> tuple[float, Kind]:
    if isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value):
        return float(value), "number"
    if not isinstance(value, str):
        raise BadInput("not-an-amount", where, f"{quoted(value)} is not an amount", _HINT)
    if _ANGLE.search(value):
        return angle(value, where), "angle"
    if "%" in value:
        return share(value, where), "number"
    try:
        return evaluate(value, names, where), "length"
    except BadInput as problem:
        if problem.code != "no-unit":
            raise
    return evaluate_number(value, names, where), "number"


def _with(value: Any, key: Key, new: object) -> Any:
    """The same tables and lists with another value at the end of the way."""
    if not key:
        return new
    head, rest = key[0], key[1:]
    if isinstance(value, Mapping):
        return {**value, str(head): _with(value[str(head)], rest, new)}
    return [_with(inner, rest, new) if k == head else inner for k, inner in enumerate(value)]


def _at(value: Any, key: Key) -> Any:
    """What stands at the end of the way in a step's parameters as read; None where there is no such place."""
    for part in key:
        if isinstance(value, BaseModel):
            fields = {f.alias or name: name for name, f in type(value).model_fields.items()}
            value = getattr(value, fields.get(str(part), str(part)), None)
        elif isinstance(value, Mapping):
            value = value.get(part)
        elif isinstance(value, tuple) and isinstance(part, int):
            value = value[part]
        else:
            return None
    return value
