"""`body.toml`: one body in a file she can keep, mail and compare. Text in, text out; no disk here.

schema = 1
name = "Ida"
date = 2026-11-02
notes = "left shoulder higher"

[measures]
bust_girth = "92 cm"
shoulder_length = { left = "12.4 cm", right = "12 cm" }
bust_span = { estimate = "18 cm", sd = "1 cm", source = "..." }
"""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, Final

from cutonce.body.measures import Body, Estimate, Measure, term_of
from cutonce.body.plausible import refuse_impossible
from cutonce.body.terms import BY_KEY, SIDES, TERMS, Term, Wearer
from cutonce.documents import Migration, migrate, parse_toml, refuse_unknown, table, words
from cutonce.errors import BadInput, quoted
from cutonce.units import length

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

MIGRATIONS: Final[tuple[Migration, ...]] = ()
"""Step n turns schema n into n + 1. Empty: the first schema is the current one."""

SCHEMA: Final = len(MIGRATIONS) + 1

_KEYS = ("schema", "name", "date", "notes", "measures")
_ESTIMATE_KEYS = ("estimate", "sd", "source")


def read_body(text: str, where: str = "body.toml") -> Body:
    """The body in a file's text. `where` names the file in messages.

    Raises BadInput for anything that cannot be read or that no body has.

    >>> read_body('schema = 1\\nname = "Ida"\\n[measures]\\nbust_girth = "92 cm"').mm("bust_girth")
    920.0
    """
    document = migrate(parse_toml(text, where), MIGRATIONS, where)
    _refuse_misplaced(document, where)
    refuse_unknown(document, _KEYS, where)
    if "name" not in document:
        raise BadInput("no-name", where, "no name", 'write name = "..." at the top')
    raw = table(document.get("measures", {}), f"{where}, measures")
    measures: list[Measure] = []
    for key, value in raw.items():
        measures += _read_measure(key, value, where)
    body = Body(
        words(document["name"], f"{where}, name"),
        tuple(measures),
        date=_read_date(document.get("date"), f"{where}, date"),
        notes=words(document.get("notes", ""), f"{where}, notes"),
    )
    refuse_impossible(body, where)
    return body


def _refuse_misplaced(document: Mapping[str, Any], where: str) -> None:
    """A measure above its heading, or another kind of file: said as what it is."""
    if "block" in document:
        raise BadInput("not-a-body", where, "this is a design, not a body", "a body has [measures]")
    for key in document:
        if key in BY_KEY:
            raise BadInput("unknown-key", where, f"{key} stands above [measures]", "move it below that line")


def write_body(body: Body, text: str = "") -> str:
    """The body as a file's text. With the old `text`, its comments, order and unchanged values stay.

    >>> print(write_body(Body("Ida", (Measure("bust_girth", 920.0, text="92 cm"),))), end="")
    schema = 1
    name = "Ida"
    <BLANKLINE>
    [measures]
    bust_girth = "92 cm"
    """
    import tomlkit

    document = _old_document(text) if text else tomlkit.document()
    notes = body.notes if body.notes or "notes" in document else None
    values = {"schema": SCHEMA, "name": body.name, "date": body.date, "notes": notes}
    for key, value in values.items():
        _put(document, key, value)
    if "measures" not in document:
        if document:
            document.add(tomlkit.nl())
        document.add("measures", tomlkit.table())
    measures = document["measures"]
    wanted = _raw_measures(body)
    for key in [key for key in measures if key not in wanted]:
        measures.remove(key)
    for key, value in wanted.items():
        if not (key in measures and _says_already(body, key, measures[key])):
            _put(measures, key, value)
    return tomlkit.dumps(document)


