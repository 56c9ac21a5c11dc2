"""The list of measures holds together, and its page is current."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutonce.body.terms import BY_KEY, TERMS, Term, reference

DOCS = Path(__file__).parents[2] / "docs"


def test_keys_are_unique() -> None:
    assert len(BY_KEY) == len(TERMS)


@pytest.mark.parametrize("term", TERMS, ids=lambda term: term.key)
def test_ranges_are_nested(term: Term) -> None:
    assert term.limits[0] < term.usual[0] < term.usual[1] < term.limits[1]
    assert term.usual_source and term.clause and term.how.endswith(".")


def test_the_page_of_measures_is_current() -> None:
    """Rewrite it with: python -c "from cutonce.body.terms import reference; print(reference(), end='')"."""
    assert (DOCS / "measures.md").read_text(encoding="utf-8") == reference()
