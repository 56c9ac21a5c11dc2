"""What the tables of bad input are made of: good files, and one change to one of them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

SKIRT = """\
schema = 1
name = "Skirt"

[block]
draft = "skirt"
system = "one dart a quarter"
lengths = { length = "waist_to_knee + 2 cm" }
ease = { waist = "1.5 cm", hip = "4 cm" }

[[steps]]
id = "flare"
do = "spread"
piece = "skirt front"
[[steps.sets]]
count = 1
starts = [{ piece = "skirt front", edge = "hem", from = "centre front", share = 0.45 }]
dart = "waist dart"

[[steps]]
id = "zip"
do = "set_opening"
edge = { piece = "skirt back", edge = "centre back" }
kind = "zip"
from = "waist"
length = "20 cm"
"""

SKIRT_BODY = """\
schema = 1
name = "Client"
date = 2026-11-02

[measures]
waist_girth = "76 cm"
hip_girth = "102 cm"
waist_to_hip = "20.5 cm"
waist_to_knee = "58 cm"
"""

DRESS = """\
schema = 1
name = "Dress"

[block]
draft = "dress"
system = "direct"
lengths = { length = "waist_to_floor - 40 cm" }

# steps go here
"""

DRESS_BODY = """\
schema = 1
name = "Client"

[measures]
bust_girth = "91 cm"
waist_girth = "73 cm"
hip_girth = "98.5 cm"
neck_base_girth = "37.5 cm"
shoulder_length = "12.4 cm"
shoulder_drop = "4.6 cm"
back_waist_length = "41.5 cm"
front_waist_length = "44.2 cm"
across_back_width = "35 cm"
across_front_width = "33.2 cm"
scye_depth = "21.6 cm"
upper_arm_girth = "28.5 cm"
waist_to_hip = "21 cm"
waist_to_floor = "107 cm"
bust_span = "18.6 cm"
neck_to_bust_point = "26.8 cm"
"""

TYPED = """\
schema = 1
name = "Typed"

[block]
draft = "typed"
outline = "outline.toml"
"""

OUTLINE = """\
schema = 1

[[pieces]]
name = "front"
cut = "fold"

[pieces.points]
1 = { x = "0 cm", y = "0 cm" }
2 = { right = "24 cm" }
3 = { up = "30 cm" }
4 = { left = "24 cm" }

[[pieces.edges]]
name = "hem"
role = "hem"
points = [1, 2]

[[pieces.edges]]
name = "side"
role = "side"
points = [2, 3]

[[pieces.edges]]
name = "waist"
role = "waist"
points = [3, 4]

[[pieces.edges]]
name = "centre front"
role = "centre front"
points = [4, 1]
"""

PEOPLE = """\
id,waist_girth_cm,hip_girth_cm,waist_to_hip_cm,waist_to_knee_cm
ana,72,98,20,58
bea,76,102,20.5,58
"""

STASH = """\
schema = 1

[[cloth]]
name = "lawn"
kind = "light cotton"
width = "140 cm"
usable = "138 cm"
length = "4 m"
nap = "two-way"
shrinkage = { along = "3 %", across = "1 %" }
flaws = [{ along = "3.9 m", across = "10 cm", radius = "2 cm", note = "stain" }]
weight = "90 g/m2"
price = "18.50 EUR per m"
sold_by = "10 cm"

[[cloth]]
name = "check"
width = "150 cm"
right_side = "either"
repeat_across = { every = "4 cm", offset = "1 cm" }
[[cloth.remnants]]
name = "strip"
outline = [["0 cm", "0 cm"], ["60 cm", "0 cm"], ["60 cm", "20 cm"], ["0 cm", "20 cm"]]
"""

FILES: Mapping[str, str] = {
    "cloth.toml": STASH,
    "skirt.toml": SKIRT,
    "skirt-body.toml": SKIRT_BODY,
    "dress.toml": DRESS,
    "dress-body.toml": DRESS_BODY,
    "typed.toml": TYPED,
    "outline.toml": OUTLINE,
    "people.csv": PEOPLE,
}

OUT = ("--out", "out/new")
MAKE_SKIRT = ("make", "skirt.toml", "--body", "skirt-body.toml", *OUT)
MAKE_DRESS = ("make", "dress.toml", "--body", "dress-body.toml", *OUT)
MAKE_TYPED = ("make", "typed.toml", "--body", "skirt-body.toml", *OUT)
BATCH_SKIRT = ("batch", "skirt.toml", "people.csv", *OUT, "--cores", "1")


@dataclass(frozen=True, slots=True)
class Case:
    """In `file`, `old` becomes `new` (the whole file, where `old` is empty); each of `says` is then said."""

    id: str
    words: tuple[str, ...]
    says: tuple[str, ...]
    file: str = ""
    old: str = ""
    new: str | bytes = ""

    def write(self, folder: Path) -> None:
        """All files, one of them changed, into a folder."""
        for name, text in FILES.items():
            (folder / name).write_text(text, encoding="utf-8")
        if isinstance(self.new, bytes):
            (folder / self.file).write_bytes(self.new)
        elif self.file:
            text = FILES[self.file]
            if self.old and text.count(self.old) != 1:
                raise ValueError(f"{self.id}: {self.old!r} is not there just once")
            new = text.replace(self.old, self.new) if self.old else self.new
            (folder / self.file).write_text(new, encoding="utf-8")


def skirt(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, MAKE_SKIRT, says, "skirt.toml", old, new)


def skirt_body(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, MAKE_SKIRT, says, "skirt-body.toml", old, new)


def dress(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, MAKE_DRESS, says, "dress.toml", old, new)


def dress_body(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, MAKE_DRESS, says, "dress-body.toml", old, new)


def typed(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, MAKE_TYPED, says, "typed.toml", old, new)


def outline(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, MAKE_TYPED, says, "outline.toml", old, new)


def people(name: str, old: str, new: str, *says: str) -> Case:
    return Case(name, BATCH_SKIRT, says, "people.csv", old, new)


def command(name: str, words: tuple[str, ...], *says: str) -> Case:
    return Case(name, words, says)


def step(name: str, given: str | tuple[str, ...], *says: str) -> Case:
    """The dress with a step, or steps, as `do` writes them; they get the ids s1, s2, ..."""
    texts = (given,) if isinstance(given, str) else given
    return Case(name, MAKE_DRESS, says, "dress.toml", "# steps go here", steps_of("", *texts))


def steps_of(head: str, *texts: str) -> str:
    """Steps, as `do` writes them, below the head of a design."""
    return "\n".join([head, *(f'[[steps]]\nid = "s{k}"\n{text}' for k, text in enumerate(texts, start=1))])


def do(kind_of_step: str, /, **params: object) -> str:
    """A step's lines in a design file."""
    return "\n".join(
        [f'do = "{kind_of_step}"', *(f"{k.rstrip('_')} = {_toml(v)}" for k, v in params.items())]
    )


def at(where: str, /, **more: object) -> dict[str, object]:
    """A place or an edge: "front hem" or, inside, "front: bust point"; `from_` is `from`."""
    piece, colon, point = where.partition(": ")
    name, _, edge = (where if not colon else "").partition(" ")
    inside = {"piece": piece, "point": point}
    return {**(inside if colon else {"piece": name, "edge": edge}), **more}


def _toml(value: object) -> str:
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{k.rstrip('_')} = {_toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    return json.dumps(value, ensure_ascii=False)
