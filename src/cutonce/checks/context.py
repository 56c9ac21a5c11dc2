"""What the checks may know besides the draft, and the shape of a check."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from cutonce.body import Body
from cutonce.checks.levels import Level, levels_of
from cutonce.draft.draft import Draft
from cutonce.draft.span import BLOCK, Span
from cutonce.errors import Finding
from cutonce.finishing.finished import Finished


@dataclass(frozen=True, slots=True)
class Context:
    """The body the draft is for, its finished pieces, the ease stated for the block (mm on the whole girth at
    bust, waist, hip) and the ids of the steps in order. What is missing is not checked.

    `levels` are the draft's girths, where they have been measured already: several checks want them.
    """

    body: Body | None = None
    finished: Finished | None = None
    ease: Mapping[str, float] = field(default_factory=dict)
    order: tuple[str, ...] = ()
    levels: Mapping[str, Level] | None = None

    def girths(self, draft: Draft) -> Mapping[str, Level]:
        """The draft's girths at bust, waist and hip, as far as it has them."""
        return levels_of(draft) if self.levels is None else self.levels

    def last_step(self, spans: Iterable[Span]) -> str:
        """The id of the step that was the last to change the shape of any of these spans: whom to ask."""
        return self.latest(s.made for s in spans)

    def latest(self, ids: Iterable[str]) -> str:
        """The last of some step ids; the block comes first, ids that are not known to `order` last.

        >>> Context(order=("flare", "hem")).latest(["hem", "block", "flare"])
        'hem'
        """
        rank = {step: i for i, step in enumerate((BLOCK, *self.order))}
        best = ""
        for step in ids:
            if not best or rank.get(step, len(rank)) >= rank.get(best, len(rank)):
                best = step
        return best


Found = tuple[Finding, ...]

Check = Callable[[Draft, Context], Found]
"""A check: pure, never raises on a draft that steps can make, silent where all is well."""
