"""Lays that cannot be say what and why in one line."""

from __future__ import annotations

import re

import pytest
from lay.garments import engine, garment, panel

from cutonce.cloth.cloth import Cloth, Flaw, Remnant
from cutonce.errors import BadInput, CannotApply, Problem
from cutonce.lay.asked import Asked
from cutonce.lay.lay import lay

WIDE = panel("coat back", 1200, 900)
SMALL = panel("pocket", 200, 220)


@pytest.mark.parametrize(
    "pieces, cloth, asked, kind, says",
    [
        (
            (WIDE,),
            Cloth("linen", 1150, 1100),
            Asked(),
            CannotApply,
            "Coat back: it needs 1200 mm of width at least, and linen has 1100 mm usable",
        ),
        (
            (WIDE,),
            Cloth("linen", 1500, 1480),
            Asked(way="folded lengthwise"),
            CannotApply,
            "linen has 740 mm usable when folded lengthwise (lay it open)",
        ),
        (
            (SMALL,),
            Cloth("linen", 1000, 980, 500, flaws=(Flaw(250 + 500j, 900),)),
            Asked(),
            CannotApply,
            "linen: its flaws leave no place as large as its smallest piece, pocket",
        ),
        ((SMALL,), Cloth("linen", 1000, 980, 0), Asked(), BadInput, "linen: there is no length of it"),
        ((SMALL,), Cloth("linen", 0, 0), Asked(), BadInput, "linen: usable over 0 mm of a width of 0 mm"),
        (
            (SMALL,),
            Cloth("linen", 1000, 1200),
            Asked(),
            BadInput,
            "usable over 1200 mm of a width of 1000 mm",
        ),
        ((), Cloth("linen", 1000, 980), Asked(), BadInput, "a test: there is nothing to lay"),
        (
            (SMALL,),
            Cloth("velvet", 1000, 980, nap="one-way"),
            Asked(way="folded crosswise"),
            CannotApply,
            "velvet: cannot be folded crosswise: its nap would run up in one layer and down in the other",
        ),
        (
            (SMALL,),
            Cloth("stained", 1000, 980, flaws=(Flaw(100 + 100j, 10),)),
            Asked(way="folded crosswise"),
            CannotApply,
            "stained: has flaws but no length",
        ),
        (
            (SMALL,),
            Cloth("velvet", 1000, 980, nap="two-way"),
            Asked(cross=("pocket",)),
            CannotApply,
            "pocket: may not be turned a quarter: the cloth's nap is two-way",
        ),
        (
            (SMALL,),
            Cloth("c", 1000, 980),
            Asked(cross=("poket",)),
            BadInput,
            "cross: no piece 'poket' in the lay; closest: pocket (there are: pocket)",
        ),
        (
            (SMALL,),
            Cloth("c", 1000, 980),
            Asked(tolerances=(("belt", 0.01),)),
            BadInput,
            "grain tolerance: no piece 'belt' in the lay",
        ),
        (
            (SMALL,),
            Cloth("c", 1000, 980),
            Asked(tolerance=0.5),
            CannotApply,
            "a grain tolerance of 28.6 degrees",
        ),
        (
            (SMALL,),
            Cloth("c", 1000, 980, shrink_along=0.6),
            Asked(),
            BadInput,
            "shrinks by 60% along the warp",
        ),
        (
            (SMALL,),
            Cloth("c", 1000, 980, remnants=(Remnant("bow", (0j, 300 + 300j, 300 + 0j, 300j)),)),
            Asked(),
            BadInput,
            "bow: the remnant's outline crosses itself",
        ),
    ],
)
def test_one_line(pieces: tuple, cloth: Cloth, asked: Asked, kind: type[Problem], says: str) -> None:  # type: ignore[type-arg]
    with pytest.raises(kind, match=re.escape(says)) as refused:
        lay(garment(*pieces), cloth, asked, search=engine)
    assert "\n" not in str(refused.value)


def test_a_piece_exactly_as_wide_as_the_cloth_is_laid() -> None:
    plan = lay(garment(panel("a", 980, 300)), Cloth("linen", 1000, 980), search=engine)
    assert plan.length == pytest.approx(300)


def test_a_wide_piece_may_lie_across_where_she_allows_it() -> None:
    plan = lay(garment(WIDE), Cloth("linen", 1150, 1100), Asked(cross=("coat back",)), search=engine)
    assert plan.length == pytest.approx(1200, abs=0.01)
