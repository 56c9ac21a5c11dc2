"""The main job: prove a design on a body and write everything she needs into one folder."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from cutonce.errors import BadInput
from cutonce.finishing.cutlist import cut_list, cut_list_csv
from cutonce.sheets.files import write_beside
from cutonce.sheets.sheet import write_paper
from cutonce.studio.draft_file import draft_file
from cutonce.studio.findings_file import findings_file
from cutonce.studio.prove import Proven

Said = Callable[[str], None]
"""Told what is being done, for a person who waits."""


@dataclass(frozen=True, slots=True)
class Made:
    """Where the results lie."""

    folder: Path
    files: tuple[Path, ...]


def write_results(proven: Proven, out: str | Path, said: Said = lambda _: None) -> Made:
    """Write draft.json, checks.json, cutlist.csv, pattern.svg and the PDFs; each file whole or not at all."""
    folder = folder_at(out)
    texts = {
        "draft.json": draft_file(proven.replayed, proven.finished, proven.findings).model_dump_json(
            by_alias=True, indent=1
        ),
        "cutlist.csv": cut_list_csv(cut_list(proven.replayed.draft, pieces=proven.finished)),
        "checks.json": json.dumps(findings_file(proven.findings), indent=1, ensure_ascii=False),
    }
    files: list[Path] = []
    for name, text in texts.items():
        write_beside(folder / name, (text.rstrip("\n") + "\n").encode("utf-8"))
        files.append(folder / name)
    said("Laying the pieces on paper")
    files += write_paper(proven.finished, folder).files
    return Made(folder, tuple(files))


def folder_at(out: str | Path) -> Path:
    """The folder for results, made where it is not there."""
    folder = Path(out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise BadInput("no-folder", str(out), f"the folder cannot be made: {problem.strerror}") from None
    return folder
