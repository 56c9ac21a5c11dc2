"""Drawing pieces on below their lower edge: centre lines down, sides out to the hip and on to the hem.

Front and back sides are drawn together: each wearer's pair gets one length from waist to hip, and the same
course from there, so that the seams stay equal. Waist darts become darts pointed at both ends.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutonce.draft.piece import Piece
from cutonce.draft.span import CENTRES, Label, Span, Wearer
from cutonce.errors import CannotApply
from cutonce.geometry import fit, path
from cutonce.geometry.curve import Cubic, Curve, Line
from cutonce.geometry.motion import Point
from cutonce.geometry.path import Path
from cutonce.geometry.tolerance import SAME_POINT_MM
from cutonce.reshape.places import outward_of
from cutonce.reshape.runs import Run, curves_of, runs_of, turned

LEAST_BELOW_HIP_MM = 30.0
"""A garment ends at least this far below its hip line: above it there is no side to hang from."""

DART_BELOW = {"front": (100.0, 0.5), "back": (140.0, 0.7)}
"""Waist darts end this far below the waist, or at this share of the way to the hip if that is less (common
practice)."""

NEXT_TO_SIDE = 0.85
"""A dart next to the side is this much shorter below the waist: the hip is reached sooner there."""

_CURVED_HEM = 0.4
"""A flared hem rises over this share of the width to meet the side squarely; the rest of it is level."""

_MOST_RISE = 0.3
"""A flared hem rises by at most this share of what is drawn below: a short flounce curves later."""

_BEND = 0.3
"""A side drawn on from a hem bends to its new slope over this share of what is added."""

_UPRIGHT = 0.01
"""A centre line that leans by more than this many radians cannot be carried on square to the hem."""


@dataclass(frozen=True, slots=True)
class Below:
    """What is drawn below the waist, in mm: from the waist to the hem at the centre, and to the hip line; the
    garment's girth there; how far each side runs out at the hem; the front's share of half the girth (None:
    so that front and back sides run alike); over how much of the side above the waist its corner is rounded.
    """

    to: float
    hip: float
    girth: float
    flare: float = 0.0
    front_share: float | None = None
    rounded: float = 60.0


@dataclass(frozen=True, slots=True)
class Bottom:
    """A piece's lower edge in outline order, darts included, with the spans that adjoin it."""

    piece: Piece
    run: Run
    before: Span
    after: Span

    @property
    def centre(self) -> Point:
        """Where the centre line meets it, or left and right halves meet."""
        if self.before.label.role in CENTRES:
            return self.run[0].curve.start
        if self.after.label.role in CENTRES:
            return self.run[-1].curve.end
        edges = [s for s in self.run if s.label.role != "dart leg"]
        for one, two in pairwise(edges):
            if one.label.wearer != two.label.wearer:
                return two.curve.start
        hint = "lengthen the pieces before dividing them"
        raise CannotApply("no-centre", self.piece.key, "its lower edge meets no centre line", hint)


@dataclass(frozen=True, slots=True)
class Corner:
    """Where a side meets the lower edge: the side's last run walked down, its wearer, which way is out."""

    bottom: Bottom
    old: Run
    at_start: bool
    outward: float

    @property
    def down(self) -> Run:
        return self.old if self.at_start else turned(self.old)

    @property
    def waist(self) -> Point:
        return self.down[-1].curve.end

    @property
    def label(self) -> Label:
        return self.old[0].label

    @property
    def wearer(self) -> Wearer | None:
        return self.label.wearer or self.bottom.piece.wearer

    @property
    def width(self) -> float:
        """How far out from the centre line the side lies here."""
        return (self.waist - self.bottom.centre).real * self.outward


@dataclass(frozen=True, slots=True)
class Course:
    """A side as it is drawn on: `above` replaces the last `reach` mm of the old side, then `below` to the hip
    (or, from a hem, all the way) and `rest` straight to the foot."""

    corner: Corner
    above: Cubic | None
    reach: float
    below: Curve
    rest: tuple[Line, ...]

    @property
    def hip(self) -> Point:
        return self.below.end

    @property
    def path(self) -> Path:
        return (self.below, *self.rest)

    @property
    def foot(self) -> Point:
        return self.path[-1].end


