"""Compile the settling search once and keep it: `python -m cutonce.lay.compiled`, done by `make install`.

Otherwise the first lay on a machine spends its seconds on that.
"""

from __future__ import annotations

from cutonce.geometry.motion import STILL
from cutonce.lay.problem import Bed, Blank, Layout, Problem, Shape

MOST_SECONDS = 120.0
"""Compiling takes some ten seconds; it ends as soon as all is compiled."""


def main() -> None:
    """Lay two squares side by side, which calls everything that is compiled and cannot be bettered."""
    from cutonce.lay.settle import settle

    square = (Shape(STILL, (0j, 100 + 0j, 100 + 100j, 100j)),)
    problem = Problem(Bed(200.0), (Blank("one", "square", square), Blank("two", "square", square)))
    told: list[Layout] = []
    settle(problem, None, MOST_SECONDS, 1, told.append)


if __name__ == "__main__":
    main()
