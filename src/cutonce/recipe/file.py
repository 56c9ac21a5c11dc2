"""design.toml: a recipe as text. Comments and layout survive a rewrite."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

import tomlkit
from tomlkit.items import AoT, Table

from cutonce.documents import Migration, migrate, parse_toml, refuse_unknown, table, words
from cutonce.draft.span import BLOCK
from cutonce.errors import BadInput, closest, quoted
from cutonce.recipe.recipe import BlockEntry, Recipe, StepEntry
from cutonce.steps import BY_NAME

MIGRATIONS: tuple[Migration, ...] = ()
"""One for each schema version that has been left behind; the current one is one more than their number."""

_TOP = ("schema", "name", "notes", "block", "steps")
_BLOCK = ("draft", "system", "ease", "lengths", "outline")
_STEP = ("id", "do", "off", "note")
_ID = re.compile(r"[a-z0-9][a-z0-9-]*")


def read_recipe(text: str, where: str, beside: Callable[[str], str] | None = None) -> Recipe:
    """The recipe in a design file's text. Raises BadInput: which file, which step, what, and the choices.

    `beside` gives the text of a file that the design names (a typed block's outline).
    """
    doc = migrate(parse_toml(text, where), MIGRATIONS, where)
    if "measures" in doc:
        hint = "a design has a [block]; --body names the body's file"
        raise BadInput("not-a-design", where, "this is a body, not a design", hint)
    refuse_unknown(doc, _TOP, where)
    if "name" not in doc or "block" not in doc:
        lacks = "name" if "name" not in doc else "block"
        raise BadInput("missing-key", where, f"no '{lacks}'", "a design needs a name and a [block]")
    steps = doc.get("steps", [])
    if not isinstance(steps, list):
        raise BadInput("not-steps", where, "'steps' is not a list of steps", "write each as [[steps]]")
    entries = tuple(_step(entry, i, where) for i, entry in enumerate(steps, start=1))
    _refuse_twins(entries, where)
    notes = words(doc.get("notes", ""), f"{where}, notes")
    return Recipe(words(doc["name"], f"{where}, name"), _block(doc["block"], where, beside), entries, notes)


def _block(value: object, where: str, beside: Callable[[str], str] | None) -> BlockEntry:
    at = f"{where}, block"
    entry = table(value, at)
    refuse_unknown(entry, _BLOCK, at)
    if "draft" not in entry:
        raise BadInput("missing-key", at, "no 'draft'", 'write for example draft = "dress"')
    outline = words(entry.get("outline", ""), f"{at}, outline")
    draft = words(entry["draft"], f"{at}, draft")
    for key in ("system", "ease", "lengths") if draft == "typed" else ("outline",):
        if key in entry:
            what = (
                "a typed block is as its outline says" if draft == "typed" else "only a typed block has one"
            )
            raise BadInput("block-key", at, f"'{key}' does not go with draft = {quoted(draft)}: {what}")
    return BlockEntry(
        draft=draft,
        system=words(entry.get("system", ""), f"{at}, system"),
        outline=outline,
        outline_text=beside(outline) if outline and beside else "",
        ease=dict(table(entry.get("ease", {}), f"{at}, ease")),
        lengths=dict(table(entry.get("lengths", {}), f"{at}, lengths")),
    )


def _step(value: object, number: int, where: str) -> StepEntry:
    at = f"{where}, step {number}"
    entry = table(value, at)
    do = words(entry.get("do", ""), f"{at}, do")
    if do not in BY_NAME:
        what = f"no kind of step {quoted(do)}{closest(do, BY_NAME)}" if do else "no 'do'"
        raise BadInput("unknown-step", at, what, f"kinds of step: {', '.join(BY_NAME)}")
    name = words(entry.get("id", ""), f"{at}, id")
    if not _ID.fullmatch(name):
        message = (
            f"the id {quoted(name)} is not a word of small letters, digits and hyphens" if name else "no 'id'"
        )
        raise BadInput("bad-id", at, message, 'write for example id = "bust-dart-to-side"')
    if name == BLOCK:
        raise BadInput("bad-id", at, f"'{BLOCK}' is what the block itself is called", "choose another id")
    off = entry.get("off", False)
    if not isinstance(off, bool):
        raise BadInput("not-yes-or-no", at, f"'off' is {quoted(off)}", "write true or false")
    params = {k: v for k, v in entry.items() if k not in _STEP}
    return StepEntry(name, do, params, off, words(entry.get("note", ""), f"{at}, note"))


def _refuse_twins(entries: tuple[StepEntry, ...], where: str) -> None:
    seen: set[str] = set()
    for entry in entries:
        if entry.id in seen:
            raise BadInput("id-twice", where, f"two steps have the id '{entry.id}'", "each needs its own")
        seen.add(entry.id)


def as_document(recipe: Recipe) -> dict[str, Any]:
    """The recipe as plain tables, in the current schema."""
    block = {
        key: value
        for key, value in (
            ("draft", recipe.block.draft),
            ("system", recipe.block.system),
            ("outline", recipe.block.outline),
            ("lengths", dict(recipe.block.lengths)),
            ("ease", dict(recipe.block.ease)),
        )
        if value
    }
    doc: dict[str, Any] = {"schema": len(MIGRATIONS) + 1, "name": recipe.name}
    if recipe.notes:
        doc["notes"] = recipe.notes
    return {**doc, "block": block, "steps": [_step_table(s) for s in recipe.steps]}


def _step_table(entry: StepEntry) -> dict[str, Any]:
    head: dict[str, Any] = {"id": entry.id, "do": entry.do}
    if entry.off:
        head["off"] = True
    if entry.note:
        head["note"] = entry.note
    return {**head, **entry.params}


def step_text(do: str, params: Mapping[str, Any], name: str = "") -> str:
    """One step as it stands in a design file."""
    doc = tomlkit.document()
    tables = tomlkit.aot()
    entry = tomlkit.table()
    _update(entry, {"id": name or do.replace("_", "-"), "do": do, **params})
    tables.append(entry)
    doc["steps"] = tables
    return tomlkit.dumps(doc)


def write_recipe(recipe: Recipe, old: str = "") -> str:
    """The recipe as TOML. With `old`, the text it came from: comments, order of keys and layout of everything
    that has not changed are kept."""
    doc = tomlkit.parse(old) if old else tomlkit.document()
    new = as_document(recipe)
    steps = new.pop("steps")
    _update(doc, new)
    before = doc.get("steps")
    kept = {str(t.get("id")): t for t in before} if isinstance(before, AoT) else {}
    if [str(t.get("id")) for t in before or ()] == [s["id"] for s in steps]:
        for step in steps:
            _update(kept[step["id"]], step)
        return tomlkit.dumps(doc)
    tables = tomlkit.aot()
    for step in steps:
        target: Table = kept[step["id"]] if step["id"] in kept else tomlkit.table()
        _update(target, step)
        tables.append(target)
    doc.pop("steps", None)
    if steps:
        doc["steps"] = tables
    return tomlkit.dumps(doc)


def _update(target: Any, new: Mapping[str, Any]) -> None:
    """Make a TOML table say what `new` says, touching only what differs."""
    for key in [k for k in target if k not in new and k != "steps"]:
        del target[key]
    for key, value in new.items():
        have = target.get(key)
        if isinstance(value, Mapping) and isinstance(have, dict):
            _update(have, value)
        elif key not in target or _plain(have) != value:
            if _tables_alike(have, value):
                for old, one in zip(have, value, strict=True):
                    _update(old, one)
            else:
                target[key] = _inline(value)


def _tables_alike(have: Any, value: Any) -> bool:
    """Two lists of as many tables: each is brought up to date where it stands."""
    if not isinstance(have, list) or not isinstance(value, list | tuple) or len(have) != len(value):
        return False
    return all(isinstance(h, dict) and isinstance(v, Mapping) for h, v in zip(have, value, strict=True))


def _plain(value: Any) -> Any:
    return value.unwrap() if hasattr(value, "unwrap") else value


def _inline(value: Any) -> Any:
    """Tables inside a step are written on one line."""
    if isinstance(value, Mapping):
        out = tomlkit.inline_table()
        out.update({k: _inline(v) for k, v in value.items()})
        return out
    if isinstance(value, list | tuple):
        array = tomlkit.array()
        for item in value:
            array.append(_inline(item))
        return array.multiline(len(value) > 2)
    return value