def bottom_of(piece: Piece) -> Bottom | None:
    """A piece's hem, or its waist where it has no hem; None where it has neither."""
    outline = piece.outline
    n = len(outline)
    for role in ("hem", "waist"):
        here = [i for i, s in enumerate(outline) if s.label.role == role]
        for i in here:
            k = i - 1
            while outline[k].label.role == "dart leg":
                k -= 1
            if outline[k].label.role == role:
                continue
            run = [outline[i]]
            j = i + 1
            while outline[j % n].label.role in (role, "dart leg"):
                run.append(outline[j % n])
                j += 1
            while run[-1].label.role == "dart leg":
                run.pop()
            last = next(m for m in range(n) if outline[m] is run[-1])
            return Bottom(piece, tuple(run), outline[i - 1], outline[(last + 1) % n])
    return None


def corners_of(bottom: Bottom) -> tuple[Corner, ...]:
    """The sides that end at a lower edge. Raises CannotApply where it ends at something else (not-a-side), or
    where the centre line leans (centre-leans)."""
    out: list[Corner] = []
    piece = bottom.piece
    for span, at_start in ((bottom.before, True), (bottom.after, False)):
        if span.label.role in CENTRES:
            along = span.curve.tangent(1.0 if at_start else 0.0)
            if abs(along.real) > _UPRIGHT:
                raise CannotApply("centre-leans", piece.key, f"the {span.label.key} does not stand upright")
            continue
        if span.label.role != "side":
            raise CannotApply(
                "not-a-side",
                piece.key,
                f"its lower edge ends at the {span.label.key}, not at a side or centre",
                "lengthen the pieces before dividing them, or move the dart first",
            )
        run = next(r for r in runs_of(piece, span.label) if any(s is span for s in r))
        out.append(Corner(bottom, run, at_start, outward_of(piece, span.label.wearer or piece.wearer)))
    return tuple(out)


def courses(corners: Sequence[Corner], below: Below) -> tuple[Course, ...]:
    """Sides drawn on from the waist to the hip and the hem, those of one wearer's side alike."""
    out: list[Course] = []
    for wearer in dict.fromkeys(c.wearer for c in corners):
        pair = [c for c in corners if c.wearer == wearer]
        reference = next((c for c in pair if c.bottom.piece.face == "back"), pair[0])
        drop = reference.waist.imag - reference.bottom.centre.imag + below.hip
        widths = _hip_widths(pair, below)
        hips = [
            complex(c.bottom.centre.real + c.outward * w, c.waist.imag - drop)
            for c, w in zip(pair, widths, strict=True)
        ]
        out += _alike([_Side(c, hip, below) for c, hip in zip(pair, hips, strict=True)])
    return tuple(out)


def _hip_widths(pair: Sequence[Corner], below: Below) -> list[float]:
    """Half the girth shared out between the pieces of one wearer's side."""
    half = below.girth / 2
    if len(pair) == 1:
        return [half / 2]
    if len(pair) > 2:
        keys = ", ".join(c.bottom.piece.key for c in pair)
        raise CannotApply("many-pieces", "", f"more than a front and a back end at the waist: {keys}")
    if below.front_share is None:
        apart = (pair[0].width - pair[1].width) / 2
        return [half / 2 + apart, half / 2 - apart]
    share = below.front_share if pair[0].bottom.piece.face == "front" else 1 - below.front_share
    return [half * share, half * (1 - share)]


class _Side:
    """One side's free curves: the rounding above the waist and the curve from there to the hip.

    `at_waist` is the direction there, shared by the pair: half way between the old side and the way to the
    hip. The hip may be lifted a little from its level, so that both curves get one length.
    """

    def __init__(self, corner: Corner, hip: Point, below: Below) -> None:
        long = below.to - below.hip
        self.corner, self.hip, self.long = corner, hip, long
        self.down = complex(below.flare, -long)
        self.rise = hem_rise(below.girth / 4, below.flare / long, long)
        self.line = curves_of(corner.down)
        self.reach = min(below.rounded, path.length(self.line))
        chord = self._outward(hip - corner.waist)
        along = self._outward(self.line[-1].tangent(1)) if self.reach > SAME_POINT_MM else None
        half_way = chord / abs(chord) + (along if along is not None else self._even(chord))
        self.at_waist = half_way / abs(half_way)

    def _outward(self, v: complex) -> complex:
        """A direction as on a piece whose side lies at +x, and back again."""
        return complex(v.real * self.corner.outward, v.imag)

    def _even(self, chord: complex) -> complex:
        """The direction that an even bend from the waist into the side below the hip would start in."""
        even = chord * chord / self.down
        return even / abs(even)

    def above(self, at_waist: complex) -> Cubic | None:
        if self.reach <= SAME_POINT_MM:
            return None
        at = path.length(self.line) - self.reach
        start, along = path.point_at(self.line, at), path.tangent_at(self.line, at)
        return fit.between(start, along, self.corner.waist, self._outward(at_waist))

    def below(self, at_waist: complex, lift: float = 0.0) -> Cubic:
        start, end = self._outward(at_waist), self._outward(self.down)
        return fit.between(self.corner.waist, start, self.hip + 1j * lift, end)

    def course(self, at_waist: complex, length: float) -> Course:
        """The side with `length` from where the rounding begins to the hip."""
        above = self.above(at_waist)
        goal = length - (above.length if above else 0.0)
        lift = _root(lambda y: self.below(at_waist, y).length - goal)
        curve = self.below(at_waist, lift)
        rest = Line(curve.d, curve.d + (1 - self.rise / self.long) * self._outward(self.down))
        return Course(self.corner, above, self.reach, curve, (rest,))


