"""Which step a finding is about, where the check that made it could not say."""

from __future__ import annotations

from dataclasses import replace

from cutonce.checks import Context
from cutonce.draft.draft import Draft
from cutonce.draft.span import BLOCK, Span
from cutonce.errors import Finding


def attributed(findings: tuple[Finding, ...], draft: Draft, context: Context) -> tuple[Finding, ...]:
    """The findings, each with a step: its own, else the last that shaped the edges it names, else those of
    the piece it names, else the block (which reads the measures)."""
    return tuple(f if f.step else replace(f, step=_step(f, draft, context)) for f in findings)


def _step(finding: Finding, draft: Draft, context: Context) -> str:
    named = [p for p in draft.pieces if p.key in finding.where]
    pieces = [p for p in named if not any(p.key != q.key and p.key in q.key for q in named)] or named
    on_edge: list[Span] = []
    for piece in pieces:
        on_edge += [s for s in piece.outline if s.label.key in finding.where.replace(piece.key, "")]
    spans = on_edge or [s for piece in pieces for s in piece.outline]
    return context.last_step(spans) or BLOCK
