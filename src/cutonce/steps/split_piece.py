"""Split a piece in two along a line, with a seam between the parts: panels and yokes, darts taken in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, InnerLine, Piece
from cutonce.draft.seam import Seam
from cutonce.draft.span import EdgeRole, Label
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.quantities import Length
from cutonce.reshape.drawn_line import DrawnLine, Shape, draw, follow, keeps_left, leaving
from cutonce.reshape.folded_smooth import smooth_when_folded, words
from cutonce.reshape.keep_parts import free_label, keep_both, with_ends_divided
from cutonce.reshape.panel_line import Way, along_guide, divided_by, in_order
from cutonce.reshape.places import Spot, pieces_named
from cutonce.reshape.runs import with_runs
from cutonce.reshape.smooth_corners import corners_smoothed
from cutonce.steps.line_parameters import CourseParams, PartNames, ends_of, line_words, shape_of
from cutonce.steps.parameters import Params, PlaceParams
from cutonce.steps.step import Example, Result, Step

_TRUED_AT_MOST_MM = 10.0
"""Two sides of a new seam that differ by more than this are not trued to each other: that would be ease."""

_DIFFER_MM = 0.01
"""Sides of the new seam that part by less are equal."""

_DETOUR = 1.8
"""A seam that would be longer than this many times its straight line, to take in a dart, misses that dart."""


class GuideParams(Params):
    """A line inside a piece: `{piece = "front", line = "panel"}`."""

    piece: str = Field(description="the piece's name")
    line: str = Field(description="the guide's or landmark line's name")
    wearer: Literal["left", "right"] | None = Field(None, description="the wearer's side, where both exist")


class SplitPiece(CourseParams):
    """Where the seam runs, the darts that go into it, and what the parts are called."""

    start: PlaceParams | None = Field(
        None, description="where the seam starts, on an edge or at a dart's mouth"
    )
    end: PlaceParams | None = Field(None, description="where it ends")
    guide: GuideParams | None = Field(None, description="or a guide line of the piece, run on to the edges")
    darts: tuple[str, ...] = Field((), description="darts that the seam takes in")
    parts: PartNames = Field(description="what the two parts are called")
    seam: str = Field("panel seam", description="the name of the seam and of its edges")
    role: EdgeRole = Field("style line", description="what the new edges are for")
    relation: Literal["equal", "ease"] = Field(
        "equal", description="where darts make the sides differ: true them to each other, or ease one in"
    )
    smooth: Length = Field(
        30.0, description="how far corners at darts are smoothed to either side; 0: not at all"
    )

    @model_validator(mode="after")
    def _one_course(self) -> Self:
        if (self.guide is None) != (self.start is not None and self.end is not None) or (
            self.guide is not None and (self.start is not None or self.end is not None)
        ):
            raise BadInput("line-ends", "split_piece", "say 'start' and 'end', or a 'guide' alone")
        if self.guide is not None and (self.through or self.depth or self.darts):
            raise BadInput("line-shape", "guide", "a guide line takes no 'through', 'depth' or 'darts'")
        if self.depth and (self.darts or not self.toward):
            what = "a seam that takes darts in takes no 'depth'" if self.darts else "say 'toward' which way"
            raise BadInput("line-shape", "depth", what)
        if self.smooth < 0:
            raise BadInput("out-of-range", "smooth", "'smooth' cannot be less than 0")
        return self


@dataclass(frozen=True, slots=True)
class _Parts:
    """A piece in two: `draft` with the edges at the ends divided, `old` the piece's key, the part named first
    and the other, the new edge's label in both, and what there is to say."""

    draft: Draft
    old: str
    one: Piece
    two: Piece
    label: Label
    said: tuple[str, ...]


def apply(draft: Draft, params: SplitPiece, step: str) -> Result:
    parts = (
        _along_guide(draft, params, params.guide, step) if params.guide else _along_line(draft, params, step)
    )
    one, two, said = parts.one, parts.two, list(parts.said)
    if params.darts:
        one, two, more = _trued(one, two, parts.label, params, step)
        said += more
    named = (replace(one, name=params.parts.names[0]), replace(two, name=params.parts.names[1]))
    draft, seam = keep_both(parts.draft, parts.old, named, parts.label, params.seam, step)
    if params.smooth and not params.darts:
        draft, more = _smooth_when_folded(draft, seam, params, step)
        said += more
    return Result(draft, (_about(draft, seam, said, step),))


def _along_guide(draft: Draft, params: SplitPiece, guide: GuideParams, step: str) -> _Parts:
    piece, lines = _guide_lines(draft, guide)
    a, b, course = along_guide(piece, lines)
    left = keeps_left(piece, a, b, params.parts.first)
    draft = with_ends_divided(draft, (a, b))
    piece = draft.piece(piece.key)
    label = free_label(piece, Label(params.seam, params.role))
    drawn = follow(piece, a, b, course, label, step)
    one, two = (drawn.left, drawn.right) if left else (drawn.right, drawn.left)
    return _Parts(draft, piece.key, one, two, label, drawn.said)


