"""Blocks of several sizes of the trade table, half and unfolded, for tests of steps over valid pieces."""

from __future__ import annotations

from functools import cache

from cutonce.body import Body, body_from_size, body_of, estimate
from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label
from cutonce.recipe.block import drafted_block
from cutonce.recipe.recipe import BlockEntry
from cutonce.reshape.places import Chain, neighbours
from cutonce.reshape.unfold import unfolded

SIZES = ("6", "12", "18")
BLOCKS = ("bodice", "dress", "skirt")


def size_12() -> Body:
    """The handbook's size 12 (from memory): bust 88, waist 68, hips 94, nape to waist 41, hip 20.6 down."""
    return body_of(
        "size 12",
        {
            "bust_girth": 880.0,
            "waist_girth": 680.0,
            "hip_girth": 940.0,
            "back_waist_length": 410.0,
            "neck_base_girth": 370.0,
            "shoulder_length": 122.5,
            "across_back_width": 344.0,
            "scye_depth": 210.0,
            "waist_to_hip": 206.0,
            "waist_to_knee": 585.0,
        },
    )


@cache
def block(name: str, size: str, whole: bool) -> Draft:
    """A block for a size of the trade table (sewingscholar.blogspot.com 2011/02), 168 cm tall."""
    body = body_from_size("trade-misses", size)
    tall = body.with_measures(body_of("", {"height": 1680.0}).measures)
    half = drafted_block(BlockEntry(name), estimate(tall, everything=True))[0]
    backs = tuple(p.name for p in half.pieces if p.face == "back")
    return unfolded(half, backs, "unfold") if whole else half


def place_on(piece: Piece, label: Label, share: float) -> dict[str, object]:
    """A place on an edge as a design file gives it."""
    start = neighbours(Chain(piece, piece.edge(label)))[0].key
    place: dict[str, object] = {"piece": piece.name, "edge": label.name, "from": start, "share": share}
    wearer = label.wearer or piece.wearer
    return {**place, "wearer": wearer} if wearer else place
