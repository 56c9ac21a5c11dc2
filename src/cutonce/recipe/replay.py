"""Replay: fold a recipe over one body. Only what an edit touches is done again."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from cutonce.body import Body
from cutonce.draft.draft import Draft
from cutonce.draft.span import Wearer
from cutonce.draft.trace import Change, difference
from cutonce.errors import CannotApply, Finding, Problem
from cutonce.recipe.free import FreeAmount, at_least, refuse_not_amounts, said_at_least
from cutonce.recipe.recipe import BlockEntry, Recipe, StepEntry
from cutonce.reshape.unfold import unfolded
from cutonce.steps import BY_NAME, Step
from cutonce.steps.parameters import Params
from cutonce.validation import validated


@dataclass(frozen=True, slots=True)
class Done:
    """One step of a replay. `problem` says why it could not be done; `draft` is then the one before it.

    `sides` are the parameters for the left and the right half (the same twice for an even body).
    """

    id: str
    do: str
    number: int
    sentence: str
    draft: Draft
    before: Draft | None
    sides: tuple[Params | None, Params | None]
    findings: tuple[Finding, ...] = ()
    trace: tuple[Change, ...] = ()
    seconds: float = 0.0
    problem: Problem | None = None


@dataclass(frozen=True, slots=True)
class Replayed:
    """A recipe replayed on a body: each step done, and the draft in the end."""

    recipe: Recipe
    body: Body
    block: Draft
    block_findings: tuple[Finding, ...]
    steps: tuple[Done, ...]
    draft: Draft
    block_seconds: float = 0.0
    redone: int = 0

    @property
    def problems(self) -> tuple[Problem, ...]:
        return tuple(s.problem for s in self.steps if s.problem is not None)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the block and the steps had to say, in order."""
        return self.block_findings + tuple(f for s in self.steps for f in s.findings)

    def raise_first(self) -> Replayed:
        """Itself, or the first step's problem."""
        if self.problems:
            raise self.problems[0]
        return self


Drafting = Callable[[BlockEntry, Body], tuple[Draft, tuple[Finding, ...]]]
"""How a block entry becomes a draft and what there is to say about it."""


def replay(
    recipe: Recipe, body: Body, drafting: Drafting, old: Replayed | None = None, until: str = ""
) -> Replayed:
    """Draft the block for the body, then do every step that is on, in order.

    With `old`, an earlier replay, steps whose parameters and draft before are the same are taken from it.
    `until` stops after the step of that id. A step that cannot be done leaves the draft as it was and says
    why in its `Done.problem`; later steps are still tried. Problems of the block itself are raised.
    """
    began = time.perf_counter()
    same_block = old is not None and old.recipe.block == recipe.block and old.body == body
    if same_block and old is not None:
        block, said, spent = old.block, old.block_findings, old.block_seconds
    else:
        block, said = drafting(recipe.block, body)
        spent = time.perf_counter() - began
    known = {d.id: d for d in old.steps} if old is not None else {}
    fold = _Fold(body, known)
    draft = block
    for number, entry in enumerate(recipe.steps, start=1):
        if not entry.off:
            draft = fold.step(draft, entry, number)
        if until and entry.id == until:
            break
    if draft.twin is not None and not until:
        draft = unfolded(draft, (), "halves")
    return Replayed(recipe, body, block, said, tuple(fold.done), draft, spent, fold.redone)


@dataclass(slots=True)
class _Fold:
    body: Body
    known: Mapping[str, Done]
    done: list[Done] = field(default_factory=list)
    redone: int = 0

    def step(self, draft: Draft, entry: StepEntry, number: int) -> Draft:
        step = BY_NAME[entry.do]
        where = f"step {number} '{entry.id}' ({step.title})"
        began = time.perf_counter()
        try:
            sides, free = self._parameters(step, entry, where, draft)
        except Problem as problem:
            self.done.append(_failed(entry, number, draft, step, problem))
            return draft
        old = self.known.get(entry.id)
        if old is not None and old.before is draft and old.sides == sides and old.do == entry.do:
            told = tuple(f for f in old.findings if f.code != "free-amount")
            self.done.append(replace(old, number=number, findings=free + told))
            return old.draft
        self.redone += 1
        try:
            after, findings = apply_to_halves(step, draft, sides, entry.id)
        except CannotApply as problem:
            self.done.append(_failed(entry, number, draft, step, _placed(problem, where), sides))
            return draft
        seconds = time.perf_counter() - began
        said = step.sentence(sides[0])
        trace = difference(draft, after)
        self.done.append(
            Done(entry.id, entry.do, number, said, after, draft, sides, free + findings, trace, seconds)
        )
        return after

    def _parameters(
        self, step: Step, entry: StepEntry, where: str, draft: Draft
    ) -> tuple[tuple[Params, Params], tuple[Finding, ...]]:
        """The parameters for both halves, and a note for each free amount among them."""
        if draft.twin is None:
            both, found = _validated(step, entry, self.body.names, where)
            return (both, both), said_at_least(found, where, entry.id)
        left, found = _validated(step, entry, self.body.one_side("left").names, where)
        right, _ = _validated(step, entry, self.body.one_side("right").names, where)
        return (left, right), said_at_least(found, where, entry.id)


def _validated(
    step: Step, entry: StepEntry, names: Mapping[str, float], where: str
) -> tuple[Params, tuple[FreeAmount, ...]]:
    """A step's parameters with free amounts at their least, and which these are."""
    values, found = at_least(entry, names, where)
    params = validated(step.params, values, names, where)
    refuse_not_amounts(params, found, where)
    return params, found


def apply_to_halves(
    step: Step, draft: Draft, sides: tuple[Any, Any], step_id: str
) -> tuple[Draft, tuple[Finding, ...]]:
    """Apply a step to the draft; where it is two unlike halves, to each, unless the step joins them."""
    if draft.twin is None or step.joins_halves:
        result = step.apply(draft, sides[0], step_id)
        return result.draft, result.findings
    left, told = _on_half(step, replace(draft, twin=None), sides[0], step_id, "left")
    right, more = _on_half(step, draft.twin, sides[1], step_id, "right")
    return replace(left, twin=right), told + more


def _on_half(
    step: Step, half: Draft, params: Any, step_id: str, wearer: Wearer
) -> tuple[Draft, tuple[Finding, ...]]:
    """One half after a step; what it has to say, and why it cannot, name the half."""
    try:
        result = step.apply(half, params, step_id)
    except CannotApply as problem:
        raise _placed(problem, f"{wearer} half") from None
    return result.draft, tuple(f.on_half(wearer) for f in result.findings)


def _placed(problem: CannotApply, where: str) -> CannotApply:
    at = f"{where}, {problem.where}" if problem.where else where
    return CannotApply(problem.code, at, problem.message, problem.hint)


def _failed(
    entry: StepEntry,
    number: int,
    draft: Draft,
    step: Step,
    problem: Problem,
    sides: tuple[Params | None, Params | None] = (None, None),
) -> Done:
    said = step.sentence(sides[0]) if sides[0] is not None else step.title
    return Done(entry.id, entry.do, number, said, draft, draft, sides, problem=problem)