def _along_line(draft: Draft, params: SplitPiece, step: str) -> _Parts:
    if params.start is None or params.end is None:
        raise ValueError("refused by the parameters")
    piece, a, b = ends_of(draft, params.start, params.end)
    shape = shape_of(draft, params, piece, a, b)
    left = keeps_left(piece, a, b, params.parts.first)
    draft = with_ends_divided(draft, (a, b))
    piece = draft.piece(piece.key)
    label = free_label(piece, Label(params.seam, params.role))
    if params.darts:
        both = divided_by(piece, _way(piece, params, a, b, shape, left), label, step)
        drawn = DrawnLine(both.one, both.two, ())
    else:
        drawn = draw(piece, a, b, shape, left, label, step, both=True)
    one, two = (drawn.left, drawn.right) if left else (drawn.right, drawn.left)
    said = (f"drawn with the {' and the '.join(drawn.folded)} folded",) if drawn.folded else ()
    return _Parts(draft, piece.key, one, two, label, said + drawn.said)


def _guide_lines(draft: Draft, guide: GuideParams) -> tuple[Piece, tuple[InnerLine, ...]]:
    """The one piece with lines of that name, and those lines."""
    found = pieces_named(draft, guide.piece, guide.wearer)
    lines = [
        (p, tuple(x for x in p.lines if x.name == guide.line and guide.wearer in (None, x.wearer, p.wearer)))
        for p in found
    ]
    holds = [pair for pair in lines if pair[1]]
    if len(holds) == 1:
        return holds[0]
    names = ", ".join(sorted({x.name for p in found for x in p.lines})) or "none"
    what = (
        f"more than one piece has a line '{guide.line}'"
        if holds
        else f"no line '{guide.line}'; it has: {names}"
    )
    raise CannotApply("no-line", guide.piece, what, "name the wearer's side" if holds else "")


def _way(piece: Piece, params: SplitPiece, a: Spot, b: Spot, shape: Shape, left: bool) -> Way:
    """The route through the darts named, those that open on the edge at its ends."""
    ends: list[Spot | Dart] = [a, b]
    headings: list[complex | None] = [
        leaving(piece, a, shape.start, b.point - a.point, not left),
        leaving(piece, b, shape.end, a.point - b.point, left),
    ]
    doubles: list[DoubleDart] = []
    wearer = a.label.wearer if a.label else None
    for name in params.darts:
        double = [d for d in piece.double_darts if d.name == name and wearer in (None, d.wearer)]
        if double:
            _refuse_detour(piece, double[0], a, b)
            doubles += double[:1]
            continue
        dart = piece.dart(name, wearer)
        at = [k for k, spot in enumerate((a, b)) if _opens_at(piece, dart, spot.point)]
        if not at:
            raise CannotApply(
                "dart-off-seam",
                piece.key,
                f"the {name} does not open where the seam starts or ends",
                "move it there first, or start the seam at its mouth",
            )
        ends[at[0]] = dart
        headings[at[0]] = piece.pivot(dart) - (a, b)[at[0]].point
    _refuse_left_dart(piece, params, [end for end in ends if isinstance(end, Spot)])
    through = in_order(a.point, b.point, (*shape.through, *doubles))
    arrive = headings[1]
    return Way(ends[0], ends[1], through, headings[0], None if arrive is None else -arrive)


def _refuse_left_dart(piece: Piece, params: SplitPiece, spots: Sequence[Spot]) -> None:
    """A seam that takes darts in, and starts or ends at the mouth of one that it does not take in."""
    for dart in piece.darts:
        if any(_opens_at(piece, dart, spot.point) for spot in spots):
            message = f"the seam runs to the mouth of the {dart.name} and does not take it in"
            hint = f"add it to 'darts' ({', '.join(params.darts)}), or end beside it"
            raise CannotApply("dart-left", piece.key, message, hint)


def _refuse_detour(piece: Piece, dart: DoubleDart, a: Spot, b: Spot) -> None:
    """A dart pointed at both ends that lies nowhere near the way from end to end."""
    way = abs(dart.middle - a.point) + abs(b.point - dart.middle)
    if way > _DETOUR * abs(b.point - a.point):
        message = (
            f"the {dart.name} lies far from the seam: its ends are {abs(b.point - a.point):.0f} mm apart, "
        )
        message += f"and by way of the dart {way:.0f} mm"
        raise CannotApply("dart-off-seam", piece.key, message, "leave the dart out, or move the seam's ends")


def _opens_at(piece: Piece, dart: Dart, z: complex) -> bool:
    one, two = piece.legs(dart)
    return min(abs(one.curve.start - z), abs(two.curve.end - z)) < SAME_POINT_MM


