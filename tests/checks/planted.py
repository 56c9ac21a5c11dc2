"""Sound drafts, and ways to plant one fault in them. Lengths in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from cutonce.blocks import draft_block
from cutonce.body import Body, body_of
from cutonce.checks import Check, Context
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Opening
from cutonce.draft.span import Label, Span
from cutonce.errors import Finding
from cutonce.geometry.curve import Cubic, Line
from cutonce.geometry.motion import Point
from cutonce.reshape.unfold import unfolded

IDA: Body = body_of(
    "Ida",
    {
        "height": 1680.0,
        "bust_girth": 880.0,
        "waist_girth": 700.0,
        "hip_girth": 950.0,
        "back_waist_length": 400.0,
        "waist_to_hip": 205.0,
        "waist_to_knee": 580.0,
        "neck_base_girth": 370.0,
        "shoulder_length": 122.0,
        "across_back_width": 344.0,
        "scye_depth": 205.0,
        "head_girth": 560.0,
        "bust_span": 180.0,
        "neck_to_bust_point": 270.0,
        "front_waist_length": 430.0,
    },
)


def skirt() -> Draft:
    return draft_block("skirt", "", IDA, length=600.0)


def dress() -> Draft:
    return draft_block("dress", "", IDA, length=600.0)


def bodice() -> Draft:
    return draft_block("bodice", "", IDA)


def whole(draft: Draft) -> Draft:
    """Unfolded, the back left in two with its centre seam."""
    return unfolded(draft, (draft.pieces[1].name,), "unfold")


def altered(draft: Draft, key: str, change: Callable[[Piece], Piece]) -> Draft:
    """One piece changed."""
    return draft.with_pieces([change(draft.piece(key))])


def with_spans(piece: Piece, change: Callable[[Span], Span]) -> Piece:
    return replace(piece, outline=tuple(change(s) for s in piece.outline))


def node_moved(piece: Piece, node: Point, by: Point, step: str) -> Piece:
    """A corner of the outline moved; the spans beside it follow and are marked as made by the step."""

    def follow(span: Span) -> Span:
        start, end = (abs(z - node) < 1e-6 for z in (span.curve.start, span.curve.end))
        if not (start or end):
            return span
        c = span.curve
        a, d = c.a + by * start, c.d + by * end
        curve = Line(a, d) if isinstance(c, Line) else Cubic(a, c.b + by * start, c.c + by * end, d)
        return replace(span, curve=curve, made=step)

    return with_spans(piece, follow)


def edge_start(piece: Piece, label: Label) -> Point:
    return piece.edge(label)[0].curve.start


def edge_end(piece: Piece, label: Label) -> Point:
    return piece.edge(label)[-1].curve.end


def label(piece: Piece, key: str) -> Label:
    return next(e for e in piece.labels if e.key == key)


def with_opening(draft: Draft, seam: str, start: float, length: float, kind: str = "zip") -> Draft:
    return replace(draft, openings=(*draft.openings, Opening(seam, kind, start, length)))  # type: ignore[arg-type]


def found(
    check: Check, draft: Draft, codes: Iterable[str] = (), context: Context | None = None
) -> tuple[Finding, ...]:
    """What a check finds, only findings of these codes where some are named."""
    wanted = tuple(codes)
    said = check(draft, context or Context(body=IDA, order=("first", "fault")))
    return tuple(f for f in said if not wanted or f.code in wanted)
