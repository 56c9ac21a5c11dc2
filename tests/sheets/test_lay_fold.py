"""Striped cloth folded beside its middle: said so, and measured from the fold and the nearer selvedge."""

from __future__ import annotations

import pytest
from lay.garments import engine, of_block

from cutonce.cloth.cloth import Cloth, Repeat
from cutonce.lay.asked import Asked
from cutonce.lay.lay import lay
from cutonce.lay.plan import Plan
from cutonce.sheets.lay_measures import beside_the_middle, fold_of, ground
from cutonce.sheets.lay_table import lay_steps


def folded(offset: float) -> Plan:
    done, seams = of_block("skirt")
    cloth = Cloth("striped", 1500.0, 1480.0, stripe_across=Repeat(50.0, offset))
    return lay(done, cloth, Asked(way="folded lengthwise"), seams, search=engine)


@pytest.mark.parametrize(
    "offset, fold, far, words",
    [
        (0.0, 750.0, "selvedges", "selvedge on selvedge"),
        (
            11.0,
            761.0,
            "nearer selvedge",
            "along the middle of the stripe that lies 76.1 cm from the near selvedge",
        ),
    ],
)
def test_it_is_said_where_to_fold(offset: float, fold: float, far: str, words: str) -> None:
    plan = folded(offset)
    section = plan.sections[0]
    assert fold_of(plan, section) == fold
    assert beside_the_middle(plan, section) == (fold != 750.0)
    lies = ground(plan, 0)
    assert (lies.near.name, lies.near.y, lies.far.name, lies.far.y) == (
        "fold",
        0.0,
        far,
        min(fold, 1500 - fold),
    )
    assert any(words in step for step in lay_steps(plan, "cm"))
