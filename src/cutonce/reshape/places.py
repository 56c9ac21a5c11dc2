"""Places on a draft, as a dressmaker names them, found on the draft as it now is.

A place is material (a landmark, a notch, the end beside another edge) or by tape (`start` and `by` or
`share`, along the cloth of the edge as it now is, darts folded), or a point inside, each with an offset.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Origin, Span, Wearer, sided
from cutonce.errors import CannotApply
from cutonce.geometry.motion import Point
from cutonce.geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Place:
    """How a place is said. Lengths in mm.

    On an edge: `piece`, `edge`, perhaps `wearer`; then `at` a mark or the edge that adjoins an end; or
    `start` (the same kind of name) with `by` mm or `share` (0 to 1) of the way from there, `toward` another
    end where the start lies within the edge. Inside: `piece`, `point`. `down` and `out` shift it along the
    body: down, and away from the centre; the place is then inside the piece.
    """

    piece: str
    edge: str = ""
    wearer: Wearer | None = None
    at: str = ""
    start: str = ""
    toward: str = ""
    by: float | None = None
    share: float | None = None
    point: str = ""
    down: float = 0.0
    out: float = 0.0

    def words(self) -> str:
        """The place in plain words, for sentences and messages."""
        text = f"the {self.piece}'s {sided(self.point or self.edge, self.wearer)}"
        if self.at:
            text += f" at the {self.at}"
        elif self.by is not None:
            text += f", {self.by:.4g} mm from the {self.start}"
        elif self.share is not None:
            text += f", {self.share:.4g} of the way from the {self.start}"
        if self.down:
            text += f", {abs(self.down):.4g} mm {'lower' if self.down > 0 else 'higher'}"
        if self.out:
            text += f", {abs(self.out):.4g} mm {'outward' if self.out > 0 else 'inward'}"
        return text


@dataclass(frozen=True, slots=True)
class Spot:
    """A place found: on an edge (`label`, `origin`, `material`, `arc` mm from its first end) or inside."""

    piece: str
    point: Point
    label: Label | None = None
    origin: Origin | None = None
    material: float = 0.0
    arc: float = 0.0

    @property
    def on_cloth(self) -> tuple[Origin, float]:
        """Origin and material, for a spot on an edge."""
        if self.origin is None:
            raise self._inside()
        return self.origin, self.material

    @property
    def edge(self) -> Label:
        """The label, for a spot on an edge."""
        if self.label is None:
            raise self._inside()
        return self.label

    def _inside(self) -> CannotApply:
        return CannotApply("not-on-edge", self.piece, "a place on an edge is needed, this one lies inside")


@dataclass(frozen=True, slots=True)
class Chain:
    """An edge to measure along: spans in outline order, of one label or of its left and right halves."""

    piece: Piece
    spans: tuple[Span, ...]

    @property
    def length(self) -> float:
        return sum(s.length for s in self.spans)

    @property
    def name(self) -> str:
        keys = dict.fromkeys(s.label.key for s in self.spans)
        return f"{self.piece.key}, {' + '.join(keys)}"

    def spot(self, arc: float) -> Spot:
        """The place `arc` mm along; raises CannotApply past the ends, giving the length."""
        if self.is_past(arc):
            raise self.past_end(arc)
        before = 0.0
        for span in self.spans:
            if arc <= before + span.length + SAME_POINT_MM or span is self.spans[-1]:
                s = min(max(arc - before, 0.0), span.length)
                t = span.curve.at_length(s)
                spot_arc = min(max(arc, 0.0), self.length)
                return Spot(
                    self.piece.key, span.curve.at(t), span.label, span.origin, span.material_at(s), spot_arc
                )
            before += span.length
        raise CannotApply("no-edge", self.name, "the edge is empty")

    def is_past(self, arc: float) -> bool:
        return not -SAME_POINT_MM <= arc <= self.length + SAME_POINT_MM

    def past_end(self, asked: float) -> CannotApply:
        return CannotApply(
            "past-end", self.name, f"{asked:.1f} mm is past the end; the edge is {self.length:.1f} mm"
        )

    def arc_of(self, origin: Origin, material: float) -> float | None:
        """Arc length of a material place; None where it is not on this chain."""
        before = 0.0
        for span in self.spans:
            if span.origin == origin and span.holds(material):
                return before + span.arc_at(material)
            before += span.length
        return None


def resolve(draft: Draft, place: Place) -> Spot:
    """The one spot that a place names.

    Raises CannotApply, told apart: it never existed, was cut away, is ambiguous, lies past the end.
    """
    pieces = pieces_named(draft, place.piece, place.wearer)
    spot = _inside(pieces, place) if place.point else _on_edge(draft, pieces, place)
    if place.down or place.out:
        piece = draft.piece(spot.piece)
        outward = outward_of(piece, place.wearer or piece.wearer)
        return Spot(spot.piece, spot.point - 1j * place.down + outward * place.out)
    return spot


def outward_of(piece: Piece, wearer: Wearer | None) -> float:
    """+1 where away from the centre is +x, else -1; half pieces are drawn as left halves."""
    is_left = (wearer or "left") == "left"
    return 1.0 if is_left == (piece.face == "front") else -1.0


def pieces_named(draft: Draft, name: str, wearer: Wearer | None) -> tuple[Piece, ...]:
    """Pieces called `name`, by name or by key, that hold the wearer's side asked for."""
    found = tuple(
        p for p in draft.pieces if name in (p.name, p.key) and (wearer is None or p.wearer in (None, wearer))
    )
    if not found:
        by_step = next((g.step for g in draft.gone if g.piece == name), None)
        gone = f", which step {by_step} cut away" if by_step else ""
        have = ", ".join(p.key for p in draft.pieces)
        raise CannotApply("no-piece", "", f"no piece '{name}'{gone}; the draft has: {have}")
    return found


