"""Finished pieces to lay in tests: panels by hand, blocks of a table size, the examples; and an engine."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from shapely import Polygon
from steps.blocks import block

from cutonce.body import read_body
from cutonce.cloth.cloth import Cloth
from cutonce.draft.seam import Seam
from cutonce.draft.span import Wearer
from cutonce.finishing.finish import finished
from cutonce.finishing.finished import (
    Finished,
    FinishedEdge,
    FinishedPiece,
    FoldMark,
    GrainArrow,
)
from cutonce.geometry import path
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.motion import Motion
from cutonce.lay.asked import Asked
from cutonce.lay.first import first_layout
from cutonce.lay.lay import lay
from cutonce.lay.plan import Laid, Plan
from cutonce.lay.problem import Layout, Problem
from cutonce.recipe.file import read_recipe
from cutonce.studio.examples import example_files
from cutonce.studio.prove import prove


def engine(
    problem: Problem,
    *,
    seconds: float,
    seed: int,
    cores: int,
    on_better: Callable[[Layout], None],
    stopped: Callable[[], bool],
    enough: float | None,
) -> Layout:
    """The first legal layout, in place of a search: quick, and the same each time."""
    made = first_layout(problem, 1, stopped)
    on_better(made)
    return made


def problem_of(done: Finished, cloth: Cloth, asked: Asked | None = None) -> tuple[Problem, Plan]:
    """What the search is given (the last part of the cloth), and the plan that came of it."""
    given: list[Problem] = []

    def spying(problem: Problem, **how: Any) -> Layout:
        given.append(problem)
        return engine(problem, **how)

    plan = lay(done, cloth, asked, search=spying)
    return given[-1], plan


def panel(
    key: str,
    width: float,
    height: float,
    cut: str = "single",
    warp: complex = 1j,
    words: str = "straight grain",
    wearer: Wearer | None = None,
    slope: float = 0.0,
) -> FinishedPiece:
    """A panel from x = 0, its centre (the fold of a half), to its side, which leans in by `slope` to the top.

    Edges: hem, side, waist, centre front. No allowances: its cutting line is its sewing line.
    """
    corners = (0j, complex(width, 0), complex(width - slope, height), complex(0, height))
    names = ("hem", "side", "waist", "centre front")
    lines = [(Line(a, b),) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    middle, warp = complex(width / 2, height / 2), warp / abs(warp)
    arrow = GrainArrow(middle - 0.2 * height * warp, middle + 0.2 * height * warp, words)
    outline: tuple[Curve, ...] = tuple(c for line in lines for c in line)
    folded = cut == "fold"
    how = {"fold": "cut 1 on the fold", "pair": "cut 2, mirrored", "single": "cut 1, right side up"}[cut]
    edges = tuple(
        FinishedEdge(n, n, wearer, "fold" if folded and n == names[3] else "seam", 0.0, line, line, "sew")  # type: ignore[arg-type]
        for n, line in zip(names, lines, strict=True)
    )
    title = key.capitalize()
    return FinishedPiece(
        key,
        title,
        wearer,
        outline,
        outline,
        edges,
        arrow,
        2 if cut == "pair" else 1,
        cut,  # type: ignore[arg-type]
        (title, "a test, piece 1 of 1", how, words),
        fold=FoldMark(lines[3], "lay on the fold") if folded else None,
    )


def garment(*pieces: FinishedPiece) -> Finished:
    return Finished("a test", "", "", pieces)


@cache
def example(name: str) -> tuple[Finished, tuple[Seam, ...]]:
    """A shipped example on its body, and its seams."""
    design, body = example_files(name)
    proven = prove(read_recipe(design.read_text(), "design.toml"), read_body(body.read_text()))
    return proven.finished, proven.replayed.draft.seams


@cache
def of_block(name: str, size: str = "12", whole: bool = False) -> tuple[Finished, tuple[Seam, ...]]:
    """A block of a table size, half or unfolded."""
    draft = block(name, size, whole)
    return finished(draft, name), draft.seams


def polygon(piece: FinishedPiece, motion: Motion) -> Polygon:
    """The cutting line where it lies, from the curves themselves, to 0.005 mm."""
    points = [motion(p) for p in path.flattened(piece.cutting, 0.005)]
    return Polygon([(p.real, p.imag) for p in points]).buffer(0)


def laid_polygon(laid: Laid) -> Polygon:
    return polygon(laid.piece, laid.motion)


def laid(plan: Plan, key: str) -> Laid:
    return next(x for x in plan.laid if x.key == key)


def arrow(one: Laid) -> complex:
    """The unit direction of the warp arrow on the cloth."""
    v = one.motion.of_vector(one.piece.grain.end - one.piece.grain.start)
    return v / abs(v)


def sound(plan: Plan, spacing: float = 0.0) -> None:
    """No two pieces overlap by more than 0.01 mm, nothing is off the cloth, all are numbered once."""
    assert [x.number for x in plan.laid] == list(range(1, len(plan.laid) + 1))
    assert len({x.key for x in plan.laid}) == len(plan.laid)
    for i, section in enumerate(plan.sections):
        shapes = [laid_polygon(x) for x in plan.laid if x.section == i]
        for k, a in enumerate(shapes):
            low_x, low_y, high_x, high_y = a.bounds
            assert low_y > -0.01 and high_y < section.width + 0.01
            assert low_x > section.start - 0.01 and high_x < section.end + 0.01
            core = a.buffer(-0.01)
            for b in shapes[:k]:
                assert not core.intersects(b)
                assert a.distance(b) > spacing - 0.02
