"""Random dresses on random cloths: none overlaps, none crashes. 200 where CUTONCE_FULL is set, else a few.

The lay that is tried is the whole one: in the full run with the search itself, in the everyday run with the
first legal layout in its place.
"""

from __future__ import annotations

import os
import random

import pytest
from lay.garments import engine, example, laid_polygon, of_block, sound
from shapely.geometry import Point as ShapelyPoint

from cutonce.cloth.cloth import Cloth, Flaw, Remnant, Repeat
from cutonce.draft.seam import Seam
from cutonce.errors import BadInput, CannotApply
from cutonce.finishing.finished import Finished
from cutonce.lay.asked import Asked
from cutonce.lay.lay import Effort, lay
from cutonce.lay.plan import Plan

FULL = os.environ.get("CUTONCE_FULL", "") not in ("", "0")
CASES = 200 if FULL else 12
SECONDS = 1.0

EXPECTED = {"too-wide", "nap-forbids-fold", "no-length", "flawed-all-over", "no-fold"}
"""Refusals that a random cloth may well earn."""


def dress(rng: random.Random) -> tuple[Finished, tuple[Seam, ...]]:
    if rng.random() < 0.4:
        return example(rng.choice(["a_line", "cellist", "stage_tunic"]))
    name, size = rng.choice(["bodice", "dress", "skirt"]), rng.choice(["6", "12", "18"])
    return of_block(name, size, rng.random() < 0.4)


def cloth(rng: random.Random) -> Cloth:
    width = rng.uniform(700, 1600)
    length = rng.choice([None, rng.uniform(400, 4000)])
    reach = length or 3000

    def repeat() -> Repeat | None:
        return Repeat(rng.uniform(8, 320), rng.uniform(0, 50)) if rng.random() < 0.3 else None

    remnants = ()
    if rng.random() < 0.25:
        w, h = rng.uniform(300, 900), rng.uniform(300, 1400)
        remnants = (
            Remnant("rest", (0j, w + 0j, complex(w, 0.7 * h), complex(0.4 * w, h), complex(0, 0.9 * h))),
        )
    return Cloth(
        name="random",
        width=width,
        usable=width - rng.choice([0.0, 10.0, 40.0]),
        length=length,
        remnants=remnants,
        nap=rng.choice(["none", "two-way", "one-way"]),
        right_side=rng.choice(["one", "either"]),
        stripe_across=repeat(),
        stripe_along=repeat(),
        shrink_along=rng.choice([0.0, rng.uniform(-0.01, 0.1)]),
        shrink_across=rng.choice([0.0, rng.uniform(-0.01, 0.1)]),
        flaws=tuple(
            Flaw(complex(rng.uniform(0, reach), rng.uniform(0, width)), rng.uniform(3, 80))
            for _ in range(rng.choice([0, 0, 1, 3]))
        ),
    )


def asked(rng: random.Random, done: Finished, on: Cloth) -> Asked:
    return Asked(
        way=rng.choice(["open", "folded lengthwise", "folded crosswise", "part folded, part open"]),
        spacing=rng.choice([0.0, 2.0, 15.0]),
        margin=rng.choice([0.0, 0.0, 25.0]),
        cross=tuple(p.key for p in done.pieces if on.nap == "none" and rng.random() < 0.2),
        tolerance=rng.choice([0.0, 0.0, 0.03]),
    )


def flaws_are_clear(plan: Plan) -> None:
    cloth = plan.cloth
    for one in plan.laid:
        section = plan.sections[one.section]
        if section.name != "cloth":
            continue
        shape = laid_polygon(one)
        for flaw in cloth.flaws:
            x, y = flaw.at.real, flaw.at.imag
            if section.way == "folded lengthwise":
                spots = [(x, abs(y - (section.fold or 0.0))), (x, -abs(y - (section.fold or 0.0)))]
            elif section.way == "folded crosswise" and any(f.code == "short-by" for f in plan.findings):
                continue  # there is no such cloth: where its fold and flaws would lie is not known
            elif section.way == "folded crosswise":
                spots = [(x, y), (2 * section.end - x, y)]
            else:
                before = sum(s.end - s.start for s in plan.sections if s.way == "folded lengthwise")
                spots = [(x - before + section.start, y)]
            assert all(shape.distance(ShapelyPoint(*s)) > flaw.radius - 0.02 for s in spots)


@pytest.mark.parametrize("seed", range(CASES))
def test_no_lay_overlaps_and_none_crashes(seed: int) -> None:
    rng = random.Random(seed)
    done, seams = dress(rng)
    on = cloth(rng)
    wish = asked(rng, done, on)
    try:
        plan = lay(done, on, wish, seams, Effort(SECONDS, seed=seed), search=None if FULL else engine)
    except (BadInput, CannotApply) as refused:
        assert refused.code in EXPECTED and "\n" not in str(refused)
        return
    sound(plan, wish.spacing)
    flaws_are_clear(plan)
    assert 0 < plan.share <= 1 and plan.length >= 0
