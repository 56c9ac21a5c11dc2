"""The start of a recipe: a block drafted for the body, or typed by hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cutonce.blocks import all_ease, draft_and_findings
from cutonce.blocks.outline import outline_block, read_outline
from cutonce.body import Body
from cutonce.documents import Migration, migrate, parse_toml
from cutonce.draft.draft import Draft
from cutonce.errors import BadInput, Finding
from cutonce.expressions import evaluate
from cutonce.recipe.recipe import BlockEntry
from cutonce.units import length

TYPED = "typed"
"""The kind of a block whose outline stands in a file of its own."""

OUTLINE_MIGRATIONS: tuple[Migration, ...] = ()
"""One for each schema version of outline files that has been left behind."""


def drafted_block(entry: BlockEntry, body: Body) -> tuple[Draft, tuple[Finding, ...]]:
    """The block's draft for the body and what it has to say.

    Ease and lengths may be expressions in the body's measures. Raises BadInput or CannotApply.
    """
    if entry.draft == TYPED:
        if not entry.outline:
            hint = 'write outline = "block.toml", a file beside the design'
            raise BadInput("no-outline", "block", "a typed block needs an outline", hint)
        document = _outline_document(entry.outline_text, entry.outline)
        return outline_block(read_outline(document, body.names, entry.outline), entry.outline)
    ease = _lengths(entry.ease, body, "block, ease")
    lengths = _lengths(entry.lengths, body, "block, lengths")
    return draft_and_findings(entry.draft, entry.system, body, ease, lengths)


def _outline_document(text: str, where: str) -> dict[str, Any]:
    document = migrate(parse_toml(text, where), OUTLINE_MIGRATIONS, where)
    for key, kind in (("block", "a design"), ("measures", "a body")):
        if key in document:
            raise BadInput("not-an-outline", where, f"this is {kind}, not an outline", "it has [[pieces]]")
    return document


def block_ease(entry: BlockEntry, body: Body) -> Mapping[str, float]:
    """Ease in mm at every place of the block; nothing for a typed one, which is as it is."""
    if entry.draft == TYPED:
        return {}
    return all_ease(entry.draft, entry.system, _lengths(entry.ease, body, "block, ease"))


def _lengths(values: Mapping[str, object], body: Body, where: str) -> dict[str, float]:
    out: dict[str, float] = {}
    for key, value in values.items():
        at = f"{where}, {key}"
        out[key] = evaluate(value, body.names, at) if isinstance(value, str) else length(value, at)
    return out