def piece_named(draft: Draft, name: str, wearer: Wearer | None) -> Piece:
    """The one piece of that name; raises CannotApply where there is none or more than one."""
    found = pieces_named(draft, name, wearer)
    if len(found) > 1:
        names = ", ".join(p.key for p in found)
        raise CannotApply("ambiguous", "", f"'{name}' fits {names}", "name the wearer's side")
    return found[0]


def _inside(pieces: Sequence[Piece], place: Place) -> Spot:
    found = [
        Spot(p.key, mark.at)
        for p in pieces
        for mark in p.points
        if mark.name == place.point and (place.wearer is None or mark.wearer in (None, place.wearer))
    ]
    if len(found) == 1:
        return found[0]
    names = sorted({sided(m.name, m.wearer) for p in pieces for m in p.points})
    what = "more than one" if found else "no"
    raise CannotApply(
        "no-point", place.piece, f"{what} point '{place.point}'; it has: {', '.join(names) or 'none'}"
    )


def chains(draft: Draft, pieces: Sequence[Piece], edge: str, wearer: Wearer | None) -> tuple[Chain, ...]:
    """Every run that answers to an edge's name. Left and right halves that adjoin are one run where no
    wearer's side is asked for."""
    found: list[Chain] = []
    for piece in pieces:
        labels = [e for e in piece.labels if _answers(e, edge) and _on_side(piece, e, wearer)]
        runs = [piece.edge(e) for e in labels]
        while len(runs) > 1:
            pair = next(((a, b) for a in runs for b in runs if a is not b and _adjoin(a, b)), None)
            if pair is None:
                break
            runs = [r for r in runs if r is not pair[0] and r is not pair[1]] + [pair[0] + pair[1]]
        found += [Chain(piece, run) for run in runs]
    if not found:
        raise _never_or_gone(draft, pieces, edge, wearer)
    return tuple(found)


def chain(draft: Draft, piece: str, edge: str, wearer: Wearer | None = None) -> Chain:
    """The one run of that name; raises CannotApply where there is none or more than one."""
    found = chains(draft, pieces_named(draft, piece, wearer), edge, wearer)
    if len(found) > 1:
        raise _ambiguous(edge, [c.name for c in found])
    return found[0]


def _answers(label: Label, edge: str) -> bool:
    return edge in (label.name, label.key) or (label.part > 1 and edge == f"{label.name} {label.part}")


def _on_side(piece: Piece, label: Label, wearer: Wearer | None) -> bool:
    return wearer is None or (label.wearer or piece.wearer or wearer) == wearer


def _adjoin(a: tuple[Span, ...], b: tuple[Span, ...]) -> bool:
    return a[0].label.part == b[0].label.part and abs(a[-1].curve.end - b[0].curve.start) < SAME_POINT_MM


def _ambiguous(what: str, names: Sequence[str]) -> CannotApply:
    return CannotApply(
        "ambiguous",
        "",
        f"'{what}' fits {len(names)} places: {'; '.join(names)}",
        "name the wearer's side or part",
    )


def _never_or_gone(draft: Draft, pieces: Sequence[Piece], edge: str, wearer: Wearer | None) -> CannotApply:
    where = ", ".join(p.key for p in pieces)
    for g in reversed(draft.gone):
        if _answers(g.label, edge) and any(g.piece in (p.key, p.name) for p in pieces):
            return CannotApply("cut-away", where, f"edge '{edge}' is no more: step {g.step} {g.reason}")
    have = "; ".join(p.edge_names() for p in pieces)
    side = f" on the wearer's {wearer}" if wearer else ""
    others = [p.key for p in draft.pieces if p not in pieces and any(_answers(e, edge) for e in p.labels)]
    hint = f"there is one on: {', '.join(others)}" if others else ""
    return CannotApply("no-edge", where, f"no edge '{edge}'{side}; it has: {have}", hint)


