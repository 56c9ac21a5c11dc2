"""Can she get in? Stepping in over the hips, or over the head and both arms, by way of what opens.

A ring that an opening crosses spreads; what stays tight is the closed ring just beyond the opening's end.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from cutonce.body import Body
from cutonce.checks.context import Context, Found
from cutonce.checks.levels import Level, girth_between, girths_between
from cutonce.checks.seam_sides import corner_of, exists, walk
from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening, Seam
from cutonce.draft.span import Span
from cutonce.errors import Finding

HIP_WARN_MM = 20.0
"""Stepping in is comfortable where the garment is the hip and 2 cm more; below the hip itself it is not
possible in woven cloth (common practice)."""

HEAD_MM = 597.0
"""Head girth where it was not measured: 95 of 100 women of ANSUR II have less."""

OVER_ARMS = 1.086
"""Girth over bust and arms by bust girth, where shoulder girth was not measured (ANSUR II means)."""

OPENS = ("zip", "slit", "vent")
Levels = Mapping[str, Level]


@dataclass(frozen=True, slots=True)
class _Tight:
    """The tightest place of one way in: what it gives and what is needed, in mm."""

    place: str
    gives: float
    needs: float
    spans: tuple[Span, ...] = ()

    @property
    def lacks(self) -> float:
        return self.needs - self.gives


def way_in(draft: Draft, context: Context) -> Found:
    """One finding where neither way is wide enough, or only just; nothing where nothing can be measured."""
    body = context.body
    if body is None:
        return ()
    levels = {name: found for name, found in context.girths(draft).items() if found.is_ring}
    ways = [w for w in (_stepping(draft, levels, body), _over_head(draft, levels, body)) if w is not None]
    if not ways or any(w.lacks <= -HIP_WARN_MM for _, w in ways):
        return ()
    name, best = min(ways, key=lambda way: way[1].lacks)
    if best.lacks <= 0:
        message = f"{name} is just possible: {best.place} gives {best.gives:.0f} mm for {best.needs:.0f}"
        return (_finding("warning", "tight-way-in", message, best, context, draft),)
    said = "; ".join(f"{n} needs {w.needs:.0f} mm, {w.place} gives {w.gives:.0f}" for n, w in ways)
    if any(o.kind in OPENS for o in draft.openings):
        return (_finding("stop", "no-way-in", f"she cannot get in: {said}", best, context, draft),)
    message = f"nothing opens yet, and she cannot get in: {said}"
    return (_finding("warning", "no-opening", message, best, context, draft),)


def _finding(
    severity: str, code: str, message: str, tight: _Tight, context: Context, draft: Draft
) -> Finding:
    return Finding(
        "stop" if severity == "stop" else "warning",
        code,
        tight.place,
        message,
        step=context.last_step(tight.spans),
        hint=_hint(draft, tight, context),
        expected_mm=tight.needs,
        found_mm=tight.gives,
    )


def _hint(draft: Draft, tight: _Tight, context: Context) -> str:
    """How long a slit the head wants, or how far down a zip must go for the hips to pass."""
    if tight.place == "the neck":
        return f"open the neck by a slit or zip of {(tight.lacks + HIP_WARN_MM) / 2:.0f} mm, or lower it"
    if context.body is not None and context.body.has("hip_girth"):
        needs = context.body.mm("hip_girth") + HIP_WARN_MM
        for share, girth in girths_between(draft, "waist", "hip", (0.5, 0.6, 0.7, 0.8, 0.9, 1.0)):
            if girth >= needs:
                return f"set a zip that ends {100 * share:.0f} % of the way from waist to hip, or lower"
    return "set a zip or slit, or give more girth"


def _stepping(draft: Draft, levels: Levels, body: Body) -> tuple[str, _Tight] | None:
    """The hips through neck, bust, waist, and the place where an opening ends above the hip."""
    if not body.has("hip_girth"):
        return None
    needs = body.mm("hip_girth")
    above = {n: levels[n] for n in ("bust", "waist") if n in levels}
    places = [*_closed_levels(draft, needs, above), *_below_openings(draft, needs)]
    neck = _neck(draft, needs)
    if neck is not None:
        places.append(neck)
    return ("stepping in", max(places, key=lambda t: t.lacks)) if places else None


def _over_head(draft: Draft, levels: Levels, body: Body) -> tuple[str, _Tight] | None:
    """The head through the neck, bust and arms through bust and waist."""
    if not body.has("bust_girth") and not body.has("shoulder_girth"):
        return None
    measured = body.has("shoulder_girth")
    arms = body.mm("shoulder_girth") if measured else OVER_ARMS * body.mm("bust_girth")
    head = body.mm("head_girth") if body.has("head_girth") else HEAD_MM
    places = [*_closed_levels(draft, arms, levels), *_below_openings(draft, arms)]
    neck = _neck(draft, head)
    if neck is not None:
        places.append(neck)
    return ("over the head", max(places, key=lambda t: t.lacks)) if places else None


def _closed_levels(draft: Draft, needs: float, levels: Levels) -> Iterator[_Tight]:
    """Each level; one that an opening reaches is as wide as the ring beyond the opening's end lets it be."""
    for name, found in levels.items():
        opened = any(_reaches(draft, opening, name) for opening in draft.openings)
        yield _Tight(f"the {name}", float("inf") if opened else found.girth, needs, found.spans)


