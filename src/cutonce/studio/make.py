"""The main job: prove a design on a body and write everything she needs into one folder."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from cutonce.cloth.cloth import Cloth
from cutonce.errors import BadInput
from cutonce.finishing.cutlist import cut_list, cut_list_csv
from cutonce.finishing.enlarge import all_enlarged
from cutonce.sheets.files import write_beside
from cutonce.sheets.sheet import write_paper
from cutonce.studio.draft_file import draft_file
from cutonce.studio.findings_file import findings_file
from cutonce.studio.prove import Proven

Said = Callable[[str], None]
"""Told what is being done, for a person who waits."""


Writer = Callable[[Path], Iterable[Path]]
"""Writes some files into the folder it is given and says which."""


@dataclass(frozen=True, slots=True)
class Made:
    """Where the results lie."""

    folder: Path
    files: tuple[Path, ...]


def write_results(
    proven: Proven,
    out: str | Path,
    said: Said = lambda _: None,
    papers: Sequence[str] = ("a4", "letter", "a0"),
    more: Sequence[Writer] = (),
    cloth: Cloth | None = None,
) -> Made:
    """Write draft.json, checks.json, cutlist.csv, pattern.svg and a PDF for each paper: all, or none.

    Where a finding says stop, the paper says so too. `more` writes what else belongs to these results, as a
    lay. Paper is enlarged for the shrinkage of a `cloth`, as the lay is. Raises BadInput where the folder or
    a file cannot be written.
    """
    pieces = proven.finished
    if cloth is not None:
        pieces = all_enlarged(pieces, cloth.shrink_along, cloth.shrink_across)

    def paper(folder: Path) -> tuple[Path, ...]:
        said("Laying the pieces on paper")
        return write_paper(pieces, folder, papers, do_not_cut(proven)).files

    return write_together(out, (lambda f: _texts(proven, f), paper, *more))


def write_together(out: str | Path, writers: Sequence[Writer]) -> Made:
    """All files of all writers into one folder, or none of them.

    They are written beside their places and moved there together, so that old paper never lies with new
    checks. Raises BadInput where the folder or a file cannot be written.
    """
    folder = folder_at(out)
    try:
        with TemporaryDirectory(prefix=".unfinished-", dir=folder) as beside:
            made = [file for write in writers for file in write(Path(beside))]
            _refuse_folders(folder, made)
            for file in made:
                file.replace(folder / file.name)
    except OSError as problem:
        raise BadInput("not-written", str(out), f"cannot be written: {problem.strerror}") from None
    return Made(folder, tuple(folder / file.name for file in made))


def _texts(proven: Proven, folder: Path) -> list[Path]:
    texts = {
        "draft.json": draft_file(proven.replayed, proven.finished, proven.findings).model_dump_json(
            by_alias=True, indent=1
        ),
        "cutlist.csv": cut_list_csv(cut_list(proven.replayed.draft, pieces=proven.finished)),
        "checks.json": json.dumps(findings_file(proven.findings), indent=1, ensure_ascii=False),
    }
    for name, text in texts.items():
        write_beside(folder / name, (text.rstrip("\n") + "\n").encode("utf-8"))
    return [folder / name for name in texts]


def do_not_cut(proven: Proven) -> tuple[str, ...]:
    """What must stand on everything made of a design that a check stops."""
    stops = len(proven.stops)
    first = f"{proven.stops[0].where}: {proven.stops[0].message}" if stops else ""
    more = f"; and {stops - 1} more in checks.json" if stops > 1 else ""
    return (f"DO NOT CUT: {first}{more}",) if stops else ()


def write_table(file: Path, text: str) -> Path:
    """Write one text file, whole or not at all. Raises BadInput where it cannot be written."""
    _refuse_folders(file.parent, [file])
    try:
        write_beside(file, text.encode("utf-8"))
    except OSError as problem:
        raise BadInput("not-written", str(file), f"cannot be written: {problem.strerror}") from None
    return file


def _refuse_folders(folder: Path, made: list[Path]) -> None:
    """A folder in the place of a file, found before any file is moved."""
    for file in made:
        if (folder / file.name).is_dir():
            raise BadInput("not-written", str(folder / file.name), "a folder of that name is in the way")


def folder_can_be(out: str | Path) -> None:
    """Raises BadInput where a file stands in the way of the folder: before the work, not after it."""
    for place in (Path(out), *Path(out).parents):
        if place.is_dir():
            return
        if os.path.lexists(place):
            message = "this is a file, and results need a folder"
            raise BadInput("no-folder", str(place), message, "give --out another name")


def folder_at(out: str | Path) -> Path:
    """The folder for results, made where it is not there."""
    folder_can_be(out)
    folder = Path(out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise BadInput("no-folder", str(out), f"the folder cannot be made: {problem.strerror}") from None
    return folder
