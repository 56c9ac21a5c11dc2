"""Good files made bad at random: cut and pasted as text, or with odd values at places in the document."""

from __future__ import annotations

import copy
import json
from collections.abc import Mapping
from datetime import date, datetime, time
from random import Random
from typing import Any, Final

PIECES: Final = (
    "", " ", "\n", "\t", "\0", "\r", "\ufeff", "\x7f", "\u202e", "💃", "é", "½", "”", "'", '"', '"""', "#",
    "=", "==", ",", ";", ".", "-", "{", "}", "[", "]", "[[", "]]", "[[steps]]\n", "[block]\n",
    "[measures]\n", "(", ")", "((((((((", "\\", "\\u0000", "true", "nan", "inf", "-inf", "0", "-1",
    "9" * 400, "1e999", "1979-05-27", "07:32:00", "0x10", "id", "schema", " cm", "mm", " in", "%", "*", "/",
    "+", "left", "x" * 3000,
)  # fmt: skip
"""What is typed where it should not be."""

VALUES: Final[tuple[Any, ...]] = (
    "", " ", "cm", "0 cm", "-1 cm", "0.001 mm", "1 mm", "1 in", "5 cm", "40 cm", "3 m", "70 m", "900 m",
    "1e3 cm", "9" * 400 + " cm", "nan cm", "½ in", "1/0 in", "3 hands", "1,000 cm", "2 in 3 ft", "12",
    "hip_girth", "hip_girth * 2", "hip_girth * hip_girth", "hip_girth / 0", "0 * hip_girth", "min(",
    "(" * 600, "bust_girth.left", "90 deg", "1 deg", "400 deg", "50 %", "1/3", "front", "back",
    "skirt front", "hem", "side", "waist", "hip", "neck", "shoulder", "armhole", "centre front",
    "centre back", "bust dart", "waist dart", "bust point", "left", "right", "up", "below", "block",
    "typed", "x" * 3000, "\u202e", "💃", "a\nb", "\0", "\x7f", "{}", "'", 0, 1, -1, 2, 60, 10**30, -(10**30),
    0.0, 0.5, 1.0, 1e-9, 1e308, -0.5, float("nan"), float("inf"), True, False, [], [[]], ["front"],
    [1, "a"], {}, {"left": "12 cm"}, {"piece": "front"}, {"a": {"b": {"c": [{}]}}},
    {"estimate": "12 cm", "sd": "1 cm"}, date(1979, 5, 27), datetime(1979, 5, 27, 7, 32), time(7, 32),
    {"piece": "front", "edge": "hem", "at": "side"}, {"piece": "front", "point": "bust point"},
    {"piece": "front", "edge": "side", "from": "hem", "share": 0.5},
)  # fmt: skip
"""What stands where something else should."""

_SHARES = (0, 0.001, 0.3, 0.5, 0.999, 1)
_NAMES = (
    "front",
    "back",
    "hem",
    "side",
    "waist",
    "neck",
    "shoulder",
    "armhole",
    "bust",
    "centre front",
    "left",
    "right",
    "bust dart",
    "waist dart",
    "shoulder dart",
    "up",
    "down",
    "square",
    "free",
    "hinged",
    "below",
)


def toml(value: object) -> str:
    """A value on one line of TOML."""
    match value:
        case Mapping():
            return "{ " + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + " }"
        case list() | tuple():
            return f"[{', '.join(map(toml, value))}]"
        case date() | time():
            return value.isoformat()
        case float():
            return repr(value)
        case _:
            return json.dumps(value, ensure_ascii=False)


def document_text(document: Mapping[str, Any]) -> str:
    """A document as TOML, a line for each of its names."""
    return "".join(f"{json.dumps(key)} = {toml(value)}\n" for key, value in document.items())


