"""Bodies that all tests share, and how Hypothesis runs.

The everyday run draws the same examples each time, so that a red test means a changed program. The thorough
run (`make thorough`, which sets CUTONCE_FULL=1) draws new ones, `TIMES` as many, and takes every woman where
the everyday run takes a few; it is the one that finds what nobody has thought of.
"""

from __future__ import annotations

import os

import pytest
import women
from hypothesis import HealthCheck, Phase, is_hypothesis_test, settings

from cutonce.body import Body

FULL = os.environ.get("CUTONCE_FULL", "") not in ("", "0")
TIMES = 10

USUAL = settings(deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow])
QUICK = [phase for phase in Phase if phase is not Phase.explain]
"""To explain a failure may take minutes."""

settings.register_profile("quick", USUAL, max_examples=50, derandomize=True, phases=QUICK)
settings.register_profile("thorough", USUAL, max_examples=50 * TIMES)
settings.load_profile("thorough" if FULL else "quick")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """In a full run, tests that state a number of examples of their own draw that many more too."""
    if not FULL:
        return
    for test in {getattr(item, "obj", None) for item in items}:
        if test is not None and is_hypothesis_test(test):
            own: settings = test._hypothesis_internal_use_settings
            if own.max_examples != settings.default.max_examples:
                more = settings(own, max_examples=TIMES * own.max_examples)
                test._hypothesis_internal_use_settings = more


@pytest.fixture(scope="session")
def ansur() -> tuple[Body, ...]:
    return women.ansur()


@pytest.fixture(scope="session")
def bdims() -> tuple[Body, ...]:
    return women.bdims()
