"""Zips, slits and cord exits: within their seam, clear of one another and of cut-outs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from cutonce.checks.context import Context, Found
from cutonce.checks.seam_sides import corner_of, sound_seams, walk
from cutonce.draft.draft import Draft
from cutonce.draft.seam import Opening, Seam
from cutonce.errors import Finding

CLEAR_MM = 20.0
"""A zip ends at least this far from a cut-out: there must be seam to hold its end."""

SLACK_MM = 1.0
"""An opening that overshoots its seam by less ends with it."""


def openings(draft: Draft, context: Context) -> Found:
    """Every opening on its seam, then each two openings of one seam."""
    seams = {s.name: s for s in sound_seams(draft)}
    out: list[Finding] = []
    for opening in draft.openings:
        seam = seams.get(opening.seam)
        if seam is None:
            have = ", ".join(seams) or "none"
            out.append(
                Finding(
                    "stop",
                    "opening-without-seam",
                    f"{opening.kind} in seam {opening.seam}",
                    f"there is no such seam; there are: {have}",
                    hint="set the opening in one of them",
                )
            )
        else:
            out.extend(_on(draft, seam, opening, context))
    for one, two in combinations(draft.openings, 2):
        out.extend(_both(one, two))
    return tuple(out)


def _on(draft: Draft, seam: Seam, opening: Opening, context: Context) -> Iterator[Finding]:
    side = walk(draft, seam.a)
    where = f"{opening.kind} in seam {seam.name}"
    start, end = opening.start_mm, opening.start_mm + opening.length_mm
    step = context.last_step(side.spans)
    beyond = {at_end: corner_of(side.piece, seam.a.labels, at_end) for at_end in (False, True)}
    if start < -SLACK_MM or end > side.length + SLACK_MM:
        past = max(-start, end - side.length)
        edge = beyond[end > side.length + SLACK_MM]
        at = f" at the {edge.beyond.name}" if edge is not None else ""
        size = f"{opening.length_mm:.0f} mm long"
        yield Finding(
            "stop",
            "opening-past-seam",
            where,
            f"the {opening.kind} is {size}, but the seam ends{at} {past:.0f} mm before it",
            step=step,
            hint="make it shorter, or put it in another seam",
            expected_mm=side.length,
            found_mm=opening.length_mm,
            spot=(side.piece.key, side.point(min(end, side.length))),
        )
        return
    if opening.kind == "cord exit":
        return
    for at_end, gap in ((False, start), (True, side.length - end)):
        edge = beyond[at_end]
        if edge is not None and edge.beyond.role == "cut-out" and gap < CLEAR_MM:
            yield Finding(
                "stop" if opening.kind == "zip" else "warning",
                "opening-at-cut-out",
                where,
                f"the {opening.kind} ends {max(0.0, gap):.0f} mm from the cut-out: nothing holds its end",
                step=step,
                hint="put it in another seam, or end it at least 2 cm away",
                expected_mm=CLEAR_MM,
                found_mm=max(0.0, gap),
                spot=(side.piece.key, edge.at),
            )


def _both(one: Opening, two: Opening) -> Iterator[Finding]:
    if one.seam != two.seam:
        return
    low = max(one.start_mm, two.start_mm)
    high = min(one.start_mm + one.length_mm, two.start_mm + two.length_mm)
    if high - low > SLACK_MM:
        yield Finding(
            "stop",
            "openings-overlap",
            f"seam {one.seam}",
            f"the {one.kind} and the {two.kind} overlap by {high - low:.0f} mm",
            hint="move or shorten one of them",
            expected_mm=0.0,
            found_mm=high - low,
        )
