"""What a step is. Each step is one file that makes one `Step`; everything else is derived from it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from cutonce.draft.draft import Draft
from cutonce.errors import Finding
from cutonce.steps.parameters import Params


@dataclass(frozen=True, slots=True)
class Result:
    """The draft after a step, and what the step has to say (turns, deviations, what it could not keep)."""

    draft: Draft
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Example:
    """A worked example, as data: run on the sample body by the tests, printed in the reference.

    `before` are the steps that come first, `params` this step's parameters, as in a design file. `changes`
    are (piece key, edge key, change of its length in mm) that must come out within 0.05 mm, from arithmetic
    that `because` gives; every edge of the draft that is not named there must keep its length within 0.01 mm
    unless `rest_free` says otherwise.
    """

    title: str
    params: Mapping[str, Any]
    block: str = "bodice"
    before: tuple[Mapping[str, Any], ...] = ()
    changes: tuple[tuple[str, str, float], ...] = ()
    because: str = ""
    rest_free: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One kind of step. `name` is its file, its key in a design file and its name in messages.

    `apply(draft, params, step_id)` is pure. Before unfolding it sees one half at a time; with `joins_halves`
    it sees the left half with the right one as `draft.twin`.
    """

    name: str
    title: str
    purpose: str
    holds: str
    params: type[Params]
    apply: Callable[[Draft, Any, str], Result]
    sentence: Callable[[Any], str]
    examples: tuple[Example, ...] = ()
    joins_halves: bool = False