def _trued(
    one: Piece, two: Piece, label: Label, params: SplitPiece, step: str
) -> tuple[Piece, Piece, list[str]]:
    """Both parts with the new edge smoothed where darts went in, and trued to one length where asked."""
    lengths = one.edge_length(label), two.edge_length(label)
    said = [f"without smoothing the sides are {lengths[0]:.1f} and {lengths[1]:.1f} mm"]
    if not params.smooth:
        return one, two, said
    runs = one.edge(label), two.edge(label)
    done = [corners_smoothed(run, params.smooth, step) for run in runs]
    more = done[0].length_mm - done[1].length_mm
    if params.relation == "equal":
        if abs(more) > _TRUED_AT_MOST_MM:
            raise CannotApply(
                "sides-differ",
                one.key,
                f"the sides of the {label.name} are {done[0].length_mm:.1f} and {done[1].length_mm:.1f} mm: "
                "too far apart to be trued to each other",
                "say relation = 'ease', or make the darts' legs alike",
            )
        short = 0 if more < 0 else 1
        done[short] = corners_smoothed(runs[short], params.smooth, step, abs(more))
    off = max(d.deviation_mm for d in done)
    said.append(f"smoothed over {params.smooth:.0f} mm to either side of each corner, by up to {off:.1f} mm")
    new = [with_runs(p, [(run, d.spans)]) for p, run, d in zip((one, two), runs, done, strict=True)]
    return new[0], new[1], said


def _smooth_when_folded(draft: Draft, seam: Seam, params: SplitPiece, step: str) -> tuple[Draft, list[str]]:
    """Both sides of the seam drawn as they run with the darts that open on them folded, lengths kept."""
    try:
        done = [
            smooth_when_folded(draft.piece(side.piece), side.labels, 2 * params.smooth, step)
            for side in (seam.a, seam.b)
        ]
    except CannotApply as problem:
        return draft, [f"left as it falls at the darts: {problem.message}"]
    said = words(done)
    return draft.with_pieces([d.piece for d in done]), [said] if said else []


def _about(draft: Draft, seam: Seam, said: list[str], step: str) -> Finding:
    a, b = draft.side_length(seam.a), draft.side_length(seam.b)
    length = f"{a:.1f} mm long on both sides" if abs(a - b) < _DIFFER_MM else f"{a:.1f} and {b:.1f} mm long"
    text = f"the {seam.name} joins {seam.a.piece} and {seam.b.piece}, {length} ({seam.relation.words()})"
    return Finding("note", "piece-split", seam.a.piece, "; ".join([text, *said]), step)


def sentence(params: SplitPiece) -> str:
    if params.guide is not None:
        course = f"along the {params.guide.piece}'s {params.guide.line}"
        piece = params.guide.piece
    elif params.start is not None and params.end is not None:
        course, piece = line_words(params.start, params.end, params), params.start.piece
    else:
        raise ValueError("refused by the parameters")
    darts = f", taking in the {' and the '.join(params.darts)}" if params.darts else ""
    return f"Split the {piece} {course}{darts}, into {params.parts.names[0]} and {params.parts.names[1]}."


STEP = Step(
    name="split_piece",
    title="Split a piece",
    purpose=(
        "Divide a piece into panels or a yoke along a line or a guide, with a seam between them; darts on "
        "its way go into the seam, so that each side follows the dart's side next to it."
    ),
    holds=(
        "The new seam's sides are equal within 0.01 mm, or declared as ease; edges that the line ends on are "
        "divided with their partners; the parts' areas sum to the piece's, darts taken in left out, unless "
        "darts open on the seam: it is then drawn smooth with them folded, at its length."
    ),
    params=SplitPiece,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="A back yoke",
            params={
                "start": {"piece": "back", "edge": "centre back", "from": "neck", "by": "10 cm"},
                "end": {"piece": "back", "edge": "armhole", "from": "shoulder", "by": "9 cm"},
                "leave": "square",
                "arrive": "square",
                "parts": {"above": "back yoke", "below": "back"},
                "seam": "yoke",
            },
            changes=(
                ("back yoke", "centre back", 100.0),
                ("back yoke", "armhole", 90.0),
                ("back", "centre back", -100.0),
                ("back", "armhole", -90.0),
            ),
            because="The edges are divided where the line ends, 10 cm and 9 cm along.",
            rest_free=True,
        ),
        Example(
            title="Panels: the bust dart moved to the shoulder, then both darts taken into a seam",
            block="bodice",
            before=(
                {
                    "do": "move_dart",
                    "piece": "front",
                    "dart": "bust dart",
                    "to": {"piece": "front", "edge": "shoulder", "from": "neck", "by": "5 cm"},
                    "name": "bust dart",
                },
            ),
            params={
                "start": {"piece": "front", "edge": "shoulder", "at": "bust dart"},
                "end": {"piece": "front", "edge": "waist", "at": "waist dart"},
                "darts": ["bust dart", "waist dart"],
                "parts": {"centre": "front", "side": "side front"},
            },
            because=(
                "The shoulder is divided at the dart, 5 cm from the neck, and the back's with it. Each side "
                "of the seam follows its own legs, smoothed and trued to the other."
            ),
            rest_free=True,
        ),
        Example(
            title="A waist seam in a dress, along its waist line",
            block="dress",
            params={
                "guide": {"piece": "front", "line": "waist"},
                "parts": {"above": "front", "below": "front skirt"},
                "seam": "waist",
                "role": "waist",
            },
            because="The waist dart, cut where it is widest, opens on the seam in both parts.",
            rest_free=True,
        ),
    ),
)
