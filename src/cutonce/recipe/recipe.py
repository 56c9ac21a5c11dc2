"""A recipe: the block and the steps of a design, as written, before any body is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class BlockEntry:
    """What the design starts from: a kind of block by a drafting system, with ease and lengths as written.

    `draft` is "typed" for a block whose outline stands in the file `outline`, read into `outline_text`.
    """

    draft: str
    system: str = ""
    ease: Mapping[str, Any] = field(default_factory=dict)
    lengths: Mapping[str, Any] = field(default_factory=dict)
    outline: str = ""
    outline_text: str = ""


@dataclass(frozen=True, slots=True)
class StepEntry:
    """One step as written: a stable `id`, the kind `do`, its parameters; `off` leaves it out of a replay."""

    id: str
    do: str
    params: Mapping[str, Any] = field(default_factory=dict)
    off: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """A design: name, block, steps in order, notes."""

    name: str
    block: BlockEntry
    steps: tuple[StepEntry, ...] = ()
    notes: str = ""
