"""An edge as it lies with the darts on it folded: to be redrawn as one run, and opened again."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutonce.draft.piece import Piece
from cutonce.draft.span import Span
from cutonce.errors import CannotApply
from cutonce.geometry.motion import STILL, Motion, turning
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.runs import joined


@dataclass(frozen=True, slots=True)
class FoldedEdge:
    """`spans` end to end with darts folded, as seen from the run's start; `frames` the motion that folds each
    span; `flat` the spans and legs as they lie in the outline."""

    spans: tuple[Span, ...]
    frames: tuple[Motion, ...]
    flat: tuple[Span, ...]

    @property
    def last(self) -> Motion:
        """The motion that folds everything before the run's end."""
        return self.frames[-1]


def folded_edge(piece: Piece, run: Sequence[Span]) -> FoldedEdge:
    """A run of an outline's spans (legs of darts between them left out) with those darts folded.

    Raises CannotApply where the run is interrupted by anything but darts, or a dart's legs differ.
    """
    outline = piece.outline
    n = len(outline)
    k = outline.index(run[0])
    spans: list[Span] = []
    frames: list[Motion] = []
    flat: list[Span] = []
    frame = STILL
    for wanted in run:
        while outline[k % n] != wanted:
            frame = _over_dart(piece, k % n, frame)
            flat += [outline[k % n], outline[(k + 1) % n]]
            k += 2
        spans.append(wanted.moved(frame))
        frames.append(frame)
        flat.append(wanted)
        k += 1
    return FoldedEdge(tuple(spans), tuple(frames), tuple(flat))


def _over_dart(piece: Piece, k: int, frame: Motion) -> Motion:
    one, two = piece.outline[k], piece.outline[(k + 1) % len(piece.outline)]
    if one.label.role != "dart leg" or two.label != one.label:
        raise CannotApply("edge-broken", piece.key, f"the edge is interrupted by the {one.label.key}")
    pivot = one.curve.end
    if abs(abs(one.curve.start - pivot) - abs(two.curve.end - pivot)) > SAME_POINT_MM:
        raise CannotApply(
            "legs-differ",
            piece.key,
            f"the {one.label.key}'s legs are {one.length:.2f} and {two.length:.2f} mm: it folds crooked",
            "true the dart first",
        )
    turn = cmath.phase((one.curve.start - pivot) / (two.curve.end - pivot))
    return frame.after(turning(turn, pivot))


def reopened(piece: Piece, edge: FoldedEdge, new: Sequence[Span]) -> Piece:
    """The piece with the run redrawn: `new` spans in the folded state, in the order of the old ones.

    Mouths of darts go with the edge; their legs stay alike and keep their angle and pivot.
    """
    groups = _grouped(edge.spans, new)
    out: list[Span] = []
    taken = iter(zip(groups, edge.frames, strict=True))
    for span in edge.flat:
        if span.label.role == "dart leg":
            out.append(span)
            continue
        group, frame = next(taken)
        out += [s.moved(frame.inverse()) for s in group]
    for i, span in enumerate(out):
        if span.label.role != "dart leg":
            continue
        if out[i - 1].label.role != "dart leg":
            out[i] = replace(span, curve=replace(span.curve, a=out[i - 1].curve.end))
        elif i + 1 < len(out):
            out[i] = replace(span, curve=replace(span.curve, d=out[i + 1].curve.start))
    outline = piece.outline
    first = outline.index(edge.flat[0])
    rest = (outline[first:] + outline[:first])[len(edge.flat) :]
    return replace(piece, outline=joined([*out, *rest]))


def _grouped(old: Sequence[Span], new: Sequence[Span]) -> list[list[Span]]:
    """New spans by the old span whose material they are."""
    rest = list(new)
    out: list[list[Span]] = []
    for span in old:
        group: list[Span] = []
        while rest:
            group.append(rest.pop(0))
            if group[-1].origin == span.origin and abs(group[-1].hi - span.hi) < SAME_POINT_MM:
                break
        out.append(group)
    if rest or not all(out):
        raise ValueError("the new spans are not those of the run that was folded")
    return out
