"""`cloth.toml`: a cloth or a stash of them in a file she can keep. Text in, text out; no disk here.

schema = 1

[[cloth]]
name = "wool crepe"
width = "150 cm"
length = "3.2 m"
price = "18.50 EUR per m"
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from cutonce.cloth.cloth import Cloth
from cutonce.cloth.read_table import read_one
from cutonce.cloth.write_table import cloth_table
from cutonce.documents import Migration, migrate, parse_toml, refuse_unknown, words
from cutonce.errors import BadInput

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

MIGRATIONS: Final[tuple[Migration, ...]] = ()
"""Step n turns schema n into n + 1. Empty: the first schema is the current one."""

SCHEMA: Final = len(MIGRATIONS) + 1

_TOP = ("schema", "notes", "cloth")


def read_cloth(text: str, where: str = "cloth.toml") -> tuple[Cloth, ...]:
    """The cloths in a file's text, in its order; at least one. `where` names the file in messages.

    Raises BadInput for anything that cannot be read or that no cloth is.

    >>> read_cloth('schema = 1\\n[[cloth]]\\nname = "lawn"\\nwidth = "140 cm"')[0].usable
    1380.0
    """
    document = migrate(parse_toml(text, where), MIGRATIONS, where)
    _refuse_other_kinds(document, where)
    refuse_unknown(document, _TOP, where)
    words(document.get("notes", ""), f"{where}, notes")
    tables = document.get("cloth", [])
    if not isinstance(tables, list):
        raise BadInput("not-cloths", where, "'cloth' is not a list of cloths", "write each as [[cloth]]")
    if not tables:
        raise BadInput("no-cloth", where, "no cloth", "write each below a line [[cloth]]")
    cloths = tuple(read_one(value, number, where) for number, value in enumerate(tables, start=1))
    _refuse_twins(cloths, where)
    return cloths


def _refuse_other_kinds(document: Mapping[str, Any], where: str) -> None:
    hint = "a cloth file has [[cloth]]"
    for key, kind in (("block", "a design"), ("measures", "a body"), ("pieces", "an outline")):
        if key in document:
            raise BadInput("not-a-cloth", where, f"this is {kind}, not a cloth", hint)
    for key in ("width", "length", "usable", "name"):
        if key in document:
            raise BadInput("unknown-key", where, f"{key} stands above [[cloth]]", "move it below that line")


def _refuse_twins(cloths: tuple[Cloth, ...], where: str) -> None:
    seen: set[str] = set()
    for cloth in cloths:
        if cloth.name.casefold() in seen:
            message = f"two cloths have the name '{cloth.name}'"
            raise BadInput("name-twice", where, message, "each needs its own")
        seen.add(cloth.name.casefold())


def write_cloth(cloths: tuple[Cloth, ...], text: str = "") -> str:
    """The cloths as a file's text. With the old `text`, its comments, order and unchanged values stay.

    >>> print(write_cloth((Cloth("lawn", 1400.0, 1380.0, length=2000.0),)), end="")
    schema = 1
    <BLANKLINE>
    [[cloth]]
    name = "lawn"
    width = "1400 mm"
    usable = "1380 mm"
    length = "2000 mm"
    """
    import tomlkit
    from tomlkit.items import AoT

    document = _old_document(text) if text else tomlkit.document()
    if document.get("schema") != SCHEMA:
        document["schema"] = SCHEMA
    before = document.get("cloth")
    old = {str(t.get("name")).strip(): t for t in before} if isinstance(before, AoT) else {}
    names = [cloth.name for cloth in cloths]
    if list(old) == names and before is not None and len(before) == len(names):
        for cloth in cloths:
            _update(old[cloth.name], cloth)
        return tomlkit.dumps(document)
    tables = tomlkit.aot()
    for cloth in cloths:
        target = old[cloth.name] if cloth.name in old else tomlkit.table()
        _update(target, cloth)
        tables.append(target)
    document.pop("cloth", None)
    document["cloth"] = tables
    return tomlkit.dumps(document)


def _update(target: Any, cloth: Cloth) -> None:
    """Make one [[cloth]] say what the cloth is, touching only what differs."""
    wanted = cloth_table(cloth)
    before = _plain(target)
    changed = _changed(before, cloth, wanted)
    for key in [key for key in target if key not in wanted and key in changed]:
        del target[key]
    for key, value in wanted.items():
        if key in changed:
            target[key] = _inline(value)


def _changed(before: dict[str, Any], cloth: Cloth, wanted: dict[str, Any]) -> set[str]:
    """The keys whose old entry does not say what the cloth is; all of them where the old cannot be read."""
    try:
        old = cloth_table(read_one({**before, "name": cloth.name}, 1, ""))
    except BadInput:
        return set(before) | set(wanted)
    return {key for key in set(before) | set(wanted) if old.get(key) != wanted.get(key)}


def _old_document(text: str) -> TOMLDocument:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        return tomlkit.parse(text)
    except TOMLKitError as problem:
        raise BadInput("broken-toml", "", f"the old file is not valid TOML: {problem}") from None


def _plain(value: Any) -> dict[str, Any]:
    plain = value.unwrap() if hasattr(value, "unwrap") else value
    return dict(plain)


def _inline(value: Any) -> Any:
    """Tables inside a cloth are written on one line, a list of several with a line for each."""
    import tomlkit

    if isinstance(value, Mapping):
        out = tomlkit.inline_table()
        out.update({key: _inline(part) for key, part in value.items()})
        return out
    if isinstance(value, list):
        array = tomlkit.array()
        for item in value:
            array.append(_inline(item))
        return array.multiline(len(value) > 1 and isinstance(value[0], Mapping))
    return value
