"""A lay that she has worked on by hand: which cloth it is on, which way it lies, what is held where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from cutonce.cloth.cloth import Cloth
from cutonce.errors import BadInput
from cutonce.finishing.finished import Finished
from cutonce.lay.asked import Asked
from cutonce.studio.inputs import text_of
from cutonce.studio.lay import as_cut, named
from cutonce.studio.lay_file import LayFile, held_in, read_lay


def read_kept(path: str | Path) -> LayFile:
    """The lay in a file. Raises BadInput where it is none, or where nothing in it is held."""
    found = read_lay(text_of(path), str(path))
    if not any(one.held for one in found.pieces):
        hint = 'write "held": true at each piece that is to stay'
        raise BadInput("nothing-held", str(path), "no piece is held", hint)
    return found


def cloth_of(kept: LayFile, cloths: Sequence[Cloth], name: str, where: str) -> tuple[Cloth, ...]:
    """The cloth she names, else the one that the lay is on."""
    return named(cloths, name or kept.cloth, where)


def with_held(asked: Asked, kept: LayFile, way: str, done: Finished, cloth: Cloth, where: str) -> Asked:
    """The same wishes with the pieces held; the cloth lies as it did unless she gives another `way`.

    Raises BadInput where a held piece is not in the lay.
    """
    asked = asked if way else replace(asked, way=kept.way)
    return replace(asked, held=held_in(kept, as_cut(done, cloth, asked.way).items(), where))
