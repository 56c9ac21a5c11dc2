"""Low necklines and cut-away armholes gape unless a wedge is taken out towards the bust point."""

from __future__ import annotations

from collections.abc import Iterator

from cutonce.checks.context import Context, Found
from cutonce.checks.free_edges import free_edges
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import BLOCK, GAPE_CLOSED, Label, Landmark
from cutonce.errors import Finding
from cutonce.geometry.meet import nearest
from cutonce.geometry.path import point_at
from cutonce.reshape.widths import BUST_CIRCLE_MM

LOW_MM = 150.0
"""A neckline that passes the bust point nearer than two bust circles is low."""

LOW_NECK_MM, NEAR_NECK_MM, ARMHOLE_MM = 6.4, 9.5, 12.7
"""Per half front at the bust circle: a low neckline, one near or below the bust point (19 mm in all), a
cut-away armhole. Published (dresspatternmaking.com, standard contouring amounts)."""


def gape(draft: Draft, context: Context) -> Found:
    """Each free neckline and armhole of a front that passes near a bust point, where no gape was closed.

    Only edges that a step has drawn: a block's own neckline and armhole lie where they should.
    """
    out: list[Finding] = []
    for piece, label in free_edges(draft, ("neck", "style line", "strap", "armhole")):
        if piece.face == "front" and any(s.made != BLOCK for s in piece.edge(label)):
            for point in piece.points:
                if point.name == "bust point" and (label.wearer or point.wearer) == point.wearer:
                    out.extend(_at(draft, piece, label, point, context))
    return tuple(out)


def _at(draft: Draft, piece: Piece, label: Label, bust: Landmark, context: Context) -> Iterator[Finding]:
    spans = piece.edge(label)
    path = tuple(s.curve for s in spans)
    arc, distance = nearest(path, bust.at)
    if distance > (BUST_CIRCLE_MM * 1.2 if label.role == "armhole" else LOW_MM) or _closed(
        draft, piece, bust
    ):
        return
    if label.role == "armhole":
        amount = ARMHOLE_MM
    else:
        below = min(s.curve.bounds[1] for s in spans) < bust.at.imag
        amount = NEAR_NECK_MM if below or distance < BUST_CIRCLE_MM else LOW_NECK_MM
    far = max(abs(s.curve.at(k / 4) - bust.at) for s in spans for k in range(5))
    at_edge = amount * far / BUST_CIRCLE_MM
    side = f"{bust.wearer} " if bust.wearer else ""
    yield Finding(
        "warning",
        "gape",
        f"{piece.key}, {label.key}",
        f"it passes {distance:.0f} mm from the {side}bust point and nothing has been taken out: it gapes "
        f"by about {amount:.0f} mm at 75 mm from the bust point, {at_edge:.0f} mm at its far end",
        step=context.last_step(spans),
        hint=f"close a gape of {amount:.0f} mm at 75 mm from the bust point, and tape the edge",
        expected_mm=amount,
        found_mm=0.0,
        spot=(piece.key, point_at(path, arc)),
    )


def _closed(draft: Draft, piece: Piece, bust: Landmark) -> bool:
    """Whether a step has closed a gape on this piece, on this side."""
    return any(
        g.reason == GAPE_CLOSED and piece.name in g.piece and g.label.wearer in (None, bust.wearer)
        for g in draft.gone
    )