def hem_rise(width: float, slope: float, long: float) -> float:
    """How much higher than the centre a hem ends at a side that runs out by `slope` over `long` mm."""
    return max(-_MOST_RISE * long, min(_MOST_RISE * long, _CURVED_HEM * width * slope))


def hem_curve(foot: Point, end: Point, along: complex) -> Curve:
    """From the centre's foot, level, to the side's, in the direction `along`: a parabola where that leans."""
    if abs(along.imag) < SAME_POINT_MM or abs(end.imag - foot.imag) < SAME_POINT_MM:
        return Line(foot, end)
    turn = end - (end.imag - foot.imag) / along.imag * along
    return Cubic(foot, foot + 2 / 3 * (turn - foot), end + 2 / 3 * (turn - end), end)


def _root(miss: Callable[[float], float]) -> float:
    """Where a nearly straight function is nothing: the secant method from 0 and 1."""
    one, two = 0.0, 1.0
    before, now = miss(one), miss(two)
    for _ in range(40):
        if abs(before) < 1e-10:
            return one
        if now == before:
            break
        one, before, two = two, now, two - now * (two - one) / (now - before)
        now = miss(two)
    return two


def _alike(sides: Sequence[_Side]) -> list[Course]:
    """Each side drawn with the mean direction at the waist, then all with the mean of their lengths."""
    way = sum(s.at_waist for s in sides)
    way /= abs(way)
    lengths = [s.below(way).length + (c.length if (c := s.above(way)) else 0.0) for s in sides]
    return [s.course(way, sum(lengths) / len(lengths)) for s in sides]


def carried_on(corners: Sequence[Corner], more: float, flare: float) -> tuple[Course, ...]:
    """Sides drawn on from a hem to one `more` mm lower at the centre, running out by `flare` from where they
    ended, those of one wearer's side alike."""
    out: list[Course] = []
    for wearer in dict.fromkeys(c.wearer for c in corners):
        pair = [c for c in corners if c.wearer == wearer]
        downs = [c.waist.imag - c.bottom.centre.imag + more for c in pair]
        width = sum(c.width for c in pair) / len(pair)
        down = sum(downs) / len(downs)
        bend = down * _BEND
        slope = flare / (down - bend / 2)
        rise = hem_rise(width, slope, down)
        drawn = [_bent(c, bend, slope, down - rise) for c in pair]
        goal = sum(curve.length + rest.length for curve, rest in drawn) / len(drawn)
        for corner, (curve, rest) in zip(pair, drawn, strict=True):
            foot = rest.a + (goal - curve.length) * rest.tangent(0)
            out.append(Course(corner, None, 0.0, _plain(curve), (Line(rest.a, foot),)))
    return tuple(out)


def _bent(corner: Corner, bend: float, slope: float, down: float) -> tuple[Cubic, Line]:
    """From the old foot in its old direction, bent over `bend` mm to the new slope, then straight."""
    start, along = corner.waist, corner.down[-1].curve.tangent(1)
    way = complex(corner.outward * slope, -1)
    turn = start + along * bend / 2
    end = turn + way * bend / 2
    foot = end + way * (down - (start - end).imag)
    return Cubic(start, start + 2 / 3 * (turn - start), end + 2 / 3 * (turn - end), end), Line(end, foot)


def _plain(curve: Cubic) -> Curve:
    straight = abs(curve.length - abs(curve.d - curve.a)) < SAME_POINT_MM
    return Line(curve.a, curve.d) if straight else curve