def mutated_text(pick: Random, text: str) -> str:
    """The text with one to three slices taken out, put in, doubled, moved or replaced."""
    for _ in range(pick.randint(1, 3)):
        if pick.random() < 0.4:
            text = _mutated_lines(pick, text)
            continue
        a = pick.randint(0, len(text))
        b = min(len(text), a + pick.choice((0, 0, 1, 2, 5, 20, 200)))
        at = pick.randint(0, len(text))
        piece = pick.choice((pick.choice(PIECES), text[at : at + 30]))
        text = text[:a] + piece + text[b:]
    return text


def _mutated_lines(pick: Random, text: str) -> str:
    lines = text.splitlines(keepends=True) or [""]
    a, b = pick.randrange(len(lines)), pick.randrange(len(lines))
    match pick.randrange(4):
        case 0:
            del lines[a]
        case 1:
            lines.insert(b, lines[a])
        case 2:
            lines[a], lines[b] = lines[b], lines[a]
        case _:
            lines[a] = lines[a].rstrip("\n") + pick.choice(PIECES) + "\n"
    return "".join(lines)


def mutated_document(pick: Random, document: Mapping[str, Any]) -> dict[str, Any]:
    """The document with one to three of its values replaced, left out, doubled, moved or renamed."""
    new = copy.deepcopy(dict(document))
    for _ in range(pick.randint(1, 3)):
        spots = _spots(new)
        if spots:
            _alter(pick, *pick.choice(spots), spots)
    return new


def varied_document(pick: Random, document: Mapping[str, Any]) -> dict[str, Any]:
    """The document with one to four of its values varied within their kind: most of these can be drafted."""
    new = copy.deepcopy(dict(document))
    fixed = ("schema", "id", "do", "draft", "name")
    spots = [(o, k) for o, k in _spots(new) if k not in fixed and not isinstance(o[k], dict | list)]
    for holder, key in pick.sample(spots, min(len(spots), pick.randint(1, 4))):
        alike = [o[k] for o, k in spots if k == key] if pick.random() < 0.4 else [_near(pick, holder[key])]
        holder[key] = pick.choice(alike)
    return new


def _alter(pick: Random, holder: Any, key: Any, spots: list[tuple[Any, Any]]) -> None:
    """What stands in `holder` at `key` becomes another value."""
    what = pick.randrange(10)
    other, place = pick.choice(spots)
    if what == 0:
        del holder[key]
    elif what == 1:
        if isinstance(holder, list):
            holder.insert(key, copy.deepcopy(holder[key]))
        else:
            holder[str(pick.choice(PIECES)) or "x"] = holder.pop(key)
    elif what in (2, 3, 4):
        value = copy.deepcopy(other[place])
        alike = [o[p] for o, p in spots if type(o[p]) is type(holder[key])]
        holder[key] = copy.deepcopy(pick.choice(alike)) if what > 2 else value
    elif what in (5, 6):
        holder[key] = _near(pick, holder[key])
    else:
        holder[key] = copy.deepcopy(pick.choice(VALUES))


def _near(pick: Random, value: Any) -> Any:
    """A value of the same kind: a length made longer, a share another share, a switch thrown."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return pick.choice(_SHARES)
    if isinstance(value, str):
        number, _, unit = value.rpartition(" ")
        if number.replace(".", "").isdigit():
            return f"{float(number) * pick.choice((0.01, 0.3, 0.8, 1.5, 4, 12)):.4f} {unit}"
        if any(sign in value for sign in "_*/+"):
            return f"{pick.choice((0.1, 0.7, 2))} * ({value})"
        return pick.choice(_NAMES)
    return value


def _spots(value: Any) -> list[tuple[Any, Any]]:
    """Every place in a document: what holds it, and its name or number there."""
    keys: list[Any] = list(value) if isinstance(value, dict) else list(range(len(value)))
    found: list[tuple[Any, Any]] = []
    for key in keys:
        found.append((value, key))
        if isinstance(value[key], dict | list):
            found += _spots(value[key])
    return found
