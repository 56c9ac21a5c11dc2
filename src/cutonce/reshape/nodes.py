"""Splitting an outline at material places and finding their nodes. Node i is the start of span i."""

from __future__ import annotations

from collections.abc import Iterable

from cutonce.draft.span import Origin, Span
from cutonce.errors import CannotApply
from cutonce.geometry.tolerance import SAME_POINT_MM

Material = tuple[Origin, float]
"""A place on cloth: origin and mm along it at birth."""


def split_outline(outline: tuple[Span, ...], places: Iterable[Material]) -> tuple[Span, ...]:
    """The outline with a node at each place; places that are nodes already change nothing."""
    out = list(outline)
    for origin, at in dict.fromkeys(places):
        for i, span in enumerate(out):
            if span.origin == origin and span.holds(at):
                s = span.arc_at(at)
                if SAME_POINT_MM < s < span.length - SAME_POINT_MM:
                    out[i : i + 1] = span.split(s)
                break
        else:
            raise CannotApply("no-material", "", f"nothing is left of '{origin.name}' at {at:.1f} mm")
    return tuple(out)


def node_at(outline: tuple[Span, ...], place: Material) -> int:
    """The node of a place at which the outline has been split."""
    origin, at = place
    for i, span in enumerate(outline):
        if span.origin == origin:
            if abs(span.arc_at(at)) < 2 * SAME_POINT_MM:
                return i
            if abs(span.arc_at(at) - span.length) < 2 * SAME_POINT_MM:
                follower = (i + 1) % len(outline)
                nxt = outline[follower]
                if nxt.label.role == "dart leg" and _begins_after_dart(outline, follower, place):
                    continue
                return follower
    raise CannotApply("no-node", "", f"the outline has no corner at '{origin.name}' {at:.1f} mm")


def _begins_after_dart(outline: tuple[Span, ...], i: int, place: Material) -> bool:
    """Does the same material place begin again behind the dart at span i? Then that side is the node."""
    after = outline[(i + 2) % len(outline)]
    return after.origin == place[0] and abs(after.arc_at(place[1])) < 2 * SAME_POINT_MM
