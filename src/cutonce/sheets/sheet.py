"""From finished pieces to files: every paper gets its own layout of the same drawings."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from cutonce.errors import BadInput, closest, quoted
from cutonce.finishing.finished import Finished
from cutonce.sheets.arrange import arrange
from cutonce.sheets.drawing import Drawing, Group
from cutonce.sheets.key import title_block
from cutonce.sheets.paper import A0, LONGEST_PAGE_MM, TILED, roll, twice
from cutonce.sheets.pdf import Printed, write_single, write_tiled
from cutonce.sheets.piece import piece_group
from cutonce.sheets.svg import write_svg

_HALF = "-half"
_HALF_TEXT = 1.7
"""How much larger words are set on a sheet printed at half scale: nearly, not quite, as large as in full."""

PAPERS = (*TILED, *(f"{name}{_HALF}" for name in TILED), "a0", "roll")
"""What can be asked for: paper to tile, the same at half scale for a trial, and paper for a plotter."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """The files written, in order; each PDF's pages and what could not be printed, by file name."""

    files: tuple[Path, ...]
    printed: dict[str, Printed]


def write_paper(
    finished: Finished,
    out_dir: str | os.PathLike[str],
    papers: Sequence[str] = ("a4", "letter", "a0"),
    notes: tuple[str, ...] = (),
) -> Sheets:
    """Write `pattern.svg` and `pattern-PAPER.pdf` for each paper asked for into an existing folder.

    `notes` are lines for the first page, after body and date. Raises `BadInput` for an unknown paper, or a
    garment without pieces, before anything is written.
    """
    refuse_unknown_papers(papers)
    if not finished.pieces:
        raise BadInput("no-pieces", finished.garment, "nothing to print: there are no pieces")
    groups = _groups(finished, 1.0)
    about = (*_about(finished), *notes)
    folder = Path(out_dir)
    files, printed = [folder / "pattern.svg"], {}
    write_svg(plotted(groups, finished.garment, about, "roll"), files[0])
    for paper in papers:
        target = folder / f"pattern-{paper}.pdf"
        shown = _groups(finished, _HALF_TEXT) if paper.endswith(_HALF) else groups
        printed[target.name] = _write_pdf(shown, finished.garment, about, paper, target)
        files.append(target)
    return Sheets(tuple(files), printed)


def refuse_unknown_papers(papers: Iterable[str]) -> None:
    """Raises `BadInput` for the first name that is no paper, so that nothing is begun for it."""
    for paper in papers:
        if paper not in PAPERS:
            message = f"no paper {quoted(paper)}{closest(paper, PAPERS)}"
            raise BadInput("unknown-paper", "paper", message, f"there are: {', '.join(PAPERS)}")


def _groups(finished: Finished, text: float) -> tuple[Group, ...]:
    return tuple(piece_group(p, text) for p in finished.pieces)


def tiled(groups: Iterable[Group], title: str, about: tuple[str, ...], paper: str) -> Drawing:
    """The pieces laid out for a paper to tile, "a4" or "a4-half"."""
    size = TILED[paper.removesuffix(_HALF)]
    return arrange(tuple(groups), twice(size) if paper.endswith(_HALF) else size, title, about)


def plotted(groups: Iterable[Group], title: str, about: tuple[str, ...], paper: str) -> Drawing:
    """The pieces and a title block laid out for a plotter, "a0" or "roll", one page wide."""
    size = A0 if paper == "a0" else roll(LONGEST_PAGE_MM)
    return arrange((*groups, title_block(title, about)), size, title, about, columns=1)


def _write_pdf(
    groups: tuple[Group, ...], title: str, about: tuple[str, ...], paper: str, target: Path
) -> Printed:
    if paper in ("a0", "roll"):
        return write_single(plotted(groups, title, about, paper), target, paper)
    sheet = tiled(groups, title, about, paper)
    return write_tiled(sheet, target, paper.removesuffix(_HALF), 0.5 if paper.endswith(_HALF) else 1.0)


def _about(finished: Finished) -> tuple[str, ...]:
    count = len(finished.pieces)
    pieces = f"{count} pattern pieces" if count != 1 else "1 pattern piece"
    words = (
        f"for {finished.body}" if finished.body else "",
        finished.date,
        f"{pieces}; allowances are included: the thin line is sewn, the heavy line is cut",
    )
    return tuple(w for w in words if w)
