"""Blocks: the plain draft of a bodice, dress or skirt for one body, from which a design starts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from cutonce.blocks import bodice_systems, skirt_systems
from cutonce.blocks.bodice_systems import draft_bodice
from cutonce.blocks.skirt import skirt_block
from cutonce.body import Body
from cutonce.draft.draft import Draft
from cutonce.errors import BadInput, Finding, closest, quoted

Millimetres = Mapping[str, float]
Drafted = tuple[Draft, tuple[Finding, ...]]

_NONE: Millimetres = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Block:
    """A kind of block: its name, its drafting systems (the first is used where none is named), `draft`, which
    takes the system's name, the body, and ease and lengths in mm, and `ease`: all of it for what was stated.
    """

    kind: str
    systems: tuple[str, ...]
    draft: Callable[[str, Body, Millimetres, Millimetres], Drafted]
    ease: Callable[[str, Millimetres], Millimetres]


def _bodice(system: str, body: Body, ease: Millimetres, lengths: Millimetres) -> Drafted:
    return draft_bodice("bodice", system, body, ease, lengths)


def _dress(system: str, body: Body, ease: Millimetres, lengths: Millimetres) -> Drafted:
    return draft_bodice("dress", system, body, ease, lengths)


def _skirt(system: str, body: Body, ease: Millimetres, lengths: Millimetres) -> Drafted:
    for name in lengths:
        if name != "length":
            raise BadInput(
                "unknown-length", "block, lengths", f"a skirt has no {quoted(name)}; it has: length"
            )
    length = lengths["length"] if "length" in lengths else body.mm("waist_to_knee")
    return skirt_block(system, body, ease, length)


def _skirt_ease(system: str, stated: Millimetres) -> Millimetres:
    waist, hip = skirt_systems.eases(skirt_systems.skirt_system(system), stated)
    return {"waist": waist, "hip": hip}


_BODICE_SYSTEMS = tuple(s.name for s in bodice_systems.SYSTEMS)

BLOCKS: tuple[Block, ...] = (
    Block("bodice", _BODICE_SYSTEMS, _bodice, bodice_systems.bodice_ease),
    Block("dress", _BODICE_SYSTEMS, _dress, bodice_systems.bodice_ease),
    Block("skirt", tuple(s.name for s in skirt_systems.SYSTEMS), _skirt, _skirt_ease),
)


def draft_and_findings(
    kind: str, system: str, body: Body, ease: Millimetres = _NONE, lengths: Millimetres = _NONE
) -> Drafted:
    """The block for this body, with its twin where left and right differ, and what there is to say about it.

    Raises BadInput for an unknown kind, system, ease or length; CannotApply where a measure is missing or the
    measures cannot be drafted.
    """
    block = _block(kind)
    return block.draft(system or block.systems[0], body, ease, lengths)


def all_ease(kind: str, system: str, stated: Millimetres = _NONE) -> Millimetres:
    """Ease in mm at every place that such a block has: as stated, the rest by the system's own."""
    block = _block(kind)
    return block.ease(system or block.systems[0], stated)


def _block(kind: str) -> Block:
    for block in BLOCKS:
        if block.kind == kind:
            return block
    kinds = [*(b.kind for b in BLOCKS), "typed"]
    raise BadInput(
        "unknown-block",
        "block, draft",
        f"no block {quoted(kind)}{closest(kind, kinds)}",
        f"there are: {', '.join(kinds)}",
    )


def draft_block(kind: str, system: str, body: Body, ease: Millimetres = _NONE, **lengths: float) -> Draft:
    """The block alone.

    >>> from cutonce.body import body_of
    >>> ida = body_of("Ida", {"bust_girth": 880.0, "waist_girth": 700.0, "back_waist_length": 400.0})
    >>> [piece.name for piece in draft_block("bodice", "proportional", ida).pieces]
    ['front', 'back']
    """
    return draft_and_findings(kind, system, body, ease, lengths)[0]