def _on_edge(draft: Draft, pieces: Sequence[Piece], place: Place) -> Spot:
    runs = chains(draft, pieces, place.edge, place.wearer)
    spots: list[Spot] = []
    failures: list[CannotApply] = []
    for run in runs:
        try:
            spots.append(_on_chain(draft, run, place))
        except CannotApply as problem:
            failures.append(problem)
    distinct = {(s.piece, round(s.point.real, 5), round(s.point.imag, 5)) for s in spots}
    if len(distinct) == 1:
        return spots[0]
    if spots:
        raise _ambiguous(place.words(), [f"{s.piece}, {s.label.key if s.label else ''}" for s in spots])
    raise failures[0]


def _on_chain(draft: Draft, run: Chain, place: Place) -> Spot:
    if place.at:
        return run.spot(named_arc(draft, run, place.at, place.wearer))
    start = named_arc(draft, run, place.start, place.wearer) if place.start else 0.0
    if place.toward:
        goal = named_arc(draft, run, place.toward, place.wearer)
    elif start <= SAME_POINT_MM:
        goal = run.length
    elif start >= run.length - SAME_POINT_MM:
        goal = 0.0
    else:
        raise CannotApply(
            "no-direction",
            run.name,
            f"'{place.start}' lies within the edge",
            "say toward which end to measure",
        )
    if place.share is not None:
        return run.spot(start + (goal - start) * place.share)
    by = place.by or 0.0
    arc = start + (by if goal >= start else -by)
    if run.is_past(arc):
        raise run.past_end(by)
    return run.spot(arc)


def named_arc(draft: Draft, run: Chain, name: str, wearer: Wearer | None = None) -> float:
    """Arc length along a chain of a mark, a dart's mouth, or the end beside an adjoining edge."""
    marks = [m for m in run.piece.marks if m.name == name]
    arcs = [arc for m in marks if (arc := run.arc_of(m.origin, m.at)) is not None]
    if arcs:
        if max(arcs) - min(arcs) > 1e-3:
            raise _ambiguous(name, [f"{arc:.1f} mm along {run.name}" for arc in arcs])
        return arcs[0]
    mouths = [arc for label, arc in dart_mouths(run) if name in (label.name, label.key)]
    if len(mouths) == 1:
        return mouths[0]
    ends = _ends_beside(run, lambda e: e.key == name or (_named(e, name) and _on_side(run.piece, e, wearer)))
    if len(ends) == 2:
        raise _ambiguous(name, [f"both ends of {run.name}"])
    if ends:
        return ends[0]
    for mark in marks:
        by = [
            g for g in draft.gone if g.origin == mark.origin and min(g.lo, g.hi) <= mark.at <= max(g.lo, g.hi)
        ]
        if by:
            raise CannotApply(
                "cut-away", run.name, f"the {name} is no more: step {by[-1].step} {by[-1].reason}"
            )
    have = ", ".join(landmark_names(run)) or "nothing"
    raise CannotApply("no-landmark", run.name, f"no '{name}' on this edge; it has: {have}")


def dart_mouths(run: Chain) -> list[tuple[Label, float]]:
    """Darts that open within a chain, each with the arc length at which its mouth lies."""
    out: list[tuple[Label, float]] = []
    outline = run.piece.outline
    arc = 0.0
    for span, nxt in pairwise(run.spans):
        arc += span.length
        after = outline[(outline.index(span) + 1) % len(outline)]
        if after is not nxt and after.label.role == "dart leg":
            out.append((after.label, arc))
    return out


def _named(label: Label, name: str) -> bool:
    return name in (label.name, label.role, label.key)


def _ends_beside(run: Chain, fits: Callable[[Label], bool]) -> list[float]:
    before, after = neighbours(run)
    return [arc for label, arc in ((before, 0.0), (after, run.length)) if fits(label)]


def neighbours(run: Chain) -> tuple[Label, Label]:
    """Labels of the edges before and after a chain in outline order; a dart at its end counts as one."""
    outline = run.piece.outline
    first, last = outline.index(run.spans[0]), outline.index(run.spans[-1])
    return outline[first - 1].label, outline[(last + 1) % len(outline)].label


def landmark_names(run: Chain) -> tuple[str, ...]:
    """Every name by which a place on this chain can be given."""
    before, after = neighbours(run)
    marks = [m.name for m in run.piece.marks if run.arc_of(m.origin, m.at) is not None]
    mouths = [label.key for label, _ in dart_mouths(run)]
    return tuple(dict.fromkeys([before.key, *marks, *mouths, after.key]))
