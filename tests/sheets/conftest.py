"""A few pieces with all kinds of lines, and sheets made of them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cutonce.finishing.finished import (
    DrawnDart,
    Drill,
    FinishedEdge,
    FinishedPiece,
    FoldMark,
    GrainArrow,
    MarkedLine,
    Notch,
    PointMark,
    Unsewn,
)
from cutonce.geometry import path as paths
from cutonce.geometry.curve import Cubic, Line
from cutonce.sheets.drawing import Group, Stroke, Text, double_arrow
from cutonce.sheets.pens import Pen

PieceMaker = Callable[..., Group]


def make_piece(key: str, width: float, height: float, at: complex = 0j) -> Group:
    """A front with a hollow side and neck; its curves are real cubics."""

    def p(x: float, y: float) -> complex:
        return at + complex(x * width, y * height)

    outline = (
        Line(p(0, 0), p(1, 0)),
        Cubic(p(1, 0), p(1, 0.3), p(0.75, 0.4), p(0.8, 0.7)),
        Line(p(0.8, 0.7), p(0.55, 1)),
        Cubic(p(0.55, 1), p(0.5, 0.85), p(0.1, 0.85), p(0, 0.85)),
        Line(p(0, 0.85), p(0, 0)),
    )
    items = (
        Stroke(outline, Pen.CUT, closed=True),
        Stroke((Line(p(0.05, 0.05), p(0.9, 0.05)),), Pen.SEW),
        Stroke((Line(p(0.02, 0.5), p(0.7, 0.5)),), Pen.LANDMARK),
        Stroke((Line(p(0.3, 0), p(0.35, 0.3)), Line(p(0.35, 0.3), p(0.4, 0))), Pen.DART),
        *double_arrow(p(0.5, 0.15), p(0.5, 0.7), Pen.GRAIN),
        Text(p(0.1, 0.4), f"{key} cut 1", 5.0),
    )
    return Group(key, key.title(), items, outline)


@pytest.fixture
def piece() -> PieceMaker:
    return make_piece


def make_front() -> FinishedPiece:
    """A half front on the fold with one of everything, made by hand: 10 mm allowances, a 40 mm hem."""
    neck, shoulder = 0 + 400j, 120 + 430j
    sewing_corners = (0j, 220 + 0j, 210 + 180j, 230 + 300j, shoulder, neck)
    hem = (Line(sewing_corners[0], sewing_corners[1]),)
    side = (
        Line(sewing_corners[1], 213 + 120j),
        Line(212 + 140j, sewing_corners[2]),
        Line(sewing_corners[2], sewing_corners[3]),
    )
    armhole = (Cubic(sewing_corners[3], 190 + 320j, 130 + 380j, shoulder),)
    neckline = (Cubic(shoulder, 80 + 420j, 60 + 400j, neck),)
    fold = (Line(neck, 0j),)
    cutting = paths.polyline(
        (-40j, 220 - 40j, 231 - 5j, 221 + 180j, 242 + 302j, 125 + 442j, 70 + 412j, 406j, -40j)
    )
    tip = 120 + 130j
    legs = (Line(213 + 120j, tip), Line(tip, 212 + 140j))
    label = (
        "Front",
        "Concert dress, for Ida",
        "cut 1 on the fold",
        "bust 92 cm, 3 May 2026",
        "15 mm included",
    )
    slanted = (-1 + 1j) / abs(1 + 1j)
    return FinishedPiece(
        key="front",
        title="Front",
        wearer=None,
        sewing=(
            *hem,
            side[0],
            Line(213 + 120j, tip),
            Line(tip, 212 + 140j),
            *side[1:],
            *armhole,
            *neckline,
            *fold,
        ),
        cutting=cutting,
        edges=(
            FinishedEdge("hem", "hem", None, "hem", 40.0, hem, (), "turn up 40 mm"),
            FinishedEdge("side", "side", None, "seam", 10.0, side, (), "sew 10 mm"),
            FinishedEdge("armhole", "armhole", None, "bound", 0.0, armhole, (), "bind"),
            FinishedEdge("neck", "neck", None, "faced", 6.0, neckline, (), "face, 6 mm"),
            FinishedEdge("centre front", "centre front", None, "fold", 0.0, fold, (), "lay on the fold"),
        ),
        grain=GrainArrow(60 + 60j, 60 + 320j, "straight grain"),
        count=1,
        cut="fold",
        label=label,
        notches=(
            Notch("waist", "side", "landmark", 221 + 180j, 216 + 180j, 210 + 180j, 1j),
            Notch(
                "balance",
                "armhole",
                "balance",
                195 + 360j,
                191 + 356j,
                185 + 350j,
                slanted,
                2,
            ),
        ),
        drills=(Drill("side dart", tip + 12),),
        darts=(
            DrawnDart(
                "side dart",
                None,
                ((legs[0],), (legs[1],)),
                (Line(212.5 + 130j, tip),),
                (tip,),
                20.0,
                "press down",
            ),
        ),
        lines=(
            MarkedLine("waist", "landmark", (Line(0 + 180j, 210 + 180j),)),
            MarkedLine("casing", "stitching", (Line(0 + 20j, 220 + 20j),)),
        ),
        points=(PointMark("bust point", 95 + 230j),),
        unsewn=(Unsewn("slit", (Line(220 + 0j, 217 + 50j),), (220 + 0j, 217 + 50j), "leave open 50 mm"),),
        fold=FoldMark(fold, "lay on the fold of the cloth"),
    )


@pytest.fixture
def front() -> FinishedPiece:
    return make_front()