def _seam_of(draft: Draft, opening: Opening) -> Seam | None:
    return next((s for s in draft.seams if s.name == opening.seam and exists(draft, s.a)), None)


def _reaches(draft: Draft, opening: Opening, name: str) -> bool:
    seam = _seam_of(draft, opening)
    if seam is None or opening.kind not in OPENS:
        return False
    at = walk(draft, seam.a).marks.get(name)
    return at is not None and opening.start_mm - 1 <= at <= opening.start_mm + opening.length_mm + 1


def _below_openings(draft: Draft, needs: float) -> Iterator[_Tight]:
    """The girth where an opening through the waist ends above the hip."""
    for opening in draft.openings:
        seam = _seam_of(draft, opening)
        if seam is None or not _reaches(draft, opening, "waist") or _reaches(draft, opening, "hip"):
            continue
        side = walk(draft, seam.a)
        if "hip" not in side.marks:
            continue
        waist, hip = side.marks["waist"], side.marks["hip"]
        low = opening.start_mm + opening.length_mm if hip > waist else opening.start_mm
        share = min(1.0, max(0.0, (low - waist) / (hip - waist)))
        girth = girth_between(draft, "waist", "hip", share)
        if girth is not None:
            yield _Tight(
                f"the lower end of the {opening.kind} in the {seam.name} seam", girth, needs, side.spans
            )


def _neck(draft: Draft, needs: float) -> _Tight | None:
    """The neckline of a garment with sewn shoulders, and twice the length of an opening that ends in it."""
    on_shoulders = any(e.role in ("shoulder", "strap") for s in draft.seams for e in s.a.labels)
    sewn = {(s.piece, e) for seam in draft.seams for s in (seam.a, seam.b) for e in s.labels}
    refs = [(p, e) for p in draft.pieces for e in p.labels if e.role == "neck" and (p.key, e) not in sewn]
    if not on_shoulders or not refs:
        return None
    times = 1 if draft.unfolded else 2
    girth = times * sum(p.edge_length(e) for p, e in refs)
    girth += 2 * sum(o.length_mm for o in draft.openings if _opens_neck(draft, o))
    return _Tight("the neck", girth, needs, tuple(s for p, e in refs for s in p.edge(e)))


def _opens_neck(draft: Draft, opening: Opening) -> bool:
    seam = _seam_of(draft, opening)
    if seam is None or opening.kind not in OPENS:
        return False
    size = draft.side_length(seam.a)
    reaches = (opening.start_mm < 1, opening.start_mm + opening.length_mm > size - 1)
    for at_end in (at_end for at_end in (False, True) if reaches[at_end]):
        found = corner_of(draft.piece(seam.a.piece), seam.a.labels, at_end)
        if found is not None and found.beyond.role == "neck":
            return True
    return False
