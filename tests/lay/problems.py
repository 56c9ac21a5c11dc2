"""Problems to lay in tests: blanks of random outlines, plain or with rules, spacing, flaws."""

from __future__ import annotations

import cmath
import math

from hypothesis import strategies as st

from cutonce.geometry.motion import Motion, shifting, turning
from cutonce.lay.problem import Bed, Blank, Problem, Ring, Rule, Shape


def shape(ring: Ring, motion: Motion, along: Rule | None = None, across: Rule | None = None) -> Shape:
    """A ring in its piece's frame as it lies after `motion`, put to least x and y of 0."""
    turned = [motion(p) for p in ring]
    low = complex(min(p.real for p in turned), min(p.imag for p in turned))
    placed = shifting(-low).after(motion)
    outline = tuple(placed(p) for p in (reversed(ring) if motion.mirror else ring))
    return Shape(placed, outline, along, across)


def blank(
    key: str,
    ring: Ring,
    degrees: tuple[float, ...] = (0.0, 180.0),
    along: Rule | None = None,
    across: Rule | None = None,
) -> Blank:
    shapes = tuple(shape(ring, turning(math.radians(d)), along, across) for d in degrees)
    return Blank(key, key, shapes)


def rectangle(width: float, height: float) -> Ring:
    return (0j, complex(width, 0), complex(width, height), complex(0, height))


def disc(centre: complex, radius: float, corners: int = 16) -> Ring:
    return tuple(centre + cmath.rect(radius, math.tau * k / corners) for k in range(corners))


@st.composite
def rings(draw: st.DrawFn, most: float = 220.0) -> Ring:
    """A star-shaped ring, often with bays: radii between a third of `most` / 2 and all of it."""
    n = draw(st.integers(5, 12))
    radii = draw(st.lists(st.floats(most / 6, most / 2), min_size=n, max_size=n))
    return tuple(cmath.rect(r, math.tau * k / n) for k, r in enumerate(radii))


RULES = st.one_of(st.none(), st.builds(Rule, st.floats(0, 60), st.floats(15, 120)))


@st.composite
def problems(draw: st.DrawFn, plain: bool = False) -> Problem:
    """Three to seven blanks on a bed 400 mm wide; unless plain, with rules, spacing and flaws."""
    blanks = []
    for k in range(draw(st.integers(3, 7))):
        along, across = (None, None) if plain else (draw(RULES), draw(RULES))
        degrees = draw(st.sampled_from([(0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (45.0, 225.0)]))
        blanks.append(blank(f"blank {k}", draw(rings()), degrees, along, across))
    if plain:
        return Problem(Bed(400.0), tuple(blanks))
    spots = draw(st.lists(st.tuples(st.floats(0, 500), st.floats(0, 400), st.floats(5, 40)), max_size=3))
    avoid = tuple(disc(complex(x, y), r) for x, y, r in spots)
    spacing = draw(st.sampled_from([0.0, 3.0, 10.0]))
    return Problem(Bed(400.0, avoid=avoid), tuple(blanks), spacing)
