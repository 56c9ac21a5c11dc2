"""The whole job: from a draft of sewing lines to finished pieces that a stranger can cut from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Piece
from cutonce.draft.seam import Finish
from cutonce.draft.span import Label, Wearer
from cutonce.errors import BadInput, Finding
from cutonce.finishing.allowance import Finishes, runs, stretches
from cutonce.finishing.cutting import Cutting, cutting_line
from cutonce.finishing.defaults import Defaults
from cutonce.finishing.edges import edges, mark_places
from cutonce.finishing.facing import facings
from cutonce.finishing.finished import Finished, FinishedPiece, FoldMark
from cutonce.finishing.folded_hem import turn_up_ease
from cutonce.finishing.inside import darts, drills, grain, lines, points, unsewn
from cutonce.finishing.label import count, label_lines, title
from cutonce.finishing.mirror import mirrored
from cutonce.finishing.notches import Marks, notches
from cutonce.geometry.curve import Curve, Line
from cutonce.geometry.motion import MIRROR
from cutonce.geometry.path import Path
from cutonce.reshape.unfold import centre_label

HEM_EASE_NOTE, HEM_EASE_WARNING = 0.04, 0.12
"""Shares by which a turned-up hem may be longer than the garment it lies on: beyond the first it wants easing
in, beyond the second a shaped facing (common practice for casings round a curve, the same arithmetic)."""

_CORNER_MM = 1.0
"""Corners of partners that part by less are not told: nobody cuts finer."""


@dataclass(frozen=True, slots=True)
class _Garment:
    """A draft with what is looked up again and again."""

    draft: Draft
    finishes: Finishes
    marks: Marks

    @classmethod
    def of(cls, draft: Draft, defaults: Defaults) -> _Garment:
        return cls(draft, Finishes(draft, defaults), {p.key: mark_places(p) for p in draft.pieces})


@dataclass(frozen=True, slots=True)
class _Job:
    """One piece to finish: the garment and half it belongs to, and how the label says it."""

    garment: _Garment
    piece: Piece
    key: str
    wearer: Wearer | None
    hand: str = ""
    turned: bool = False


def finished(
    draft: Draft, garment: str, body: str = "", date: str = "", defaults: Defaults | None = None
) -> Finished:
    """Every piece of a draft as it is cut, facings after them, numbered, with what there is to say.

    `garment`, `body` and `date` are printed as given. Half pieces stay half, their fold marked; of an uneven
    body that has not been unfolded both halves are made, the wearer's right one drawn as it is cut. Raises
    BadInput for a draft without pieces.
    """
    if not draft.pieces:
        raise BadInput("no-pieces", garment, "the draft has no pieces to finish")
    table = defaults or Defaults()
    jobs, findings = _jobs(draft, table)
    out: list[FinishedPiece] = []
    cuttings: dict[str, Cutting] = {}
    for number, job in enumerate(jobs, start=1):
        piece, cutting = _finish(job, table, garment, body, date, (number, len(jobs)))
        cuttings[piece.key] = cutting
        findings += cutting.findings
        findings += _hem_findings(job.piece, cutting)
        out.append(piece)
    findings += _corner_findings(draft, cuttings)
    findings += _lost_openings(draft)
    return Finished(garment, body, date, tuple(out), tuple(findings))


def _jobs(draft: Draft, defaults: Defaults) -> tuple[list[_Job], list[Finding]]:
    """Every piece to finish, facings last."""
    halves: list[tuple[Draft, Wearer | None]] = [(draft, None)]
    findings: list[Finding] = []
    if draft.twin is not None and not draft.unfolded:
        halves = [(_apart(draft), "left"), (_apart(draft.twin), "right")]
        message = "left and right differ and are not unfolded: each half is cut from its own paper"
        findings.append(Finding("note", "halves-apart", "", message, hint="unfold before finishing"))
    jobs: list[_Job] = []
    faced: list[_Job] = []
    for half, wearer in halves:
        whole = _Garment.of(half, defaults)
        jobs += [_job(whole, p, wearer) for p in half.pieces]
        shaped, said = facings(half, whole.finishes, defaults)
        findings += said
        faced += [_job(_Garment.of(f.draft, defaults), f.piece, wearer) for f in shaped]
    return jobs + faced, findings


def _job(garment: _Garment, piece: Piece, half: Wearer | None) -> _Job:
    """A half of an uneven body keeps its key on the left; the right one is called so and turned over."""
    if half is None:
        return _Job(garment, piece, piece.key, piece.wearer)
    centre = centre_label(piece)
    hand = (
        f", join to the other half at the {centre.name}"
        if centre and not garment.draft.seams_of(piece.key, centre)
        else ""
    )
    key = piece.key if half == "left" else f"right {piece.key}"
    return _Job(garment, piece, key, half, hand, half == "right")


def _apart(draft: Draft) -> Draft:
    """The draft of one half, its pieces cut once each; a centre that lay on the fold has no allowance."""
    folds = {(p.key, p.fold): Finish("raw", 0.0) for p in draft.pieces if p.cut == "fold" and p.fold}
    kept = tuple((ref, f) for ref, f in draft.finishes if ref not in folds)
    pieces = tuple(replace(p, cut="single", fold=None) for p in draft.pieces)
    added: tuple[tuple[tuple[str, Label], Finish], ...] = tuple(
        ((key, label), f) for (key, label), f in folds.items() if label is not None
    )
    return replace(draft, pieces=pieces, finishes=kept + added)


def _finish(
    job: _Job, defaults: Defaults, garment: str, body: str, date: str, number: tuple[int, int]
) -> tuple[FinishedPiece, Cutting]:
    draft, piece = job.garment.draft, job.piece
    openings = stretches(draft, piece, defaults)
    cutting = cutting_line(piece, runs(piece, job.garment.finishes, openings, defaults))
    outlined = edges(draft, piece, cutting)
    sewing = _sewing(piece)
    named = replace(piece, wearer=job.wearer)
    made = FinishedPiece(
        key=job.key,
        title=title(named),
        wearer=job.wearer,
        sewing=sewing,
        cutting=cutting.line,
        edges=outlined,
        grain=grain(piece, sewing),
        count=count(piece),
        cut=piece.cut,
        label=label_lines(named, outlined, garment, body, date, number, job.hand),
        notches=notches(draft, piece, cutting, openings, job.garment.marks),
        drills=drills(piece, cutting),
        darts=darts(piece, cutting),
        lines=lines(piece),
        points=points(piece),
        unsewn=unsewn(piece, openings),
        fold=_fold(piece),
        flips=piece.flips,
    )
    return (mirrored(made, MIRROR) if job.turned else made), cutting


def _sewing(piece: Piece) -> Path:
    """The closed sewing line; the legs of darts run to the drawn point."""
    tips = {d.label: piece.dart_tip(d) for d in piece.darts}
    out: list[Curve] = []
    spans = piece.outline
    for i, span in enumerate(spans):
        tip = tips.get(span.label)
        if tip is None:
            out.append(span.curve)
        elif spans[(i + 1) % len(spans)].label == span.label:
            out.append(Line(span.curve.start, tip))
        else:
            out.append(Line(tip, span.curve.end))
    return tuple(out)


def _fold(piece: Piece) -> FoldMark | None:
    if piece.cut != "fold" or piece.fold is None:
        return None
    line = tuple(s.curve for s in piece.edge(piece.fold))
    return FoldMark(line, f"{piece.fold.name}: lay on the fold")


def _hem_findings(piece: Piece, cutting: Cutting) -> Iterator[Finding]:
    """Hems that, turned up, are longer (or shorter) than the garment by more than eases in."""
    for label in piece.labels:
        hem = [r for r in cutting.runs if r.label == label and r.finish.kind == "hem"]
        if not hem:
            continue
        line = tuple(c for r in hem for c in r.sewing)
        ease = turn_up_ease(line, hem[0].allowance)
        if abs(ease) > HEM_EASE_NOTE:
            more = "longer" if ease > 0 else "shorter"
            yield Finding(
                "warning" if abs(ease) > HEM_EASE_WARNING else "note",
                "hem-ease",
                f"{piece.key}, {label.key}",
                f"turned up {hem[0].allowance:.0f} mm, its edge is {abs(ease):.0%} {more} than the cloth",
                hint="take a narrower hem or a shaped facing",
            )


def _corner_findings(draft: Draft, cuttings: dict[str, Cutting]) -> Iterator[Finding]:
    """Seams whose two allowances do not end alike: their corners do not meet when laid together."""
    ends = {(key, e.label, e.at_start): e.beyond for key, cutting in cuttings.items() for e in cutting.ends}
    for seam in draft.seams:
        if seam.a == seam.b:
            continue
        pairs = (
            ((seam.a.piece, seam.a.labels[0], True), (seam.b.piece, seam.b.labels[-1], False)),
            ((seam.a.piece, seam.a.labels[-1], False), (seam.b.piece, seam.b.labels[0], True)),
        )
        for one, two in pairs:
            a, b = ends.get(one), ends.get(two)
            if a is not None and b is not None and abs(a - b) > _CORNER_MM:
                where = "start" if one[2] else "end"
                yield Finding(
                    "note",
                    "corners-differ",
                    f"{seam.a.piece} to {seam.b.piece}, {seam.name}",
                    f"at the {where} of the seam the two allowances end {abs(a - b):.1f} mm apart",
                    hint="the edges that cross the seam do not run on straight, or their allowances differ",
                    expected_mm=a,
                    found_mm=b,
                )


def _lost_openings(draft: Draft) -> Iterator[Finding]:
    names = {s.name for s in draft.seams}
    for opening in draft.openings:
        if opening.seam not in names:
            have = ", ".join(sorted(names)) or "none"
            message = (
                f"a {opening.kind} is set in the seam '{opening.seam}', which is not there; seams: {have}"
            )
            yield Finding("warning", "no-seam", "", message)
