"""From layouts to a plan: sections, pieces where they lie, the order of cutting, what is left over, the
yield."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cutonce.cloth.cloth import Cloth
from cutonce.geometry.motion import Motion, shifting
from cutonce.lay.beds import MAIN, Stage, part_at, to_section
from cutonce.lay.cuts import Cut
from cutonce.lay.outline import Outlines
from cutonce.lay.plan import Laid, Section
from cutonce.lay.problem import Blank, Layout, Ring, Spot


@dataclass(frozen=True, slots=True)
class StageLaid:
    """A stage with what was laid on it: its cuts and their outlines by key, its blanks, and the layout."""

    stage: Stage
    cuts: Mapping[str, Cut]
    outlines: Mapping[str, Outlines]
    blanks: Mapping[str, Blank]
    layout: Layout

    def motion(self, spot: Spot) -> Motion:
        """Takes the frame of the cut laid there to the bed."""
        return shifting(spot.at).after(self.blanks[spot.blank].shapes[spot.shape].motion)

    def middle(self, spot: Spot) -> float:
        """The middle of its extent along the bed."""
        outline = self.blanks[spot.blank].shapes[spot.shape].outline
        return spot.at.real + max(p.real for p in outline) / 2

    def fine(self, spot: Spot) -> Ring:
        """Its fine outline where it lies on the bed."""
        motion = self.motion(spot)
        return tuple(motion(p) for p in self.outlines[spot.blank].fine)


@dataclass(frozen=True, slots=True)
class PartLaid:
    """A part of a stage as a section of the lay; `to_lay` takes places on the bed to places of the lay,
    `spots` lie on it, and it is used up to `reach` from its start on the bed."""

    whole: StageLaid
    part: int
    section: Section
    to_lay: Motion
    spots: tuple[Spot, ...]
    reach: float


@dataclass(frozen=True, slots=True)
class Assembled:
    """The sections of a lay and its pieces; `taken` is the length of cloth it takes, remnants not counted."""

    parts: tuple[PartLaid, ...]
    laid: tuple[Laid, ...]
    taken: float

    @property
    def sections(self) -> tuple[Section, ...]:
        return tuple(p.section for p in self.parts)


def assembled(done: Sequence[StageLaid], cloth: Cloth) -> Assembled:
    """The stages one after another, the pieces numbered as the shears come to them: along the cloth from
    the cut end, so that it can be cut as it is unrolled."""
    parts: list[PartLaid] = []
    taken = 0.0
    for one in done:
        start = max([0.0, *(p.section.end for p in parts)])
        for i in range(len(one.stage.parts)):
            made = _part(one, i, cloth, start)
            if made is not None:
                parts.append(made)
                if one.stage.parts[i].name == MAIN:
                    size = made.section.end - made.section.start
                    taken += 2 * size if one.stage.way == "folded crosswise" else size
    found = [(_order(p, n, spot), _laid(p, n, spot)) for n, p in enumerate(parts) for spot in p.spots]
    found.sort(key=lambda pair: pair[0])
    laid = tuple(replace(x, number=n) for n, (_, x) in enumerate(found, start=1))
    return Assembled(tuple(parts), laid, taken)


def _part(one: StageLaid, i: int, cloth: Cloth, start: float) -> PartLaid | None:
    """One part of a stage as a section of the lay; None for a length of cloth of which nothing is used."""
    stage, part = one.stage, one.stage.parts[i]
    spots = tuple(s for s in one.layout.spots if part_at(stage, one.middle(s)) == i)
    reach = max((p.real for s in spots for p in one.fine(s)), default=part.start) - part.start
    crosswise = stage.way == "folded crosswise"
    if part.name != MAIN:
        room, size = part.room, part.room or 0.0
    elif not spots and len(stage.parts) > 1:
        return None
    else:
        size = reach + part.margin * (1 if crosswise else 2)
        room = (
            None if cloth.length is None else cloth.length / 2 if crosswise else cloth.length - stage.before
        )
    here = start + part.start
    if crosswise:  # what is too long for the cloth has its fold further on than the cloth has
        fold = max(stage.fold, size) if stage.fold is not None else _to_fold(cloth, size)
        section = Section(
            part.name, stage.way, fold - size if stage.fold is not None else 0.0, fold, part.width, room
        )
    else:
        section = Section(part.name, stage.way, here, here + size, part.width, room, stage.fold)
    origin = section.end if crosswise else section.start
    return PartLaid(one, i, section, shifting(origin).after(to_section(stage, i, cloth)), spots, reach)


def _to_fold(cloth: Cloth, size: float) -> float:
    """Where the fold lies from the cut end: as near as may be, on the middle of a stripe."""
    if cloth.stripe_along is None:
        return size
    return size + (cloth.stripe_along.offset - size) % cloth.stripe_along.every


def _laid(here: PartLaid, section: int, spot: Spot) -> Laid:
    cut = here.whole.cuts[spot.blank]
    motion = here.to_lay.after(here.whole.motion(spot))
    return Laid(0, cut.key, cut.piece, motion, section, cut.layers, cut.on_fold, cut.paper)


def _order(here: PartLaid, section: int, spot: Spot) -> tuple[int, float, float]:
    ring = [here.to_lay(p) for p in here.whole.fine(spot)]
    return section, round(min(p.real for p in ring), 1), min(p.imag for p in ring)