def body_schema() -> dict[str, Any]:
    """The JSON Schema of `body.toml` (as the same data in JSON)."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "body.toml, schema 1",
        "type": "object",
        "additionalProperties": False,
        "required": ["schema", "name", "measures"],
        "properties": {
            "schema": {"const": SCHEMA},
            "name": {"type": "string"},
            "date": {"type": "string", "format": "date"},
            "notes": {"type": "string"},
            "measures": {
                "type": "object",
                "additionalProperties": False,
                "properties": {term.key: _term_schema(term) for term in TERMS},
            },
        },
    }


def _read_measure(key: str, value: object, where: str) -> list[Measure]:
    term = term_of(key, where)
    spot = f"{where}, {key}"
    if isinstance(value, Mapping) and ("left" in value or "right" in value):
        refuse_unknown(value, SIDES, spot)
        if not term.sided:
            raise BadInput("not-sided", spot, f"{term.name} has no left and right", "give one value")
        if len(value) < 2:
            raise BadInput(
                "one-side-only", spot, f"only {quoted(next(iter(value)))} is given", "give both sides"
            )
        return [_read_value(key, value[side], side, f"{spot}, {side}") for side in SIDES]
    return [_read_value(key, value, None, spot)]


def _read_value(key: str, value: object, wearer: Wearer | None, spot: str) -> Measure:
    if not isinstance(value, Mapping):
        mm = length(value, spot)
        return Measure(key, mm, wearer, text=str(value))
    refuse_unknown(value, _ESTIMATE_KEYS, spot)
    if "estimate" not in value:
        raise BadInput("no-value", spot, "no value", 'write "92 cm" or { left = "...", right = "..." }')
    sd = length(value["sd"], f"{spot}, sd") if "sd" in value else None
    how = Estimate(words(value.get("source", ""), f"{spot}, source"), sd)
    mm = length(value["estimate"], spot)
    return Measure(key, mm, wearer, text=str(value["estimate"]), estimate=how)


def _read_date(value: object, where: str) -> date | None:
    if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
        return value
    try:
        return date.fromisoformat(str(value))
    except ValueError:
        raise BadInput("not-a-date", where, f"{quoted(value)} is not a date", "write 2026-11-02") from None


def _raw_measures(body: Body) -> dict[str, Any]:
    raw: dict[str, Any] = {}
    for measure in body.measures:
        if measure.wearer is None:
            raw[measure.key] = _raw_value(measure)
        else:
            raw.setdefault(measure.key, {})[measure.wearer] = _raw_value(measure)
    return raw


def _raw_value(measure: Measure) -> str | dict[str, str]:
    text = measure.text or _mm_text(measure.mm)
    if measure.estimate is None:
        return text
    sd = measure.estimate.sd_mm
    return {
        "estimate": text,
        **({} if sd is None else {"sd": _mm_text(sd)}),
        "source": measure.estimate.source,
    }


def _mm_text(mm: float) -> str:
    number = f"{mm:.3f}".rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number} mm"


def _says_already(body: Body, key: str, value: Any) -> bool:
    """Whether an entry of the old file means just what the body has, however it is written."""
    try:
        old = _read_measure(key, value, "")
    except BadInput:
        return False
    return old == [measure for measure in body.measures if measure.key == key]


def _old_document(text: str) -> TOMLDocument:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        return tomlkit.parse(text)
    except TOMLKitError as problem:
        raise BadInput("broken-toml", "", f"the old file is not valid TOML: {problem}") from None


def _put(target: MutableMapping[str, Any], key: str, value: Any) -> None:
    """Sets, replaces or removes one entry, and leaves it alone where it says the same already."""
    import tomlkit

    if value is None:
        if key in target:
            del target[key]
    elif key not in target or target[key] != value:
        item = tomlkit.inline_table() if isinstance(value, dict) else value
        if isinstance(value, dict):
            for name, part in value.items():
                _put(item, name, part)
        target[key] = item


def _term_schema(term: Term) -> dict[str, Any]:
    value = {
        "anyOf": [
            {"type": "string", "examples": ["92 cm", "36 1/4 in"]},
            {
                "type": "object",
                "additionalProperties": False,
                "required": ["estimate"],
                "properties": {key: {"type": "string"} for key in _ESTIMATE_KEYS},
            },
        ]
    }
    text = f"{term.name} ({term.clause}). {term.how}"
    if not term.sided:
        return {"description": text, **value}
    sides = {
        "type": "object",
        "additionalProperties": False,
        "required": list(SIDES),
        "properties": dict.fromkeys(SIDES, value),
    }
    return {"description": text, "anyOf": [*value["anyOf"], sides]}
