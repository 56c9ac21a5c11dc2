"""The words on a piece: everything a stranger needs to cut it right from the paper alone."""

from __future__ import annotations

from collections.abc import Sequence

from cutonce.draft.piece import Piece
from cutonce.finishing.finished import FinishedEdge
from cutonce.units import show


def title(piece: Piece) -> str:
    """The piece's name with the wearer's side: "Front", "Left back".

    It begins with a capital, whatever the draft calls the piece.
    """
    return piece.key[:1].upper() + piece.key[1:]


def count(piece: Piece) -> int:
    """How many of this paper piece are cut from single cloth; one laid on the fold is cut once."""
    return 2 if piece.cut == "pair" else 1


def cut_words(piece: Piece) -> str:
    """How it is cut: "cut 1 on the fold", "cut 2, mirrored", "cut 1, right side up"."""
    match piece.cut:
        case "fold":
            return "cut 1 on the fold"
        case "pair":
            return "cut 2, mirrored"
        case "single":
            return "cut 1, right side up"


def allowance_words(edges: Sequence[FinishedEdge]) -> str:
    """The allowances that are included: the commonest first, then each edge that differs, by name.

    Edges whose names differ only in the wearer's side or a part number are named once.
    """
    counts: dict[float, int] = {}
    for edge in edges:
        if edge.kind not in ("fold", "hem"):
            counts[edge.allowance] = counts.get(edge.allowance, 0) + 1
    usual = max(counts, key=lambda a: counts[a], default=0.0)
    words = [f"allowance included: {show(usual, 'mm')}" if usual else "no allowance"]
    others: dict[str, str] = {}
    for edge in edges:
        if edge.kind == "hem":
            others.setdefault(f"{_plain(edge)} {show(edge.allowance, 'mm')}", "")
        elif edge.kind != "fold" and edge.allowance != usual:
            how = "none" if not edge.allowance else show(edge.allowance, "mm")
            others.setdefault(f"{_plain(edge)} {how}", "")
    return ", ".join([*words, *others])


def fullness_lines(edges: Sequence[FinishedEdge]) -> tuple[str, ...]:
    """What is gathered, eased, pleated, stretched or drawn up, an edge a line: on the label even where the
    words find no room beside the edge itself."""
    return tuple(f"{edge.key}: {edge.fullness}" for edge in edges if edge.fullness)


def _plain(edge: FinishedEdge) -> str:
    name = edge.key.removeprefix(f"{edge.wearer} ") if edge.wearer else edge.key
    head, _, last = name.rpartition(" ")
    return head if head and last.isdigit() else name


def label_lines(
    piece: Piece,
    edges: Sequence[FinishedEdge],
    garment: str,
    body: str,
    date: str,
    number: tuple[int, int],
    hand: str,
) -> tuple[str, ...]:
    """The label, the piece's name first. `number` is (n, N): piece n of N; `hand` is said after the cut."""
    grain = {
        "straight": "straight grain: arrow along the selvedge",
        "cross": "cross grain: arrow along the selvedge, piece lies across",
        "bias": "bias: arrow along the selvedge, single layer",
    }[piece.grain.kind]
    lines = [
        title(piece),
        f"{garment}, piece {number[0]} of {number[1]}" if garment else f"piece {number[0]} of {number[1]}",
        f"{cut_words(piece)}{hand}",
        f"wearer's {piece.wearer}" if piece.wearer else "",
        f"for {body}" if body else "",
        date,
        grain,
        allowance_words(edges),
        *fullness_lines(edges),
    ]
    return tuple(line for line in lines if line)
