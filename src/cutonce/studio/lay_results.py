"""The files of a lay: lay.json, lay.svg, lay.pdf and the buying list, for `write_together`."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from cutonce.lay.strips import Strips
from cutonce.sheets.buying_list import write_buying_list
from cutonce.sheets.files import write_beside
from cutonce.sheets.lay_drawing import Strip
from cutonce.sheets.lay_sheet import LayFor, write_lay
from cutonce.studio.buying import buying_list, tape_unit
from cutonce.studio.lay import Outcome
from cutonce.studio.lay_file import lay_file
from cutonce.studio.make import Made, Writer, do_not_cut, write_together
from cutonce.studio.prove import Proven


def lay_document(proven: Proven, outcome: Outcome) -> str:
    """lay.json as text."""
    return lay_file(proven.finished, outcome).model_dump_json(by_alias=True, indent=1) + "\n"


def lay_writer(proven: Proven, outcome: Outcome) -> Writer:
    """Writes the files of a lay into a folder. What a check stops is drawn too, and says DO NOT CUT."""

    def write(folder: Path) -> Iterable[Path]:
        document = folder / "lay.json"
        write_beside(document, lay_document(proven, outcome).encode("utf-8"))
        sheets = write_lay(outcome.plan, folder, words_for(proven, outcome), placed(outcome.strips))
        bought = write_buying_list(buying_list(proven, outcome), folder)
        return (document, *sheets.files, *bought.files)

    return write


def write_lay_files(proven: Proven, outcome: Outcome, out: str | Path) -> Made:
    """Write the files of a lay into a folder: all, or none. Raises BadInput where it cannot be written."""
    return write_together(out, (lay_writer(proven, outcome),))


def text_writer(name: str, text: str) -> Writer:
    """Writes one text file beside the others."""

    def write(folder: Path) -> Iterable[Path]:
        write_beside(folder / name, (text.rstrip("\n") + "\n").encode("utf-8"))
        return (folder / name,)

    return write


def words_for(proven: Proven, outcome: Outcome) -> LayFor:
    """What stands beside the drawing."""
    done = proven.finished
    return LayFor(
        done.garment,
        done.body,
        done.date,
        tape_unit(outcome),
        notes=do_not_cut(proven),
    )


def placed(strips: Strips) -> tuple[Strip, ...]:
    """Strips and blocks for strips where they are cut from what is left over."""
    found: list[Strip] = []
    for width in strips.widths:
        for strip in width.chosen.strips:
            name = strip.need.used_for or strip.need.kind
            found += [Strip(name, part.ring) for part in strip.parts if part.leftover]
        for block in width.chosen.blocks:
            if block.leftover:
                found.append(Strip(f"for strips {block.width / 10:.1f} cm wide", block.ring))
    return tuple(found)
