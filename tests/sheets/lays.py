"""Lays by hand to draw: the pieces of an example in rows, one after the other. No search, no overlap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from cutonce.cloth.cloth import Cloth, Remnant
from cutonce.finishing.finished import Finished, FinishedPiece
from cutonce.finishing.mirror import mirrored, opened_out
from cutonce.geometry import path as paths
from cutonce.geometry.motion import MIRROR, Motion, shifting
from cutonce.lay.plan import Laid, Paper, Plan, Section, Way
from cutonce.studio.examples import example_files
from cutonce.studio.inputs import read_design, read_one_body
from cutonce.studio.prove import prove

GAP_MM = 8.0


@lru_cache
def example(name: str) -> Finished:
    design, body = example_files(name)
    return prove(read_design(design), read_one_body(body), "25 November 2026").finished


@dataclass(frozen=True, slots=True)
class Cut:
    key: str
    piece: FinishedPiece
    layers: int = 1
    on_fold: bool = False
    paper: Paper = "face up"


def open_cuts(done: Finished) -> list[Cut]:
    """Single layer: halves opened out, the second of a pair turned over."""
    out: list[Cut] = []
    for piece in done.pieces:
        match piece.cut:
            case "fold":
                out.append(Cut(piece.key, opened_out(piece), paper="opened out"))
            case "pair":
                out.append(Cut(f"left {piece.key}", piece))
                right = replace(mirrored(piece, MIRROR), key=f"right {piece.key}")
                out.append(Cut(f"right {piece.key}", right, paper="face down"))
            case "single":
                out.append(Cut(piece.key, piece))
    return out


def folded_cuts(done: Finished) -> list[Cut]:
    """Folded lengthwise: halves on the fold, pairs through both layers."""
    return [Cut(p.key, p, 2, p.cut == "fold") for p in done.pieces]


def in_rows(
    cuts: Sequence[Cut],
    width: float,
    margin: float = 0.0,
    section: int = 0,
    start: float = 0.0,
    first: int = 1,
) -> tuple[list[Laid], float]:
    """Each cut with its arrow along the cloth, in columns across it, those on the fold at y = 0; the end."""
    laid: list[Laid] = []
    x, y, deep = start, margin, 0.0
    for number, cut in enumerate(cuts, start=first):
        arrow = cut.piece.grain.end - cut.piece.grain.start
        turn = (arrow / abs(arrow)).conjugate()
        if cut.on_fold:
            turn = _fold_down(cut.piece, turn)
        elif number % 3 == 0:
            turn = -turn
        low_x, low_y, high_x, high_y = paths.bounds(paths.moved(cut.piece.cutting, Motion(turn)))
        if laid and (cut.on_fold or y + high_y - low_y > width - margin):
            x, y, deep = x + deep + GAP_MM, margin, 0.0
        at = complex(x - low_x, (0.0 if cut.on_fold else y) - low_y)
        motion = shifting(at).after(Motion(turn))
        laid.append(Laid(number, cut.key, cut.piece, motion, section, cut.layers, cut.on_fold, cut.paper))
        y, deep = at.imag + high_y + GAP_MM, max(deep, high_x - low_x)
    return laid, x + deep


def _fold_down(piece: FinishedPiece, turn: complex) -> complex:
    """The turn that brings a half's fold edge to the low side."""
    assert piece.fold is not None
    box = paths.bounds(paths.moved(piece.cutting, Motion(turn)))
    fold = (turn * piece.fold.path[0].start).imag
    return turn if fold - box[1] < box[3] - fold else -turn


def open_lay(name: str, cloth: Cloth) -> Plan:
    laid, end = in_rows(open_cuts(example(name)), cloth.width, (cloth.width - cloth.usable) / 2)
    section = Section("cloth", "open", 0.0, end, cloth.width, cloth.length)
    return Plan(cloth, (section,), tuple(laid), end, 0.7)


def folded_lay(name: str, cloth: Cloth, way: Way = "folded lengthwise") -> Plan:
    half = cloth.width / 2 if way == "folded lengthwise" else cloth.width
    laid, end = in_rows(folded_cuts(example(name)), half)
    room = cloth.length if way == "folded lengthwise" or cloth.length is None else cloth.length / 2
    section = Section("cloth", way, 0.0, end, half, room)
    return Plan(cloth, (section,), tuple(laid), end, 0.7)


def part_folded_lay(name: str, cloth: Cloth) -> Plan:
    """Halves on the fold first, the rest on open cloth behind it."""
    done = example(name)
    folded = [c for c in folded_cuts(done) if c.on_fold]
    kept = {c.key for c in folded}
    single = [c for c in open_cuts(done) if c.key not in kept]
    one, middle = in_rows(folded, cloth.width / 2)
    two, end = in_rows(single, cloth.width, 0.0, 1, middle + GAP_MM, len(one) + 1)
    sections = (
        Section("folded part", "folded lengthwise", 0.0, middle + GAP_MM, cloth.width / 2),
        Section("open part", "open", middle + GAP_MM, end, cloth.width),
    )
    return Plan(cloth, sections, (*one, *two), end, 0.65)


def remnant_lay(name: str, cloth: Cloth) -> Plan:
    """The smallest pieces on the cloth's one remnant, the rest on its length."""
    (remnant,) = cloth.remnants
    cuts = sorted(open_cuts(example(name)), key=lambda c: abs(paths.area(c.piece.cutting)))
    small, rest = cuts[:3], cuts[3:]
    size = _size(remnant)
    one, _ = in_rows(small, size.imag)
    start = size.real + 10.0
    two, end = in_rows(rest, cloth.width, 0.0, 1, start, len(one) + 1)
    sections = (
        Section(remnant.name, "open", 0.0, size.real, size.imag, size.real),
        Section("cloth", "open", start, end, cloth.width, cloth.length),
    )
    return Plan(cloth, sections, (*one, *two), end, 0.65)


def _size(remnant: Remnant) -> complex:
    xs, ys = [p.real for p in remnant.outline], [p.imag for p in remnant.outline]
    return complex(max(xs) - min(xs), max(ys) - min(ys))


def turned_off(plan: Plan, key: str, degrees: float) -> Plan:
    """The same lay with one piece turned a little off its grain about its arrow's start."""
    laid = []
    for one in plan.laid:
        if one.key == key:
            pivot = one.motion(one.piece.grain.start)
            w = complex(math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
            one = replace(one, motion=Motion(w, pivot - w * pivot).after(one.motion))
        laid.append(one)
    return replace(plan, laid=tuple(laid))
