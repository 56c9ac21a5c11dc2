"""What must hold of every draft after any step, and how steps are called in tests."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import pytest

from cutonce.draft.draft import Draft
from cutonce.errors import Problem
from cutonce.reshape.soundness import crossing, gap
from cutonce.steps import Step
from cutonce.steps.step import Result
from cutonce.validation import validated


def done(step: Step, draft: Draft, step_id: str = "step", **values: Any) -> Result:
    """The step done with values as in a design file; the draft after must be sound."""
    result = step.apply(draft, validated(step.params, values, {}, step_id), step_id)
    sound(result.draft)
    assert all(f.step == step_id for f in result.findings)
    return result


def sound(draft: Draft) -> None:
    """Outlines closed, free of crossings, labels one run each; seams and finishes on edges that are there."""
    keys = [p.key for p in draft.pieces]
    assert len(keys) == len(set(keys))
    for piece in draft.pieces:
        assert gap(piece) == 0, piece.key
        assert piece.area > 0, piece.key
        assert crossing(piece) is None, piece.key
        solid = [s.label for s in piece.outline if s.label.role != "dart leg"]
        starts = [b for a, b in zip([solid[-1], *solid], solid, strict=False) if a != b]
        assert len(starts) == len(set(starts)), f"{piece.key}: an edge in two runs"
        for dart in piece.darts:
            one, two = piece.legs(dart)
            assert abs(one.length - two.length) < 0.01, f"{piece.key}: the {dart.name}'s legs differ"
    names = [s.name for s in draft.seams]
    assert len(names) == len(set(names))
    for seam in draft.seams:
        for side in (seam.a, seam.b):
            assert set(side.labels) <= set(draft.piece(side.piece).labels), seam.name
    for (key, label), _ in draft.finishes:
        assert label in draft.piece(key).labels
    for drawn in draft.drawn:
        assert all(label in draft.piece(key).labels for key, label in drawn.edges)
    for opening in draft.openings:
        assert opening.seam in names


@contextmanager
def refused(problem: type[Problem], code: str, says: str = "") -> Iterator[None]:
    """What is done within is refused with this code, in one line that says this."""
    with pytest.raises(problem) as caught:
        yield
    assert caught.value.code == code, str(caught.value)
    assert says in str(caught.value) and "\n" not in str(caught.value)


def stated(values: Mapping[str, Any]) -> dict[str, Any]:
    """The values that are there: None stands for one left out."""
    return {name: value for name, value in values.items() if value is not None}


def lengths(draft: Draft) -> dict[tuple[str, str], float]:
    return {(p.key, e.key): p.edge_length(e) for p in draft.pieces for e in p.labels}


def unmatched(draft: Draft) -> Mapping[str, float]:
    """Seams whose sides differ from their relation by more than 0.01 mm, and by how much."""
    off = {s.name: s.relation.left_over(draft.side_length(s.a), draft.side_length(s.b)) for s in draft.seams}
    return {name: by for name, by in off.items() if abs(by) > 0.01}


def place(piece: str, edge: str, start: str, by: float, wearer: str | None = None) -> dict[str, str]:
    """A place by tape in mm, as in a design file."""
    found = {"piece": piece, "edge": edge, "from": start, "by": f"{by} mm"}
    return found | ({"wearer": wearer} if wearer else {})
