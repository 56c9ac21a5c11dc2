"""What the files she keeps have in common: TOML in, a schema version, and names that are checked.

Every message is one line that says where in which file. Reading from disk is done elsewhere.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from cutonce.errors import BadInput, closest, quoted

Migration = Callable[[dict[str, Any]], dict[str, Any]]
"""Turns a document of one schema version into the next; the `schema` key itself is seen to by `migrate`."""

_SLIPS = (
    ("Illegal character", "is a quotation mark missing at the end?"),
    ("Unterminated string", "is a quotation mark missing at the end?"),
    ('Expected "\'"', "is a quotation mark missing at the end?"),
    ("Unclosed inline table", "a { ... } stands on one line, with commas between its parts"),
    ("Invalid initial character for a key", "a { ... } stands on one line, with commas between its parts"),
    ("Unclosed array", "is a comma or a ']' missing?"),
    ("is given twice", "keep one of the two; each step begins with [[steps]], in double brackets"),
    ("twice", "is it given before? each step begins with [[steps]], in double brackets"),
    ("Cannot overwrite", "is it given before? each step begins with [[steps]], in double brackets"),
    ("Invalid value", 'texts and lengths stand in straight quotes: "2 cm"'),
    ("Expected newline", 'texts and lengths stand in straight quotes: "2 cm"'),
    ("Expected '='", 'write name = "value"'),
)
"""What the reader's own words most often mean, for a person who does not know them."""


def parse_toml(text: str, where: str) -> dict[str, Any]:
    """The document as plain dicts, lists and values. Raises BadInput "broken-toml" with line and column.

    >>> parse_toml('name = "Ida"', "body.toml")
    {'name': 'Ida'}
    """
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise BadInput("broken-toml", where, "brackets nested too deeply") from None
    except ValueError as problem:  # TOMLDecodeError, and numbers of thousands of digits
        reason = _with_name(" ".join(str(problem).split()), text)
        hint = next((hint for sign, hint in _SLIPS if sign in reason), "")
        raise BadInput("broken-toml", where, f"not valid TOML: {reason[:160]}", hint) from None


def _with_name(reason: str, text: str) -> str:
    """What the reader said of a name given twice, with that name, which it leaves out."""
    found = re.search(r"Cannot overwrite a value \(at line ([0-9]+)", reason)
    lines = text.splitlines()
    if found is None or int(found[1]) > len(lines):
        return reason
    name, sign, _ = lines[int(found[1]) - 1].partition("=")
    return f"{quoted(name)} is given twice (line {found[1]})" if sign else reason


def migrate(document: Mapping[str, Any], migrations: tuple[Migration, ...], where: str) -> dict[str, Any]:
    """The document in the current schema, which is 1 + the number of migrations.

    Raises BadInput: no-schema, newer-schema, not-a-schema.

    >>> migrate({"schema": 1, "old": 3}, (lambda d: {"new": d["old"]},), "a.toml")
    {'new': 3, 'schema': 2}
    """
    current = len(migrations) + 1
    version = document.get("schema")
    if version is None:
        raise BadInput("no-schema", where, "no schema version", f"write 'schema = {current}' at the top")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        message = f"schema {quoted(version)} is not a version"
        raise BadInput("not-a-schema", where, message, f"write 'schema = {current}'")
    if version > current:
        message = f"schema {version} is newer than this program reads (up to {current})"
        raise BadInput("newer-schema", where, message, "update cutonce")
    result = dict(document)
    for migration in migrations[version - 1 :]:
        result = migration(result)
    return {**result, "schema": current}


def refuse_unknown(found: Iterable[str], known: Iterable[str], where: str) -> None:
    """Raises BadInput "unknown-key" for the first name that is not known, with all choices."""
    choices = tuple(known)
    for name in found:
        if name not in choices:
            message = f"unknown key {quoted(name)}{closest(name, choices)}"
            raise BadInput("unknown-key", where, message, f"it may have: {', '.join(choices)}")


def table(value: object, where: str) -> Mapping[str, Any]:
    """The value as a table, or BadInput "not-a-table"."""
    if isinstance(value, Mapping):
        return value
    raise BadInput("not-a-table", where, f"{quoted(value)} is not a table of names and values")


def words(value: object, where: str) -> str:
    """The value as a text, or BadInput "not-text"."""
    if isinstance(value, str):
        return value
    raise BadInput("not-text", where, f"{quoted(value)} is not a text", "put it in quotes")
